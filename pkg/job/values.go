package job

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// farthest is the largest length and coordinate in mm that makes sense: 100 m,
// beyond any room.
const farthest = 100_000

// A value that is missing or wrong is told where it is read, and from then on
// is NaN: every comparison with it is false, so one mistake is told once.
var bad = math.NaN()

// reader turns the tree into a Job, collecting all that is wrong.
type reader struct {
	src      *source
	units    unit.System
	let      map[string]*name
	path     []*name // of [let], each wanted by the one before
	findings diag.Findings
	more     diag.Counts // findings that there was no room for
	notes    diag.Findings

	forProgram bool // only what a machine needs is made from the file
}

func (r *reader) full() bool { return len(r.findings) >= diag.Most }

// miss counts a finding that there is no room for.
func (r *reader) miss(s diag.Severity) *diag.Finding {
	r.more[s]++
	return &diag.Finding{} // to be filled in and shown to nobody
}

// top is the place of what the file lacks: its first line, which is not shown,
// having nothing to do with it.
const top = -1

// place is the position and the line of a byte of the file.
func (r *reader) place(off int) (diag.Position, string) {
	pos := r.src.at(off)
	if off == top {
		return pos, ""
	}
	return pos, r.src.excerpt(pos.Line)
}

// errorf adds an error at a byte of the file.
func (r *reader) errorf(rule string, off int, format string, args ...any) *diag.Finding {
	if r.full() {
		return r.miss(diag.Error)
	}
	pos, line := r.place(off)
	return r.findings.ErrorAt(pos, rule, format, args...).SetExcerpt(line)
}

func (r *reader) warnf(rule string, off int, format string, args ...any) *diag.Finding {
	if r.full() {
		return r.miss(diag.Warning)
	}
	pos, line := r.place(off)
	return r.findings.WarnAt(pos, rule, format, args...).SetExcerpt(line)
}

func (r *reader) notef(rule string, off int, format string, args ...any) *diag.Finding {
	pos, line := r.place(off)
	return r.notes.NoteAt(pos, rule, format, args...).SetExcerpt(line)
}

// wrongType tells that a value is of the wrong kind.
func (r *reader) wrongType(n *node, what, want, hint string) {
	r.errorf(ruleType, n.off, "%s must be %s, not %s", what, want, n.kind).Hintf("%s", hint)
}

// number is a bare number or an expression, in the file's units; NaN if it
// was wrong and told.
func (r *reader) number(n *node, what string, angle bool) float64 {
	switch n.kind {
	case nodeInteger, nodeFloat:
		return r.plain(n, what)
	case nodeString:
		return r.expression(n, what, angle)
	case nodeTable, nodeList, nodeBool, nodeDate:
		r.wrongType(n, what, "a number or an expression", `write 12.5, or an expression in quotes: "inset + 80 mm"`)
	}
	return bad
}

// plain is a number as TOML writes it.
func (r *reader) plain(n *node, what string) float64 {
	v, err := strconv.ParseFloat(strings.ReplaceAll(n.text, "_", ""), 64)
	switch {
	case strings.Contains(n.text, "nan"), strings.Contains(n.text, "inf"):
		r.errorf(ruleValue, n.off, "%s cannot be %s", what, n.text).Hintf("write a number")
	case errors.Is(err, strconv.ErrRange):
		r.errorf(ruleValue, n.off, "%s is too large a number", what)
	case err != nil, len(n.text) > 1 && (n.text[1] == 'x' || n.text[1] == 'o' || n.text[1] == 'b'):
		r.errorf(ruleValue, n.off, "%s must be written in decimal, not as %s", what, n.text)
	default:
		return v + 0 // no negative zero
	}
	return bad
}

func (r *reader) expression(n *node, what string, angle bool) float64 {
	v, err := unit.Eval(n.text, unit.Env{System: r.units, Lookup: r.lookup, Angle: angle})
	if err == nil {
		return v
	}
	var e *unit.Error
	if !errors.As(err, &e) {
		return bad // a name whose own mistake is told where it stands
	}
	off := n.off
	if n.textOff >= 0 {
		off = n.textOff + e.Offset
	}
	hint := e.Hint
	if r.full() {
		r.miss(diag.Error)
		return bad
	}
	if near := diag.Nearest(e.Unknown, append(r.names(), unit.Words()...)); near != "" {
		hint = "did you mean " + near + "?"
	}
	r.errorf(ruleExpression, off, "%s: %s", what, e.Msg).Hintf("%s", hint)
	return bad
}

// bound says which lengths make sense for a key.
type bound int

const (
	anywhere    bound = iota // a coordinate
	notNegative              // a length that may be nothing
	positive                 // a length
)

