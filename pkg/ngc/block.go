package ngc

// One line becomes one block of words: NISTIR 6556, section 3.3, the format of
// a line. Blanks may stand anywhere, also within a number.

import (
	"math"
	"math/bits"
	"strconv"

	"strapwork/pkg/unit"
)

const (
	// nearInteger is how near to a whole number a value must be where one is
	// wanted (NISTIR 6556, 3.3.2.1).
	nearInteger = 1e-4

	// maxNumber is the greatest number in a word. No machine is 10 km long or
	// turns a million times a second; below it no arithmetic here overflows.
	maxNumber = 1e7

	maxDigitsN = 5 // of a line number (NISTIR 6556, 3.3.1)

	// mostDigitsN is how many digits of a line number are read: as many as always
	// fit into 32 bits.
	mostDigitsN = 9
)

// A fault is what is wrong with a block, and at which byte of the line.
type fault struct {
	at         int
	rule, hint string
	msg        unit.Text
}

func faultf(at int, rule, hint, format string, args ...any) *fault {
	return &fault{at: at, rule: rule, hint: hint, msg: unit.Say(format, args...)}
}

// set is a set of letters, or of modal groups.
type set uint32

func (s set) has(i uint8) bool { return s&(1<<i) != 0 }

// letters makes a set of letters.
func letters(text string) set {
	var s set
	for i := range len(text) {
		s |= 1 << (text[i] - 'A')
	}
	return s
}

// A block is the words of one line. What is not in has, g or m is left over
// from an earlier line.
type block struct {
	line   []byte
	has    set // letters apart from G and M
	values [26]float64
	at     [26]int
	g, m   set // modal groups
	gs, ms [groups]int
	gAt    [groups]int
	mAt    [groups]int
	n      int32
	empty  bool

	numbered bool // a program's number
	long     bool // a line number of more digits than NISTIR 6556 has
}

func (b *block) word(letter byte) bool     { return b.has&(1<<(letter-'A')) != 0 }
func (b *block) value(letter byte) float64 { return b.values[letter-'A'] }
func (b *block) place(letter byte) int     { return b.at[letter-'A'] }

// first is the byte of the leftmost of the given letters in the block.
func (b *block) first(s set) int {
	at := len(b.line)
	for s &= b.has; s != 0; s &= s - 1 {
		at = min(at, b.at[bits.TrailingZeros32(uint32(s))])
	}
	return at
}

// parse reads a line into b.
func (b *block) parse(line []byte) *fault {
	b.line, b.has, b.g, b.m, b.n, b.empty = line, 0, 0, 0, -1, true
	b.numbered, b.long = false, false
	for i := skipBlanks(line, 0); i < len(line); i = skipBlanks(line, i) {
		var f *fault
		switch c := upper(line[i]); {
		case c >= 'A' && c <= 'Z':
			i, f = b.parseWord(c, i)
			b.empty = false
		case c == '(':
			i, f = skipComment(line, i)
		case c == ';':
			i, f = skipRest(line, i)
		default:
			f = strange(line, i, i == skipBlanks(line, 0))
		}
		if f != nil {
			return f
		}
	}
	return nil
}

func skipBlanks(line []byte, i int) int {
	for i < len(line) && (line[i] == ' ' || line[i] == '\t') {
		i++
	}
	return i
}

func upper(c byte) byte {
	if c >= 'a' && c <= 'z' {
		return c - 'a' + 'A'
	}
	return c
}

// skipComment passes over a comment in parentheses. What stands in it is read
// by people only.
func skipComment(line []byte, open int) (int, *fault) {
	for i := open + 1; i < len(line); i++ {
		switch c := line[i]; {
		case c == ')':
			return i + 1, nil
		case c == '(':
			return i, faultf(i, "nested-comment", "write ( and ) once around the whole comment", "a comment within a comment")
		case isControl(c):
			return i, controlFault(i)
		}
	}
	return open, faultf(open, "open-comment", "write ) before the end of the line", "a comment that doesn't end on its line")
}

func skipRest(line []byte, semicolon int) (int, *fault) {
	for i := semicolon; i < len(line); i++ {
		if isControl(line[i]) {
			return i, controlFault(i)
		}
	}
	return len(line), nil
}

func isControl(c byte) bool { return c < ' ' && c != '\t' || c == 0x7f }

func controlFault(i int) *fault {
	return faultf(i, "character", "save the program as plain text", "a control character")
}

// strange says what is wrong with a character that begins no word or comment.
func strange(line []byte, i int, first bool) *fault {
	switch c := line[i]; {
	case c == '/' && first:
		return faultf(i, "block-delete", "remove the /, or the whole line", "a line that the machine leaves out if its block delete switch is on")
	case c == '#':
		return faultf(i, "parameter", "write the number itself", "a parameter, whose value only the machine knows")
	case c == '[':
		return faultf(i, "expression", "write the number itself", "an expression, which is not read")
	case c == ')':
		return faultf(i, "open-comment", "remove it, or write ( before the comment", "a ) that ends no comment")
	case c == '%':
		return faultf(i, "percent", "write % on the first line and on the last, or leave both out", "a %% that is not alone on the first line or on the last")
	case c >= '0' && c <= '9', c == '.', c == '+', c == '-':
		return faultf(i, "no-letter", "write the word's letter before it, such as X", "a number without a letter")
	case c == ',':
		return comma(line, i)
	case isControl(c):
		return controlFault(i)
	}
	return oddCharacter(line, i)
}

