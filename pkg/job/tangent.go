package job

// Arcs of a known radius that join two elements smoothly, wherever these run.

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// A touch is where a circle touches an element.
type touch struct {
	contour int // of the element
	at      geom.Point
	s       float64    // how far along the contour
	length  float64    // of the contour
	dir     geom.Point // unit direction of the contour there
	closed  bool       // the contour
	beyond  float64    // how far off the edge it is, on its line or circle; 0 on it
}

// atEnd is the unit direction in which the contour ends there; not ok if it doesn't.
func (t touch) atEnd() (out geom.Point, ok bool) {
	switch {
	case t.closed:
		return out, false
	case t.s > t.length-joint:
		return t.dir, true
	case t.s < joint:
		return t.dir.Scale(-1), true
	}
	return out, false
}

// A link is an arc that joins two elements smoothly.
type link struct {
	on     [2]touch
	center geom.Point
	sweep  float64
	before [2]bool    // the part of each that it goes on from is the one before the touch
	kept   [2]float64 // and how long that is
}

// newLink is the arc from one touch to the other: the shorter one, unless long is said. A
// half turn goes on from an end, if there is one.
func newLink(center geom.Point, on [2]touch, long bool) link {
	l := link{on: on, center: center}
	a, b := on[0].at.Sub(center), on[1].at.Sub(center)
	l.sweep = math.Atan2(a.Cross(b), a.Dot(b))
	if math.Pi-math.Abs(l.sweep) < halfTurn {
		l.sweep = math.Pi
		if out, ok := on[0].atEnd(); ok && a.Left().Dot(out) < 0 {
			l.sweep = -math.Pi
		} else if out, at := on[1].atEnd(); at && !ok && b.Left().Dot(out) > 0 {
			l.sweep = -math.Pi
		}
	}
	if long {
		l.sweep -= math.Copysign(2*math.Pi, l.sweep)
	}
	for i, v := range [2]geom.Point{a, b} {
		along := v.Left().Scale(l.sweep).Dot(on[i].dir) > 0 // it travels as the contour does
		l.before[i] = along == (i == 0)
		switch {
		case on[i].closed:
			l.kept[i] = on[i].length
		case l.before[i]:
			l.kept[i] = on[i].s
		default:
			l.kept[i] = on[i].length - on[i].s
		}
	}
	return l
}

// halfTurn in radians is by how much an arc may differ from a half turn and be one: its
// sides are then parallel but for rounding.
const halfTurn = 1e-6

// joins reports whether the arc touches both elements themselves, and goes on from
// something that is long enough for the motif.
func (l link) joins() bool {
	return max(l.on[0].beyond, l.on[1].beyond) <= joint && min(l.kept[0], l.kept[1]) > joint
}

// contour is the arc, in edges of at most a half turn.
func (l link) contour() geom.Contour {
	n := int(math.Ceil(math.Abs(l.sweep)/math.Pi - halfTurn))
	out := l.on[0].at.Sub(l.center)
	bulge := math.Copysign(min(1, math.Abs(math.Tan(l.sweep/float64(n)/4))), l.sweep)
	from := l.on[0].at
	var edges []geom.Edge
	for i := range n {
		to := l.on[1].at
		if i < n-1 {
			to = l.center.Add(out.Turn(l.sweep * float64(i+1) / float64(n)))
		}
		edges = append(edges, geom.Edge{A: from, B: to, Bulge: bulge})
		from = to
	}
	return geom.Chain(false, edges...)
}

// middle is the arc's middle.
func (l link) middle() geom.Point {
	return l.center.Add(l.on[0].at.Sub(l.center).Turn(l.sweep / 2))
}

// A side is an edge of an element, for circles to touch.
type side struct {
	geom.Edge
	contour       int
	start, length float64 // where it starts along its contour, and how long that is
	closed        bool
	first, last   bool // in an open contour
}

func sides(cs []geom.Contour) (all []side) {
	for i, c := range cs {
		length, run := c.Length(), 0.0
		for k := range c.Len() {
			e := c.Edge(k)
			all = append(all, side{e, i, run, length, c.Closed, k == 0 && !c.Closed, k == c.Len()-1 && !c.Closed})
			run += e.Length()
		}
	}
	return all
}

// touch is the touch at a point of the side's line or circle.
func (s side) touch(at geom.Point) touch {
	p, t := s.Nearest(at)
	return touch{
		contour: s.contour, at: at, s: s.start + t*s.Length(), length: s.length, dir: s.Tangent(t), closed: s.closed, beyond: p.Dist(at),
	}
}

// ends are the ends of its contour that are the side's.
func (s side) ends() (all []geom.Point) {
	if s.first {
		all = append(all, s.A)
	}
	if s.last {
		all = append(all, s.B)
	}
	return all
}

