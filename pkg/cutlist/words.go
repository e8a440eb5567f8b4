package cutlist

import (
	"math"

	"strapwork/pkg/inlay"
	"strapwork/pkg/unit"
)

var handWords = [...]string{Neither: "", LongLeft: "left", LongRight: "right"}

// String is the hand's word; empty of a square end.
func (h Hand) String() string { return unit.Word(handWords[:], h, "hand") }

// EndWords says how an end is cut: "mitre, 45° from the strip (45° from square), long point
// left".
func EndWords(e inlay.End) unit.Text {
	words := []unit.Text{unit.Say("%s", e.Kind)}
	say := func(format string, args ...any) { words = append(words, unit.Say(format, args...)) }
	switch e.Kind {
	case inlay.EndSquare:
		return words[0]
	case inlay.EndFree:
		say("cut square")
		return unit.Join(words, ", ")
	case inlay.EndMitre, inlay.EndButt, inlay.EndCope, inlay.EndJoint:
	}
	if m := MitreOf(e); m.Hand == Neither {
		say("square")
	} else {
		say("%s from the strip (%s from square), long point %s", degrees(m.FromStrip), degrees(m.FromSquare), m.Hand)
	}
	if e.Kind != inlay.EndCope {
		return unit.Join(words, ", ")
	}
	switch {
	case e.Joint:
		say("to fit the joint and another side")
	case e.Radius == 0:
		say("to fit more sides than one")
	case e.Hollow:
		say("hollow to R %s", unit.Len(e.Radius))
	default:
		say("round to R %s", unit.Len(e.Radius))
	}
	say("a straight cut would leave a gap of %s", unit.Len(e.Gap))
	return unit.Join(words, ", ")
}

// EndMark is an end in a table: "mitre 45°", the angle from the strip.
func EndMark(e inlay.End) string {
	switch e.Kind {
	case inlay.EndMitre, inlay.EndButt, inlay.EndCope, inlay.EndJoint:
		return e.Kind.String() + " " + degrees(MitreOf(e).FromStrip)
	case inlay.EndSquare, inlay.EndFree:
	}
	return e.Kind.String()
}

// degrees is an angle to a tenth of a degree, what a good protractor shows.
func degrees(rad float64) string { return unit.Decimal(rad*180/math.Pi, 1) + "°" }
