package trace

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
)

const (
	// besideReach is how far apart in mm stretches are looked for that run beside one
	// another: more than the largest riders and the webs beside them, by common practice.
	besideReach = 200
	// besidePairs is how many pairs of lines and arcs are looked at at most: a second's work.
	besidePairs = 1_000_000
	// square is the sine of the angle by which the shortest way between two stretches may be
	// out of square to them where they run beside one another.
	square = 0.05
	// evenly is how far from 0, in shares, what says whether two stretches part is where
	// they are parallel or concentric.
	evenly = 1e-4
)

// A side is an edge of a strand, and how its neighbours bend.
type side struct {
	geom.Edge
	strand, at    int
	next          [2]int  // edges of the strand that meet it
	before, after float64 // curvature of its neighbours, to the left
}

// beside finds where two strands, or two stretches of one, run nearest to one another
// without meeting.
func (r *Report) beside(m motif.Motif) {
	var sides []side
	var boxes []geom.Box
	for k, s := range m.Strands {
		edges := s.Contour.Edges()
		n := len(edges)
		for i, e := range edges {
			x := side{Edge: e, strand: k, at: i, next: [2]int{i - 1, i + 1}, before: e.Curvature(), after: e.Curvature()}
			if s.Contour.Closed || i > 0 {
				x.before = edges[(i+n-1)%n].Curvature()
			}
			if s.Contour.Closed || i+1 < n {
				x.after = edges[(i+1)%n].Curvature()
			}
			if s.Contour.Closed {
				x.next = [2]int{(i + n - 1) % n, (i + 1) % n}
			}
			sides, boxes = append(sides, x), append(boxes, e.Bounds())
		}
	}
	index := geom.NewIndex(boxes)
	looked := 0
	for reach := 1.0; reach <= 2*besideReach; reach *= 2 {
		best := [3]float64{reach}
		index.Pairs(reach, func(i, j int) bool {
			looked++
			p, q, ok := sides[i].beside(sides[j])
			if !ok {
				return looked < besidePairs
			}
			// Of equals the first, whatever the order in which they are found.
			if d := [3]float64{roundTo(p.Dist(q), 1e5), float64(i), float64(j)}; less(d, best) {
				best, r.Beside, r.BesideAt = d, p.Dist(q), p.Lerp(q, 0.5)
			}
			return looked < besidePairs
		})
		switch {
		case looked >= besidePairs: // which of them were seen is chance
			r.Beside, r.BesideAt = 0, geom.Point{}
			return
		case r.Beside > 0:
			return
		}
	}
}

func less(a, b [3]float64) bool {
	for i := range a {
		if a[i] != b[i] {
			return a[i] < b[i]
		}
	}
	return false
}

// beside are the nearest places of two edges, if the edges run beside one another there:
// the way between them is square to both, and they are no nearer a little farther on.
func (e side) beside(f side) (p, q geom.Point, ok bool) {
	if e.strand == f.strand && (f.at == e.next[0] || f.at == e.next[1]) {
		return p, q, false
	}
	p, q = geom.Closest(e.Edge, f.Edge)
	d := p.Dist(q)
	if d <= motif.Joint {
		return p, q, false
	}
	way := q.Sub(p).Unit()
	u, v := e.Param(p), f.Param(q)
	t, s := e.Tangent(u), f.Tangent(v)
	if math.Abs(t.Dot(way)) > square || math.Abs(s.Dot(way)) > square {
		return p, q, false
	}
	// Curvatures towards one another. Going x along one and y along the other, the distance
	// grows by ((x-y)²/d - a x² - b y²) / 2: never less than 0 if the form is not negative.
	sideE, sideF := math.Copysign(1, t.Left().Dot(way)), -math.Copysign(1, s.Left().Dot(way))
	a, b := sideE*e.Curvature(), sideF*f.Curvature()
	part := func(a, b float64) float64 { return (float64(a*b)*d - a - b) * d }
	if x := part(a, b); math.Abs(x) <= evenly {
		// Opposite places of one circle are no two stretches.
		return p, q, a <= 0 || b <= 0
	}
	a, b = e.bend(u, a, sideE), f.bend(v, b, sideF)
	return p, q, part(a, b) >= -evenly && a*d <= 1 && b*d <= 1
}

// bend is the larger curvature to one side at a fraction of an edge: where it ends, its
// neighbour's counts too.
func (e side) bend(at, own, left float64) float64 {
	near := noLength / e.Length()
	switch {
	case at <= near:
		return max(own, left*e.before)
	case at >= 1-near:
		return max(own, left*e.after)
	}
	return own
}
