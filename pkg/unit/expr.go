package unit

// Expressions, read by recursive descent straight from the text: a sum of
// products of signed atoms. An atom is a number with its unit, a name, a
// function of its arguments, or a sum in brackets.

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"
)

const (
	// maxLength bounds an expression's text in bytes. Twenty times the longest
	// that a drawing has needed; what is longer is a mistake or an attack.
	maxLength = 1000
	// maxDepth bounds brackets within brackets and signs in a row, so that no
	// text can exhaust the stack. People get lost at five or so.
	maxDepth = 50
)

// An Error says what is wrong with an expression, and where.
type Error struct {
	Offset  int    // bytes from the start of the expression
	Msg     string // lower case, no full stop
	Hint    string // what to type instead; may be empty
	Unknown string // the name that is not defined, for the caller to find one like it
}

// Error is the message alone; the offset is for a caller who knows the file.
func (e *Error) Error() string { return e.Msg }

// ErrUndefined is what Env.Lookup returns for a name that it does not know.
var ErrUndefined = errors.New("undefined name")

// Env is what an expression is read against. The zero Env reads lengths in
// millimetres and knows no names.
type Env struct {
	System System // what a bare number means, and the result
	// Lookup gives a name's value in the System's units. Any error but
	// ErrUndefined ends the evaluation and is returned as it is.
	Lookup func(name string) (float64, error)
	Angle  bool // no units: the expression is an angle
	Ratio  bool // no units: it is a plain number
}

// Eval works out an expression in the units of env.System. An error is an
// *Error, or what env.Lookup returned. The result is finite.
func Eval(src string, env Env) (float64, error) {
	if len(src) > maxLength {
		return 0, &Error{
			Offset: maxLength, Msg: fmt.Sprintf("expression is longer than %d characters", maxLength),
			Hint: "give its parts names in [let]",
		}
	}
	p := parser{src: src, env: env}
	v, err := p.whole()
	if err != nil {
		return 0, err
	}
	return v + 0, nil // no negative zero
}

type parser struct {
	src    string
	pos    int
	env    Env
	depth  int  // brackets open
	inCall bool // the innermost bracket is a function's: a comma separates arguments
	unit   bool // the last atom was a number with a unit
}

func (p *parser) whole() (float64, error) {
	if p.space(); p.pos == len(p.src) {
		return 0, p.fail(0, "expression is empty", "write a number, such as 12.5")
	}
	v, err := p.sum()
	if err != nil {
		return 0, err
	}
	if p.pos < len(p.src) {
		return 0, p.unexpected()
	}
	return v, nil
}

func (p *parser) fail(offset int, msg, hint string) error {
	return &Error{Offset: offset, Msg: msg, Hint: hint}
}

// space skips white space.
func (p *parser) space() {
	for p.pos < len(p.src) && strings.IndexByte(" \t\r\n", p.src[p.pos]) >= 0 {
		p.pos++
	}
}

// peek is the next byte, 0 at the end.
func (p *parser) peek() byte { return p.at(p.pos) }

func (p *parser) at(i int) byte {
	if i < len(p.src) {
		return p.src[i]
	}
	return 0
}

func (p *parser) sum() (float64, error) {
	v, err := p.product()
	for err == nil {
		op, start := p.peek(), p.pos
		if op != '+' && op != '-' {
			return v, nil
		}
		p.pos++
		var w float64
		if w, err = p.product(); err != nil {
			break
		}
		if op == '-' {
			w = -w
		}
		v, err = p.finite(start, v+w)
	}
	return 0, err
}

func (p *parser) product() (float64, error) {
	v, err := p.signed()
	for err == nil {
		op, start := p.peek(), p.pos
		if op != '*' && op != '/' {
			return v, nil
		}
		p.pos++
		var w float64
		if w, err = p.signed(); err != nil {
			break
		}
		switch {
		case op == '*':
			v, err = p.finite(start, v*w)
		case p.unit:
			err = p.fail(start, "a unit after a division can be read two ways",
				"put the divisor in brackets, as in x / (2 in), or multiply, as in x/2 * 1 in; a fraction is written 9/64 in, without spaces")
		case w == 0:
			err = p.fail(start, "division by zero", "")
		default:
			v, err = p.finite(start, v/w)
		}
	}
	return 0, err
}

func (p *parser) signed() (float64, error) {
	neg, signs := false, 0
	for p.space(); p.peek() == '-' || p.peek() == '+'; p.space() {
		if p.peek() == '-' {
			neg = !neg
		}
		p.pos++
		if signs++; signs > maxDepth {
			return 0, p.fail(p.pos, "too many signs in a row", "")
		}
	}
	v, err := p.atom()
	p.space()
	if neg {
		v = -v
	}
	return v, err
}

