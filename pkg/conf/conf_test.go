package conf_test

import (
	"math"
	"strings"
	"testing"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

// small is a format with a key of every type.
var small = conf.Format{
	Name: "small", What: "a small file", Title: "A small file", MaxSize: 1 << 16, Rule: conf.Named("small"),
	Tables: []conf.Table{
		{Keys: []conf.Key{
			{Name: "word", Is: conf.Word, Words: []string{"one", "two"}, Default: conf.Typed{`"two"`}, Help: "a word"},
			{Name: "box", Is: conf.TableOf("box"), Must: true, Ask: "add [box]", Help: "a box"},
			{Name: "peg", Is: conf.List(0, conf.TableOf("peg")), Help: "a peg"},
			{Name: "any", Is: conf.TableOf("any"), Help: "whatever"},
		}},
		{Path: "box", Keys: []conf.Key{
			{Name: "deep", Is: conf.Length, Must: true, Range: conf.Positive, Example: conf.Typed{"3", `"1/8"`}, Ask: "its depth", Help: "its depth"},
			{Name: "wall", Is: conf.Length, Range: conf.From(1, 20), Default: conf.Typed{"9", "3/8"}, Help: "its wall"},
			{Name: "tilt", Is: conf.Angle, Range: conf.From(1, 3).OrZero(), Default: conf.Typed{"3"}, Help: "its tilt"},
			{Name: "fast", Is: conf.Feed, Range: conf.UpTo(2000), Help: "its feed"},
			{Name: "turns", Is: conf.Number, Unit: "rpm", Range: conf.From(500, 1000), Default: conf.Typed{"700"}, Help: "its speed"},
			{Name: "count", Is: conf.Whole, Range: conf.From(1, 9), Default: conf.Typed{"4"}, Quiet: true, Help: "its parts"},
			{Name: "at", Is: conf.List(3, conf.Length), Example: conf.Typed{"[1, 2, 3]"}, Help: "its place"},
			{Name: "lid", Is: conf.Flag, Default: conf.Typed{"true"}, For: []string{"base"}, Else: "it stands open", Help: "its lid"},
		}},
		{Path: "peg", Keys: []conf.Key{
			{Name: "to", Is: conf.Point, Must: true, Help: "its place"},
			{Name: "name", Is: conf.Text, Help: "its name"},
		}},
		{Path: "any", Any: &conf.Length},
	},
}

// box is what the tests read of a small file.
type box struct {
	word                          int
	deep, wall, tilt, fast, turns float64
	count, pegs                   int
	at                            [3]float64
	lid                           bool
}

func readBox(text string, u unit.System) (b box, r *conf.Reader, ok bool) {
	if r, ok = conf.Open(&small, "f.toml", []byte(text)); !ok {
		return b, r, ok
	}
	r.Units = u
	top := r.Whole()
	t, _ := top.Sub("box")
	b = box{
		word: top.Word("word"), deep: t.Length("deep"), wall: t.Length("wall"), tilt: t.Angle("tilt") * 180 / math.Pi, fast: t.Feed("fast"),
		turns: t.Number("turns"), count: t.Count("count"), lid: t.Flag("lid"),
	}
	t.Fill("at", b.at[:])
	for _, peg := range top.List("peg", 3) {
		peg.Point("to")
		peg.Text("name")
		b.pegs++
	}
	t.Idle("pivot")
	t.Assume("base")
	return b, r, r.OK()
}

// Each amount is within its range or reported by the bound that it breaks, in the file's
// units; the lengths in inches are 1/8 = 3.175 mm, 3/8 = 9.525 mm, 20 mm = 0.787 in.
func TestRanges(t *testing.T) {
	for _, c := range []struct {
		keys string
		u    unit.System
		want string // place and text; "" where all is well
	}{
		{"deep = 3\nwall = 1\ntilt = 1\nfast = 2000\nturns = 500\ncount = 1", unit.MM, ""},
		{"deep = 3\nwall = 20\ntilt = 3\nfast = 1\nturns = 1000\ncount = 9", unit.MM, ""},
		{"deep = 3\ntilt = 0", unit.MM, ""},
		{"deep = 0", unit.MM, "2:8: error: deep must be more than 0, not 0 mm"},
		{"deep = '-1/8'", unit.Inch, "2:8: error: deep must be more than 0, not -1/8 in"},
		{"deep = 1\nwall = 0.99", unit.MM, "3:8: error: wall must be 1 to 20 mm, not 0.99 mm"},
		{"deep = 1\nwall = 20.01", unit.MM, "3:8: error: wall must be 1 to 20 mm, not 20.01 mm"},
		{"deep = 1\nwall = 1", unit.Inch, "3:8: error: wall must be 0.04 to 0.787 in, not 1 in"},
		{"deep = 1\ntilt = 0.5", unit.MM, "3:8: error: tilt must be 0, or 1 to 3 degrees, not 0.5"},
		{"deep = 1\ntilt = 3.01", unit.MM, "3:8: error: tilt must be 0, or 1 to 3 degrees, not 3.01"},
		{"deep = 1\ntilt = '3 mm'", unit.MM, "3:11: error: tilt: an angle takes no unit"},
		{"deep = 1\nfast = 2001", unit.MM, "3:8: error: fast must be at most 2000 mm/min, not 2001 mm/min"},
		{"deep = 1\nturns = 499", unit.MM, "3:9: error: turns must be 500 to 1000 rpm, not 499"},
		{"deep = 1\nturns = '600'", unit.MM, "3:9: error: turns must be a number, not text"},
		{"deep = 1\ncount = 10", unit.MM, "3:9: error: count must be 1 to 9, not 10"},
		{"deep = 1\ncount = 2.0", unit.MM, "3:9: error: count must be a whole number, not a number"},
		{"deep = 1\nat = [1, 2]", unit.MM, "3:6: error: at must have three lengths, not 2"},
		{"deep = 1\nat = [1, nan, 3]", unit.MM, "3:10: error: at: y cannot be nan"},
		{"deep = 1\nat = [1, 100001, 3]", unit.MM, "3:10: error: at: y of 100001 mm is beyond 100 m"},
		{"deep = 1\nlid = 'no'", unit.MM, "3:7: error: lid must be true or false, not text"},
		{"dep = 1", unit.MM, `2:1: error: there is no key "dep" in [box]`},
		{"", unit.MM, "1:2: error: deep is missing"},
	} {
		_, r, ok := readBox("[box]\n"+c.keys+"\n", c.u)
		found := r.Findings()
		if ok != (c.want == "") || len(found) > 1 || !ok && found[0].Error() != "f.toml:"+c.want {
			t.Errorf("%q: %v, want %q", c.keys, found, c.want)
		}
		for _, f := range found {
			if f.Hint == "" && !strings.Contains(c.keys, "wall") && !strings.Contains(c.keys, "tilt") && !strings.Contains(c.keys, "fast") &&
				!strings.Contains(c.keys, "turns") && !strings.Contains(c.keys, "count") { // these have no example
				t.Errorf("%q: no hint", c.keys)
			}
		}
	}
}

// What is left out gets its default, round in the file's units, and one note has them all.
func TestDefaultsAndNotes(t *testing.T) {
	for u, want := range map[unit.System]struct {
		wall float64
		note string
	}{
		unit.MM:   {9, "[box] assumed: wall 9 mm, tilt 3 degrees, turns 700 rpm, lid true"},
		unit.Inch: {9.525, "[box] assumed: wall 3/8 in, tilt 3 degrees, turns 700 rpm, lid true"},
	} {
		b, r, ok := readBox("[box]\ndeep = '2 mm'\n", u)
		if !ok || b.word != 1 || math.Abs(b.deep-2) > 1e-12 || math.Abs(b.wall-want.wall) > 1e-12 || math.Abs(b.tilt-3) > 1e-12 || b.turns != 700 || b.count != 4 || !b.lid || b.fast != 0 {
			t.Errorf("%+v, %v", b, r.Findings())
		}
		if len(r.Notes) != 1 || r.Notes[0].Message != want.note || r.Notes[0].Pos.Line != 1 || r.Notes[0].Key != "box" {
			t.Errorf("%v, want %s", r.Notes, want.note)
		}
	}
	_, r, _ := readBox("[box]\ndeep = 2\nlid = false\n", unit.MM)
	if !strings.Contains(r.Notes.Error(), "f.toml:3:7: note: lid has no effect: it stands open") {
		t.Errorf("%v", r.Notes)
	}
}

// Findings carry the key that they are about, with the numbers of lists' items.
func TestKeys(t *testing.T) {
	for text, want := range map[string]diag.Key{
		"[box]\ndeep = -1":                   "box.deep",
		"[box]\nwall = 3":                    "box.deep", // missing
		"":                                   "box",
		"[box]\ndeep = 1\nbulk = 1":          "box.bulk",
		"[box]\ndeep = 1\nat = [1, 2, true]": "box.at.3",
		"[box]\ndeep = 1\n[[peg]]\nto = [0, 0]\n[[peg]]\n":      "peg.2.to",
		"[box]\ndeep = 1\n[[peg]]\nto = ['x', 0]":               "peg.1.to.1",
		"word = 'three'\n[box]\ndeep = 1":                       "word",
		"[box]\ndeep = 1\n[[peg]]\nto = [0, 0]\nname = \"\\n\"": "peg.1.name",
	} {
		_, r, _ := readBox(text, unit.MM)
		if found := r.Findings(); len(found) != 1 || found[0].Key != want || found[0].Rule == "" {
			t.Errorf("%q: %v, want %s", text, found, want)
		}
	}
}

// The keys stand between a page's marks; a page without them is left alone.
func TestInsert(t *testing.T) {
	const page = "before\n<!-- keys of small: written by the tests from the table in the code; don't edit -->\nold\n<!-- end of the keys of small -->\nafter\n"
	out, ok := small.Insert(page)
	if !ok || !strings.HasPrefix(out, "before\n") || !strings.HasSuffix(out, "\nafter\n") || strings.Contains(out, "old") ||
		!strings.Contains(out, "\n| `wall` | length: 1 to 20 mm | 9 mm, or 3/8 in | its wall |\n") || !strings.Contains(out, "\n### `[[peg]]`\n") {
		t.Errorf("%v\n%s", ok, out)
	}
	if again, ok := small.Insert(out); !ok || again != out {
		t.Errorf("not the same a second time:\n%s", again)
	}
	if _, ok := small.Insert("before\nafter\n"); ok {
		t.Error("a page without marks is taken")
	}
}

func TestExplain(t *testing.T) {
	for name, want := range map[string]string{
		"box.tilt": "takes         degrees: 0, or 1 to 3\n", "wall": "if left out   9 mm, or 3/8 in\n", "peg.2.to": "must be given", "[box]": "turns",
		"box.fast": "length per minute: more than 0, at most 2000 mm/min\n", "any": "[any]", "lid": "for guides    base\n",
	} {
		if text, _, ok := small.Explain(name); !ok || !strings.Contains(text, want) {
			t.Errorf("%s: %v\n%s\nwant %q", name, ok, text, want)
		}
	}
	if _, near, ok := small.Explain("box.wal"); ok || near != "box.wall" {
		t.Errorf("%v, %q", ok, near)
	}
}

// FuzzOpen: no file panics; findings have a place within the file, and a file that is
// read without an error has lengths that can be reckoned with.
func FuzzOpen(f *testing.F) {
	for _, s := range []string{
		"", "\ufeff[box]\r\ndeep = 1", "[box]\ndeep = '1/8 in'\nat = [1, 2, 3]", "[[peg]]\nto = [1, 2]\n[box]\ndeep = 2", "box.deep = 3", "box = {deep = 3, wall = 4}",
		"peg = [{to = [1, 2]}, 3]", "[box]\n[box]", "a = [[[", "[box]\ndeep = 3,5", "[any]\nx = 0x1", "word = \"\\u006fne\"\n[box]\ndeep=1", "[box.deep]\n[[box]]",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		b, r, ok := readBox(string(data), unit.Inch)
		lines := strings.Count(string(data), "\n") + 1
		found := r.Findings()
		if ok == found.HasErrors() {
			t.Fatalf("%v, %v", ok, found)
		}
		for _, x := range found {
			if x.Rule == "" || x.Message == "" || x.Pos.Line > lines || x.Pos.Line < 1 && x.Rule != "small-too-large" {
				t.Fatalf("%+v", x)
			}
		}
		if ok && !(b.deep > 0 && b.wall >= 1 && b.wall <= 20 && b.turns >= 500 && b.count >= 1) {
			t.Fatalf("%q: %+v", data, b)
		}
	})
}
