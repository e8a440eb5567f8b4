// Package conf reads the files that people write: jobs, profiles and cards. All are
// TOML, read in the same way: every key and value knows its place, keys that the file's
// Format lacks are refused with what may have been meant, and all that is wrong with a
// file is found in one go.
//
// A Format is a table of the keys that a file may have: what each takes, its range, what
// is taken where it is left out, and a line of help. Reading, the notes of what was
// assumed, help, an editor's JSON Schema and the page that describes the file all come
// from that one table.
//
// Lengths are read in the file's units and given in mm, angles in radians.
package conf

import (
	"slices"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

// Typed is what may be typed after a key: in a file in mm, and in one in inches where
// that differs. The zero Typed is nothing.
type Typed [2]string

// In is the text for a file in units u.
func (t Typed) In(u unit.System) string {
	if u == unit.Inch && t[1] != "" {
		return t[1]
	}
	return t[0]
}

// A Range bounds a number or a length: in mm, a feed in mm/min, an angle in degrees.
// The zero Range bounds nothing.
type Range struct {
	// Least is the least allowed, if Low says so; with Above what is more than Least
	// is allowed, and Least itself isn't.
	Least      float64
	Low, Above bool
	Most       float64 // the greatest allowed; 0: no bound
	Zero       bool    // 0 is allowed besides
}

// The commonest ranges.
var (
	Positive    = Range{Low: true, Above: true}
	NotNegative = Range{Low: true}
)

// From is the range from least to most, both allowed; a most of 0 bounds nothing.
func From(least, most float64) Range { return Range{Least: least, Low: true, Most: most} }

// UpTo is what is more than 0 and at most most.
func UpTo(most float64) Range { return Range{Low: true, Above: true, Most: most} }

// OrZero is r, and 0.
func (r Range) OrZero() Range {
	r.Zero = true
	return r
}

// holds reports whether v is within the range but for slack.
func (r Range) holds(v, slack float64) bool {
	switch {
	case r.Zero && v == 0:
		return true
	case r.Low && r.Above && v <= r.Least, r.Low && v < r.Least-slack:
		return false
	}
	return r.Most == 0 || v <= r.Most+slack
}

// A Key is one key of a table, and all that is said of it anywhere.
type Key struct {
	Name  string
	Is    Type
	Must  bool // it can't be left out
	Range Range
	Words []string // that a Word may be
	Unit  string   // of a Number: "rpm"
	// Default is what is taken where the key is left out, as it is typed; nothing: there
	// is none. Said is how notes and pages call it, where not by the value itself, or
	// what happens where there is no such value.
	Default Typed
	Said    string
	Quiet   bool // no note reports that the default was taken
	// Example is a value to type, for hints, and Ask what they add to it: what it is ("the
	// groove's depth"), or what else can be done (", or remove the key").
	Example Typed
	Ask     string
	Help    string // one line of what it is, without a full stop
	// For are the guides that have a use for the key, all if there are none; Else is why
	// the others haven't.
	For  []string
	Else string
}

// A Table is the keys of one table of a file.
type Table struct {
	Path  string // "" for the top, "motif.line"
	About string // a sentence or two on what it holds
	Any   *Type  // of a table whose keys anybody may name: what they are
	Keys  []Key
}

// Key is a key of the table; nil where it has none of the name.
func (t *Table) Key(name string) *Key {
	for i := range t.Keys {
		if t.Keys[i].Name == name {
			return &t.Keys[i]
		}
	}
	return nil
}

// Names are the table's keys in order.
func (t *Table) Names() []string {
	names := make([]string, len(t.Keys))
	for i, k := range t.Keys {
		names[i] = k.Name
	}
	return names
}

// A Format is all that a kind of file may hold.
type Format struct {
	Name  string // one word for it: "job"
	What  string // "a job file"
	Title string // of its page and its schema
	// MaxSize is the size in bytes beyond which a file is not read.
	MaxSize int
	Rule    func(Fault) string // the rules of findings; nil: the faults' own names
	Tables  []Table            // the top first, a table before those in it
}

// Table is a table of the format; nil where it has none of the path.
func (f *Format) Table(path string) *Table {
	for i := range f.Tables {
		if f.Tables[i].Path == path {
			return &f.Tables[i]
		}
	}
	return nil
}

// within are the tables that have a key, by path in order.
func (f *Format) within(name string) []string {
	var paths []string
	for _, t := range f.Tables {
		if t.Key(name) != nil {
			paths = append(paths, t.Path)
		}
	}
	slices.Sort(paths)
	return paths
}

// Unreadable reports whether findings of a file say that it could not be read at all: too
// large, not UTF-8, or not TOML.
func (f *Format) Unreadable(found diag.Findings) bool {
	return slices.ContainsFunc(found, func(one diag.Finding) bool {
		return one.Rule == f.rule(TooLarge) || one.Rule == f.rule(Encoding) || one.Rule == f.rule(Syntax)
	})
}

// rule is the rule of findings of a kind.
func (f *Format) rule(fault Fault) string {
	if f.Rule == nil {
		return fault.String()
	}
	return f.Rule(fault)
}

// A Fault is what may be wrong with any file.
type Fault int

// The faults; the first three mean that the file can't be read at all.
const (
	TooLarge Fault = iota
	Encoding
	Syntax
	Unknown
	Duplicate
	Missing
	WrongType
	BadValue
	BadExpression
)

var faults = [...]string{
	TooLarge: "too-large", Encoding: "encoding", Syntax: "syntax", Unknown: "unknown-key", Duplicate: "duplicate-key",
	Missing: "missing-key", WrongType: "wrong-type", BadValue: "bad-value", BadExpression: "bad-expression",
}

// String is the fault's name as a rule.
func (f Fault) String() string { return faults[f] }

// Named gives a format's faults their own names, but for those of files that can't be
// read at all, which begin with a word: "job-syntax".
func Named(word string) func(Fault) string {
	return func(f Fault) string {
		if f <= Syntax {
			return word + "-" + f.String()
		}
		return f.String()
	}
}

// several reports whether there may be several tables of a path: [[motif.line]].
func (f *Format) several(path string) bool {
	in, name := "", path
	if i := strings.LastIndexByte(path, '.'); i >= 0 {
		in, name = path[:i], path[i+1:]
	}
	t := f.Table(in)
	if t == nil {
		return false
	}
	k := t.Key(name)
	return k != nil && k.Is.form == formList && k.Is.of[0].form == formTable
}
