package conf

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"

	"strapwork/pkg/unit"
)

const (
	hintQuotes = `an expression, or a length with a unit, goes in quotes: "9/64 in"`
	hintInch   = `inside double quotes write in, or use single quotes: '3 1/4"'`
)

// syntax words an error of the TOML parser in words that help.
func (b *builder) syntax(p *unstable.Parser, err error) {
	var perr *unstable.ParserError
	if !errors.As(err, &perr) {
		b.report(Syntax, 0, "", "%v", err)
		return
	}
	off := len(b.data)
	if len(perr.Highlight) > 0 {
		off = int(p.Range(perr.Highlight).Offset)
	}
	msg, hint := b.reword(perr.Message, off)
	if line := b.quoted(off); line != "" && (hint == hintQuotes || hint == hintInch) {
		hint = "a length with a unit, or an expression, goes in quotes: " + line
	}
	if number := b.decimalComma(off); number != "" {
		hint = "decimals have a point: write " + number + "; several values go in brackets: [3, 5]"
	}
	b.report(Syntax, off, hint, "%s", msg)
}

// codePoint is how the parser writes a character: U+0041 'A'.
var codePoint = regexp.MustCompile(`U\+[0-9A-F]+( '.')?`)

// lengthLine is a line that gives a key something that may be a length.
var lengthLine = regexp.MustCompile(`^\s*([\pL\pN_-]+)\s*=\s*([^#\n]*[^#\s])\s*(#.*)?$`)

// line is the line that holds a byte, and where it starts.
func (b *builder) line(off int) (start int, line string) {
	text := b.src.data
	start = strings.LastIndexByte(text[:min(off, len(text))], '\n') + 1
	line, _, _ = strings.Cut(text[start:], "\n")
	return start, line
}

// quoted is the line at off with its value in quotes, if that makes it a length;
// else nothing.
func (b *builder) quoted(off int) string {
	_, line := b.line(off)
	parts := lengthLine.FindStringSubmatch(line)
	if parts == nil {
		return ""
	}
	key, value, quote := parts[1], parts[2], `"`
	if strings.Contains(value, `"`) {
		quote = "'"
	}
	named := func(string) (float64, error) { return 1, nil }
	if _, err := unit.Eval(value, unit.Env{Lookup: named}); err != nil {
		return ""
	}
	return key + " = " + quote + value + quote
}

// withComma is a number with a comma for its point.
var withComma = regexp.MustCompile(`[0-9]+,[0-9]+`)

// decimalComma is the number with a point in place of the comma at which, or just
// after which, the reading ended; else nothing.
func (b *builder) decimalComma(off int) string {
	start, line := b.line(off)
	for _, at := range withComma.FindAllStringIndex(line, -1) {
		if start+at[0] <= off && off <= start+at[1] {
			return strings.Replace(line[at[0]:at[1]], ",", ".", 1)
		}
	}
	return ""
}

func (b *builder) reword(msg string, off int) (text, hint string) {
	here := "the end of the file"
	if off < len(b.data) {
		here = quoteAt(b.data, off)
	}
	switch {
	case strings.HasPrefix(msg, "expected newline") && off < len(b.data) && b.data[off] == '"':
		return "a quote after the value", hintInch
	case strings.HasPrefix(msg, "expected newline") && off < len(b.data) && b.data[off] == ',':
		return "a comma after the value", `decimals have a point: 3.5; several values go in brackets: [3, 5]`
	case strings.HasPrefix(msg, "expected newline"):
		return "the line should end here, but goes on with " + here, hintQuotes
	case strings.HasPrefix(msg, "expected ',' or ']'"):
		return "a comma or ] should stand here, not " + here, hintQuotes
	case strings.Contains(msg, "start of value"), strings.HasPrefix(msg, "expected keyword"):
		return "no value starts with " + here, hintQuotes
	case strings.HasPrefix(msg, "expected '=' after key"):
		return "= is missing after the key, before " + here, "write key = value"
	case strings.Contains(msg, "start of key"):
		return "no key starts with " + here, "a line is a [table], key = value, or a # comment"
	case strings.Contains(msg, "strings cannot have new lines"), strings.HasPrefix(msg, "unterminated"):
		return "the text has no closing quote on its line", "add the quote; " + hintInch
	case strings.HasPrefix(msg, "expected value"):
		return "there is no value after the =", "write key = value"
	case strings.Contains(msg, "leading zero"):
		return "a whole number cannot begin with 0", ""
	case strings.Contains(msg, "nested"):
		return "lists are nested too deep", ""
	case strings.Contains(msg, "is incomplete"):
		return "a list or table is not closed before the end of the file", "add the missing ] or }"
	}
	return codePoint.ReplaceAllStringFunc(msg, func(s string) string {
		if i := strings.IndexByte(s, '\''); i >= 0 {
			return s[i:]
		}
		return s
	}), ""
}

// quoteAt is the character at a place, quoted.
func quoteAt(data []byte, off int) string {
	r, _ := utf8.DecodeRune(data[off:])
	if r == '\n' || r == '\r' {
		return "the end of the line"
	}
	return fmt.Sprintf("%q", r)
}
