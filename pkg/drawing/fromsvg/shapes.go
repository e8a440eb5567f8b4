package fromsvg

import (
	"fmt"
	"math"
	"strings"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
)

// shapes are the elements that are drawn by themselves: SVG 1.1, chapters 8 and 9.
var shapes = map[string]func(*reader, *node, viewport) []chain{
	"path": (*reader).path, "rect": (*reader).rect, "circle": (*reader).circle, "ellipse": (*reader).ellipse,
	"line": (*reader).line, "polyline": (*reader).polyline, "polygon": (*reader).polygon,
}

// fault adds what is wrong with a value as an error at its place.
func (r *reader) fault(d declaration, f *fault) {
	finding := r.errorAt(r.offset(d, f.at), ruleValue, "%s", f.text)
	if f.hint != "" {
		finding.Hintf("%s", f.hint)
	} else {
		finding.Hintf("fix it there, or save the drawing again")
	}
}

// measure is a length of an element in units of user space; missing where it has none. It
// reports whether the element can be drawn.
func (r *reader) measure(n *node, name string, v viewport, a axis, missing float64, ok *bool) float64 {
	d, given := r.prop(n, name)
	value := strings.TrimSpace(d.value)
	if !given || strings.EqualFold(value, "auto") {
		return missing
	}
	l, wrong := parseLength(d.value)
	size := 0.0
	if wrong == nil {
		size, wrong = l.of(v, a)
	}
	if wrong != nil {
		r.fault(d, wrong)
		*ok = false
	}
	return size
}

// size is a measure that may not be negative: SVG 1.1, chapter 9, calls that an error.
func (r *reader) size(n *node, name string, v viewport, a axis, missing float64, ok *bool) float64 {
	size := r.measure(n, name, v, a, missing, ok)
	if d, given := r.prop(n, name); given && size < 0 {
		r.fault(d, &fault{text: fmt.Sprintf("%s of <%s> can't be less than 0", name, n.name)})
		*ok = false
	}
	return size
}

func (r *reader) path(n *node, _ viewport) []chain {
	d, given := r.prop(n, "d")
	if v := strings.TrimSpace(d.value); strings.HasPrefix(v, "path(") && strings.HasSuffix(v, ")") {
		// As a property it is path("..."), SVG 2, section 9.3.
		inner := strings.TrimSpace(v[len("path(") : len(v)-1])
		d.value = strings.Trim(inner, `"'`)
		d.at += max(0, strings.Index(v, d.value))
	}
	if !given || strings.TrimSpace(d.value) == "none" {
		return nil
	}
	chains, whole, wrong := parsePath(d.value, drawing.MaxCurves-r.segments)
	switch {
	case wrong != nil:
		r.fault(d, wrong)
		return nil
	case !whole:
		r.tooMany(n)
		return nil
	}
	return chains
}

// rect is drawn as SVG 2, section 10.2, says: from the end of its first corner, along the
// top.
func (r *reader) rect(n *node, v viewport) []chain {
	ok := true
	x, y := r.measure(n, "x", v, along, 0, &ok), r.measure(n, "y", v, upward, 0, &ok)
	w, h := r.size(n, "width", v, along, 0, &ok), r.size(n, "height", v, upward, 0, &ok)
	const auto = -1
	rx, ry := r.size(n, "rx", v, along, auto, &ok), r.size(n, "ry", v, upward, auto, &ok)
	if !ok || w == 0 || h == 0 {
		return nil
	}
	if rx == auto {
		rx = max(ry, 0)
	}
	if ry == auto {
		ry = rx
	}
	rx, ry = min(rx, w/2), min(ry, h/2)
	if rx == 0 || ry == 0 {
		rx, ry = 0, 0
	}
	box := chain{closed: true}
	at := func(fx, fy, sx, sy float64) geom.Point { return geom.Pt(x+fx*w+sx*rx, y+fy*h+sy*ry) }
	side := func(a, b geom.Point) {
		if a != b {
			box.segments = append(box.segments, drawing.Line{A: a, B: b})
		}
	}
	corner := func(center geom.Point, from float64) {
		if rx > 0 {
			box.segments = append(box.segments, drawing.Ellipse{
				Center: center, Major: geom.Pt(rx, 0), Minor: geom.Pt(0, ry), From: from, Sweep: math.Pi / 2,
			})
		}
	}
	side(at(0, 0, 1, 0), at(1, 0, -1, 0))
	corner(at(1, 0, -1, 1), -math.Pi/2)
	side(at(1, 0, 0, 1), at(1, 1, 0, -1))
	corner(at(1, 1, -1, -1), 0)
	side(at(1, 1, -1, 0), at(0, 1, 1, 0))
	corner(at(0, 1, 1, -1), math.Pi/2)
	side(at(0, 1, 0, -1), at(0, 0, 0, 1))
	corner(at(0, 0, 1, 1), math.Pi)
	return []chain{box}
}

