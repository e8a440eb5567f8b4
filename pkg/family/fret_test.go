package family_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/family"
	"strapwork/pkg/geom"
)

// fretFacts: a key of one line in a square of n cells runs n^2 cells: n - 1 up, then in
// n - 1, n - 2, ... 1, across 1, and out 1, 2, ... n - 1. One of two lines has four arms of
// 1 + 2 + 4 + ... + 2 (t - 1) + (2 t - 1) = t (t + 1) cells (sums of rows).
func fretFacts(p family.Fret) (want facts, corners int, cells geom.Point) {
	n, t := 2*p.Turns+2, p.Turns
	tile := 2*t + 1
	want = facts{strands: 1, angle: math.Pi / 2, tightest: math.Inf(1), corners: true}
	switch {
	case p.Up == 0 && !p.Doubled:
		want.length = float64(p.Across*n*n - 1)
		corners, cells = p.Across*2*n-1, geom.Pt(float64(p.Across*n-1), float64(n-1))
	case p.Up == 0:
		want.strands, want.crossings = 2, p.Across
		want.length = float64(p.Across*4*t*(t+1) + 2*(p.Across-1))
		corners, cells = p.Across*4*t+2*(p.Across-1), geom.Pt(float64(p.Across*tile-1), float64(2*t))
	case !p.Doubled:
		keys := 2*(p.Across-1) + 2*(p.Up-1)
		want.length = float64(keys*n*n + 4*n)
		corners, cells = keys*2*n+4, geom.Pt(float64(p.Across*n), float64(p.Up*n))
	default:
		keys, links := 2*(p.Across-2)+2*(p.Up-2), 2*(p.Across-3)+2*(p.Up-3)
		want.strands, want.crossings = 2, keys
		want.length = float64(keys*4*t*(t+1) + 2*links + 4*(2*tile+2))
		corners, cells = keys*4*t+2*links+16, geom.Pt(float64(p.Across*tile-1), float64(p.Up*tile-1))
	}
	want.length *= p.Cell
	if p.Round > 0 {
		want.length -= float64(corners) * saved * p.Round
		want.tightest, want.corners = p.Round, false
	}
	return want, corners, cells.Scale(p.Cell)
}

func holdFret(t rapid.TB, p family.Fret) {
	what := fmt.Sprintf("%+v", p)
	want, corners, by := fretFacts(p)
	drawn, _ := want.hold(t, what, p)
	if b := box(drawn); !b.Size().Near(by, 1e-9*by.Norm()) || b.Center().Norm() > 1e-9 {
		t.Errorf("%s: it is %v about %v, want %v about the origin", what, b.Size(), b.Center(), by)
	}
	m, _ := woven(t, what, drawn)
	sharp := 0
	for _, s := range m.Strands {
		for _, is := range s.Corner {
			if is {
				sharp++
			}
		}
	}
	if p.Round == 0 && sharp != corners || p.Round > 0 && sharp != 0 {
		t.Errorf("%s: %d corners, want %d", what, sharp, corners)
	}
	if len(drawn[0].Vertices) > 150 {
		return
	}
	if p.Up > 0 || p.Doubled {
		symmetric(t, what, drawn, geom.TurningFraction(1, 2))
	}
	if p.Up == p.Across {
		symmetric(t, what, drawn, geom.TurningFraction(1, 4))
	}
}

// TestFrets: all short ones.
func TestFrets(t *testing.T) {
	for turns := 1; turns <= 3; turns++ {
		for across := 1; across <= 5; across++ {
			for _, doubled := range []bool{false, true} {
				holdFret(t, family.Fret{Across: across, Turns: turns, Cell: 10, Doubled: doubled})
				for up := 2; up <= 5; up++ {
					if p := (family.Fret{Across: across, Up: up, Turns: turns, Cell: 10, Doubled: doubled}); across >= 3 && up >= 3 || across >= 2 && !doubled {
						holdFret(t, p)
					}
				}
			}
		}
	}
}

// TestFretsOfAnySize: over the whole range, in cells and rounds as they are typed.
func TestFretsOfAnySize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := family.Fret{Turns: rapid.IntRange(1, 3).Draw(t, "turns"), Doubled: rapid.Bool().Draw(t, "doubled"), Across: rapid.IntRange(1, 16).Draw(t, "across")}
		p.Cell = math.Round(rapid.Float64Range(4, 100).Draw(t, "cell")*100) / 100
		if rapid.Bool().Draw(t, "border") {
			p.Across, p.Up = p.Across+2, rapid.IntRange(3, 10).Draw(t, "up")
		}
		if share := rapid.SampledFrom([]float64{0, 0.1, 0.4, 0.5}).Draw(t, "round"); share > 0 {
			p.Round = p.Cell * share
		}
		holdFret(t, p)
	})
}

// TestFretFaults: what can't be is said at its key.
func TestFretFaults(t *testing.T) {
	for key, p := range map[string]family.Fret{
		"round":  {Across: 3, Turns: 1, Cell: 10, Round: 5.2},
		"up":     {Across: 3, Up: 2, Turns: 1, Cell: 10, Doubled: true},
		"across": {Across: 2, Up: 2, Turns: 1, Cell: 10, Doubled: true},
	} {
		_, err := p.Draw()
		var f *family.Fault
		if !errors.As(err, &f) || f.Key != key {
			t.Errorf("%+v: %v, want a fault of %s", p, err, key)
		}
	}
}
