package family_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/family"
	"strapwork/pkg/geom"
)

// saved is what a round saves of a square corner's two sides, in radii: 2 less a quarter turn.
const saved = 2 - math.Pi/2

// panelFacts: the strands are Fisher and Mellor's ("On the Topology of Celtic Knot
// Designs", Bridges 2004) and Wackrill's ("Celtic Knotwork and Knot Theory", Bridges
// 2006). A crossing lies on each side that two cells share; each cell has four halves of
// diagonals, and each half cell of the rim a corner that is rounded (derived).
func panelFacts(p family.Panel) facts {
	a, u := p.Across, p.Up
	round := p.Round
	if round == 0 {
		round = p.Cell / (2 * math.Sqrt2)
	}
	return facts{
		strands:   gcd(a, u),
		crossings: 2*a*u - a - u,
		length:    2*math.Sqrt2*float64(a*u)*p.Cell - float64(2*a+2*u)*saved*round,
		tightest:  round,
		angle:     math.Pi / 2,
	}
}

// TestPanels: all panels up to 12 x 12 cells.
func TestPanels(t *testing.T) {
	most := 12
	if testing.Short() {
		most = 5
	}
	for a := 1; a <= most; a++ {
		for u := 1; u <= most; u++ {
			p := family.Panel{Across: a, Up: u, Cell: 20}
			what := fmt.Sprintf("panel %d x %d", a, u)
			drawn, _ := panelFacts(p).hold(t, what, p)
			symmetric(t, what, drawn, geom.MirrorX(), geom.MirrorY())
			inCells(t, what, drawn, a, u, 20, 20/(2*math.Sqrt2))
		}
	}
}

// inCells checks that a knot's strands touch its rim from inside: the arc of a square
// corner lies (sqrt(2) - 1) of its radius from the corner.
func inCells(t rapid.TB, what string, drawn []geom.Contour, across, up int, cell, round float64) {
	t.Helper()
	in := 2 * (math.Sqrt2 - 1) * round
	b := box(drawn)
	if by, want := b.Size(), geom.Pt(float64(across)*cell-in, float64(up)*cell-in); !by.Near(want, 1e-9) || b.Center().Norm() > 1e-9 {
		t.Errorf("%s: %v about %v, want %v about the origin", what, by, b.Center(), want)
	}
}

// TestPanelsOfAnySize: over the whole range, in any cells and rounds.
func TestPanelsOfAnySize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := family.Panel{Across: rapid.IntRange(1, 40).Draw(t, "across"), Up: rapid.IntRange(1, 40).Draw(t, "up"), Cell: rapid.Float64Range(8, 200).Draw(t, "cell")}
		p.Round = p.Cell * rapid.Float64Range(0.1, 0.34).Draw(t, "round")
		drawn := draw(t, "panel", p)
		want := panelFacts(p)
		if got := length(drawn); len(drawn) != want.strands || math.Abs(got-want.length) > 1e-9*want.length || kink(drawn) > 1e-9 {
			t.Fatalf("%+v: %d strands, %v long, a kink of %g, want %+v", p, len(drawn), got, kink(drawn), want)
		}
		inCells(t, "panel", drawn, p.Across, p.Up, p.Cell, p.Round)
		if p.Across*p.Up <= 30 {
			want.hold(t, "panel", p)
		}
	})
}

// TestPanelNoise: cells and rounds as they are typed, with two decimals, change no more
// than the decimals that are lost.
func TestPanelNoise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := family.Panel{Across: rapid.IntRange(1, 6).Draw(t, "across"), Up: rapid.IntRange(1, 6).Draw(t, "up"), Cell: rapid.Float64Range(10, 60).Draw(t, "cell")}
		p.Cell = math.Round(p.Cell*100) / 100
		whole := draw(t, "panel", p)
		p.Round = math.Round(p.Cell/(2*math.Sqrt2)*100) / 100
		drawn := draw(t, "panel", p)
		if length(drawn) != length(whole) {
			t.Fatalf("%+v is %v long, and by default %v", p, length(drawn), length(whole))
		}
		panelFacts(family.Panel{Across: p.Across, Up: p.Up, Cell: p.Cell}).hold(t, "panel", p)
	})
}

