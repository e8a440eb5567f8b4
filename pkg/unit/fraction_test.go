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
// has them (exact by division).
func TestFraction(t *testing.T) {
	for _, c := range []struct {
		mm   float64
		want string
	}{
		{0, "0 in"},
		{25.4, "1 in"},
		{25.4 / 64, "1/64 in"},
		{25.4 * 0.140625, "9/64 in"},
		{25.4 * 0.375, "3/8 in"},
		{25.4 * 5.171875, "5 11/64 in"},
		{25.4 * 0.999, "1 -0.001 in"},
		{3.5, "9/64 -0.0028 in"},
		{3, "1/8 -0.0069 in"},
		{-25.4 * 1.5, "-1 1/2 in"},
		{-3.5, "-(9/64 -0.0028) in"},
		{25.4 * 0.00004, "0 in"},
		{-25.4 * 0.00004, "0 in"},
	} {
		if got := unit.Fraction(c.mm); got != c.want {
			t.Errorf("Fraction(%v) = %q, want %q", c.mm, got, c.want)
		}
	}
}

// What is shown adds up to the length, to half of the last decimal, and the
// remainder is less than half of 1/64.
func TestFractionAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := rapid.Float64Range(-3000, 3000).Draw(t, "mm")
		s := unit.FractionNumber(mm)
		sign := 1.0
		if strings.HasPrefix(s, "-") {
			sign, s = -1, strings.Trim(s[1:], "()")
		}
		var sum float64
		for _, word := range strings.Fields(s) {
			n, d, isFraction := strings.Cut(word, "/")
			v, err := strconv.ParseFloat(n, 64)
			if err != nil {
				t.Fatalf("%q in %q: %v", word, s, err)
			}
			if isFraction {
				den, err := strconv.ParseFloat(d, 64)
				if err != nil || den > 64 || math.Mod(v, 2) != 1 {
					t.Fatalf("%q is not reduced", word)
				}
				v /= den
			}
			if word[0] == '+' || word[0] == '-' {
				if math.Abs(v) > 1.0/128+0.00005 {
					t.Fatalf("remainder %q of %q is more than half of 1/64", word, s)
				}
			}
			sum += v
		}
		if got := sign * sum * 25.4; math.Abs(got-mm) > 0.00005*25.4+1e-9 {
			t.Fatalf("%q is %v mm, not %v", s, got, mm)
		}
	})
}
