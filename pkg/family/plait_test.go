package family_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/family"
	"strapwork/pkg/geom"
)

// plaitFacts: k strands in n columns of crossings. Columns have k/2 and (k-1)/2 crossings
// by turns, rounded down, the odd ones (k-1)/2: n (k-1)/2 in an even number of columns.
// Strands turn back below in odd columns, above in even or odd ones as k is (derived).
func plaitFacts(p family.Plait) facts {
	k, n := p.Strands, p.Length
	odd, even := (n+1)/2, n/2
	turns := odd + even
	if k%2 == 0 {
		turns = odd + odd
	}
	round := p.Round
	if round == 0 {
		round = p.Cell / (2 * math.Sqrt2)
	}
	return facts{
		strands: k, crossings: odd*((k-1)/2) + even*(k/2), tightest: round, angle: math.Pi / 2,
		length: float64(k*n)*p.Cell/math.Sqrt2 - float64(turns)*saved*round,
	}
}

// TestPlaits: all open plaits of up to 12 strands, of even and odd length.
func TestPlaits(t *testing.T) {
	for k := 2; k <= 12; k++ {
		for n := 2; n <= 9; n++ {
			p := family.Plait{Strands: k, Length: n, Cell: 20}
			what := fmt.Sprintf("plait of %d strands, %d long", k, n)
			want := plaitFacts(p)
			if n%2 == 0 && want.crossings != n*(k-1)/2 {
				t.Fatalf("%s: %d crossings, by the other count %d", what, want.crossings, n*(k-1)/2)
			}
			drawn, _ := want.hold(t, what, p)
			// Turned over end for end, or about its length.
			switch {
			case k%2 == 0 && n%2 == 1:
				symmetric(t, what, drawn, geom.MirrorX(), geom.MirrorY())
			case k%2 == 0:
				symmetric(t, what, drawn, geom.MirrorX())
			case n%2 == 1:
				symmetric(t, what, drawn, geom.MirrorY())
			default:
				symmetric(t, what, drawn, geom.TurningFraction(1, 2))
			}
			ends := map[float64][]float64{}
			for _, c := range drawn {
				ends[c.Start().X] = append(ends[c.Start().X], c.Start().Y)
				ends[c.End().X] = append(ends[c.End().X], c.End().Y)
			}
			for x, ys := range ends {
				if math.Abs(math.Abs(x)-float64(n)*5) > 1e-9 || len(ys) != k {
					t.Errorf("%s: %d strands end at x = %v", what, len(ys), x)
				}
			}
		}
	}
}

// TestClosedPlaits are the panels of half as many cells.
func TestClosedPlaits(t *testing.T) {
	for k := 2; k <= 12; k += 2 {
		for n := 2; n <= 12; n += 2 {
			plait := draw(t, "plait", family.Plait{Strands: k, Length: n, Cell: 20, Closed: true})
			panel := draw(t, "panel", family.Panel{Across: n / 2, Up: k / 2, Cell: 20})
			if fmt.Sprint(plait) != fmt.Sprint(panel) {
				t.Errorf("a closed plait of %d strands, %d long is no panel", k, n)
			}
		}
	}
}

// TestPlaitsOfAnySize: over the whole range, in cells as they are typed.
func TestPlaitsOfAnySize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := family.Plait{Strands: rapid.IntRange(2, 12).Draw(t, "strands"), Length: rapid.IntRange(2, 40).Draw(t, "length"), Cell: rapid.Float64Range(8, 200).Draw(t, "cell")}
		p.Cell = math.Round(p.Cell*100) / 100
		p.Round = p.Cell * rapid.SampledFrom([]float64{0, 0.1, 0.3}).Draw(t, "round")
		plaitFacts(p).hold(t, fmt.Sprintf("%+v", p), p)
	})
}
