package unit_test

import (
	"math"
	"testing"

	"strapwork/pkg/unit"
)

func TestDuration(t *testing.T) {
	for seconds, want := range map[float64]string{
		0: "0 s", -3: "0 s", 59.4: "59 s", 59.6: "1 min 0 s", 754: "12 min 34 s", 3599.7: "1 h 0 min", 9000: "2 h 30 min",
		math.Inf(1): "277777 h 46 min",
	} {
		if got := unit.Duration(seconds); got != want {
			t.Errorf("%g s are %q, want %q", seconds, got, want)
		}
	}
	if got := unit.Duration(math.NaN()); got != "0 s" {
		t.Errorf("no number is %q", got)
	}
}
