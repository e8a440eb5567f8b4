package groove

import (
	"math"
	"testing"
)

// Half the bit's width, a third under 1.5 mm (common practice), in equal steps before
// a last pass of a quarter of a millimetre: worked by hand.
func TestDepths(t *testing.T) {
	for _, c := range []struct {
		depth, bit float64
		want       []float64
	}{
		{3, 3.175, []float64{1.375, 2.75, 3}},
		{2, 1.6, []float64{0.5833, 1.1667, 1.75, 2}},       // 0.8 goes three times into 1.75
		{2, 1.2, []float64{0.35, 0.7, 1.05, 1.4, 1.75, 2}}, // 0.4 goes five times
		{2, 1.5, []float64{0.5833, 1.1667, 1.75, 2}},       // 0.75, three times
		{1.25, 2, []float64{1, 1.25}},                      // once exactly
		{0.5, 2, []float64{0.5}},                           // nothing but the last
		{1, 0.5, []float64{0.15, 0.3, 0.45, 0.6, 0.75, 1}}, // a sixth of a millimetre, five times
		{5, 12, []float64{4.75, 5}},
		{2.75, 5, []float64{2.5, 2.75}},
	} {
		got := Depths(c.depth, c.bit)
		if len(got) != len(c.want) {
			t.Errorf("%+v: %v", c, got)
			continue
		}
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 0.0001 {
				t.Errorf("%+v: %v", c, got)
			}
		}
	}
}