// length is a length in mm.
func (r *reader) length(n *node, what string, b bound) float64 {
	v := r.number(n, what, false) * r.units.InMM()
	switch {
	case math.Abs(v) > farthest:
		r.errorf(ruleValue, n.off, "%s of %s is beyond 100 m", what, r.show(v)).Hintf("is the unit right? a bare number means %s here", r.units.Name())
	case b == positive && v <= 0:
		r.errorf(ruleValue, n.off, "%s must be more than 0, not %s", what, r.show(v))
	case b == notNegative && v < 0:
		r.errorf(ruleValue, n.off, "%s must not be negative, as %s is", what, r.show(v))
	default:
		return v
	}
	return bad
}

// show is a length in mm as the file's maker writes it.
func (r *reader) show(mm float64) string { return unit.Len(mm).In(r.units) }

// typed is a length as the file's maker types it after a key.
func (r *reader) typed(q unit.Quantity) string { return q.Typed().In(r.units) }

// either is an example for a file in mm, or for one in inches.
func (r *reader) either(mm, inch string) string {
	if r.units == unit.Inch {
		return inch
	}
	return mm
}

// A preset is what a length is where a file is silent: a round number in mm, or
// one in inches.
type preset struct{ mm, inch float64 }

// of is the preset of a file in units u, in mm.
func (p preset) of(u unit.System) float64 {
	if u == unit.Inch {
		return p.inch * unit.MMPerInch
	}
	return p.mm
}

// usual shows a preset.
func (r *reader) usual(p preset) string { return r.show(p.of(r.units)) }

// presetOr is the length of a key, or its preset.
func (r *reader) presetOr(t *node, key string, b bound, p preset) float64 {
	return r.lengthOr(t, key, b, p.of(r.units))
}

// angle is an angle in radians, written in degrees.
func (r *reader) angle(n *node, what string) float64 {
	v := r.number(n, what, true)
	if math.Abs(v) > farthest {
		r.errorf(ruleValue, n.off, "%s is far more than a full turn", what).Hintf("angles are in degrees")
		return bad
	}
	return v * (math.Pi / 180)
}

// point is a pair of coordinates in mm.
func (r *reader) point(n *node, what string) geom.Point {
	if n.kind != nodeList {
		r.wrongType(n, what, "a point", "write [x, y]")
		return geom.Pt(bad, bad)
	}
	if len(n.items) != 2 {
		r.errorf(ruleType, n.off, "%s must have two coordinates, not %d", what, len(n.items)).Hintf("write [x, y]; decimals have a point")
		return geom.Pt(bad, bad)
	}
	return geom.Pt(r.length(n.items[0], what+": x", anywhere), r.length(n.items[1], what+": y", anywhere))
}

// pointList reports whether a value is a list of lists, as points are; if not
// it is told.
func (r *reader) pointList(n *node, what string) bool {
	switch {
	case n.kind != nodeList:
		r.wrongType(n, what, "a list of points", "write "+what+" = [[x, y], [x, y]]")
	case len(n.items) == 2 && n.items[0].kind != nodeList && n.items[1].kind != nodeList:
		r.errorf(ruleType, n.off, "%s must be a list of points, not one point", what).Hintf("write %s = [[x, y]]", what)
	default:
		return true
	}
	return false
}

// text is a line of text; "" if it was wrong and told.
func (r *reader) text(n *node, what string) string {
	if n.kind != nodeString {
		r.wrongType(n, what, "a text", "write it in quotes")
		return ""
	}
	if strings.ContainsFunc(n.text, func(c rune) bool { return c < ' ' || c == 0x7f }) {
		r.errorf(ruleValue, n.off, "%s must be one line without control characters", what)
		return ""
	}
	const longest = 200 // characters; a title fills two lines of a page
	if len([]rune(n.text)) > longest {
		r.errorf(ruleValue, n.off, "%s is longer than %d characters", what, longest)
		return ""
	}
	return n.text
}

func (r *reader) flag(n *node, what string) bool {
	if n.kind != nodeBool {
		r.wrongType(n, what, "true or false", "write true or false, without quotes")
	}
	return n.text == "true"
}

// choice is the index of a word in a list, -1 if it was wrong and told.
func (r *reader) choice(n *node, what string, words ...string) int {
	hint := "write one of: " + `"` + strings.Join(words, `", "`) + `"`
	if n.kind != nodeString {
		r.wrongType(n, what, "a word in quotes", hint)
		return -1
	}
	for i, w := range words {
		if n.text == w {
			return i
		}
	}
	if near := diag.Nearest(strings.ToLower(n.text), words); near != "" {
		hint = fmt.Sprintf("did you mean %q?", near)
	}
	r.errorf(ruleValue, n.off, "%s cannot be %q", what, n.text).Hintf("%s", hint)
	return -1
}
