package fromsvg

import (
	"slices"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
)

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
		r.errorAt(n.offset, ruleReference, "<use> doesn't say what to draw").Hintf(`write as in href="#strand", or leave it out`)
	case !local:
		r.errorAt(r.offset(d, 0), ruleReference, "<use> draws from another file, %s, which is not read", clip(name)).
			Hintf("save the drawing as plain SVG, with all of it in one file")
	case target == nil:
		f := r.errorAt(r.offset(d, 0), ruleReference, "<use> draws %q, and nothing has that id", clip(id))
		if near := diag.Nearest(id, r.idList()); near != "" {
			f.Hintf("write #%s", near)
		} else {
			f.Hintf("give an element the id, or leave <use> out")
		}
	case slices.Contains(s.uses, target) || ancestor(target, n):
		r.errorAt(r.offset(d, 0), ruleReference, "<use> draws %q, which it is a part of", clip(id)).Hintf("leave it out")
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
