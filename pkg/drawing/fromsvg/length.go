package fromsvg

import (
	"math"
	"strings"

	"strapwork/pkg/geom"
)

// perInch is how many px are an inch, by definition (CSS Values and Units 3, section
// 6.2; SVG 2, section 8.9).
const perInch = 96

// mmPerPx is a px in mm.
const mmPerPx = 25.4 / perInch

// mmPer is how many mm each unit is that is a length in the hand.
var mmPer = map[string]float64{"in": 25.4, "cm": 10, "mm": 1, "q": 0.25, "pt": 25.4 / 72, "pc": 25.4 / 6}

// pxOf is a number of some unit in px.
func pxOf(v float64, unit string) (px float64, known bool) {
	if unit == "" || unit == "px" {
		return v, true
	}
	mm, known := mmPer[unit]
	return v * mm / mmPerPx, known
}

// A length is so many px, or a share of the viewport.
type length struct {
	px       float64 // or, if relative, percent
	relative bool
	physical bool    // in a unit that is a length in the hand
	mm       float64 // if it is
}

// axis is what a percentage is of: SVG 1.1, section 7.10.
type axis int

const (
	along  axis = iota // the viewport's width
	upward             // its height
	slant              // its diagonal over root 2
)

// parseLength reads a number with or without a unit.
func parseLength(value string) (length, *fault) {
	s := scanner{s: value}
	s.space()
	v, wrong := s.number()
	if wrong != nil {
		return length{}, wrong
	}
	from := s.at
	unit := strings.ToLower(s.word())
	percent := unit == "" && s.skip('%')
	s.space()
	if !s.ended() {
		return length{}, &fault{at: s.at, text: "a length is one number with its unit, " + s.next(s.at)}
	}
	if percent {
		return length{px: v, relative: true}, nil
	}
	px, known := pxOf(v, unit)
	if !known {
		return length{}, &fault{at: from, text: "the unit " + clip(unit) + " is not a length that is read", hint: "write a bare number, or mm, cm, in, pt, pc, px"}
	}
	mm, physical := mmPer[unit]
	return length{px: px, physical: physical, mm: v * mm}, nil
}

// A viewport is what percentages are of, in units of user space.
type viewport struct {
	size  geom.Point
	known bool
}

// of is a length in the viewport, in units of user space.
func (l length) of(v viewport, a axis) (float64, *fault) {
	switch {
	case !l.relative:
		return l.px, nil
	case !v.known:
		return 0, &fault{text: "a share of a page whose size is not given", hint: `give the drawing a viewBox, as in viewBox="0 0 200 100"`}
	}
	whole := v.size.X
	switch a {
	case along:
	case upward:
		whole = v.size.Y
	case slant:
		whole = math.Hypot(v.size.X, v.size.Y) / math.Sqrt2
	}
	return l.px / 100 * whole, nil
}
