package template

import (
	"fmt"
	"math"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/plan"
)

// oneBar is an opening that no turn and no turning over leaves as it is.
func oneBar() []region.Region {
	return []region.Region{region.New(geom.Rect(geom.Box{Min: geom.Pt(-30, 40), Max: geom.Pt(170, 61)}))}
}

// turned is n turns, and turned over about some axis if flips is set.
func turned(n int, flips bool, axis float64) []Orientation {
	return symmetry{turns: n, flips: flips, axis: axis}.positions()
}

// The outline's own symmetry holds every position, it keeps the margin from
// the openings in all of them, and no smaller one of its kind would do.
func TestShapes(t *testing.T) {
	const margin = 25.0
	sides := map[int]int{1: 4, 2: 4, 3: 6, 4: 4, 5: 5, 6: 6, 8: 8, 12: 12}
	for _, n := range []int{1, 2, 3, 4, 5, 6, 8, 12} {
		for _, axis := range []float64{-1, 0, 36, 90, 133} {
			flips := axis >= 0
			t.Run(fmt.Sprintf("%d turns, over %g", n, axis), func(t *testing.T) {
				positions := turned(n, flips, axis)
				s := symmetryOf([]plan.Panel{{Positions: positions}})
				if s.turns != n || s.flips != flips {
					t.Fatalf("found %d turns, over: %t", s.turns, s.flips)
				}
				shape := newShape(s, oneBar(), margin)
				if shape.Len() != sides[n] {
					t.Errorf("%d sides, want %d", shape.Len(), sides[n])
				}
				outline := region.New(shape.Polygon())
				least := math.Inf(1)
				for _, p := range positions {
					moved := outline.Transform(p.Similarity())
					if a := region.Subtract(moved, outline).Area(); a > 1e-6 {
						t.Errorf("%+v takes %g mm2 out of the outline", p, a)
					}
					bar := oneBar()[0].Transform(p.Similarity())
					if a := region.Subtract(bar, outline).Area(); a > 1e-9 {
						t.Errorf("%+v: %g mm2 of the opening are outside", p, a)
					}
					for _, v := range bar.Loops()[0].Vertices {
						least = math.Min(least, outline.BoundaryDist(v.Point))
					}
				}
				near(t, "margin", least, margin, 1e-9)
			})
		}
	}
}

// Positions of several panels need one outline for all of them: quarter turns
// and thirds make twelve.
func TestSymmetryOfSeveralPanels(t *testing.T) {
	for _, c := range []struct {
		a, b []Orientation
		want int
	}{
		{[]Orientation{{}}, []Orientation{{}}, 1},
		{[]Orientation{{}, {TurnDeg: 180}}, []Orientation{{}}, 2},
		{[]Orientation{{}, {TurnDeg: 90}}, []Orientation{{}, {TurnDeg: 180}}, 4},
		{[]Orientation{{}, {TurnDeg: 240}}, []Orientation{{}, {TurnDeg: 270}}, 12},
		{[]Orientation{{}, {TurnDeg: 360.0 / 7 * 3}}, nil, 7},
		{[]Orientation{{}, {TurnDeg: 30, Flip: true}}, []Orientation{{}, {TurnDeg: 150, Flip: true}}, 3},
	} {
		if s := symmetryOf([]plan.Panel{{Positions: c.a}, {Positions: c.b}}); s.turns != c.want {
			t.Errorf("%v and %v: %d turns, want %d", c.a, c.b, s.turns, c.want)
		}
	}
}

// A regular polygon of n sides with apothem a has sides of 2 a tan(pi/n) and
// the area n a^2 tan(pi/n) (handbook).
func TestRegularShape(t *testing.T) {
	for _, n := range []int{4, 5, 6, 8, 12} {
		shape := newShape(symmetry{turns: n}, []region.Region{region.Disc(geom.Pt(0, 0), 100)}, 20)
		tan := math.Tan(math.Pi / float64(n))
		near(t, "area", shape.Polygon().Area(), float64(n)*120*120*tan, 1e-6)
		for i := range n {
			near(t, "side", shape.Length(i), 240*tan, 1e-9)
			near(t, "apothem", shape.Middle(i).Norm(), 120, 1e-9)
		}
		if c := shape.Centre(); c.Norm() > 1e-9 {
			t.Errorf("the centre is %v", c)
		}
		if got := len(shape.Placements(1)); got != 2*n {
			t.Errorf("%d sides: %d placements, want %d", n, got, 2*n)
		}
	}
}

// A rectangle can be laid in four ways, one that is nearly a square in eight.
func TestPlacementsOfRectangles(t *testing.T) {
	for size, want := range map[float64]int{100: 8, 104: 8, 120: 4} {
		shape := newShape(symmetry{turns: 1}, []region.Region{region.New(geom.Rect(geom.Box{Min: geom.Pt(10, 20), Max: geom.Pt(110, 20+size)}))}, 10)
		if got := len(shape.Placements(6)); got != want {
			t.Errorf("100 x %g: %d placements, want %d", size, got, want)
		}
		if c := shape.Centre(); !c.Near(geom.Pt(60, 20+size/2), 1e-9) {
			t.Errorf("the centre is %v", c)
		}
	}
}
