package region

// The smallest enclosing circle of a loop of lines and arcs.
//
// Method: Welzl's for points (1991, recalled), with the curve's points added
// as they are needed: the circle of the vertices is found; the curve's point
// furthest from its centre is added to the points; and so on until no point
// of the curve lies outside. Each circle is that of a part of the curve, so
// its radius is a lower bound.

import (
	"math"

	"strapwork/pkg/geom"
)

// withoutSmall leaves out the loops whose area has the given sign and that fit
// into a circle of radius d, with all that lies inside them.
func withoutSmall(loops []geom.Contour, d float64, sign float64) []geom.Contour {
	var small []geom.Contour
	for _, c := range loops {
		if c.Area()*sign > 0 && fitsCircle(c, d+geom.Coincident) {
			small = append(small, c)
		}
	}
	if small == nil {
		return loops
	}
	boxes := make([]geom.Box, len(small))
	for i, c := range small {
		boxes[i] = c.Bounds()
	}
	index := geom.NewIndex(boxes)
	kept := make([]geom.Contour, 0, len(loops))
	for _, c := range loops {
		if !insideSome(c, small, boxes, index) {
			kept = append(kept, c)
		}
	}
	return kept
}

// insideSome reports whether c is one of the loops, whose boxes are given, or
// lies inside one.
func insideSome(c geom.Contour, loops []geom.Contour, boxes []geom.Box, index geom.Index) bool {
	box := c.Bounds()
	inside := false
	index.Search(box, func(i int) bool {
		s, b := loops[i], boxes[i]
		inside = &s.Vertices[0] == &c.Vertices[0] ||
			(b.Holds(box.Min) && b.Holds(box.Max) && encloses(filled(s), c))
		return !inside
	})
	return inside
}

// filled is the loop run counter-clockwise.
func filled(c geom.Contour) geom.Contour {
	if c.Area() < 0 {
		return c.Reverse()
	}
	return c
}

// fitsCircle reports whether some circle of radius d goes round all of c.
func fitsCircle(c geom.Contour, d float64) bool {
	if s := c.Bounds().Size(); s.X > 2*d || s.Y > 2*d {
		return false
	}
	pts := make([]geom.Point, 0, len(c.Vertices)+8)
	for _, v := range c.Vertices {
		pts = append(pts, v.Point)
	}
	// Each step adds the point that sticks out most; the bound is only for
	// rounding, since five steps settle every loop tried.
	for range 100 {
		center, r := smallestCircle(pts)
		if r > d {
			return false
		}
		far, dist := furthest(c, center)
		if dist <= d {
			return true
		}
		pts = append(pts, far)
	}
	return false
}

// furthest returns the point of c that is furthest from p, and its distance.
func furthest(c geom.Contour, p geom.Point) (geom.Point, float64) {
	var far geom.Point
	best := -1.0
	take := func(q geom.Point) {
		if d := p.Dist(q); d > best {
			far, best = q, d
		}
	}
	for i := range c.Len() {
		e := c.Edge(i)
		take(e.A)
		if e.Bulge != 0 {
			o := e.Center()
			q := o.Add(o.Sub(p).Unit().Scale(e.Radius()))
			if t := e.Param(q); t > 0 && t < 1 {
				take(q)
			}
		}
	}
	return far, best
}

// smallestCircle is the smallest circle round pts (Welzl's method in its
// iterative form). The order of pts is not shuffled: the worst case is cubic,
// but loops come in boundary order, for which it is near linear.
func smallestCircle(pts []geom.Point) (geom.Point, float64) {
	c, r := pts[0], 0.0
	out := func(p geom.Point) bool { return p.Dist(c) > r+1e-12*(1+r) }
	for i, p := range pts {
		if !out(p) {
			continue
		}
		c, r = p, 0
		for j, q := range pts[:i] {
			if !out(q) {
				continue
			}
			c, r = p.Lerp(q, 0.5), p.Dist(q)/2
			for _, s := range pts[:j] {
				if out(s) {
					c, r = circumcircle(p, q, s)
				}
			}
		}
	}
	return c, r
}

// circumcircle is the circle through three points; for three in line, the
// circle about the longest distance between them.
func circumcircle(a, b, c geom.Point) (geom.Point, float64) {
	u, v := b.Sub(a), c.Sub(a)
	den := 2 * u.Cross(v)
	if math.Abs(den) < 1e-14*u.Norm()*v.Norm() {
		p, q := a, b
		if a.Dist(c) > p.Dist(q) {
			q = c
		}
		if b.Dist(c) > p.Dist(q) {
			p, q = b, c
		}
		return p.Lerp(q, 0.5), p.Dist(q) / 2
	}
	uu, vv := u.Dot(u), v.Dot(v)
	o := geom.Pt((v.Y*uu-u.Y*vv)/den, (u.X*vv-v.X*uu)/den)
	return a.Add(o), o.Norm()
}
