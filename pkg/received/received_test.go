package received_test

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/job"
	"strapwork/pkg/measured"
	"strapwork/pkg/profile"
	"strapwork/pkg/received"
	"strapwork/pkg/unit"
)

// work is the job of table by a laser, its grooves likely out by 0.04 mm for other
// reasons than their tracks.
func work(t testing.TB, units string) received.Work {
	j := table(t, units)
	return received.Work{Inlay: j.Inlay, Router: j.Router, Shop: profile.Plain(), Likely: 0.04}
}

// table reads a job with a groove of 5 mm, a bit of 3 and a rider of 100: a
// track is planned 102 mm wide.
func table(t testing.TB, units string) *job.Job {
	t.Helper()
	j, found := job.Read("job.toml", []byte(`
title = "A bar"
units = "`+units+`"
[motif]
[[motif.line]]
from = ["-150 mm", 0]
to = ["150 mm", 0]
[inlay]
depth = "3 mm"
width = "5 mm"
[router]
guide = "base"
rider = "100 mm"
bit = "3 mm"
`))
	if found.HasErrors() {
		t.Fatal(found)
	}
	return j
}

func openings(ids ...string) []received.Opening {
	var list []received.Opening
	for _, id := range ids {
		list = append(list, received.Opening{ID: id, Panel: id[:1], Cut: "bar", Nominal: 102})
	}
	return list
}

func rules(found diag.Findings) []string {
	var list []string
	for _, f := range found {
		list = append(list, f.Severity.String()+" "+f.Rule)
	}
	return list
}

// judge reads a card with the given lines and judges A1 by it.
func judge(t *testing.T, rider, bit, track string) (received.Groove, diag.Findings) {
	t.Helper()
	text := "rider = " + rider + "\nbit = " + bit + "\n[track]\nA1 = " + track + "\n"
	card, found := received.Read("card.toml", []byte(text), unit.MM, []string{"A1"})
	if len(found) > 0 {
		t.Fatal(found)
	}
	list, found := received.Judge(work(t, "mm"), card, openings("A1"))
	if len(list) != 1 {
		t.Fatalf("%d grooves", len(list))
	}
	return list[0], found
}

