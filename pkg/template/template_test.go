package template

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/plan"
	"strapwork/pkg/sheet"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// A made job, up to its panels.
type made struct {
	job    Params
	groove groove.Groove
	set    Set
}

func read(t testing.TB, text string) (Params, groove.Groove) {
	t.Helper()
	j, found := job.Read("test.toml", []byte("title = \"test\"\nunits = \"mm\"\n"+text))
	if found.HasErrors() {
		t.Fatal(found)
	}
	m, found := motif.Build(j.Motif)
	if found.HasErrors() {
		t.Fatal(found)
	}
	w, found := weave.Build(m, j.Weave)
	if found.HasErrors() {
		t.Fatal(found)
	}
	g, found := groove.Build(groove.SizeOf(j.Inlay, j.Router, j.Template), m, w)
	if found.HasErrors() {
		t.Fatal(found)
	}
	return paramsOf(j), g
}

func prepared(t testing.TB, text string) made {
	t.Helper()
	j, g := read(t, text)
	cuts, found := plan.Split(&g)
	if found.HasErrors() {
		t.Fatal(found)
	}
	return made{j, g, Draw(j, g, planned(j, &g, cuts))}
}

// laid returns the panels as their sheets show them.
func (m made) laid(kerf float64) []Placed {
	var all []Placed
	for _, p := range m.set.Parts(m.job, m.groove.Size, kerf) {
		if p.Ply != Wall {
			continue
		}
		l := Placed{ID: p.Panel}
		for _, q := range m.set.Panels {
			if q.ID == p.Panel {
				l.Positions = q.Positions
			}
		}
		for _, x := range p.Sheet.Lines {
			if x.Role == sheet.Opening {
				l.Openings = append(l.Openings, x.Contour)
			}
		}
		all = append(all, l)
	}
	return all
}

const (
	inlay = "[inlay]\ndepth = 3\nwidth = 5.08\n"
	base  = "[router]\nguide = \"base\"\nrider = 100\nbit = 3.175\nflute = 16\n"
	// A bar through four crossings and a loop at each end, turned twice: one
	// closed strand without a corner.
	twoLoops = `[motif]
copies = 2
[[motif.line]]
name = "bar"
from = [-150, 70]
to = [150, 70]
[[motif.arc]]
name = "end"
center = [150, 0]
radius = 70
start = 90
sweep = -180
`
	cross = `[[motif.line]]
name = "a"
from = [-150, 0]
to = [150, 0]
[[motif.line]]
name = "b"
from = [0, -150]
to = [0, 150]
`
	angle = `[[motif.path]]
name = "v"
d = "M 200 0 L 0 0 L 100 173.20508075688772"
`
)

// The looped triangle of the design: one panel with one opening, laid in three
// positions, and three visible splits; nothing is better.
func TestLoopedTriangle(t *testing.T) {
	m := prepared(t, `[let]
inner = 40
loop = 66
reach = "sqrt(3) * (inner + loop)"
[motif]
copies = 3
[[motif.line]]
name = "side"
from = ["-reach", "inner"]
to = ["reach", "inner"]
[[motif.arc]]
name = "loop"
center = ["reach", "inner + loop"]
radius = "loop"
start = 270
sweep = 240
`+inlay+base)
	p := m.set.Plan
	if len(p.Panels) != 1 || p.Openings() != 1 || len(p.SetUps) != 3 || p.Visible != 3 || !p.Proved() {
		t.Errorf("%d panels, %d openings, %d set-ups, %d visible splits (proved: %t), want 1, 1, 3, 3",
			len(p.Panels), p.Openings(), len(p.SetUps), p.Visible, p.Proved())
	}
	proof := Prove(m.groove, m.laid(0), 0)
	if !proof.Holds() || proof.OvercutMax > 1e-6 || proof.UncutMax > 1e-6 {
		t.Errorf("overcut %g, uncut %g, want none", proof.OvercutMax, proof.UncutMax)
	}
}

func TestRingIsCutInTwo(t *testing.T) {
	m := prepared(t, twoLoops+inlay+base)
	if cuts := m.set.Cuts(); len(cuts) != 2 {
		t.Fatalf("%d cuts, want 2", len(cuts))
	}
	for _, c := range m.set.Cuts() {
		near(t, "half of the ring", c.Length(), 300+math.Pi*70+2*0.5, 1e-6)
	}
}

func TestRingOfOneCircle(t *testing.T) {
	m := prepared(t, "[[motif.circle]]\ncenter = [0, 0]\nradius = 90\n"+inlay+base)
	if cuts := m.set.Cuts(); len(cuts) != 2 || len(m.set.Panels) != 1 || m.set.Plan.Openings() != 1 {
		t.Fatalf("%d cuts on %d panels, want 2 made by one opening on one", len(cuts), len(m.set.Panels))
	}
	if p := Prove(m.groove, m.laid(0), 0); !p.Holds() || p.UncutMax > 1e-6 {
		t.Errorf("overcut %g, uncut %g", p.OvercutMax, p.UncutMax)
	}
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s is %.10g, want %.10g (tolerance %g)", what, got, want, tol)
	}
}

