package template

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/unit"
)

// square is a motif whose tracks, with a collar of 12 mm, end 107.04 mm from the
// origin on every side (by hand: 100 + 5.08/2 - 3/2 + 12/2), and so a frame's
// opening with a margin of 25 mm at 132.04 mm, or 138.24 mm where the wedges are.
const square = "[[motif.line]]\nname = \"rim\"\npoints = [[-100, -100], [100, -100], [100, 100], [-100, 100]]\nclosed = true\n" + inlay +
	"[router]\nguide = \"bushing\"\nrider = 12\nbit = 3\nflute = 14\ncollar = 7\nbase = 120\n"

func board(x, y, left, below float64) string {
	return fmt.Sprintf("[board]\nsize = [%g, %g]\nthickness = 18\norigin = [%g, %g]\n", x, y, left, below)
}

// What a frame lies on, by hand: a side bears where 10 mm of board are under a
// third of it at least.
func TestSupport(t *testing.T) {
	for _, c := range []struct {
		name, board string
		want        Support
		bearing     string // of the lower, right, upper and left side
		overhang    Overhang
	}{
		{"no board", "", SupportUnknown, "", Overhang{}},
		{"a table", board(600, 600, 300, 300), OnBoard, "++++", Overhang{}},
		{"a board that reaches half under", board(330, 330, 165, 165), OverBoard, "++++", Overhang{27.04, 33.24, 27.04, 33.24}},
		{"a lid within the opening", board(250, 250, 125, 125), RoundBoard, "....", Overhang{67.04, 73.24, 67.04, 73.24}},
		{"a narrow board that runs through", board(600, 240, 300, 120), OverBoard, ".+.+", Overhang{0, 0, 72.04, 78.24}},
		{"a strip under one side alone", board(425, 240, 300, 120), RoundBoard, "...+", Overhang{0, 73.24, 72.04, 78.24}},
		{"a lid 5 mm larger than the opening", board(275, 275, 136, 136), RoundBoard, "....", Overhang{56.04, 59.24, 56.04, 59.24}},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := prepared(t, square+c.board).set.Frame
			got := ""
			for _, b := range f.Bearing {
				got += map[bool]string{true: "+", false: "."}[b]
			}
			if f.Support != c.want || got != c.bearing {
				t.Errorf("lies %v the board with sides %q, want %v, %q; the opening is %v", f.Support, got, c.want, c.bearing, f.Inside.Polygon().Bounds())
			}
			near(t, "left", f.Overhang.Left, c.overhang.Left, 1e-6)
			near(t, "right", f.Overhang.Right, c.overhang.Right, 1e-6)
			near(t, "below", f.Overhang.Below, c.overhang.Below, 1e-6)
			near(t, "above", f.Overhang.Above, c.overhang.Above, 1e-6)
		})
	}
}

// A frame round the board is warned of, in the job's units, and the margin that is
// named puts it on the board; where no margin does, none is named.
func TestFrameRoundBoard(t *testing.T) {
	for _, c := range []struct {
		name, text string
		margin     bool
	}{
		{"a margin does", square + board(278, 278, 136, 136), true},
		{"no margin does", square + board(226, 226, 113, 113), false},
		{"the base would tip", with(square, "base = 120", "base = 182") + board(278, 278, 136, 136), false},
	} {
		for _, units := range []unit.System{unit.MM, unit.Inch} {
			at := slices.IndexFunc(prepared(t, c.text).set.Found, func(f diag.Finding) bool { return f.Rule == "frame-round" })
			if at < 0 {
				t.Fatalf("%s: nothing is said", c.name)
			}
			f := prepared(t, c.text).set.Found[at].In(units)
			if f.Severity != diag.Warning || (len(f.Cures) > 0) != c.margin || !strings.Contains(f.Hint, "packing as thick as the board") || strings.Contains(f.Hint, "margin") != c.margin {
				t.Errorf("%s: %v, hint %s, %v", c.name, f, f.Hint, f.Cures)
			}
			for _, cure := range f.Cures {
				again := prepared(t, c.text+"[template]\nmargin = \""+cure.Value+" "+units.String()+"\"\n")
				if s := again.set.Frame.Support; s == RoundBoard || s == SupportUnknown {
					t.Errorf("%s: with a margin of %s %v the frame lies %v the board", c.name, cure.Value, units, s)
				}
			}
		}
	}
}

