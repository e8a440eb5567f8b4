package fromsvg

import (
	"math"
	"slices"
	"strings"

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
	if flat(s.m) || !s.m.Finite() {
		r.pass("hidden", n) // SVG 1.1, section 7.4: what has no inverse is not drawn
		return s, false
	}
	s.style = r.inherited(n, s.style)
	s.masked = s.masked || r.hides(n, "mask") || r.hides(n, "clip-path")
	return s, true
}

// flat reports whether a map leaves no area, but for what rounding makes of none.
func flat(m drawing.Affine) bool {
	const rounding = 1e-12
	return math.Abs(m.Det()) <= rounding*(m.A*m.A+m.B*m.B+m.C*m.C+m.D*m.D)
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
			r.errorAt(from.offset, ruleValue, "<%s> fills a page whose size is not given", from.name).
				Hintf(`give the drawing a viewBox, as in viewBox="0 0 200 100"`)
		}
		return r.size(from, name, v, a, whole, ok)
	}
	return geom.Pt(one("width", along, v.size.X), one("height", upward, v.size.Y))
}
