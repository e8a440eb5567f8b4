package aids

import (
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/internal/made"
	"strapwork/pkg/profile"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// aidsOf draws a job's aids, for a laser.
func aidsOf(t *testing.T, text string, kerf float64) map[string]sheet.Part {
	t.Helper()
	m, left := leftOf(t, text)
	return byName(t, Draw(paramsOf(m), m.Groove, left, profile.Laser, kerf))
}

// byName checks that parts can be cut and lists them by the names of their sheets.
func byName(t *testing.T, parts []sheet.Part) map[string]sheet.Part {
	t.Helper()
	named := map[string]sheet.Part{}
	for _, p := range parts {
		if err := sheet.Check(p.Sheet).Err(); err != nil {
			t.Errorf("%s: %v", p.Sheet.Name, err)
		}
		if p.Quantity != 1 || p.Panel != "" || p.Thickness <= 0 {
			t.Errorf("%s: quantity %d, panel %q, thickness %g", p.Sheet.Name, p.Quantity, p.Panel, p.Thickness)
		}
		if _, twice := named[p.Sheet.Name]; twice {
			t.Errorf("%s is drawn twice", p.Sheet.Name)
		}
		named[p.Sheet.Name] = p
	}
	return named
}

func names(parts map[string]sheet.Part) string {
	list := make([]string, 0, len(parts))
	for n := range parts {
		list = append(list, n)
	}
	slices.Sort(list)
	return strings.Join(list, " ")
}

// edgeOf is a part's outline.
func edgeOf(t *testing.T, p sheet.Part) geom.Contour {
	t.Helper()
	i := slices.IndexFunc(p.Sheet.Lines, func(l sheet.Line) bool { return l.Role == sheet.Edge })
	if i < 0 {
		t.Fatalf("%s has no edge", p.Sheet.Name)
	}
	return p.Sheet.Lines[i].Contour
}

// The sizes are those that the aids are for (derived): the disc and the
// sub-base by the rider, the gauge's hole by what goes through it.
func TestAidSizes(t *testing.T) {
	const bushing = "[router]\nguide = \"bushing\"\nrider = 17\nbit = 3.175\nshank = 6.35\nflute = 16\ncollar = 7\nbase = 120\n[template]\nwall = 9\nmargin = 60\n"
	const bearing = "[router]\nguide = \"bearing\"\nbit = 3.175\nshank = 3\nflute = 6\nbase = 120\n[template]\nmargin = 80\n"
	for _, c := range []struct {
		name, text, aid       string
		across, hole, thick   float64 // of the outline and the hole, mm
		kerf, kerfed, kerfing float64 // across and hole with this kerf
	}{
		{"disc", made.Cross + made.Inlay + made.Base, TracingDisc, 100, 2, 3, 0.18, 100.18, 1.82},
		{"sub-base", made.Cross + made.Inlay + made.Base, SubBase, 104, 1.5875, 3, 0.2, 104.2, 1.3875},
		{"gauge of the floor", made.Cross + made.Inlay + made.Base, DepthGauge, 60, 5.175, 3, 0.2, 60.2, 4.975},
		{"gauge past a thick shank", made.Cross + made.Inlay + made.Base + "shank = 6.35\n", DepthGauge, 60, 8.35, 3, 0.2, 60.2, 8.15},
		{"gauge of the wall, for a collar", made.Cross + made.Inlay + bushing, DepthGauge, 60, 19, 9, 0.2, 60.2, 18.8},
		{"gauge past a wide collar", made.Cross + made.Inlay + strings.Replace(bushing, "17", "30", 1), DepthGauge, 72, 32, 9, 0.2, 72.2, 31.8},
		{"gauge for a bearing", made.Cross + made.Inlay + bearing, DepthGauge, 60, 5.175, 9, 0.2, 60.2, 4.975},
		{"disc like a collar", made.Cross + made.Inlay + bushing, TracingDisc, 17, 2, 9, 0.2, 17.2, 1.8},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, k := range []struct{ kerf, across, hole float64 }{{0, c.across, c.hole}, {c.kerf, c.kerfed, c.kerfing}} {
				p, ok := aidsOf(t, c.text, k.kerf)[c.aid]
				if !ok {
					t.Fatalf("there is no %s", c.aid)
				}
				size := edgeOf(t, p).Bounds().Size()
				made.Near(t, "width", size.X, k.across, 1e-9)
				made.Near(t, "height", size.Y, k.across, 1e-9)
				made.Near(t, "thickness", p.Thickness, c.thick, 0)
				if len(p.Sheet.Holes) != 1 || !p.Sheet.Holes[0].Center.Near(geom.Pt(0, 0), 0) {
					t.Fatalf("holes %v, want one in the middle", p.Sheet.Holes)
				}
				made.Near(t, "hole", 2*p.Sheet.Holes[0].Radius, k.hole, 1e-9)
			}
		})
	}
}

