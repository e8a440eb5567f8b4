package received_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/measured"
	"strapwork/pkg/profile"
	"strapwork/pkg/received"
	"strapwork/pkg/unit"
)

// Which tape goes on which wall, worked by hand with layers of 0.13, 0.10 and 0.06
// mm: tape of t on one wall moves the groove's middle by t/2 away from it, so half
// of what is too wide belongs on each.
func TestTapeOnWalls(t *testing.T) {
	for _, c := range []struct {
		off                       float64
		left, right, shift, total float64
	}{
		{0.06, 0.06, 0, 0.03, 0.06}, // two of the thinnest would be 0.06 too much
		{0.08, 0.06, 0, 0.03, 0.06}, // 0.02 are left, which are nothing; 0.1 would move it farther
		{0.10, 0.06, 0.06, 0, 0.12},
		{0.13, 0.06, 0.06, 0, 0.12},
		{0.16, 0.10, 0.06, 0.02, 0.16},
		{0.19, 0.10, 0.10, 0, 0.20},
		{0.23, 0.13, 0.10, 0.015, 0.23},
		{0.26, 0.13, 0.13, 0, 0.26},
		{0.50, 0.26, 0.26, 0, 0.52}, // 4 layers; 0.26 + 0.23 has as many
	} {
		card := received.Card{
			Rider: measured.Reading{Values: []float64{100}}, Bit: measured.Reading{Values: []float64{3}},
			Tracks: map[string]measured.Reading{"A1": {Values: []float64{102 + c.off}}},
		}
		list, found := received.Judge(work(t, "mm"), card, openings("A1"))
		g := list[0]
		var sums [2]float64
		for i, pile := range [][]float64{g.Tape.Left, g.Tape.Right} {
			for _, l := range pile {
				sums[i] += l
			}
		}
		for _, d := range []float64{sums[0] - c.left, sums[1] - c.right, g.Tape.Shift() - c.shift, g.Tape.Total() - c.total} {
			if math.Abs(d) > 1e-9 {
				t.Errorf("%v: %v and %v, shifted %v; want %+v", c.off, g.Tape.Left, g.Tape.Right, g.Tape.Shift(), c)
				break
			}
		}
		if len(found) > 0 || g.Verdict != received.Tape {
			t.Errorf("%v: %s, %v", c.off, g.Verdict, found)
		}
	}
}

// What is said of a track, in mm and in inches (25.4 mm: 0.06 mm is 0.00236 in).
func TestAdvice(t *testing.T) {
	for _, c := range []struct {
		track, mm, inch string
	}{
		{"102.01", "nothing", "nothing"},
		{"102.03", "leave it: the groove is likely out by 0.04 mm for other reasons", "leave it: the groove is likely out by 0.0016 in for other reasons"},
		{"102.05", "leave it: it is 0.025 mm per side, and the thinnest tape is 0.06 mm", "leave it: it is 0.00098 in per side, and the thinnest tape is 0.0024 in"},
		{"102.13", "tape of 0.065 mm on both walls, nearest layer: 0.06 mm", "tape of 0.0026 in on both walls, nearest layer: 0.0024 in"},
		{"102.5", "tape of 0.25 mm on both walls, nearest layers: 0.13 mm + 0.13 mm", "tape of 0.0098 in on both walls, nearest layers: 0.0051 in + 0.0051 in"},
		{
			"102.06", "tape of 0.06 mm on the upper wall alone, nearest layer: 0.06 mm; no layers are thin enough for both, and the groove's middle moves 0.03 mm away from it",
			"tape of 0.0024 in on the upper wall alone, nearest layer: 0.0024 in; no layers are thin enough for both, and the groove's middle moves 0.0012 in away from it",
		},
		{
			"102.16", "tape of 0.08 mm on both walls, nearest: 0.1 mm on the upper one, 0.06 mm on the other; the groove's middle moves 0.02 mm towards that",
			"tape of 0.0031 in on both walls, nearest: 0.0039 in on the upper one, 0.0024 in on the other; the groove's middle moves 0.00079 in towards that",
		},
		{"101.9", "too narrow by 0.1 mm: file the wall", "too narrow by 0.0039 in: file the wall"},
		{"102.9", "too wide by 0.9 mm for tape: a new panel", "too wide by 0.035 in for tape: a new panel"},
		{`""`, "measure it, and rider and bit", "measure it, and rider and bit"},
		{"10.2", "read it again", "read it again"},
	} {
		card, _ := received.Read("card.toml", []byte("rider = 100\nbit = 3\n[track]\nA1 = "+c.track), unit.MM, []string{"A1"})
		list := openings("A1")
		list[0].Across = geom.Pt(0, 1)
		grooves, _ := received.Judge(work(t, "mm"), card, list)
		if got := grooves[0].Advice(); got.In(unit.MM) != c.mm || got.In(unit.Inch) != c.inch {
			t.Errorf("%s\n got %q\nwant %q\n got %q\nwant %q", c.track, got.In(unit.MM), c.mm, got.In(unit.Inch), c.inch)
		}
		taped := strings.HasPrefix(c.mm, "tape")
		if lines := received.Footer(received.Tapings(grooves)); (len(lines) > 0) != taped {
			t.Errorf("%s: %v", c.track, lines)
		}
	}
}

