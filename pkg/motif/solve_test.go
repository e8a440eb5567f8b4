package motif

import (
	"math"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
)

// drawingOf is a drawing of one copy of contours, joined, before anything is moved.
func drawingOf(t *testing.T, contours ...geom.Contour) *drawing {
	t.Helper()
	var found diag.Findings
	d := newDrawing(jobOf(1, false, contours...).Motif, &found)
	d.join()
	d.newPlaces()
	if found.HasErrors() {
		t.Fatal(found)
	}
	return &d
}

// kinked is a line, an arc and a line, with kinks in radians between them.
func kinked(length, chord, bulge, first, second float64) geom.Contour {
	e := geom.Line(geom.Pt(-length, 0), geom.Pt(0, 0))
	half := 2 * math.Atan(bulge)
	f := geom.Edge{A: e.B, B: geom.Polar(chord, first+half), Bulge: bulge}
	g := geom.Line(f.B, f.B.Add(geom.Polar(length, f.Tangent(1).Angle()+second)))
	return geom.Chain(false, e, f, g)
}

// A sweep weighs as much as it moves the arc's middle, whose height over a chord c is
// c/2 tan(sweep/4) (elementary): here by differences.
func TestWeightOfASweep(t *testing.T) {
	for _, bulge := range []float64{0.1, 0.4, -0.7, 1} {
		d := drawingOf(t, kinked(100, 80, bulge, 0.002, 0.002))
		u := d.newUnknowns()
		k := u.sweepOf[0][1]
		if k == none || u.sweepOf[0][0] != none || u.sweepOf[0][2] != none {
			t.Fatalf("unknowns %v: the arc's sweep alone is one", u.sweepOf)
		}
		s := &d.shapes[0]
		from, to := s.ends(1)
		middle := func(sweep float64) geom.Point { return bent(d.node(from), d.node(to), sweep, 0.5) }
		const step = 1e-4
		moved := middle(s.sweeps[1]+step).Dist(middle(s.sweeps[1]-step)) / (2 * step)
		if got := math.Sqrt(u.weight[k]); math.Abs(got/moved-1) > 1e-6 {
			t.Errorf("bulge %g: a radian of sweep weighs %g mm, and moves the middle by %g", bulge, got, moved)
		}
	}
}

// What a bend costs is the weighted length of what taking it away by itself changes
// (the definition of least squares): points by mm, sweeps by their weight. The joint's
// two pulls are added as if they were square to one another: a tenth.
func TestCostOfABend(t *testing.T) {
	for _, c := range []struct{ length, chord, bulge float64 }{{100, 80, 0.3}, {15, 80, 0.1}, {300, 20, -0.5}} {
		d := drawingOf(t, kinked(c.length, c.chord, c.bulge, 0.002, -0.003))
		u := d.newUnknowns()
		var costs []float64
		bends := d.bends()
		if len(bends) != 2 {
			t.Fatalf("%d bends", len(bends))
		}
		for _, b := range bends {
			s := system{d: d, u: &u, bends: []bend{b}}
			before := s.state()
			cost := s.cost(b)
			if !s.solve() || !s.tangent() {
				t.Fatal("it can't be made tangent")
			}
			sum := 0.0
			after := s.state()
			for k, at := range after.at {
				sum += at.Sub(before.at[k]).Dot(at.Sub(before.at[k]))
			}
			for a, sweep := range after.sweeps {
				by := sweep - before.sweeps[a]
				sum += by * by * u.weight[u.sweepOf[a.shape][a.run]]
			}
			if math.Abs(cost/math.Sqrt(sum)-1) > 0.1 {
				t.Errorf("%+v: a kink of %g costs %g, and moves things by %g", c, b.drawn, cost, math.Sqrt(sum))
			}
			s.restore(before)
			costs = append(costs, cost)
		}
		kept := system{d: d, u: &u, bends: bends}.cheaper()
		if want := map[bool]int{true: 1, false: 0}[min(costs[0], costs[1]) <= max(costs[0], costs[1])/2]; len(kept) != want {
			t.Errorf("costs %v: %d bends are kept, want %d", costs, len(kept), want)
		}
	}
}

// A contour whose ends meet is closed in their middle (by hand).
func TestClosedUp(t *testing.T) {
	c := closedUp(polyline(0, 0, 50, 0, 50, 50, 0.02, 0.04))
	if !c.Closed || c.Len() != 3 || !c.Start().Near(geom.Pt(0.01, 0.02), 1e-12) || c.Vertices[1].Point != geom.Pt(50, 0) {
		t.Errorf("%+v", c)
	}
}

// Nothing ends on its own last stretch of twice NearJoint, nor on what that is joined
// to so near by (by the definition of ownTail).
func TestTail(t *testing.T) {
	d := drawingOf(t, polyline(0, 0, 100, 0), polyline(100, 0, 100+ownTail/4, 0), polyline(100+ownTail/4, 0, 300, 0))
	for _, c := range []struct {
		end  int
		want map[int]stump
	}{
		{0, map[int]stump{0: {0, ownTail}}},
		{5, map[int]stump{2: {200 - ownTail/4 - ownTail, math.Inf(1)}}},
		{1, map[int]stump{0: {100 - ownTail, math.Inf(1)}}},
		{2, map[int]stump{1: {0, ownTail}, 2: {0, ownTail * 3 / 4}}},
		{3, map[int]stump{1: {ownTail/4 - ownTail, math.Inf(1)}, 0: {100 - ownTail*3/4, math.Inf(1)}}},
	} {
		got := d.tail(c.end)
		if len(got) != len(c.want) {
			t.Errorf("end %d: %v, want %v", c.end, got, c.want)
		}
		for piece, want := range c.want {
			if s := got[piece]; math.Abs(s.from-want.from) > 1e-9 || s.to != want.to && math.Abs(s.to-want.to) > 1e-9 {
				t.Errorf("end %d: of piece %d %v, want %v", c.end, piece, s, want)
			}
		}
	}
	if s := (stump{2, 5}); !s.holds(2) || !s.holds(5) || s.holds(1.999) || s.holds(5.001) {
		t.Error("a stump holds its ends, and no more")
	}
}
