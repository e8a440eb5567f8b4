package unit

import "fmt"

// Word is the word of an enumeration's value, out of a table with one for each from
// 0; of what is no value it is the kind and the number: "guide(7)". A test in deps
// holds that no value is missing from a table.
func Word[E ~int | ~uint8](words []string, value E, kind string) string {
	if i := int(value); i >= 0 && i < len(words) {
		return words[i]
	}
	return fmt.Sprintf("%s(%d)", kind, int(value))
}
