// Package byhand writes job files as a person with a drawing and a pocket
// calculator does: with numbers that were rounded, read off a little wrong, and
// with copies written out one by one. It is for tests of how much of that the
// other packages bear.
//
// Lengths are mm and angles radians; the files may be in inches.
package byhand

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"

	"strapwork/pkg/geom"
)

// A Kind is how an element is drawn.
type Kind int

// The kinds of element.
const (
	Line Kind = iota
	Arc
	Circle
)

// An Element is one centre line, by the numbers that a person types.
type Element struct {
	Kind   Kind
	Name   string
	Points []geom.Point // of a Line
	Closed bool         // a Line that returns to its first point
	Center geom.Point   // of an Arc or a Circle
	Radius float64
	Start  float64 // of an Arc, from +x counter-clockwise
	Sweep  float64 // of an Arc, counter-clockwise positive
}

// A Drawing is a job: its motif by numbers, and everything else as text.
type Drawing struct {
	Head     string // the job file without its motif
	Inch     bool   // its bare numbers are inches
	Copies   int    // at least 1
	Mirror   bool
	Elements []Element
}

// InFull returns the drawing with every copy written out as an element of its
// own, in the order in which copies are numbered: turns first, then the mirrored
// ones. Nobody draws one line twice, so copies that fall on an earlier one are
// left out.
func (d Drawing) InFull() Drawing {
	full := d
	full.Copies, full.Mirror, full.Elements = 1, false, nil
	for _, e := range d.Elements {
		var copies []Element
		for m := range 1 + btoi(d.Mirror) {
			for k := range d.Copies {
				c := e.copy(m == 1, float64(k)*2*math.Pi/float64(d.Copies))
				c.Name = fmt.Sprintf("%s-%d", e.Name, m*d.Copies+k+1)
				if !drawn(copies, c) {
					copies = append(copies, c)
				}
			}
		}
		full.Elements = append(full.Elements, copies...)
	}
	return full
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// copy is e mirrored in the x axis if asked for, then turned.
func (e Element) copy(mirrored bool, turn float64) Element {
	c := e
	c.Points = nil
	image := func(p geom.Point) geom.Point {
		if mirrored {
			p.Y = -p.Y
		}
		return p.Turn(turn)
	}
	for _, p := range e.Points {
		c.Points = append(c.Points, image(p))
	}
	c.Center = image(e.Center)
	if mirrored {
		c.Start, c.Sweep = -e.Start, -e.Sweep
	}
	c.Start = math.Mod(c.Start+turn+4*math.Pi, 2*math.Pi)
	return c
}

// oneLine is the distance in mm within which exact copies are the same: far
// above rounding, far below what anybody draws side by side.
const oneLine = 1e-6

// drawn reports whether e is among list, drawn either way round.
func drawn(list []Element, e Element) bool {
	line := e.line()
	for _, o := range list {
		if sameLine(o.line(), line) || sameLine(o.line().Reverse(), line) {
			return true
		}
	}
	return false
}

// sameLine reports whether a and b are one line; closed ones may begin
// anywhere.
func sameLine(a, b geom.Contour) bool {
	if a.Closed != b.Closed || math.Abs(a.Length()-b.Length()) > oneLine {
		return false
	}
	if !a.Closed && (!a.Start().Near(b.Start(), oneLine) || !a.End().Near(b.End(), oneLine)) {
		return false
	}
	const places = 16
	for i := range places {
		p, _ := a.At((float64(i) + 0.5) / places * a.Length())
		if q, _ := b.Nearest(p); !q.Near(p, oneLine) {
			return false
		}
	}
	return true
}

// line is e as a contour.
func (e Element) line() geom.Contour {
	switch e.Kind {
	case Line:
		c := geom.Polygon(e.Points...)
		c.Closed = e.Closed
		return c
	case Arc:
		return geom.Chain(false, geom.Arc(e.Center, e.Radius, e.Start, e.Sweep)...)
	case Circle:
		return geom.Chain(true, geom.Arc(e.Center, e.Radius, 0, 2*math.Pi)...)
	}
	panic("unknown kind of element")
}

// A Hand is how numbers get onto paper. The zero Hand is exact.
type Hand struct {
	Decimals int        // of a millimetre or a degree, and one more of an inch; 0: all that there are
	Shake    float64    // mm: every number is out by as much at most, an angle by what moves the arc's end so far
	Rand     *rand.Rand // of the shake
}

// Moves is how far in mm the hand may move any point of d, other than by its
// shake: half of the last decimal across and along, of centre, radius and angle.
func (h Hand) Moves(d Drawing) float64 {
	if h.Decimals == 0 {
		return 0
	}
	step := math.Pow10(-h.Decimals) / 2
	length := step
	if d.Inch {
		length *= 25.4 / 10
	}
	most := math.Sqrt2 * length
	for _, e := range d.Elements {
		switch e.Kind {
		case Line:
		case Arc: // an end is moved by start and sweep
			most = max(most, (math.Sqrt2+1)*length+2*step*math.Pi/180*e.Radius)
		case Circle:
			most = max(most, (math.Sqrt2+1)*length)
		}
	}
	return most
}

// length writes a length in mm as a number of the file.
func (h Hand) length(v float64, inch bool) string {
	v += h.shaken(h.Shake)
	decimals := h.Decimals
	if inch {
		v /= 25.4
		decimals++
	}
	return h.number(v, decimals)
}

// angle writes an angle of an arc in degrees.
func (h Hand) angle(v, radius float64) string {
	return h.number((v+h.shaken(h.Shake/radius))*180/math.Pi, h.Decimals)
}

func (h Hand) shaken(by float64) float64 {
	if by == 0 {
		return 0
	}
	return by * (2*h.Rand.Float64() - 1)
}

func (h Hand) number(v float64, decimals int) string {
	if h.Decimals == 0 {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', decimals, 64)
}

func (h Hand) point(p geom.Point, inch bool) string {
	return "[" + h.length(p.X, inch) + ", " + h.length(p.Y, inch) + "]"
}

// Write returns the job file of d as h writes it.
func (d Drawing) Write(h Hand) string {
	var b strings.Builder
	b.WriteString(strings.TrimRight(d.Head, "\n") + "\n\n[motif]\n")
	if d.Copies > 1 {
		fmt.Fprintf(&b, "copies = %d\n", d.Copies)
	}
	if d.Mirror {
		b.WriteString("mirror = true\n")
	}
	for _, e := range d.Elements {
		switch e.Kind {
		case Line:
			var pts []string
			for _, p := range e.Points {
				pts = append(pts, h.point(p, d.Inch))
			}
			fmt.Fprintf(&b, "[[motif.line]]\nname = %q\npoints = [%s]\n", e.Name, strings.Join(pts, ", "))
			if e.Closed {
				b.WriteString("closed = true\n")
			}
		case Arc:
			fmt.Fprintf(&b, "[[motif.arc]]\nname = %q\ncenter = %s\nradius = %s\nstart = %s\nsweep = %s\n",
				e.Name, h.point(e.Center, d.Inch), h.length(e.Radius, d.Inch), h.angle(e.Start, e.Radius), h.angle(e.Sweep, e.Radius))
		case Circle:
			fmt.Fprintf(&b, "[[motif.circle]]\nname = %q\ncenter = %s\nradius = %s\n", e.Name, h.point(e.Center, d.Inch), h.length(e.Radius, d.Inch))
		}
	}
	return b.String()
}
