package template

import (
	"math"
	"testing"

	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/internal/made"
	"strapwork/pkg/plan"
	"strapwork/pkg/profile"
	"strapwork/pkg/proof"
	"strapwork/pkg/sheet"
)

// Every sheet of every kind can be cut, at true size and compensated.
func TestAllSheetsCanBeCut(t *testing.T) {
	for _, n := range []int{1, 2, 3, 4, 5, 6, 8} {
		for _, shop := range []profile.Shop{profile.Plain(), opened(t, "laser-900x600"), opened(t, "router-1200x800"), withBed(400, 250)} {
			m := forShop(t, made.Chords(n)+made.Inlay+made.Base, shop)
			for _, kerf := range []float64{0, 0.18} {
				for _, p := range m.set.Parts(m.Template, m.Groove.Size, kerf) {
					if err := sheet.Check(p.Sheet).Err(); err != nil {
						t.Errorf("%d turns, %s, kerf %g, %s: %v", n, shop.Name, kerf, p.Sheet.Name, err)
					}
					if p.Quantity < 1 || p.Thickness <= 0 {
						t.Errorf("%s: %d of %g mm", p.Sheet.Name, p.Quantity, p.Thickness)
					}
				}
			}
		}
	}
}

// Outlines drawn for a kerf, shrunk by half of it, are the true ones: but for a
// sharp tip that is blunted by a hundredth, and for what a router's cutter leaves
// of the notches on the axes. It takes nothing off the part.
func TestOutlinesAllowForKerf(t *testing.T) {
	for kerf, left := range map[float64]float64{0.2: 0.01, 3: 2} {
		testOutlines(t, kerf, left)
	}
}

func testOutlines(t *testing.T, kerf, left float64) {
	const blunt = 0.01
	m := forShop(t, made.Chords(3)+made.Inlay+made.Base, withBed(420, 300))
	size := m.Groove.Size
	drawn := m.set.Parts(m.Template, size, kerf)
	for i, p := range m.set.Parts(m.Template, size, 0) {
		for k, l := range p.Sheet.Lines {
			if l.Role != sheet.Edge {
				continue
			}
			want, got := region.New(l.Contour), region.New(drawn[i].Sheet.Lines[k].Contour).Shrink(kerf/2)
			if off, more := region.Subtract(want, got).Area(), region.Subtract(got, want).Area(); off > blunt || more > left {
				t.Errorf("%s, kerf %g: %g mm2 off, %g mm2 left", p.Sheet.Name, kerf, off, more)
			}
		}
	}
}

// A panel larger than the bed comes in two parts, each with its own openings,
// which together still prove right.
func TestPanelInTwoParts(t *testing.T) {
	const router = "[router]\nguide = \"bushing\"\nrider = 12\nbit = 3.175\nbase = 100\n"
	const two = "[[motif.line]]\nname = \"a\"\nfrom = [-250, -40]\nto = [-60, 40]\n[[motif.line]]\nname = \"b\"\nfrom = [60, 40]\nto = [240, -40]\n"
	bed := [2]float64{330, 250}
	m := forShop(t, two+made.Inlay+router, withBed(bed[0], bed[1]))
	p := m.set.Panels[0]
	if p.Division == nil || m.set.Found.HasErrors() {
		t.Fatalf("not split: %v", m.set.Found)
	}
	for _, kerf := range []float64{0, 0.2} {
		var walls []sheet.Part
		for _, part := range m.set.Parts(m.Template, m.Groove.Size, kerf) {
			if err := sheet.Check(part.Sheet).Err(); err != nil {
				t.Error(err)
			}
			if part.Ply == sheet.Wall {
				walls = append(walls, part)
			}
		}
		laid := m.laid(kerf)
		if len(walls) != 2 || len(laid) != 1 || len(laid[0].Openings) != len(p.Openings) {
			t.Fatalf("%d parts with %d of %d openings", len(walls), len(laid[0].Openings), len(p.Openings))
		}
		if proof := proof.Prove(m.Groove, laid, kerf/2); !proof.Holds() || proof.UncutMax > 1e-3+(3.175/2)*(math.Sqrt2-1) {
			t.Errorf("overcut %g, uncut %g", proof.OvercutMax, proof.UncutMax)
		}
	}
	d, area := p.Division, 0.0
	for _, c := range d.Parts {
		area += region.Intersect(region.New(p.Outline), region.New(c)).Area()
		if !fixture.FitsBed(c, bed) {
			t.Error("a part doesn't fit the bed")
		}
	}
	made.Near(t, "both parts", area, p.Outline.Area(), 1e-6)
	for _, x := range d.Joints[0].Keys {
		if r := d.key.Recess(x); !p.clearOf(x.At, d.key.Half()+m.Groove.Size.Web) || region.Subtract(r, region.New(p.Outline)).Area() > 0 {
			t.Errorf("the key at %v comes near an opening", x.At)
		}
	}
	// An opening across the middle leaves no line to split it by.
	whole := forShop(t, "[[motif.line]]\nfrom = [-240, 30]\nto = [240, -30]\n[[motif.line]]\nfrom = [-240, -130]\nto = [240, 130]\n"+made.Inlay+router, withBed(300, 250))
	for _, q := range whole.set.Panels {
		if q.Division != nil {
			t.Errorf("panel %s is split through an opening at %v", q.ID, q.Division.Joints)
		}
	}
}