// The groove is track - rider + bit (2-wall grooving, common practice), each
// case worked by hand for a groove of 5 mm.
func TestVerdicts(t *testing.T) {
	for _, c := range []struct {
		name, rider, bit, track string
		verdict                 received.Verdict
		width                   float64
		layers                  []float64
		rules                   []string
	}{
		// Half of it on each wall where layers come near that: 0.12 for 0.13, 0.2 for 0.19.
		{"as planned", "100", "3", "102", received.Good, 5, nil, nil},
		{"two hundredths over", "100", "3", "102.02", received.Good, 5.02, nil, nil},
		{"two hundredths under", "100", "3", "101.98", received.Good, 4.98, nil, nil},
		{"a layer of packing tape", "100", "3", "102.06", received.Tape, 5.06, []float64{0.06}, nil},
		{"a thin layer on each wall", "100", "3", "102.13", received.Tape, 5.13, []float64{0.06, 0.06}, nil},
		{"two layers", "100", "3", "102.19", received.Tape, 5.19, []float64{0.10, 0.10}, nil},
		{"a wide slot and a small rider", "99.95", "3.05", "102", received.Tape, 5.10, []float64{0.06, 0.06}, nil},
		{"no usual tape is so thin", "100", "3", "102.03", received.Good, 5.03, nil, nil},
		{"nor so thin", "100", "3", "102.05", received.Good, 5.05, nil, nil},
		{"a file takes that off", "100", "3", "101.97", received.Narrow, 4.97, nil, []string{"error narrow"}},
		{"one and a half kerfs over", "100", "3", "102.6", received.Wide, 5.6, nil, []string{"error wide"}},
		{"a tenth under", "100", "3", "101.9", received.Narrow, 4.9, nil, []string{"error narrow"}},
		{"a large rider", "[100.1, 100.11, 100.09]", "3", "102", received.Narrow, 4.9, nil, []string{"error narrow"}},
		{"the rider stays out", "100", "3", "99.9", received.NoEntry, 2.9, nil, []string{"error no-entry"}},
		{"the bit is too wide", "100", "5.1", "102", received.BitWide, 7.1, nil, []string{"error bit-wide"}},
		{"a base with flats", "[100, 99.9, 100.1]", "3", "102", received.Good, 5, nil, []string{"warning rider-not-round"}},
		{"tape by the narrowest place", "100", "3", "[102.1, 102.2, 102.13]", received.Tape, 5.1, []float64{0.06, 0.06}, []string{"warning track-uneven"}},
		{"narrow in one place", "100", "3", "[101.9, 102]", received.Narrow, 4.9, nil, []string{"error narrow", "warning track-uneven"}},
		{"wide in one place", "100", "3", "[102, 102.6]", received.Wide, 5, nil, []string{"error wide"}},
		{"not measured", "100", "3", `""`, received.Unknown, 0, nil, []string{"error unmeasured"}},
		{"no rider", `["", "", ""]`, "3", "102", received.Unknown, 0, nil, []string{"error unmeasured"}},
		{"no bit", "100", `""`, "102", received.Unknown, 0, nil, []string{"error unmeasured"}},
		{"other units", `"100 mm"`, `"3 mm"`, `"4.1 in"`, received.Wide, 5.14 + 2, nil, []string{"error wide"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			g, found := judge(t, c.rider, c.bit, c.track)
			if g.Verdict != c.verdict || math.Abs(g.Width-c.width) > 1e-9 || !slices.Equal(g.Tape.Layers(), c.layers) {
				t.Errorf("%s, %v, %v; want %s, %v, %v", g.Verdict, g.Width, g.Tape.Layers(), c.verdict, c.width, c.layers)
			}
			if d := cmp.Diff(c.rules, rules(found)); d != "" {
				t.Errorf("(-want +got)\n%s", d)
			}
			for _, f := range found {
				if f.Pos.File != "card.toml" || f.Pos.Line == 0 || f.Excerpt == "" || f.Hint == "" {
					t.Errorf("a finding without its place or hint: %+v", f)
				}
			}
		})
	}
}

// Whatever the readings: with the tape that is named the groove is as wide as
// is wanted, and never narrower than makers take.
func TestTapeMends(t *testing.T) {
	w := work(t, "mm")
	rapid.Check(t, func(t *rapid.T) {
		card := received.Card{
			Rider:  measured.Reading{Values: []float64{rapid.Float64Range(99, 101).Draw(t, "rider")}},
			Bit:    measured.Reading{Values: []float64{rapid.Float64Range(2.5, 4).Draw(t, "bit")}},
			Tracks: map[string]measured.Reading{"A1": {Values: rapid.SliceOfN(rapid.Float64Range(99, 105), 1, 4).Draw(t, "track")}},
		}
		list, found := received.Judge(w, card, openings("A1"))
		g := list[0]
		want := slices.Min(card.Tracks["A1"].Values) - card.Rider.Values[0] + card.Bit.Values[0]
		if math.Abs(g.Width-want) > 1e-9 {
			t.Fatalf("a groove of %v, want %v", g.Width, want)
		}
		if g.Broad != slices.Max(card.Tracks["A1"].Values) || math.Abs(g.Widest-g.Width-(g.Broad-g.Track)) > 1e-9 {
			t.Fatalf("%+v", g)
		}
		repaired := g.Verdict == received.Good || g.Verdict == received.Tape
		if repaired == found.HasErrors() {
			t.Fatalf("%s, and %v", g.Verdict, found)
		}
		if !repaired {
			return
		}
		for _, l := range g.Tape.Layers() {
			if !slices.Contains(received.Tapes(), l) {
				t.Fatalf("no tape is %v thick", l)
			}
		}
		const rounding = 1e-5
		if left := want - g.Tape.Total() - 5; g.Verdict == received.Tape && math.Abs(left) > received.Tolerance+rounding {
			t.Fatalf("%v are left", left)
		}
		if off := g.Off; g.Verdict == received.Good && math.Abs(off) > 0.05+rounding {
			t.Fatalf("%v are left alone", off)
		}
		if want < 5-received.Tolerance-rounding {
			t.Fatalf("a groove of %v is said to be %s", want, g.Verdict)
		}
	})
}

