package unit_test

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/unit"
)

// Closed values: the inch is 25.4 mm (ISO 80000-3), a fraction of it exact where
// it is a number of 1/64.
func TestAmounts(t *testing.T) {
	for _, c := range []struct {
		amount unit.Amount
		mm, in string
	}{
		{unit.Len(3.175), "3.175 mm", "1/8 in"},
		{unit.Len(3.17), "3.17 mm", "0.125 in"},
		{unit.Len(60.325), "60.325 mm", "2 3/8 in"},
		{unit.Len(76.2), "76.2 mm", "3 in"},
		{unit.Len(-3.175), "-3.175 mm", "-1/8 in"},
		{unit.Len(0), "0 mm", "0 in"},
		{unit.Len(0.00042), "0.00042 mm", "0.000017 in"},
		{unit.AtLeast(3.1751), "3.18 mm", "0.126 in"},
		{unit.AtLeast(3.175), "3.18 mm", "1/8 in"},
		{unit.AtMost(3.175), "3.17 mm", "1/8 in"},
		{unit.AtMost(10), "10 mm", "0.393 in"},
		{unit.AtMost(-1), "0 mm", "0 in"},
		{unit.AtMost(0.0349), "0.034 mm", "0.0013 in"},
		{unit.AtLeast(17).Typed(), "17", "0.67"},
		{unit.Len(7.9375).Typed(), "7.938", "0.3125"},
		{unit.Area(645.16), "645.16 mm²", "1 in²"},
		{unit.Rate(250).Down(), "250 mm/min", "9.84 in/min"},
		{unit.Rate(3000).Down(), "3000 mm/min", "118 in/min"},
		{unit.ChipLoad(0.0375), "0.0375 mm", "0.00148 in"},
		{unit.ChipLoad(0.004333), "0.00433 mm", "0.000171 in"},
		{unit.EdgeSpeed(159.6), "160 m/min", "524 ft/min"},
		{unit.Place{X: 69.3, Y: -40}, "(69.3, -40) mm", "(2.728, -1.575) in"},
		{unit.List([]unit.Text{unit.Say("a"), unit.Say("%s", unit.Len(25.4)), unit.Say("100 %% of c")}), "a, 25.4 mm and 100 % of c", "a, 1 in and 100 % of c"},
		{unit.Join([]unit.Text{unit.Say("a"), unit.Say("b")}, ", or "), "a, or b", "a, or b"},
		{unit.List(nil), "", ""},
		{unit.Place{X: 25.4, Y: -40}.Typed(), "[25.4, -40]", "[1, -1.575]"},
		{unit.Place{X: -0.0001, Y: 100000.25}, "(0, 100000.25) mm", "(0, 3937.018) in"},
		{unit.Len(317.53).Rough(), "317.5 mm", "12.5 in"},
		{unit.Len(76.2).Rough(), "76.2 mm", "3 in"},
		{unit.Len(-1.26).Rough(), "-1.3 mm", "-0.05 in"},
		{unit.Say("from %s to %s, %d times", unit.Len(25.4), unit.Say("[%s]", unit.Len(50.8)), 3), "from 25.4 mm to [50.8 mm], 3 times", "from 1 in to [2 in], 3 times"},
	} {
		if got := c.amount.In(unit.MM); got != c.mm {
			t.Errorf("%+v in mm: %q, want %q", c.amount, got, c.mm)
		}
		if got := c.amount.In(unit.Inch); got != c.in {
			t.Errorf("%+v in inches: %q, want %q", c.amount, got, c.in)
		}
	}
}

// An error's amounts come through those that wrap it, and so does the error.
func TestErrorf(t *testing.T) {
	inner := unit.Errorf("%s is too long", unit.Len(25.4))
	err := unit.Errorf("sheet %s: %v", "A", inner)
	amount, ok := err.(unit.Amount)
	if !ok || amount.In(unit.Inch) != "sheet A: 1 in is too long" || err.Error() != "sheet A: 25.4 mm is too long" {
		t.Errorf("%v, %v", err, amount)
	}
	if !errors.Is(err, inner) {
		t.Error("the inner error is not wrapped")
	}
	if said := unit.Say("it says: %v", err).In(unit.Inch); said != "it says: sheet A: 1 in is too long" {
		t.Error(said)
	}
}

// What is rounded up is enough and what is rounded down is not too much, in
// either unit, and neither is far from what was meant.
func TestSides(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0.001, 5000).Draw(t, "mm")
		for _, s := range []unit.System{unit.MM, unit.Inch} {
			least, most := typed(t, unit.AtLeast(v), s), typed(t, unit.AtMost(v), s)
			if least < v-1e-7 || most > v+1e-7 {
				t.Fatalf("%g mm: at least %g, at most %g", v, least, most)
			}
			if room := math.Max(0.03, v/1000); least > v+room || most < v-room {
				t.Fatalf("%g mm: at least %g, at most %g", v, least, most)
			}
		}
	})
}

// typed is what whoever types an amount has typed, mm.
func typed(t *rapid.T, q unit.Quantity, s unit.System) float64 {
	v, err := strconv.ParseFloat(q.Typed().In(s), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v * s.InMM()
}

// Two lengths that differ are seen to.
func TestApart(t *testing.T) {
	for _, b := range []float64{3.18, 3.1751, 3.17500004, 3.17} {
		p, q := unit.Apart(3.175, b)
		for _, s := range []unit.System{unit.MM, unit.Inch} {
			if p.In(s) == q.In(s) || p.Typed().In(s) == q.Typed().In(s) {
				t.Errorf("%g and %g both read %q", 3.175, b, p.In(s))
			}
		}
	}
	if p, q := unit.Apart(3.17, 3.175); p.In(unit.Inch) != "0.1248 in" || q.In(unit.Inch) != "0.125 in" {
		t.Errorf("a fraction beside its rounded neighbour: %s and %s", p.In(unit.Inch), q.In(unit.Inch))
	}
	if p, q := unit.Apart(2, 2); p != q || strings.Contains(p.In(unit.MM), ".") {
		t.Errorf("2 and 2: %v and %v", p, q)
	}
}