// Screws are at most 250 mm apart along a side and two at least to each, in every
// job, wherever nothing is in their way; none is at the board's edge, and those in
// the board and beside it are told apart.
func TestScrewsAlongTheFrame(t *testing.T) {
	everyJob(t, func(t *testing.T, m made) {
		f := m.set.Frame
		if f == nil {
			return
		}
		if len(f.Screws) != f.wanted {
			t.Errorf("%d of %d screws have a place", len(f.Screws), f.wanted)
		}
		for i, side := range f.Inside.Sides {
			along := side.Out.Left()
			var at []float64
			for _, s := range f.Screws {
				if s.Side == i {
					at = append(at, s.At.Dot(along))
				}
			}
			slices.Sort(at)
			for k := 1; k < len(at); k++ {
				if at[k]-at[k-1] > 250 {
					t.Errorf("side %d: two screws are %.0f mm apart", i, at[k]-at[k-1])
				}
			}
			if from, to := f.Outside.Corner(i).Dot(along), f.Outside.Corner(i+1).Dot(along); len(at) < 2 || at[0]-from > 250 || to-at[len(at)-1] > 250 {
				t.Errorf("side %d of %.0f mm: screws at %v", i, f.Outside.Length(i), at)
			}
		}
		checkOnBoard(t, m.job, f)
	})
}

func checkOnBoard(t *testing.T, j Params, f *LocatingFrame) {
	t.Helper()
	b := j.Board
	for _, s := range f.Screws {
		if b == nil {
			if s.OnBoard {
				t.Error("a screw is in a board that isn't there")
			}
			continue
		}
		x, y := s.At.X+b.Origin.X, s.At.Y+b.Origin.Y
		inside := min(x, b.Size.X-x, y, b.Size.Y-y) // of the board's edge; negative outside, at a corner less than its distance
		if s.OnBoard != (inside > 0) || inside >= 0 && inside < 10-1e-9 {
			t.Errorf("the screw at %v is %.2f mm inside the board, in it: %v", s.At, inside, s.OnBoard)
		}
		if dx, dy := max(-x, x-b.Size.X, 0), max(-y, y-b.Size.Y, 0); inside < 0 && max(dx, dy) < 10-1e-9 {
			t.Errorf("the screw at %v is %.2f mm beside the board", s.At, math.Hypot(dx, dy))
		}
	}
}

// Half under the board's edge, screws go into the packing.
func TestScrewsKeepOffTheBoardsEdge(t *testing.T) {
	for over := 5.0; over < 60; over += 5 {
		m := prepared(t, square+board(2*(131+over), 2*(131+over), 131+over, 131+over))
		if len(m.set.Frame.Screws) < 8 {
			t.Errorf("%g mm of the frame on the board: %d screws", over, len(m.set.Frame.Screws))
		}
		checkOnBoard(t, m.job, m.set.Frame)
	}
}

// A pair of wedges to each 300 mm of side, in the gap, and beside a panel's
// notches where there is room; on sides of just over 300 mm there isn't, and a
// wedge reaches over a notch.
func TestWedgePairs(t *testing.T) {
	for _, c := range []struct{ half, pairs float64 }{{40, 1}, {100, 1}, {118, 2}, {240, 2}, {300, 3}} {
		text := fmt.Sprintf("[[motif.line]]\npoints = [[-%[1]g, -%[1]g], [%[1]g, -%[1]g], [%[1]g, %[1]g], [-%[1]g, %[1]g]]\nclosed = true\n", c.half) + square[strings.Index(square, "[inlay]"):]
		m := prepared(t, text)
		f := m.set.Frame
		if want := int(2 * c.pairs); len(f.Wedges) != want || len(f.Wedged) != 2 {
			t.Fatalf("a side of %.0f mm has %d pairs, want %g", f.Inside.Length(1), len(f.Wedges)/2, c.pairs)
		}
		for _, p := range m.set.Parts(m.job, m.groove.Size, 0) {
			if p.Sheet.Name == WedgeName && p.Quantity != 2*len(f.Wedges) {
				t.Errorf("%d wedges for %d pairs", p.Quantity, len(f.Wedges))
			}
		}
		for _, w := range f.Wedges {
			if !slices.Contains(f.Wedged, w.Side) {
				t.Errorf("a pair is at side %d", w.Side)
			}
			near(t, "in the gap", f.Inside.Sides[w.Side].Dist-w.At.Dot(f.Inside.Sides[w.Side].Out), f.Gap/2, 1e-9)
			for _, end := range [2]float64{-30, 30} {
				if p := w.At.Add(w.Along.Scale(end)); f.Wood.Contains(p) {
					t.Errorf("a wedge at %v ends in the frame, at %v", w.At, p)
				}
			}
			for _, panel := range m.set.Panels {
				behind := 0
				for k := range 13 { // of the wedge's length
					p := w.At.Add(w.Along.Scale(-30 + 5*float64(k))).Sub(f.Inside.Sides[w.Side].Out.Scale(f.Gap/2 + 0.5))
					if region.New(panel.Outline).Contains(p) {
						behind++
					}
				}
				if c.half >= 100 && behind < 13 && (c.half != 118 || behind < 7) {
					t.Errorf("half %g: the wedge at %v bears on %d parts of 13", c.half, w.At, behind)
				}
			}
		}
	}
}