// Three holes in a row or as an isosceles triangle can be turned over, those of
// an equilateral one turned as well.
func TestDowelsGoOneWay(t *testing.T) {
	shape := fixture.NewShape([]plan.Orientation{{}, {TurnDeg: 60}}, []region.Region{region.Disc(geom.Pt(0, 0), 100)}, 20)
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
	for _, text := range []string{made.TwoLoops, made.Cross, made.Angle, made.Chords(3), made.Chords(5)} {
		m := prepared(t, text+made.Inlay+made.Base)
		for _, p := range m.set.Panels {
			if len(p.Dowels) != dowels {
				t.Fatalf("panel %s has %d dowels", p.ID, len(p.Dowels))
			}
			for _, d := range p.Dowels {
				hole := region.Disc(d, dowelRadius)
				for _, o := range p.Openings {
					if gap := math.Min(hole.Gap(o.Area), hole.Gap(o.Slot)); gap < m.Groove.Size.Web-1e-6 {
						t.Errorf("panel %s: a dowel is %g from an opening", p.ID, gap)
					}
				}
				if d := region.New(p.Outline).BoundaryDist(d) - dowelRadius; d < m.Groove.Size.Web-1e-6 {
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
		for _, p := range m.set.Parts(m.Template, m.Groove.Size, 0) {
			if (p.Ply == sheet.Wall || p.Ply == sheet.Floor) && len(p.Sheet.Holes) != dowels {
				t.Errorf("%s has %d holes", p.Sheet.Name, len(p.Sheet.Holes))
			}
		}
	}
}

// On a square with nothing in it the places that are furthest apart are its corners,
// three of which can be turned over about the diagonal: another third place is taken.
func TestDowelsOfASquare(t *testing.T) {
	square := region.New(geom.Rect(geom.Box{Min: geom.Pt(-100, -100), Max: geom.Pt(100, 100)}))
	shape := fixture.NewShape([]plan.Orientation{{}, {TurnDeg: 90}}, []region.Region{square}, 0)
	p := Panel{ID: "A", Outline: shape.Polygon()}
	at := p.placeDowels(shape, 8)
	if len(at) != dowels {
		t.Fatalf("%d dowels", len(at))
	}
	for _, place := range shape.Placements(dowelRadius)[1:] {
		met := 0
		for _, d := range at {
			for _, e := range at {
				if place.Apply(d).Dist(e) < 2*dowelRadius {
					met++
				}
			}
		}
		if met > 2 {
			t.Errorf("dowels at %v: a floor laid by %v meets all of them", at, place)
		}
	}
}
