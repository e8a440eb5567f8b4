package ngc

// Words that programs have and NISTIR 6556 has not, or means otherwise: later
// interpreters' and other controllers' (common practice). They are refused by name,
// so that whoever wrote one knows what was taken for what. What some machines pass
// over as harmless is refused too where others act on it.

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"strapwork/pkg/unit"
)

const (
	hintAway   = "remove it"
	hintOut    = "write its moves out with G0, G1, G2 and G3"
	hintManual = "look it up in the machine's manual: remove it if it does nothing for the cut, else write what it does in other words"
)

// othersG are G words by ten times their number.
func othersG() map[int]code {
	t := map[int]code{}
	refuse := func(why, hint string, numbers ...int) {
		for _, n := range numbers {
			t[n] = code{known: true, refused: why, hint: hint}
		}
	}
	refuse("is a curve other than an arc, which is not read", hintOut, 50, 51, 52, 53, 61, 62)
	refuse("is for turning, or whatever else the machine's builder made of it", hintAway, 70, 80)
	refuse("stops exactly at the end of one block", "write G61, which goes exactly through all places", 90)
	refuse("cuts a pocket by itself, which is not read", hintOut, 120, 130)
	refuse("ends polar coordinates, which are not read", hintAway, 150)
	refuse("begins polar coordinates, which are not read", "write places with X and Y", 160)
	refuse("is a plane of axes that a router doesn't have", "write G17", 171, 181, 191)
	refuse("sets limits in the machine", hintAway, 220, 230)
	refuse("stores a place in the machine, or goes to one", hintHome, 270, 281, 290, 301)
	refuse(whyProbe, hintProbe, 310, 383, 384, 385)
	refuse("cuts a thread, which is not read", hintAway, 320, 330, 331)
	refuse(whyComp, hintComp, 411, 421, 431, 432, 434, 435, 440)
	refuse("ends scaling, which is not read; on some machines it shifts the origin", hintAway, 500)
	refuse("scales what follows, which is not read", "write the places at their true size", 510)
	refuse("ends mirroring, which is not read", hintAway, 501)
	refuse("mirrors what follows, which is not read", "write the places as they are cut", 511)
	refuse(whyShift, hintShift, 520)
	refuse("selects an origin by a number of its own, which is not read", "write one of G54 to G59.3", 541)
	refuse("goes to places from one side, which is not read", hintAway, 600)
	refuse("changes the feed at corners, which is not read", "write G61", 620)
	refuse("is for tapping, which is not read", hintAway, 630)
	refuse("calls a macro, whose moves are in the machine", hintOut, 650, 660, 661)
	refuse("ends calls of a macro, which are not read", hintAway, 670)
	refuse("turns what follows, which is not read", "write the places as they are cut", 680, 681, 682)
	refuse("ends a turned pattern, which is not read", hintAway, 690)
	refuse("means units on some machines and a cycle on others", "write G20 for inches or G21 for mm", 700, 710)
	refuse(whyCycle, hintLines, 720, 730, 740, 750, 760)
	refuse("takes I and J as places, where they are read as seen from the start of the arc",
		"write I and J from the start of each arc, with G91.1 or without", 901)
	refuse("makes F a feed per revolution, which is not read", "write G94 and F in units per minute", 950)
	refuse("keeps the surface speed constant by changing the spindle's, which is not read", "write the spindle's rpm with S", 960)
	refuse("says that S is in rpm, as it is here anyway", hintAway, 970)
	return t
}

// othersM are M words by their number.
func othersM() map[int]code {
	t := map[int]code{}
	refuse := func(why, hint string, numbers ...int) {
		for _, n := range numbers {
			t[n] = code{known: true, refused: why, hint: hint}
		}
	}
	refuse("operates a clamp or a door, or whatever else the machine's builder made of it", hintManual, 10, 11, 12, 16)
	refuse("starts the spindle and the coolant together, which is not read", "write M3 or M4, and M7 or M8 if you need it", 13, 14)
	refuse("switches motors on some machines and ends a subprogram on others", hintAway, 17, 18)
	refuse("turns the spindle to a place, which is not read", hintAway, 19)
	refuse("hands feed or speed to the operator, which is not read", "remove it, or write M48 or M49", 50, 51, 52, 53)
	refuse("says which tool is in, which is not read: its length isn't known", "write one program for each bit", 61)
	refuse("switches something that is wired to the machine, which is not read", hintManual, 62, 63, 64, 65, 67, 68)
	refuse("waits for something that is wired to the machine, which is not read", "write M0 to wait for the operator", 66)
	refuse("stores modes or takes them back, which is not read", "write the modes themselves, such as G90", 70, 71, 72, 73)
	refuse("calls a subprogram, which is not read", "write the subprogram's moves in its place", 96, 97, 98)
	refuse("ends a subprogram or runs the program again, which is not read", "write M2 at the end", 99)
	return t
}

// orders are what languages have that are more than moves.
var orders = map[string]bool{
	"IF": true, "THEN": true, "ELSE": true, "ELSEIF": true, "ENDIF": true, "GOTO": true, "WHILE": true, "DO": true, "ENDWHILE": true, "END": true,
	"SUB": true, "ENDSUB": true, "CALL": true, "RETURN": true, "REPEAT": true, "ENDREPEAT": true, "BREAK": true, "CONTINUE": true,
	"MSG": true, "SET": true, "VAR": true, "DEF": true, "FOR": true, "REPT": true,
}