// The card's mistakes, each at its place.
func TestReadErrors(t *testing.T) {
	long := strings.Repeat("1, ", 30)
	for _, c := range []struct{ name, text, want, hint string }{
		{"unknown opening", "[track]\nA3 = 1", `card.toml:2:1: error: there is no track "A3" in this job`, "did you mean A1?"},
		{"small letter", "[track]\nb1 = 1", `card.toml:2:1: error: there is no track "b1" in this job`, "did you mean B1?"},
		{"nothing like it", "[track]\nhello = 1", `card.toml:2:1: error: there is no track "hello" in this job`, "there are A1, A2, B1"},
		{"unknown key", "ridr = 100", `card.toml:1:1: error: there is no key "ridr" in a card`, "did you mean rider?"},
		{"outside the table", "A1 = 100", `card.toml:1:1: error: there is no key "A1" in a card`, "A1 is a track: write [track] on a line above it"},
		{"unknown table", "[tracks]\nA1 = 1", `card.toml:1:2: error: there is no table "tracks" in a card`, "did you mean track?"},
		{"list of tables", "[[track]]\nA1 = 1", "card.toml:1:3: error: track must be a table, not a list", "write [track] in single brackets"},
		{"deeper", "[track]\nA1.x = 1", "card.toml:2:1: error: A1 must be a number, or a length in quotes, not a table", `write 101.9, "4.01 in", or "" where it is not measured yet`},
		{"wrong type", "bit = true", "card.toml:1:7: error: bit must be a number, or a length in quotes", `write 101.9, "4.01 in", or "" where it is not measured yet`},
		{"a table", "track = 5", "card.toml:1:9: error: track must be a table, not a whole number", "write [track] on a line of its own, and its keys below"},
		{"in a list", "[track]\nA1 = [101.9, false]", "card.toml:2:14: error: A1 must be a number, or a length in quotes", `write 101.9, "4.01 in", or "" where it is not measured yet`},
		{"nan", "bit = nan", "card.toml:1:7: error: bit cannot be nan", "write a number"},
		{"negative", "bit = -3", "card.toml:1:7: error: bit must be more than 0, not -3 mm", `write 101.9, or a length with its unit in quotes: "4.01 in"`},
		{"far", "bit = 11000", "card.toml:1:7: error: bit must be at most 10000 mm, not 11000 mm", `is the unit right? a bare number means mm here; write 101.9, or a length with its unit in quotes: "4.01 in"`},
		{"decimal comma", `bit = "3,1"`, "card.toml:1:9: error: bit: ", ""},
		{"comma", "bit = 3,1", "card.toml:1:8: error: a comma after the value", "decimals have a point: write 3.1; several values go in brackets: [3, 5]"},
		{"comma in a list", "rider = [90.1, 90,05]", "card.toml:1:19: error: a whole number cannot begin with 0", "decimals have a point: write 90.05; several values go in brackets: [3, 5]"},
		{"no quotes", "bit = 3 mm", "card.toml:1:9: error: the line should end here, but goes on with 'm'", `a length with a unit, or an expression, goes in quotes: bit = "3 mm"`},
		{"empty", "bit =", "card.toml:1:5: error: there is no value after the =", "write key = value"},
		{"twice", "bit = 3\nbit = 3", `card.toml:2:1: error: "bit" is given twice`, "it was first given on line 1"},
		{"table twice", "[track]\n[track]", "card.toml:2:2: error: table [track] is given twice", "it was first given on line 1"},
		{"many", "bit = [" + long + "1]", "card.toml:1:7: error: bit has 31 readings", "give at most 20"},
		{"units", `units = "cm"`, `card.toml:1:9: error: units cannot be "cm"`, `did you mean "mm"?`},
		{"job", "job = 3", "card.toml:1:7: error: job must be text, not a whole number", "write it in quotes"},
		{"not text", "bit = \xff", "card.toml:1:7: error: the file is not UTF-8 text", "save it again as UTF-8"},
		{"too large", strings.Repeat("#", measured.MaxSize+1), "card.toml: error: the file is larger than 1024 KiB", "a card is a short text; is this the right file?"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, found := received.Read("card.toml", []byte(c.text), unit.MM, []string{"A1", "A2", "B1"})
			if len(found) == 0 {
				t.Fatal("nothing is reported")
			}
			if got := found[0].Error(); !strings.HasPrefix(got, c.want) || c.hint != "" && found[0].Hint != c.hint {
				t.Errorf("got  %s (%s)\nwant %s (%s)", got, found[0].Hint, c.want, c.hint)
			}
			if !found.HasErrors() {
				t.Error("no error")
			}
			syntax := slices.Contains([]string{"comma", "comma in a list", "no quotes", "empty", "not text", "too large"}, c.name)
			if received.Unreadable(found) != syntax {
				t.Errorf("unreadable: %v", !syntax)
			}
		})
	}
}

