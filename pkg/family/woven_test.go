package family_test

import (
	"math"

	"pgregory.net/rapid"

	"strapwork/pkg/diag"
	"strapwork/pkg/family"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// facts is what is known of a pattern from outside.
type facts struct {
	strands, crossings int
	length             float64 // of all strands, mm
	tightest           float64 // radius, mm; infinite: straights alone
	angle              float64 // at which strands cross, radians; 0: various
	corners            bool    // it has sharp corners
}

// hold checks a pattern as it is drawn against what is known of it, and as motif and weave
// make it: without a fault, over and under alternating along each strand.
func (want facts) hold(t rapid.TB, what string, p family.Pattern) ([]geom.Contour, weave.Weave) {
	t.Helper()
	drawn := draw(t, what, p)
	m, w := woven(t, what, drawn)
	if len(m.Strands) != want.strands || len(w.Crossings) != want.crossings {
		t.Errorf("%s: %d strands, %d crossings, want %d and %d", what, len(m.Strands), len(w.Crossings), want.strands, want.crossings)
	}
	if got := length(drawn); math.Abs(got-want.length) > 1e-9*max(1, want.length) {
		t.Errorf("%s: %.9f mm long, want %.9f", what, got, want.length)
	}
	if got := family.Tightest(drawn); got != want.tightest && !(math.Abs(got-want.tightest) <= 1e-9*max(1, min(got, want.tightest))) {
		t.Errorf("%s: its tightest radius is %.9f, want %.9f", what, got, want.tightest)
	}
	for _, c := range w.Crossings {
		if want.angle != 0 && math.Abs(c.Angle-want.angle) > 1e-9 {
			t.Errorf("%s: strands cross at %v degrees, want %v", what, c.Angle*180/math.Pi, want.angle*180/math.Pi)
		}
	}
	if k := kink(drawn); !want.corners && k > 1e-9 {
		t.Errorf("%s: a kink of %g", what, k)
	}
	return drawn, w
}

// draw draws a pattern that can be drawn.
func draw(t rapid.TB, what string, p family.Pattern) []geom.Contour {
	t.Helper()
	drawn, err := p.Draw()
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	for _, c := range drawn {
		for _, v := range c.Vertices {
			if !v.Finite() || math.IsNaN(v.Bulge) {
				t.Fatalf("%s: a vertex %v", what, v)
			}
		}
	}
	return drawn
}

// woven is a drawing joined and woven, where nothing is wrong and strands alternate.
func woven(t rapid.TB, what string, drawn []geom.Contour) (motif.Motif, weave.Weave) {
	t.Helper()
	d := work.Drawing{Copies: 1}
	for _, c := range drawn {
		d.Elements = append(d.Elements, work.Element{Kind: work.KindPattern, Contour: c})
	}
	m, found := motif.Build(d)
	w, more := weave.Build(m, work.Weaving{})
	for _, f := range append(found, more...) {
		if f.Severity != diag.Note {
			t.Errorf("%s: %v", what, f)
		}
	}
	for i, visits := range w.Visits {
		for j, v := range visits {
			next := visits[(j+1)%len(visits)]
			if (m.Strands[i].Contour.Closed || j < len(visits)-1) && v.Over == next.Over {
				t.Errorf("%s: strand %d is over or under twice running", what, i+1)
			}
		}
	}
	return m, w
}

func length(drawn []geom.Contour) (sum float64) {
	for _, c := range drawn {
		sum += c.Length()
	}
	return sum
}

// box is the smallest box that holds a drawing.
func box(drawn []geom.Contour) geom.Box {
	b := geom.EmptyBox()
	for _, c := range drawn {
		b = b.Join(c.Bounds())
	}
	return b
}

// kink is the greatest turn in radians where two edges of a contour meet.
func kink(drawn []geom.Contour) (most float64) {
	for _, c := range drawn {
		for i := range c.Len() {
			if i == 0 && !c.Closed {
				continue
			}
			a, b := c.Edge((i+c.Len()-1)%c.Len()).Tangent(1), c.Edge(i).Tangent(0)
			most = max(most, math.Abs(math.Atan2(a.Cross(b), a.Dot(b))))
		}
	}
	return most
}

// symmetric checks that a drawing is its own image: that the middles and the ends of
// what is mapped lie on what is drawn, and as much of it is there.
func symmetric(t rapid.TB, what string, drawn []geom.Contour, under ...geom.Similarity) {
	t.Helper()
	for _, s := range under {
		for _, c := range drawn {
			image := s.Contour(c)
			for _, e := range image.Edges() {
				for _, at := range []geom.Point{e.A, e.Mid(), e.At(0.3)} {
					if d := off(drawn, at); d > 1e-9 {
						t.Fatalf("%s: %v has no image within %g mm", what, at, d)
					}
				}
			}
		}
	}
}

// off is how far a point lies from a drawing.
func off(drawn []geom.Contour, p geom.Point) float64 {
	least := math.Inf(1)
	for _, c := range drawn {
		q, _ := c.Nearest(p)
		least = min(least, q.Dist(p))
	}
	return least
}

// gcd is the greatest common divisor; of 0 and b it is b.
func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return max(a, -a)
}
