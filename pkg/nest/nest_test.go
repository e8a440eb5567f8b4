package nest_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"strapwork/pkg/geom"
	"strapwork/pkg/nest"
	"strapwork/pkg/sheet"
)

// part is a part of a size whose lower left corner lies at from, with an opening
// in it and a note that reaches beyond it.
func part(name string, from, size geom.Point) sheet.Sheet {
	box := geom.Box{Min: from, Max: from.Add(size)}
	return sheet.Sheet{
		Name: name,
		Lines: []sheet.Line{
			{Role: sheet.Opening, Contour: geom.Circle(box.Center(), min(size.X, size.Y)/4)},
			{Role: sheet.Edge, Contour: geom.Rect(box)},
			{Role: sheet.Note, Contour: geom.Rect(box.Expand(50))},
		},
		Holes: []sheet.Hole{{Role: sheet.Pin, Center: from.Add(size.Scale(0.1)), Radius: min(size.X, size.Y) / 20}},
	}
}

// items draws any items that fit on the bed of o.
func items(t *rapid.T, o nest.Options) []nest.Item {
	long := func(label string, most float64) float64 {
		return rapid.Float64Range(1, most).Draw(t, label)
	}
	var list []nest.Item
	for i := range rapid.IntRange(0, 25).Draw(t, "items") {
		size := geom.Pt(long("w", o.Bed.X-o.Spacing-0.1), long("h", o.Bed.Y-o.Spacing-0.1))
		if rapid.Bool().Draw(t, "turned") {
			size = geom.Pt(size.Y, size.X)
		}
		from := geom.Pt(rapid.Float64Range(-500, 500).Draw(t, "x"), rapid.Float64Range(-500, 500).Draw(t, "y"))
		list = append(list, nest.Item{
			Sheet:     part(fmt.Sprint("p", i), from, size),
			Thickness: rapid.SampledFrom([]float64{3, 9, 9.525}).Draw(t, "thickness"),
			Quantity:  rapid.IntRange(0, 4).Draw(t, "quantity"),
		})
	}
	return list
}

func options(t *rapid.T) nest.Options {
	return nest.Options{
		Bed:     geom.Pt(rapid.Float64Range(100, 2500).Draw(t, "bed x"), rapid.Float64Range(100, 1300).Draw(t, "bed y")),
		Spacing: rapid.Float64Range(0, 20).Draw(t, "spacing"),
	}
}

// apart is by how much two boxes keep clear of one another, the larger of x
// and y; negative where they overlap.
func apart(a, b geom.Box) float64 {
	return max(a.Min.X-b.Max.X, b.Min.X-a.Max.X, a.Min.Y-b.Max.Y, b.Min.Y-a.Max.Y)
}

// TestPackKeepsTheRules: every copy of every item once, on sheet of its own
// thickness, inside the bed, no two nearer than the spacing, and the same again
// when asked again.
func TestPackKeepsTheRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := options(t)
		list := items(t, o)
		layouts, left := nest.Pack(list, o)
		if len(left) > 0 {
			t.Fatalf("left out %v", left)
		}
		type one struct{ item, copy int }
		seen := map[one]int{}
		for _, l := range layouts {
			if len(l.Placed) == 0 || l.Size != o.Bed {
				t.Fatalf("a sheet of %v with %d parts", l.Size, len(l.Placed))
			}
			rim := geom.Box{Max: o.Bed}.Expand(-o.Spacing/2 + geom.Coincident)
			for i, p := range l.Placed {
				seen[one{p.Item, p.Copy}]++
				if list[p.Item].Thickness != l.Thickness {
					t.Errorf("item %d of %g mm on sheet of %g", p.Item, list[p.Item].Thickness, l.Thickness)
				}
				if !rim.Holds(p.Box.Min) || !rim.Holds(p.Box.Max) {
					t.Errorf("%v reaches beyond %v", p.Box, rim)
				}
				for _, q := range l.Placed[:i] {
					if d := apart(p.Box, q.Box); d < o.Spacing-geom.Coincident {
						t.Errorf("%v and %v are %g apart, want %g", p.Box, q.Box, d, o.Spacing)
					}
				}
			}
		}
		for i, it := range list {
			for k := range it.Quantity {
				if seen[one{i, k}] != 1 {
					t.Errorf("copy %d of item %d is placed %d times", k, i, seen[one{i, k}])
				}
				delete(seen, one{i, k})
			}
		}
		if len(seen) > 0 {
			t.Errorf("also placed: %v", seen)
		}
		again, _ := nest.Pack(list, o)
		same := cmp.Comparer(func(a, b geom.Similarity) bool { return a == b })
		if d := cmp.Diff(layouts, again, same); d != "" {
			t.Error(d)
		}
	})
}