// Each job gets the aids that it has a use for, and no others.
func TestAidsThatMakeSense(t *testing.T) {
	const bearing = "[router]\nguide = \"bearing\"\nbit = 3.175\nflute = 6\nbase = 120\n[template]\nmargin = 80\n"
	for _, c := range []struct{ name, text, want string }{
		{"a ring leaves nothing", made.TwoLoops + made.Inlay + made.Base, "aid-depth-gauge aid-sub-base aid-tracing-disc"},
		{"square ends", made.Cross + made.Inlay + made.Base, "aid-chisel-90 aid-depth-gauge aid-sub-base aid-tracing-disc"},
		{"a corner too", made.Angle + made.Inlay + made.Base, "aid-chisel-60 aid-chisel-90 aid-depth-gauge aid-sub-base aid-tracing-disc"},
		{"the base on the work", made.TwoLoops + made.Inlay + made.Base + "[template]\nfloor = 0\n", "aid-sub-base aid-tracing-disc"},
		{"a bearing no disc is made for", made.Cross + made.Inlay + bearing, "aid-chisel-90 aid-depth-gauge"},
		{"blunt corner, nothing worth while left", "[[motif.path]]\nname = \"v\"\nd = \"M -150 0 A 80 80 0 0 0 -70 80 L 0 80 L 150 90 A 80 80 0 0 0 220 20 L 220 -100 A 80 80 0 0 0 140 -180 L -70 -180 A 80 80 0 0 0 -150 -100 Z\"\n" + made.Inlay + made.Base, "aid-depth-gauge aid-sub-base aid-tracing-disc"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := names(aidsOf(t, c.text, 0)); got != c.want {
				t.Errorf("aids are %s, want %s", got, c.want)
			}
		})
	}
}

// A guide's notch has the corner's angle and its tip is the mitre's point; laid
// on the work, its edges lie on the groove's walls and it covers nothing of the
// groove near the corner.
func TestChiselGuides(t *testing.T) {
	for name, text := range map[string]string{
		"sixty": made.Angle,
		"ninety, curved walls": `[[motif.path]]
name = "leaf"
d = "M -90 0 A 127.27922061357856 127.27922061357856 0 0 1 90 0 A 127.27922061357856 127.27922061357856 0 0 1 -90 0 Z"
`,
		"line and arc":              "[[motif.path]]\nname = \"p\"\nd = \"M -150 0 L 0 0 A 90 90 0 0 0 90 90\"\n",
		"arc bending the other way": "[[motif.path]]\nname = \"p\"\nd = \"M -100 -100 L 0 0 A 90 90 0 0 1 90 -90\"\n",
		"thirty":                    "[[motif.path]]\nname = \"p\"\nd = \"M -173.20508075688772 100 L 0 0 L -200 0\"\n",
	} {
		t.Run(name, func(t *testing.T) {
			m, left := leftOf(t, text+made.Inlay+made.Base)
			guides := ChiselGuides(m.Groove, left)
			if len(guides) == 0 {
				t.Fatal("there is no guide")
			}
			for _, g := range guides {
				checkGuide(t, m, g)
			}
		})
	}
}

