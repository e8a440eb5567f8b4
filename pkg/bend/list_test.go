package bend

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestGroup: bends of one strip within a hundredth are one; what any strip takes from
// its groove is none.
func TestGroup(t *testing.T) {
	stuff := []Stuff{{layer(t, "holly", "", 1)}, {layer(t, "bronze", "", 1.2)}}
	list := Group(stuff, []Piece{
		{Number: 1, Stuff: 0, Arcs: []Arc{{40, 1}, {20, math.Pi}, {40.3, 0.5}}},
		{Number: 2, Stuff: 0, Arcs: []Arc{{40.4, 2}, {5000, 0.001}, {500, 0.01}}},
		{Number: 3, Stuff: 1, Arcs: []Arc{{40, 1}}},
		{Number: 4, Stuff: 0, Arcs: []Arc{{40.5, 1}}},
	})
	if len(list) != 4 {
		t.Fatalf("%+v", list)
	}
	for i, want := range []struct {
		stuff          int
		radius, widest float64
		pieces         []int
		length         float64
		way            Way
	}{
		{0, 20, 20, []int{1}, 20 * math.Pi, Steamed}, // 1 / 40 = 0.025 and no more
		{0, 40, 40.4, []int{1, 2}, 80.8, Heated},     //
		{0, 40.5, 40.5, []int{4}, 40.5, Heated},      // more than a hundredth beyond 40
		{1, 40, 40, []int{3}, 40, Cold},              //
	} {
		got := list[i]
		if i == 0 {
			want.way = Heated // just within the limit
		}
		if got.Stuff != want.stuff || got.Radius != want.radius || got.Widest != want.widest || !slices.Equal(got.Pieces, want.pieces) || math.Abs(got.Length-want.length) > 1e-9 || got.Verdict.Way != want.way {
			t.Errorf("%d: %+v", i, got)
		}
	}
	for i, want := range []float64{32.3, 30.1, 28.1} { // as TestRoundBronze has them
		if r := list[3].Rounds[i]; math.Abs(r-want) > 0.05 {
			t.Errorf("bronze is bent to %g, not %g", r, want)
		}
	}
}

// TestGroupProperty: every bend is in a group of its own stuff and about its radius, and
// which they are doesn't go by the order of the pieces.
func TestGroupProperty(t *testing.T) {
	stuff := []Stuff{{layer(t, "maple", "", 0.8)}, {layer(t, "brass", "", 1)}}
	rapid.Check(t, func(t *rapid.T) {
		pieces := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Piece {
			return Piece{
				Number: rapid.IntRange(1, 1000).Draw(t, "number"), Stuff: rapid.IntRange(0, 1).Draw(t, "stuff"),
				Arcs: []Arc{{rapid.Float64Range(3, 300).Draw(t, "r"), rapid.Float64Range(1, 6).Draw(t, "sweep")}},
			}
		}), 0, 20).Draw(t, "pieces")
		list := Group(stuff, pieces)
		for _, p := range pieces {
			i := Of(list, p.Stuff, p.Arcs[0].Radius)
			if i < 0 || !slices.Contains(list[i].Pieces, p.Number) {
				t.Fatalf("%+v is in no group of %+v", p, list)
			}
		}
		for _, b := range list {
			if b.Widest > b.Radius*(1+Alike) {
				t.Errorf("%+v", b)
			}
		}
		slices.Reverse(pieces)
		if again := Group(stuff, pieces); len(again) != len(list) || !slices.EqualFunc(again, list, func(a, b Bend) bool { return a.Radius == b.Radius && slices.Equal(a.Pieces, b.Pieces) }) {
			t.Errorf("%+v, backwards %+v", list, again)
		}
	})
}

