// Package lettering draws letters and arrows as single strokes, for a machine
// that follows a line: no areas, no outlines, nothing that could be cut out.
//
// The letters are Hershey's simplex roman (rowmans.jhf; what must be passed on
// with them is in ACKNOWLEDGEMENT.txt). There are ASCII's printable characters
// only; ASCII says what becomes of others. Lengths are mm, angles radians
// counter-clockwise; every stroke is an open contour of straight edges.
package lettering

import (
	_ "embed"
	"math"

	"strapwork/pkg/geom"
)

//go:embed rowmans.jhf
var data []byte

// Acknowledgement is the text that must go wherever the letters' data goes.
//
//go:embed ACKNOWLEDGEMENT.txt
var Acknowledgement string

// glyphs are the printable characters, from firstChar on; none if the data
// were spoilt, which a test rules out.
var glyphs, _ = parse(data)

// Text draws s on one line: at is the left end of the base line and height the
// height of capitals. There is nothing to draw when s holds nothing but
// spaces, height is not positive, or a number is not finite.
func Text(s string, at geom.Point, height float64) []geom.Contour {
	return Turned(s, at, height, 0)
}

// Turned is Text turned by angle about at.
func Turned(s string, at geom.Point, height, angle float64) []geom.Contour {
	if !drawable(height, at) || !at.Add(geom.Polar(1, angle)).Finite() {
		return nil
	}
	k := height / capHeight
	t := geom.Turning(angle).Then(geom.Shifting(at))
	var strokes []geom.Contour
	x := 0.0
	for _, c := range ASCII(s) {
		g := glyphOf(c)
		x -= g.left * k
		for _, stroke := range g.strokes {
			vs := make([]geom.Vertex, len(stroke))
			for i, p := range stroke {
				vs[i].Point = t.Apply(geom.Pt(x+p.X*k, p.Y*k))
			}
			strokes = append(strokes, geom.Contour{Vertices: vs})
		}
		x += g.right * k
	}
	return strokes
}

// Width is how far Text runs along the base line, the usual space on both
// sides of each letter included.
func Width(s string, height float64) float64 {
	if !drawable(height, geom.Point{}) {
		return 0
	}
	w := 0.0
	for _, c := range ASCII(s) {
		g := glyphOf(c)
		w += g.right - g.left
	}
	return w * height / capHeight
}

func drawable(height float64, at geom.Point) bool {
	return height > 0 && !math.IsInf(height, 0) && at.Finite()
}

// barb is half the angle in radians between an arrow's two barbs: 20 degrees,
// slender as on technical drawings and still plain when burnt (a choice).
const barb = 20 * math.Pi / 180

// BarbReach is how far an arrow's barbs stand off its shaft, as a part of the
// head's length along the shaft.
var BarbReach = math.Tan(barb)

// Arrow draws an arrow: the shaft, and the head as one stroke through the tip
// at to. head is the head's length along the shaft; a shorter shaft has a head
// of its own length. An arrow without length, or with numbers that are not
// finite, is not drawn.
func Arrow(from, to geom.Point, head float64) []geom.Contour {
	return ArrowAlong(geom.Chain(false, geom.Line(from, to)), head)
}

// ArrowAlong draws an arrow as Arrow does, with an open contour as its shaft,
// which may be curved; its tip is where the contour ends.
func ArrowAlong(shaft geom.Contour, head float64) []geom.Contour {
	if shaft.Closed || shaft.Len() < 1 {
		return nil
	}
	length := shaft.Length()
	if !drawable(length, shaft.End()) || !drawable(head, shaft.Start()) {
		return nil
	}
	back := shaft.Edge(shaft.Len() - 1).Tangent(1).Scale(-math.Min(head, length))
	side := back.Left().Scale(-BarbReach) // to the left of travel
	tip := shaft.End()
	return []geom.Contour{shaft, {Vertices: []geom.Vertex{
		{Point: tip.Add(back).Add(side)}, {Point: tip}, {Point: tip.Add(back).Sub(side)},
	}}}
}
