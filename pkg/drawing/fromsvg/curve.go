package fromsvg

import (
	"math"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
)

// shape adds the curves of a shape to the drawing.
func (r *reader) shape(n *node, s state, chains []chain) {
	if len(chains) == 0 {
		if !r.findings.HasErrors() {
			r.pass("zero-length", n)
		}
		return
	}
	model := r.painted(n, s, chains)
	switch {
	case s.style.hidden:
		r.pass("hidden", n)
		return
	case !model.Filled && !model.Stroked:
		r.pass("unpainted", n)
		return
	}
	for _, c := range chains {
		if !c.empty {
			r.curve(n, s, c, model)
		}
	}
}

// painted is a curve of a shape without its segments.
func (r *reader) painted(n *node, s state, chains []chain) drawing.Curve {
	resolve := func(p paint, opacity float64) (seen bool, color string) {
		if p.kind == current {
			p = s.style.color
		}
		return p.kind == painted && p.alpha*opacity > 0, p.color
	}
	filled, inside := resolve(s.style.fill, s.style.fillOpacity)
	stroked, line := resolve(s.style.stroke, s.style.strokeOpacity)
	width, wrong := s.style.width.of(s.port, slant)
	if wrong != nil {
		width = 0
	}
	c := drawing.Curve{
		Filled: filled, Stroked: stroked && width > 0, Masked: s.masked,
		Layer: s.layer, ID: n.id, Pos: r.pos(n.offset), Color: inside,
	}
	if c.ID == "" {
		c.ID = s.id
	}
	if !c.Stroked {
		return c
	}
	c.Color, c.Width = line, width
	if effect, _ := r.given(n, "vector-effect"); effect == "non-scaling-stroke" {
		c.Width /= r.perUnit * s.m.Scale() // the map will scale it
	}
	c.Dashed = len(s.style.dashes) > 0
	r.dash(&c, n, s, chains)
	return c
}

// dash says where the gaps of a line are. An author may count them in a length of the
// whole of his own (SVG 1.1, section 8.4).
func (r *reader) dash(c *drawing.Curve, n *node, s state, chains []chain) {
	start, wrong := s.style.dashStart.of(s.port, slant)
	if wrong != nil {
		return
	}
	scale := 1.0
	if d, counted := r.attr(n, "pathLength"); counted {
		own, wrong := parseLength(d.value)
		if wrong != nil || own.px <= 0 {
			return
		}
		scale = lengthOf(chains) / own.px
	}
	for _, l := range s.style.dashes {
		v, wrong := l.of(s.port, slant)
		if wrong != nil {
			c.Dashes = nil
			return
		}
		c.Dashes = append(c.Dashes, v*scale)
	}
	c.DashStart = start * scale
}

// lengthOf is the length of all chains of a shape.
func lengthOf(chains []chain) float64 {
	var sum float64
	for _, c := range chains {
		sum += drawing.Curve{Segments: c.segments}.Length()
	}
	return sum
}

// curve adds one subpath.
func (r *reader) curve(n *node, s state, c chain, model drawing.Curve) {
	if len(c.segments) == 0 {
		r.pass("zero-length", n)
		return
	}
	if _, line := c.segments[0].(drawing.Line); line && len(c.segments) == 1 {
		model.Filled = false // it has no inside
	}
	if !model.Filled && !model.Stroked {
		r.pass("unpainted", n)
		return
	}
	if r.segments += len(c.segments); r.segments > drawing.MaxCurves {
		r.tooMany(n)
		return
	}
	model.Segments, model.Closed = c.segments, c.closed
	model = model.Moved(s.m)
	if box := frame(model.Segments); !reachable.Holds(box.Min) || !reachable.Holds(box.Max) {
		r.errorAt(n.offset, ruleValue, "<%s> reaches too far out to be read", n.name).Hintf("fix its numbers or its transform")
		return
	}
	const look = 200 // about what a segment costs to be held against a window, in bytes read
	for _, w := range s.clips {
		if r.spend(n, look*len(c.segments)); r.full() {
			return
		}
		inside, outside := w.shows(model)
		if outside {
			r.pass("outside the page", n)
			return
		}
		model.Masked = model.Masked || !inside
	}
	model = model.Moved(drawing.Stretch(1, -1))
	switch {
	case r.out.Page.Empty():
	case !r.out.Page.Meets(model.Bounds()):
		r.pass("outside the page", n)
		return
	case model.Filled && r.background(model):
		r.pass("background", n)
		return
	}
	r.out.Curves = append(r.out.Curves, model)
}

// tooMany refuses a drawing of more segments than are read.
func (r *reader) tooMany(n *node) {
	r.halt(n.offset, "the drawing has more than %d lines and curves", drawing.MaxCurves).Hintf("leave out what isn't the motif")
}

// frame is a box that holds segments, by their control points; NaN stays in it.
func frame(segments []drawing.Segment) geom.Box {
	b := geom.EmptyBox()
	reach := func(points ...geom.Point) {
		for _, p := range points {
			b.Min = geom.Pt(math.Min(b.Min.X, p.X), math.Min(b.Min.Y, p.Y))
			b.Max = geom.Pt(math.Max(b.Max.X, p.X), math.Max(b.Max.Y, p.Y))
		}
	}
	for _, s := range segments {
		switch s := s.(type) {
		case drawing.Line:
			reach(s.A, s.B)
		case drawing.Bezier:
			reach(s.Points...)
		case drawing.Ellipse:
			far := geom.Pt(math.Abs(s.Major.X)+math.Abs(s.Minor.X), math.Abs(s.Major.Y)+math.Abs(s.Minor.Y))
			reach(s.Center.Sub(far), s.Center.Add(far))
		}
	}
	return b
}

// reachable is the box of what is read.
var reachable = geom.Box{Min: geom.Pt(-drawing.Farthest, -drawing.Farthest), Max: geom.Pt(drawing.Farthest, drawing.Farthest)}

// border is how far the edges of a background may be from the page's, as a share of its
// size.
const border = 1e-6

// background reports whether a curve is a rectangle whose sides are the page's or lie
// outside: it is what the motif is drawn on.
func (r *reader) background(c drawing.Curve) bool {
	all := r.out.Page
	slack := border * math.Max(all.Size().X, all.Size().Y)
	inner := all.Expand(-slack)
	for _, s := range c.Segments {
		line, straight := s.(drawing.Line)
		if !straight {
			return false
		}
		d := line.B.Sub(line.A)
		if math.Abs(d.X) > slack && math.Abs(d.Y) > slack {
			return false
		}
		if inner.Meets(line.Bounds()) {
			return false
		}
	}
	box := c.Bounds()
	return box.Holds(inner.Min) && box.Holds(inner.Max)
}