// TestEdges: woods of one radius share an edge, a metal has three, what springs has none;
// those of most pieces come first.
func TestEdges(t *testing.T) {
	stuff := []Stuff{{layer(t, "holly", "", 1)}, {layer(t, "pear", "", 1.2)}, {layer(t, "bronze", "", 1.2)}}
	list := Group(stuff, []Piece{
		{Number: 1, Stuff: 0, Arcs: []Arc{{20.5, 1}}},
		{Number: 2, Stuff: 1, Arcs: []Arc{{20.6, 2}}},
		{Number: 3, Stuff: 2, Arcs: []Arc{{40, 1}, {400, 1}}},
		{Number: 4, Stuff: 0, Arcs: []Arc{{300, 1}}},
	})
	edges := Edges(stuff, list)
	if len(edges) != 4 || math.Abs(edges[0].Radius-20) > 1e-9 || len(edges[0].Uses) != 2 || edges[0].Sweep != 2 {
		t.Fatalf("%+v", edges)
	}
	for i, want := range []float64{32.3, 30.1, 28.1} {
		e := edges[i+1]
		// The strip's middle keeps its length: 40 mm.
		if math.Abs(e.Radius-(want-0.6)) > 0.05 || math.Abs(e.Sweep*(e.Radius+0.6)-40) > 0.1 || e.Uses[0].Yield != i {
			t.Errorf("%+v", e)
		}
	}
}

// TestTrims: an end that turns to the right is one to the left, seen from below; one
// that would leave a sharp tip lies in a hollow; ends within a degree are trimmed to its
// middle.
func TestTrims(t *testing.T) {
	stuff := []Stuff{{layer(t, "holly", "", 1)}}
	deg := func(d float64) float64 { return d * math.Pi / 180 }
	pieces := []Piece{
		{Number: 1, Arcs: []Arc{{30, 1}}, Ends: [2]End{{Radius: 30, Cut: deg(60)}, {Radius: 30, Right: true, Cut: deg(120.2)}}},
		{Number: 2, Arcs: []Arc{{30, 1}}, Ends: [2]End{{Radius: 30, Cut: deg(120)}, {Cut: deg(60)}}},
		{Number: 3, Arcs: []Arc{{300, 1}}, Ends: [2]End{{Radius: 300, Cut: deg(60)}, {}}},
	}
	trims := Trims(stuff, Group(stuff, pieces), pieces)
	if len(trims) != 2 {
		t.Fatalf("%+v", trims)
	}
	if got := trims[0]; got.Radius != 30.5 || !got.Hollow || math.Abs(got.Tip-deg(120.1)) > 1e-9 || !slices.Equal(got.Pieces, []int{1}) {
		t.Errorf("%+v", got)
	}
	if got := trims[1]; got.Radius != 29.5 || got.Hollow || math.Abs(got.Tip-deg(120)) > 1e-9 || !slices.Equal(got.Pieces, []int{2}) {
		t.Errorf("%+v", got)
	}
}

// A sandwich that is to be bent more tightly than it takes glued is reported with its
// tightest bend; one that bends gently isn't, nor are strips that are laid one by one.
func TestAlone(t *testing.T) {
	sandwich := []Stuff{{layer(t, "walnut", "", 0.8), layer(t, "bronze", "", 1.2), layer(t, "walnut", "", 0.8)}}
	piece := func(n int, radius float64) Piece {
		return Piece{Number: n, Arcs: []Arc{{Radius: radius, Sweep: 1}}}
	}
	_, found := New(Params{Stuff: sandwich, Pieces: []Piece{piece(1, 60), piece(2, 45), piece(3, 9000)}})
	if len(found) != 1 || found[0].Rule != RuleGlued || found[0].Key != "inlay.laid" || !strings.Contains(found.Error(), "2 pieces of it must, to R 45 mm") {
		t.Errorf("found %v", found)
	}
	if _, found = New(Params{Stuff: sandwich, Pieces: []Piece{piece(3, 9000)}}); len(found) > 0 {
		t.Errorf("a gentle bend: %v", found)
	}
	if _, found = New(Params{Stuff: []Stuff{{sandwich[0][1]}}, Pieces: []Piece{piece(1, 60)}}); len(found) > 0 {
		t.Errorf("a strip alone: %v", found)
	}
}
