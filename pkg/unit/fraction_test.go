package unit_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/unit"
)

// Decimal equivalents of fractions of an inch, as every workshop's wall chart
// has them (exact by division); what is none of them is in thousandths.
func TestInches(t *testing.T) {
	for _, c := range []struct {
		mm   float64
		want string
	}{
		{0, "0"},
		{25.4, "1"},
		{25.4 / 64, "1/64"},
		{25.4 * 0.140625, "9/64"},
		{25.4 * 0.375, "3/8"},
		{25.4 * 5.171875, "5 11/64"},
		{25.4 * 0.999, "0.999"},
		{3.5, "0.138"},
		{3, "0.118"},
		{-25.4 * 1.5, "-1 1/2"},
		{-3.5, "-0.138"},
		{25.4 * 0.0004, "0"},
		{-25.4 * 0.0004, "0"},
		{math.Inf(1), "+Inf"},
	} {
		if got := unit.Inches(c.mm); got != c.want {
			t.Errorf("Inches(%v) = %q, want %q", c.mm, got, c.want)
		}
	}
}

// What is shown is the length: to half of a thousandth, and exactly where it is a
// fraction, which is reduced and of at most 64 parts.
func TestInchesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := rapid.Float64Range(-3000, 3000).Draw(t, "mm")
		if rapid.Bool().Draw(t, "of 64") {
			mm = math.Round(mm) * 25.4 / 64
		}
		within, sum := 0.0005, 0.0
		text, negative := strings.CutPrefix(unit.Inches(mm), "-")
		for _, word := range strings.Fields(text) {
			n, d, isFraction := strings.Cut(word, "/")
			v, err := strconv.ParseFloat(n, 64)
			if err != nil {
				t.Fatalf("%q in %q: %v", word, text, err)
			}
			if isFraction {
				den, err := strconv.ParseFloat(d, 64)
				if err != nil || den > 64 || math.Mod(v, 2) != 1 {
					t.Fatalf("%q is not reduced", word)
				}
				v, within = v/den, 1e-9
			}
			sum += v
		}
		if negative {
			sum = -sum
		}
		if math.Abs(sum-mm/25.4) > within+1e-12 {
			t.Fatalf("%q is %v in, not %v", text, sum, mm/25.4)
		}
	})
}
