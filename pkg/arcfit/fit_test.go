package arcfit_test

import (
	"math"
	"math/rand"
	"testing"

	"strapwork/pkg/arcfit"
	"strapwork/pkg/geom"
)

// ellipse is n points of an ellipse with these half axes.
func ellipse(a, b float64, n int) arcfit.Section {
	s := arcfit.Section{Closed: true}
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		s.Points = append(s.Points, geom.Pt(a*cos, b*sin))
	}
	return s
}

// bezier is n chords of a cubic.
func bezier(n int, p ...geom.Point) arcfit.Section {
	var s arcfit.Section
	for i := range n + 1 {
		t := float64(i) / float64(n)
		u := 1 - t
		s.Points = append(s.Points, p[0].Scale(u*u*u).Add(p[1].Scale(3*u*u*t)).Add(p[2].Scale(3*u*t*t)).Add(p[3].Scale(t*t*t)))
	}
	return s
}

// letterS is the cubic of the study.
func letterS() arcfit.Section {
	return bezier(1000, geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(-10, 50), geom.Pt(70, 50))
}

// chords are n chords of a chain, their ends each out by noise (a standard deviation) both ways.
func chords(c arcfit.Chain, n int, noise float64, r *rand.Rand) arcfit.Section {
	s := arcfit.Section{Closed: c.Closed}
	line, length := c.Contour(), c.Length()
	count := n + 1
	if c.Closed {
		count = n
	}
	for i := range count {
		p, _ := line.At(length * float64(i) / float64(n))
		s.Points = append(s.Points, p.Add(geom.Pt(r.NormFloat64()*noise, r.NormFloat64()*noise)))
	}
	return s
}

// check holds a chain against its section with no help from the package: points of its contour against
// the section's chords and the section's points against the contour, each to the nearest; joints by the
// edges' tangents.
func check(t testing.TB, s arcfit.Section, c arcfit.Chain, tolerance float64) {
	t.Helper()
	line := c.Contour()
	var most float64
	for _, p := range s.Points {
		q, _ := line.Nearest(p)
		most = max(most, p.Dist(q))
	}
	drawn := geom.Contour{Closed: s.Closed}
	boxes := []geom.Box{}
	for _, p := range s.Points {
		drawn.Vertices = append(drawn.Vertices, geom.Vertex{Point: p})
	}
	for _, e := range drawn.Edges() {
		boxes = append(boxes, e.Bounds())
	}
	index := geom.NewIndex(boxes)
	const n = 5000
	for i := range n {
		p, _ := line.At(line.Length() * (float64(i) + 0.5) / n)
		most = max(most, index.Nearest(p, func(i int) float64 { return drawn.Edge(i).Dist(p) }))
	}
	if most > tolerance*(1+1e-9) {
		t.Errorf("section and chain are %.5f apart, want %g", most, tolerance)
	}
	for i, e := range line.Edges() {
		next := i + 1
		if next == line.Len() && c.Closed {
			next = 0
		} else if next == line.Len() {
			break
		}
		if turn := e.Tangent(1).Cross(line.Edge(next).Tangent(0)); math.Abs(turn) > 1e-9 {
			t.Errorf("joint %d turns by %g", i, turn)
		}
		if math.Abs(e.Bulge) > 1 {
			t.Errorf("edge %d has a bulge of %g", i, e.Bulge)
		}
	}
	if !s.Closed && !s.Loose {
		last := len(s.Points) - 1
		if !line.Start().Near(s.Points[0], 1e-9) || !line.End().Near(s.Points[last], 1e-9) {
			t.Errorf("runs from %v to %v, want %v to %v", line.Start(), line.End(), s.Points[0], s.Points[last])
		}
	}
	if c.Closed && (!c.End().Near(c.Start, 1e-9) || math.Abs(math.Remainder(c.Turned()-c.Heading, 2*math.Pi)) > 1e-9) {
		t.Errorf("doesn't close: %v to %v", c.Start, c.End())
	}
}

// TestStudy holds the counts to those of the study (section 3: the same curves with a numeric Jacobian).
func TestStudy(t *testing.T) {
	cases := []struct {
		name      string
		section   arcfit.Section
		tolerance float64
		most      int
	}{
		{"ellipse", ellipse(50, 30, 1000), 0.1, 10},
		{"ellipse", ellipse(50, 30, 1000), 0.05, 12},
		{"ellipse", ellipse(50, 30, 1000), 0.02, 16},
		{"ellipse", ellipse(50, 30, 1000), 0.01, 21},
		{"S", letterS(), 0.1, 6},
		{"S", letterS(), 0.02, 12},
		{"S", letterS(), 0.01, 13},
	}
	for _, c := range cases {
		chain, result, err := arcfit.Fit(c.section, arcfit.Params{Tolerance: c.tolerance})
		if err != nil || !result.Met || len(chain.Pieces) > c.most {
			t.Errorf("%s at %g: %d pieces, want %d; %+v, %v", c.name, c.tolerance, len(chain.Pieces), c.most, result, err)
		}
		if result.Least > len(chain.Pieces) {
			t.Errorf("%s at %g: %d pieces, and %d are said to be the least", c.name, c.tolerance, len(chain.Pieces), result.Least)
		}
		check(t, c.section, chain, c.tolerance)
	}
}

// threeArcs is the study's chain of arcs.
func threeArcs() arcfit.Chain {
	return arcfit.Chain{Pieces: []arcfit.Piece{{Curvature: 1. / 30, Length: 45}, {Curvature: -1. / 18, Length: 30}, {Curvature: 1. / 45, Length: 50}}}
}
