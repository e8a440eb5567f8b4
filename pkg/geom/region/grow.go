package region

// Growing and shrinking by a disc (Minkowski sum and difference).
//
// Method: every boundary edge is shifted outwards by d, convex corners are
// joined by arcs of radius d about them, and the points about which this raw
// curve winds at least once are the grown region.
//
// Why that is right: about a point x the raw curve winds chi(A n D(x, d))
// times, the Euler characteristic of what region A and the disc of radius d
// about x have in common: its components less its holes. The common part has a
// hole only where a hole of A fits into the disc whole. So holes whose smallest
// enclosing circle has a radius of at most d are filled first (no point of them
// stays outside the grown region), and from then on the winding number counts
// components: it is nowhere negative and is 0 exactly where A is out of reach.
// For that, a concave corner would be joined by an arc run backwards, and an
// arc whose radius turns negative would turn over; both are replaced by their
// chords here, which adds a turn only about points within d of A and saves
// crossings. Shrinking is growing the outside.
//
// (Winding of raw offset curves: Chen and McMains 2005, recalled; the Euler
// characteristic of the common part is the kinematic formula's integrand.)
//
// Where d is large against the features of A the raw curve crosses itself
// quadratically often. Growing by d is growing by d/2 twice; the first half
// swallows the features, so the cost stays near n log n.

import (
	"math"

	"strapwork/pkg/geom"
)

// Grow returns the points within d of r: r and a disc of radius d added in
// Minkowski's sense. d < 0 shrinks. Nothing is grown by a distance that is not
// finite or is beyond Farthest.
func (r Region) Grow(d float64) Region {
	switch {
	case !(math.Abs(d) <= Farthest):
		return Region{}
	case d == 0 || r.Empty():
		return r
	case d < 0:
		return r.Shrink(-d)
	}
	loops := withoutSmall(r.loops, d, -1)
	return grown(loops, d, 0, func(w int32) bool { return w > 0 }, func(half float64) Region {
		return newRegion(loops).Grow(half).Grow(half)
	})
}

// Shrink returns the points of r that are at least d from everything outside
// it. d < 0 grows. Nothing is left by a distance that is not finite or is
// beyond Farthest.
func (r Region) Shrink(d float64) Region {
	switch {
	case !(math.Abs(d) <= Farthest):
		return Region{}
	case d == 0 || r.Empty():
		return r
	case d < 0:
		return r.Grow(-d)
	}
	loops := withoutSmall(r.loops, d, +1)
	outside := make([]geom.Contour, len(loops))
	for i, c := range loops {
		outside[i] = c.Reverse()
	}
	return grown(outside, d, 1, func(w int32) bool { return w <= 0 }, func(half float64) Region {
		return newRegion(loops).Shrink(half).Shrink(half)
	})
}

// Close returns r grown and then shrunk by d: the points that a disc of radius
// d can't reach without touching r. It contains r, fills gaps narrower than 2d
// and rounds inside corners to radius d.
func (r Region) Close(d float64) Region { return r.Grow(d).Shrink(d) }

// Open returns r shrunk and then grown by d: all that a disc of radius d
// reaches when it stays inside r.
func (r Region) Open(d float64) Region { return r.Shrink(d).Grow(d) }

// Stroke returns the points within d of a curve, open or closed, crossing
// itself or not: the band that a round tool of radius d sweeps along it.
func Stroke(c geom.Contour, d float64) Region {
	if c.Len() == 0 || !(d > 0 && d <= Farthest) || !sound(c) {
		return Region{}
	}
	if e := c.Edge(0); c.Len() == 1 && e.Radius() > d+harmless && e.Chord() > geom.Coincident && math.Abs(e.Bulge) <= 1 {
		// The two parallels and the caps of at most half a circle don't meet.
		return newRegion([]geom.Contour{rawOffset(geom.Chain(true, e, e.Reverse()), d)})
	}
	// There and back along the curve is the boundary of a region of no width.
	// A closed curve is taken as an open one whose ends meet: then the part of
	// it within reach of a point is made of intervals and is never a ring.
	there := c.Edges()
	loop := geom.Chain(true, append(there, reversed(there)...)...)
	return grown([]geom.Contour{loop}, d, 0, func(w int32) bool { return w > 0 }, func(half float64) Region {
		return Stroke(c, half).Grow(half)
	})
}

func reversed(edges []geom.Edge) []geom.Edge {
	rs := make([]geom.Edge, len(edges))
	for i, e := range edges {
		rs[len(edges)-1-i] = e.Reverse()
	}
	return rs
}

// tangled is the number of near pairs of edges for each edge of a raw curve,
// beyond those that the source has, above which growing in two halves is
// cheaper than sorting out the crossings. A smooth curve has 1 or 2, a motif's
// bands about 4.
const tangled = 24

// finest is the distance in millimetres under which nothing is done in halves:
// no feature of a drawing is smaller, for the first half to swallow.
const finest = 1e-3

