package geom_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/geom"
)

// Two lines that cross have four circles of a radius that touch both, a line through a
// circle eight, and so have two circles that cross (each is on one of two sides of each,
// at up to two places; elementary).
func TestTangentsCounted(t *testing.T) {
	across, up := geom.Line(geom.Pt(-50, 0), geom.Pt(50, 0)), geom.Line(geom.Pt(3, -50), geom.Pt(3, 50))
	ring, other := geom.Circle(geom.Pt(0, 0), 30).Edge(0), geom.Circle(geom.Pt(20, 5), 25).Edge(1)
	for _, c := range []struct {
		e, f geom.Edge
		want int
	}{{across, up, 4}, {across, ring, 8}, {ring, up, 8}, {ring, other, 8}, {across, across, 0}, {ring, ring, 0}} {
		if got := geom.Tangents(c.e, c.f, 5, 0); len(got) != c.want {
			t.Errorf("%v and %v: %d circles, want %d", c.e, c.f, len(got), c.want)
		}
	}
	// A circle that only just fits between is one, though it is too small by a little.
	far := geom.Circle(geom.Pt(80, 0), 30).Edge(0)
	for _, r := range []float64{10, 9.98} {
		n := 0
		for _, c := range geom.Tangents(ring, far, r, 0.05) {
			if c.Center.Near(geom.Pt(40, 0), 0.05) {
				n++
			}
		}
		if n != 1 {
			t.Errorf("between circles 20 apart: %d of radius %g in the middle, want 1", n, r)
		}
	}
}

// offCarrier is how far p is from the whole line or circle of e.
func offCarrier(e geom.Edge, p geom.Point) float64 {
	if e.IsLine() {
		return math.Abs(p.Sub(e.A).Cross(e.B.Sub(e.A).Unit()))
	}
	return math.Abs(p.Dist(e.Center()) - e.Radius())
}

// A tangent circle's centre is its radius from lines, and R + r or |R - r| from circles'
// centres; it touches what it touches; a circle that touches one edge at its end is found
// by that end (the definition of tangency).
func TestTangentsTouch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := func(lo, hi float64, what string) float64 { return rapid.Float64Range(lo, hi).Draw(t, what) }
		edge := func(what string) geom.Edge {
			a := geom.Pt(u(-50, 50, what+" x"), u(-50, 50, what+" y"))
			e := geom.Line(a, a.Add(geom.Polar(u(10, 80, what+" long"), u(0, 6.28, what+" way"))))
			if rapid.Bool().Draw(t, what+" is an arc") {
				e.Bulge = u(0.1, 1, what+" bulge")
			}
			return e
		}
		e, f, r := edge("e"), edge("f"), u(1, 60, "r")
		touches := func(c geom.Tangency, r float64) {
			for _, g := range [2]geom.Edge{e, f} {
				off := math.Abs(offCarrier(g, c.Center) - r)
				if !g.IsLine() {
					off = min(off, math.Abs(c.Center.Dist(g.Center())+g.Radius()-r))
				}
				if off > 1e-6 {
					t.Fatalf("%v: off %v by %g", c, g, off)
				}
			}
			if d := offCarrier(e, c.E) + offCarrier(f, c.F); d > 1e-6 {
				t.Fatalf("%v: touches beside %v and %v, by %g", c, e, f, d)
			}
			if math.Abs(c.E.Dist(c.Center)-r)+math.Abs(c.F.Dist(c.Center)-r) > 1e-6 {
				t.Fatalf("%v: touches elsewhere than at %g", c, r)
			}
		}
		for _, c := range geom.Tangents(e, f, r, 0) {
			touches(c, r)
		}
		for _, r := range geom.TangentAt(e, e.B, f) {
			off := math.Inf(1)
			for _, side := range [2]float64{r, -r} {
				c := e.B.Add(e.Tangent(1).Left().Scale(side))
				if off = min(off, math.Abs(offCarrier(f, c)-r)); !f.IsLine() {
					off = min(off, math.Abs(c.Dist(f.Center())+f.Radius()-r))
				}
			}
			if off > 1e-9*(1+r*r) {
				t.Fatalf("no circle of %g touches %v at its end, and %v: off by %g", r, e, f, off)
			}
		}
	})
}

// The nearest points of two edges are on them, and no other points of them are nearer
// (places along both tried).
func TestClosest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		edge := func(what string) geom.Edge {
			u := func(k string) float64 { return rapid.Float64Range(-50, 50).Draw(t, what+k) }
			a, b := geom.Pt(u("ax"), u("ay")), geom.Pt(u("bx"), u("by"))
			if a.Dist(b) < 1 {
				b = a.Add(geom.Pt(1, 0))
			}
			return geom.Edge{A: a, B: b, Bulge: rapid.SampledFrom([]float64{-1, -0.7, -0.3, -0.02, 0, 0.001, 0.1, 0.5, 1}).Draw(t, what+" bulge")}
		}
		e, f := edge("e"), edge("f")
		p, q := geom.Closest(e, f)
		if e.Dist(p) > 1e-9 || f.Dist(q) > 1e-9 {
			t.Fatalf("%v and %v aren't on the edges", p, q)
		}
		for i := range 21 {
			for k := range 21 {
				if d := e.At(float64(i) / 20).Dist(f.At(float64(k) / 20)); d < p.Dist(q)-1e-9 {
					t.Fatalf("%g apart; but %g at %d, %d of 20", p.Dist(q), d, i, k)
				}
			}
		}
	})
}