func (p *parser) atom() (float64, error) {
	p.unit = false
	c := p.peek()
	switch {
	case p.pos == len(p.src):
		return 0, p.fail(p.pos, "expression ends too early", "a number, a name or a bracket is missing at the end")
	case isDigit(c), c == '.' && isDigit(p.at(p.pos+1)):
		return p.number()
	case c == '(':
		return p.bracket()
	case p.nameLen(p.pos) > 0:
		return p.nameOrCall()
	}
	return 0, p.unexpected()
}

func (p *parser) bracket() (float64, error) {
	outer := p.inCall
	p.inCall = false
	defer func() { p.inCall = outer }()
	start := p.pos
	v, err := p.inside(start)
	if err != nil {
		return 0, err
	}
	if p.peek() != ')' {
		return 0, p.unclosed(start)
	}
	p.pos++
	p.unit = false
	return v, p.noUnit("brackets")
}

// inside reads a sum after an opening bracket or a comma, minding the depth.
func (p *parser) inside(open int) (float64, error) {
	if p.depth++; p.depth > maxDepth {
		return 0, p.fail(open, fmt.Sprintf("brackets are more than %d deep", maxDepth), "give the parts names in [let]")
	}
	defer func() { p.depth-- }()
	p.pos++
	return p.sum()
}

func (p *parser) unclosed(open int) error {
	if p.pos < len(p.src) {
		return p.unexpected()
	}
	return p.fail(open, "bracket is not closed", "add the missing )")
}

// noUnit refuses a unit after anything but a number.
func (p *parser) noUnit(what string) error {
	start := p.pos
	p.space()
	word := p.src[p.pos : p.pos+p.nameLen(p.pos)]
	if p.peek() == '"' {
		word = "in"
	}
	if _, ok := unitInMM(word); ok {
		return p.fail(p.pos, "a unit goes with a number, not with "+what, fmt.Sprintf("multiply by it: ... * 1 %s", word))
	}
	p.pos = start
	return nil
}

// unexpected is the error for whatever stands at the current place.
func (p *parser) unexpected() error {
	start := p.pos
	c := p.peek()
	r, _ := utf8.DecodeRuneInString(p.src[start:])
	switch {
	case start == len(p.src):
		return p.fail(start, "expression ends too early", "")
	case c == ',' && isDigit(p.at(start+1)) && start > 0 && isDigit(p.src[start-1]):
		return p.fail(start, "a comma is not a decimal point", "write a point: "+p.pointed(start))
	case c == ',':
		return p.fail(start, "a comma belongs between the arguments of a function", "")
	case c == ')' && p.depth > 0:
		return p.fail(start, "something is missing before the closing bracket", "")
	case c == ')':
		return p.fail(start, "bracket was never opened", "remove the ) or add a (")
	case c == '^':
		return p.fail(start, `"^" is not known`, "write x * x for a square, sqrt(x) for a root")
	case c == '\'':
		return p.fail(start, "feet are not known", `write inches: 18 in or 18"`)
	case r == '”' || r == '“' || r == '″':
		return p.fail(start, fmt.Sprintf("%q is not known", r), `write in, or a straight "`)
	case unicode.Is(unicode.No, r) || r == '⁄':
		return p.fail(start, fmt.Sprintf("%q is not known", r), "write fractions with a plain stroke: 2 3/8")
	case isDigit(c), p.nameLen(start) > 0, c == '(':
		return p.fail(start, "an operator is missing here", "write * between the two, or the number as in 3 1/4")
	}
	return p.fail(start, fmt.Sprintf("%q is not known here", r), "lengths are made of numbers, names from [let], + - * / ( ) and units")
}

// pointed is the number round a decimal comma, with a point.
func (p *parser) pointed(comma int) string {
	from, to := comma, comma+1
	for from > 0 && isDigit(p.src[from-1]) {
		from--
	}
	for isDigit(p.at(to)) {
		to++
	}
	return p.src[from:comma] + "." + p.src[comma+1:to]
}

func (p *parser) finite(at int, v float64) (float64, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, p.fail(at, "the result is too large to be a length", "")
	}
	return v, nil
}

// nameLen is the length in bytes of the name that starts at i, 0 if none does.
func (p *parser) nameLen(i int) int {
	for n, r := range p.src[i:] {
		if !nameRune(r, n == 0) {
			return n
		}
	}
	return len(p.src) - i
}

func nameRune(r rune, first bool) bool {
	return r == '_' || unicode.IsLetter(r) || !first && unicode.IsDigit(r)
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }
