package report

// How lengths and places are said on the set-up sheet: in the job's own units,
// with millimetres in brackets where those are inches.

import (
	"math"
	"strconv"
	"strings"

	"strapwork/pkg/geom"
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

// looseFit in mm is what slots and the frame's opening may be out by: a rule shows
// it, and half of the slots' room and of the wedges' way are left.
const looseFit = 0.5

// words says lengths in one system of units.
type words struct{ u unit.System }

// size is a length that is measured or tuned: "5.08 mm", "0.2 in (5.08 mm)".
func (w words) size(mm float64) string {
	return w.both(unit.Format(mm, w.u), unit.Format(mm, unit.MM))
}

// unit names the units in a sentence: "mm", "inches".
func (w words) unit() string { return w.u.Name() }

// across is the size of a rectangle, in the job's units without naming them:
// "613.9 x 613.9".
func (w words) across(p geom.Point) string {
	return w.digits(p.X, roughMM, roughIn) + " x " + w.digits(p.Y, roughMM, roughIn)
}

// rough is a length that is laid out or looked for: "306.9 mm".
func (w words) rough(mm float64) string {
	return w.both(w.digits(mm, roughMM, roughIn)+" "+w.u.String(), fixed(mm, roughMM)+" mm")
}

// fine is a distance far under what is measured in a workshop, with all its
// decimals.
func (w words) fine(mm float64) string {
	const placesMM, placesIn = 4, 5
	say := func(v float64, places int) string { return strconv.FormatFloat(math.Abs(v), 'f', places, 64) }
	inMM := say(mm, placesMM) + " mm"
	if w.u == unit.Inch {
		return w.both(say(mm/unit.MMPerInch, placesIn)+" in", inMM)
	}
	return inMM
}

func (w words) both(own, inMM string) string {
	if w.u == unit.Inch {
		return own + " (" + inMM + ")"
	}
	return own
}

// place is a point in the job's units, without the unit: "(60, -12.5)".
func (w words) place(p geom.Point) string {
	return "(" + w.digits(p.X, placeMM, placeIn) + ", " + w.digits(p.Y, placeMM, placeIn) + ")"
}

func (w words) digits(mm float64, inMM, inInch int) string {
	if w.u == unit.Inch {
		return fixed(mm/unit.MMPerInch, inInch)
	}
	return fixed(mm, inMM)
}

// by is the size of a rectangle: "613.9 x 613.9 mm".
func (w words) by(p geom.Point) string {
	mm := fixed(p.X, roughMM) + " x " + fixed(p.Y, roughMM) + " mm"
	own := w.digits(p.X, roughMM, roughIn) + " x " + w.digits(p.Y, roughMM, roughIn) + " " + w.u.String()
	return w.both(own, mm)
}

// area is an area in the job's units alone: "0.54 mm²", "0.0008 in²".
func (w words) area(mm2 float64) string {
	const placesMM, placesIn = 2, 4
	if w.u == unit.Inch {
		return fixed(mm2/unit.MMPerInch/unit.MMPerInch, placesIn) + " in²"
	}
	return fixed(mm2, placesMM) + " mm²"
}

// degrees is an angle given in degrees.
func degrees(d float64) string { return fixed(d, 3) + " degrees" }

// compass says where q is, seen from p, on a drawing with y up.
func compass(p, q geom.Point) string {
	d := q.Sub(p)
	switch {
	case math.Abs(d.X) > math.Abs(d.Y) && d.X > 0:
		return "right"
	case math.Abs(d.X) > math.Abs(d.Y):
		return "left"
	case d.Y > 0:
		return "upper"
	}
	return "lower"
}

// plural is "1 cut" or "3 cuts".
func plural(n int, one string) string {
	s := fixed(float64(n), 0) + " " + one
	if n == 1 {
		return s
	}
	if strings.HasSuffix(one, "s") || strings.HasSuffix(one, "ch") {
		return s + "es"
	}
	return s + "s"
}

// list joins names: "a", "a and b", "a, b and c".
func list(names []string) string {
	switch n := len(names); n {
	case 0:
		return ""
	case 1:
		return names[0]
	default:
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
}

// capitalized is a sentence's beginning with a capital.
func capitalized(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
