package fromsvg

import (
	"cmp"
	"slices"
	"strings"
)

// properties are those that say what is seen of a drawing, where, and by what lines.
var properties = set("display", "visibility", "opacity", "color", "fill", "fill-opacity", "stroke", "stroke-opacity",
	"stroke-width", "stroke-dasharray", "stroke-dashoffset", "mask", "clip-path", "overflow", "vector-effect", "transform", "transform-origin",
	"transform-box", "d", "x", "y", "cx", "cy", "r", "rx", "ry", "width", "height")

func set(words ...string) map[string]bool {
	m := map[string]bool{}
	for _, w := range words {
		m[w] = true
	}
	return m
}

// prop is a property of an element as style sheets, its style attribute and its
// attributes set it, and whether they do. Attributes count least, then rules by their
// specificity and order, then the style attribute; what is important counts before all
// that isn't (CSS 2.1, section 6.4; SVG 1.1, section 6.4).
func (r *reader) prop(n *node, name string) (declaration, bool) {
	if n.props == nil {
		r.cascade(n)
	}
	d, ok := n.props[name]
	if !ok {
		d, ok = n.attr(name)
	}
	r.spend(n, len(d.value))
	return d, ok
}

// attr is an attribute of an element, which costs its length to read.
func (r *reader) attr(n *node, name string) (declaration, bool) {
	d, ok := n.attr(name)
	r.spend(n, len(d.value))
	return d, ok
}

// cascade works out what rules and the style attribute set.
func (r *reader) cascade(n *node) {
	n.props = map[string]declaration{}
	var found []*rule
	gather := func(rules []*rule) {
		for _, one := range rules {
			if r.matches(one.selector, n) {
				found = append(found, one)
				r.matching += 10 // to be sorted and laid over one another
			}
		}
	}
	if r.sheet.count > 0 {
		gather(r.sheet.others)
		gather(r.sheet.byName[n.name])
		for _, class := range slices.Compact(slices.Sorted(slices.Values(n.classes))) {
			gather(r.sheet.byClass[class])
		}
		gather(r.sheet.byID[n.id])
	}
	slices.SortFunc(found, func(a, b *rule) int {
		return cmp.Or(cmp.Compare(a.weight, b.weight), cmp.Compare(a.order, b.order))
	})
	for _, one := range found {
		n.override(one.sets)
	}
	if style, ok := n.attr("style"); ok {
		c := r.newCSS(style.text)
		n.override(c.declarations(false))
	}
}

// override sets what a later rule sets.
func (n *node) override(sets map[string]declaration) {
	for name, d := range sets {
		if before, ok := n.props[name]; !ok || d.important || !before.important {
			n.props[name] = d
		}
	}
}

// A style is what an element inherits and hands on.
type style struct {
	color                      paint
	fill, stroke               paint
	fillOpacity, strokeOpacity float64
	width                      length
	dashes                     []length
	dashStart                  length
	hidden                     bool // visibility
}

// initialStyle is that of the root: SVG 1.1, sections 11.3 and 11.4.
func initialStyle() style {
	black := paint{kind: painted, color: "#000000", alpha: 1}
	return style{color: black, fill: black, fillOpacity: 1, strokeOpacity: 1, width: length{px: 1}}
}

// inherited is an element's style below one of its parent. What can't be understood is
// left out, as CSS says.
func (r *reader) inherited(n *node, s style) style {
	first := initialStyle()
	if d, ok := r.given(n, "color"); ok {
		s.color = choose(d, first.color, s.color, func(v string) (paint, bool) {
			if strings.EqualFold(v, "currentcolor") {
				return s.color, true
			}
			return parsePaint(v)
		})
	}
	if d, ok := r.given(n, "fill"); ok {
		s.fill = choose(d, first.fill, s.fill, r.paint)
	}
	if d, ok := r.given(n, "stroke"); ok {
		s.stroke = choose(d, first.stroke, s.stroke, r.paint)
	}
	if d, ok := r.given(n, "fill-opacity"); ok {
		s.fillOpacity = choose(d, 1, s.fillOpacity, parseOpacity)
	}
	if d, ok := r.given(n, "stroke-opacity"); ok {
		s.strokeOpacity = choose(d, 1, s.strokeOpacity, parseOpacity)
	}
	if d, ok := r.given(n, "stroke-width"); ok {
		s.width = choose(d, first.width, s.width, parseWidth)
	}
	if d, ok := r.given(n, "stroke-dasharray"); ok {
		s.dashes = choose(d, nil, s.dashes, parseDashes)
	}
	if d, ok := r.given(n, "stroke-dashoffset"); ok {
		s.dashStart = choose(d, length{}, s.dashStart, func(v string) (length, bool) {
			l, wrong := parseLength(v)
			return l, wrong == nil
		})
	}
	if d, ok := r.given(n, "visibility"); ok {
		s.hidden = choose(d, false, s.hidden, func(v string) (bool, bool) {
			v = strings.ToLower(v)
			return v == "hidden" || v == "collapse", v == "visible" || v == "hidden" || v == "collapse"
		})
	}
	return s
}

// given is a property's value without space round it.
func (r *reader) given(n *node, name string) (string, bool) {
	d, ok := r.prop(n, name)
	return strings.TrimSpace(d.value), ok
}

// choose is what a value makes of an inherited property.
func choose[T any](value string, first, parent T, read func(string) (T, bool)) T {
	switch strings.ToLower(value) {
	case "inherit", "unset":
		return parent
	case "initial":
		return first
	}
	if v, ok := read(value); ok {
		return v
	}
	return parent
}

func parseOpacity(value string) (float64, bool) {
	l, wrong := parseLength(value)
	if wrong != nil {
		return 0, false
	}
	if l.relative {
		return l.px / 100, true
	}
	return l.px, true
}

func parseWidth(value string) (length, bool) {
	l, wrong := parseLength(value)
	return l, wrong == nil && l.px >= 0
}

// parseDashes reads the lengths of dashes and gaps; none where the line is whole (SVG
// 1.1, section 11.4).
func parseDashes(value string) ([]length, bool) {
	if strings.EqualFold(value, "none") {
		return nil, true
	}
	const most = 500
	var list []length
	sum := 0.0
	for field := range strings.FieldsFuncSeq(value, func(c rune) bool { return c == ',' || c < 0x80 && isSpace(byte(c)) }) {
		l, wrong := parseLength(field)
		if wrong != nil || l.px < 0 || len(list) == most {
			return nil, false
		}
		list, sum = append(list, l), sum+l.px
	}
	if sum == 0 {
		return nil, true
	}
	if len(list)%2 == 1 {
		list = append(list, list...)
	}
	return list, true
}
