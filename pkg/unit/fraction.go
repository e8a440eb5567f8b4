package unit

import (
	"fmt"
	"math"
)

// sixtyFourths of an inch are the finest graduation of rules in the trade.
const sixtyFourths = 64

// Fraction shows a length given in mm as a rule has it: whole inches and a
// reduced fraction to the nearest 1/64, then what the length is more or less
// than that in decimals of an inch, if it is anything: "5 11/64 in",
// "3/8 -0.0031 in", "0 in". A negative length has its sign in front of what is
// then shown in brackets, unless nothing remains: "-(3/8 +0.0031) in".
func Fraction(mm float64) string {
	return fraction(mm) + " " + Inch.String()
}

// FractionNumber is Fraction without the unit.
func FractionNumber(mm float64) string { return fraction(mm) }

func fraction(mm float64) string {
	inches := math.Abs(mm) / MMPerInch
	parts := math.Round(inches * sixtyFourths)
	if math.IsNaN(parts) || parts >= 1<<53 {
		return trim(mm/MMPerInch, inDecimals)
	}
	text := mixed(int64(parts))
	rest := trim(inches-parts/sixtyFourths, inDecimals)
	negative := mm < 0 && (parts > 0 || rest != "0")
	if rest != "0" {
		if rest[0] != '-' {
			rest = "+" + rest
		}
		text += " " + rest
		if negative {
			text = "(" + text + ")"
		}
	}
	if negative {
		text = "-" + text
	}
	return text
}

// mixed is a number of 1/64 as a whole number and a reduced fraction.
func mixed(parts int64) string {
	whole, n, d := parts/sixtyFourths, parts%sixtyFourths, int64(sixtyFourths)
	for n > 0 && n%2 == 0 {
		n, d = n/2, d/2
	}
	switch {
	case n == 0:
		return fmt.Sprint(whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d", n, d)
	}
	return fmt.Sprintf("%d %d/%d", whole, n, d)
}
