package geom

import (
	"math"
	"testing"
)

// TestWelded has no edge shorter than asked for left, and every point of the
// welded contour within a few micrometres of the one that was drawn: half the
// longest edge that is taken out, across the others' direction by no more than
// its height.
func TestWelded(t *testing.T) {
	const least = 0.01
	slight := 0.2 * math.Pi / 180
	kinked := Chain(false,
		Line(Pt(-50, 0), Pt(0, 0)), Line(Pt(0, 0), Pt(0.004, 0)),
		Edge{A: Pt(0.004, 0), B: Pt(0.004+0.012*math.Cos(slight), 0.012*math.Sin(slight)), Bulge: math.Tan(slight / 4)},
		Line(Pt(0.004+0.012*math.Cos(slight), 0.012*math.Sin(slight)), Polar(50, 2*slight)))
	half := Arc(Pt(0, 0), 8, 0, math.Pi)[0]
	capped := Chain(true, half, Line(half.B, Pt(-8, -0.006)), Line(Pt(-8, -0.006), Pt(-8, -60)), Line(Pt(-8, -60), Pt(8, -60)), Line(Pt(8, -60), half.A))
	nose := Arc(Pt(0, 0), 0.005, 0, math.Pi)[0] // 0.0157 mm long: stays
	slender := Chain(true, nose, Line(nose.B, Pt(-0.2, -60)), Line(Pt(-0.2, -60), Pt(0.2, -60)), Line(Pt(0.2, -60), nose.A))
	for name, c := range map[string]struct {
		c     Contour
		edges int
	}{"kinked": {kinked, 2}, "a tail on a half circle": {capped, 5}, "a nose": {slender, 4}} {
		w := c.c.Welded(least)
		if w.Len() != c.edges || w.Closed != c.c.Closed || w.Start().Dist(c.c.Start()) > least || w.End().Dist(c.c.End()) > least {
			t.Errorf("%s: %d edges from %v to %v, want %d", name, w.Len(), w.Start(), w.End(), c.edges)
		}
		for _, e := range w.Edges() {
			if e.Length() < least || math.Abs(e.Bulge) > 1 {
				t.Errorf("%s: %v is %.5f mm long, bulge %g", name, e, e.Length(), e.Bulge)
			}
			for _, s := range [9]float64{0, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875, 1} {
				if q, _ := c.c.Nearest(e.At(s)); q.Dist(e.At(s)) > 2e-5 {
					t.Errorf("%s: %v is %.6f mm off", name, e.At(s), q.Dist(e.At(s)))
				}
			}
		}
	}
}
