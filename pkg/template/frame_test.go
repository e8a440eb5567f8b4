package template

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/plan"
	"strapwork/pkg/profile"
	"strapwork/pkg/sheet"
)

// forShop is a job as one shop would cut it.
func forShop(t testing.TB, text string, shop profile.Shop) made {
	t.Helper()
	j, g := read(t, text)
	cuts, found := plan.Split(&g)
	if found.HasErrors() {
		t.Fatal(found)
	}
	return made{j, g, NewSet(j, g, planned(j, &g, cuts), shop)}
}

func opened(t testing.TB, name string) profile.Shop {
	t.Helper()
	s, err := profile.Open(name, os.ReadFile)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// withBed is a router with cutters of 6 mm and a bed.
func withBed(x, y float64) profile.Shop {
	return profile.Shop{Name: "test", Cutter: profile.Router, CutterDiameter: 6, Bed: [2]float64{x, y}}
}

// cutBy is the wood that is left of a part when a round cutter has gone
// everywhere round it that it can.
func cutBy(wood region.Region, cutter float64) region.Region {
	all := region.New(geom.Rect(wood.Bounds().Expand(4 * cutter)))
	air := region.Subtract(region.New(geom.Rect(wood.Bounds().Expand(8*cutter))), wood)
	return region.Subtract(all, air.Open(cutter/2))
}

// The two reference sides stand at the panel's own, all others as far off as
// a pair of wedges, slid 20 mm apart, is wide, and the play of both sides.
func TestFrameLocates(t *testing.T) {
	for _, n := range []int{2, 3, 4, 5, 6, 8} {
		m := prepared(t, chords(n)+inlay+base+"[template]\nplay = 0.15\n")
		f := m.set.Frame
		near(t, "gap", f.Gap, WedgesWide(20)+2*0.15, 1e-9)
		for i, s := range m.set.Shape.Sides {
			want := f.Gap
			if slices.Contains(f.Reference[:], i) {
				want = 0
			}
			near(t, "side", f.Inside.Sides[i].Dist-s.Dist, want, 1e-9)
			near(t, "width", f.Outside.Sides[i].Dist-f.Inside.Sides[i].Dist, 60, 1e-9)
		}
		// The wedges together press the panel towards the reference corner.
		push := geom.Point{}
		for _, i := range f.Wedged {
			push = push.Sub(m.set.Shape.Sides[i].Out)
		}
		for _, i := range f.Reference {
			if push.Dot(m.set.Shape.Sides[i].Out) < 0.3 {
				t.Errorf("%d turns: the wedges don't press against side %d", n, i)
			}
		}
	}
}

// Two wedges on one another are a parallel strip; folding wedges of 1 in 20.
func TestWedges(t *testing.T) {
	w := WedgeOutline()
	near(t, "wedge", w.Area(), 60*(2+5)/2, 1e-9)
	// The second one, turned half round, slid by 20 mm along the slope.
	slope := geom.Pt(60, 3).Unit()
	at := geom.Turning(math.Pi).Contour(w)
	at = geom.Shifting(geom.Pt(60, 7).Add(slope.Scale(-20 / slope.X))).Contour(at)
	near(t, "width slid by 20 mm", at.Bounds().Max.Y, WedgesWide(20), 1e-9)
	near(t, "width", WedgesWide(20), 6, 1e-9)
	if a := region.Intersect(region.New(w), region.New(at)).Area(); a > 1e-6 {
		t.Errorf("the wedges overlap by %g mm2", a)
	}
}

// A frame's inside corners are relieved for the cutter: what a round cutter
// leaves of it holds off neither panel, nor key, nor the wedged place.
func TestFrameIsRelievedForItsCutter(t *testing.T) {
	for _, n := range []int{2, 3, 4, 5, 8} {
		for name, cutter := range map[string]float64{"router-1200x800": 3, "router-2440x1220": 6, "router-48x32in": 6.35, "laser-1300x900": 0.2} {
			m := forShop(t, chords(n)+inlay+base, opened(t, name))
			f := m.set.Frame
			for _, b := range f.Bars {
				wood := cutBy(b.Wood, cutter)
				if a := region.Intersect(wood, region.Union(region.New(m.set.Shape.Polygon()), region.Disc(f.Key.At, f.Key.Radius))).Area(); a > 1e-6 {
					t.Errorf("%d turns, %s: %g mm2 of the frame lie in the panel's or the key's place", n, name, a)
				}
			}
			corner := m.set.Shape.Corner(0)
			if d := f.Wood.Dist(corner); d < 0.05*cutter/2 {
				t.Errorf("%d turns, %s: the reference corner is only %g mm clear", n, name, d)
			}
		}
	}
	// Without a relief the cutter's round would hold the panel off.
	m := forShop(t, chords(4)+inlay+base, withBed(2000, 2000))
	bare := region.Subtract(region.New(m.set.Frame.Outside.Polygon()), region.New(m.set.Frame.Inside.Polygon()))
	if a := region.Intersect(cutBy(bare, 6), region.New(m.set.Shape.Polygon())).Area(); a < 0.1 {
		t.Errorf("a round of 3 mm leaves only %g mm2", a)
	}
}

// The axes' notches are on the axes, 6 mm deep from the frame's outside.
func TestAxes(t *testing.T) {
	for _, n := range []int{2, 3, 5, 8} {
		f := prepared(t, chords(n)+inlay+base).set.Frame
		if len(f.Axes) != 4 {
			t.Fatalf("%d notches, want 4", len(f.Axes))
		}
		for _, p := range f.Axes {
			if math.Min(math.Abs(p.X), math.Abs(p.Y)) > 1e-9 {
				t.Errorf("%d turns: the notch at %v is on no axis", n, p)
			}
			if f.Wood.Locate(p) != region.Boundary || !region.New(f.Outside.Polygon()).Contains(p) {
				t.Errorf("%d turns: the notch's tip at %v is not in the frame", n, p)
			}
			out, ok := leaves(f.Outside.Polygon(), p.Unit())
			if !ok || math.Abs(out.Dist(p)-6) > 1e-9 {
				t.Errorf("%d turns: the notch at %v is %g mm deep", n, p, out.Dist(p))
			}
		}
	}
}

// Screws keep 5 mm from all that the base sweeps, computed here from the areas
// that the bit's centre may be in and not from centre lines.
func TestScrewsClearTheBase(t *testing.T) {
	const bushing = "[router]\nguide = \"bushing\"\nrider = 17\nbit = 3\nbase = 150\n"
	for _, router := range []string{base, bushing} {
		for _, n := range []int{2, 4, 5} {
			m := prepared(t, chords(n)+inlay+router+"[template]\nframe = 90\n")
			f := m.set.Frame
			radius := baseRadius(m.job)
			if len(f.Screws) != f.wanted || f.wanted < 2*f.Inside.Len() {
				t.Errorf("%d screws of %d for %d sides", len(f.Screws), f.wanted, f.Inside.Len())
			}
			for _, c := range m.set.Cuts() {
				sweep := c.Centre.Grow(radius)
				for _, s := range f.Screws {
					if d := sweep.Dist(s.At) - screwRadius; d < screwClear-1e-6 {
						t.Errorf("a screw at %v is %g mm from the base", s, d)
					}
				}
				for _, s := range f.Outside.Sides {
					if room := s.Dist - reach([]region.Region{sweep}, s.Out); room < f.Clear-1e-6 {
						t.Errorf("the base passes %g mm from the frame's edge, and %g are told", room, f.Clear)
					}
				}
			}
			for _, s := range f.Screws {
				if f.Wood.BoundaryDist(s.At)-screwRadius < screwWood-1e-6 || !f.Wood.Contains(s.At) {
					t.Errorf("a screw at %v is at the wood's edge", s)
				}
			}
		}
	}
}

// What a frame lacks is told, with what would cure it.
func TestFrameFindings(t *testing.T) {
	const bushing = "[router]\nguide = \"bushing\"\nrider = 17\nbit = 3\nbase = 150\n"
	const board = "[board]\nsize = [600, 500]\nthickness = 22\norigin = [300, 270]\n"
	for _, c := range []struct {
		name, text, rule, hint string
		severity               diag.Severity
		shop                   profile.Shop
	}{
		// By hand: openings end at 190 - 3/2 + 17/2 and the frame 25 + 60 beyond
		// that, the base with the bit's play at 190 - 3/2 + 75 + 1.04: 17.46 are left.
		{"no room for clamps", bushing, "clamp-room", "make frame at least 67.54 mm", diag.Warning, profile.Plain()},
		{"no room for screws", bushing + "[template]\nframe = 16\n", "screw-none", "make frame at least 30 mm, or clamp it", diag.Warning, profile.Plain()},
		{"thin at the key", base + "[template]\nframe = 20\n", "frame-thin", "make frame at least", diag.Warning, profile.Plain()},
		{"beyond the board", base + board, "frame-overhang", "pack under it there with stock as thick as the board, 22 mm", diag.Note, profile.Plain()},
		{"bars", base, "frame-bars", "", diag.Note, withBed(600, 600)},
		{"bed too small", base, "bed-small", "larger bed", diag.Error, withBed(90, 40)},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := forShop(t, chords(4)+inlay+c.text, c.shop)
			for _, f := range m.set.Found {
				if f.Rule == c.rule && f.Severity == c.severity && strings.Contains(f.Hint, c.hint) {
					return
				}
			}
			t.Errorf("found %v, hint %q, want %s %q with hint %q", m.set.Found, m.set.Found[len(m.set.Found)-1].Hint, c.severity, c.rule, c.hint)
		})
	}
	if m := prepared(t, chords(4)+inlay+base); m.set.Found != nil {
		t.Errorf("a plain frame is found wrong: %v", m.set.Found)
	}
	if m := prepared(t, chords(4)+inlay+base+"[template]\nframe = 0\n"); m.set.Frame != nil || m.set.Found != nil {
		t.Errorf("without a frame: %v, %v", m.set.Frame, m.set.Found)
	}
}

