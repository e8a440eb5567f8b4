package report

// How lengths and places are said on the bench sheet: in the job's own units, and what is
// measured and tuned with millimetres in brackets too where those are inches.

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"strapwork/pkg/unit"
)

// Decimals of what is laid out with a rule or only looked for; what is
// measured and tuned has the decimals of package unit.
const (
	roughMM = 1
	roughIn = 2
	placeMM = 2
	placeIn = 3
)

// Decimals of the budget: a hundredth of a millimetre, a ten-thousandth of an
// inch.
const (
	budgetMM = 2
	budgetIn = 4
)

// words says lengths in one system of units.
type words struct{ u unit.System }

// size is a length that is measured or tuned: "5.08 mm", "0.2 in (5.08 mm)".
func (w words) size(mm num) string {
	return w.both(unit.Format(float64(mm), w.u), unit.Format(float64(mm), unit.MM))
}

// own is such a length in the job's units alone: "5.08 mm", "0.2 in".
func (w words) own(mm num) string { return unit.Format(float64(mm), w.u) }

// number is such a length in the job's units without naming them.
func (w words) number(mm num) string { return unit.Number(float64(mm), w.u) }

// rough is a length that is laid out or looked for: "306.9 mm".
func (w words) rough(mm num) string { return w.named(mm, roughMM, roughIn) }

// coarse is such a length in the job's units without naming them.
func (w words) coarse(mm num) string { return w.digits(mm, roughMM, roughIn) }

// deep is a depth to set the bit to, or what else the cutting card names, in the job's
// units without naming them: no depth stop is read finer.
func (w words) deep(mm num) string {
	const places = 3
	return w.digits(mm, places, places)
}

// cutTo is the length that a piece is cut to, with all its decimals, as a stop is set.
func (w words) cutTo(mm num) string {
	const inInch = 3
	if w.u == unit.Inch {
		return strconv.FormatFloat(float64(mm/unit.MMPerInch), 'f', inInch, 64)
	}
	return strconv.FormatFloat(float64(mm), 'f', roughMM, 64)
}

// gap is what is seen of a joint, in the job's units without naming them.
func (w words) gap(mm num) string { return w.digits(mm, budgetMM, placeIn) }

// meters is the length of stock, with all its decimals, as it stands in columns.
func (w words) meters(mm num) string {
	if w.u == unit.Inch {
		return strconv.FormatFloat(float64(mm)/unit.MMPerInch, 'f', 1, 64) + " in"
	}
	return strconv.FormatFloat(float64(mm)/1000, 'f', 2, 64) + " m"
}

// fine is a distance far under what is measured in a workshop, with all its
// decimals.
func (w words) fine(mm num) string {
	const placesMM, placesIn = 4, 5
	say := func(v num, places int) string { return strconv.FormatFloat(math.Abs(float64(v)), 'f', places, 64) }
	if w.u == unit.Inch {
		return say(mm/unit.MMPerInch, placesIn) + " in"
	}
	return say(mm, placesMM) + " mm"
}

// figure is a figure of the budget: "0.05 mm".
func (w words) figure(mm num) string { return w.named(mm, budgetMM, budgetIn) }

// out is a figure of the budget, in the job's units without naming them; empty
// for nothing.
func (w words) out(mm num) string {
	if mm == 0 {
		return ""
	}
	return w.digits(mm, budgetMM, budgetIn)
}

// place is a point in the job's units, without the unit: "(60, -12.5)".
func (w words) place(p xy) string {
	return "(" + w.digits(p[0], placeMM, placeIn) + ", " + w.digits(p[1], placeMM, placeIn) + ")"
}

// point and height are a place of the bit's tip and how high that is, likewise.
func (w words) point(p xyz) string  { return w.place(xy{p[0], p[1]}) }
func (w words) height(p xyz) string { return w.digits(p[2], placeMM, placeIn) }

// across is the size of a rectangle, in the job's units without naming them:
// "613.9 x 613.9".
func (w words) across(p xy) string { return w.coarse(p[0]) + " x " + w.coarse(p[1]) }

// by is the size of a rectangle: "613.9 x 613.9 mm".
func (w words) by(p xy) string { return w.across(p) + " " + w.u.String() }

// area is an area in the job's units alone: "0.54 mm²", "0.0008 in²".
func (w words) area(mm2 num) string {
	const placesMM, placesIn = 2, 4
	if w.u == unit.Inch {
		return decimal(mm2/unit.MMPerInch/unit.MMPerInch, placesIn) + " in²"
	}
	return decimal(mm2, placesMM) + " mm²"
}

// named is a length with so many decimals and its unit.
func (w words) named(mm num, inMM, inInch int) string {
	return w.digits(mm, inMM, inInch) + " " + w.u.String()
}

func (w words) digits(mm num, inMM, inInch int) string {
	if w.u == unit.Inch {
		return decimal(mm/unit.MMPerInch, inInch)
	}
	return decimal(mm, inMM)
}

func (w words) both(own, inMM string) string {
	if w.u == unit.Inch {
		return own + " (" + inMM + ")"
	}
	return own
}

// sheetArea is an area of sheet as it is sold: "0.71 m²", "7.6 ft²".
func (w words) sheetArea(mm2 num) string {
	const foot = 12 * unit.MMPerInch
	if w.u == unit.Inch {
		return decimal(mm2/foot/foot, 1) + " ft²"
	}
	return decimal(mm2/1e6, 2) + " m²"
}

// veneerArea is an area of what strips are slit from: "44 cm²", "6.8 in²".
func (w words) veneerArea(mm2 num) string {
	if w.u == unit.Inch {
		return decimal(mm2/unit.MMPerInch/unit.MMPerInch, 1) + " in²"
	}
	return decimal(mm2/100, 0) + " cm²"
}

// degrees is an angle given in degrees: "120°".
func degrees(d num) string { return decimal(d, 3) + "°" }

// tenth is an angle to set a gauge to: "45.0", "51.3".
func tenth(d num) string { return strconv.FormatFloat(float64(d), 'f', 1, 64) }

// decimal is a number with at most so many decimals.
func decimal(v num, places int) string { return fixed(float64(v), places) }

// separator stands before the i-th of n things that a sentence lists: "a", "a and b",
// "a, b and c".
func separator(i, n int) string {
	switch {
	case i == 0:
		return ""
	case i == n-1:
		return " and "
	}
	return ", "
}

// list joins names likewise.
func list(names []string) string {
	var b strings.Builder
	for i, n := range names {
		b.WriteString(separator(i, len(names)) + n)
	}
	return b.String()
}

// numbersTo are the numbers from one to another: "1 to 4", "5"; "-" for none.
func numbersTo(first, last int) string {
	switch first {
	case 0:
		return "-"
	case last:
		return strconv.Itoa(first)
	}
	return strconv.Itoa(first) + " to " + strconv.Itoa(last)
}

// capital is a name as a heading begins with it.
func capital(s string) string {
	_, n := utf8.DecodeRuneInString(s)
	return strings.ToUpper(s[:n]) + s[n:]
}

// sentence is words with a capital at their beginning and a full stop.
func sentence(s string) string {
	if s == "" {
		return s
	}
	return capital(s) + "."
}