func checkGuide(t *testing.T, m made.Job, g ChiselRest) {
	t.Helper()
	outline := g.outline(profile.Laser)
	at := slices.IndexFunc(outline.Vertices, func(v geom.Vertex) bool { return v.Near(geom.Pt(0, 0), 1e-9) })
	if at < 0 {
		t.Fatalf("%s: no vertex at the tip", g.Name)
	}
	in, out := outline.Edge((at+outline.Len()-1)%outline.Len()).Tangent(1), outline.Edge(at).Tangent(0)
	made.Near(t, g.Name+" notch", math.Acos(-in.Dot(out)), g.Angle, 1e-7)
	if in.Cross(out) >= 0 {
		t.Errorf("%s: the tip is no notch", g.Name)
	}
	laid := region.New(outline).Transform(geom.Turning(g.Mitre.Outward().Angle() - math.Pi/2).Then(geom.Shifting(g.Mitre.Tip)))
	ideal := m.Groove.Area()
	close := region.Disc(g.Mitre.Tip, leastReach)
	made.Near(t, g.Name+" covers", region.Intersect(region.Intersect(laid, close), ideal).Area(), 0, 1e-6)
	if d := ideal.BoundaryDist(g.Mitre.Tip); d > 1e-9 {
		t.Errorf("%s: the tip is %g mm from the groove's boundary", g.Name, d)
	}
	// Both edges are on the walls of the groove, where these go on far enough.
	for _, e := range [2]geom.Edge{outline.Edge((at + outline.Len() - 1) % outline.Len()).Reverse(), outline.Edge(at)} {
		p := e.At(2 / e.Length()) // a flat end is 5.08 mm long
		p = geom.Turning(g.Mitre.Outward().Angle() - math.Pi/2).Then(geom.Shifting(g.Mitre.Tip)).Apply(p)
		made.Near(t, g.Name+" edge off the wall", ideal.BoundaryDist(p), 0, 1e-6)
	}
	if len(g.Serves) == 0 {
		t.Errorf("%s serves nothing", g.Name)
	}
}

// The tip is the meeting of the outer walls: for straights w/2 / sin(t/2) from
// the corner (derived).
func TestGuidesTip(t *testing.T) {
	m, left := leftOf(t, made.Angle+made.Inlay+made.Base)
	guides := ChiselGuides(m.Groove, left)
	made.Near(t, "angle", guides[0].Angle, math.Pi/3, 1e-9)
	c := m.Groove.Corners(guides[0].corner(t, m))[0]
	made.Near(t, "tip's distance", guides[0].Mitre.Tip.Dist(c.P), 5.08/2/math.Sin(math.Pi/6), 1e-9)
	if len(guides[0].Serves) != 1 || len(guides[1].Serves) != 4 {
		t.Errorf("the guides serve %d and %d places, want the corner and four at the ends", len(guides[0].Serves), len(guides[1].Serves))
	}
}

// corner is the strand of the only corner in the motif.
func (c ChiselRest) corner(t *testing.T, m made.Job) int {
	t.Helper()
	for i := range m.Groove.Motif.Strands {
		if len(m.Groove.Corners(i)) == 1 {
			return i
		}
	}
	t.Fatal("no strand has one corner")
	return 0
}

// A routed guide has no inside corner that its cutter can't reach: the wood
// outside it is what a disc of the cutter's size covers.
func TestRoutedGuide(t *testing.T) {
	for _, text := range []string{made.Angle, "[[motif.path]]\nname = \"p\"\nd = \"M -173.20508075688772 100 L 0 0 L -200 0\"\n"} {
		m, left := leftOf(t, text+made.Inlay+made.Base)
		for _, g := range ChiselGuides(m.Groove, left) {
			plate := region.New(g.outline(profile.Router))
			cut := region.Subtract(region.Disc(geom.Pt(0, 0), 3*guideReach), plate)
			missed := region.Subtract(region.Intersect(cut, region.Disc(geom.Pt(0, 0), guideReach)), cut.Open(toolRadius-1e-6))
			if a := missed.Area(); a > 1e-3 {
				t.Errorf("%s: %g mm2 can't be reached by the cutter", g.Name, a)
			}
		}
	}
}

