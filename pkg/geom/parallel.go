package geom

// Parallel curves of contours.
//
// Method: every edge is shifted; neighbours are joined at the meeting of their
// lines or circles, which trims inside corners and mitres outside ones; an
// edge that its two joints leave no length is taken out and its neighbours
// joined in its place, the one that would vanish at the smallest distance
// first, until none is left to take out. That is the local part of a cutter
// radius offset; the curve may cross itself where the contour comes within
// 2 d of itself further along (see region.Grow for what is left then).
// (Elementary; the order of taking out is that of the straight skeleton's edge
// events, Aichholzer and Aurenhammer 1996, recalled.)

import (
	"math"
	"slices"
)

// A Join says how the edges of a parallel curve meet outside a corner.
type Join int

const (
	// Mitre extends both edges, lines by their tangent and arcs along their
	// circle, to the meeting nearest to the corner. A corner too sharp for
	// that (see MitreLimit) is cut off straight from end to end, a bevel.
	Mitre Join = iota
	// Round goes round the corner on an arc about it.
	Round
)

func (j Join) String() string {
	switch j {
	case Mitre:
		return "mitre"
	case Round:
		return "round"
	}
	return "unknown"
}

// MitreLimit is how far from its corner a mitre's tip may be, in distances of
// the parallel curve. A groove of width w has a mitre while its outer curves,
// w/2 from the middle, meet within 4 w; two straights at 15 degrees, the
// sharpest corner that makers mitre, need 1/sin(7.5 degrees) = 7.66.
const MitreLimit = 8

// Parallel returns the curve at distance d to the left of c (to the right for
// d < 0), in the direction of c. c may be open or closed and may cross itself.
//
// Inside corners are trimmed to the meeting of their two edges; outside
// corners are joined as join says; smooth joints stay joined. An arc whose
// radius would be 0 or negative vanishes, and so does an edge that is trimmed
// away from both ends; the edges that are neighbours then meet instead, and
// where they don't meet at all the shorter one vanishes too, and where they
// meet only far off (see MitreLimit) a straight edge joins them. An open curve
// begins and ends at the shifted ends of what is left. If nothing is left, or
// c or d is not finite, the result has no vertices.
func (c Contour) Parallel(d float64, join Join) Contour {
	if !c.finite() || math.IsNaN(d) || math.IsInf(d, 0) {
		return Contour{Closed: c.Closed}
	}
	p := parallel{closed: c.Closed, far: MitreLimit * math.Abs(d), sides: c.sides(d, join)}
	for i := range p.sides {
		p.meet(i)
	}
	for {
		i := p.vanished()
		if i < 0 {
			return p.contour()
		}
		p.remove(i)
	}
}

// finite reports whether all of c's numbers are ordinary ones.
func (c Contour) finite() bool {
	for _, v := range c.Vertices {
		if !v.Finite() || math.IsNaN(v.Bulge) || math.IsInf(v.Bulge, 0) {
			return false
		}
	}
	return true
}

// A side is an edge of a parallel curve in the making.
type side struct {
	Edge              // as shifted, before it is joined to its neighbours
	from, to  Point   // the corners of the contour at its two ends
	was       float64 // its length at distance 0
	t0, t1    float64 // what its joints leave of it, in fractions of its length
	unmatched bool    // its line or circle does not meet the next side's
	bevelled  bool    // a straight edge leads from its end to the next side
}

// left is the length that the joints leave of s, negative if they have passed
// one another.
func (s side) left() float64 { return (s.t1 - s.t0) * s.Length() }

// sides returns the shifted edges of c that have a radius, and arcs or bevels
// at the outside corners that need them.
func (c Contour) sides(d float64, join Join) []side {
	var edges []Edge
	for _, e := range c.Edges() {
		if e.A != e.B {
			edges = append(edges, e)
		}
	}
	var sides []side
	for i, e := range edges {
		s, ok := newSide(e, d)
		if ok {
			sides = append(sides, s)
		}
		if i == len(edges)-1 && !c.Closed {
			break
		}
		f := edges[(i+1)%len(edges)]
		if next, alive := newSide(f, d); ok && alive {
			sides = appendCorner(sides, e, f, s, next, d, join)
		}
	}
	return sides
}

// newSide is e shifted by d to its left; not ok if its radius vanishes.
func newSide(e Edge, d float64) (s side, ok bool) {
	if e.Bulge*d > 0 && e.Radius()-math.Abs(d) < Coincident {
		return side{}, false
	}
	return side{Edge: e.Shift(d), from: e.A, to: e.B, was: e.Length(), t1: 1}, true
}

