package motif

import (
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/work"
)

// drawnIn is a curve in n legs, its points rounded to three decimals.
func drawnIn(n int, closed bool, at func(t float64) geom.Point) geom.Contour {
	c := geom.Contour{Closed: closed}
	round := func(x float64) float64 { return math.Round(x*1000) / 1000 }
	last := n
	if closed {
		last = n - 1
	}
	for i := range last + 1 {
		p := at(float64(i) / float64(n))
		c.Vertices = append(c.Vertices, geom.Vertex{Point: geom.Pt(round(p.X), round(p.Y))})
	}
	return c
}

// onEllipse runs round an ellipse with half axes a and b.
func onEllipse(a, b, from, sweep float64) func(float64) geom.Point {
	return func(t float64) geom.Point {
		s, c := math.Sincos(from + t*sweep)
		return geom.Pt(a*c, b*s)
	}
}

// rounded is a rectangle with round ends of n legs each.
func rounded(n int) geom.Contour {
	right := drawnIn(n, false, onEllipse(20, 20, -math.Pi/2, math.Pi))
	left := drawnIn(n, false, onEllipse(20, 20, math.Pi/2, math.Pi))
	c := geom.Contour{Closed: true}
	for i := range right.Vertices {
		c.Vertices = append(c.Vertices, geom.Vertex{Point: right.Vertices[i].Add(geom.Pt(50, 0))})
	}
	for i := range left.Vertices {
		c.Vertices = append(c.Vertices, geom.Vertex{Point: left.Vertices[i].Sub(geom.Pt(50, 0))})
	}
	return c
}

// TestLegs finds curves drawn as lines. A leg of n round a circle of radius r
// lies r (1 - cos(pi/n)) inside it.
func TestLegs(t *testing.T) {
	for _, c := range []struct {
		name     string
		contour  geom.Contour
		severity diag.Severity
		says     []string // of each finding
	}{
		{"a circle in 24", drawnIn(24, true, onEllipse(60, 60, 0, 2*math.Pi)), diag.Note, nil},
		{"a circle in 40", drawnIn(40, true, onEllipse(60, 60, 0, 2*math.Pi)), diag.Warning, []string{"a circle of radius 60 mm about (0, 0) mm in 40 lines, which lie up to 0.185 mm inside"}},
		{"a circle in 180", drawnIn(180, true, onEllipse(60, 60, 0, 2*math.Pi)), diag.Error, []string{"a circle of radius 60 mm about (0, 0) mm in 180 lines, which lie up to 0.0091 mm inside"}},
		{"a circle in 1000", drawnIn(1000, true, onEllipse(60, 60, 0, 2*math.Pi)), diag.Error, []string{"a circle of radius 60 mm about (0, 0) mm in 1000 lines"}},
		{"a quarter in 10", drawnIn(10, false, onEllipse(60, 60, 0, math.Pi/2)), diag.Warning, []string{"an arc of 90 degrees of radius 60 mm about (0, 0) mm in 10 lines"}},
		{"a quarter in 7", drawnIn(7, false, onEllipse(60, 60, 0, math.Pi/2)), diag.Note, nil},
		{"round ends", rounded(20), diag.Warning, []string{"an arc of 180 degrees of radius 20 mm about (-50, 0) mm in 20 lines", "an arc of 180 degrees of radius 20 mm about (50, 0) mm in 20 lines"}},
		{"an ellipse", drawnIn(60, true, onEllipse(90, 60, 0, 2*math.Pi)), diag.Warning, []string{"a curve that is no arc in 60 short lines"}},
		{"an ellipse in 500", drawnIn(500, true, onEllipse(90, 60, 0, 2*math.Pi)), diag.Error, []string{"a curve that is no arc in 500 short lines"}},
		{"a parabola", drawnIn(40, false, func(t float64) geom.Point { return geom.Pt(100*t, 60*t*t) }), diag.Warning, []string{"a curve that is no arc in 40 short lines"}},
		{"a straight in 20", drawnIn(20, false, func(t float64) geom.Point { return geom.Pt(100*t, 30*t) }), diag.Note, nil},
	} {
		j := jobOf(1, false, c.contour)
		_, found := Build(j.Motif)
		found = faults(found)
		if len(found) != len(c.says) {
			t.Errorf("%s: %v", c.name, found)
			continue
		}
		for i, says := range c.says {
			if f := found[i]; f.Rule != "many-legs" || f.Severity != c.severity || !f.HasAt || f.Key != "e1" || f.Hint == "" ||
				!slices.ContainsFunc(found, func(f diag.Finding) bool { return strings.Contains(f.Message, says) }) {
				t.Errorf("%s: %v does not say %q", c.name, found, says)
			}
		}
	}
}

