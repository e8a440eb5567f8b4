package fromsvg

import (
	"math"
	"slices"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
)

// A state is what an element is drawn by.
type state struct {
	m      drawing.Affine // from user space to the drawing, y down
	port   viewport
	style  style
	layer  string
	id     string // of the <use> that draws it
	masked bool
	clips  []window
	uses   []*node // what <use> is drawing, outermost first
	deep   int
}

// below is the state of an element, and whether it is drawn at all.
func (r *reader) below(n *node, s state) (state, bool) {
	if display, _ := r.given(n, "display"); strings.EqualFold(display, "none") {
		r.pass("hidden", n)
		return s, false
	}
	if opacity, ok := r.given(n, "opacity"); ok {
		if v, ok := parseOpacity(opacity); ok && v <= 0 {
			r.pass("hidden", n)
			return s, false
		}
	}
	m, ok := r.transform(n, s)
	if !ok {
		return s, false
	}
	s.m = m.Then(s.m)
	if s.m.Det() == 0 || !s.m.Finite() {
		r.pass("hidden", n) // SVG 1.1, section 7.4: what has no inverse is not drawn
		return s, false
	}
	s.style = r.inherited(n, s.style)
	s.masked = s.masked || r.hides(n, "mask") || r.hides(n, "clip-path")
	return s, true
}

// hides reports whether an element has a mask or a clipping path that is there.
func (r *reader) hides(n *node, name string) bool {
	value, ok := r.given(n, name)
	if !ok || value == "" || strings.EqualFold(value, "none") {
		return false
	}
	id, _, isURL := cutURL(value)
	return !isURL || r.ids[strings.TrimPrefix(id, "#")] != nil
}

// transform is an element's own, about its origin if it has one (CSS Transforms 1,
// sections 4 and 6: by default that of user space; percentages are of the viewport).
func (r *reader) transform(n *node, s state) (drawing.Affine, bool) {
	d, ok := r.prop(n, "transform")
	if !ok {
		return drawing.Identity(), true
	}
	m, wrong := parseTransform(d.value)
	if wrong != nil {
		r.fault(d, wrong)
		return m, false
	}
	if box, ok := r.prop(n, "transform-box"); ok && box.value != "view-box" {
		r.fault(box, &fault{text: "transform-box is not read", hint: "leave it out, and write the transform about the drawing's own origin"})
		return m, false
	}
	o, ok := r.prop(n, "transform-origin")
	if !ok {
		return m, true
	}
	about, wrong := parseOrigin(o.value, s.port)
	if wrong != nil {
		r.fault(o, wrong)
		return m, false
	}
	return around(m, about), true
}

// parseOrigin reads transform-origin.
func parseOrigin(value string, v viewport) (geom.Point, *fault) {
	words := map[string]string{"left": "0%", "top": "0%", "center": "50%", "right": "100%", "bottom": "100%"}
	fields := strings.Fields(strings.ToLower(value))
	if len(fields) > 0 && (fields[0] == "top" || fields[0] == "bottom") {
		fields = append([]string{"center"}, fields...)
		if len(fields) == 3 {
			fields = []string{fields[2], fields[1]}
		}
	}
	if len(fields) == 1 {
		fields = append(fields, "50%")
	}
	if len(fields) != 2 && len(fields) != 3 {
		return geom.Point{}, &fault{text: "transform-origin is not understood"}
	}
	var at [2]float64
	for i := range at {
		if word, ok := words[fields[i]]; ok {
			fields[i] = word
		}
		l, wrong := parseLength(fields[i])
		if wrong == nil {
			at[i], wrong = l.of(v, [2]axis{along, upward}[i])
		}
		if wrong != nil {
			wrong.at = 0
			return geom.Point{}, wrong
		}
	}
	return geom.Pt(at[0], at[1]), nil
}

// texts and others are passed over where they would be drawn.
var unfollowed = map[string]string{
	"text": "text", "image": "image", "foreignObject": "foreign object", "flowRoot": "text",
	"video": "image", "canvas": "image", "iframe": "foreign object", "audio": "foreign object",
}

// silent are elements that draw nothing where they stand; those that matter were counted
// when they were read.
var silent = set("defs", "symbol", "mask", "clipPath", "pattern", "marker", "filter", "linearGradient", "radialGradient",
	"title", "desc", "metadata", "style", "script", "view", "cursor", "color-profile", "font", "font-face",
	"animate", "animateMotion", "animateTransform", "animateColor", "set", "mpath", "discard", "hatch", "meshgradient", "solidcolor")

