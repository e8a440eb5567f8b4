package geom

import "math"

// An Edge is a straight line or a circular arc from A to B. Bulge is the
// tangent of a quarter of the arc's included angle, positive for an arc that
// turns counter-clockwise on its way from A to B and 0 for a straight line
// (DXF Reference, LWPOLYLINE, group 42). |Bulge| is at most 1, a half circle;
// longer arcs are made of several edges (see Arc).
type Edge struct {
	A, B  Point
	Bulge float64
}

// Line is the straight edge from a to b.
func Line(a, b Point) Edge { return Edge{A: a, B: b} }

// IsLine reports whether e is straight.
func (e Edge) IsLine() bool { return e.Bulge == 0 }

// Chord is the straight distance from A to B.
func (e Edge) Chord() float64 { return e.A.Dist(e.B) }

// Sweep is the angle that the direction of travel turns by along e, positive
// counter-clockwise: 4 atan(bulge).
func (e Edge) Sweep() float64 { return 4 * math.Atan(e.Bulge) }

// Radius is the radius of an arc, infinite for a line:
// chord (1 + bulge^2) / (4 |bulge|).
func (e Edge) Radius() float64 {
	if e.Bulge == 0 {
		return math.Inf(1)
	}
	return e.Chord() * (1 + e.Bulge*e.Bulge) / (4 * math.Abs(e.Bulge))
}

// Center is the centre of an arc. For a line, which has none, it is the
// middle of the line.
func (e Edge) Center() Point {
	mid := e.A.Lerp(e.B, 0.5)
	if e.Bulge == 0 {
		return mid
	}
	// The centre is on the chord's perpendicular bisector, to the left for a
	// counter-clockwise arc, at chord (1 - bulge^2) / (4 bulge).
	h := (1 - e.Bulge*e.Bulge) / (4 * e.Bulge)
	return mid.Add(e.B.Sub(e.A).Left().Scale(h))
}

// Length is the distance travelled along e.
func (e Edge) Length() float64 {
	if e.Bulge == 0 {
		return e.Chord()
	}
	return e.Radius() * math.Abs(e.Sweep())
}

// Reverse returns e travelled from B to A.
func (e Edge) Reverse() Edge { return Edge{e.B, e.A, -e.Bulge} }

// At returns the point at the fraction t of e's length; t outside [0, 1]
// continues on the line or circle.
func (e Edge) At(t float64) Point {
	switch {
	case t == 0:
		return e.A
	case t == 1:
		return e.B
	case e.Bulge == 0:
		return e.A.Lerp(e.B, t)
	}
	// The chord from A to the point makes the angle sweep(1-t)/2 with the
	// chord AB (inscribed angles); this form has no centre in it and so stays
	// accurate for nearly straight arcs.
	half := e.Sweep() / 2
	sin := math.Sin(half)
	return e.A.Add(e.B.Sub(e.A).Turn(-half * (1 - t)).Scale(math.Sin(half*t) / sin))
}

// Mid is the point half-way along e: off the middle of the chord by the
// arc's height, bulge times half the chord, to the right where e turns left.
func (e Edge) Mid() Point {
	return e.A.Lerp(e.B, 0.5).Sub(e.B.Sub(e.A).Left().Scale(e.Bulge / 2))
}

// onArcSide reports whether a point of the arc's circle lies on the arc, not
// beyond its ends: whether it is on the arc's side of the chord.
func (e Edge) onArcSide(p Point) bool {
	return e.B.Sub(e.A).Cross(p.Sub(e.A))*e.Bulge < 0
}

// Tangent is the unit direction of travel at the fraction t of e's length.
func (e Edge) Tangent(t float64) Point {
	d := e.B.Sub(e.A).Unit()
	b := e.Bulge
	switch {
	case b == 0:
		return d
	case t == 0 || t == 1:
		// Half the sweep is 2 atan b.
		cos, sin := (1-b*b)/(1+b*b), 2*b/(1+b*b)
		if t == 0 {
			sin = -sin
		}
		return Point{cos*d.X - sin*d.Y, sin*d.X + cos*d.Y}
	}
	return d.Turn(e.Sweep() * (t - 0.5))
}

