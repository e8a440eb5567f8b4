package unit

import (
	"fmt"
	"math"
)

// sixtyFourths of an inch are the finest graduation of rules in the trade.
const sixtyFourths = 64

// Inches shows a length given in mm as a maker in inches writes it, without the
// unit: a whole number and a reduced fraction where it is a number of 1/64, else
// decimals to a thousandth: "5 11/64", "-1 1/2", "0.138".
func Inches(mm float64) string {
	if text, ok := fraction(mm / MMPerInch); ok {
		return text
	}
	return Decimal(mm/MMPerInch, thousandths)
}

// fraction is a number of inches as a reduced fraction, if it is one.
func fraction(inches float64) (text string, ok bool) {
	if !isFraction(inches) {
		return "", false
	}
	parts := int64(math.Round(math.Abs(inches) * sixtyFourths))
	text = mixed(parts)
	if inches < 0 && parts > 0 {
		text = "-" + text
	}
	return text, true
}

// isFraction reports whether a number of inches is a number of 1/64.
func isFraction(inches float64) bool {
	parts := inches * sixtyFourths
	return math.Abs(parts) < 1<<53 && math.Abs(math.Round(parts)-parts) <= exactly*sixtyFourths
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