// draw draws an element.
func (r *reader) draw(n *node, s state) {
	if r.full() || silent[n.name] {
		return
	}
	if r.visits++; r.visits > maxVisits {
		r.halt(n.offset, "<use> draws more than %d elements", maxVisits).Hintf("leave out what isn't the motif")
		return
	}
	if s.deep++; s.deep > drawing.MaxDeep {
		r.halt(n.offset, "groups are nested more than %d deep", drawing.MaxDeep).Hintf("ungroup the drawing")
		return
	}
	if !r.chosen(n) {
		r.pass("switched off", n)
		return
	}
	s, drawn := r.below(n, s)
	if !drawn {
		return
	}
	shape := shapes[n.name]
	what := unfollowed[n.name]
	switch {
	case shape != nil:
		r.shape(n, s, shape(r, n, s.port))
	case what != "":
		r.pass(what, n)
	case n.name == "g" || n.name == "a":
		r.group(n, s)
	case n.name == "switch":
		r.alternatives(n, s)
	case n.name == "svg":
		r.inner(n, s)
	case n.name == "use":
		r.use(n, s)
	default:
		r.pass("unknown element", n)
	}
}

// group draws what is in an element. The outermost group that has an id is the layer.
func (r *reader) group(n *node, s state) {
	if n.name == "g" && s.layer == "" {
		s.layer = n.id
	}
	for _, child := range n.children {
		r.draw(child, s)
	}
}

// alternatives draws the first child that may be drawn (SVG 1.1, section 5.8.2).
func (r *reader) alternatives(n *node, s state) {
	done := false
	for _, child := range n.children {
		switch {
		case silent[child.name]:
		case done || !r.chosen(child):
			r.pass("switched off", child)
		default:
			r.draw(child, s)
			done = true
		}
	}
}

// chosen reports whether an element's conditions hold (SVG 1.1, section 5.8): the language
// is English, and no extension is there. SVG 2 has no requiredFeatures.
func (r *reader) chosen(n *node) bool {
	if _, asked := n.attr("requiredExtensions"); asked {
		return false
	}
	languages, asked := r.attr(n, "systemLanguage")
	return !asked || slices.ContainsFunc(strings.Split(languages.value, ","), func(one string) bool {
		one = strings.ToLower(strings.TrimSpace(one))
		return one == "en" || strings.HasPrefix(one, "en-")
	})
}

// inner draws an <svg> within another (SVG 1.1, section 7.9).
func (r *reader) inner(n *node, s state) {
	ok := true
	at := geom.Pt(r.measure(n, "x", s.port, along, 0, &ok), r.measure(n, "y", s.port, upward, 0, &ok))
	size := r.sizeOf(n, n, s.port, &ok)
	if !ok {
		return
	}
	if within, drawn := r.nested(n, s, at, size); drawn {
		r.group(n, within)
	} else {
		r.pass("hidden", n)
	}
}

// sizeOf is the width and height that first gives, else second, else the whole viewport.
// A viewport of unknown size gives none: what is within is drawn at its own.
func (r *reader) sizeOf(first, second *node, v viewport, ok *bool) geom.Point {
	one := func(name string, a axis, whole float64) float64 {
		from := first
		if d, given := r.given(first, name); !given || strings.EqualFold(d, "auto") {
			from = second
		}
		if d, given := r.given(from, name); (!given || strings.EqualFold(d, "auto")) && !v.known {
			*ok = false
			r.errorAt(from.offset, "drawing-value", "<%s> fills a page whose size is not given", from.name).
				Hintf(`give the drawing a viewBox, as in viewBox="0 0 200 100"`)
		}
		return r.size(from, name, v, a, whole, ok)
	}
	return geom.Pt(one("width", along, v.size.X), one("height", upward, v.size.Y))
}

