package geom

import "math"

// Gap is the distance between the nearest points of e and f, 0 where they meet.
func Gap(e, f Edge) float64 {
	if len(Crossings(e, f, 0)) > 0 {
		return 0
	}
	best := math.Min(math.Min(f.Dist(e.A), f.Dist(e.B)), math.Min(e.Dist(f.A), e.Dist(f.B)))
	// Between inner points the shortest way is normal to both edges: it lies
	// on the line of centres, or on the normal from a centre to a line. The
	// edge's point nearest to the other's centre is where it leaves.
	if e.Bulge != 0 {
		best = math.Min(best, innerGap(e, f))
	}
	if f.Bulge != 0 {
		best = math.Min(best, innerGap(f, e))
	}
	return best
}

// innerGap is the shortest distance from the arc e to f along lines through
// the centre of e.
func innerGap(e, f Edge) float64 {
	best := math.Inf(1)
	try := func(p Point) {
		q, _ := e.Nearest(p)
		best = math.Min(best, q.Dist(p))
	}
	c := e.Center()
	if f.Bulge == 0 {
		p, _ := f.Nearest(c)
		try(p)
		return best
	}
	u := f.Center().Sub(c).Unit()
	for _, s := range [2]float64{1, -1} {
		p := f.Center().Add(u.Scale(s * f.Radius()))
		if t := f.Param(p); t > 0 && t < 1 {
			try(p)
		}
	}
	return best
}