// Each width or margin that a finding about the frame names ends it.
func TestFrameFindingsEndWithTheirHints(t *testing.T) {
	const bushing = "[router]\nguide = \"bushing\"\nrider = 17\nbit = 3\nbase = 150\n"
	applied := map[string]int{}
	for _, c := range []struct {
		motif, router, template string
	}{
		{chords(4), bushing, "frame = 16\n"},
		{chords(4), bushing, "frame = 60\n"},
		{chords(2), bushing, "frame = 40\n"},
		{chords(5), base, "frame = 20\n"},
		{chords(4), base, "frame = 20\nweb = 12\n"},
		{"[[motif.line]]\nfrom = [-20, 0]\nto = [20, 0]\n", "[router]\nguide = \"bushing\"\nrider = 6\nbit = 3\n", "frame = 30\nmargin = 18\nweb = 20\n"},
		{chords(12), bushing, "frame = 60\nweb = 30\n"},
	} {
		text := c.motif + inlay + c.router + "[template]\n" + c.template
		for _, f := range prepared(t, text).set.Found {
			for _, cure := range f.Cures {
				_, key, _ := strings.Cut(string(cure.Key), ".")
				kept := ""
				for line := range strings.Lines(c.template) {
					if !strings.HasPrefix(line, key+" ") {
						kept += line
					}
				}
				applied[f.Rule]++
				for _, again := range prepared(t, c.motif+inlay+c.router+"[template]\n"+kept+key+" = "+cure.Value+"\n").set.Found {
					if again.Rule == f.Rule {
						t.Errorf("%s\nhint: %s\n%s = %s leads to\n%s", f.Message, f.Hint, key, cure.Value, again.Message)
					}
				}
			}
		}
	}
	for _, rule := range []string{"key-none", "frame-thin", "clamp-room", "screw-none"} {
		if applied[rule] == 0 {
			t.Errorf("no hint of %s was applied", rule)
		}
	}
	t.Logf("applied: %v", applied)
}

