package family_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/family"
	"strapwork/pkg/geom"
)

// latticeFacts are the inner sides of a tiling's c x r large polygons and what fits between
// them, each with a crossing, the rim's sides, each with a corner, and its polygons' other
// corners; and how long the strands are. In a polygon of n sides, apothem a, two straights of a
// side's end reach from its middle to the axis of a corner, half a side's angle pi / n away: by the
// law of sines a sin(pi / n) / cos(theta - pi / n) each (counts by hand: the study's 4.8.8 of
// 2 x 2 has 8, and of 3 x 3 28).
func latticeFacts(tiling family.Tiling, c, r int, edge, theta float64) (inner, corners int, length float64) {
	polygon := func(many, n int) (sides int) {
		half := math.Pi / float64(n)
		apothem := edge / 2 / math.Tan(half)
		length += float64(2*n*many) * apothem * math.Sin(half) / math.Cos(theta-half)
		if math.Abs(theta-half) > 1e-9 {
			corners += n * many
		}
		return many * n
	}
	sides := 0
	rows := (r - 1) * (2*c - 1) // sides between shifted rows
	switch tiling {
	case family.Squares:
		sides = polygon(c*r, 4)
		inner = c*(r-1) + r*(c-1)
	case family.Octagons:
		sides = polygon(c*r, 8) + polygon((c-1)*(r-1), 4)
		inner = c*(r-1) + r*(c-1) + 4*(c-1)*(r-1)
	case family.Dodecagons:
		triangles := 2 * (c - 1) * (r - 1)
		sides = polygon(c*r, 12) + polygon(triangles, 3)
		inner = r*(c-1) + rows + 3*triangles
	case family.Hexagons:
		sides = polygon(c*r, 6)
		inner = r*(c-1) + rows
	}
	return inner, corners + sides - 2*inner, length
}

// TestLattice: crossings at 2 theta on all inner sides and nowhere else, closed strands, and
// their length.
func TestLattice(t *testing.T) {
	if n, _, _ := latticeFacts(family.Octagons, 2, 2, 1, 1); n != 8 {
		t.Fatalf("4.8.8 of 2 x 2 has %d crossings", n)
	}
	if n, _, _ := latticeFacts(family.Octagons, 3, 3, 1, 1); n != 28 {
		t.Fatalf("4.8.8 of 3 x 3 has %d crossings", n)
	}
	for _, tiling := range family.Tilings {
		for c := 1; c <= 4; c++ {
			for r := 1; r <= 4; r++ {
				for _, deg := range []float64{45, 52, 60, 67.5, 75} {
					if c+r > 5 && deg != 67.5 {
						continue
					}
					theta := deg * math.Pi / 180
					p := family.Lattice{Tiling: tiling, Rows: r, Columns: c, Edge: 60, Theta: theta}
					what := fmt.Sprintf("tiling %d, %d x %d, %v degrees", tiling, c, r, deg)
					crossings, corners, length := latticeFacts(tiling, c, r, 60, theta)
					drawn := draw(t, what, p)
					for _, strand := range drawn {
						if !strand.Closed {
							t.Errorf("%s: a strand isn't closed", what)
						}
					}
					want := facts{strands: len(drawn), crossings: crossings, length: length, tightest: math.Inf(1)}
					want.holds(t, what, p, corners, 0, times(crossings, 2*deg))
					steady(t, what, drawn)
				}
			}
		}
	}
}

// TestLatticePlace: a lattice lies about the origin, is its own image, and grows with its edge.
func TestLatticePlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tiling := family.Tiling(rapid.IntRange(0, 3).Draw(t, "tiling"))
		p := family.Lattice{Tiling: tiling, Rows: rapid.IntRange(1, 4).Draw(t, "rows"), Columns: rapid.IntRange(1, 4).Draw(t, "columns"), Edge: rapid.Float64Range(5, 100).Draw(t, "edge")}
		drawn := draw(t, "a lattice", p)
		turned := []geom.Similarity{geom.TurningFraction(1, 2)}
		if tiling == family.Squares || tiling == family.Octagons {
			turned = mirrors
		} else if p.Rows%2 == 1 {
			turned = []geom.Similarity{geom.MirrorX()}
		}
		symmetric(t, "a lattice", drawn, turned...)
		if apart := map[family.Tiling]float64{family.Squares: 0.5, family.Octagons: 0.5, family.Dodecagons: 0.25, family.Hexagons: 0.25}[tiling]; math.Abs(p.Tracks()*p.Tracks()-apart*p.Edge*p.Edge) > 1e-6 {
			t.Errorf("tracks of %v in an edge of %v", p.Tracks(), p.Edge)
		}
		twice := box(draw(t, "a lattice", p.Sized(2*p.Edge))).Size()
		if once := box(drawn).Size(); math.Abs(twice.X-2*once.X) > 1e-9 || math.Abs(twice.Y-2*once.Y) > 1e-9 {
			t.Errorf("%v is %v when it is twice as large", once, twice)
		}
	})
}
