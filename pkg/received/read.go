package received

import (
	"bytes"
	"errors"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

const (
	// MaxSize is the size in bytes beyond which a card is not read: a line for
	// each track.
	MaxSize = 1 << 20
	// farthest in mm is more than any caliper measures.
	farthest = 10_000
	// mostReadings of one measure.
	mostReadings = 20
	// mostTold is how many mistakes are told before the rest is left.
	mostTold = 50
)

// Rules of findings that mean that the file cannot be read at all.
const (
	RuleTooLarge = "card-too-large"
	RuleEncoding = "card-encoding"
	RuleSyntax   = "card-syntax"
)

const (
	ruleUnknown    = "unknown-key"
	ruleOpening    = "unknown-opening"
	ruleDuplicate  = "duplicate-key"
	ruleType       = "wrong-type"
	ruleValue      = "bad-value"
	ruleUnmeasured = "unmeasured"
	ruleSlip       = "slip-of-the-pen"
)

// Unreadable reports whether findings of Read say that the file could not be
// read: too large, not UTF-8, or not TOML.
func Unreadable(found diag.Findings) bool {
	return slices.ContainsFunc(found, func(f diag.Finding) bool {
		return f.Rule == RuleTooLarge || f.Rule == RuleEncoding || f.Rule == RuleSyntax
	})
}

// Read reads a card. file is its name in findings, units what a bare number
// means where the card doesn't say, ids the openings that there are. The card
// means nothing when the findings have errors.
func Read(file string, data []byte, units unit.System, ids []string) (Card, diag.Findings) {
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	r := &reader{data: data, ids: ids, units: units, given: map[string]int{}}
	r.card = Card{File: file, Tracks: map[string]Reading{}}
	switch {
	case len(data) > MaxSize:
		r.found.ErrorAt(diag.Position{File: file}, RuleTooLarge, "the file is larger than %d KiB", MaxSize>>10).
			Hintf("a card is a short text; is this the right file?")
		return r.card, r.found
	case !utf8.Valid(data):
		r.found.ErrorAt(diag.Position{File: file}, RuleEncoding, "the file is not UTF-8 text").Hintf("save it again as UTF-8")
		return r.card, r.found
	}
	r.card.text = strings.Split(strings.ReplaceAll(string(data), "\r\n", "\n"), "\n")
	r.parse()
	r.found.Sort()
	r.found = r.found.In(r.units)
	return r.card, r.found
}

type reader struct {
	data  []byte
	ids   []string
	units unit.System
	card  Card
	given map[string]int // where each key was first given
	found diag.Findings
	p     unstable.Parser
}

// A value is a key's value, copied from the parser, which uses its nodes again.
type value struct {
	kind  unstable.Kind
	off   int
	text  string
	plain bool // a string without escapes: its text starts after the quote
	items []value
}

// A pair is a key of the card with its value.
type pair struct {
	key   string // with its table: "track.A1"
	off   int
	value value
}

// parse goes through the file twice: what a bare number means may be said
// after the first.
func (r *reader) parse() {
	pairs := r.pairs()
	if Unreadable(r.found) {
		return
	}
	for _, p := range pairs {
		if p.key == "units" {
			r.readUnits(p)
		}
	}
	for _, p := range pairs {
		r.take(p)
	}
}

// pairs lists the keys of the whole file.
func (r *reader) pairs() []pair {
	var list []pair
	table := ""
	r.p.Reset(r.data)
	for r.p.NextExpression() {
		e := r.p.Expression()
		name, off := path(e.Key())
		switch e.Kind {
		case unstable.KeyValue:
			p := pair{key: table + name, off: off, value: r.value(e.Value())}
			if r.once(p.key, off) {
				list = append(list, p)
			}
		case unstable.Table:
			table = name + "."
			if name != "track" {
				r.errorf(ruleUnknown, off, "there is no table [%s] in a card", name).Hintf("the tracks' widths come below [track]")
			} else {
				r.once(name, off)
			}
		case unstable.ArrayTable:
			table = name + "."
			r.errorf(ruleUnknown, off, "there is no list of tables [[%s]] in a card", name).Hintf("the tracks' widths come below [track]")
		default: // comments are not handed out
		}
	}
	var bad *unstable.ParserError
	if err := r.p.Error(); errors.As(err, &bad) {
		off := len(r.data)
		if len(bad.Highlight) > 0 {
			off = int(r.p.Range(bad.Highlight).Offset)
		}
		hint := `write A1 = 101.9, or a length with its unit in quotes: A1 = "4.01 in"`
		if number := decimalComma.FindString(r.card.line(r.at(off).Line)); number != "" {
			hint = "a decimal has a point: write " + strings.Replace(number, ",", ".", 1)
		}
		r.errorf(RuleSyntax, off, "this is not TOML: %s", bad.Message).Hintf("%s", hint)
	} else if err != nil {
		r.errorf(RuleSyntax, 0, "this is not TOML").Hintf("build the job again for an empty card")
	}
	return list
}

// decimalComma is a number with a comma for its point.
var decimalComma = regexp.MustCompile(`[0-9]+,[0-9]+`)

// once tells a key that was given before.
func (r *reader) once(key string, off int) bool {
	first, twice := r.given[key]
	switch {
	case twice && r.full():
		return false // finding the line takes a look at the whole file
	case twice:
		r.errorf(ruleDuplicate, off, "%s is given twice", key).Hintf("it was first given on line %d", r.at(first).Line)
		return false
	}
	r.given[key] = off
	return true
}

// path is a dotted key, and where it begins.
func path(it unstable.Iterator) (name string, off int) {
	var parts []string
	for it.Next() {
		k := it.Node()
		if len(parts) == 0 {
			off = int(k.Raw.Offset)
		}
		parts = append(parts, string(k.Data))
	}
	return strings.Join(parts, "."), off
}

func (r *reader) value(n *unstable.Node) value {
	v := value{kind: n.Kind, off: int(n.Raw.Offset), text: string(n.Data)}
	if n.Kind == unstable.Array {
		for it := n.Children(); it.Next(); {
			v.items = append(v.items, r.value(it.Node()))
		}
		return v
	}
	raw := r.p.Raw(n.Raw)
	v.plain = len(raw) == len(n.Data)+2
	return v
}

// take puts one key where it belongs.
func (r *reader) take(p pair) {
	switch p.key {
	case "units":
		return
	case "job":
		if p.value.kind != unstable.String {
			r.errorf(ruleType, p.off, "job must be a text").Hintf(`write the job file's name in quotes: job = "lid.toml"`)
		}
		r.card.Job = p.value.text
		return
	case "rider":
		r.card.Rider = r.reading(p, "rider")
		return
	case "bit":
		r.card.Bit = r.reading(p, "bit")
		return
	case "track":
		r.errorf(ruleType, p.off, "track must be a table").Hintf("write [track] on a line of its own, and the widths below")
		return
	}
	id, ok := strings.CutPrefix(p.key, "track.")
	if !ok {
		r.unknown(p)
		return
	}
	if !slices.Contains(r.ids, id) {
		r.errorf(ruleOpening, p.off, "there is no track %q in this job", id).Hintf("%s", r.meant(id))
		return
	}
	r.card.Tracks[id] = r.reading(p, id)
}

func (r *reader) unknown(p pair) {
	if slices.Contains(r.ids, p.key) {
		r.errorf(ruleUnknown, p.off, "the track %s stands outside [track]", p.key).Hintf("write [track] on a line above it")
		return
	}
	hint := "a card has job, units, rider, bit and [track]"
	if near := diag.Nearest(strings.ToLower(p.key), []string{"job", "units", "rider", "bit", "track"}); near != "" {
		hint = "did you mean " + near + "?"
	}
	if strings.Contains(p.key, ".") {
		hint = "the tracks' widths come below [track]"
	}
	r.errorf(ruleUnknown, p.off, "there is no key %q in a card", p.key).Hintf("%s", hint)
}

// meant is the hint for a track that there isn't.
func (r *reader) meant(id string) string {
	const few = 12
	if near := diag.Nearest(strings.ToUpper(id), r.ids); near != "" {
		return "did you mean " + near + "?"
	}
	if len(r.ids) == 0 {
		return "this job has no tracks"
	}
	if len(r.ids) > few {
		return "there are " + strings.Join(r.ids[:few], ", ") + " and more: see received.toml beside the set-up sheet"
	}
	return "there are " + strings.Join(r.ids, ", ")
}

func (r *reader) readUnits(p pair) {
	switch {
	case p.value.kind == unstable.String && p.value.text == "mm":
		r.units = unit.MM
	case p.value.kind == unstable.String && p.value.text == "in":
		r.units = unit.Inch
	default:
		r.errorf(ruleValue, p.value.off, "units must be mm or in").Hintf(`write units = "mm" or units = "in"`)
	}
}

// reading is a measure, or a list of them; what is an empty text is left out.
func (r *reader) reading(p pair, what string) Reading {
	out := Reading{Pos: r.at(p.off)}
	items := []value{p.value}
	if p.value.kind == unstable.Array {
		items = p.value.items
	}
	if len(items) > mostReadings {
		r.errorf(ruleValue, p.off, "%s has %d readings", what, len(items)).Hintf("give at most %d", mostReadings)
		return out
	}
	for _, v := range items {
		if v.kind == unstable.String && strings.TrimSpace(v.text) == "" {
			continue
		}
		if mm, ok := r.length(v, what); ok {
			out.Values = append(out.Values, mm)
			out.marks = append(out.marks, newMark(r.at(v.off), v.text, mm))
		}
	}
	return out
}

// length is one reading in mm; false where it was wrong and told.
func (r *reader) length(v value, what string) (float64, bool) {
	var mm float64
	switch v.kind {
	case unstable.Integer, unstable.Float:
		n, err := strconv.ParseFloat(strings.ReplaceAll(v.text, "_", ""), 64)
		if err != nil || math.IsNaN(n) || math.IsInf(n, 0) {
			r.errorf(ruleValue, v.off, "%s cannot be %s", what, v.text).Hintf("write a number: 101.9")
			return 0, false
		}
		mm = n * r.units.InMM()
	case unstable.String:
		n, err := unit.Eval(v.text, unit.Env{System: r.units})
		if err != nil {
			r.badExpression(v, what, err)
			return 0, false
		}
		mm = n * r.units.InMM()
	default:
		r.errorf(ruleType, v.off, "%s must be a number, or a length in quotes", what).Hintf(`write 101.9, "4.01 in", or "" where it is not measured yet`)
		return 0, false
	}
	if !(mm > 0 && mm <= farthest) {
		r.errorf(ruleValue, v.off, "%s cannot be %s", what, unit.Len(mm)).Hintf("is the unit right? a bare number means %s here", r.units.Name())
		return 0, false
	}
	return mm, true
}

func (r *reader) badExpression(v value, what string, err error) {
	off, msg, hint := v.off, err.Error(), `write 101.9, or a length with its unit in quotes: "4.01 in"`
	var e *unit.Error
	if errors.As(err, &e) {
		if v.plain {
			off += 1 + e.Offset
		}
		if e.Hint != "" {
			hint = e.Hint
		}
	}
	r.errorf(ruleValue, off, "%s: %s", what, msg).Hintf("%s", hint)
}

// full reports whether enough is told.
func (r *reader) full() bool { return len(r.found) >= mostTold }

// at is the place of a byte; columns count characters.
func (r *reader) at(off int) diag.Position {
	off = min(max(off, 0), len(r.data))
	before := r.data[:off]
	start := bytes.LastIndexByte(before, '\n') + 1
	return diag.Position{
		File: r.card.File, Line: bytes.Count(before, []byte("\n")) + 1,
		Col: utf8.RuneCount(before[start:]) + 1,
	}
}

func (r *reader) errorf(rule string, off int, format string, args ...any) *diag.Finding {
	if r.full() && rule != RuleSyntax {
		return &diag.Finding{}
	}
	f := r.found.ErrorAt(r.at(off), rule, format, args...)
	return f.SetExcerpt(r.card.line(f.Pos.Line))
}
