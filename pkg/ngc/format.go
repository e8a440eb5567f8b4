package ngc

import (
	"math"
	"strconv"
	"strings"
)

// commentWidth keeps a comment well under maxLine, and readable on the small
// screen of a controller.
const commentWidth = 70

// steps is v in whole steps of its last decimal.
func steps(v float64, decimals int) (n int64, ok bool) {
	if !(math.Abs(v) < maxNumber/2) {
		return 0, false
	}
	return int64(math.Round(v * math.Pow10(decimals))), true
}

// appendSteps writes n steps of the given decimal, without zeros at the end
// beyond the first least decimals. There is no exponent, and no -0: a whole
// number has none.
func appendSteps(b []byte, n int64, decimals, least int) []byte {
	if n < 0 {
		b = append(b, '-')
		n = -n
	}
	for decimals > least && n%10 == 0 {
		n /= 10
		decimals--
	}
	power := int64(1)
	for range decimals {
		power *= 10
	}
	b = strconv.AppendInt(b, n/power, 10)
	if decimals == 0 {
		return b
	}
	b = append(b, '.')
	for n %= power; power > 1; n %= power {
		power /= 10
		b = append(b, '0'+byte(n/power))
	}
	return b
}

// plain are the characters besides letters, digits and blanks that a comment
// may hold. Parentheses would end it; others, such as a question mark, are
// orders to some controllers even within a comment.
const plain = ".,:+-/='"

// commentLines are the lines of text, fit for comments.
func commentLines(text string) []string {
	var out []string
	for line := range strings.Lines(text) {
		current := ""
		for _, word := range strings.Fields(strings.Map(plainRune, line)) {
			if current != "" && len(current)+1+len(word) > commentWidth {
				out = append(out, current)
				current = ""
			}
			current = strings.TrimLeft(current+" "+word, " ")
			for len(current) > commentWidth { // one long word
				out = append(out, current[:commentWidth])
				current = current[commentWidth:]
			}
		}
		if current != "" {
			out = append(out, current)
		}
	}
	return out
}

func plainRune(r rune) rune {
	switch {
	case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', strings.ContainsRune(plain, r):
		return r
	case r == ' ', r == '\t', r == '\n', r == '\r':
		return ' '
	}
	return '-'
}