// TestBreaks: each break takes one crossing away, puts two rounds in, and joins two
// strands, parts one or turns one over (Wackrill, as above; and a smoothing of a crossing
// of plane curves does nothing else).
func TestBreaks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := family.Panel{Across: rapid.IntRange(1, 7).Draw(t, "across"), Up: rapid.IntRange(1, 7).Draw(t, "up"), Cell: 30, Round: rapid.SampledFrom([]float64{0, 5, 9}).Draw(t, "round")}
		want := panelFacts(p)
		open := crossingsOf(2*p.Across, 2*p.Up, 0)
		n := rapid.IntRange(0, len(open)).Draw(t, "breaks")
		for i, at := range rapid.Permutation(open).Draw(t, "where")[:n] {
			before := len(draw(t, "panel", p))
			p.Breaks = append(p.Breaks, family.Break{X: at[0], Y: at[1], Level: rapid.Bool().Draw(t, "level")})
			drawn := draw(t, "panel", p)
			if by := len(drawn) - before; by < -1 || by > 1 {
				t.Fatalf("break %d changes the strands by %d", i+1, by)
			}
			want.crossings--
			want.strands = len(drawn)
			want.length -= 2 * saved * want.tightest
		}
		want.hold(t, fmt.Sprintf("%+v", p), p)
	})
}

// crossingsOf are where a knot of half cells, with or without a frame, has crossings, by
// their definition: middles of sides that are shared by two cells.
func crossingsOf(wide, high, frame int) (list [][2]int) {
	cell := func(x, y int) bool {
		in := x > 0 && y > 0 && x < wide && y < high
		return in && (frame == 0 || min(x, wide-x) < frame || min(y, high-y) < frame)
	}
	for y := range high {
		for x := range wide {
			if x%2 == 1 && y%2 == 0 && cell(x, y-1) && cell(x, y+1) || x%2 == 0 && y%2 == 1 && cell(x-1, y) && cell(x+1, y) {
				list = append(list, [2]int{x, y})
			}
		}
	}
	return list
}

// TestSquareKnotsByBreaks: known small panels. 2 x 2 cells are two linked rings of 4
// crossings; broken once it is one strand, the trefoil's shadow with 3 crossings (Adams,
// "The Knot Book": 4-crossing links and 3_1; recalled).
func TestSquareKnotsByBreaks(t *testing.T) {
	for breaks, want := range map[string][2]int{"": {2, 4}, "2,1 |": {1, 3}, "2,1 -": {1, 3}, "2,1 |;2,3 |": {2, 2}} {
		p := family.Panel{Across: 2, Up: 2, Cell: 30}
		for _, b := range strings.Split(breaks, ";") {
			if b != "" {
				var x, y int
				var how string
				fmt.Sscanf(b, "%d,%d %s", &x, &y, &how)
				p.Breaks = append(p.Breaks, family.Break{X: x, Y: y, Level: how == "-"})
			}
		}
		m, w := woven(t, breaks, draw(t, breaks, p))
		if len(m.Strands) != want[0] || len(w.Crossings) != want[1] {
			t.Errorf("%q: %d strands, %d crossings, want %v", breaks, len(m.Strands), len(w.Crossings), want)
		}
	}
}

// TestBorders: the strands 2 gcd(k, p - q) were found by counting, and agree with Fisher
// and Mellor's for frames (as above). A crossing lies on each side that two cells share,
// a corner on each half cell of the rim and of the block.
func TestBorders(t *testing.T) {
	most := 9
	if testing.Short() {
		most = 6
	}
	for k := 1; k <= 4; k++ {
		for a := 2*k + 1; a <= 2*k+most; a++ {
			for u := 2*k + 1; u <= 2*k+most; u += 1 + k/2 {
				p := family.Border{Across: a, Up: u, Wide: k, Cell: 20}
				what := fmt.Sprintf("border %d x %d, %d wide", a, u, k)
				inner := (a - 2*k) * (u - 2*k)
				rim := a + u + (a - 2*k) + (u - 2*k)
				want := facts{
					strands: 2 * gcd(k, a-u), crossings: 2*(a*u-inner) - rim, tightest: 20 / (2 * math.Sqrt2), angle: math.Pi / 2,
					length: 2*math.Sqrt2*float64(a*u-inner)*20 - float64(2*rim)*saved*20/(2*math.Sqrt2),
				}
				if want.crossings != len(crossingsOf(2*a, 2*u, 2*k)) {
					t.Fatalf("%s: the two counts of its crossings differ", what)
				}
				drawn := draw(t, what, p)
				if len(drawn) != want.strands || math.Abs(length(drawn)-want.length) > 1e-9*want.length {
					t.Errorf("%s: %d strands, %v long, want %+v", what, len(drawn), length(drawn), want)
				}
				if (a+2*u)%5 == 0 {
					want.hold(t, what, p)
					symmetric(t, what, drawn, geom.MirrorX(), geom.MirrorY())
					inCells(t, what, drawn, a, u, 20, 20/(2*math.Sqrt2))
				}
			}
		}
	}
}

