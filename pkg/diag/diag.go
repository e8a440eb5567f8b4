// Package diag holds findings about a job: where each is, how bad it is, what
// to do about it, and how it prints.
//
// A finding names a place in a file, a place on the work, or both. Findings
// are collected, so that a person sees all that is wrong with a job in one go.
package diag

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"strapwork/pkg/unit"
)

// A Position is a place in a file that a person wrote. Line and Col count from
// 1; a Line of 0 means that the place is not known.
type Position struct {
	File string
	Line int
	Col  int // in characters, not bytes
}

// String is file:line:col, without the parts that are not known.
func (p Position) String() string {
	switch {
	case p.Line <= 0:
		return p.File
	case p.Col <= 0:
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	case p.File == "":
		return fmt.Sprintf("%d:%d", p.Line, p.Col)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col)
}

// compare orders positions by file, line and column.
func (p Position) compare(q Position) int {
	if c := strings.Compare(p.File, q.File); c != 0 {
		return c
	}
	if p.Line != q.Line {
		return p.Line - q.Line
	}
	return p.Col - q.Col
}

// A Key is a key of the job file, as in "router.rider" or "motif.circle.2.radius":
// lists count from 1. Stages name what a finding is about by it, since they don't
// know the file; who does turns it into a Position, see Findings.Locate. What is wrong
// within a profile or a card has the key of that file.
type Key string

// Severity says what a finding stops.
type Severity int

const (
	// Note says what was assumed or chosen; nothing is wrong.
	Note Severity = iota
	// Warning is something that a person should look at before cutting.
	Warning
	// Error means that the job cannot be made as asked.
	Error
)

var severityWords = [...]string{
	Note:    "note",
	Warning: "warning",
	Error:   "error",
}

// String is the word that findings print with: note, warning or error.
func (s Severity) String() string { return unit.Word(severityWords[:], s, "severity") }

// MarshalText writes the severity as its word, for JSON.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// A Finding is one thing to report about a job.
type Finding struct {
	Rule     string // a stable, short name such as "unknown-key", for programs
	Severity Severity
	Key      Key        // what it is about; empty where only a place in a file is known
	Pos      Position   // the place of that in its file; unknown until it is located
	Message  string     // lower case, no full stop
	Hint     string     // what to type or do next; may be empty
	Excerpt  string     // the line of the file at Pos; may be empty
	At       [2]float64 // a place on the work, mm from the motif's origin, if HasAt
	HasAt    bool
	Also     [][2]float64 // more places of the same fault, of which there is no other finding
	More     Counts       // of a finding that only counts others that are not shown: how many
	Cures    []Cure       // changes of which each ends the finding by itself

	// said and advised are Message and Hint before their amounts are put into
	// units; nil where there are none, or once In has said in which.
	said, advised *unit.Text
}

// Error is the finding on one line, without its hint: file:line:col: error:
// text.
func (f Finding) Error() string {
	head := fmt.Sprintf("%s: %s", f.Severity, f.Message)
	if pos := f.Pos.String(); pos != "" {
		return pos + ": " + head
	}
	return head
}

// Hintf sets the hint, made like fmt.Sprintf, and returns f. Arguments that are a
// unit.Amount are in mm until In says otherwise.
func (f *Finding) Hintf(format string, args ...any) *Finding {
	f.Hint, f.advised = said(format, args...)
	return f
}

// said is a sentence with its amounts in mm, and what it is made of if it has
// amounts.
func said(format string, args ...any) (string, *unit.Text) {
	text := unit.Say(format, args...)
	if !text.HasAmounts() {
		return text.String(), nil
	}
	return text.String(), &text
}

// Said is the message as a part of another: its amounts are put into units with
// that one's.
func (f Finding) Said() unit.Text {
	if f.said != nil {
		return *f.said
	}
	return unit.Say("%s", f.Message)
}

// Addf adds to the message, made like fmt.Sprintf.
func (f *Finding) Addf(format string, args ...any) {
	f.Message, f.said = said("%s%s", f.Said(), unit.Say(format, args...))
}

// In is f with its amounts in the units of s. It does so once: a finding about a
// program in inches stays in inches among those of a job in mm.
func (f Finding) In(s unit.System) Finding {
	if f.said != nil {
		f.Message = f.said.In(s)
	}
	if f.advised != nil {
		f.Hint = f.advised.In(s)
	}
	f.said, f.advised = nil, nil
	f.Cures = curesIn(f.Cures, s)
	return f
}

// SetAt sets the place on the work, in mm from the motif's origin, and
// returns f.
func (f *Finding) SetAt(x, y float64) *Finding {
	f.At, f.HasAt = [2]float64{x, y}, true
	return f
}

