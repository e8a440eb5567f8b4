package unit

import (
	"strconv"
	"strings"
)

// Count is a number of things: "1 cut", "3 cuts", "12,000 moves". A plural that
// Plural doesn't know is given as many.
func Count(n int, one string, many ...string) string {
	words := one
	switch {
	case n == 1:
	case len(many) > 0:
		words = many[0]
	default:
		words = Plural(one)
	}
	return Grouped(n) + " " + words
}

// leastGrouped is the least number with commas in it: four digits are read at a glance.
const leastGrouped = 10_000

// Grouped is a number of things in a sentence: 9999, 10,000, 1,234,567. What is measured
// is never grouped, since people type it back: 16000 rpm, 12500 mm.
func Grouped(n int) string {
	digits := strconv.Itoa(n)
	if -leastGrouped < n && n < leastGrouped {
		return digits
	}
	sign := ""
	if n < 0 {
		sign, digits = "-", digits[1:]
	}
	for at := len(digits) - 3; at > 0; at -= 3 {
		digits = digits[:at] + "," + digits[at:]
	}
	return sign + digits
}

// Plural is the plural of a word, or of words that end with the noun, of those
// that take s or es: "set-ups", "passes", "notches".
func Plural(one string) string {
	for _, hiss := range []string{"s", "x", "z", "ch", "sh"} {
		if strings.HasSuffix(one, hiss) {
			return one + "es"
		}
	}
	return one + "s"
}
