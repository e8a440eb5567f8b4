package template

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/plan"
	"strapwork/pkg/profile"
)

// keyStep is the step in mm of the shifts that are tried. A distance changes by
// no more than the shift, and no shift is further than 0.71 steps from a tried one.
const keyStep = 0.5

// seats reports whether a panel laid by some placement can be shifted in the
// frame, as far as its sides allow, so that the key doesn't hold it up, given
// the room that a shift between two tried ones might still find.
func seats(f *LocatingFrame, shape Shape, panel region.Region) bool {
	far := 2 * f.Gap
	for x := -far; x <= far; x += keyStep {
		for y := -far; y <= far; y += keyStep {
			v := geom.Pt(x, y)
			in := true
			for i, s := range shape.Sides {
				in = in && v.Dot(s.Out) <= f.Inside.Sides[i].Dist-s.Dist+keyStep
			}
			if in && panel.Dist(f.Key.At.Sub(v)) >= f.Key.Radius-0.71*keyStep {
				return true
			}
		}
	}
	return false
}

// isPlanned reports whether a placement is one of the positions.
func isPlanned(t geom.Similarity, positions []Orientation) bool {
	for _, p := range positions {
		s := p.Similarity()
		if t.Apply(geom.Pt(0, 0)).Near(s.Apply(geom.Pt(0, 0)), 1e-6) &&
			t.Apply(geom.Pt(100, 0)).Near(s.Apply(geom.Pt(100, 0)), 1e-6) &&
			t.Apply(geom.Pt(0, 100)).Near(s.Apply(geom.Pt(0, 100)), 1e-6) {
			return true
		}
	}
	return false
}

// checkSeating lays a panel in every way that its outline allows: in its own
// positions it lies free of all wood but the two reference sides, which it
// touches, with room round the key; in any other it lies on the key however it
// is pushed about.
func checkSeating(t *testing.T, f *LocatingFrame, shape Shape, outline geom.Contour, positions []Orientation) {
	t.Helper()
	wood := region.Union(f.Wood, region.Disc(f.Key.At, f.Key.Radius))
	planned := 0
	for _, place := range shape.Placements(f.Gap) {
		panel := region.New(outline).Transform(place)
		over := region.Intersect(panel, wood).Area()
		if !isPlanned(place, positions) {
			if over < 1 || seats(f, shape, panel) {
				t.Errorf("laid wrongly by %v it seats: overlap %g mm2", place, over)
			}
			continue
		}
		planned++
		if over > 1e-6 {
			t.Errorf("laid rightly by %v it lies on %g mm2 of wood", place, over)
		}
		// A millimetre is ten times what a shop's cut may be out by.
		near(t, "room round the key", panel.Dist(f.Key.At)-f.Key.Radius, 1, 1e-6)
		near(t, "distance from the reference sides", panel.Gap(f.Wood), 0, 1e-6)
	}
	if planned != len(positions) {
		t.Errorf("%d of %d positions are placements", planned, len(positions))
	}
}

// Any choice of positions of any symmetry, also with turning over, seats in
// exactly these.
func TestOnlyPlannedPositionsSeat(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 1))
	j, g := read(t, cross+inlay+base)
	for _, n := range []int{1, 2, 3, 4, 5, 6, 8} {
		for _, flips := range []bool{false, true} {
			all := turned(n, flips, 90)
			s := symmetryOf([]plan.Panel{{Positions: all}})
			shape := newShape(s, oneBar(), 25)
			f := newFrame(j, g.Size, shape, nil, profile.Plain())
			if f.Key.Radius == 0 {
				t.Fatalf("%d turns: no key", n)
			}
			for range 3 {
				some := all[:1:1]
				for _, p := range all[1:] {
					if r.IntN(2) == 0 {
						some = append(some, p)
					}
				}
				t.Run(fmt.Sprintf("%d turns, over: %t, %d used", n, flips, len(some)), func(t *testing.T) {
					checkSeating(t, f, shape, f.Key.notched(shape, some), some)
				})
			}
		}
	}
}

// chords is a motif of n straights round the middle, each crossing others.
func chords(n int) string {
	return fmt.Sprintf("[motif]\ncopies = %d\n[[motif.line]]\nname = \"c\"\nfrom = [-190, 70]\nto = [190, 70]\n", n)
}

