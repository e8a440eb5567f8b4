// Package words is the glossary: what strapwork's own words mean, and those of the trade
// that not everybody has met. It is one table, quoted by the help, by the page of the
// job's keys and by whatever else explains a word.
package words

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A Word is one that is explained.
type Word struct {
	Word  string   // as the glossary lists it, in lower case
	Also  []string // its other forms, such as the plural
	Ours  bool     // strapwork's own, or used in a sense of its own; else the trade's
	Means string   // one or two sentences
}

// All are the glossary's words, in the order of the alphabet. The caller may keep them.
func All() []Word { return slices.Clone(table[:]) }

// Find is the word that a person asks for, in any of its forms, with spaces or hyphens
// between its parts.
func Find(name string) (Word, bool) {
	name = plain(name)
	for _, w := range table {
		for _, form := range w.forms() {
			if plain(form) == name {
				return w, true
			}
		}
	}
	return Word{}, false
}

// In are the words that a text uses, in the order of the alphabet. A longer word hides
// the shorter ones within it: a "depth pass" is no pass of another kind.
func In(text string) []Word {
	text = strings.ToLower(text)
	taken := make([]bool, len(text)) // by a longer word
	used := make([]bool, len(table))
	for _, i := range byLength() {
		for _, form := range table[i].forms() {
			for at := range wholly(text, form) {
				if !taken[at] {
					used[i] = true
				}
				for k := at; k < at+len(form); k++ {
					taken[k] = true
				}
			}
		}
	}
	var found []Word
	for i, w := range table {
		if used[i] {
			found = append(found, w)
		}
	}
	return found
}

// byLength are the places of the table, longest words first.
func byLength() []int {
	order := make([]int, len(table))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return len(table[b].Word) - len(table[a].Word) })
	return order
}

// forms are all spellings under which the word is met.
func (w Word) forms() []string { return append([]string{w.Word}, w.Also...) }

// plain is a name without the difference between spaces and hyphens.
func plain(name string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return unicode.IsSpace(r) || r == '-'
	}), "-")
}

// wholly yields where a form stands in a text with no letter, digit or hyphen beside it.
func wholly(text, form string) func(yield func(at int) bool) {
	return func(yield func(at int) bool) {
		for from := 0; ; {
			at := strings.Index(text[from:], form)
			if at < 0 {
				return
			}
			at += from
			from = at + len(form)
			before, _ := utf8.DecodeLastRuneInString(text[:at])
			after, _ := utf8.DecodeRuneInString(text[from:])
			if !joins(before) && !joins(after) && !yield(at) {
				return
			}
		}
	}
}

// joins reports whether a letter beside a word makes it part of another: of a name with
// an underscore too, which is a key.
func joins(r rune) bool {
	return r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsDigit(r) || r == '-' || r == '_')
}

// Markdown is the glossary as a list of a page.
func Markdown() string {
	var b strings.Builder
	for _, w := range table {
		b.WriteString("- **" + w.Word + "**" + w.whose() + ": " + w.Means + "\n")
	}
	return b.String()
}

// whose marks the words that are strapwork's.
func (w Word) whose() string {
	if w.Ours {
		return " (ours)"
	}
	return ""
}
