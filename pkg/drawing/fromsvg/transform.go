package fromsvg

import (
	"fmt"
	"math"
	"strings"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
)

// parseTransform reads a list of transforms (SVG 1.1, section 7.6; CSS Transforms 1,
// section 8, whose units it takes too). The last of the list is done first.
func parseTransform(value string) (drawing.Affine, *fault) {
	m := drawing.Identity()
	s := scanner{s: value}
	s.space()
	if strings.TrimSpace(value) == "none" {
		return m, nil
	}
	for !s.ended() {
		at := s.at
		name := strings.ToLower(s.word())
		args, wrong := s.arguments()
		if wrong != nil {
			return m, wrong
		}
		step, ok := oneTransform(name, args)
		if !ok {
			return m, &fault{at: at, text: fmt.Sprintf("%s(...) with %d numbers is not a transform", clip(name), len(args))}
		}
		m = step.Then(m)
		s.separator()
	}
	return m, nil
}

// arguments reads numbers in parentheses; lengths in px, angles in degrees.
func (s *scanner) arguments() ([]float64, *fault) {
	s.space()
	if !s.skip('(') {
		return nil, &fault{at: s.at, text: "( is missing in the transform, " + s.next(s.at)}
	}
	var args []float64
	s.space()
	for s.peek() != ')' {
		v, wrong := s.number()
		if wrong != nil {
			return nil, wrong
		}
		at := s.at
		unit := strings.ToLower(s.word())
		px, known := pxOf(v, unit)
		if degrees, angle := degreesPer[unit]; angle {
			px, known = v*degrees, true
		}
		if !known || s.peek() == '%' {
			return nil, &fault{at: at, text: "this unit is not read in a transform, " + s.next(at)}
		}
		if args = append(args, px); len(args) > 6 {
			return nil, &fault{at: at, text: "a transform has at most six numbers"}
		}
		s.separator()
	}
	s.at++
	s.space()
	return args, nil
}

// degreesPer is how many degrees each unit of angles is (CSS Values and Units 3, 7.1).
var degreesPer = map[string]float64{"deg": 1, "grad": 0.9, "turn": 360, "rad": 180 / math.Pi}

// oneTransform is a transform by its name.
func oneTransform(name string, a []float64) (drawing.Affine, bool) {
	arg := func(i int, missing float64) float64 {
		if i < len(a) {
			return a[i]
		}
		return missing
	}
	n := len(a)
	switch {
	case name == "matrix" && n == 6:
		return drawing.Affine{A: a[0], B: a[1], C: a[2], D: a[3], E: a[4], F: a[5]}, true
	case name == "translate" && (n == 1 || n == 2):
		return drawing.Shift(geom.Pt(a[0], arg(1, 0))), true
	case name == "translatex" && n == 1:
		return drawing.Shift(geom.Pt(a[0], 0)), true
	case name == "translatey" && n == 1:
		return drawing.Shift(geom.Pt(0, a[0])), true
	case name == "scale" && (n == 1 || n == 2):
		return drawing.Stretch(a[0], arg(1, a[0])), true
	case name == "scalex" && n == 1:
		return drawing.Stretch(a[0], 1), true
	case name == "scaley" && n == 1:
		return drawing.Stretch(1, a[0]), true
	case name == "rotate" && (n == 1 || n == 3):
		about := geom.Pt(arg(1, 0), arg(2, 0))
		return around(drawing.Turn(radians(a[0])), about), true
	case name == "skewx" && n == 1:
		return drawing.Affine{A: 1, C: math.Tan(radians(a[0])), D: 1}, true
	case name == "skewy" && n == 1:
		return drawing.Affine{A: 1, B: math.Tan(radians(a[0])), D: 1}, true
	}
	return drawing.Affine{}, false
}

// radians is exact for quarter turns, so that these stay exact.
func radians(degrees float64) float64 { return degrees / 90 * (math.Pi / 2) }

// around is m with the point p where it was.
func around(m drawing.Affine, p geom.Point) drawing.Affine {
	return drawing.Shift(p.Scale(-1)).Then(m).Then(drawing.Shift(p))
}
