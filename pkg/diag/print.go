package diag

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxExcerpt is how many characters of a long line are shown: what fits on
// most terminals beside nothing else.
const maxExcerpt = 120

// Fprint writes the findings for people, in the order of the list: the place
// and the text, the line of the file with a caret under the place, the hint.
func Fprint(w io.Writer, fs Findings) error {
	for _, f := range fs {
		if _, err := io.WriteString(w, f.Text()); err != nil {
			return err
		}
	}
	return nil
}

// Text is the finding for people, each of its lines ended: the place and the
// text, the line of the file with a caret under the place, the hint. Control
// characters, which could play tricks on a terminal, are shown as "?".
func (f Finding) Text() string {
	var b strings.Builder
	fmt.Fprintln(&b, printable(f.Error()))
	if line, col := window(f.Excerpt, f.Pos.Col); line != "" {
		fmt.Fprintf(&b, "    %s\n", printable(line))
		if col > 0 {
			fmt.Fprintf(&b, "    %s^\n", padding(line, col-1))
		}
	}
	if f.Hint != "" {
		fmt.Fprintf(&b, "hint: %s\n", printable(f.Hint))
	}
	return b.String()
}

// printable replaces what would move a terminal's cursor. A tab stays.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if r != '\t' && (unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || r == utf8.RuneError) {
			return '?'
		}
		return r
	}, s)
}

// padding is as wide as the first n characters of line, tabs kept as tabs.
func padding(line string, n int) string {
	var b strings.Builder
	for _, r := range line {
		if n <= 0 {
			break
		}
		n--
		if r == '\t' {
			b.WriteRune('\t')
		} else {
			b.WriteRune(' ')
		}
	}
	b.WriteString(strings.Repeat(" ", max(0, n)))
	return b.String()
}

// window cuts a long line down to the part round col, counted from 1, and
// returns where col is in it. A col beyond the line stands just after it.
func window(line string, col int) (string, int) {
	if strings.TrimSpace(line) == "" {
		return "", 0
	}
	n := utf8.RuneCountInString(line)
	col = min(col, n+1)
	if n <= maxExcerpt {
		return line, col
	}
	runes := []rune(line)
	from := max(0, min(col-1-maxExcerpt/2, n-maxExcerpt))
	part := string(runes[from : from+maxExcerpt])
	if from+maxExcerpt < n {
		part += "..."
	}
	if from > 0 {
		return "..." + part, col - from + 3
	}
	return part, col
}

// MarshalJSON writes the finding as the manifest has it; "at" in mm, absent
// where there is no place on the work, as are an unknown line and key and an empty
// hint.
func (f Finding) MarshalJSON() ([]byte, error) {
	out := struct {
		Rule     string       `json:"rule"`
		Severity Severity     `json:"severity"`
		Message  string       `json:"message"`
		Hint     string       `json:"hint,omitempty"`
		At       *[2]float64  `json:"at,omitempty"`
		Also     [][2]float64 `json:"also,omitempty"`
		File     string       `json:"file,omitempty"`
		Line     int          `json:"line,omitempty"`
		Col      int          `json:"col,omitempty"`
		Key      Key          `json:"key,omitempty"`
		Cures    []Cure       `json:"cures,omitempty"`
	}{
		Rule: f.Rule, Severity: f.Severity, Message: f.Message, Hint: f.Hint,
		Also: f.Also, File: f.Pos.File, Line: f.Pos.Line, Col: f.Pos.Col, Key: f.Key, Cures: f.Cures,
	}
	if f.HasAt {
		out.At = &f.At
	}
	return json.Marshal(out)
}