// TestDrawnPartsLieInTheirBoxes: what is drawn of each part lies in its box and
// comes back to where it was when the place is undone.
func TestDrawnPartsLieInTheirBoxes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := options(t)
		list := items(t, o)
		layouts, _ := nest.Pack(list, o)
		for _, l := range layouts {
			s := l.Draw(list, "sheet-1", "")
			if len(s.Lines) != 3*len(l.Placed)+1 || len(s.Holes) != len(l.Placed) {
				t.Fatalf("%d lines and %d holes of %d parts", len(s.Lines), len(s.Holes), len(l.Placed))
			}
			edges, area := 0, 0.0
			for i, p := range l.Placed {
				was := list[p.Item].Sheet
				for k, line := range s.Lines[3*i : 3*i+3] {
					if line.Role != was.Lines[k].Role {
						t.Fatalf("line %d is %v", k, line.Role)
					}
					if line.Role != sheet.Note && !p.Holds(line.Contour) {
						t.Errorf("%v is outside %v", line.Contour, p.Box)
					}
					back := p.Back.Contour(line.Contour)
					for n, v := range back.Vertices {
						if want := was.Lines[k].Contour.Vertices[n]; !v.Near(want.Point, 1e-9) || v.Bulge != want.Bulge {
							t.Errorf("%v comes back as %v", want, v)
						}
					}
					if line.Role == sheet.Edge {
						edges, area = edges+1, area+line.Contour.Area()
					}
				}
				if h := s.Holes[i]; !p.Box.Holds(h.Center) || h.Radius != was.Holes[0].Radius {
					t.Errorf("hole %v", h)
				}
			}
			if want := 1 - area/(o.Bed.X*o.Bed.Y); math.Abs(l.Waste(list)-want) > 1e-9 || edges != len(l.Placed) {
				t.Errorf("waste %g, want %g; %d edges", l.Waste(list), want, edges)
			}
		}
	})
}

// TestPackIsNoWorseThanTheory: on one sheet that is as long as need be, shelves
// filled in the order of decreasing height are together no higher than twice
// the area over the width, and the highest box more. (The classic bound of
// level packing, Coffman and others 1980, theorem 1 for next fit; first fit is
// never higher. Derived here for parts that may be turned: whatever begins a
// shelf found no room on the one below, whose boxes are no lower, so that the
// two together hold more than the width times the upper one's height.)
func TestPackIsNoWorseThanTheory(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := options(t)
		o.Bed.Y = 1e6
		width := o.Bed.X - o.Spacing - 0.1
		var list []nest.Item
		bare, area, highest := 0.0, 0.0, 0.0
		for i := range rapid.IntRange(1, 60).Draw(t, "items") {
			size := geom.Pt(rapid.Float64Range(1, width).Draw(t, "w"), rapid.Float64Range(1, width).Draw(t, "h"))
			list = append(list, nest.Item{Sheet: part(fmt.Sprint(i), geom.Pt(0, 0), size), Thickness: 9, Quantity: 1})
			const grid = 0.02 // what a box is rounded up by at most
			w, h := size.X+o.Spacing+grid, size.Y+o.Spacing+grid
			bare, area = bare+size.X*size.Y, area+w*h
			highest = max(highest, w, h)
		}
		layouts, _ := nest.Pack(list, o)
		top := 0.0
		for _, p := range layouts[0].Placed {
			top = max(top, p.Box.Max.Y)
		}
		if bound := 2*area/o.Bed.X + highest; len(layouts) != 1 || top > bound {
			t.Errorf("%d sheets, %g high, more than %g", len(layouts), top, bound)
		}
		if least := bare / o.Bed.X; top < least {
			t.Errorf("%g high, less than the %g that the area needs", top, least)
		}
	})
}