// TestFit makes arcs of the legs: as long as the arcs, smooth, and joined to
// what they were joined to.
func TestFit(t *testing.T) {
	build := func(closed bool, cs ...geom.Contour) Strand {
		t.Helper()
		j := jobOf(1, false, cs...)
		for i := range j.Motif.Elements {
			j.Motif.Elements[i].Fit = true
		}
		m, found := mustBuild(t, j)
		if len(faults(found)) > 0 || len(m.Strands) != 1 || m.Strands[0].Contour.Closed != closed ||
			!slices.ContainsFunc(found, func(f diag.Finding) bool { return f.Rule == "fitted" }) {
			t.Fatalf("%d strands: %v", len(m.Strands), found)
		}
		return m.Strands[0]
	}
	for _, c := range []struct {
		name   string
		strand Strand
		length float64
		edges  int
	}{
		{"a circle", build(true, drawnIn(360, true, onEllipse(60, 60, 0, 2*math.Pi))), 120 * math.Pi, 2},
		{"clockwise", build(true, drawnIn(360, true, onEllipse(60, 60, 0, -2*math.Pi))), 120 * math.Pi, 2},
		{"round ends", build(true, rounded(40)), 200 + 40*math.Pi, 6}, // each a hair over a half circle
		{"a quarter between straights", build(false, polyline(60, -50, 60, 0), drawnIn(90, false, onEllipse(60, 60, 0, math.Pi/2)), polyline(0, 60, -50, 60)), 100 + 30*math.Pi, 3},
	} {
		s := c.strand
		if math.Abs(s.Length()-c.length) > 0.01 || s.Contour.Len() != c.edges || slices.Contains(s.Corner, true) {
			t.Errorf("%s: %d edges of %.4f mm, want %d of %.4f, corners %v", c.name, s.Contour.Len(), s.Length(), c.edges, c.length, s.Corner)
		}
	}
}

// TestLegsAmongOthers has a curve's legs found in a path with other parts.
func TestLegsAmongOthers(t *testing.T) {
	c := drawnIn(30, false, onEllipse(60, 60, 0, math.Pi/2))
	c.Vertices = append([]geom.Vertex{{Point: geom.Pt(200, -80)}, {Point: geom.Pt(60, -80), Bulge: 0.2}}, c.Vertices...)
	c.Vertices = append(c.Vertices, geom.Vertex{Point: geom.Pt(0, 120)})
	j := jobOf(1, false, c)
	j.Motif.Elements[0].Kind = work.KindPath
	_, found := Build(j.Motif)
	if found = faults(found); len(found) != 1 || !strings.Contains(found[0].Message, "an arc of 90 degrees of radius 60 mm about (0, 0) mm in 30 lines") {
		t.Error(found)
	}
	j.Motif.Elements[0].Fit = true
	m, found := mustBuild(t, j)
	if len(faults(found)) > 0 || m.Strands[0].Contour.Len() != 4 {
		t.Errorf("%d edges: %v", m.Strands[0].Contour.Len(), found)
	}
}
