package groove

import (
	"fmt"
	"math"
	"testing"

	"strapwork/pkg/geom"
)

// Chains end at free ends, at corners that the rider can't turn, and at tees; a
// smooth ring is one chain, a ring with corners begins at its first (by hand).
func TestChains(t *testing.T) {
	for _, c := range []struct {
		name, router string
		paths        []string
		want         string // of the first strand: kind and distance of each stop
		sharp        int
	}{
		{"a straight", base, []string{"M 0 0 H 100"}, "free end 0 - free end 100", 0},
		{"a corner", base, []string{"M 0 0 H 100 V 70"}, "free end 0 - corner 100, corner 100 - free end 170", 1},
		{"a corner that a bearing turns", bearing, []string{"M 0 0 H 100 V 70"}, "free end 0 - free end 170", 0},
		{"a square", base, []string{"M 0 0 H 100 V 80 H 0 Z"}, "corner 0 - corner 100, corner 100 - corner 180, corner 180 - corner 280, corner 280 - corner 360", 4},
		{"a tee at the start", base, []string{"M 0 0 H 100", "M 0 -50 V 50"}, "tee 0 - free end 100", 0},
		{"a tee at the end", base, []string{"M 0 0 H 100", "M 100 -50 V 50"}, "free end 0 - tee 100", 0},
		{"a ring", base, []string{"M 60 0 A 60 60 0 0 1 -60 0 A 60 60 0 0 1 60 0 Z"}, "split 0 - split 377 ring", 0},
		{"a drop", base, []string{"M 0 0 H 100 A 80 80 0 0 1 100 160 H 0 Z"}, "corner 0 - corner 451, corner 451 - corner 611", 2},
	} {
		g := sound(t, c.router, c.paths...)
		got := ""
		for i, ch := range g.Chains(0) {
			if i > 0 {
				got += ", "
			}
			got += fmt.Sprintf("%v %.0f - %v %.0f", ch.From.Kind, ch.From.S, ch.To.Kind, ch.To.S)
			if ch.Ring {
				got += " ring"
			}
			for _, s := range [2]Stop{ch.From, ch.To} {
				if p, _ := g.Motif.Strands[0].Contour.At(math.Mod(s.S, g.Motif.Strands[0].Length()+1e-9)); !ch.Ring && !p.Near(s.At, 1e-9) {
					t.Errorf("%s: a stop at %v lies at %v", c.name, s.At, p)
				}
			}
		}
		if got != c.want || g.SharpCorners() != c.sharp {
			t.Errorf("%s: %s with %d corners that no cut turns, want %s with %d", c.name, got, g.SharpCorners(), c.want, c.sharp)
		}
	}
}

// A figure of eight in one smooth strand passes its crossing twice; so does a
// stretch from before one passage to behind the other, over the strand's start too.
func TestCrossesItself(t *testing.T) {
	// Two three-quarter circles of radius 40 and two straights between them.
	g := sound(t, bearing, "M 40 40 A 40 40 0 1 0 40 -40 L -40 40 A 40 40 0 1 1 -40 -40 Z")
	s := g.Motif.Strands[0]
	if len(g.Weave.Crossings) != 1 || !s.Contour.Closed {
		t.Fatalf("%d crossings", len(g.Weave.Crossings))
	}
	v := g.Weave.Visits[0]
	first, second, length := v[0].S, v[1].S, s.Length()
	near(t, "between the passages", second-first, length/2, 1e-6)
	for _, c := range []struct {
		from, to float64
		want     bool
	}{
		{first - 1, second - 1, false},
		{first - 1, second + 1, true},
		{first + 1, second + 1, false},
		{second - 1, length + first - 1, false},
		{second - 1, length + first + 1, true},
		{second + 1, length + first + 1, false},
		{length + first - 1, length + second - 1, false},
		{length + first - 1, length + second + 1, true},
	} {
		if got := g.crossesItself(0, c.from, c.to); got != c.want {
			t.Errorf("from %.1f to %.1f, passages at %.1f and %.1f: %t", c.from, c.to, first, second, got)
		}
		ch := g.Chains(0)[0]
		stop := func(d float64) Stop {
			stop := g.SplitAt(0, math.Mod(d, length), false)
			stop.S = d
			return stop
		}
		if c.want && g.Reaches(ch, stop(c.from), stop(c.to)) {
			t.Errorf("from %.1f to %.1f: reached", c.from, c.to)
		}
		if !g.Reaches(ch, stop(c.from), stop(c.from+length/4)) {
			t.Errorf("from %.1f: not reached a quarter on", c.from)
		}
		if g.Reaches(ch, stop(c.from), stop(c.from+length+1)) {
			t.Error("more than a lap in one cut")
		}
	}
}

