package unit_test

import (
	"math"
	"testing"

	"strapwork/pkg/unit"
)

// English grammar: a noun that ends in a hiss takes es.
func TestCount(t *testing.T) {
	for want, got := range map[string]string{
		"1 cut":          unit.Count(1, "cut"),
		"9999 cuts":      unit.Count(9999, "cut"),
		"10,000 moves":   unit.Count(10000, "move"),
		"-1,234,567":     unit.Grouped(-1234567),
		"100,000":        unit.Grouped(100000),
		"0 cuts":         unit.Count(0, "cut"),
		"-1 cuts":        unit.Count(-1, "cut"),
		"3 set-ups":      unit.Count(3, "set-up"),
		"2 depth passes": unit.Count(2, "depth pass"),
		"2 notches":      unit.Count(2, "notch"),
		"2 boxes":        unit.Count(2, "box"),
		"1 knife":        unit.Count(1, "knife", "knives"),
		"2 knives":       unit.Count(2, "knife", "knives"),
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Closed values.
func TestDecimal(t *testing.T) {
	for _, c := range []struct {
		v      float64
		places int
		want   string
	}{
		{1.5, 3, "1.5"},
		{100, 0, "100"},
		{100, 2, "100"},
		{-1e-9, 6, "0"},
		{-0.0006, 3, "-0.001"},
		{1e15, 6, "1000000000000000"},
		{-1e308, 3, "-1e+308"},
		{0.0625, 3, "0.062"},
		{4.175, 2, "4.17"},
		{-4.175, 2, "-4.17"},
		{math.Inf(1), 2, "+Inf"},
		{math.NaN(), 2, "NaN"},
	} {
		if got := unit.Decimal(c.v, c.places); got != c.want {
			t.Errorf("%g to %d places is %q, want %q", c.v, c.places, got, c.want)
		}
	}
}