// TestPackSmall has cases whose best packing is plain to see, each with room for
// the spacing of 6 and for coming to lie on the grid.
func TestPackSmall(t *testing.T) {
	cases := []struct {
		name   string
		bed    geom.Point
		sizes  []geom.Point
		many   int
		sheets int
	}{
		{"nothing", geom.Pt(600, 400), nil, 1, 0},
		{"one that just fits", geom.Pt(600, 400), []geom.Point{{X: 593.9, Y: 393.9}}, 1, 1},
		{"one that fits turned only", geom.Pt(600, 400), []geom.Point{{X: 393.9, Y: 593.9}}, 1, 1},
		{"six squares in a grid of 3 x 2", geom.Pt(600, 400), []geom.Point{{X: 193.9, Y: 193.9}}, 6, 1},
		{"seven need a second sheet", geom.Pt(600, 400), []geom.Point{{X: 193.9, Y: 193.9}}, 7, 2},
		{"two halves across", geom.Pt(600, 400), []geom.Point{{X: 293.9, Y: 393.9}}, 2, 1},
		{"two halves, given on their side", geom.Pt(600, 400), []geom.Point{{X: 393.9, Y: 293.9}}, 2, 1},
		{"a bar beside a panel", geom.Pt(600, 400), []geom.Point{{X: 493.9, Y: 393.9}, {X: 393.9, Y: 93.9}}, 1, 1},
		{"small ones fill the shelf of a large one", geom.Pt(600, 400), []geom.Point{{X: 393.9, Y: 393.9}, {X: 193.9, Y: 190}}, 1, 1},
		{"twelve thin wedges", geom.Pt(600, 400), []geom.Point{{X: 60, Y: 8}}, 12, 1},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var list []nest.Item
			area := 0.0
			for i, s := range c.sizes {
				list = append(list, nest.Item{Sheet: part(fmt.Sprint(i), geom.Pt(-3, 7), s), Thickness: 9, Quantity: c.many})
				area += s.X * s.Y * float64(c.many)
			}
			layouts, left := nest.Pack(list, nest.Options{Bed: c.bed, Spacing: 6})
			if len(left) > 0 || len(layouts) != c.sheets {
				t.Errorf("%d sheets, want %d; left out %v", len(layouts), c.sheets, left)
			}
			if bound := math.Ceil(area / (c.bed.X * c.bed.Y)); float64(len(layouts)) < bound {
				t.Errorf("%d sheets hold more than their area", len(layouts))
			}
		})
	}
}

func TestPackLeavesOut(t *testing.T) {
	o := nest.Options{Bed: geom.Pt(600, 400), Spacing: 6}
	list := []nest.Item{
		{Sheet: part("long", geom.Pt(0, 0), geom.Pt(595, 10)), Thickness: 9, Quantity: 1},
		{Sheet: part("fits", geom.Pt(0, 0), geom.Pt(100, 10)), Thickness: 9, Quantity: 1},
		{Sheet: sheet.Sheet{Name: "empty"}, Thickness: 9, Quantity: 1},
		{Sheet: part("wide", geom.Pt(0, 0), geom.Pt(450, 450)), Thickness: 3, Quantity: 2},
	}
	layouts, left := nest.Pack(list, o)
	if !slices.Equal(left, []int{0, 2, 3}) || len(layouts) != 1 || layouts[0].Placed[0].Item != 1 {
		t.Errorf("left out %v, placed %v", left, layouts)
	}
	if o.Fits(list[0].Sheet) || !o.Fits(list[1].Sheet) || o.Fits(list[3].Sheet) {
		t.Error("what fits is reported wrongly")
	}
	if layouts, left := nest.Pack(list, nest.Options{}); len(layouts) > 0 || len(left) != len(list) {
		t.Errorf("without a bed: %v, left out %v", layouts, left)
	}
}