// A stretch of a square that runs on past the strand's start is a quarter turn of
// one that doesn't: the same area, to the corner that it turns.
func TestStretchPastTheStart(t *testing.T) {
	g := sound(t, bearing, "M -50 -50 H 50 V 50 H -50 Z")
	stop := func(s float64) Stop {
		stop := g.SplitAt(0, math.Mod(s, 400), false)
		stop.S = s
		return stop
	}
	want := g.Stretch(0, stop(160), stop(240))
	near(t, "C", want.Centre.Area(), 2*k*(80+2*PastSplit), 1e-9) // as long as a mitred corner's middle
	for _, from := range []float64{60, 260, 360} {
		got := g.Stretch(0, stop(from), stop(from+80))
		near(t, fmt.Sprintf("C from %g", from), got.Centre.Area(), want.Centre.Area(), 1e-9)
		near(t, fmt.Sprintf("opening from %g", from), g.Opening(got).Area(), g.Opening(want).Area(), 1e-9)
		near(t, "length", got.Length(), 80+2*PastSplit, 1e-9)
		if !g.Follows(got) {
			t.Errorf("from %g: not followed", from)
		}
	}
}

// A joint that turns by 0.45 degrees is no corner, but a place to split at where the
// rider is large; both cuts end there as at a corner. A bearing needs none.
func TestSplitAtAKink(t *testing.T) {
	end := geom.Pt(100, 0).Add(geom.Polar(100, 0.45*math.Pi/180))
	path := fmt.Sprintf("M 0 0 H 100 L %.12f %.12f", end.X, end.Y)
	if g := sound(t, bearing, path); len(g.Kinks(0)) != 0 {
		t.Errorf("kinks at %v for a bearing", g.Kinks(0))
	}
	g := sound(t, base, path)
	kinks := g.Kinks(0)
	if len(kinks) != 1 || math.Abs(kinks[0]-100) > 1e-9 {
		t.Fatalf("kinks at %v, want 100", kinks)
	}
	if c := whole(&g, 0); !g.Follows(c) {
		t.Error("48 mm (1/cos(0.225 degrees) - 1) is 0.0004 mm: one cut may go round it")
	}
	for _, c := range []struct {
		at   float64
		kink bool
	}{{100, true}, {100.0005, true}, {100.002, false}, {60, false}} {
		stop := g.SplitAt(0, c.at, true)
		if stop.AtKink() != c.kink || !stop.Hidden || stop.Kind != StopSplit {
			t.Errorf("a split at %g: %+v", c.at, stop)
		}
		if c.kink && stop.S != kinks[0] {
			t.Errorf("a split at %g stays at %.9f", c.at, stop.S)
		}
		first, last := g.ends(0)
		for _, cut := range []Cut{g.Stretch(0, first, stop), g.Stretch(0, stop, last)} {
			if !g.Follows(cut) {
				t.Errorf("split at %g: not followed", c.at)
			}
			want := 100 - b/2
			if !c.kink {
				want = math.Abs(cut.To.S-cut.From.S) - b/2 + PastSplit
			}
			near(t, fmt.Sprintf("length of a cut split at %g", c.at), cut.Length(), want, 1e-3)
		}
	}
}
