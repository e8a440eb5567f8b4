package job

// Where two elements meet, as they are drawn: before copies and groups.

import (
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

const (
	// joint in mm is how near curves come that meet: as near as ends that the motif
	// joins.
	joint = radiusShort
	// exact in mm is how near those come that were drawn to meet, rounding apart.
	exact = 1e-9
	// mostPlaces is how many places a finding lists.
	mostPlaces = 8
)

// A part is an element that a key names, or one of its copies.
type part struct {
	*drawn
	name     string         // "bar.2"
	contours []geom.Contour // as drawn
}

// partOf is what a name stands for: "bar" for the element, "bar.2" for its second copy, as
// its group or else [motif] turns and mirrors it. Not ok if there is none, which is reported.
func (r *reader) partOf(v *conf.Value, what string) (p part, ok bool) {
	base, number, copied := strings.Cut(v.Text, ".")
	named := *v
	if v.Kind == conf.KindString {
		named.Text = base
	}
	p = part{drawn: r.elementOf(&named, what), name: v.Text}
	if p.drawn == nil {
		return p, false
	}
	p.contours = r.draw(p.drawn)
	if !copied {
		return p, true
	}
	all := r.about
	if p.in != nil {
		all = p.in.about
	}
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 || n > len(all) {
		r.Faultf(v, conf.BadValue, "%s: %s has copies 1 to %d, and no %q", what, base, len(all), number).Hintf("copies and mirror, of [motif] or of its group, make them; %s.1 is as drawn", base)
		return p, false
	}
	p.contours = slices.Clone(p.contours)
	for i, c := range p.contours {
		p.contours[i] = all[n-1].Contour(c)
	}
	return p, true
}

// elementOf is the element that a name stands for; nil if there is none, which is reported.
func (r *reader) elementOf(v *conf.Value, what string) *drawn {
	if v.Kind != conf.KindString {
		r.Faultf(v, conf.WrongType, "%s takes names of elements, not %s", what, v.Kind).Hintf(`write %s = ["bar", "rail"]`, what)
		return nil
	}
	d := r.drawn[v.Text]
	if d == nil {
		hint, names := `give one a name: name = "bar"`, slices.Sorted(maps.Keys(r.drawn))
		if near := diag.Nearest(v.Text, names); near != "" {
			hint = "did you mean " + near + "?"
		} else if len(names) > 0 {
			hint = "there are: " + strings.Join(names[:min(len(names), mostPlaces)], ", ")
		}
		r.Faultf(v, conf.BadValue, "%s: there is no element %q", what, v.Text).Hintf("%s", hint)
	}
	return d
}

// pair is two elements that a key names, drawn; not ok where one is wrong, and reported.
func (r *reader) pair(t conf.Section, key string) (pair [2]part, ok bool) {
	items := t.Items(key, 2)
	if len(items) != 2 {
		return pair, false
	}
	legs := [2]int{}
	for i, v := range items {
		if pair[i], ok = r.partOf(v, key); !ok {
			return pair, false
		}
		for _, c := range pair[i].contours {
			legs[i] += c.Len()
		}
	}
	if pair[0].drawn == pair[1].drawn && strings.TrimSuffix(pair[0].name, ".1") == strings.TrimSuffix(pair[1].name, ".1") {
		r.Faultf(items[1], conf.BadValue, "%s names one element twice", key).Hintf("name two")
		return pair, false
	}
	if r.pairs += legs[0] * legs[1]; r.pairs > mostPairs {
		r.Faultf(t.Get(key), conf.BadValue, "too many lines and arcs would have to be compared").
			Hintf("name elements of fewer lines and arcs, or write the place as [x, y]")
		return pair, false
	}
	return pair, legs[0] > 0 && legs[1] > 0
}

// met is the point at which two elements meet.
func (r *reader) met(t conf.Section) geom.Point {
	pair, ok := r.pair(t, "meet")
	near, chosen := nowhere, t.Given("near")
	if chosen {
		near = point(t, "near")
	}
	if !ok || chosen && !near.Finite() {
		return nowhere
	}
	a, b, at := pair[0].name, pair[1].name, t.Get("meet")
	places, along := meetings(pair[0].contours, pair[1].contours, exact)
	if len(places) == 0 && !along {
		places, along = meetings(pair[0].contours, pair[1].contours, joint)
	}
	switch {
	case along:
		r.Faultf(at, conf.BadValue, "meet: %s and %s run along one another", a, b).Hintf("name elements that cross or touch, or write the place as [x, y]")
		return nowhere
	case len(places) == 0:
		p, q := closest(pair[0].contours, pair[1].contours)
		r.Faultf(at, conf.BadValue, "meet: %s and %s don't meet: %s is at closest %s away, at %s", a, b, a, r.show(p.Dist(q)), r.place(p)).
			Hintf("make them reach one another, or write the place as [x, y]")
		return nowhere
	case len(places) == 1:
		return places[0]
	case !chosen:
		r.Faultf(at, conf.BadValue, "meet: %s and %s meet at %d places: %s", a, b, len(places), r.listed(places)).
			Hintf("say near which: near = %s", unit.Place{X: places[0].X, Y: places[0].Y}.Typed().In(r.Units))
		return nowhere
	}
	return r.nearest(t, places)
}

// nearest is the one of some places that is nearest to what near says.
func (r *reader) nearest(t conf.Section, places []geom.Point) geom.Point {
	near := point(t, "near")
	slices.SortStableFunc(places, func(p, q geom.Point) int {
		switch dp, dq := p.Dist(near), q.Dist(near); {
		case dp < dq:
			return -1
		case dp > dq:
			return 1
		}
		return 0
	})
	if math.Abs(places[0].Dist(near)-places[1].Dist(near)) < joint {
		r.Faultf(t.Get("near"), conf.BadValue, "near is as near to %s as to %s", r.place(places[0]), r.place(places[1])).
			Hintf("write one of them: near = %s", unit.Place{X: places[0].X, Y: places[0].Y}.Typed().In(r.Units))
		return nowhere
	}
	return places[0]
}

// place is a point as the file's maker writes it.
func (r *reader) place(p geom.Point) string { return unit.Place{X: p.X, Y: p.Y}.In(r.Units) }

// listed is some places, but not all of very many.
func (r *reader) listed(places []geom.Point) string {
	var all []string
	for i, p := range places {
		if i == mostPlaces {
			all = append(all, "and more")
			break
		}
		all = append(all, r.place(p))
	}
	return strings.Join(all, ", ")
}

// meetings are the places at which curves meet to within tol, each once, in the order
// of the first; along: they have more than places in common.
func meetings(as, bs []geom.Contour, tol float64) (places []geom.Point, along bool) {
	add := func(p geom.Point) {
		if !slices.ContainsFunc(places, func(q geom.Point) bool { return p.Near(q, joint) }) {
			places = append(places, p)
		}
	}
	eachPair(as, bs, func(e, f geom.Edge) {
		met := geom.Crossings(e, f, tol)
		for i, m := range met {
			if m.Kind == geom.Overlap {
				along = true
			}
			// What only just cuts another twice is meant to touch it.
			if i > 0 && m.Kind == geom.Cross && met[i-1].Kind == geom.Cross {
				if mid := e.At((met[i-1].E + m.E) / 2); f.Dist(mid) <= joint {
					places = slices.DeleteFunc(places, func(p geom.Point) bool { return p.Near(met[i-1].At, joint) })
					add(mid)
					continue
				}
			}
			add(m.At)
		}
	})
	return places, along
}

// eachPair goes through all edges of one with all edges of the other.
func eachPair(as, bs []geom.Contour, visit func(e, f geom.Edge)) {
	for _, a := range as {
		for _, e := range a.Edges() {
			for _, b := range bs {
				for i := range b.Len() {
					visit(e, b.Edge(i))
				}
			}
		}
	}
}

// closest are the nearest points of two elements.
func closest(as, bs []geom.Contour) (p, q geom.Point) {
	best := math.Inf(1)
	eachPair(as, bs, func(e, f geom.Edge) {
		if a, b := geom.Closest(e, f); a.Dist(b) < best {
			best, p, q = a.Dist(b), a, b
		}
	})
	return p, q
}
