package unit

import (
	"fmt"
	"strconv"
	"strings"
)

// number reads a number with its unit, if any: 12.5, 1e3, 9/64 in, 3 1/4.
// A fraction counts as one number where a unit follows or a whole number goes
// before; otherwise 1/4 is left to be a division, which comes to the same.
func (p *parser) number() (float64, error) {
	start := p.pos
	v, whole, err := p.decimal()
	if err != nil {
		return 0, err
	}
	if whole {
		if err := p.ambiguous(start); err != nil {
			return 0, err
		}
		if v, err = p.fraction(start, v); err != nil {
			return 0, err
		}
	}
	if c := p.peek(); c == ',' && isDigit(p.at(p.pos+1)) && !p.inCall {
		return 0, p.unexpected()
	}
	return p.suffix(v)
}

// decimal reads digits with a point and an exponent; whole reports that there
// was neither.
func (p *parser) decimal() (v float64, whole bool, err error) {
	start := p.pos
	p.digits()
	whole = true
	if p.peek() == '.' {
		whole = false
		p.pos++
		p.digits()
	}
	if c := p.peek(); c == 'e' || c == 'E' {
		i := p.pos + 1
		if s := p.at(i); s == '+' || s == '-' {
			i++
		}
		if isDigit(p.at(i)) {
			whole = false
			p.pos = i
			p.digits()
		}
	}
	text := p.src[start:p.pos]
	v, perr := strconv.ParseFloat(text, 64)
	if perr != nil {
		return 0, false, p.fail(start, fmt.Sprintf("%s is too large a number", text), "")
	}
	if p.peek() == '.' {
		return 0, false, p.fail(p.pos, "a second decimal point", "")
	}
	return v, whole, nil
}

func (p *parser) digits() {
	for isDigit(p.peek()) {
		p.pos++
	}
}

// slashed measures a tight fraction "1/4" that starts at i: its length in
// bytes, 0 if there is none. "1/4.5" and "1/4e2" are divisions.
func (p *parser) slashed(i int) int {
	j := i
	for isDigit(p.at(j)) {
		j++
	}
	if j == i || p.at(j) != '/' {
		return 0
	}
	k := j + 1
	for isDigit(p.at(k)) {
		k++
	}
	if k == j+1 || p.at(k) == '.' {
		return 0
	}
	return k - i
}

// ambiguous refuses 3-1/4, which one maker means as 3.25 and another as 2.75.
func (p *parser) ambiguous(start int) error {
	if p.peek() != '-' {
		return nil
	}
	n := p.slashed(p.pos + 1)
	if n == 0 {
		return nil
	}
	whole, frac := p.src[start:p.pos], p.src[p.pos+1:p.pos+1+n]
	after := parser{src: p.src, pos: p.pos + 1 + n}
	_, n = after.unitAhead()
	unit := p.src[after.pos : after.pos+n]
	return p.fail(start, fmt.Sprintf("%s-%s can be read two ways", whole, frac),
		fmt.Sprintf("write %s %s%s for the mixed number, or %s%s - %s%s to subtract", whole, frac, unit, whole, unit, frac, unit))
}

// fraction goes on from a whole number v to 3 1/4, or to 9/64 in.
func (p *parser) fraction(start int, v float64) (float64, error) {
	after := p.pos
	if n := p.slashed(start); n > 0 {
		p.pos = start + n
		if _, n := p.unitAhead(); n > 0 {
			return p.quotient(start)
		}
		p.pos = after
		return v, nil
	}
	p.space()
	if n := p.slashed(p.pos); n > 0 && p.pos > after {
		at := p.pos
		p.pos += n
		q, err := p.quotient(at)
		if err == nil && q >= 1 {
			err = p.fail(at, "the fraction of a mixed number must be less than 1", "")
		}
		return v + q, err
	}
	p.pos = after
	return v, nil
}

// quotient is the value of the fraction from start to the current place.
func (p *parser) quotient(start int) (float64, error) {
	text := p.src[start:p.pos]
	for i := range text {
		if text[i] != '/' {
			continue
		}
		a, errA := strconv.ParseFloat(text[:i], 64)
		b, errB := strconv.ParseFloat(text[i+1:], 64)
		switch {
		case errA != nil || errB != nil:
			return 0, p.fail(start, text+" has too large a number in it", "")
		case b == 0:
			return 0, p.fail(start+i, "division by zero", "")
		}
		return a / b, nil
	}
	return 0, p.fail(start, text+" is not a fraction", "")
}

// unitAhead finds a unit after optional white space: its size in mm and how
// many bytes there are up to its end, 0 if there is none.
func (p *parser) unitAhead() (mm float64, n int) {
	i := p.pos
	for i < len(p.src) && (p.src[i] == ' ' || p.src[i] == '\t') {
		i++
	}
	if p.at(i) == '"' {
		return MMPerInch, i + 1 - p.pos
	}
	l := p.nameLen(i)
	if mm, ok := unitInMM(p.src[i : i+l]); ok {
		return mm, i + l - p.pos
	}
	return 0, 0
}

// suffix reads the unit of a number and converts it to the system's.
func (p *parser) suffix(v float64) (float64, error) {
	mm, n := p.unitAhead()
	at := p.pos
	switch {
	case n == 0:
		return v, p.stray(v)
	case p.env.Angle:
		p.space()
		return 0, p.fail(p.pos, "an angle takes no unit", "angles are in degrees: 270")
	case p.env.Ratio:
		p.space()
		return 0, p.fail(p.pos, "a share takes no unit", "write 0.5, or 1/3")
	}
	p.pos += n
	p.unit = true
	return p.finite(at, v*(mm/p.env.System.InMM()))
}

// stray refuses a word right after a number that is no unit.
func (p *parser) stray(v float64) error {
	at := p.pos
	p.space()
	n := p.nameLen(p.pos)
	if n == 0 {
		p.pos = at
		return nil
	}
	word := p.src[p.pos : p.pos+n]
	if meant := meantUnit(word); meant != "" {
		return p.fail(p.pos, fmt.Sprintf("%q is not a unit", word), "write "+meant)
	}
	if p.pos == at {
		return p.fail(p.pos, fmt.Sprintf("%q is not a unit", word), `units are mm, cm, in and "`)
	}
	return p.fail(p.pos, fmt.Sprintf("a number and %q side by side", word),
		fmt.Sprintf("write %s * %s, or a unit: mm, cm, in", Decimal(v, maxDecimals), word))
}

// meantUnit is what to write for a unit that is written otherwise, or that there
// isn't; empty for other words.
func meantUnit(word string) string {
	switch strings.ToLower(word) {
	case "in", "inch", "inches", "ins":
		return "in, as in 3/8 in"
	case "mm", "mms", "millimeter", "millimeters", "millimetre", "millimetres":
		return "mm, as in 9 mm"
	case "cm", "cms", "centimeter", "centimeters", "centimetre", "centimetres":
		return "cm, as in 1.2 cm"
	case "ft", "foot", "feet":
		return `inches: 18 in or 18"`
	case "thou", "mil", "mils":
		return "thousandths of an inch with a point: 0.004 in"
	}
	return ""
}

func unitInMM(word string) (float64, bool) {
	switch word {
	case "mm":
		return 1, true
	case "cm":
		return 10, true
	case "in":
		return MMPerInch, true
	}
	return 0, false
}
