package ngc

// Arcs as NISTIR 6556 has them, section 3.5.3: by their centre, given from the
// start, or by their radius. The reader and the writer share this file, so that
// what the writer checks is what a reader makes of its numbers.

import (
	"math"

	"strapwork/pkg/geom"
)

const (
	// arcRuleMM and arcRuleInch are by how much the distances of an arc's two
	// ends from its centre may differ, in mm: 0.002 mm in a program in mm,
	// 0.0002 inch in one in inches (NISTIR 6556, 3.5.3.2).
	arcRuleMM   = 0.002
	arcRuleInch = 0.0002 * mmPerInch

	// ruleSlack is added where a rule is tested, for the rounding of binary
	// numbers: a table of 10 m is held to 2e-12 mm, a program adds up a
	// thousand increments, and a millionth of the finest rule is unfelt.
	ruleSlack = 2e-9

	// samePlace is how near two ends must be to make a full circle, in mm. An
	// end that is written equals the start exactly; one that is reached in
	// increments is out by some 1e-12 (see ruleSlack). The finest number in
	// use, six decimals of an inch, is ten thousand times coarser.
	samePlace = 2e-9
)

func arcRule(u Units) float64 {
	if u == Inches {
		return arcRuleInch
	}
	return arcRuleMM
}

// sweepOf is the angle that an arc from a to b about c travels, more than 0 for
// counter-clockwise; equal ends make a full circle.
func sweepOf(a, b, c geom.Point, ccw bool) float64 {
	turn := 2 * math.Pi
	if !ccw {
		turn = -turn
	}
	if a.Near(b, samePlace) {
		return turn
	}
	u, v := a.Sub(c), b.Sub(c)
	sweep := math.Atan2(u.Cross(v), u.Dot(v))
	if ccw == (sweep > 0) && sweep != 0 {
		return sweep
	}
	return sweep + turn
}

// radiusCenter is the centre and the sweep of an arc given by its radius: up to
// a half circle for r > 0, more for r < 0 (NISTIR 6556, 3.5.3.1). Half a chord
// that is longer than the radius by no more than tol counts as a half circle,
// so that a half circle's rounded ends can be reached; ok is false beyond that,
// and where the ends are equal.
func radiusCenter(a, b geom.Point, r, tol float64, ccw bool) (c geom.Point, sweep float64, ok bool) {
	half, abs := a.Dist(b)/2, math.Abs(r)
	if half <= samePlace/2 || half > abs+tol+ruleSlack {
		return geom.Point{}, 0, false
	}
	sweep = 2 * math.Asin(min(1, half/abs))
	height := math.Sqrt(max(0, (abs-half)*(abs+half)))
	if r < 0 {
		sweep = 2*math.Pi - sweep
		height = -height
	}
	if !ccw {
		sweep, height = -sweep, -height
	}
	return a.Lerp(b, 0.5).Add(b.Sub(a).Left().Unit().Scale(height)), sweep, true
}

// arcEdges cuts an arc into the fewest equal edges of at most a half circle.
// Where the ends' radii differ, the radius goes over from one to the other.
func arcEdges(a, b, c geom.Point, sweep float64) []geom.Edge {
	n := max(1, int(math.Ceil(math.Abs(sweep)/math.Pi-ruleSlack)))
	step := sweep / float64(n)
	bulge := math.Tan(step / 4)
	edges := make([]geom.Edge, 0, n)
	for i, at := 0, a; i < n; i++ {
		next := b
		if i < n-1 {
			next = onArc(a, b, c, sweep, float64(i+1)/float64(n))
		}
		edges = append(edges, geom.Edge{A: at, B: next, Bulge: max(-1, min(1, bulge))})
		at = next
	}
	return edges
}

// onArc is the point at the fraction t of an arc's sweep from a.
func onArc(a, b, c geom.Point, sweep, t float64) geom.Point {
	radius := a.Dist(c)*(1-t) + b.Dist(c)*t
	return c.Add(a.Sub(c).Unit().Turn(sweep * t).Scale(radius))
}
