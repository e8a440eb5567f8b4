package proof_test

import (
	"fmt"
	"math"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/internal/made"
	"strapwork/pkg/proof"
)

// arm is an element from the origin's corner outwards that begins at an angle in
// degrees and bends by its bulge; it is written as the end of path data.
func arm(heading, bulge float64) geom.Edge {
	// The chord of an arc lies at half its sweep from its tangent.
	sweep := 4 * math.Atan(bulge)
	return geom.Edge{B: geom.Polar(60, heading*math.Pi/180+sweep/2), Bulge: bulge}
}

func pathArc(e geom.Edge) string {
	if e.Bulge == 0 {
		return fmt.Sprintf("L %.9f %.9f", e.B.X, e.B.Y)
	}
	way := 0
	if e.Bulge > 0 {
		way = 1
	}
	return fmt.Sprintf("A %.9f %.9f 0 0 %d %.9f %.9f", e.Radius(), e.Radius(), way, e.B.X, e.B.Y)
}

// At a corner of lines and arcs that bend either way the templates leave nothing
// that the bit could reach. Where the bit all but fills the groove, by k either
// side, tracks end round at the corner and not at the places in it that the bit's
// middle reaches: the furthest is k / sin(t/2) away (the meeting of two lines k
// from the arms).
func TestNothingIsMissedAtCorners(t *testing.T) {
	corners := 0
	angles, least := []float64{30, 50, 80, 91, 130, 165}, 200
	if testing.Short() {
		angles, least = angles[2:4], 60
	}
	for _, included := range angles {
		for _, in := range []float64{0, 0.3, -0.3} {
			for _, out := range []float64{0, 0.2, -0.4} {
				for _, bit := range []float64{5.08, 5.05, 4.9, 3.175, 2} {
					a, b := arm(180, in).Reverse(), arm(180-included, out)
					text := fmt.Sprintf("[[motif.path]]\nname = \"p\"\nd = \"M %.9f %.9f %s %s\"\n", a.A.X, a.A.Y, pathArc(a), pathArc(b))
					j, ok := made.Try(fmt.Sprintf("[motif]\n%s[inlay]\ndepth = 3\nwidth = 5.08\n[router]\nguide = \"bearing\"\nbit = %g\nrider = 12\n", text, bit))
					if !ok {
						continue
					}
					corners++
					m := withPanels(j)
					most, k := 0.0, m.Groove.Size.Offset()
					if m.Groove.Size.Thin() {
						most = k / math.Sin(included*math.Pi/360)
					}
					p := proof.Prove(m.Groove, m.laid(0), 0)
					for _, l := range p.Leftovers {
						if l.At.Norm() < 25 && l.MissedDepth > most { // further away an arm's end may come to lie on the other arm
							t.Errorf("%g degrees, bulges %g and %g, bit %g: %.4f mm, %.4f mm2 missed at %v", included, in, out, bit, l.MissedDepth, l.MissedArea, l.At)
						}
					}
					if !p.Holds() {
						t.Errorf("%g degrees, bulges %g and %g, bit %g: overcut %g", included, in, out, bit, p.OvercutMax)
					}
				}
			}
		}
	}
	if corners < least {
		t.Errorf("only %d corners could be tried", corners)
	}
}

// What the bit could reach is distinguished from what no bit does: of a plain corner
// nothing, and without its openings all but the tip and the ends' corners.
func TestMissedIsReportedApart(t *testing.T) {
	m := prepared(t, made.Angle+made.Inlay+made.Base)
	if p := proof.Prove(m.Groove, m.laid(0), 0); p.MissedMax != 0 || p.MissedArea != 0 {
		t.Errorf("%g mm2 are said to be missed of a plain corner", p.MissedArea)
	}
	laid := m.laid(0)
	whole := proof.Prove(m.Groove, laid, 0)
	for i := range laid {
		laid[i].Openings = nil
	}
	p := proof.Prove(m.Groove, laid, 0)
	made.Near(t, "missed without openings", p.MissedArea, m.Groove.Area().Area()-whole.UncutArea, 1e-5)
}
