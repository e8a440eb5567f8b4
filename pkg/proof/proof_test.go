package proof_test

import (
	"math"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/internal/made"
	"strapwork/pkg/plan"
	"strapwork/pkg/proof"
)

// The proof holds for what is drawn, whatever the kerf.
func TestProofHolds(t *testing.T) {
	for name, text := range map[string]string{"loops": made.TwoLoops, "cross": made.Cross, "angle": made.Angle} {
		for _, bit := range []string{"3.175", "5.08", "5.05"} {
			for _, kerf := range []float64{0, 0.18} {
				m := prepared(t, text+made.Inlay+strings.Replace(made.Base, "3.175", bit, 1))
				p := proof.Prove(m.Groove, m.laid(kerf), kerf/2)
				if p.OvercutMax > 1e-6 {
					t.Errorf("%s, bit %s, kerf %g: overcut of %g mm at %v", name, bit, kerf, p.OvercutMax, p.OvercutAt)
				}
				if tip := m.Groove.Size.Bit / 2 * (1/math.Sin(math.Pi/6) - 1); p.UncutMax > tip+0.03 {
					t.Errorf("%s, bit %s: %g mm left", name, bit, p.UncutMax)
				}
			}
		}
	}
}

// The proof names what is left: the mitre's tip at 60 degrees and two square
// ends (design items 1 and 3).
func TestLeftovers(t *testing.T) {
	m := prepared(t, made.Angle+made.Inlay+made.Base)
	p := proof.Prove(m.Groove, m.laid(0), 0)
	made.Near(t, "left in all", p.UncutArea, 1.7259372+2*1.0816603, 1e-6)
	made.Near(t, "deepest", p.UncutMax, 3.175/2*(1/math.Sin(math.Pi/6)-1), 1e-6)
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
	m := prepared(t, made.Cross+made.Inlay+made.Base)
	fault := func(d float64) proof.Proof {
		ls := m.laid(0)
		o := region.New(ls[0].Openings[0]).Grow(d)
		ls[0].Openings[0] = o.Loops()[0]
		return proof.Prove(m.Groove, ls, 0)
	}
	made.Near(t, "overcut", fault(0.01).OvercutMax, 0.01, 1e-6)
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
	ls[0].Positions = []plan.Orientation{{TurnDeg: 1}}
	if proof.Prove(m.Groove, ls, 0).Holds() {
		t.Error("a panel turned by a degree passes")
	}
	ls = m.laid(0)
	ls[0].Openings = nil
	if p := proof.Prove(m.Groove, ls, 0); p.UncutMax < 1 || !p.Holds() {
		t.Errorf("a missing opening leaves %g mm", p.UncutMax)
	}
	ls = m.laid(0)
	ls[0].Openings = append(ls[0].Openings, geom.Circle(geom.Pt(100, 100), 50.5))
	if p := proof.Prove(m.Groove, ls, 0); p.Holds() {
		t.Error("a pocket that the router can be set down in passes")
	}
	if proof.Prove(m.Groove, m.laid(0.2), 0.05).UncutMax < 0.04 {
		t.Error("a kerf of 0.2 mm undone by half leaves nothing")
	}
}