// grown returns the points for which inside accepts base plus the winding
// number of the raw curves at distance d to the right of loops. inHalves does
// the same work in two steps.
func grown(loops []geom.Contour, d float64, base int32, inside func(int32) bool, inHalves func(float64) Region) Region {
	n := 0
	for _, c := range loops {
		n += 2 * c.Len()
	}
	in := make([]input, 0, n)
	for _, c := range loops {
		in = appendContour(in, rawOffset(c, d), 0)
	}
	edges := prepare(in)
	if d > finest && edges.tangled(loops) {
		return inHalves(d / 2)
	}
	made := edges.arrange().trace(func(w winding) bool { return inside(base + w[0]) })
	if d <= finest {
		return newRegion(made)
	}
	// Every piece of what is grown, and every hole of what is shrunk, holds a disc
	// of radius d. A smaller one is a sliver beside a slight concave turn, between a
	// raw edge and another that would coincide but for more than Coincident.
	sign := 1.0 - 2*float64(base)
	return newRegion(withoutSmall(made, d/2, sign))
}

// tangled reports whether so many edges of the raw curve s are near each other
// that it had better be made in halves.
func (s edgeSet) tangled(loops []geom.Contour) bool {
	n := len(s.in)
	limit := tangled*n + 1000
	if n*n/2 < limit || countPairs(s.index, limit) < limit {
		return false
	}
	// Long edges side by side are near at any distance: halves don't help.
	// Each source edge makes two raw ones, each near pair of them four.
	_, source := indexed(loops)
	limit += 4 * countPairs(source, math.MaxInt)
	return countPairs(s.index, limit) == limit
}

// countPairs is the number of pairs of boxes that meet, but at most limit.
func countPairs(x geom.Index, limit int) int {
	n := 0
	x.Pairs(geom.Coincident, func(_, _ int) bool {
		n++
		return n < limit
	})
	return n
}

// rawOffset returns the closed contour c shifted by d to its right, convex
// corners joined by arcs, concave ones by chords.
func rawOffset(c geom.Contour, d float64) geom.Contour {
	edges := make([]geom.Edge, 0, c.Len())
	for i := range c.Len() {
		if e := c.Edge(i); e.A != e.B {
			edges = append(edges, e)
		}
	}
	raw := make([]geom.Edge, 0, 2*len(edges))
	for i, e := range edges {
		f := edges[(i+1)%len(edges)]
		s, t := shiftOut(e, d), shiftOut(f, d)
		if s.A != s.B {
			raw = append(raw, s)
		}
		raw = appendJoin(raw, e, f, s.B, t.A)
	}
	return geom.Chain(true, raw...)
}

// shiftOut is e shifted by d to its right; an arc that turns over is replaced
// by its chord.
func shiftOut(e geom.Edge, d float64) geom.Edge {
	s := e.Shift(-d)
	if e.Bulge < 0 && d > e.Radius() {
		s.Bulge = 0
	}
	return s
}

// appendJoin adds what joins a to b, the ends of e and f shifted to the right,
// where f follows e: an arc about a convex corner, a chord at a concave one.
func appendJoin(raw []geom.Edge, e, f geom.Edge, a, b geom.Point) []geom.Edge {
	turn := turnAt(e, f)
	switch {
	case a == b:
		return raw
	case turn <= 0 || a.Near(b, geom.Coincident):
		return append(raw, geom.Line(a, b))
	case turn <= math.Pi:
		return append(raw, geom.Edge{A: a, B: b, Bulge: math.Tan(turn / 4)})
	}
	// A hair more than half a turn: round the tip in two arcs.
	out := e.Tangent(1).Sub(f.Tangent(0)).Unit()
	tip := e.B.Add(out.Scale(a.Dist(e.B)))
	bulge := math.Tan(turn / 8)
	return append(raw, geom.Edge{A: a, B: tip, Bulge: bulge}, geom.Edge{A: tip, B: b, Bulge: bulge})
}

// cuspSine is the sine of the angle between two edges under which the way on
// says which of them is on the left, not their directions: a corner that is
// out by Coincident turns an edge of a thousand times that length by so much.
const cuspSine = 1e-3

// turnAt is the angle by which the direction of travel turns from the end of e
// to the beginning of f. Where the path turns right back, it is positive if the
// inside is between the two, negative if the outside is, and may by a hair be
// more than half a turn.
func turnAt(e, f geom.Edge) float64 {
	u, v := e.Tangent(1), f.Tangent(0)
	cross, dot := u.Cross(v), u.Dot(v)
	turn := math.Atan2(cross, dot)
	if dot > 0 || math.Abs(cross) > cuspSine {
		return turn
	}
	// Loops don't cross: f keeps to one side of e as long as both last.
	back, on := newSpoke(e.Reverse()), newSpoke(f)
	ring := math.Min(back.chord, on.chord) / 2
	left := normalAngle(on.at(ring)-back.at(ring)) > 0
	switch {
	case left && turn > 0:
		return turn - 2*math.Pi
	case !left && turn <= 0:
		return turn + 2*math.Pi
	}
	return turn
}
