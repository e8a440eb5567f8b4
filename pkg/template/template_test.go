package template

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/internal/made"
	"strapwork/pkg/proof"
	"strapwork/pkg/sheet"
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
`+made.Inlay+made.Base)
	p := m.set.Plan
	if len(p.Panels) != 1 || p.Openings() != 1 || len(p.SetUps) != 3 || p.Visible != 3 || !p.Proved() {
		t.Errorf("%d panels, %d openings, %d set-ups, %d visible splits (proved: %t), want 1, 1, 3, 3",
			len(p.Panels), p.Openings(), len(p.SetUps), p.Visible, p.Proved())
	}
	proof := proof.Prove(m.Groove, m.laid(0), 0)
	if !proof.Holds() || proof.OvercutMax > 1e-6 || proof.UncutMax > 1e-6 {
		t.Errorf("overcut %g, uncut %g, want none", proof.OvercutMax, proof.UncutMax)
	}
}

func TestRingIsCutInTwo(t *testing.T) {
	m := prepared(t, made.TwoLoops+made.Inlay+made.Base)
	if cuts := m.set.Cuts(); len(cuts) != 2 {
		t.Fatalf("%d cuts, want 2", len(cuts))
	}
	for _, c := range m.set.Cuts() {
		made.Near(t, "half of the ring", c.Length(), 300+math.Pi*70+2*0.5, 1e-6)
	}
}

func TestRingOfOneCircle(t *testing.T) {
	m := prepared(t, "[[motif.circle]]\ncenter = [0, 0]\nradius = 90\n"+made.Inlay+made.Base)
	if cuts := m.set.Cuts(); len(cuts) != 2 || len(m.set.Panels) != 1 || m.set.Plan.Openings() != 1 {
		t.Fatalf("%d cuts on %d panels, want 2 made by one opening on one", len(cuts), len(m.set.Panels))
	}
	if p := proof.Prove(m.Groove, m.laid(0), 0); !p.Holds() || p.UncutMax > 1e-6 {
		t.Errorf("overcut %g, uncut %g", p.OvercutMax, p.UncutMax)
	}
}

// Openings on one panel keep the web between them, and an opening grown by
// half a web has no hole: the soundness of design item 7.
func TestPanelsAreSound(t *testing.T) {
	for _, text := range []string{made.TwoLoops, made.Cross, made.Angle} {
		m := prepared(t, text+made.Inlay+made.Base)
		for _, p := range m.set.Panels {
			for i, o := range p.Openings {
				if n := len(o.Area.Grow(m.Groove.Size.Web / 2).Loops()); n != 1 {
					t.Errorf("%s: opening %d grown has %d loops", p.ID, i, n)
				}
				for _, q := range p.Openings[:i] {
					if d := o.Area.Gap(q.Area); d < m.Groove.Size.Web-geom.Coincident {
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
	for name, text := range map[string]string{"loops": made.TwoLoops, "cross": made.Cross, "angle": made.Angle, "ring": "[[motif.circle]]\ncenter = [0, 0]\nradius = 90\n"} {
		m := prepared(t, text+made.Inlay+made.Base)
		for _, p := range m.set.Panels {
			var openings []region.Region
			for _, o := range p.Openings {
				openings = append(openings, o.Area)
			}
			all := region.Union(openings...)
			sound := region.Subtract(region.New(p.Outline), all).Open(m.Groove.Size.Web/2 - 10*geom.Coincident)
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

// A joint of 0.01 degrees, grown by a base's radius, leaves an arc of 0.009 mm
// (derived); it is welded, and the proof still holds. The arms are so long that
// joining them doesn't make them tangent: that would move them by 0.05 mm.
func TestSpecksAreWelded(t *testing.T) {
	s, c := math.Sincos(0.009 * math.Pi / 180)
	m := prepared(t, fmt.Sprintf("[[motif.path]]\nname = \"p\"\nd = \"M -1500 0 L 0 0 L %.12f %.12f\"\n", 1500*c, 1500*s)+made.Inlay+made.Base)
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
				if n := o.Edge(i).Length(); n < sheet.Speck {
					t.Errorf("an edge of %g mm is left", n)
				}
			}
		}
	}
	if p := proof.Prove(m.Groove, m.laid(0), 0); !p.Holds() {
		t.Errorf("overcut of %g mm", p.OvercutMax)
	}
}

// A contour starts on an end arc of an opening, never on a wall that guides.
func TestContoursBeginOnAnEnd(t *testing.T) {
	for _, bit := range []string{"3.175", "5.08"} {
		for _, kerf := range []float64{0, 0.2} {
			m := prepared(t, made.TwoLoops+made.Inlay+strings.Replace(made.Base, "3.175", bit, 1))
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
					if d > m.Groove.Size.Reach() {
						t.Errorf("bit %s: start is %g from the nearest end", bit, d)
					}
				}
			}
		}
	}
}

// A margin that is too small for the notches grows, and says so: a notch's middle is
// 3 mm beyond the side, and the web of 8 mm lies behind it.
func TestMarginGrowsForKeys(t *testing.T) {
	m := prepared(t, made.Chords(4)+made.Inlay+made.Base+"[template]\nmargin = 9\nweb = 8\n")
	reported := false
	for _, f := range m.set.Found {
		reported = reported || f.Rule == "margin-keys"
	}
	reach := 0.0
	for _, area := range m.Openings() {
		for k := range 4 {
			reach = max(reach, -area.Transform(geom.TurningFraction(k, 4)).Bounds().Min.Y)
		}
	}
	if want := m.set.Frame.Key.Notch - 3 + 8; !reported || math.Abs(m.set.Shape.Sides[0].Dist-want-reach) > 1e-6 {
		t.Errorf("reported: %t, side at %g, notch and web %g", reported, m.set.Shape.Sides[0].Dist, want)
	}
}
