package conf

import (
	"fmt"
	"strings"
)

// form is the shape of a value.
type form int

const (
	formText form = iota
	formWord
	formFlag
	formWhole
	formNumber
	formRatio
	formLength
	formAngle
	formFeed
	formPoint
	formPlace
	formData
	formDate
	formList
	formTable
	formEither
)

// A Type is what a key's value may be.
type Type struct {
	form  form
	of    []Type // of a list one, of a choice of types all
	n     int    // of a list: how many, 0 for any number
	table string // of a table: the path of its keys
}

// The simple types.
var (
	Text   = Type{form: formText}   // one line
	Word   = Type{form: formWord}   // one of the key's words
	Flag   = Type{form: formFlag}   // true or false
	Whole  = Type{form: formWhole}  // a whole number
	Number = Type{form: formNumber} // of no unit, or the key's
	Ratio  = Type{form: formRatio}  // a number without a unit, or an expression of one
	Length = Type{form: formLength} // a number in the file's units, or an expression
	Angle  = Type{form: formAngle}  // a number of degrees, or an expression
	Feed   = Type{form: formFeed}   // a length per minute
	Point  = Type{form: formPoint}  // x and y
	Place  = Type{form: formPlace}  // a point, or what the file's reader makes one of
	Data   = Type{form: formData}   // path data, over several lines if need be
	Date   = Type{form: formDate}   // a date, or one line of text
)

// List is a list of n values; 0 for any number.
func List(n int, of Type) Type { return Type{form: formList, n: n, of: []Type{of}} }

// Either is a value of one of several types.
func Either(types ...Type) Type { return Type{form: formEither, of: types} }

// listed is the path of the tables in a list, which may be one of several types.
func (t Type) listed() string {
	for _, of := range t.of {
		if t.form == formEither && of.form == formList {
			return of.listed()
		}
	}
	return t.of[0].table
}

// TableOf is a table whose keys are those of a path in the format.
func TableOf(path string) Type { return Type{form: formTable, table: path} }

// counts are small numbers as sentences have them.
var counts = [...]string{2: "two", 3: "three"}

// count is a number as a sentence has it.
func count(n int) string {
	if n < len(counts) && counts[n] != "" {
		return counts[n]
	}
	return fmt.Sprint(n)
}

// plural is several values of the type.
func (t Type) plural() string {
	switch t.form {
	case formLength:
		return "lengths"
	case formNumber, formRatio:
		return "numbers"
	case formFeed:
		return "lengths per minute"
	case formPoint, formPlace:
		return "points"
	case formTable:
		return "tables"
	case formText, formWord:
		return "words"
	case formList:
		return "lists"
	default:
		return "values"
	}
}

// list says what a list of the type is: "a list of two lengths".
func (t Type) list() string {
	if t.n == 0 {
		return "a list of " + t.of[0].plural()
	}
	return "a list of " + count(t.n) + " " + t.of[0].plural()
}

// Takes says what may be typed for the key, briefly: for a page's column and for help.
func (k Key) Takes() string { return k.takes(k.Is) }

func (k Key) takes(t Type) string {
	switch t.form {
	case formText, formData, formDate:
		return "text"
	case formWord:
		return quoted(k.Words)
	case formFlag:
		return "true, false"
	case formWhole:
		return "whole number"
	case formNumber, formRatio:
		return "number"
	case formLength:
		return "length"
	case formAngle:
		return "degrees"
	case formFeed:
		return "length per minute"
	case formPoint, formPlace:
		return "[x, y]"
	case formTable:
		return "table"
	case formList:
		if t.of[0].form == formEither {
			return "list of " + count(t.n) + ": " + k.takes(t.of[0])
		}
		return strings.TrimPrefix(t.list(), "a ")
	case formEither:
		var all []string
		for _, one := range t.of {
			all = append(all, k.takes(one))
		}
		return strings.Join(all, ", or ")
	}
	return "value"
}

// quoted is words as they are typed.
func quoted(words []string) string { return `"` + strings.Join(words, `", "`) + `"` }
