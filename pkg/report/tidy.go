package report

// Markdown put into the form in which it is just as readable as plain text: lines
// are filled, tables padded, chapters and steps numbered, and one blank line stands
// between blocks. The dialect is CommonMark with the tables and tick boxes that are
// usual beside it.

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// lineWidth is how long lines of running text get, in characters: what fits a
// page in print at a size that can be read from arm's length.
const lineWidth = 92

// A block is what a line begins.
type block int

const (
	blank block = iota
	paragraph
	heading
	row
	item
	tick
	step
)

// beginnings say what a line begins: the first that fits.
var beginnings = []struct {
	mark *regexp.Regexp
	is   block
}{
	{regexp.MustCompile(`^$`), blank},
	{regexp.MustCompile(`^#+ `), heading},
	{regexp.MustCompile(`^\|`), row},
	{regexp.MustCompile(`^- \[ \] `), tick},
	{regexp.MustCompile(`^- `), item},
	{regexp.MustCompile(`^\d+\. `), step},
}

// begins returns what a line begins, and by which mark.
func begins(line string) (b block, mark string) {
	for _, b := range beginnings {
		if at := b.mark.FindStringIndex(line); at != nil {
			return b.is, line[:at[1]]
		}
	}
	return paragraph, ""
}

// tidied is a text in that form. Lines may be broken anywhere between words, and blank
// lines may stand within lists and tables: an entry ends where the next one begins.
func tidied(text string) []byte {
	var p page
	lines := strings.Split(text, "\n")
	for i := range lines {
		lines[i] = strings.TrimSpace(lines[i])
	}
	for len(lines) > 0 {
		lines = p.write(lines)
	}
	return []byte(p.b.String())
}

type page struct {
	b          strings.Builder
	last       block // that was written
	chapters   int
	appendices int
	steps      int // of the list that is being written
}

// write writes the block that the lines begin with, and returns those after it.
func (p *page) write(lines []string) []string {
	is, mark := begins(lines[0])
	if is == blank {
		return lines[1:]
	}
	if together := p.last == is || listed(p.last) && listed(is); p.last != blank && (!together || is == paragraph || is == heading || is == row) {
		p.b.WriteByte('\n')
	}
	if is != p.last {
		p.steps = 0
	}
	p.last = is
	switch is {
	case heading:
		p.b.WriteString(p.numbered(lines[0]) + "\n")
		return lines[1:]
	case row:
		rows, rest := tableOf(lines)
		p.table(rows)
		return rest
	case step:
		p.steps++
		mark = strconv.Itoa(p.steps) + ". "
	case blank, paragraph, item, tick:
	}
	_, own := begins(lines[0])
	n := 1
	for n < len(lines) {
		if next, _ := begins(lines[n]); next != paragraph {
			break
		}
		n++
	}
	text := strings.Join(lines[:n], " ")
	p.fill(mark, strings.Repeat(" ", len(mark)), strings.TrimPrefix(text, own))
	return lines[n:]
}

// listed reports whether a block is an entry of a list, to tick or not.
func listed(b block) bool { return b == item || b == tick }

// numbered is a heading, that of a chapter with its number and that of an appendix with
// its letter.
func (p *page) numbered(line string) string {
	name, ok := strings.CutPrefix(line, "## ")
	if !ok {
		return line
	}
	if name, ok := strings.CutPrefix(name, "Appendix: "); ok {
		p.appendices++
		return "## Appendix " + string(rune('A'+p.appendices-1)) + ": " + name
	}
	p.chapters++
	return "## " + strconv.Itoa(p.chapters) + ". " + name
}

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

// unitWords are what stays on a number's line.
var unitWords = []string{"mm", "in", "m", "mm²", "in²", "cm²", "m²", "ml", "in³", "%", "°C", "MPa", "GPa", "rpm", "mm/min", "in/min"}

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
	return digit && slices.Contains(unitWords, unit)
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

// tableRule is the line under a table's head.
var tableRule = regexp.MustCompile(`^\|(-{3,}\|)+$`)

// tableOf returns the rows of the table that lines begin with, the rule under its head
// left out, and the lines after it. A table ends where another's head comes.
func tableOf(lines []string) (rows [][]string, rest []string) {
	for i, line := range lines {
		is, _ := begins(line)
		switch {
		case is == blank || i == 1 && tableRule.MatchString(line):
			continue
		case is != row || i > 0 && i+1 < len(lines) && tableRule.MatchString(lines[i+1]):
			return rows, lines[i:]
		}
		rows = append(rows, cells(line))
	}
	return rows, nil
}

// cells are a row's cells, each without one blank at either end: more are meant, as
// room to write.
func cells(line string) []string {
	var list []string
	begun := 1
	for i := 1; i < len(line); i++ {
		switch line[i] {
		case '\\':
			i++ // what is escaped ends no cell
		case '|':
			cell := strings.TrimSuffix(strings.TrimPrefix(line[begun:i], " "), " ")
			list = append(list, cell)
			begun = i + 1
		}
	}
	return list
}

// table writes a table with padded columns, the first row as its head.
func (p *page) table(rows [][]string) {
	rows = folded(rows)
	width := columns(rows)
	p.row(rows[0], width)
	rule := make([]string, len(width))
	for i, w := range width {
		rule[i] = strings.Repeat("-", w)
	}
	p.row(rule, width)
	for _, row := range rows[1:] {
		p.row(row, width)
	}
}

// columns are how wide a table's columns are, in characters.
func columns(rows [][]string) []int {
	var width []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(width) {
				width = append(width, 0)
			}
			width[i] = max(width[i], 3, utf8.RuneCountInString(cell))
		}
	}
	return width
}

// A table as wide as tableWidth, in characters, still fits a page in print. One whose
// rows are short is set in as many parts side by side as fit, from foldRows rows on.
const (
	tableWidth = 112
	foldRows   = 6
	partRows   = 3 // that a part has at least
)

// folded sets a long table in parts side by side, each under the head, to be read down
// and then across.
func folded(rows [][]string) [][]string {
	const edges = 3 // a column's blanks and its line
	one := 0
	for _, w := range columns(rows) {
		one += w + edges
	}
	head, body := rows[0], rows[1:]
	parts := min((tableWidth-1)/one, len(body)/partRows)
	if parts < 2 || len(body) < foldRows {
		return rows
	}
	long := (len(body) + parts - 1) / parts
	out := make([][]string, long+1)
	for n := range parts {
		out[0] = append(out[0], head...)
		for i := range long {
			row := make([]string, len(head))
			if at := n*long + i; at < len(body) {
				row = body[at]
			}
			out[i+1] = append(out[i+1], row...)
		}
	}
	return out
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
