package fromsvg

import (
	"math"
	"strconv"
	"strings"

	"strapwork/pkg/drawing"
)

// A scanner goes through numbers and words of an attribute's value (SVG 2, section 9.3.9,
// and SVG 1.1, section 4.2).
type scanner struct {
	s  string
	at int
}

// A fault is what is wrong with a value, and where in it.
type fault struct {
	at   int
	text string
	hint string
}

func isSpace(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f' }

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func isLetter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' }

// space skips white space.
func (s *scanner) space() {
	for s.at < len(s.s) && isSpace(s.s[s.at]) {
		s.at++
	}
}

// separator skips white space with at most one comma in it, and reports whether there
// was a comma.
func (s *scanner) separator() bool {
	s.space()
	if !s.skip(',') {
		return false
	}
	s.space()
	return true
}

// skip goes past c if it is next.
func (s *scanner) skip(c byte) bool {
	if s.peek() != c || s.ended() {
		return false
	}
	s.at++
	return true
}

// peek is the next byte, 0 at the end.
func (s *scanner) peek() byte {
	if s.at < len(s.s) {
		return s.s[s.at]
	}
	return 0
}

func (s *scanner) ended() bool { return s.at >= len(s.s) }

// word goes past letters and returns them.
func (s *scanner) word() string {
	from := s.at
	for s.at < len(s.s) && isLetter(s.s[s.at]) {
		s.at++
	}
	return s.s[from:s.at]
}

// number reads a number: "1.5.5-3" is three of them.
func (s *scanner) number() (float64, *fault) {
	from := s.at
	i := from
	if i < len(s.s) && (s.s[i] == '+' || s.s[i] == '-') {
		i++
	}
	digits := 0
	for ; i < len(s.s) && isDigit(s.s[i]); i++ {
		digits++
	}
	if i < len(s.s) && s.s[i] == '.' {
		for i++; i < len(s.s) && isDigit(s.s[i]); i++ {
			digits++
		}
	}
	if digits == 0 {
		return 0, &fault{at: from, text: "a number is missing, " + s.next(from)}
	}
	s.at = exponent(s.s, i)
	v, err := strconv.ParseFloat(s.s[from:s.at], 64)
	if err != nil || math.Abs(v) > drawing.Farthest {
		return 0, &fault{at: from, text: "the number " + clip(s.s[from:s.at]) + " is too large"}
	}
	return v, nil
}

// exponent is where an exponent at i ends, or i: "1em" has none.
func exponent(s string, i int) int {
	if i >= len(s) || s[i] != 'e' && s[i] != 'E' {
		return i
	}
	j := i + 1
	if j < len(s) && (s[j] == '+' || s[j] == '-') {
		j++
	}
	if j >= len(s) || !isDigit(s[j]) {
		return i
	}
	for j < len(s) && isDigit(s[j]) {
		j++
	}
	return j
}

// next says what stands at a place.
func (s *scanner) next(at int) string {
	if at >= len(s.s) {
		return "the value ends"
	}
	rest := s.s[at:]
	if i := strings.IndexFunc(rest, func(c rune) bool { return c < ' ' }); i > 0 {
		rest = rest[:i]
	}
	return "there is " + strconv.Quote(clip(rest))
}

// clip shortens what is quoted from a file.
func clip(s string) string {
	const most = 16
	r := []rune(s[:min(len(s), 4*most)])
	if len(r) <= most {
		return string(r)
	}
	return string(r[:most]) + "..."
}

// numbers reads a list of numbers to its end.
func numbers(value string, most int) ([]float64, *fault) {
	s := scanner{s: value}
	var list []float64
	s.space()
	for !s.ended() {
		v, wrong := s.number()
		if wrong != nil {
			return list, wrong
		}
		if list = append(list, v); len(list) > most {
			return list, nil
		}
		if s.separator() && s.ended() {
			return list, &fault{at: s.at, text: "a number is missing after the last comma"}
		}
	}
	return list, nil
}
