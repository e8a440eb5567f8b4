package label

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

func box(x, y, wide, high float64) geom.Contour {
	return geom.Rect(geom.Box{Min: geom.Pt(x, y), Max: geom.Pt(x+wide, y+high)})
}

func open(edges ...geom.Edge) geom.Contour { return geom.Chain(false, edges...) }

// TestRooms: distances by hand, on both sides of what is allowed.
func TestRooms(t *testing.T) {
	straight := open(geom.Line(geom.Pt(-20, 0), geom.Pt(20, 0)))
	arch := open(geom.Arc(geom.Pt(0, 0), 10, 0, 3.141592653589793)...)
	lined := func(c geom.Contour) *Room {
		r := &Room{}
		r.KeepOff(1, 1, c)
		return r
	}
	taken := func(c geom.Contour) *Room {
		r := &Room{}
		r.Take(2, c)
		return r
	}
	wood := On(region.New(box(0, 0, 30, 20)), 1)
	for _, c := range []struct {
		name  string
		room  *Room
		frame geom.Contour
		free  bool
	}{
		{"an empty room", &Room{}, box(0, 0, 5, 2), true},
		{"beside a line", lined(straight), box(0, 1.001, 5, 2), true},
		{"too near a line", lined(straight), box(0, 0.999, 5, 2), false},
		{"on a line", lined(straight), box(0, -1, 5, 2), false},
		{"round a line", lined(straight), box(-30, -5, 60, 10), false},
		{"past a line's end", lined(straight), box(21.001, -1, 5, 2), true},
		{"off an end's corner", lined(straight), box(20.71, 0.71, 5, 2), true},
		{"near an end's corner", lined(straight), box(20.7, 0.7, 5, 2), false},
		{"under an arc, whose box it is in", lined(arch), box(-3, 0, 6, 8.4), true},
		{"under an arc, and too near it", lined(arch), box(-3, 0, 6, 8.5), false},
		{"a stroke beside a line", lined(straight), open(geom.Line(geom.Pt(0, 1.1), geom.Pt(9, 4))), true},
		{"a stroke over a line", lined(straight), open(geom.Line(geom.Pt(0, 1.1), geom.Pt(9, -4))), false},
		{"beside a label", taken(box(0, 0, 10, 4)), box(12.001, 0, 5, 4), true},
		{"too near a label", taken(box(0, 0, 10, 4)), box(11.999, 0, 5, 4), false},
		{"within a label", taken(box(0, 0, 30, 20)), box(10, 8, 5, 4), false},
		{"round a label", taken(box(10, 8, 5, 4)), box(0, 0, 30, 20), false},
		{"a stroke within a label", taken(box(0, 0, 30, 20)), open(geom.Line(geom.Pt(9, 9), geom.Pt(11, 9))), false},
		{"round a stroke", taken(open(geom.Line(geom.Pt(9, 9), geom.Pt(11, 9)))), box(0, 0, 30, 20), false},
		{"on wood", wood, box(1.001, 1.001, 5, 4), true},
		{"near the wood's edge", wood, box(0.999, 2, 5, 4), false},
		{"beside the wood", wood, box(40, 2, 5, 4), false},
	} {
		if got := c.room.Free(c.frame); got != c.free {
			t.Errorf("%s: free %v, want %v", c.name, got, c.free)
		}
	}
}

// TestLeads: a leader goes round labels and leaders, and counts the lines it crosses.
func TestLeads(t *testing.T) {
	r := &Room{}
	r.KeepOff(1, 1, open(geom.Line(geom.Pt(-20, 0), geom.Pt(20, 0))))
	r.KeepOff(1, 2, open(geom.Line(geom.Pt(-20, 3), geom.Pt(20, 3))))
	r.Take(1, box(10, 5, 8, 3))
	r.Take(1, open(geom.Line(geom.Pt(-10, -5), geom.Pt(-10, 5))))
	for _, c := range []struct {
		from, to geom.Point
		crossed  int
		ok       bool
	}{
		{geom.Pt(0, -1), geom.Pt(0, 1), 1, true},
		{geom.Pt(0, -1), geom.Pt(0, 4), 3, true},
		{geom.Pt(0, 1), geom.Pt(0, 2), 0, true},
		{geom.Pt(0, 6), geom.Pt(12, 6), 0, false},
		{geom.Pt(11, 6), geom.Pt(12, 6), 0, false},
		{geom.Pt(-12, 2), geom.Pt(-8, 2), 0, false},
	} {
		if n, ok := r.Leads(geom.Line(c.from, c.to)); n != c.crossed || ok != c.ok {
			t.Errorf("from %v to %v: %d lines, %v; want %d, %v", c.from, c.to, n, ok, c.crossed, c.ok)
		}
	}
}

// TestFirstHolds: whatever is taken in turn lies apart from all lines and all else
// that is taken, as areas see it, which share no code with frames; and where none
// is taken every candidate was in the way of something.
func TestFirstHolds(t *testing.T) {
	const clear, apart = 0.7, 1.1
	rnd := rand.New(rand.NewPCG(5, 9))
	at := func() geom.Point { return geom.Pt(60*rnd.Float64(), 60*rnd.Float64()) }
	for range 12 {
		r := &Room{}
		var lines []region.Region
		for range 4 {
			c := open(geom.Edge{A: at(), B: at(), Bulge: 0.8 * rnd.Float64()})
			r.KeepOff(clear, 1, c)
			lines = append(lines, region.Stroke(c, clear))
		}
		kept := region.Union(lines...)
		var placed []region.Region
		free := func(c geom.Contour) bool {
			own := region.New(c)
			return region.Intersect(own, kept).Empty() &&
				!slices.ContainsFunc(placed, func(p region.Region) bool { return p.Gap(own) < apart })
		}
		for range 12 {
			var list []geom.Contour
			for range 3 {
				p := at()
				list = append(list, geom.Turning(6*rnd.Float64()).Then(geom.Shifting(p)).Contour(box(-4, -1, 8, 2)))
			}
			want := slices.IndexFunc(list, free)
			got, ok := First(r, apart, slices.Values(list), func(c geom.Contour) []geom.Contour { return []geom.Contour{c} })
			if ok != (want >= 0) || ok && fmt.Sprint(got) != fmt.Sprint(list[want]) {
				t.Fatalf("%v is taken, want %d of %v", got, want, list)
			}
			if ok {
				placed = append(placed, region.New(got))
			}
		}
	}
}

// Frames that cross overlap though neither holds a corner of the other, also where no
// distance is kept; side by side they don't.
func TestFramesThatCross(t *testing.T) {
	var r Room
	r.Take(0, box(-1, -10, 2, 20))
	if r.Free(box(-10, -1, 20, 2)) {
		t.Error("a label lies across another")
	}
	if !r.Free(box(1.5, -1, 20, 2)) {
		t.Error("a label beside another isn't free")
	}
}
