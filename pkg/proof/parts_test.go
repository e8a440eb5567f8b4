package proof_test

import (
	"math"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/internal/made"
	"strapwork/pkg/plan"
	"strapwork/pkg/proof"
)

// A bit may cut beyond the groove by what is allowed for, and by what the motif is
// off itself where it was turned.
func TestHolds(t *testing.T) {
	const allowed = groove.Overcut
	for _, c := range []struct {
		overcut, off float64
		want         bool
	}{{0, 0, true}, {allowed, 0, true}, {allowed + 1e-6, 0, false}, {0, 1, true}, {allowed + 0.01, 0.02, true}, {allowed + 0.03, 0.02, false}} {
		if got := (proof.Proof{OvercutMax: c.overcut, Off: c.off}).Holds(); got != c.want {
			t.Errorf("overcut of %g with the motif %g off: %t", c.overcut, c.off, got)
		}
	}
}

// What is left all along a ring's walls, x mm deep, is missed from a hundredth of a
// millimetre, or as much more as the motif is off itself; its area is that of two rings.
func TestMissedRims(t *testing.T) {
	j := made.Grooved(t, "[[motif.circle]]\ncenter = [0, 0]\nradius = 90\n"+made.Inlay+made.Base)
	ideal := j.Groove.Area()
	const h = 5.08 / 2
	for _, c := range []struct {
		x, off float64
		missed bool
	}{{0.04, 0, true}, {0.009, 0, false}, {0.04, 0.02, true}, {0.04, 0.035, false}, {0.012, 0.005, false}} {
		cut := ideal.Shrink(c.x)
		p := proof.Compare(j.Groove, cut, cut, c.off)
		ring := func(r float64) float64 { return math.Pi * math.Abs(r*r-(r-c.x)*(r-c.x)) }
		area := ring(90+h) + ring(90-h+c.x)
		made.Near(t, "deepest", p.UncutMax, c.x, 1e-6)
		made.Near(t, "left", p.UncutArea, area, 1e-4)
		if !c.missed {
			area = 0
		}
		made.Near(t, "missed", p.MissedArea, area, 1e-4)
		if (p.MissedMax > 0) != c.missed {
			t.Errorf("%g mm left with the motif %g off: %g missed", c.x, c.off, p.MissedMax)
		}
	}
}

// A bar 0.2 micrometres above the origin lies as far below it when it is turned half
// round: 0.4 micrometres off itself, which copies of one element may be. That isn't a
// fault of the template.
func TestMotifOffItself(t *testing.T) {
	m := prepared(t, "[[motif.line]]\nname = \"a\"\nfrom = [-150, 0.0002]\nto = [150, 0.0002]\n"+made.Inlay+made.Base+"[template]\nturn = false\n")
	panels := m.laid(0)
	straight := proof.Prove(m.Groove, panels, 0)
	for i := range panels {
		panels[i].Positions = []plan.Orientation{{}, {TurnDeg: 180}}
	}
	turned := proof.Prove(m.Groove, panels, 0)
	made.Near(t, "off where nothing is turned", straight.Off, 0, 0)
	made.Near(t, "off", turned.Off, 0.0004, 1e-9)
	made.Near(t, "overcut", turned.OvercutMax, 0.0004, 1e-6)
	if !straight.Holds() || !turned.Holds() {
		t.Errorf("holds %t and, turned, %t", straight.Holds(), turned.Holds())
	}
}

// Sums and extremes of what was found otherwise, by hand.
func TestProofOfFindings(t *testing.T) {
	j := made.Grooved(t, made.Angle+made.Inlay+made.Base)
	left := []proof.Leftover{
		{At: geom.Pt(200, 2), Depth: 0.3, Area: 1, MissedDepth: 0.02, MissedArea: 0.2},
		{At: geom.Pt(0, 0), Depth: 1.5, Area: 2, MissedDepth: 0.05, MissedArea: 0.5},
		{At: geom.Pt(100, 173), Depth: 0.4, Area: 4},
	}
	p := proof.Of(j.Groove, 0.0004, geom.Pt(7, 8), 0.25, left)
	if !p.Holds() || p.OvercutMax != 0.0004 || p.OvercutAt != geom.Pt(7, 8) || p.OvercutArea != 0.25 {
		t.Errorf("beyond the groove: %+v", p)
	}
	if p.UncutMax != 1.5 || p.UncutArea != 7 || p.MissedMax != 0.05 || p.MissedAt != geom.Pt(0, 0) || math.Abs(p.MissedArea-0.7) > 1e-12 {
		t.Errorf("left: %+v", p)
	}
	if len(p.Leftovers) != 3 || p.Leftovers[0].At != geom.Pt(0, 0) {
		t.Errorf("in order of their names: %+v", p.Leftovers)
	}
}

// The endings of two elements that meet, and of three that close, by hand: what ends
// there, where along the strand, and at which of its ends.
func TestEndings(t *testing.T) {
	open := made.Grooved(t, "[[motif.line]]\nname = \"a\"\nfrom = [-100, 0]\nto = [0, 0]\n[[motif.line]]\nname = \"b\"\nfrom = [0, 0]\nto = [60, 80]\n"+made.Inlay+made.Base)
	closed := made.Grooved(t, "[[motif.line]]\nname = \"a\"\nfrom = [-150, 0]\nto = [150, 0]\n[[motif.line]]\nname = \"b\"\nfrom = [150, 0]\nto = [0, 200]\n[[motif.line]]\nname = \"c\"\nfrom = [0, 200]\nto = [-150, 0]\n"+made.Inlay+made.Base)
	for _, c := range []struct {
		g      groove.Groove
		p      geom.Point
		name   string
		s      float64
		corner bool
		last   bool
	}{
		{open.Groove, geom.Pt(-1, 2), "corner of a.1 (line 3) and b.1 (line 7)", 100, true, false},
		{open.Groove, geom.Pt(-99, 1), "end of a.1 (line 3)", 0, false, false},
		{open.Groove, geom.Pt(60, 79), "end of b.1 (line 7)", 200, false, true},
		{closed.Groove, geom.Pt(149, 0), "corner of a.1 (line 3) and b.1 (line 7)", 300, true, false},
		{closed.Groove, geom.Pt(0, 190), "corner of b.1 (line 7) and c.1 (line 11)", 550, true, false},
		{closed.Groove, geom.Pt(-149, 0), "corner of c.1 (line 11) and a.1 (line 3)", 0, true, false},
	} {
		e := proof.NearestEnding(c.g, c.p)
		if e.Name != c.name || (e.Corner != nil) != c.corner || e.Last != c.last || e.Strand != 0 || math.Abs(e.S-c.s) > 1e-6 || e.At.Dist(c.p) > 11 {
			t.Errorf("near %v is %+v, want %q at %g", c.p, e, c.name, c.s)
		}
	}
	if e := proof.NearestEnding(made.Grooved(t, "[[motif.circle]]\ncenter = [0, 0]\nradius = 90\n"+made.Inlay+made.Base).Groove, geom.Pt(90, 0)); e.Strand != -1 || e.Name != "groove" {
		t.Errorf("a ring ends at %+v", e)
	}
}