// Overhang by hand: a bar's base reaches 190 - 3.175/2 + 50 to either side; the
// frame adds margin, width and, on the far sides, the gap (derived).
func TestOverhang(t *testing.T) {
	m := prepared(t, "[[motif.line]]\nfrom = [-190, 0]\nto = [190, 0]\n"+inlay+base+"[board]\nsize = [500, 700]\nthickness = 22\norigin = [300, 350]\n")
	side := 190 - 3.175/2 + 50 + 25 + 60
	o := m.set.Frame.Overhang
	near(t, "left", o.Left, side-300, 1e-6)
	near(t, "right", o.Right, side+6.2-200, 1e-6)
	near(t, "above and below", o.Above+o.Below, 0, 0)
}

// A frame that is larger than the bed comes in bars that fit it, that make up
// the whole frame less the keys' recesses, and whose keys go in.
func TestFrameInBars(t *testing.T) {
	for _, n := range []int{2, 3, 4, 5, 8, 12} {
		for _, bed := range [][2]float64{{500, 300}, {420, 300}, {300, 150}} {
			t.Run(fmt.Sprintf("%d turns, bed %g", n, bed), func(t *testing.T) {
				checkBars(t, n, bed)
			})
		}
	}
}

func checkBars(t *testing.T, n int, bed [2]float64) {
	shape := newShape(symmetry{turns: n}, oneBar(), 25)
	j, g := read(t, cross+inlay+base)
	f := newFrame(j, g.Size, shape, nil, withBed(bed[0], bed[1]))
	if f.found.HasErrors() || len(f.Bars) < 2 || len(f.Joints) != len(f.Bars) {
		t.Fatalf("%d bars, %d joints: %v", len(f.Bars), len(f.Joints), f.found)
	}
	total := 0.0
	key := region.New(f.joint.outline())
	realKey := cutBy(key, 6)
	var recesses []region.Region
	for _, x := range f.Joints {
		recesses = append(recesses, f.joint.recess(x))
	}
	for i, b := range f.Bars {
		if !fitsBed(b.Wood.Loops()[0], bed) {
			t.Errorf("bar %d doesn't fit", i)
		}
		total += b.Wood.Area()
		wood := cutBy(b.Wood, 6)
		for k, c := range f.Bars {
			if k != i && region.Intersect(wood, c.Wood).Area() > 1e-6 {
				t.Errorf("bars %d and %d get in each other's way", i, k)
			}
		}
		for _, x := range f.Joints {
			place := geom.Turning(x.Along.Angle() - math.Pi/2).Then(geom.Shifting(x.At))
			if a := region.Intersect(wood, realKey.Transform(place)).Area(); a > 1e-6 {
				t.Errorf("bar %d: a joint's key meets %g mm2 of wood", i, a)
			}
		}
	}
	// No splinter is left between a cut and a notch: a bar keeps nearly all of
	// its wood where it is thinner than 4 mm, but for the points of mitres.
	for i, b := range f.Bars {
		for _, thin := range region.Subtract(b.Wood, b.Wood.Open(2)).Pieces() {
			if thin.Area() > 10 {
				t.Errorf("bar %d: a splinter of %g mm2 at %v", i, thin.Area(), thin.Bounds().Center())
			}
		}
	}
	near(t, "wood", total, region.Subtract(f.Wood, region.Union(recesses...)).Area(), 1e-6)
	// The key holds: pulled out along its length by a tenth of its radius it
	// meets the bar.
	x := f.Joints[0]
	pulled := geom.Turning(x.Along.Angle() - math.Pi/2).Then(geom.Shifting(x.At.Add(x.Along.Left().Scale(f.joint.radius / 10))))
	meets := 0.0
	for _, b := range f.Bars {
		meets += region.Intersect(b.Wood, key.Transform(pulled)).Area()
	}
	if meets < 1 {
		t.Errorf("a key pulled along holds on %g mm2", meets)
	}
}