// appendCorner adds the arc or the bevel that joins s to next, the shifted e
// and f, if the corner between them needs one.
func appendCorner(sides []side, e, f Edge, s, next side, d float64, join Join) []side {
	turn := cornerTurn(e, f, d)
	if turn*d >= 0 || s.B.Near(next.A, Coincident) {
		return sides
	}
	corner := side{Edge: Line(s.B, next.A), from: e.B, to: e.B, t1: 1}
	if join == Round {
		corner.Bulge = math.Tan(turn / 4)
	} else if p, ok := jointMeeting(s.Edge, next.Edge, e.B); ok && mitres(s.Edge, next.Edge, p, e.B, d) {
		return sides
	}
	return append(sides, corner)
}

// mitres reports whether p is beyond the end of e, before the beginning of f,
// and near enough to the corner for a mitre's tip.
func mitres(e, f Edge, p, corner Point, d float64) bool {
	return p.Dist(corner) <= MitreLimit*math.Abs(d) && e.Param(p) > 1 && f.Param(p) < 0
}

// rightBack is the sine of the angle under which one edge goes right back over
// the other: the rounding of directions, a hundred times over.
const rightBack = 1e-13

// cornerTurn is the angle by which the direction turns from the end of e to
// the beginning of f. Where f goes right back it is half a turn, to the side
// on which the two are nearer together; two lines lie on each other and have
// no inside: the turn is then the one round their end as seen at distance d.
func cornerTurn(e, f Edge, d float64) float64 {
	u, v := e.Tangent(1), f.Tangent(0)
	cross, dot := u.Cross(v), u.Dot(v)
	if dot > 0 || math.Abs(cross) > rightBack {
		return math.Atan2(cross, dot)
	}
	// Seen from the corner e leaves with curvature -k(e) and f with k(f).
	switch back, on := -e.Curvature(), f.Curvature(); {
	case back < on:
		return -math.Pi
	case back > on:
		return math.Pi
	}
	return -math.Copysign(math.Pi, d)
}

// slight is the turn in radians, some 3 degrees, up to which neighbours' meeting
// is found from their ends: less, and their circles as good as touch, so that
// where they cross is lost in the rounding of their centres.
const slight = 0.05

// jointMeeting is where the shifted edges e and f meet near the corner p between
// them.
func jointMeeting(e, f Edge, p Point) (Point, bool) {
	if at, ok := kinkMeeting(e, f); ok {
		return at, true
	}
	return nearestMeeting(e, f, p)
}

// kinkMeeting is the common point of e and f, both continued, that is nearest to
// where one ends and the other begins, if they turn slightly there. It is found
// by Newton's method (elementary), and false where that leads away from the gap
// between them.
func kinkMeeting(e, f Edge) (Point, bool) {
	u, v := e.Tangent(1), f.Tangent(0)
	sine, gap := math.Abs(u.Cross(v)), e.B.Dist(f.A)
	switch {
	case u.Dot(v) <= 0 || sine > slight:
		return Point{}, false
	case gap*sine <= Coincident/10: // the middle is off both by an eighth of that
		return e.B.Lerp(f.A, 0.5), true
	}
	const steps, away = 12, 4 // 2 to 5 steps do where the curves meet; 4 gaps off they bend more than they turn
	a, b := 0.0, 0.0          // mm past the end of e and the beginning of f
	for range steps {
		s, t := 1+a/e.Length(), b/f.Length()
		u, v, r := e.Tangent(s), f.Tangent(t), f.At(t).Sub(e.At(s))
		den := u.Cross(v)
		da, db := r.Cross(v)/den, r.Cross(u)/den
		a, b = a+da, b+db
		if !(math.Abs(a) <= away*gap && math.Abs(b) <= away*gap) {
			return Point{}, false
		}
		if math.Abs(da)+math.Abs(db) <= settled*gap {
			return e.At(1 + a/e.Length()), true
		}
	}
	return Point{}, false
}

// settled is the last step, in gaps, of the search for a meeting: what is still
// wrong is its square, and far less across the curves than along them.
const settled = 1e-4

// nearestMeeting returns the common point of the lines or circles of e and f
// that is nearest to p. Two edges of one line or circle meet where it passes p.
func nearestMeeting(e, f Edge, p Point) (Point, bool) {
	if sameCurve(e, f) {
		return e.At(e.Param(p)), true
	}
	var best Point
	found := false
	for _, m := range carrierMeetings(e, f) {
		if !found || m.at.Dist(p) < best.Dist(p) {
			best, found = m.at, true
		}
	}
	return best, found
}