// The same for plans as they are made, and the planned panels keep the web
// round their notches.
func TestPlannedPanelsSeat(t *testing.T) {
	for _, n := range []int{2, 3, 4, 5, 6, 8} {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			m := prepared(t, chords(n)+inlay+base)
			for _, p := range m.set.Panels {
				checkSeating(t, m.set.Frame, m.set.Shape, p.Outline, p.Positions)
				for _, o := range p.Openings {
					if d := region.New(p.Outline).Shrink(m.groove.Size.Web); region.Subtract(o.Area, d).Area() > 1e-6 {
						t.Errorf("panel %s: an opening is nearer than the web to the outline", p.ID)
					}
				}
			}
		})
	}
}

// A margin that is too small for the notches grows, and says so.
func TestMarginGrowsForKeys(t *testing.T) {
	m := prepared(t, chords(4)+inlay+base+"[template]\nmargin = 9\nweb = 8\n")
	told := false
	for _, f := range m.set.Found {
		told = told || f.Rule == "margin-keys"
	}
	if want := m.set.Frame.Key.depth() + 8; !told || math.Abs(m.set.Shape.Sides[0].Dist-want-reach(areasOf(m.set), geom.Pt(0, -1))) > 1e-6 {
		t.Errorf("told: %t, side at %g, notch and web %g", told, m.set.Shape.Sides[0].Dist, want)
	}
}

func areasOf(s Set) []region.Region {
	var all []region.Region
	for _, p := range s.Panels {
		for _, o := range p.Openings {
			for k := range 4 {
				all = append(all, o.Area.Transform(geom.TurningFraction(k, 4)))
			}
		}
	}
	return all
}

// Three holes in a row or as an isosceles triangle can be turned over, those of
// an equilateral one turned as well.
func TestDowelsGoOneWay(t *testing.T) {
	shape := newShape(symmetry{turns: 6}, []region.Region{region.Disc(geom.Pt(0, 0), 100)}, 20)
	for name, c := range map[string]struct {
		holes []geom.Point
		want  bool
	}{
		"equilateral": {[]geom.Point{geom.Polar(90, 0), geom.Polar(90, 2*math.Pi/3), geom.Polar(90, -2*math.Pi/3)}, false},
		"isosceles":   {[]geom.Point{geom.Pt(0, 90), geom.Pt(50, -20), geom.Pt(-50, -20)}, false},
		"in a row":    {[]geom.Point{geom.Pt(-80, 30), geom.Pt(0, 30), geom.Pt(80, 30)}, false},
		"scalene":     {[]geom.Point{geom.Pt(-80, 30), geom.Pt(10, 60), geom.Pt(80, -20)}, true},
	} {
		if got := oneWay(c.holes, shape.Placements(dowelRadius)); got != c.want {
			t.Errorf("%s: %t", name, got)
		}
	}
}

// Wall and floor have their dowels at the same places, clear of everything, and
// a floor that is turned or turned over meets at most two of the wall's.
func TestDowels(t *testing.T) {
	for _, text := range []string{twoLoops, cross, angle, chords(3), chords(5)} {
		m := prepared(t, text+inlay+base)
		for _, p := range m.set.Panels {
			if len(p.Dowels) != dowels {
				t.Fatalf("panel %s has %d dowels", p.ID, len(p.Dowels))
			}
			for _, d := range p.Dowels {
				hole := region.Disc(d, dowelRadius)
				for _, o := range p.Openings {
					if gap := math.Min(hole.Gap(o.Area), hole.Gap(o.Slot)); gap < m.groove.Size.Web-1e-6 {
						t.Errorf("panel %s: a dowel is %g from an opening", p.ID, gap)
					}
				}
				if d := region.New(p.Outline).BoundaryDist(d) - dowelRadius; d < m.groove.Size.Web-1e-6 {
					t.Errorf("panel %s: a dowel is %g from the edge", p.ID, d)
				}
			}
			for i, place := range m.set.Shape.Placements(dowelRadius) {
				met := 0
				for _, d := range p.Dowels {
					for _, e := range p.Dowels {
						if place.Apply(d).Dist(e) < 2*dowelRadius {
							met++
						}
					}
				}
				if i == 0 && met != 3 || i > 0 && met > 2 {
					t.Errorf("panel %s: placement %d meets %d dowels", p.ID, i, met)
				}
			}
		}
		for _, p := range m.set.Parts(m.job, m.groove.Size, 0) {
			if (p.Ply == Wall || p.Ply == Floor) && len(p.Sheet.Holes) != dowels {
				t.Errorf("%s has %d holes", p.Sheet.Name, len(p.Sheet.Holes))
			}
		}
	}
}
