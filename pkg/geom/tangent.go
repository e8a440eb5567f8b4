package geom

// Circles of a known radius that touch two lines or circles: the last step but one of
// Apollonius's problem. The centres lie on curves beside each of the two, at the
// radius's distance, which are lines or circles again: up to eight meet.

import "math"

// A Tangency is a circle that touches the lines or circles of two edges.
type Tangency struct {
	Center Point
	E, F   Point // where it touches each
}

// A beside is a curve of centres of circles that touch an edge.
type beside struct {
	line   Edge // of a line: itself
	center Point
	radius float64 // of a circle; 0 for a line
	touch  func(center Point) Point
}

// besides are the curves on which circles of a radius that touch e have their centres.
func besides(e Edge, radius float64) (all []beside) {
	if e.Bulge == 0 {
		u := e.B.Sub(e.A).Unit()
		for _, side := range [2]float64{radius, -radius} {
			by := u.Left().Scale(side)
			all = append(all, beside{
				line:  Line(e.A.Add(by), e.B.Add(by)),
				touch: func(c Point) Point { return e.A.Add(u.Scale(c.Sub(e.A).Dot(u))) },
			})
		}
		return all
	}
	c, r := e.Center(), e.Radius()
	out := func(by float64) func(Point) Point {
		return func(at Point) Point { return c.Add(at.Sub(c).Unit().Scale(by)) }
	}
	all = append(all, beside{center: c, radius: r + radius, touch: out(r)})
	switch inner := r - radius; {
	case inner > Coincident:
		all = append(all, beside{center: c, radius: inner, touch: out(r)})
	case inner < -Coincident: // it goes round e
		all = append(all, beside{center: c, radius: -inner, touch: out(-r)})
	}
	return all
}

// Tangents are the circles of a radius that touch the lines or circles of e and f, not
// only the edges themselves: up to eight. Where only a circle of
// another size would touch both, by slack or less, it is that one, off by as much.
// Between parallel lines, and between concentric circles, there are none or any number,
// and none is returned.
func Tangents(e, f Edge, radius, slack float64) (all []Tangency) {
	for _, a := range besides(e, radius) {
		for _, b := range besides(f, radius) {
			found, n := centers(a, b, Coincident/100)
			if n == 0 {
				found, n = centers(a, b, slack)
			}
			for _, c := range found[:n] {
				all = append(all, Tangency{Center: c.at, E: a.touch(c.at), F: b.touch(c.at)})
			}
		}
	}
	return all
}

// centers are where two curves of centres meet.
func centers(a, b beside, slack float64) (found [2]candidate, n int) {
	switch {
	case a.radius == 0 && b.radius == 0:
		d, g := a.line.B.Sub(a.line.A), b.line.B.Sub(b.line.A)
		den := d.Cross(g)
		if math.Abs(den) <= parallelSine*d.Norm()*g.Norm() {
			return found, 0
		}
		found[0] = candidate{a.line.A.Add(d.Scale(b.line.A.Sub(a.line.A).Cross(g) / den)), Cross}
		return found, 1
	case a.radius == 0:
		return lineCircle(a.line, b.center, b.radius, slack)
	case b.radius == 0:
		return lineCircle(b.line, a.center, a.radius, slack)
	case a.center.Near(b.center, Coincident):
		return found, 0
	}
	return circleCircle(a.center, a.radius, b.center, b.radius, slack)
}

// parallelSine is the sine of an angle under which two lines have no place in common
// that numbers could show.
const parallelSine = 1e-9

// TangentAt are the radii of the circles that touch e's line or circle at p, which is on
// it, and that of f too: where a circle of growing radius, that touches both, comes to
// an end of e. With C = p + s r n, n the normal at p, the distance of C from f gives an
// equation that is linear in r.
func TangentAt(e Edge, p Point, f Edge) (radii []float64) {
	n := e.Tangent(e.Param(p)).Left()
	add := func(r float64) {
		if r > 0 && !math.IsInf(r, 0) {
			radii = append(radii, r)
		}
	}
	for _, s := range [2]float64{1, -1} {
		if f.Bulge == 0 {
			// |h + s r m| = r
			m := f.B.Sub(f.A).Unit().Left()
			h, m1 := p.Sub(f.A).Dot(m), s*n.Dot(m)
			add(h / (1 - m1))
			add(-h / (1 + m1))
			continue
		}
		// |d + s r n| = R + r, or |R - r|: d.d + 2 s r d.n = R R +- 2 R r
		d, R := p.Sub(f.Center()), f.Radius()
		dn := s * d.Dot(n)
		add((R*R - d.Dot(d)) / (2 * (dn - R)))
		add((R*R - d.Dot(d)) / (2 * (dn + R)))
	}
	return radii
}

// TangentBetween are the radii of the circles that only just fit between the lines or
// circles of e and f, or only just hold both: where two tangent circles become one.
func TangentBetween(e, f Edge) (radii []float64) {
	add := func(r float64) {
		if r > 0 {
			radii = append(radii, r)
		}
	}
	switch {
	case e.Bulge == 0 && f.Bulge == 0:
		return nil
	case e.Bulge == 0:
		return TangentBetween(f, e)
	}
	R := e.Radius()
	apart, other := 0.0, 0.0
	if f.Bulge == 0 {
		u := f.B.Sub(f.A).Unit()
		apart = math.Abs(e.Center().Sub(f.A).Cross(u))
	} else {
		apart, other = e.Center().Dist(f.Center()), f.Radius()
	}
	for _, s := range [2]float64{1, -1} {
		add((apart + s*R + other) / 2)
		add((apart + s*R - other) / 2)
		add((s*R - apart + other) / 2)
		add((s*R - apart - other) / 2)
	}
	return radii
}