// order is a run of letters that stands at i, if it is an order.
func order(line []byte, i int) (word string, ok bool) {
	j := i
	for j < len(line) && upper(line[j]) >= 'A' && upper(line[j]) <= 'Z' {
		j++
	}
	word = strings.ToUpper(string(line[i:j]))
	return word, orders[word]
}

func orderFault(word string, i int) *fault {
	return faultf(i, "o-word", "write the program's moves out, one after the other", "%s is a calculation or a jump, which is not read", word)
}

// parseO passes over a program's number, which names it in a machine's list of
// programs. It must be the first word and stand alone; see also reader.one.
func (b *block) parseO(i int) (next int, f *fault) {
	j := skipBlanks(b.line, i+1)
	start := j
	for j < len(b.line) && b.line[j] >= '0' && b.line[j] <= '9' {
		j++
	}
	rest := skipBlanks(b.line, j)
	bare := rest == len(b.line) || b.line[rest] == '(' || b.line[rest] == ';'
	word, ordered := order(b.line, rest)
	switch {
	case ordered:
		return i, faultf(i, "o-word", "write the program's moves out, one after the other", "O with %s is a subprogram or a loop, which is not read", word)
	case rest < len(b.line) && strings.IndexByte("<[#", b.line[rest]) >= 0:
		return i, faultf(i, "o-word", "write the program's moves out, one after the other", "O with a name is a subprogram or a loop, which is not read")
	case j == start:
		return i, faultf(i, "o-word", "write its digits, such as O1000, or remove it", "O without a number")
	case i != skipBlanks(b.line, 0) || !bare:
		return i, faultf(i, "o-word", "write it on a line of its own", "a program's number on a line with other words")
	}
	b.numbered = true
	return rest, nil
}

// comma says what is wrong with a comma at i: in most of Europe it is what
// stands before decimals.
func comma(line []byte, i int) *fault {
	number := func(c byte) bool { return c >= '0' && c <= '9' || c == '.' || c == ' ' || c == '\t' }
	from, to := i, i+1
	for from > 0 && number(line[from-1]) {
		from--
	}
	for from > 0 && strings.IndexByte("+-", line[from-1]) >= 0 {
		from--
	}
	for to < len(line) && number(line[to]) {
		to++
	}
	before, after := strings.TrimSpace(string(line[from:i])), strings.TrimSpace(string(line[i+1:to]))
	switch {
	case after == "":
		return faultf(i, "character", "write a blank, or nothing, between words", "a comma")
	case strings.Contains(before+after, "."), to < len(line) && line[to] == ',':
		return faultf(i, "character", "write the number with one decimal point and nothing else", "a comma in a number")
	}
	if strings.Trim(before, "+-") == "" {
		before += "0"
	}
	letter := ""
	if k := from - 1; k >= 0 && upper(line[k]) >= 'A' && upper(line[k]) <= 'Z' {
		letter = string(upper(line[k]))
	}
	hint := fmt.Sprintf("write a decimal point: %s%s.%s", letter, before, after)
	return &fault{at: i, rule: "character", hint: hint, msg: unit.Say("a decimal comma")}
}

// orderly are characters that mean something to one machine or another.
var orderly = map[byte][2]string{
	'*':  {"a checksum, or a product, which is not read", "save the program without checksums and with its numbers worked out"},
	'$':  {"a setting of one kind of machine", "remove the line, and make the setting at the machine"},
	'!':  {"a command to stop, on some machines", hintAway},
	'?':  {"a question to the machine", hintAway},
	'~':  {"a command to resume, on some machines", hintAway},
	'=':  {"an assignment, which is not read", "write the number itself"},
	':':  {"a colon, which begins a program's number on some machines", "write O and the number, or remove the line"},
	'/':  {"a / that isn't first on its line", hintAway},
	'<':  {"a name, whose value only the machine knows", "write the number itself"},
	'>':  {"a name, whose value only the machine knows", "write the number itself"},
	'"':  {"a quotation mark", hintComment},
	'\'': {"a quotation mark", hintComment},
}

const hintComment = "remove it, or put it into a comment in parentheses"

// oddCharacter says what is wrong with a character at i that begins nothing.
func oddCharacter(line []byte, i int) *fault {
	if c, ok := orderly[line[i]]; ok {
		return &fault{at: i, rule: "character", hint: c[1], msg: unit.Say("%s", c[0])}
	}
	r, _ := utf8.DecodeRune(line[i:])
	switch {
	case r == utf8.RuneError:
		return faultf(i, "character", "save the program as plain text", "a character that isn't plain text")
	case unicode.IsSpace(r) || r == '\ufeff' || r == '\u200b':
		return faultf(i, "character", "write a plain blank in its place", "a blank that isn't a plain one (U+%04X)", r)
	case unicode.Is(unicode.Dash, r):
		return faultf(i, "character", "write - in its place", "a dash that isn't a plain minus (U+%04X)", r)
	}
	return faultf(i, "character", hintComment, "%q begins no word", r)
}