// round is a whole ellipse, from its right end and first downwards as the file has it.
func round(cx, cy, rx, ry float64) []chain {
	return []chain{{closed: true, segments: []drawing.Segment{drawing.Ellipse{
		Center: geom.Pt(cx, cy), Major: geom.Pt(rx, 0), Minor: geom.Pt(0, ry), Sweep: 2 * math.Pi,
	}}}}
}

func (r *reader) circle(n *node, v viewport) []chain {
	ok := true
	cx, cy := r.measure(n, "cx", v, along, 0, &ok), r.measure(n, "cy", v, upward, 0, &ok)
	radius := r.size(n, "r", v, slant, 0, &ok)
	if !ok || radius == 0 {
		return nil
	}
	return round(cx, cy, radius, radius)
}

func (r *reader) ellipse(n *node, v viewport) []chain {
	ok := true
	const auto = -1
	cx, cy := r.measure(n, "cx", v, along, 0, &ok), r.measure(n, "cy", v, upward, 0, &ok)
	rx, ry := r.size(n, "rx", v, along, auto, &ok), r.size(n, "ry", v, upward, auto, &ok)
	if rx == auto {
		rx = ry
	}
	if ry == auto {
		ry = rx
	}
	if !ok || rx <= 0 || ry <= 0 {
		return nil
	}
	return round(cx, cy, rx, ry)
}

func (r *reader) line(n *node, v viewport) []chain {
	ok := true
	x1, y1 := r.attribute(n, "x1", v, along, &ok), r.attribute(n, "y1", v, upward, &ok)
	x2, y2 := r.attribute(n, "x2", v, along, &ok), r.attribute(n, "y2", v, upward, &ok)
	if !ok {
		return nil
	}
	return []chain{polygonal([]float64{x1, y1, x2, y2}, false)}
}

// attribute is a length that only an attribute gives.
func (r *reader) attribute(n *node, name string, v viewport, a axis, ok *bool) float64 {
	return r.measure(n, name, v, a, 0, ok)
}

func (r *reader) polyline(n *node, _ viewport) []chain { return r.points(n, false) }

func (r *reader) polygon(n *node, _ viewport) []chain { return r.points(n, true) }

// points reads the corners of a polyline or polygon (SVG 1.1, section 9.7.1).
func (r *reader) points(n *node, closed bool) []chain {
	d, given := r.attr(n, "points")
	if !given {
		return nil
	}
	const most = 2 * (drawing.MaxCurves + 1)
	list, wrong := numbers(d.value, most)
	if wrong == nil && len(list) > most {
		r.tooMany(n)
		return nil
	}
	if wrong == nil && len(list)%2 == 1 {
		wrong = &fault{at: len(d.value), text: "the last point has no y"}
	}
	if wrong != nil {
		r.fault(d, wrong)
		return nil
	}
	if len(list) == 0 {
		return nil
	}
	return []chain{polygonal(list, closed)}
}

// polygonal is a chain of lines through points given as x and y in turn.
func polygonal(xy []float64, closed bool) chain {
	first := geom.Pt(xy[0], xy[1])
	c, now := chain{closed: closed}, first
	to := func(p geom.Point) {
		if p != now {
			c.segments = append(c.segments, drawing.Line{A: now, B: p})
		}
		now = p
	}
	for i := 2; i+1 < len(xy); i += 2 {
		to(geom.Pt(xy[i], xy[i+1]))
	}
	c.closed = len(c.segments) > 1 && (closed || now == first)
	if closed {
		to(first)
	}
	return c
}
