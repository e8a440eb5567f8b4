package received_test

import (
	"math"
	"strings"
	"testing"

	"strapwork/pkg/fixture"
	"strapwork/pkg/received"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
)

// railSet has holes of two rows, out of order.
func railSet() template.Set {
	return template.Set{Rail: &fixture.Rail{Rows: []float64{14, 30}, Holes: []fixture.RailHole{
		{SetUp: 1, At: 450}, {SetUp: 2, At: 2140}, {SetUp: 3, At: 40, Row: 1}, {SetUp: 4, At: 870, Row: 1},
	}}}
}

// What a tape says of 2100 mm between the holes: within its own 0.3 + 3 x 0.2 = 0.9 mm
// nothing is said. At 2102.1 the shop's lengths are 0.1 % too long, and a repeat of 140 mm
// is to be drawn 140 / 1.001 = 139.860.
func TestJudgeRail(t *testing.T) {
	rail := received.RailOf(railSet())
	if *rail != (received.Rail{Nominal: 2100, First: 3, Last: 2}) {
		t.Fatalf("%+v", rail)
	}
	for _, c := range []struct {
		typed  string
		ok     bool
		scale  float64
		says   string // of the finding; empty for none
		severe bool
	}{
		{`rail = "2100.8 mm"`, true, 0.8 / 2100, "", false},
		{`rail = "2102.1 mm"`, true, 0.001, "the rail is 2.1 mm too long in 2100 mm, 0.1 %", false},
		{`rail = ["2097.8 mm", "2098 mm"]`, true, -0.001, "the rail is 2.1 mm too short in 2100 mm, 0.1 %", false},
		{`rail = ""`, false, 0, "the rail is not measured", true},
		{``, false, 0, "the rail is not measured", true},
		{`rail = "210 cm"`, true, 0, "", false},
		{`rail = "2010 mm"`, false, 0, "2010", true}, // two digits exchanged
	} {
		card, found := received.Read("card.toml", []byte("units = \"mm\"\n"+c.typed+"\n"), unit.MM, nil)
		if found.HasErrors() {
			t.Fatal(found)
		}
		s, ok, found := received.JudgeRail(card, rail, 140)
		if ok != c.ok || ok && math.Abs(s.Part()-c.scale) > 1e-9 {
			t.Errorf("%s: %v, %g", c.typed, ok, s.Part())
		}
		text := found.In(unit.MM).Error()
		if (c.says == "") != (len(found) == 0) || !strings.Contains(text, c.says) || found.HasErrors() != c.severe {
			t.Errorf("%s: %s", c.typed, text)
		}
		if c.says != "" && ok && c.scale > 0 && !strings.Contains(found[0].Hint, "139.86 mm and not 140 mm") {
			t.Errorf("%s: hint %q", c.typed, found[0].Hint)
		}
	}
}

// A job without a rail says so of a card that has one.
func TestNoRail(t *testing.T) {
	card, _ := received.Read("card.toml", []byte("units = \"mm\"\nrail = 2100\n"), unit.MM, nil)
	if _, ok, found := received.JudgeRail(card, nil, 0); ok || len(found) != 1 || found.HasErrors() {
		t.Errorf("%v", found)
	}
	card, _ = received.Read("card.toml", []byte("units = \"mm\"\n"), unit.MM, nil)
	if _, ok, found := received.JudgeRail(card, nil, 0); ok || len(found) != 0 {
		t.Errorf("%v", found)
	}
	if received.RailOf(template.Set{}) != nil {
		t.Error("a rail of nothing")
	}
}
