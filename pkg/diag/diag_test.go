package diag_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

func TestText(t *testing.T) {
	at := func(line, col int) diag.Position { return diag.Position{File: "lid.toml", Line: line, Col: col} }
	long := strings.Repeat("abcdefghij", 30)
	for _, c := range []struct {
		name string
		f    diag.Finding
		want string
	}{
		{
			"all of it",
			diag.Finding{Severity: diag.Error, Pos: at(3, 7), Message: "depth must be more than 0", Hint: "write depth = 3", Excerpt: "depth = -1"},
			"lid.toml:3:7: error: depth must be more than 0\n    depth = -1\n          ^\nhint: write depth = 3\n",
		},
		{
			"without a place",
			diag.Finding{Severity: diag.Warning, Message: "thin"},
			"warning: thin\n",
		},
		{
			"without a column",
			diag.Finding{Severity: diag.Note, Pos: at(3, 0), Message: "assumed", Excerpt: "[inlay]"},
			"lid.toml:3: note: assumed\n    [inlay]\n",
		},
		{
			"a file alone",
			diag.Finding{Severity: diag.Error, Pos: diag.Position{File: "lid.toml"}, Message: "too large"},
			"lid.toml: error: too large\n",
		},
		{
			"tabs and letters of two bytes stay in line",
			diag.Finding{Severity: diag.Error, Pos: at(1, 8), Message: "no", Excerpt: "\tgröße=x"},
			"lid.toml:1:8: error: no\n    \tgröße=x\n    \t      ^\n",
		},
		{
			"a column past the end",
			diag.Finding{Severity: diag.Error, Pos: at(1, 99), Message: "no", Excerpt: "ab"},
			"lid.toml:1:99: error: no\n    ab\n      ^\n",
		},
		{
			"a terminal's control codes",
			diag.Finding{Severity: diag.Error, Pos: at(1, 1), Message: "no \x1b[2J", Excerpt: "\x1b[31m\u202e", Hint: "\x07"},
			"lid.toml:1:1: error: no ?[2J\n    ?[31m?\n    ^\nhint: ?\n",
		},
		{
			"the middle of a long line",
			diag.Finding{Severity: diag.Error, Pos: at(1, 151), Message: "no", Excerpt: long},
			"lid.toml:1:151: error: no\n    ..." + long[90:210] + "...\n    " + strings.Repeat(" ", 63) + "^\n",
		},
		{
			"the start of a long line",
			diag.Finding{Severity: diag.Error, Pos: at(1, 2), Message: "no", Excerpt: long},
			"lid.toml:1:2: error: no\n    " + long[:120] + "...\n     ^\n",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			if d := cmp.Diff(c.want, c.f.Text()); d != "" {
				t.Errorf("-want +got\n%s", d)
			}
		})
	}
}

func TestFprintWritesAll(t *testing.T) {
	var b strings.Builder
	fs := diag.Findings{{Severity: diag.Error, Message: "a"}, {Severity: diag.Note, Message: "b"}}
	if err := diag.Fprint(&b, fs); err != nil || b.String() != "error: a\nnote: b\n" {
		t.Errorf("%q, %v", b.String(), err)
	}
}

func TestFindings(t *testing.T) {
	var fs diag.Findings
	if fs.Err() != nil || fs.HasErrors() {
		t.Error("no findings are an error")
	}
	pos := func(file string, line, col int) diag.Position {
		return diag.Position{File: file, Line: line, Col: col}
	}
	fs.NoteAt(pos("b", 1, 1), "r", "note")
	fs.WarnAt(pos("a", 2, 9), "r", "warn %d", 1)
	if fs.Err() != nil {
		t.Error("warnings are an error")
	}
	fs.ErrorAt(pos("a", 2, 9), "r", "second at one place")
	fs.ErrorAt(pos("a", 10, 1), "r", "last line").Hintf("type %q", "x").SetAt(1, 2).SetExcerpt("e")
	fs.ErrorAt(pos("a", 2, 3), "r", "first")
	fs.Sort()
	var got []string
	for _, f := range fs {
		got = append(got, f.Message)
	}
	want := []string{"first", "second at one place", "last line", "warn 1", "note"}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("order: -want +got\n%s", d)
	}
	if fs.Count(diag.Error) != 3 || fs.Count(diag.Warning) != 1 || fs.Count(diag.Note) != 1 {
		t.Error("miscounted")
	}
	last := fs[2]
	if last.Hint != `type "x"` || last.At != [2]float64{1, 2} || !last.HasAt || last.Excerpt != "e" {
		t.Errorf("%+v", last)
	}
	var f diag.Finding
	if !errors.As(fs.Err(), &f) || f.Message != "first" {
		t.Errorf("errors.As finds %+v", f)
	}
	if !strings.HasPrefix(fs.Error(), "a:2:3: error: first\na:2:9: error: second at one place\n") {
		t.Errorf("%s", fs.Error())
	}
}

// The field names are those of the manifest.
func TestJSON(t *testing.T) {
	fs := diag.Findings{
		{Rule: "thin-web", Severity: diag.Warning, Key: "template.web", Pos: diag.Position{File: "f", Line: 12, Col: 3}, Message: "m", Hint: "h", At: [2]float64{1, 2.5}, HasAt: true, Excerpt: "e"},
		{Rule: "x", Severity: diag.Error, Message: "m"},
	}
	fs[0].Propose("template.web", unit.Len(9)).Propose("router.guide", unit.Say("%q", "bushing"))
	want := `[{"rule":"thin-web","severity":"warning","message":"m","hint":"h","at":[1,2.5],"file":"f","line":12,"col":3,"key":"template.web","cures":[{"key":"template.web","value":"9"},{"key":"router.guide","value":"\"bushing\""}]},` +
		`{"rule":"x","severity":"error","message":"m"}]`
	got, err := json.Marshal(fs)
	if err != nil || string(got) != want {
		t.Errorf("%s, %v", got, err)
	}
}

func TestNearest(t *testing.T) {
	words := []string{"depth", "proud", "clearance", "width", "strips", "off_center", "d", "to"}
	for got, want := range map[string]string{
		"depht": "depth", "detph": "depth", "dept": "depth", "with": "width", "wdith": "width", "clearence": "clearance",
		"offcenter": "off_center", "strip": "strips", "strps": "strips", "prod": "proud",
		"": "", "zzz": "", "x": "", "flute": "", strings.Repeat("depth", 100): "",
	} {
		if near := diag.Nearest(got, words); near != want {
			t.Errorf("%q is near %q, want %q", got, near, want)
		}
	}
}

// A finding's amounts are put into units once, by who knows them first.
func TestAmountsIn(t *testing.T) {
	var fs diag.Findings
	fs.ErrorAt(diag.Position{}, "flute-short", "flutes of %s", unit.Len(3.17)).Hintf("take %s", unit.AtLeast(3.175))
	fs.ErrorAt(diag.Position{}, "words", "nothing to convert, %d", 3)
	in := fs.In(unit.Inch)
	if fs[0].Message != "flutes of 3.17 mm" || fs[0].Hint != "take 3.18 mm" {
		t.Errorf("before: %q, %q", fs[0].Message, fs[0].Hint)
	}
	again := in.In(unit.MM)
	if again[0].Message != "flutes of 0.125 in" || again[0].Hint != "take 1/8 in" || again[1].Message != "nothing to convert, 3" {
		t.Errorf("in inches: %+v", again)
	}
}