// Curvature is 1/radius, positive where e turns left, 0 for a line.
func (e Edge) Curvature() float64 {
	if e.Bulge == 0 {
		return 0
	}
	return 4 * e.Bulge / ((1 + e.Bulge*e.Bulge) * e.Chord())
}

// Part returns the stretch of e from the fraction t0 to the fraction t1 of
// its length. t0 > t1 gives the stretch reversed; fractions outside [0, 1]
// extend e along its line or circle.
func (e Edge) Part(t0, t1 float64) Edge {
	p := Edge{A: e.At(t0), B: e.At(t1)}
	if e.Bulge != 0 {
		p.Bulge = math.Tan(math.Atan(e.Bulge) * (t1 - t0))
		if b := math.Abs(p.Bulge); b > 1 && b < 1+halfCircle {
			p.Bulge = math.Copysign(1, p.Bulge)
		}
	}
	return p
}

// halfCircle is the excess of a bulge over 1 that is nothing but the rounding
// of a half circle's ends, some 1e-16 of a table's size over its chord.
const halfCircle = 1e-9

// Param is the fraction of e's length at which its line or circle comes
// nearest to p, not limited to [0, 1]. For an arc the fraction is chosen
// within half a turn of the arc's middle.
func (e Edge) Param(p Point) float64 {
	d := e.B.Sub(e.A)
	if e.Bulge == 0 {
		n := d.Dot(d)
		if n == 0 {
			return 0
		}
		return p.Sub(e.A).Dot(d) / n
	}
	return e.arcParam(e.Center(), p)
}

// arcParam is Param for an arc about c.
func (e Edge) arcParam(c, p Point) float64 {
	if math.Abs(e.Bulge) < flat {
		return e.flatParam(p)
	}
	m := e.Mid().Sub(c)
	v := p.Sub(c)
	return 0.5 + math.Atan2(m.Cross(v), m.Dot(v))/e.Sweep()
}

// Nearest returns the point of e that is nearest to p, and the fraction of
// e's length at which it lies.
func (e Edge) Nearest(p Point) (Point, float64) {
	if e.A == e.B {
		return e.A, 0
	}
	if q, ok := e.foot(p); ok {
		return q, math.Max(0, math.Min(1, e.Param(q)))
	}
	if p.Dist(e.A) <= p.Dist(e.B) {
		return e.A, 0
	}
	return e.B, 1
}

// foot is the inner point of e at which the normal goes through p, if there
// is one. Every point of an arc is as near to its centre: its middle is taken.
func (e Edge) foot(p Point) (Point, bool) {
	if e.Bulge == 0 {
		t := e.Param(p)
		return e.A.Lerp(e.B, t), t > 0 && t < 1
	}
	return e.arcFoot(e.Center(), e.Radius(), p)
}

// flat is the bulge under which an arc is taken by its chord: its centre lies so far away
// that what is measured from there is no longer known to a nanometre.
const flat = 1e-6

// flatParam is Param for an arc of nearly no bulge: where the normal of its chord goes
// through p, and once better.
func (e Edge) flatParam(p Point) float64 {
	d := e.B.Sub(e.A)
	length := d.Norm()
	if length == 0 {
		return 0
	}
	t := p.Sub(e.A).Dot(d) / (length * length)
	return t + p.Sub(e.At(t)).Dot(e.Tangent(t))/length
}

// arcFoot is foot for an arc about c of radius r.
func (e Edge) arcFoot(c Point, r float64, p Point) (Point, bool) {
	if math.Abs(e.Bulge) < flat {
		t := e.flatParam(p)
		return e.At(t), t > 0 && t < 1
	}
	v := p.Sub(c)
	n := v.Norm()
	if n == 0 {
		return e.Mid(), true
	}
	q := c.Add(v.Scale(r / n))
	return q, e.onArcSide(q)
}

// Dist is the distance from p to the nearest point of e.
func (e Edge) Dist(p Point) float64 {
	if q, ok := e.foot(p); ok && e.A != e.B {
		return p.Dist(q)
	}
	return math.Min(p.Dist(e.A), p.Dist(e.B))
}

