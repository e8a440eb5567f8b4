package unit

import (
	"strconv"
	"strings"
)

// Count is a number of things: "1 cut", "3 cuts", "2 passes". A plural that
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
	return strconv.Itoa(n) + " " + words
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