// sameCurve reports whether e and f run the same way on one line or circle.
func sameCurve(e, f Edge) bool {
	if e.Bulge == 0 || f.Bulge == 0 {
		d := e.B.Sub(e.A)
		u := d.Unit()
		return e.Bulge == f.Bulge && d.Dot(f.B.Sub(f.A)) > 0 &&
			math.Abs(u.Cross(f.A.Sub(e.A))) <= Coincident && math.Abs(u.Cross(f.B.Sub(e.A))) <= Coincident
	}
	return e.Bulge*f.Bulge > 0 && e.Center().Near(f.Center(), Coincident) &&
		math.Abs(e.Radius()-f.Radius()) <= Coincident
}

// carrierMeetings returns the common points of the lines or circles of e and f.
func carrierMeetings(e, f Edge) []candidate {
	if e.Bulge == 0 && f.Bulge == 0 {
		d, g := e.B.Sub(e.A), f.B.Sub(f.A)
		den := d.Cross(g)
		if math.Abs(den) <= rightBack*d.Norm()*g.Norm() {
			return nil
		}
		return []candidate{{e.A.Add(d.Scale(f.A.Sub(e.A).Cross(g) / den)), Cross}}
	}
	p, q := Prepare(e), Prepare(f)
	found, n := p.candidates(&q, Coincident)
	return found[:n]
}

// A parallel is a parallel curve in the making.
type parallel struct {
	closed bool
	far    float64 // how far an edge may be extended
	sides  []side
}

// next is the side after side i, none at the end of an open curve.
func (p *parallel) next(i int) (int, bool) {
	if i < len(p.sides)-1 {
		return i + 1, true
	}
	return 0, p.closed && len(p.sides) > 1
}

// meet joins side i to the next one.
func (p *parallel) meet(i int) {
	j, ok := p.next(i)
	s := &p.sides[i]
	s.t1, s.unmatched, s.bevelled = 1, false, false
	if !ok {
		return
	}
	n := &p.sides[j]
	n.t0 = 0
	if s.B.Near(n.A, Coincident) && s.Tangent(1).Dot(n.Tangent(0)) > 0 {
		return
	}
	corner := s.to
	if s.to != n.from { // there were edges between them
		corner = s.B.Lerp(n.A, 0.5)
	}
	at, ok := jointMeeting(s.Edge, n.Edge, corner)
	if !ok {
		s.unmatched = true
		return
	}
	t1, t0 := s.Param(at), n.Param(at)
	if s.bevelled = (t1-1)*s.Length() > p.far || -t0*n.Length() > p.far; !s.bevelled {
		s.t1, n.t0 = t1, t0
	}
}

// vanished returns the side to take out next, -1 if there is none: of those
// without any length left the one that lost it at the smallest distance,
// taking lengths to change evenly, or lost most; then the shortest of all that
// don't meet their neighbours.
func (p *parallel) vanished() int {
	if p.closed && len(p.sides) == 1 {
		return 0
	}
	best, first, least := -1, math.Inf(1), 0.0
	for i, s := range p.sides {
		if left := s.left(); left <= Coincident {
			at := s.was / (s.was - min(0, left) + Coincident)
			if at < first || (at == first && left < least) {
				best, first, least = i, at, left
			}
		}
	}
	if best >= 0 {
		return best
	}
	shortest := math.Inf(1)
	for i, s := range p.sides {
		j, ok := p.next(i)
		if !ok || !s.unmatched {
			continue
		}
		for _, k := range [2]int{i, j} {
			if left := p.sides[k].left(); left < shortest {
				best, shortest = k, left
			}
		}
	}
	return best
}

// remove takes out side i and joins its neighbours.
func (p *parallel) remove(i int) {
	p.sides = slices.Delete(p.sides, i, i+1)
	n := len(p.sides)
	switch {
	case n == 0:
	case i > 0:
		p.meet(i - 1)
	case p.closed:
		p.meet(n - 1)
	default:
		p.sides[0].t0 = 0
	}
}

// contour is the finished curve.
func (p *parallel) contour() Contour {
	var edges []Edge
	for i, s := range p.sides {
		edges = append(edges, cut(s.Edge, s.t0, s.t1)...)
		if j, ok := p.next(i); ok && s.bevelled {
			edges = append(edges, Line(s.At(s.t1), p.sides[j].At(p.sides[j].t0)))
		}
	}
	return Chain(p.closed, edges...)
}