// Kerf moves a guide's edges outwards by half of it, notch included.
func TestGuideKerf(t *testing.T) {
	m, left := leftOf(t, made.Angle+made.Inlay+made.Base)
	nominal := byName(t, Draw(paramsOf(m), m.Groove, left, profile.Laser, 0))["aid-chisel-60"]
	drawn := byName(t, Draw(paramsOf(m), m.Groove, left, profile.Laser, 0.2))["aid-chisel-60"]
	back := region.New(edgeOf(t, drawn)).Shrink(0.1)
	d := region.Union(region.Subtract(back, region.New(edgeOf(t, nominal))), region.Subtract(region.New(edgeOf(t, nominal)), back))
	// A laser's round beam rounds the notch's tip and nothing else.
	if a := d.Area(); a > 0.1*0.1*2 {
		t.Errorf("the finished guide is off by %g mm2", a)
	}
}

// Marks keep off every cut and are letters of 4 mm; the smallest disc has no
// room for any.
func TestAidMarks(t *testing.T) {
	for name, p := range aidsOf(t, made.Angle+made.Inlay+made.Base, 0.2) {
		if n := checkMarks(t, p); n == 0 {
			t.Errorf("%s carries no mark", name)
		}
	}
	small := "[router]\nguide = \"bushing\"\nrider = 8\nbit = 3.175\nflute = 16\ncollar = 7\nbase = 120\n[template]\nmargin = 60\n"
	if n := checkMarks(t, aidsOf(t, made.Cross+made.Inlay+small, 0)[TracingDisc]); n != 0 {
		t.Errorf("%d strokes on a disc of 8 mm", n)
	}
}

// checkMarks holds a part's marks against its cuts and returns their number.
func checkMarks(t *testing.T, p sheet.Part) int {
	t.Helper()
	cuts := []region.Region{region.New(edgeOf(t, p))}
	for _, h := range p.Sheet.Holes {
		cuts = append(cuts, region.Disc(h.Center, h.Radius))
	}
	n := 0
	box := geom.EmptyBox()
	for _, l := range p.Sheet.Lines {
		if l.Role != sheet.Mark {
			continue
		}
		n++
		box = box.Join(l.Contour.Bounds())
		for i := range l.Contour.Len() {
			for _, at := range []float64{0, 0.25, 0.5, 0.75, 1} {
				q := l.Contour.Edge(i).At(at)
				for k, c := range cuts {
					if d := c.BoundaryDist(q); d < 1 || c.Contains(q) != (k == 0) {
						t.Errorf("%s: a mark at %v is %g mm from a cut", p.Sheet.Name, q, d)
					}
				}
			}
		}
	}
	if n > 0 && box.Size().Y < aidLetters-1e-9 {
		t.Errorf("%s: marks are %g mm high", p.Sheet.Name, box.Size().Y)
	}
	return n
}

// Sizes are said, and engraved, in the job's units: a groove of 3/32 in is 2.38125 mm deep.
func TestAidsSayTheJobsUnits(t *testing.T) {
	for u, want := range map[unit.System][2]string{unit.MM: {"2.381 mm", "2.381"}, unit.Inch: {"3/32 in", "3/32"}} {
		p := Params{Router: work.Router{Guide: work.GuideBushing, RiderDiameter: 6.35}, Template: work.Template{Wall: 9}, Depth: 2.38125, Units: u}
		g, ok := depthGauge(p)
		if !ok || !strings.Contains(g.Sheet.Title, "shims of "+want[0]+",") || p.number(p.Shim()) != want[1] {
			t.Errorf("in %s: %q, engraved %q", u, g.Sheet.Title, p.number(p.Shim()))
		}
	}
}