// foot is the point of its line or circle that is nearest to p.
func (s side) foot(p geom.Point) geom.Point {
	if s.IsLine() {
		return s.A.Lerp(s.B, s.Param(p))
	}
	return s.Center().Add(p.Sub(s.Center()).Unit().Scale(s.Radius()))
}

// beside reports whether two sides are parallel, or have one centre, but for what ends
// may be out by.
func (s side) beside(o side) bool {
	switch {
	case s.IsLine() != o.IsLine():
		return false
	case s.IsLine():
		return math.Abs(s.Tangent(0).Cross(o.Tangent(0)))*min(s.Length(), o.Length()) <= joint
	}
	return s.Center().Near(o.Center(), joint)
}

// links are the arcs of a radius that join two elements, each once, up to mostLinks; and
// the one that would if ends of the elements ran on by the least, if there is one.
func links(as, bs []side, radius float64, long bool) (all []link, longer *link) {
	least := math.Inf(1)
	add := func(center geom.Point, a, b touch) {
		l := newLink(center, [2]touch{a, b}, long)
		by := a.beyond + b.beyond
		switch {
		case !l.joins():
			if by < least && l.joinsIfLonger() {
				least, longer = by, &l
			}
		case len(all) < mostLinks && !slices.ContainsFunc(all, l.same):
			all = append(all, l)
		}
	}
	for _, a := range as {
		for _, b := range bs {
			if !a.beside(b) {
				for _, t := range geom.Tangents(a.Edge, b.Edge, radius, joint) {
					add(t.Center, a.touch(t.E), b.touch(t.F))
				}
				continue
			}
			// Anywhere along them would do: at an end it is.
			for _, p := range a.ends() {
				if q := b.foot(p); math.Abs(p.Dist(q)/2-radius) <= joint {
					add(p.Lerp(q, 0.5), a.touch(p), b.touch(q))
				}
			}
			for _, q := range b.ends() {
				if p := a.foot(q); math.Abs(p.Dist(q)/2-radius) <= joint {
					add(p.Lerp(q, 0.5), a.touch(p), b.touch(q))
				}
			}
		}
	}
	return all, longer
}

// mostLinks is how many arcs there are to choose among: two lines or circles have eight.
const mostLinks = 100

// same reports whether two arcs are one but for what ends may be out by.
func (l link) same(o link) bool {
	return o.center.Near(l.center, 2*joint) && o.on[0].at.Near(l.on[0].at, 2*joint) && o.on[1].at.Near(l.on[1].at, 2*joint)
}

// arcTangent reads an arc that is tangent to two elements, and has them cut where it
// joins them.
func (r *reader) arcTangent(d drawn) geom.Contour {
	t := d.t
	given, radius, long, trim := t.Require("radius"), t.Length("radius"), t.Flag("long"), t.Flag("trim")
	near, chosen := nowhere, t.Given("near")
	if chosen {
		near = point(t, "near")
	}
	pair, ok := r.pair(t, "tangent")
	if !ok || given == nil || math.IsNaN(radius) || chosen && !near.Finite() {
		return geom.Contour{}
	}
	as, bs := sides(pair[0].contours), sides(pair[1].contours)
	some, longer := links(as, bs, radius, long)
	if len(some) == 0 {
		r.noLink(t, pair, as, bs, longer, radius)
		return geom.Contour{}
	}
	l, ok := r.chosen(t, pair, some)
	if !ok {
		return geom.Contour{}
	}
	c := l.contour()
	r.reach(c, given)
	for i, e := range pair { // a copy is cut where its element is
		if trim {
			e.cuts = append(e.cuts, cut{contour: l.on[i].contour, s: l.on[i].s, before: l.before[i], by: d.name, at: t.Get("tangent")})
		}
	}
	return c
}