// Bounds is the smallest box that holds e, exact for arcs.
func (e Edge) Bounds() Box {
	if e.Bulge == 0 {
		return e.endBox()
	}
	return e.arcBox(e.Center(), e.Radius())
}

// endBox is the box of e's two ends.
func (e Edge) endBox() Box {
	return Box{
		Point{min(e.A.X, e.B.X), min(e.A.Y, e.B.Y)},
		Point{max(e.A.X, e.B.X), max(e.A.Y, e.B.Y)},
	}
}

// arcBox is the box of an arc with the given centre and radius.
func (e Edge) arcBox(c Point, r float64) Box {
	b := e.endBox()
	for _, d := range [4]Point{{1, 0}, {0, 1}, {-1, 0}, {0, -1}} {
		p := Point{c.X + r*d.X, c.Y + r*d.Y}
		if e.onArcSide(p) {
			b = b.Include(p)
		}
	}
	return b
}

// areaTerm is e's share of the area to its left, such that the shares of a
// closed contour add up to its signed area: the trapezium to the origin plus
// the segment between chord and arc.
func (e Edge) areaTerm() float64 {
	a := e.A.Cross(e.B) / 2
	if e.Bulge == 0 {
		return a
	}
	r, s := e.Radius(), e.Sweep()
	if math.Abs(s) < 1e-3 {
		// s - sin s cancels; the first two terms of its series are exact here
		// (the next is s^7/5040, below 1e-24).
		return a + r*r/2*(s*s*s/6-s*s*s*s*s/120)
	}
	return a + r*r/2*(s-math.Sin(s))
}

// Shift returns the parallel edge at distance d to the left of travel (to the
// right for d < 0): same line direction, or same centre with the radius
// changed by d. A radius that would turn negative turns the arc over: the
// normal's end still moves on the circle, on the centre's far side, and the
// edge keeps its turning sense. A radius within Coincident of 0 gives an edge
// whose ends are both the centre.
func (e Edge) Shift(d float64) Edge {
	na := e.Tangent(0).Left().Scale(d)
	nb := e.Tangent(1).Left().Scale(d)
	if e.Bulge != 0 {
		r := e.Radius() - math.Copysign(d, d*e.Bulge)
		if math.Abs(r) < Coincident {
			c := e.Center()
			return Edge{A: c, B: c}
		}
	}
	return Edge{e.A.Add(na), e.B.Add(nb), e.Bulge}
}

// Arc returns the arc about center that starts at angle start and sweeps
// counter-clockwise for sweep > 0, as the fewest edges of equal sweep that are
// at most a half circle each. radius must be positive and sweep not 0.
func Arc(center Point, radius, start, sweep float64) []Edge {
	n := int(math.Ceil(math.Abs(sweep)/math.Pi - 1e-9))
	if n < 1 {
		n = 1
	}
	bulge := math.Tan(sweep / float64(n) / 4)
	edges := make([]Edge, n)
	a := center.Add(Polar(radius, start))
	first := a
	for i := range edges {
		b := center.Add(Polar(radius, start+sweep*float64(i+1)/float64(n)))
		if i == n-1 && math.Abs(math.Abs(sweep)-2*math.Pi) < 1e-12 {
			b = first
		}
		edges[i] = Edge{a, b, bulge}
		a = b
	}
	return edges
}

// ArcThrough returns the arc from a to b about center, the short way when ccw
// says so: counter-clockwise from a to b if ccw, else clockwise. The sweep is
// taken in (0, 2 pi); center is trusted to be equally far from a and b, and
// the sweep to be at most a half circle (more is cut to a half circle's bulge
// of 1; use Arc for longer ones).
func ArcThrough(a, b, center Point, ccw bool) Edge {
	va, vb := a.Sub(center), b.Sub(center)
	s := math.Atan2(va.Cross(vb), va.Dot(vb))
	if ccw && s < 0 {
		s += 2 * math.Pi
	}
	if !ccw && s > 0 {
		s -= 2 * math.Pi
	}
	bulge := math.Tan(s / 4)
	return Edge{a, b, math.Max(-1, math.Min(1, bulge))}
}
