package conf

import (
	"fmt"
	"strings"
)

// Marks in a Markdown page between which a format's keys stand.
const (
	pageBegin = "<!-- keys of %s: written by the tests from the table in the code; don't edit -->\n"
	pageEnd   = "<!-- end of the keys of %s -->\n"
)

// Insert is a page with the format's keys between its two marks. What stands round them
// is written by hand. It is false for a page without the marks.
func (f *Format) Insert(page string) (string, bool) {
	begin, end := fmt.Sprintf(pageBegin, f.Name), fmt.Sprintf(pageEnd, f.Name)
	before, rest, ok := strings.Cut(page, begin)
	_, after, ended := strings.Cut(rest, end)
	return before + begin + "\n" + f.markdown() + "\n" + end + after, ok && ended
}

// markdown is all tables and keys of the format.
func (f *Format) markdown() string {
	var parts []string
	for i := range f.Tables {
		t := &f.Tables[i]
		var b strings.Builder
		if t.Path != "" {
			b.WriteString("### `" + f.heading(t) + "`\n\n")
		}
		if t.About != "" {
			b.WriteString(t.About + "\n\n")
		}
		if t.Any == nil {
			b.WriteString("| key | takes | if left out | what it is |\n|---|---|---|---|\n")
		}
		for _, k := range t.Keys {
			fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", k.Name, cell(k.Takes()+k.bounds()), cell(k.LeftOut()), cell(k.onPage()))
		}
		parts = append(parts, strings.TrimRight(b.String(), "\n")+"\n")
	}
	return strings.Join(parts, "\n")
}

// onPage is the key's help, with the guides that it is for.
func (k Key) onPage() string {
	if len(k.For) == 0 {
		return k.Help
	}
	return k.Help + " (guides: " + strings.Join(k.For, ", ") + ")"
}

// cell is a text as it stands in a Markdown table.
func cell(s string) string { return strings.ReplaceAll(s, "|", `\|`) }