// chosen is the one of some arcs that is meant: what near says, to which the arc or its centre is nearest, else the one that leaves
// the most of the two elements.
func (r *reader) chosen(t conf.Section, pair [2]part, some []link) (link, bool) {
	worth := func(l link) float64 { return l.kept[0] + l.kept[1] }
	if t.Given("near") {
		near := point(t, "near")
		worth = func(l link) float64 {
			p, _ := l.contour().Nearest(near)
			return -min(p.Dist(near), l.center.Dist(near)) // in a loop one points at its middle
		}
	}
	slices.SortStableFunc(some, func(a, b link) int { return cmp.Compare(worth(b), worth(a)) })
	if len(some) == 1 {
		return some[0], true
	}
	middles := make([]geom.Point, len(some))
	for i, l := range some {
		middles[i] = l.middle()
	}
	hint := "say near which: near = " + unit.Place{X: middles[0].X, Y: middles[0].Y}.Typed().In(r.Units)
	switch a, b := pair[0].name, pair[1].name; {
	case worth(some[0])-worth(some[1]) > joint:
		if !t.Given("near") {
			r.Notef(t.Get("tangent"), conf.RuleAssumed, "tangent: of %d arcs that join %s and %s the one that leaves the most of them; near = [x, y] chooses another", len(some), a, b)
		}
		return some[0], true
	case t.Given("near"):
		r.Faultf(t.Get("near"), conf.BadValue, "near is as near to one arc as to another: their middles lie at %s", r.listed(middles[:2])).Hintf("%s", hint)
	default:
		r.Faultf(t.Get("tangent"), conf.BadValue, "tangent: %d arcs join %s and %s, with their middles at %s", len(some), a, b, r.listed(middles)).Hintf("%s", hint)
	}
	return link{}, false
}

// noLink reports that no arc of a radius joins two elements, and which one would.
func (r *reader) noLink(t conf.Section, pair [2]part, as, bs []side, longer *link, radius float64) {
	var cures []string
	if r.tried += len(as) * len(bs) * mostRadii; r.tried <= mostPairs {
		switch other, ok := nearestRadius(as, bs, radius, t.Flag("long")); {
		case ok && other < radius:
			cures = append(cures, "at most "+r.typed(unit.AtMost(other)))
		case ok:
			cures = append(cures, "at least "+r.typed(unit.AtLeast(other)))
		}
	}
	if longer != nil {
		cures = append(cures, "make "+r.longer(pair, *longer))
	}
	if len(cures) == 0 {
		cures = []string{"draw them nearer to one another", "give the arc's ends: from, to and radius"}
	}
	r.Faultf(t.Get("radius"), conf.BadValue, "tangent: no arc of %s radius touches both %s and %s", r.show(radius), pair[0].name, pair[1].name).
		Hintf("%s", strings.Join(cures, "; or "))
}

// longer says which elements would have to be longer for an arc to join them: a copy is
// as long as its element.
func (r *reader) longer(pair [2]part, l link) string {
	var said []string
	by := [2]float64{l.on[0].beyond, l.on[1].beyond}
	where := ""
	if pair[0].drawn == pair[1].drawn {
		if l.before[0] != l.before[1] && min(by[0], by[1]) > joint {
			where = " at either end"
		}
		by = [2]float64{max(by[0], by[1]), 0}
	}
	for i, p := range pair {
		if by[i] > joint {
			said = append(said, p.drawn.name+" longer by "+unit.AtLeast(by[i]).In(r.Units)+where)
		}
	}
	return strings.Join(said, " and ")
}

// joinsIfLonger reports whether the arc would touch both elements if their ends ran on.
func (l link) joinsIfLonger() bool {
	for i, on := range l.on {
		if on.beyond <= joint {
			if l.kept[i] <= joint {
				return false
			}
			continue
		}
		if _, ok := on.atEnd(); !ok || l.kept[i] < on.length-joint {
			return false
		}
	}
	return true
}

// mostRadii is how many radii are tried for one that would do.
const mostRadii = 200

// nearestRadius is the radius nearest to one that doesn't do of which an arc joins two
// elements: where it touches an end of one, or only just fits.
func nearestRadius(as, bs []side, radius float64, long bool) (float64, bool) {
	var radii []float64
	for _, a := range as {
		for _, b := range bs {
			for _, p := range [2]geom.Point{a.A, a.B} {
				radii = append(radii, geom.TangentAt(a.Edge, p, b.Edge)...)
				if a.beside(b) {
					radii = append(radii, p.Dist(b.foot(p))/2)
				}
			}
			for _, p := range [2]geom.Point{b.A, b.B} {
				radii = append(radii, geom.TangentAt(b.Edge, p, a.Edge)...)
			}
			radii = append(radii, geom.TangentBetween(a.Edge, b.Edge)...)
		}
	}
	// At such a radius nothing may be left of an element: a little less, or more, does.
	for i, n := 0, len(radii); i < n; i++ {
		for _, by := range [...]float64{joint, 1} {
			radii = append(radii, radii[i]-2*by, radii[i]+2*by)
		}
	}
	slices.SortFunc(radii, func(x, y float64) int { return cmp.Compare(math.Abs(x-radius), math.Abs(y-radius)) })
	for _, r := range radii[:min(len(radii), mostRadii)] {
		if r < shortest || !(r < conf.Farthest) {
			continue
		}
		if some, _ := links(as, bs, r, long); len(some) > 0 {
			return r, true
		}
	}
	return 0, false
}
