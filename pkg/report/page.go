package report

// A page of Markdown that is just as readable as plain text: lines are filled,
// tables are padded. The dialect is CommonMark with the tables and tick boxes
// that are usual beside it.

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// lineWidth is how long lines of running text get, in characters: what fits a
// page in print at a size that can be read from arm's length.
const lineWidth = 92

type page struct {
	b        strings.Builder
	sections int
}

// heading begins a numbered section.
func (p *page) heading(text string) {
	p.sections++
	p.apart()
	fmt.Fprintf(&p.b, "## %d. %s\n\n", p.sections, text)
}

func (p *page) subheading(text string) {
	p.apart()
	fmt.Fprintf(&p.b, "### %s\n\n", text)
}

// apart leaves one blank line.
func (p *page) apart() {
	if !strings.HasSuffix(p.b.String(), "\n\n") {
		p.gap()
	}
}

// para writes a paragraph.
func (p *page) para(format string, args ...any) {
	p.fill("", "", fmt.Sprintf(format, args...))
	p.gap()
}

// item, tick and step write an entry of a list: plain, to tick off, numbered.
func (p *page) item(format string, args ...any) { p.fill("- ", "  ", fmt.Sprintf(format, args...)) }

func (p *page) tick(format string, args ...any) {
	p.fill("- [ ] ", "      ", fmt.Sprintf(format, args...))
}

func (p *page) step(n int, format string, args ...any) {
	head := strconv.Itoa(n) + ". "
	p.fill(head, strings.Repeat(" ", len(head)), fmt.Sprintf(format, args...))
}

// gap ends a list or a paragraph.
func (p *page) gap() { p.b.WriteByte('\n') }

// fill breaks a text into lines.
func (p *page) fill(first, rest, text string) {
	line, begun := first, false
	for _, w := range unbroken(text) {
		if begun && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) > lineWidth && !startsBlock(w) {
			p.b.WriteString(line + "\n")
			line, begun = rest, false
		}
		if begun {
			line += " "
		}
		line, begun = line+w, true
	}
	p.b.WriteString(line + "\n")
}

// unbroken splits a text into what stays on one line: words, but also places,
// lengths and tick boxes.
func unbroken(text string) []string {
	var list []string
	for _, w := range strings.Fields(text) {
		if n := len(list); n > 0 && sticks(list[n-1], w) {
			list[n-1] += " " + w
			continue
		}
		list = append(list, w)
	}
	return list
}

// sticks reports whether a word belongs to what comes before it: "(4," to
// "-3)", "0.3" to "mm", "[" to "]" and that to what is ticked.
func sticks(before, w string) bool {
	last := before[strings.LastIndexByte(before, ' ')+1:]
	switch {
	case last == "[" || last == "]":
		return true
	case strings.HasPrefix(last, "(") && strings.HasSuffix(last, ","):
		return true
	}
	unit := strings.TrimRight(w, ".,:;)")
	digit := last[len(last)-1] >= '0' && last[len(last)-1] <= '9'
	return digit && slices.Contains([]string{"mm", "in", "mm²", "in²", "sq"}, unit)
}

// startsBlock reports whether a word would begin a list, a heading, a quote
// or a table at the start of a line.
func startsBlock(w string) bool {
	switch strings.TrimLeft(w, "+-*#>=|~`") {
	case "":
		return true
	}
	digits := strings.TrimLeft(w, "0123456789")
	return digits != w && (digits == "." || digits == ")")
}

// table writes a table with padded columns. Cells are text that has been made
// safe where it is somebody's own.
func (p *page) table(head []string, rows [][]string) {
	width := make([]int, len(head))
	for _, row := range append([][]string{head}, rows...) {
		for i, cell := range row {
			width[i] = max(width[i], 3, utf8.RuneCountInString(cell))
		}
	}
	p.row(head, width)
	rule := make([]string, len(head))
	for i, w := range width {
		rule[i] = strings.Repeat("-", w)
	}
	p.row(rule, width)
	for _, row := range rows {
		p.row(row, width)
	}
	p.gap()
}

func (p *page) row(cells []string, width []int) {
	p.b.WriteString("|")
	for i, c := range cells {
		p.b.WriteString(" " + c + strings.Repeat(" ", width[i]-utf8.RuneCountInString(c)) + " |")
	}
	p.b.WriteByte('\n')
}

// plain makes somebody's own words safe in running text and in a cell: on one
// line, and no character of them taken for a mark of Markdown or of HTML.
func plain(s string) string {
	text := []rune(strings.Join(strings.Fields(s), " "))
	links := strings.Contains(s, "](") || strings.Contains(s, "][") || strings.Contains(s, "[^")
	at := func(i int) rune {
		if i < 0 || i >= len(text) {
			return ' '
		}
		return text[i]
	}
	var b strings.Builder
	for i, c := range text {
		marks := strings.ContainsRune("\\`*<|~", c) ||
			c == '_' && !(inWord(at(i-1)) && inWord(at(i+1))) ||
			c == '&' && (inWord(at(i+1)) || at(i+1) == '#') ||
			links && (c == '[' || c == ']')
		if marks {
			b.WriteByte('\\')
		}
		b.WriteRune(c)
	}
	return b.String()
}

func inWord(c rune) bool { return unicode.IsLetter(c) || unicode.IsDigit(c) }
