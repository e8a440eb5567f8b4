// Package measured reads cards: short TOML files into which somebody at the bench has
// written what calipers say. A measure is one reading or several, in the card's units
// or its own, or not there yet; a reading that is a slip of the pen is asked for and not
// used. What is measured, and what follows, is the matter of the rooms above.
//
// Lengths are mm.
package measured

import (
	"math"
	"slices"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

const (
	// MaxSize is the size in bytes beyond which a card is not read: a few lines for
	// each track.
	MaxSize = 1 << 20
	// farthest in mm is more than any caliper measures.
	farthest = 10_000
	// mostReadings of one measure.
	mostReadings = 20
	// rounding in mm is far under a caliper's last digit, and over the noise of
	// arithmetic with its readings.
	rounding = 1e-6
)

// Rules of findings about cards, besides those of package conf.
const (
	RuleUnmeasured = "unmeasured"
	RuleSlip       = "slip-of-the-pen"
)

// A Card is a card as read, less its measures.
type Card struct {
	File string
	Job  string // the job file's name, as the card has it; may be empty

	text *conf.File // nil of a card that was not read
}

// A Reading is one or several readings of one measure, mm; none where it was
// not measured.
type Reading struct {
	Values []float64
	Pos    diag.Position // the file alone where the card lacks the key

	marks []mark // of each value, as it was typed; none in a reading that was not read
}

// Mean is the readings' mean; NaN without any.
func (r Reading) Mean() float64 {
	if len(r.Values) == 0 {
		return math.NaN()
	}
	sum := 0.0
	for _, mm := range r.Values {
		sum += mm
	}
	return sum / float64(len(r.Values))
}

// Span is the least and the greatest reading; 0 without any.
func (r Reading) Span() (lo, hi float64) {
	if len(r.Values) == 0 {
		return 0, 0
	}
	return slices.Min(r.Values), slices.Max(r.Values)
}

// With is a reading with another's added to it; its place is the first's.
func (r Reading) With(o Reading) Reading {
	if r.Pos.File == "" {
		r.Pos = o.Pos
	}
	r.Values = slices.Concat(r.Values, o.Values)
	r.marks = slices.Concat(r.marks, o.marks)
	return r
}

// Errorf adds an error at a reading's place.
func (c Card) Errorf(found *diag.Findings, r Reading, rule, format string, args ...any) *diag.Finding {
	f := found.ErrorAt(c.place(r), rule, format, args...)
	return f.SetExcerpt(c.line(f.Pos.Line))
}

// Warnf adds a warning at a reading's place.
func (c Card) Warnf(found *diag.Findings, r Reading, rule, format string, args ...any) *diag.Finding {
	f := found.WarnAt(c.place(r), rule, format, args...)
	return f.SetExcerpt(c.line(f.Pos.Line))
}

func (c Card) place(r Reading) diag.Position {
	if r.Pos.File == "" {
		return diag.Position{File: c.File}
	}
	return r.Pos
}

func (c Card) line(n int) string {
	if c.text == nil {
		return ""
	}
	return c.text.Excerpt(n)
}

// Measure is what a key of a measure may be: a reading, or several; a text with nothing
// in it is not measured yet.
var Measure = conf.Either(conf.Length, conf.List(0, conf.Length))

// Range is what calipers measure.
var Range = conf.UpTo(farthest)

// Head are the keys that every card begins with.
func Head() []conf.Key {
	return []conf.Key{
		{Name: "job", Is: conf.Text, Example: conf.Typed{`"lid.toml"`}, Help: "the job file's name, without its folder"},
		{Name: "units", Is: conf.Word, Words: []string{"mm", "in"}, Said: "as in the job", Help: "what a bare number means in the card"},
	}
}

// Rule is the rules of findings about a card: what is wrong with an expression is a bad
// value.
func Rule(f conf.Fault) string {
	if f == conf.BadExpression {
		f = conf.BadValue
	}
	return conf.Named("card")(f)
}

// A Reader reads one card.
type Reader struct {
	*conf.Reader
	Card Card
}

// Open reads a card of a format into its values. file is its name in findings, units what
// a bare number means where the card doesn't say. When it is not OK there is nothing to
// read.
func Open(format *conf.Format, file string, data []byte, units unit.System) (r Reader, ok bool) {
	in, ok := conf.Open(format, file, data)
	in.Units = units
	return Reader{Reader: in, Card: Card{File: file, text: in.File}}, ok
}

// Top is the card as a table, its head read.
func (r *Reader) Top() conf.Section {
	top := r.Whole()
	if top.Given("units") {
		r.Units = unit.System(max(0, top.Word("units")))
	}
	r.Card.Job = top.Text("job")
	return top
}

// Reading is a measure, or a list of them; what is an empty text is left out. example is
// what hints show of one, as it is typed in each unit.
func (r *Reader) Reading(f conf.Field, example Example) Reading {
	out := Reading{Pos: r.At(f.Off)}
	items := []*conf.Value{f.Value}
	if f.Value.Kind == conf.KindList {
		items = f.Value.Items
	}
	if len(items) > mostReadings {
		r.Faultf(f.Value, conf.BadValue, "%s has %d readings", f.Name, len(items)).Hintf("give at most %d", mostReadings)
		return out
	}
	for _, v := range items {
		switch v.Kind {
		case conf.KindString, conf.KindInteger, conf.KindFloat:
			if v.Kind == conf.KindString && strings.TrimSpace(v.Text) == "" {
				continue
			}
			hint := "write " + example.Bare + ", or a length with its unit in quotes: " + example.Quoted
			if mm := r.Length(v, f.Name, Range, hint); mm > 0 {
				out.Values = append(out.Values, mm)
				out.marks = append(out.marks, newMark(r.At(v.Off), v.Text, mm))
			}
		case conf.KindTable, conf.KindList, conf.KindBool, conf.KindDate:
			r.Faultf(v, conf.WrongType, "%s must be a number, or a length in quotes, not %s", f.Name, v.Kind).
				Hintf(`write %s, %s, or "" where it is not measured yet`, example.Bare, example.Quoted)
		}
	}
	return out
}

// An Example is a measure as hints show it: a bare number, and one with its unit.
type Example struct{ Bare, Quoted string }

// Comment makes somebody's own words safe in a comment: one line, and no
// control characters, which TOML forbids there.
func Comment(s string) string {
	return strings.Map(func(c rune) rune {
		if c < ' ' || c == 0x7f || c == '\u2028' || c == '\u2029' || c == '\ufffd' {
			return '?'
		}
		return c
	}, s)
}

// Quoted is a TOML basic string.
func Quoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(Comment(s)) + `"`
}