// Openings on one panel keep the web between them, and an opening grown by
// half a web has no hole: the soundness of design item 7.
func TestPanelsAreSound(t *testing.T) {
	for _, text := range []string{twoLoops, cross, angle} {
		m := prepared(t, text+inlay+base)
		for _, p := range m.set.Panels {
			for i, o := range p.Openings {
				if n := len(o.Area.Grow(m.groove.Size.Web / 2).Loops()); n != 1 {
					t.Errorf("%s: opening %d grown has %d loops", p.ID, i, n)
				}
				for _, q := range p.Openings[:i] {
					if d := o.Area.Gap(q.Area); d < m.groove.Size.Web-geom.Coincident {
						t.Errorf("%s: only %g mm between openings", p.ID, d)
					}
				}
			}
		}
	}
}

// What is left of a panel, opened by a disc of half a web, is in one piece and
// still backs every wall: no loose piece, no weak neck, no knife edge (design
// item 7, by its definition).
func TestPanelsHoldTogether(t *testing.T) {
	for name, text := range map[string]string{"loops": twoLoops, "cross": cross, "angle": angle, "ring": "[[motif.circle]]\ncenter = [0, 0]\nradius = 90\n"} {
		m := prepared(t, text+inlay+base)
		for _, p := range m.set.Panels {
			var openings []region.Region
			for _, o := range p.Openings {
				openings = append(openings, o.Area)
			}
			all := region.Union(openings...)
			sound := region.Subtract(region.New(p.Outline), all).Open(m.groove.Size.Web/2 - 10*geom.Coincident)
			if n := len(sound.Pieces()); n != 1 {
				t.Errorf("%s, panel %s: opened, it is in %d pieces", name, p.ID, n)
			}
			for _, l := range all.Loops() {
				for k := range 200 {
					if q, _ := l.At(l.Length() * float64(k) / 200); sound.Dist(q) > 1e-5 {
						t.Errorf("%s, panel %s: the wall at %v is not backed", name, p.ID, q)
					}
				}
			}
		}
	}
}

// The proof holds for what is drawn, whatever the kerf.
func TestProofHolds(t *testing.T) {
	for name, text := range map[string]string{"loops": twoLoops, "cross": cross, "angle": angle} {
		for _, bit := range []string{"3.175", "5.08", "5.05"} {
			for _, kerf := range []float64{0, 0.18} {
				m := prepared(t, text+inlay+strings.Replace(base, "3.175", bit, 1))
				p := Prove(m.groove, m.laid(kerf), kerf/2)
				if p.OvercutMax > 1e-6 {
					t.Errorf("%s, bit %s, kerf %g: overcut of %g mm at %v", name, bit, kerf, p.OvercutMax, p.OvercutAt)
				}
				if tip := m.groove.Size.Bit / 2 * (1/math.Sin(math.Pi/6) - 1); p.UncutMax > tip+0.03 {
					t.Errorf("%s, bit %s: %g mm left", name, bit, p.UncutMax)
				}
			}
		}
	}
}

// The proof names what is left: the mitre's tip at 60 degrees and two square
// ends (design items 1 and 3).
func TestLeftovers(t *testing.T) {
	m := prepared(t, angle+inlay+base)
	p := Prove(m.groove, m.laid(0), 0)
	near(t, "left in all", p.UncutArea, 1.7259372+2*1.0816603, 1e-6)
	near(t, "deepest", p.UncutMax, 3.175/2*(1/math.Sin(math.Pi/6)-1), 1e-6)
	if len(p.Leftovers) != 5 {
		t.Fatalf("%d places, want 5: %+v", len(p.Leftovers), p.Leftovers)
	}
	if l := p.Leftovers[0]; !strings.HasPrefix(l.Where, "corner of v.1") {
		t.Errorf("first place is at %q", l.Where)
	}
}