// TestBorderBreaks: as of panels.
func TestBorderBreaks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(1, 2).Draw(t, "wide")
		p := family.Border{Across: 2*k + rapid.IntRange(1, 4).Draw(t, "across"), Up: 2*k + rapid.IntRange(1, 4).Draw(t, "up"), Wide: k, Cell: 30}
		open := crossingsOf(2*p.Across, 2*p.Up, 2*k)
		strands := len(draw(t, "border", p))
		n := rapid.IntRange(0, min(12, len(open))).Draw(t, "breaks")
		for _, at := range rapid.Permutation(open).Draw(t, "where")[:n] {
			p.Breaks = append(p.Breaks, family.Break{X: at[0], Y: at[1], Level: rapid.Bool().Draw(t, "level")})
			now := len(draw(t, "border", p))
			if now < strands-1 || now > strands+1 {
				t.Fatalf("%+v: %d strands, before its last break %d", p, now, strands)
			}
			strands = now
		}
		if _, w := woven(t, "border", draw(t, "border", p)); len(w.Crossings) != len(open)-n {
			t.Fatalf("%+v: %d crossings, want %d", p, len(w.Crossings), len(open)-n)
		}
	})
}

// TestLeastPanel: the least cell for a rider is 2 sqrt(2) times what its curves need; the
// figures are those measured when routing panels by hand calculation (w 2.48, b 2.4).
func TestLeastPanel(t *testing.T) {
	for rider, want := range map[float64]float64{10: 14.26, 16: 22.74, 30: 42.54, 100: 141.53} {
		got, ok := family.Least(family.Panel{Across: 3, Up: 2}, rider/2+0.04)
		if !ok || math.Abs(got-want) > 0.01 || math.Abs(got-2*math.Sqrt2*(rider/2+0.04)) > 1e-9 {
			t.Errorf("a rider of %v needs cells of %v, want %v", rider, got, want)
		}
	}
	if got, ok := family.Fit(family.Panel{Across: 6, Up: 4}, geom.Pt(300, 1000)); !ok || math.Abs(got-300/(6-(math.Sqrt2-1)/math.Sqrt2)) > 1e-9 {
		t.Errorf("6 cells within 300 mm are of %v", got)
	}
}

// TestKnotFaults: what can't be is said at its key, with what would do.
func TestKnotFaults(t *testing.T) {
	for name, c := range map[string]struct {
		p          family.Pattern
		key, hints string
	}{
		"too round":        {family.Panel{Across: 3, Up: 2, Cell: 20, Round: 7.2}, "round", "at most 7.07"},
		"no crossing":      {family.Panel{Across: 3, Up: 2, Cell: 20, Breaks: []family.Break{{X: 3, Y: 2}, {X: 3, Y: 3}}}, "breaks.2", `"2,3 |"`},
		"outside":          {family.Panel{Across: 3, Up: 2, Cell: 20, Breaks: []family.Break{{X: 90, Y: -1, Level: true}}}, "breaks.1", `"5,2 -"`},
		"on the rim":       {family.Panel{Across: 3, Up: 2, Cell: 20, Breaks: []family.Break{{X: 0, Y: 1}}}, "breaks.1", `"1,2 |"`},
		"twice":            {family.Panel{Across: 3, Up: 2, Cell: 20, Breaks: []family.Break{{X: 3, Y: 2}, {X: 3, Y: 2, Level: true}}}, "breaks.2", "remove it"},
		"none left":        {family.Panel{Across: 1, Up: 1, Cell: 20, Breaks: []family.Break{{X: 1, Y: 1}}}, "breaks.1", "no crossing is left"},
		"in the block":     {family.Border{Across: 5, Up: 5, Wide: 1, Cell: 20, Breaks: []family.Break{{X: 4, Y: 5}}}, "breaks.1", `"1,4 |"`},
		"without a middle": {family.Border{Across: 5, Up: 4, Wide: 2, Cell: 20}, "wide", "at most 1"},
		"too thin":         {family.Border{Across: 5, Up: 2, Wide: 1, Cell: 20}, "wide", "3 or more"},
	} {
		_, err := c.p.Draw()
		var f *family.Fault
		if !errors.As(err, &f) || f.Key != c.key || !strings.Contains(f.Hint.In(0), c.hints) {
			t.Errorf("%s: %v %+v, want one at %s with %s", name, err, f, c.key, c.hints)
		}
	}
}