// All mistakes are reported in one go, up to a number.
func TestAllMistakes(t *testing.T) {
	_, found := received.Read("c", []byte("a = 1\nbit = true\n[track]\nX = 1\n"), unit.MM, []string{"A1"})
	if len(found) != 3 {
		t.Errorf("%d are reported: %v", len(found), found)
	}
	_, found = received.Read("c", []byte(strings.Repeat("a = 1\n", 100_000)), unit.MM, nil)
	if len(found) > diag.Most+1 || len(found) == 0 {
		t.Errorf("%d are reported", len(found))
	}
}

// A bare number is what the card says it is, else what the job says, wherever
// in the file that stands.
func TestUnits(t *testing.T) {
	for text, want := range map[string]float64{
		"bit = 1": 25.4, "units = \"mm\"\nbit = 1": 1, "bit = 2\nunits = \"mm\"": 2, `bit = "1/8 in"`: 3.175, `bit = "3 mm"`: 3,
		"bit = [1, 3]\nunits = \"mm\"": 2, "bit = [\"\", 4]\nunits = \"mm\"": 4, `bit = " "`: math.NaN(),
	} {
		card, found := received.Read("card.toml", []byte(text), unit.Inch, nil)
		got := card.Bit.Mean()
		if len(found) > 0 || math.Abs(got-want) > 1e-12 || math.IsNaN(got) != math.IsNaN(want) {
			t.Errorf("%q is %v, want %v; %v", text, got, want, found)
		}
	}
}

// A blank card can be read, and nothing of it is measured; filled in, it is.
func TestBlank(t *testing.T) {
	for _, units := range []string{"mm", "in"} {
		for _, name := range []string{"lid.toml", `a "b" \ c.toml`, "a\nb\x00.toml", ""} {
			j := table(t, units)
			list := openings("A1", "A2", "AB13")
			list[1].Cut = "bad\nname = 1"
			ids := []string{"A1", "A2", "AB13"}
			data := received.Blank(j.Units, j.Router, name, list, nil)
			card, found := received.Read("received.toml", data, unit.MM, ids)
			if len(found) > 0 || len(card.Tracks) != 3 || len(card.Rider.Values)+len(card.Bit.Values) > 0 {
				t.Fatalf("%v\n%s", found, data)
			}
			if name == "lid.toml" && card.Job != name {
				t.Errorf("the card is for %q", card.Job)
			}
			filled := strings.ReplaceAll(string(data), `""`, `"12 mm"`)
			card, found = received.Read("received.toml", []byte(filled), unit.MM, ids)
			if len(found) > 0 || len(card.Rider.Values) != 3 || card.Tracks["AB13"].Mean() != 12 {
				t.Errorf("%v\n%s", found, filled)
			}
			bare := strings.ReplaceAll(string(data), `""`, `1`)
			card, _ = received.Read("received.toml", []byte(bare), unit.MM, ids)
			if want := j.Units.InMM(); card.Bit.Mean() != want {
				t.Errorf("1 is %v mm, want %v", card.Bit.Mean(), want)
			}
		}
	}
}