// Every sheet of every kind can be cut, at true size and compensated.
func TestAllSheetsCanBeCut(t *testing.T) {
	for _, n := range []int{1, 2, 3, 4, 5, 6, 8} {
		for _, shop := range []profile.Shop{profile.Plain(), opened(t, "laser-900x600"), opened(t, "router-1200x800"), withBed(400, 250)} {
			m := forShop(t, chords(n)+inlay+base, shop)
			for _, kerf := range []float64{0, 0.18} {
				for _, p := range m.set.Parts(m.job, m.groove.Size, kerf) {
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

// The kerf makes a frame's opening smaller and its outside larger.
func TestFrameAllowsForKerf(t *testing.T) {
	m := prepared(t, chords(4)+inlay+base)
	size := func(kerf float64, r sheet.Role) geom.Point {
		for _, p := range m.set.Parts(m.job, m.groove.Size, kerf) {
			if p.Ply == Frame {
				return p.Sheet.BoundsOf(r).Size()
			}
		}
		return geom.Point{}
	}
	near(t, "outside", size(0.2, sheet.Edge).X-size(0, sheet.Edge).X, 0.2, 1e-6)
	near(t, "opening", size(0.2, sheet.Opening).X-size(0, sheet.Opening).X, -0.2, 1e-6)
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
	m := forShop(t, chords(3)+inlay+base, withBed(420, 300))
	size := m.groove.Size
	drawn := m.set.Parts(m.job, size, kerf)
	for i, p := range m.set.Parts(m.job, size, 0) {
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
	m := forShop(t, two+inlay+router, withBed(bed[0], bed[1]))
	p := m.set.Panels[0]
	if p.Split == nil || m.set.Found.HasErrors() {
		t.Fatalf("not split: %v", m.set.Found)
	}
	for _, kerf := range []float64{0, 0.2} {
		var walls []Part
		for _, part := range m.set.Parts(m.job, m.groove.Size, kerf) {
			if err := sheet.Check(part.Sheet).Err(); err != nil {
				t.Error(err)
			}
			if part.Ply == Wall {
				walls = append(walls, part)
			}
		}
		laid := Placed{ID: p.ID, Positions: p.Positions}
		for _, w := range walls {
			for _, l := range w.Sheet.Lines {
				if l.Role == sheet.Opening {
					laid.Openings = append(laid.Openings, l.Contour)
				}
			}
		}
		if len(walls) != 2 || len(laid.Openings) != len(p.Openings) {
			t.Fatalf("%d parts with %d of %d openings", len(walls), len(laid.Openings), len(p.Openings))
		}
		if proof := Prove(m.groove, []Placed{laid}, kerf/2); !proof.Holds() || proof.UncutMax > 1e-3+(3.175/2)*(math.Sqrt2-1) {
			t.Errorf("overcut %g, uncut %g", proof.OvercutMax, proof.UncutMax)
		}
	}
	halves := p.halves(p.Split, region.New(p.Outline))
	near(t, "both parts", halves[0].Area()+halves[1].Area(), p.Outline.Area(), 1e-6)
	for _, h := range halves {
		if !fitsBed(h.Loops()[0], bed) {
			t.Error("a part doesn't fit the bed")
		}
	}
	for _, x := range p.Split.Joints {
		if r := p.Split.key.recess(x); !p.clearOf(x.At, p.Split.key.in+p.Split.key.radius+m.groove.Size.Web) || region.Subtract(r, region.New(p.Outline)).Area() > 0 {
			t.Errorf("the key at %v comes near an opening", x.At)
		}
	}
	// An opening across the middle leaves no line to split it by.
	whole := forShop(t, "[[motif.line]]\nfrom = [-240, 30]\nto = [240, -30]\n[[motif.line]]\nfrom = [-240, -130]\nto = [240, 130]\n"+inlay+router, withBed(300, 250))
	for _, q := range whole.set.Panels {
		if q.Split != nil {
			t.Errorf("panel %s is split through an opening at %g", q.ID, q.Split.Dist)
		}
	}
}
