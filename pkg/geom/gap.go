package geom

import "math"

// Gap is the distance between the nearest points of e and f, 0 where they meet.
func Gap(e, f Edge) float64 {
	p, q := Closest(e, f)
	return p.Dist(q)
}

// Closest are the nearest points of e and f: p on e, q on f; one point where they
// meet.
func Closest(e, f Edge) (p, q Point) {
	if met := Crossings(e, f, 0); len(met) > 0 {
		return met[0].At, met[0].At
	}
	best := math.Inf(1)
	try := func(a, b Point) {
		if d := a.Dist(b); d < best {
			best, p, q = d, a, b
		}
	}
	try(e.A, f.closest(e.A))
	try(e.B, f.closest(e.B))
	try(e.closest(f.A), f.A)
	try(e.closest(f.B), f.B)
	// Between inner points the shortest way is normal to both edges: it lies
	// on the line of centres, or on the normal from a centre to a line. The
	// edge's point nearest to the other's centre is where it leaves.
	if e.Bulge != 0 {
		innerClosest(e, f, try)
	}
	if f.Bulge != 0 {
		innerClosest(f, e, func(b, a Point) { try(a, b) })
	}
	return p, q
}

// closest is the point of e that is nearest to p.
func (e Edge) closest(p Point) Point {
	if e.A != e.B {
		if q, ok := e.foot(p); ok {
			return q
		}
	}
	if p.Dist(e.A) <= p.Dist(e.B) {
		return e.A
	}
	return e.B
}

// innerClosest tries the points of the arc e and of f that face one another along
// lines through the centre of e.
func innerClosest(e, f Edge, try func(onE, onF Point)) {
	c := e.Center()
	if f.Bulge == 0 {
		p := f.closest(c)
		try(e.closest(p), p)
		return
	}
	u := f.Center().Sub(c).Unit()
	for _, s := range [2]float64{1, -1} {
		p := f.Center().Add(u.Scale(s * f.Radius()))
		if t := f.Param(p); t > 0 && t < 1 {
			try(e.closest(p), p)
		}
	}
}
