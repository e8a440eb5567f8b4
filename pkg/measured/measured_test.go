package measured_test

import (
	"math"
	"strings"
	"testing"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/measured"
	"strapwork/pkg/unit"
)

var format = conf.Format{Name: "card", What: "a card", MaxSize: measured.MaxSize, Rule: measured.Rule, Tables: []conf.Table{
	{Keys: append(measured.Head(), conf.Key{Name: "depth", Is: measured.Measure, Range: measured.Range})},
}}

// read reads the one measure of a card.
func read(text string, units unit.System) (measured.Card, measured.Reading, diag.Findings) {
	in, ok := measured.Open(&format, "c.toml", []byte(text), units)
	var r measured.Reading
	if ok {
		for _, f := range in.Top().Value.Fields {
			if f.Name == "depth" {
				r = in.Reading(f, measured.Example{Bare: "3.1", Quoted: `"0.12 in"`})
			}
		}
	}
	return in.Card, r, in.Findings().In(in.Units)
}

// A measure is one reading or several, in the card's units, the job's, or its own; what
// is empty is not measured.
func TestReading(t *testing.T) {
	for text, want := range map[string][]float64{
		"depth = 3.1": {3.1}, "depth = [3, 3.2]": {3, 3.2}, `depth = ["", 3]`: {3}, `depth = ""`: nil, "": nil,
		"units = 'in'\ndepth = 1": {25.4}, "depth = 1\nunits = 'in'": {25.4}, `depth = "1/8 in"`: {3.175},
	} {
		_, r, found := read(text, unit.MM)
		if len(found) > 0 || len(r.Values) != len(want) {
			t.Fatalf("%q: %v, %v", text, r.Values, found)
		}
		for i, mm := range r.Values {
			if math.Abs(mm-want[i]) > 1e-12 {
				t.Errorf("%q is %v mm, want %v", text, mm, want[i])
			}
		}
		lo, hi := r.Span()
		if mean := r.Mean(); len(want) > 0 && !(lo <= mean && mean <= hi) || len(want) == 0 && !math.IsNaN(mean) {
			t.Errorf("%q: a mean of %v in %v to %v", text, mean, lo, hi)
		}
	}
	card, _, _ := read("job = 'lid.toml'", unit.MM)
	if card.Job != "lid.toml" || card.File != "c.toml" {
		t.Errorf("%+v", card)
	}
}

// What is wrong is reported in the words of the card's own measure.
func TestBadReading(t *testing.T) {
	for text, want := range map[string]string{
		"depth = true": `write 3.1, "0.12 in", or "" where it is not measured yet`,
		"depth = 0":    `write 3.1, or a length with its unit in quotes: "0.12 in"`,
		"dept = 3":     "did you mean depth?",
		"depth = [" + strings.Repeat("3,", 21) + "]": "give at most 20",
	} {
		_, r, found := read(text, unit.MM)
		if len(found) != 1 || found[0].Hint != want || len(r.Values) > 0 {
			t.Errorf("%q: %v, %v", text, r.Values, found)
		}
	}
}

// A reading that a moved point explains is asked for as it was typed; one that nothing
// explains is far all the same.
func TestAsked(t *testing.T) {
	for _, c := range []struct {
		text, said string
		asked, far bool
	}{
		{"depth = 31", "31 for the depth, which is planned 3 mm: is 3.1 meant?", true, true},
		{"depth = 3.05", "", false, false},
		{"depth = 7", "", false, true},
	} {
		card, r, _ := read(c.text, unit.MM)
		var found diag.Findings
		row := measured.Row{Name: "the depth", Reading: r, Planned: 3}
		if got := card.Asked(&found, row); got != c.asked || c.asked && found[0].Message != c.said {
			t.Errorf("%s: %v, %v", c.text, got, found)
		}
		if _, far := row.Far(); far != c.far {
			t.Errorf("%s is far: %v", c.text, far)
		}
	}
}

// Anybody's words are safe in a card: they come back, but for what TOML forbids.
func TestQuoted(t *testing.T) {
	for name, want := range map[string]string{`a "b" \ c.toml`: `a "b" \ c.toml`, "a\nb\x00": "a?b?"} {
		card, _, found := read("# "+measured.Comment(name)+"\njob = "+measured.Quoted(name), unit.MM)
		if len(found) > 0 || card.Job != want {
			t.Errorf("%q came back as %q: %v", name, card.Job, found)
		}
	}
}
