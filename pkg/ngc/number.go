package ngc

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// exactDigits is how many decimal digits a float64 holds without loss, and
// exactPower the greatest power of ten that is exact in one: a quotient of two
// exact numbers is correctly rounded (Clinger, "How to read floating point
// numbers accurately", 1990). Longer numbers go the slow way.
const (
	exactDigits = 15
	exactPower  = 22
)

var powersOfTen = func() (p [exactPower + 1]float64) {
	p[0] = 1
	for i := 1; i < len(p); i++ {
		p[i] = p[i-1] * 10
	}
	return p
}()

// number reads the number of the word whose letter c stands at i: a sign,
// digits and a point, of which only one digit is needed, with blanks anywhere
// (NISTIR 6556, 3.3.2.1). next is the byte after it.
func number(line []byte, i int, c byte) (v float64, next int, f *fault) {
	var mantissa uint64
	digits, decimals, point, negative := 0, 0, false, false
	j := skipBlanks(line, i+1)
	start := j
	if j < len(line) && (line[j] == '-' || line[j] == '+') {
		negative = line[j] == '-'
		j++
	}
scan:
	for ; j < len(line); j++ {
		switch d := line[j]; {
		case d >= '0' && d <= '9':
			mantissa = mantissa*10 + uint64(d-'0') // overflows only where it isn't used
			digits++
			if point {
				decimals++
			}
		case d == '.' && !point:
			point = true
		case d != ' ' && d != '\t':
			break scan
		}
	}
	if digits == 0 {
		return 0, i, noNumber(line, j, i, c)
	}
	if digits <= exactDigits {
		v = float64(mantissa) / powersOfTen[decimals]
	} else {
		v = longNumber(line[start:j])
	}
	if v > maxNumber {
		return 0, i, faultf(i, "number", "write a number that a machine can take", "the number of %c is too great", c)
	}
	if negative && v != 0 {
		v = -v
	}
	return v, j, nil
}

func noNumber(line []byte, j, i int, c byte) *fault {
	if j < len(line) && (line[j] >= utf8.RuneSelf || strings.IndexByte("#[,", line[j]) >= 0) {
		return strange(line, j, false)
	}
	if word, ok := order(line, i); ok {
		return orderFault(word, i)
	}
	return faultf(i, "number", "write its number behind it", "%c without a number", c)
}

// longNumber is the value without its sign of a number with more digits than
// are exact.
func longNumber(text []byte) float64 {
	clean := make([]byte, 0, len(text))
	for _, c := range text {
		if c >= '0' && c <= '9' || c == '.' {
			clean = append(clean, c)
		}
	}
	// The text is digits and at most one point; a value out of range is
	// infinite, which is above any limit.
	v, _ := strconv.ParseFloat(string(clean), 64)
	return v
}
