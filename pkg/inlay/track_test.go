package inlay

import (
	"math"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
)

// laid is a builder with the tracks and the crossings of a motif.
func laid(t *testing.T, contours ...geom.Contour) *builder {
	t.Helper()
	j := jobOf(unequal(), 1, contours...)
	m, found := motif.Build(j.Motif)
	w, more := weave.Build(m, j.Weave)
	if found.HasErrors() || more.HasErrors() {
		t.Fatal(found, more)
	}
	b := &builder{motif: m, weave: w, lines: linesOf(paramsOf(j))}
	b.layTracks(j.Inlay.Width)
	b.findUnders()
	return b
}

// A station is found on the arm that it begins, on a closed strand laps away too: a
// square of sides of 100 mm (by hand).
func TestFind(t *testing.T) {
	b := laid(t, polygon(0, 0, 100, 0, 100, 100, 0, 100))
	for _, c := range []struct {
		s     float64
		arm   int
		shift float64
	}{
		{0, 0, 0}, {50, 0, 0}, {100, 1, 0}, {399, 3, 0}, {400, 0, -400}, {450, 0, -400}, {800, 0, -800}, {-1, 3, 400}, {-400, 0, 400}, {-401, 3, 800},
	} {
		if arm, shift := b.tracks[0].find(c.s); arm != c.arm || shift != c.shift {
			t.Errorf("station %g: arm %d by %g, want %d by %g", c.s, arm, shift, c.arm, c.shift)
		}
	}
	open := laid(t, polyline(0, 0, 100, 0, 100, 100)).tracks[0]
	for s, want := range map[float64]int{0: 0, 99: 0, 100: 1, 200: 1} {
		if arm, shift := open.find(s); arm != want || shift != 0 {
			t.Errorf("station %g of an open strand: arm %d by %g, want %d", s, arm, shift, want)
		}
	}
	if got := b.tracks[0].apart(10, 380); got != 30 {
		t.Errorf("stations 10 and 380 of 400 are %g apart, want 30", got)
	}
	if got := open.apart(10, 180); got != 170 {
		t.Errorf("stations 10 and 180 of an open strand are %g apart, want 170", got)
	}
}

// Where a strand crosses itself, half of its way from one passage to the other is
// each one's own; where two cross twice near by, half of the way between (by hand).
func TestMost(t *testing.T) {
	// A loop with sides of 100 mm.
	b := laid(t, polyline(-50, 0, 100, 0, 100, 100, 0, 100, 0, -50))
	c := b.tracks[0].unders[0]
	if upper, lower := b.most(b.tracks[0], c, 0, 5); math.Abs(upper-200) > 1e-9 || math.Abs(lower-200) > 1e-9 {
		t.Errorf("a loop of 400 mm: %g and %g, want 200", upper, lower)
	}
	// A bar across a square of 40 mm: crossings 40 mm apart along the bar, and 70 on
	// the square's shorter way, of 160.
	b = laid(t, polygon(0, 0, 40, 0, 40, 40, 0, 40), polyline(-60, 15, 100, 15))
	for _, tr := range b.tracks {
		for _, c := range tr.unders {
			crossing := 0
			for i, x := range b.weave.Crossings {
				if x.At.Near(c.at, 1e-6) {
					crossing = i
				}
			}
			want := map[bool]float64{true: 20, false: 35} // of the bar, of the square
			upper, lower := b.most(tr, c, crossing, 50)
			if math.Abs(upper-want[!c.upper.closed]) > 1e-9 || math.Abs(lower-want[!tr.closed]) > 1e-9 {
				t.Errorf("under at %v: %g and %g, want %g and %g", c.at, upper, lower, want[!c.upper.closed], want[!tr.closed])
			}
			// Nothing near by: half a ring, or all of a bar.
			whole := map[bool]float64{true: 160, false: 80}
			upper, lower = b.most(tr, c, crossing, 5)
			if math.Abs(upper-whole[!c.upper.closed]) > 1e-9 || math.Abs(lower-whole[!tr.closed]) > 1e-9 {
				t.Errorf("under at %v, near by 5 mm: %g and %g", c.at, upper, lower)
			}
		}
	}
}

// A stretch of a wall of three straights, either way (by hand).
func TestCutOfAWall(t *testing.T) {
	wall := polyline(0, 0, 10, 0, 10, 10, 20, 10).Edges()
	c := &under{walls: [2][]geom.Edge{wall}}
	at := func(edge int, t float64) exit { return exit{edge: edge, t: t} }
	for _, test := range []struct {
		from, to exit
		want     geom.Contour
	}{
		{at(0, 0.2), at(0, 0.7), polyline(2, 0, 7, 0)},
		{at(0, 0.7), at(0, 0.2), polyline(7, 0, 2, 0)},
		{at(0, 0.2), at(1, 0.5), polyline(2, 0, 10, 0, 10, 5)},
		{at(1, 0.5), at(0, 0.2), polyline(10, 5, 10, 0, 2, 0)},
		{at(0, 0.2), at(2, 0.5), polyline(2, 0, 10, 0, 10, 10, 15, 10)},
		{at(2, 0.5), at(0, 0.9), polyline(15, 10, 10, 10, 10, 0, 9, 0)},
	} {
		got := c.cut(test.from, test.to)
		if len(got) != test.want.Len() {
			t.Errorf("from %+v to %+v: %v", test.from, test.to, got)
			continue
		}
		for i, e := range got {
			if w := test.want.Edge(i); !e.A.Near(w.A, 1e-9) || !e.B.Near(w.B, 1e-9) {
				t.Errorf("from %+v to %+v: %v, want %v", test.from, test.to, e, w)
			}
		}
	}
}

// Where the lower strand ends within the crossing on both sides, all of it that lies
// under the upper one's stack is covered.
func TestCrossingLongerThanTheStrand(t *testing.T) {
	for _, degrees := range []float64{90, 60, 45, 30} {
		s, c := math.Sincos(degrees * deg)
		b := laid(t, polyline(-100, 0, 100, 0), polyline(-1.2*c, -1.2*s, 1.2*c, 1.2*s))
		if len(b.tracks[1].unders) != 1 {
			t.Fatal("the short strand is not the lower one")
		}
		h, u := b.lines.half(), b.tracks[1].unders[0]
		if !u.odd {
			t.Error("the short strand leaves plainly")
		}
		upper := region.New(polygon(-100, -h, 100, -h, 100, h, -100, h))
		at := func(x, y float64) geom.Point { return geom.Pt(x*c-y*s, x*s+y*c) }
		lower := region.New(geom.Polygon(at(-1.2, -h), at(1.2, -h), at(1.2, h), at(-1.2, h)))
		near(t, "covered", u.stack().Area(), region.Intersect(upper, lower).Area(), 2*2.4*wider)
	}
}

// Where two crossings of the same strands run into one another, what is between them is
// shared out: nothing is left with both strands, and nothing with none.
func TestCrossingsThatRunTogether(t *testing.T) {
	for _, y := range []float64{1, 2, 3, 5, 8} { // of the straight, from the other one's tip
		j := jobOf(unequal(), 1, polyline(-60, -y, 60, -y), polyline(-40, -50, 0, 0, 40, -50))
		j.Inlay.Clearance, j.Inlay.Width = 0, 3.5
		in, w, found := build(t, j)
		if found.HasErrors() || len(w.Crossings) != 2 {
			t.Fatalf("y %g: %d crossings, %v", y, len(w.Crossings), found)
		}
		near(t, "what the strips leave of the groove", in.Grooves().Area()-disjoint(t, in), 0, leastPiece)
	}
}
