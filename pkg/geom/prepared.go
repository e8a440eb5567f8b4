package geom

import "math"

// A Prepared edge knows its box, centre and radius, for those who ask it about
// many others.
type Prepared struct {
	Edge
	Box    Box
	center Point
	radius float64
}

// flattest is the height in millimetres under which an arc is straight: that
// of coordinates' rounding on a table top, ten times over. Which side of its
// chord a point of such an arc is on can't be known.
const flattest = 1e-11

// Prepare works out what a Prepared edge knows. An arc that rises less over
// its chord than coordinates can show becomes a straight edge.
func Prepare(e Edge) Prepared {
	if e.Bulge != 0 && math.Abs(e.Bulge)*e.Chord() < 2*flattest {
		e.Bulge = 0
	}
	if e.Bulge == 0 {
		return Prepared{Edge: e, Box: e.endBox()}
	}
	p := Prepared{Edge: e, center: e.Center(), radius: e.Radius()}
	p.Box = e.arcBox(p.center, p.radius)
	return p
}

// Center is as for Edge.
func (e *Prepared) Center() Point {
	if e.Bulge == 0 {
		return e.Edge.Center()
	}
	return e.center
}

// Radius is as for Edge.
func (e *Prepared) Radius() float64 {
	if e.Bulge == 0 {
		return math.Inf(1)
	}
	return e.radius
}

// Bounds is as for Edge.
func (e *Prepared) Bounds() Box { return e.Box }

// Param is as for Edge.
func (e *Prepared) Param(p Point) float64 {
	if e.Bulge == 0 {
		return e.Edge.Param(p)
	}
	return e.arcParam(e.center, p)
}

// OffCarrier is the distance from p to the whole line or circle of e.
func (e *Prepared) OffCarrier(p Point) float64 {
	if e.Bulge != 0 {
		return math.Abs(p.Dist(e.center) - e.radius)
	}
	if e.A == e.B {
		return p.Dist(e.A)
	}
	return math.Abs(e.B.Sub(e.A).Unit().Cross(p.Sub(e.A)))
}

// Dist is as for Edge.
func (e *Prepared) Dist(p Point) float64 {
	if e.A != e.B {
		if q, ok := e.foot(p); ok {
			return p.Dist(q)
		}
	}
	return min(p.Dist(e.A), p.Dist(e.B))
}

// foot is as for Edge.
func (e *Prepared) foot(p Point) (Point, bool) {
	if e.Bulge == 0 {
		return e.Edge.foot(p)
	}
	return e.arcFoot(e.center, e.radius, p)
}

// Passes reports whether e comes within tol of p, and at which fraction of its
// length it is nearest.
func (e *Prepared) Passes(p Point, tol float64) (float64, bool) {
	switch {
	case p == e.A:
		return 0, true
	case p == e.B:
		return 1, true
	case !e.Box.Expand(tol).Holds(p):
		return 0, false
	}
	if e.A != e.B {
		if q, ok := e.foot(p); ok {
			if !p.Near(q, tol) {
				return 0, false
			}
			return max(0, min(1, e.Param(q))), true
		}
	}
	da, db := p.Dist(e.A), p.Dist(e.B)
	if da <= db {
		return 0, da <= tol
	}
	return 1, db <= tol
}