// Walls are named as they lie on the drawing.
func TestWalls(t *testing.T) {
	for want, o := range map[string]received.Opening{
		"upper": {Across: geom.Pt(0.1, 1)}, "lower": {Across: geom.Pt(0.1, -1)}, "left": {Across: geom.Pt(-1, 0)}, "right": {Across: geom.Pt(1, 0)},
		"inner": {Curved: true, Inner: true}, "outer": {Curved: true},
	} {
		g := received.Groove{Opening: o, Verdict: received.Tape, Off: 0.06, Tape: received.Taping{Left: []float64{0.06}}}
		if got := g.Advice().String(); !strings.Contains(got, "on the "+want+" wall alone") {
			t.Errorf("%q: %s", want, got)
		}
	}
}

// A few hundredths that the strips' play of 0.08 mm takes up are no fault; more
// than half of it is.
func TestNarrowWithinPlay(t *testing.T) {
	w := work(t, "mm")
	w.Inlay.Strips, w.Inlay.Clearance = append(w.Inlay.Strips, w.Inlay.Strips...), 0.08
	w.Inlay.Strips = slices.Grow(w.Inlay.Strips, 1)[:len(w.Inlay.Strips)+1]
	s := &w.Inlay.Strips[len(w.Inlay.Strips)-1]
	s.Material, s.Thickness = "holly", 4.92
	for track, want := range map[float64]string{
		101.97: "leave it: the strips still have 0.05 mm of their 0.08 mm of play", 101.955: "too narrow by 0.045 mm: file the wall",
	} {
		card := received.Card{
			Rider: measured.Reading{Values: []float64{100}}, Bit: measured.Reading{Values: []float64{3}},
			Tracks: map[string]measured.Reading{"A1": {Values: []float64{track}}},
		}
		list, found := received.Judge(w, card, openings("A1"))
		if got := list[0].Advice().String(); got != want || found.HasErrors() == strings.HasPrefix(want, "leave") {
			t.Errorf("%v: %q, %v; want %q", track, got, found, want)
		}
	}
}

// The narrowest place says whether the rider goes in and which tape is taken, the
// widest how much is left there: 0.2 less two layers of 0.06 mm.
func TestUneven(t *testing.T) {
	_, found := judge(t, "100", "3", "[102.1, 102.2]")
	if len(found) != 1 || found[0].Message != "the track A1 varies by 0.1 mm in width: its groove comes out from 5.1 mm to 5.2 mm wide, and with tape for the narrowest place is still up to 0.08 mm too wide" {
		t.Error(found)
	}
	_, found = judge(t, "100", "3", "[99.9, 102.2]")
	if len(found) != 2 || !strings.HasPrefix(found[0].Message, "the rider of 100 mm doesn't fit into the track A1 of 99.9 mm") {
		t.Error(found)
	}
}

// A slot that nobody allowed the kerf for is wider by it, one that two allowed it
// for is narrower; a router's kerf is its cutter.
func TestKerfForgotten(t *testing.T) {
	router, err := profile.Open("router-1200x800", nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		shop profile.Shop
		off  float64
		want string
	}{
		{router, 3.01, "the track is out by about the cutter's 3 mm, a router's kerf: did nobody allow for it?"},
		{router, -2.9, "the track is out by about the cutter's 3 mm, a router's kerf: was it allowed for twice?"},
		{router, 1.5, "was the cutter's width, a router's kerf, allowed for?"},
		{profile.Plain(), 0.6, "was the kerf allowed for?"},
	} {
		w := work(t, "mm")
		w.Shop = c.shop
		card := received.Card{
			Rider: measured.Reading{Values: []float64{100}}, Bit: measured.Reading{Values: []float64{3}},
			Tracks: map[string]measured.Reading{"A1": {Values: []float64{102 + c.off}}},
		}
		_, found := received.Judge(w, card, openings("A1"))
		if len(found) != 1 || !strings.HasSuffix(found[0].Hint, "; "+c.want) {
			t.Errorf("%v: %v %q", c.off, found, found[0].Hint)
		}
	}
}

// A trial's step is a tape that there is.
func TestStep(t *testing.T) {
	for holds, want := range map[float64]float64{0.02: 0.06, 0.05: 0.1, 0.15: 0.1} {
		if got := received.Step(holds); got != want || !slices.Contains(received.Tapes(), got) {
			t.Errorf("a shop that holds %v: %v, want %v", holds, got, want)
		}
	}
}
