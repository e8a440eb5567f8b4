package report

import (
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"

	"github.com/google/go-cmp/cmp"
)

// flat is a text with all its lines joined, for looking for what may have been
// broken.
func flat(s string) string { return strings.Join(strings.Fields(s), " ") }

// A line of running text must not begin with what Markdown takes for the
// start of a list, a heading, a quote or a table (CommonMark 0.31.2, 4 and 5).
func TestFillStartsNoBlock(t *testing.T) {
	words := []string{"+", "-", "*", "#", "##", ">", "1.", "12)", "|", "word", "other", "(4,", "-3)", "0.3", "mm", "a-b", "[", "]"}
	block := regexp.MustCompile(`^ *([-+*#>|]+|[0-9]+[.)])( |$)`)
	rng := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		text := "begin"
		for range 60 {
			text += " " + words[rng.IntN(len(words))]
		}
		var p page
		p.fill("- ", "  ", text)
		lines := strings.Split(strings.TrimSuffix(p.b.String(), "\n"), "\n")
		for i, l := range lines {
			if i > 0 && block.MatchString(l) {
				t.Fatalf("a line begins a block: %q of %q", l, text)
			}
		}
		if got := flat(p.b.String()); got != "- "+text {
			t.Fatalf("the text changed from %q to %q", text, got)
		}
	}
}

func TestFillWidth(t *testing.T) {
	text := tidied(strings.Repeat("seven at (4, -3), 0.3 mm ", 100))
	for _, l := range strings.Split(string(text), "\n") {
		if utf8.RuneCountInString(l) > lineWidth {
			t.Errorf("a line of %d characters: %s", utf8.RuneCountInString(l), l)
		}
		if strings.HasSuffix(l, "(4,") || strings.HasSuffix(l, "0.3") {
			t.Errorf("a place or a length is broken: %s", l)
		}
	}
}

// Whatever a template leaves, blocks are set apart by one blank line, entries and rows
// by none; chapters, steps and tables come out as CommonMark and its tables have them.
func TestTidied(t *testing.T) {
	const loose = `

# Title
## One
a line
and its end


- an item

- another
  goes on
- [ ] a tick

1. first

1. second
a paragraph is of the entry before it

## Two
|a | b  |
|---|---|

| x \\| y |  |

|c|
|---|
| 1 |
1. anew
## Appendix: last
`
	const want = `# Title

## 1. One

a line and its end

- an item
- another goes on
- [ ] a tick

1. first
2. second a paragraph is of the entry before it

## 2. Two

| a      | b   |
| ------ | --- |
| x \\| y |     |

| c   |
| --- |
| 1   |

1. anew

## Appendix A: last
`
	if d := cmp.Diff(strings.ReplaceAll(want, `\\`, `\`), string(tidied(strings.ReplaceAll(loose, `\\`, `\`)))); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// A long table of short rows is set in parts side by side, read down and then across, none
// of whose rows is lost; one that is wide, or short, stays as it is.
func TestFolded(t *testing.T) {
	table := func(rows int, cell string) [][]string {
		all := [][]string{{"no", "what"}}
		for i := range rows {
			all = append(all, []string{strconv.Itoa(i + 1), cell})
		}
		return all
	}
	got := folded(table(7, strings.Repeat("x", 40)))
	if len(got) != 5 || len(got[0]) != 4 || got[1][2] != "5" || got[4][0] != "4" || strings.Join(got[4][2:], "") != "" {
		t.Errorf("%q", got)
	}
	for _, whole := range [][][]string{table(5, "x"), table(20, strings.Repeat("x", 60))} {
		if d := cmp.Diff(whole, folded(whole)); d != "" {
			t.Error(d)
		}
	}
	if got := folded(table(100, "x")); len(got) != 1+13 || len(got[0]) != 2*8 {
		t.Errorf("%d rows of %d cells", len(got), len(got[0]))
	}
}

// A line that is indented goes on with the one before it, and one that only steers
// leaves no line.
func TestUnwrapped(t *testing.T) {
	const template = "{{define \"a\"}}\n{{/* why */}}\n- x\n  {{- if .}}, y{{end}}.\n{{if .}}{{else}}\nz\n{{end}}\n{{template \"b\"}}\n{{end}}\n"
	const want = "{{define \"a\"}}{{/* why */}}- x {{- if .}}, y{{end}}.\n{{if .}}{{else}}z\n{{end}}{{template \"b\"}}\n{{end}}"
	if got := unwrapped(template); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestPlain(t *testing.T) {
	for in, want := range map[string]string{
		"bar.1":              "bar.1",
		"my_bar_2":           "my_bar_2",
		"_his_ *own*":        `\_his\_ \*own\*`,
		"a | b":              `a \| b`,
		"a\n# b":             "a # b",
		"<b>&amp; AT & T":    `\<b>\&amp; AT & T`,
		"[router] rider = 1": "[router] rider = 1",
		"[x](y)":             `\[x\](y)`,
		"`code` \\ ~":        "\\`code\\` \\\\ \\~",
	} {
		if got := plain(in); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}

func TestWords(t *testing.T) {
	mm, in := words{unit.MM}, words{unit.Inch}
	for _, c := range []struct{ got, want string }{
		{mm.size(5.08), "5.08 mm"},
		{mm.own(5.08), "5.08 mm"},
		{in.own(5.08), "0.2 in"},
		{in.size(5.08), "0.2 in (5.08 mm)"},
		{mm.rough(306.94), "306.9 mm"},
		{in.rough(254), "10 in"},
		{mm.place(xy{-0.001, 12.345}), "(0, 12.35)"},
		{in.place(xy{25.4, -12.7}), "(1, -0.5)"},
		{mm.by(xy{10, 20.04}), "10 x 20 mm"},
		{in.by(xy{25.4, 50.8}), "1 x 2 in"},
		{mm.fine(-1e-12), "0.0000 mm"},
		{in.fine(0.001), "0.00004 in"},
		{mm.area(0.5432), "0.54 mm²"},
		{in.area(0.5432), "0.0008 in²"},
		{mm.sheetArea(710000), "0.71 m²"},
		{in.sheetArea(2 * 304.8 * 304.8), "2 ft²"},
		{fixed(-1e-9, 6), "0"},
		{fixed(1e15, 6), "1000000000000000"},
		{list([]string{"a", "b", "c"}), "a, b and c"},
		{compass(geom.Pt(0, 0), geom.Pt(1, 0.5)), "right"},
		{compass(geom.Pt(0, 0), geom.Pt(-1, 0.5)), "left"},
		{compass(geom.Pt(0, 0), geom.Pt(0.5, 1)), "upper"},
		{compass(geom.Pt(0, 0), geom.Pt(0.5, -1)), "lower"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}
