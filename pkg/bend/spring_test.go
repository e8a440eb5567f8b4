package bend

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestSpringback: the worked example of S. Kalpakjian and S. Schmid, Manufacturing
// Engineering and Technology (recalled, not looked up): steel sheet of 0.0359 in, E
// 29,000,000 and Y 40,000 psi, bent to 0.5 in: ratio 0.94240, left with 0.53056 in. The
// formula has no units.
func TestSpringback(t *testing.T) {
	got := Ratio(0.5, 0.0359, 40e3, 29e6)
	if math.Abs(got-0.94240) > 5e-6 || math.Abs(0.5/got-0.53056) > 5e-6 {
		t.Errorf("ratio %.6f, left with %.6f in", got, 0.5/got)
	}
	if back := Round(0.53056, 0.0359, 40e3, 29e6); math.Abs(back-0.5) > 5e-6 {
		t.Errorf("to be left with 0.53056 in it is bent to %.6f", back)
	}
}

// TestRoundBronze: bronze of 1.2 mm to R 40 is bent to 32.3, 30.1 and 28.1 for yield
// stresses of 250, 350 and 450 MPa. The figures were worked out elsewhere; of whole
// thousands of MPa 105,000 alone gives all three.
func TestRoundBronze(t *testing.T) {
	for yield, want := range map[float64]float64{250: 32.3, 350: 30.1, 450: 28.1} {
		if got := Round(40, 1.2, yield, 105e3); math.Abs(got-want) > 0.05 {
			t.Errorf("Y %g: %.3f, not %g", yield, got, want)
		}
	}
}

// TestRound: what is bent to Round is left with the radius; softer, thicker and stiffer
// strips are bent less far beyond it; and a strip that doesn't yield keeps nothing.
func TestRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rf := rapid.Float64Range(1, 2000).Draw(t, "rf")
		thick := rapid.Float64Range(0.1, 5).Draw(t, "t")
		y := rapid.Float64Range(20, 1500).Draw(t, "Y")
		e := rapid.Float64Range(4e4, 3e5).Draw(t, "E")
		ri := Round(rf, thick, y, e)
		if !(0 < ri && ri < rf) || Springs(ri, thick, y, e) {
			t.Fatalf("to be left with %g it is bent to %g", rf, ri)
		}
		// Near x = 1/2 the ratio is flat: what is found is held in ri, not in rf.
		if f := ri / rf; math.Abs(f-Ratio(ri, thick, y, e)) > 1e-12 {
			t.Errorf("ri / rf %g, ratio %g", f, Ratio(ri, thick, y, e))
		}
		if Round(rf, thick, y*1.1, e) >= ri || Round(rf, thick*1.1, y, e) <= ri || Round(rf, thick, y, e*1.1) <= ri || Round(rf*1.1, thick, y, e) <= ri {
			t.Error("not monotone")
		}
		if edge := 0.5 * e * thick / y; !Springs(edge*1.000001, thick, y, e) || Ratio(edge*1.000001, thick, y, e) != 0 || Springs(edge*0.99999, thick, y, e) {
			t.Errorf("the spring ends at %g", edge)
		}
	})
}