// use draws another element here (SVG 1.1, section 5.6).
func (r *reader) use(n *node, s state) {
	target := r.target(n, s)
	if target == nil {
		return
	}
	ok := true
	at := geom.Pt(r.measure(n, "x", s.port, along, 0, &ok), r.measure(n, "y", s.port, upward, 0, &ok))
	if !ok {
		return
	}
	s.m = drawing.Shift(at).Then(s.m)
	s.uses = append(s.uses[:len(s.uses):len(s.uses)], target)
	if s.id = n.id; target.name != "symbol" && target.name != "svg" {
		r.draw(target, s)
		return
	}
	s, drawn := r.below(target, s)
	if !drawn {
		return
	}
	corner := geom.Point{}
	if target.name == "svg" {
		corner = geom.Pt(r.measure(target, "x", s.port, along, 0, &ok), r.measure(target, "y", s.port, upward, 0, &ok))
	}
	size := r.sizeOf(n, target, s.port, &ok)
	if !ok {
		return
	}
	if within, drawn := r.nested(target, s, corner, size); drawn {
		within.deep++
		r.group(target, within)
	} else {
		r.pass("hidden", target)
	}
}

// target is the element that a <use> names, nil where it names none that can be drawn.
func (r *reader) target(n *node, s state) *node {
	d, ok := r.attr(n, "href")
	if !ok {
		d, ok = r.attr(n, "xlink:href")
	}
	name := strings.TrimSpace(d.value)
	id, local := strings.CutPrefix(name, "#")
	switch target := r.ids[id]; {
	case !ok || name == "":
		r.errorAt(n.offset, "drawing-reference", "<use> doesn't say what to draw").Hintf(`write as in href="#strand", or leave it out`)
	case !local:
		r.errorAt(r.offset(d, 0), "drawing-reference", "<use> draws from another file, %s, which is not read", clip(name)).
			Hintf("save the drawing as plain SVG, with all of it in one file")
	case target == nil:
		f := r.errorAt(r.offset(d, 0), "drawing-reference", "<use> draws %q, and nothing has that id", clip(id))
		if near := diag.Nearest(id, r.idList()); near != "" {
			f.Hintf("write #%s", near)
		} else {
			f.Hintf("give an element the id, or leave <use> out")
		}
	case slices.Contains(s.uses, target) || ancestor(target, n):
		r.errorAt(r.offset(d, 0), "drawing-reference", "<use> draws %q, which it is a part of", clip(id)).Hintf("leave it out")
	default:
		return target
	}
	return nil
}

// idList is the ids of the drawing, sorted; made when first asked for.
func (r *reader) idList() []string {
	const most = 1000 // more would take long to compare
	if r.names == nil {
		for id := range r.ids {
			if len(id) < 64 {
				r.names = append(r.names, id)
			}
		}
		slices.Sort(r.names)
		r.names = r.names[:min(len(r.names), most)]
	}
	return r.names
}

// ancestor reports whether n is in what a is.
func ancestor(a, n *node) bool {
	for ; n != nil; n = n.parent {
		if n == a {
			return true
		}
	}
	return false
}

// shape adds the curves of a shape to the drawing.
func (r *reader) shape(n *node, s state, chains []chain) {
	if len(chains) == 0 {
		if !r.findings.HasErrors() {
			r.pass("zero-length", n)
		}
		return
	}
	model := r.painted(n, s)
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
func (r *reader) painted(n *node, s state) drawing.Curve {
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
		Filled: filled && n.name != "line", Stroked: stroked && width > 0, Masked: s.masked,
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
	r.dash(&c, n, s)
	return c
}

// dash says where the gaps of a line are, unless its author counts them in a length of
// his own (pathLength): then only that there are some.
func (r *reader) dash(c *drawing.Curve, n *node, s state) {
	if _, counted := n.attr("pathLength"); counted {
		return
	}
	start, wrong := s.style.dashStart.of(s.port, slant)
	if wrong != nil {
		return
	}
	for _, l := range s.style.dashes {
		v, wrong := l.of(s.port, slant)
		if wrong != nil {
			c.Dashes = nil
			return
		}
		c.Dashes = append(c.Dashes, v)
	}
	c.DashStart = start
}

// curve adds one subpath.
func (r *reader) curve(n *node, s state, c chain, model drawing.Curve) {
	if len(c.segments) == 0 {
		r.pass("zero-length", n)
		return
	}
	if r.segments += len(c.segments); r.segments > drawing.MaxCurves {
		r.tooMany(n)
		return
	}
	model.Segments, model.Closed = c.segments, c.closed
	model = model.Moved(s.m)
	if box := frame(model.Segments); !reachable.Holds(box.Min) || !reachable.Holds(box.Max) {
		r.errorAt(n.offset, "drawing-value", "<%s> reaches too far out to be read", n.name).Hintf("mend its numbers or its transform")
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
