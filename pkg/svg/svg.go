// Package svg writes sheets and pictures as SVG (W3C, Scalable Vector
// Graphics 1.1) in true millimetres: one unit of the drawing is 1 mm, and
// width and height say so. Straight lines stay lines and arcs stay arcs.
//
// SVG's y axis points down; the drawing's y is written negated, so that a
// sheet looks as it is meant and no transform stands in the file.
package svg

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// decimals is the number of decimals of a coordinate. A hundred-thousandth of
// a millimetre is far below what is printed, cut or seen.
const decimals = 5

// maxCoordinate bounds what is drawn, in mm: ten times the 100 m within which
// a job is held.
const maxCoordinate = 1e6

// number returns v as short as its decimals allow, never minus zero.
func number(v float64) string { return unit.Decimal(v, decimals) }

// point returns p as SVG has it, y downwards.
func point(p geom.Point) string { return number(p.X) + " " + number(-p.Y) }

// quarter is the bulge of a quarter circle, tan(90 deg / 4).
var quarter = math.Tan(math.Pi / 8)

// path returns contours as path data.
//
// An arc of more than a quarter circle is written in two halves: an A command
// gives no centre, and the nearer an arc is to a half circle the further a
// rounded radius throws the centre off. Up to a quarter the centre is off by no
// more than 1.5 times the rounding.
func path(cs []geom.Contour) string {
	var b strings.Builder
	for _, c := range cs {
		if len(c.Vertices) == 0 {
			continue
		}
		if b.Len() > 0 {
			b.WriteByte(' ')
		}
		b.WriteString("M " + point(c.Start()))
		n := c.Len()
		for i := range n {
			e := c.Edge(i)
			if e.IsLine() {
				if !c.Closed || i < n-1 { // Z draws the last one
					b.WriteString(" L " + point(e.B))
				}
				continue
			}
			// Slack so that a true quarter, give or take its rounding, stays whole.
			if math.Abs(e.Bulge) > quarter*(1+1e-9) {
				writeArc(&b, e.Part(0, 0.5))
				e = e.Part(0.5, 1)
			}
			writeArc(&b, e)
		}
		if c.Closed {
			b.WriteString(" Z")
		}
	}
	return b.String()
}

// writeArc writes an arc of at most a half circle. A counter-clockwise arc
// turns in SVG's negative direction, sweep flag 0.
func writeArc(b *strings.Builder, e geom.Edge) {
	r := number(e.Radius())
	if r == "0" || e.A.Near(e.B, math.Pow10(-decimals)) {
		b.WriteString(" L " + point(e.B)) // too small to be an arc in this many decimals
		return
	}
	sweep := "1"
	if e.Bulge > 0 {
		sweep = "0"
	}
	b.WriteString(" A " + r + " " + r + " 0 0 " + sweep + " " + point(e.B))
}

// check reports a contour that can't be drawn.
func check(c geom.Contour) error {
	for _, v := range c.Vertices {
		if !(math.Abs(v.X) <= maxCoordinate) || !(math.Abs(v.Y) <= maxCoordinate) {
			return fmt.Errorf("a vertex at (%g, %g) is not a number within %g", v.X, v.Y, maxCoordinate)
		}
		if !(math.Abs(v.Bulge) <= 1) {
			return fmt.Errorf("the bulge %g at (%g, %g) is not within 1: split the arc", v.Bulge, v.X, v.Y)
		}
	}
	return nil
}

// text returns s as XML text; what XML can't hold becomes U+FFFD.
func text(s string) string {
	var b bytes.Buffer
	if err := xml.EscapeText(&b, []byte(s)); err != nil {
		return "" // a bytes.Buffer doesn't fail
	}
	return b.String()
}

// begin writes the root element and the title for a drawing that shows box.
func begin(b *bytes.Buffer, title string, box geom.Box) {
	size := box.Size()
	fmt.Fprintf(b, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%smm\" height=\"%smm\" viewBox=\"%s %s %s %s\" role=\"img\">\n",
		number(size.X), number(size.Y), number(box.Min.X), number(-box.Max.Y), number(size.X), number(size.Y))
	fmt.Fprintf(b, "<title>%s</title>\n", text(title))
}

// capHeight is the height of a sans-serif's capitals as a share of the font
// size (from memory: 0.70 to 0.73 in most).
const capHeight = 0.72

// writeText writes one line of lettering; attrs may be empty or begin with a
// space.
func writeText(b *bytes.Buffer, at geom.Point, height float64, attrs, s string) {
	fmt.Fprintf(b, "<text x=\"%s\" y=\"%s\" font-family=\"sans-serif\" font-size=\"%s\"%s>%s</text>\n",
		number(at.X), number(-at.Y), number(height/capHeight), attrs, text(s))
}