// A fault of a hundredth of a millimetre in one opening fails the proof, and
// one of half the limit does not.
func TestProofFindsFaults(t *testing.T) {
	m := prepared(t, cross+inlay+base)
	fault := func(d float64) Proof {
		ls := m.laid(0)
		o := region.New(ls[0].Openings[0]).Grow(d)
		ls[0].Openings[0] = o.Loops()[0]
		return Prove(m.groove, ls, 0)
	}
	near(t, "overcut", fault(0.01).OvercutMax, 0.01, 1e-6)
	if fault(0.01).Holds() {
		t.Error("a fault of 0.01 mm passes")
	}
	if !fault(0.0005).Holds() {
		t.Error("a fault of 0.0005 mm fails")
	}
	if p := fault(-0.01); !p.Holds() || p.UncutMax < 0.009 {
		t.Errorf("an opening 0.01 mm small leaves %g mm", p.UncutMax)
	}
	ls := m.laid(0)
	ls[0].Positions = []Orientation{{TurnDeg: 1}}
	if Prove(m.groove, ls, 0).Holds() {
		t.Error("a panel turned by a degree passes")
	}
	ls = m.laid(0)
	ls[0].Openings = nil
	if p := Prove(m.groove, ls, 0); p.UncutMax < 1 || !p.Holds() {
		t.Errorf("a missing opening leaves %g mm", p.UncutMax)
	}
	ls = m.laid(0)
	ls[0].Openings = append(ls[0].Openings, geom.Circle(geom.Pt(100, 100), 50.5))
	if p := Prove(m.groove, ls, 0); p.Holds() {
		t.Error("a pocket that the router can be set down in passes")
	}
	if Prove(m.groove, m.laid(0.2), 0.05).UncutMax < 0.04 {
		t.Error("a kerf of 0.2 mm undone by half leaves nothing")
	}
}

// A joint of 0.01 degrees, grown by a base's radius, leaves an arc of 0.009 mm
// (derived); it is welded, and the proof still holds. The arms are so long that
// joining them doesn't make them tangent: that would move them by 0.05 mm.
func TestSpecksAreWelded(t *testing.T) {
	s, c := math.Sincos(0.009 * math.Pi / 180)
	m := prepared(t, fmt.Sprintf("[[motif.path]]\nname = \"p\"\nd = \"M -1500 0 L 0 0 L %.12f %.12f\"\n", 1500*c, 1500*s)+inlay+base)
	if n := len(m.set.Cuts()); n != 1 {
		t.Fatalf("%d cuts, want 1", n)
	}
	raw := math.Inf(1)
	for _, l := range m.set.Panels[0].Openings[0].Area.Loops() {
		for i := range l.Len() {
			raw = math.Min(raw, l.Edge(i).Length())
		}
	}
	if raw > 0.01 {
		t.Errorf("the shortest edge before welding is %g mm long: nothing to weld", raw)
	}
	for _, l := range m.laid(0) {
		for _, o := range l.Openings {
			for i := range o.Len() {
				if n := o.Edge(i).Length(); n < speck {
					t.Errorf("an edge of %g mm is left", n)
				}
			}
		}
	}
	if p := Prove(m.groove, m.laid(0), 0); !p.Holds() {
		t.Errorf("overcut of %g mm", p.OvercutMax)
	}
}

// A contour starts on an end arc of an opening, never on a wall that guides.
func TestContoursBeginOnAnEnd(t *testing.T) {
	for _, bit := range []string{"3.175", "5.08"} {
		for _, kerf := range []float64{0, 0.2} {
			m := prepared(t, twoLoops+inlay+strings.Replace(base, "3.175", bit, 1))
			for i, l := range m.laid(kerf) {
				for k, o := range l.Openings {
					cut := m.set.Panels[i].Openings[k].Cut
					start, end := cut.Line.Start(), cut.Line.End()
					d := math.Min(o.Start().Dist(start), o.Start().Dist(end))
					// The middle of an end arc is at most the rider's radius and
					// the play from the centre line's end; a wall is H from the line.
					if q, at := cut.Line.Nearest(o.Start()); at > 1e-6 && at < cut.Line.Length()-1e-6 {
						t.Errorf("bit %s, kerf %g: %v starts beside the line's %v", bit, kerf, o.Start(), q)
					}
					if d > m.groove.Size.Reach() {
						t.Errorf("bit %s: start is %g from the nearest end", bit, d)
					}
				}
			}
		}
	}
}

func TestPositions(t *testing.T) {
	p := geom.Pt(3, 4)
	for _, c := range []struct {
		pos  Orientation
		want geom.Point
	}{
		{Orientation{}, p},
		{Orientation{TurnDeg: 90}, geom.Pt(-4, 3)},
		{Orientation{TurnDeg: 180}, geom.Pt(-3, -4)},
		{Orientation{Flip: true}, geom.Pt(-3, 4)},
		{Orientation{TurnDeg: 90, Flip: true}, geom.Pt(-4, -3)},
	} {
		if got := c.pos.Similarity().Apply(p); got != c.want {
			t.Errorf("%+v takes %v to %v, want %v", c.pos, p, got, c.want)
		}
	}
}

// paramsOf are a job's.
func paramsOf(j *job.Job) Params {
	return Params{
		Title: j.Title, Units: j.Units, Copies: j.Motif.Copies,
		Router: j.Router, Inlay: j.Inlay, Template: j.Template, Board: j.Board,
	}
}

// planned is the plan of a job's cuts.
func planned(p Params, g *groove.Groove, cuts []groove.Cut) plan.Plan {
	t := p.Template
	return plan.Make(plan.Params{Turn: t.Turn, Flip: t.Flip && p.Router.Guide != work.GuideBase, Prefer: t.Prefer}, g, cuts)
}
