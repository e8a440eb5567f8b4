package cutlist

import (
	"math"
	"testing"

	"strapwork/pkg/inlay"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

func TestEndWords(t *testing.T) {
	const deg = math.Pi / 180
	for _, c := range []struct {
		end          inlay.End
		words, short string
	}{
		{inlay.End{Kind: inlay.EndSquare, Angle: 90 * deg}, "square", "square"},
		{inlay.End{Kind: inlay.EndFree, Angle: 90 * deg}, "free, cut square", "free"},
		{inlay.End{Kind: inlay.EndButt, Angle: 90.04 * deg}, "butt, square", "butt 90°"},
		{inlay.End{Kind: inlay.EndButt, Angle: 60.5 * deg}, "butt, 60.5° from the strip (29.5° from square), long point left", "butt 60.5°"},
		{inlay.End{Kind: inlay.EndMitre, Angle: 140 * deg}, "mitre, 40° from the strip (50° from square), long point right", "mitre 40°"},
		{inlay.End{Kind: inlay.EndJoint, Angle: 45 * deg, Joint: true}, "joint, 45° from the strip (45° from square), long point left", "joint 45°"},
		{inlay.End{Kind: inlay.EndCope, Angle: 80 * deg, Gap: 0.127, Joint: true}, "cope, 80° from the strip (10° from square), long point left, to fit the joint and another side, a straight cut would leave a gap of 0.005 in", "cope 80°"},
		{inlay.End{Kind: inlay.EndCope, Angle: 90 * deg, Radius: 12.7, Hollow: true, Gap: 0.127}, "cope, square, hollow to R 1/2 in, a straight cut would leave a gap of 0.005 in", "cope 90°"},
		{inlay.End{Kind: inlay.EndCope, Angle: 80 * deg, Gap: 0.127}, "cope, 80° from the strip (10° from square), long point left, to fit more sides than one, a straight cut would leave a gap of 0.005 in", "cope 80°"},
		{inlay.End{Kind: inlay.EndCope, Angle: 100 * deg, Radius: 25.4, Gap: 0.127}, "cope, 80° from the strip (10° from square), long point right, round to R 1 in, a straight cut would leave a gap of 0.005 in", "cope 80°"},
	} {
		if got := EndWords(c.end).In(unit.Inch); got != c.words {
			t.Errorf("%q, want %q", got, c.words)
		}
		if got := EndMark(c.end); got != c.short {
			t.Errorf("%q, want %q", got, c.short)
		}
	}
}

// A triangle that is gone round counter-clockwise has its long points outside: on the right
// of who looks along a side, and on the left of who looks back.
func TestLongPoints(t *testing.T) {
	for _, p := range listOf(t, work.LaidStrips, ngon(3)).Pieces {
		for k, side := range [2]string{"left", "right"} {
			if got, want := EndWords(p.Ends[k]).String(), "mitre, 30° from the strip (60° from square), long point "+side; got != want {
				t.Errorf("end %d: %q, want %q", k+1, got, want)
			}
		}
	}
}