// AlsoAt adds a place of the same fault, in mm from the motif's origin, and returns f.
func (f *Finding) AlsoAt(x, y float64) *Finding {
	f.Also = append(f.Also, [2]float64{x, y})
	return f
}

// SetExcerpt sets the line of the file that f is about, and returns f.
func (f *Finding) SetExcerpt(line string) *Finding {
	f.Excerpt = line
	return f
}

// Findings is a list of findings, in the order in which they were made until
// Sort is called.
type Findings []Finding

// New returns a finding about a key, whose message is made like fmt.Sprintf.
// Arguments that are a unit.Amount are in mm until In says otherwise.
func New(s Severity, key Key, rule, format string, args ...any) Finding {
	f := NewAt(s, Position{}, rule, format, args...)
	f.Key = key
	return f
}

// NewAt is New about a place in a file.
func NewAt(s Severity, pos Position, rule, format string, args ...any) Finding {
	f := Finding{Rule: rule, Severity: s, Pos: pos}
	f.Message, f.said = said(format, args...)
	return f
}

// Locate gives findings that have a key and no place the place where find says that
// the key stands.
func (fs Findings) Locate(find func(Key) Position) {
	for i, f := range fs {
		if f.Key != "" && f.Pos.Line == 0 {
			fs[i].Pos = find(f.Key)
		}
	}
}

// In is the findings with their amounts in the units of s, see Finding.In.
func (fs Findings) In(s unit.System) Findings {
	out := slices.Clone(fs)
	for i := range out {
		out[i] = out[i].In(s)
	}
	return out
}

// Add appends a finding.
func (fs *Findings) Add(f ...Finding) { *fs = append(*fs, f...) }

// Errorf appends an error about a key and returns it, so that Hintf, SetAt and
// SetExcerpt can be chained: the pointer is good until the next finding is
// added.
func (fs *Findings) Errorf(key Key, rule, format string, args ...any) *Finding {
	return fs.add(New(Error, key, rule, format, args...))
}

// Warnf appends a warning and returns it like Errorf.
func (fs *Findings) Warnf(key Key, rule, format string, args ...any) *Finding {
	return fs.add(New(Warning, key, rule, format, args...))
}

// Notef appends a note and returns it like Errorf.
func (fs *Findings) Notef(key Key, rule, format string, args ...any) *Finding {
	return fs.add(New(Note, key, rule, format, args...))
}

// ErrorAt is Errorf about a place in a file.
func (fs *Findings) ErrorAt(pos Position, rule, format string, args ...any) *Finding {
	return fs.add(NewAt(Error, pos, rule, format, args...))
}

// WarnAt is Warnf about a place in a file.
func (fs *Findings) WarnAt(pos Position, rule, format string, args ...any) *Finding {
	return fs.add(NewAt(Warning, pos, rule, format, args...))
}

// NoteAt is Notef about a place in a file.
func (fs *Findings) NoteAt(pos Position, rule, format string, args ...any) *Finding {
	return fs.add(NewAt(Note, pos, rule, format, args...))
}

func (fs *Findings) add(f Finding) *Finding {
	*fs = append(*fs, f)
	return &(*fs)[len(*fs)-1]
}

// HasErrors reports whether any finding is an error.
func (fs Findings) HasErrors() bool {
	return slices.ContainsFunc(fs, func(f Finding) bool { return f.Severity == Error })
}

// Count is the number of findings of one severity, those not shown among them.
func (fs Findings) Count(s Severity) int { return fs.counts()[s] }

// counts is how many findings there are, those not shown among them.
func (fs Findings) counts() (n Counts) {
	for _, f := range fs {
		n.add(f)
	}
	return n
}

// Sort orders the findings as they are read: errors, then warnings, then notes, each
// by file, line and column; findings at one place keep the order in which they
// were made. One that counts those not shown stays at the end.
func (fs Findings) Sort() {
	slices.SortStableFunc(fs, func(a, b Finding) int {
		return cmp.Or(
			cmp.Compare(min(a.More.Sum(), 1), min(b.More.Sum(), 1)),
			cmp.Compare(b.Severity, a.Severity),
			a.Pos.compare(b.Pos),
		)
	})
}

// InOrder is fs sorted.
func (fs Findings) InOrder() Findings {
	out := slices.Clone(fs)
	out.Sort()
	return out
}

// Err is fs as an error if any finding is one, otherwise nil.
func (fs Findings) Err() error {
	if fs.HasErrors() {
		return fs
	}
	return nil
}

// Error is every finding on its own line, in the order of the list.
func (fs Findings) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap lets errors.As find a Finding.
func (fs Findings) Unwrap() []error {
	errs := make([]error, len(fs))
	for i, f := range fs {
		errs[i] = f
	}
	return errs
}