// known are the letters that the reader has a use for. It knows what others
// are for, so as to say so.
var (
	known    = letters("FGIJKMNPQRSTXYZ")
	rotary   = letters("ABC")
	straight = letters("UVW")
	comp     = letters("DH")
	ofCycles = letters("L")
)

func letterFault(line []byte, i int) *fault {
	c := upper(line[i])
	s := set(1) << (c - 'A')
	word, ordered := order(line, i)
	switch {
	case ordered:
		return orderFault(word, i)
	case s&straight != 0:
		return faultf(i, "letter", "write X, Y and Z only", "%c is a further axis; only X, Y and Z are read", c)
	case s&rotary != 0:
		return faultf(i, "axis", "write X, Y and Z only", "%c is a rotary axis; only the three linear axes are read", c)
	case s&comp != 0:
		return faultf(i, "compensation", hintComp, "%c selects cutter compensation, which is not read", c)
	case s&ofCycles != 0:
		return faultf(i, "unused-word", "remove it", "%c belongs to words that are not read", c)
	}
	return faultf(i, "letter", "remove the word", "%c begins no word of NISTIR 6556", c)
}

// parseWord reads the word whose letter c stands at i.
func (b *block) parseWord(c byte, i int) (next int, f *fault) {
	if !known.has(c - 'A') {
		if c == 'O' {
			return b.parseO(i)
		}
		return i, letterFault(b.line, i)
	}
	if c == 'N' {
		return b.parseN(i)
	}
	v, next, f := number(b.line, i, c)
	if f != nil {
		return i, f
	}
	switch c {
	case 'G':
		return next, b.addG(v, i)
	case 'M':
		return next, b.addM(v, i)
	}
	if b.word(c) {
		return i, faultf(i, "repeated-word", "leave one of them", "a second %c in one block", c)
	}
	b.has |= 1 << (c - 'A')
	b.values[c-'A'], b.at[c-'A'] = v, i
	return next, nil
}

// parseN reads a line number, before all words.
func (b *block) parseN(i int) (next int, f *fault) {
	if i != skipBlanks(b.line, 0) {
		return i, faultf(i, "line-number", "write it first on the line", "a line number behind something else")
	}
	digits, n := 0, int32(0)
	j := skipBlanks(b.line, i+1)
	for ; j < len(b.line) && b.line[j] >= '0' && b.line[j] <= '9'; j = skipBlanks(b.line, j+1) {
		if digits++; digits > mostDigitsN {
			return i, faultf(i, "line-number", "write 0 to 99999, or leave it out", "a line number of more than %d digits", mostDigitsN)
		}
		n = n*10 + int32(b.line[j]-'0')
	}
	if digits == 0 || j < len(b.line) && (b.line[j] == '.' || b.line[j] == '+' || b.line[j] == '-') {
		return i, faultf(i, "line-number", "write 0 to 99999, or leave it out", "a line number that isn't digits alone")
	}
	b.n, b.long = n, digits > maxDigitsN
	return j, nil
}

// addG files a G word under its group.
func (b *block) addG(v float64, at int) *fault {
	n := int(math.Round(v * 10))
	if v < 0 || math.Abs(v-float64(n)/10) > nearInteger || n >= gLimit || !gCodes[n].known {
		return faultf(at, "g-word", hintManual, "G%s is not a G word of NISTIR 6556", short(v))
	}
	c := &gCodes[n]
	if c.refused != "" {
		return faultf(at, "g-word", c.hint, "G%s %s", short(float64(n)/10), c.refused)
	}
	if b.g.has(uint8(c.group)) {
		return faultf(at, "modal-group", "leave one of them, or write two blocks",
			"G%s and G%s are of one modal group", short(float64(b.gs[c.group])/10), short(float64(n)/10))
	}
	b.g |= 1 << c.group
	b.gs[c.group], b.gAt[c.group] = n, at
	return nil
}

// addM files an M word under its group. The report's limit of four M words in a
// block needs no check: there are but four groups of words that are read.
func (b *block) addM(v float64, at int) *fault {
	n := int(math.Round(v))
	if v < 0 || math.Abs(v-float64(n)) > nearInteger || n >= mLimit || !mCodes[n].known {
		return faultf(at, "m-word", hintManual, "M%s is not an M word of NISTIR 6556", short(v))
	}
	c := &mCodes[n]
	if c.refused != "" {
		return faultf(at, "m-word", c.hint, "M%d %s", n, c.refused)
	}
	if b.m.has(uint8(c.group)) {
		return faultf(at, "modal-group", "leave one of them, or write two blocks",
			"M%d and M%d are of one modal group", b.ms[c.group], n)
	}
	b.m |= 1 << c.group
	b.ms[c.group], b.mAt[c.group] = n, at
	return nil
}

// short is a number in as few digits as give it.
func short(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