// Each opening of a real set is measured at a place on its own track: the walls
// are half a track's width away on either side.
func TestOpenings(t *testing.T) {
	for _, name := range []string{"looped-triangle.toml", "box-lid.toml"} {
		data, err := os.ReadFile("../../testdata/jobs/" + name)
		if err != nil {
			t.Fatal(err)
		}
		r := build.Check(name, data, os.ReadFile, nil)
		if r.Reached != build.Planned {
			t.Fatal(r.Findings)
		}
		list := received.Openings(r.Set, r.Groove.Size)
		if len(list) != r.Set.Plan.Openings() || len(list) == 0 {
			t.Errorf("%s: %d openings, want %d", name, len(list), r.Set.Plan.Openings())
		}
		i := 0
		for _, p := range r.Set.Panels {
			for _, o := range p.Openings {
				g := list[i]
				i++
				h := g.Nominal / 2
				for _, side := range []float64{-1, 1} {
					in, out := g.At.Add(g.Across.Scale(side*(h-0.01))), g.At.Add(g.Across.Scale(side*(h+0.01)))
					if !o.Area.Contains(in) || o.Area.Contains(out) {
						t.Errorf("%s: %s is not %v wide at %v", name, g.ID, g.Nominal, g.At)
					}
				}
			}
		}
	}
}

func TestWords(t *testing.T) {
	seen := map[string]bool{}
	for v := received.Unknown; v <= received.BitWide; v++ {
		if seen[v.String()] || strings.HasPrefix(v.String(), "verdict") {
			t.Errorf("%d is %q", v, v)
		}
		seen[v.String()] = true
	}
	if got := received.Verdict(99).String(); got != "verdict(99)" {
		t.Error(got)
	}
	if lo, hi := (measured.Reading{}).Span(); lo != 0 || hi != 0 {
		t.Error("nothing has a span")
	}
	if got := received.Openings(build.Result{}.Set, build.Result{}.Groove.Size); len(got) != 0 {
		t.Errorf("%v", got)
	}
}

// FuzzRead: no card panics; findings have a place within the file, and what is
// read without an error is lengths that calipers can measure.
func FuzzRead(f *testing.F) {
	for _, text := range []string{
		string(received.Blank(unit.MM, table(f, "mm").Router, "job.toml", openings("A1", "A2"), nil)),
		"units = \"in\"\nrider = [1, \"2 mm\", \"\"]\n[track]\nA1 = [[1]]", "track.A1 = 1e3\nbit = '3 1/4\"'", "[track]\nA1 = {a = 1}",
		"bit = \"\"\"\n3\"\"\"", "\"r\\u0069der\" = 1", "bit = 0x10", "bit = 1979-05-27", "[[a.b]]\n[a]\n", "bit = \"\\u0033,1\"", "\ufeffbit = 1\r\n",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		card, found := received.Read("c", data, unit.MM, []string{"A1", "A2"})
		lines := strings.Split(strings.TrimPrefix(string(data), "\ufeff"), "\n")
		for _, g := range found {
			if g.Pos.Line < 0 || g.Pos.Line > len(lines) || g.Message == "" {
				t.Errorf("%+v in %d lines", g, len(lines))
			}
			if strings.Contains(g.Message, "unstable") || strings.Contains(g.Message, "%!") {
				t.Errorf("%q", g.Message)
			}
		}
		if found.HasErrors() {
			return
		}
		all := append(slices.Clone(card.Rider.Values), card.Bit.Values...)
		for id, r := range card.Tracks {
			if id != "A1" && id != "A2" {
				t.Errorf("a track %q", id)
			}
			all = append(all, r.Values...)
		}
		for _, v := range all {
			if !(v > 0 && v <= 10_000) {
				t.Errorf("a length of %v", v)
			}
		}
	})
}
