package region

// Where points are with respect to a region, and distances.

import (
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"strapwork/pkg/geom"
)

// questions answers questions about places with an index of the boundary,
// which is made once several have been asked.
type questions struct {
	asked atomic.Int32
	once  sync.Once
	edges []geom.Prepared
	index geom.Index
}

// unprepared is the number of questions that are answered from the loops
// before an index pays (measured: making one takes as long as ten to twenty
// answers without it).
const unprepared = 12

// prepared returns the prepared boundary, if it is worth while to have it; nil
// if not.
func (r Region) prepared() *questions {
	q := r.ask
	if q == nil || q.asked.Load() < unprepared && q.asked.Add(1) < unprepared {
		return nil
	}
	q.once.Do(func() { q.edges, q.index = indexed(r.loops) })
	return q
}

// indexed returns the edges of loops and an index of them.
func indexed(loops []geom.Contour) ([]geom.Prepared, geom.Index) {
	var edges []geom.Prepared
	var boxes []geom.Box
	for _, c := range loops {
		for i := range c.Len() {
			e := geom.Prepare(c.Edge(i))
			edges = append(edges, e)
			boxes = append(boxes, e.Box)
		}
	}
	return edges, geom.NewIndex(boxes)
}

// A Side says where a point is with respect to a region.
type Side int

const (
	// Outside is clearly not in the region.
	Outside Side = iota
	// Boundary is within geom.Coincident of the boundary: on neither side.
	Boundary
	// Inside is clearly in the region.
	Inside
)

func (s Side) String() string {
	switch s {
	case Outside:
		return "outside"
	case Boundary:
		return "boundary"
	case Inside:
		return "inside"
	}
	return "unknown"
}

// Locate says whether p is in r, outside it or on its boundary. A point that
// is not finite is outside.
func (r Region) Locate(p geom.Point) Side {
	if !p.Finite() {
		return Outside
	}
	up := 0
	onEdge := false
	count := func(e *geom.Prepared) bool {
		onEdge = e.Box.Dist(p) <= geom.Coincident && e.Dist(p) <= geom.Coincident
		up += upLeft(e, p)
		return !onEdge
	}
	if q := r.prepared(); q != nil {
		ray := geom.Box{Min: geom.Pt(math.Inf(-1), p.Y), Max: p}.Expand(geom.Coincident)
		q.index.Search(ray, func(i int) bool { return count(&q.edges[i]) })
	} else {
		r.eachEdge(count)
	}
	switch {
	case onEdge:
		return Boundary
	case up != 0:
		return Inside
	}
	return Outside
}

// eachEdge calls visit with each edge of the boundary until it returns false.
func (r Region) eachEdge(visit func(e *geom.Prepared) bool) {
	for _, c := range r.loops {
		for i := range c.Len() {
			if e := geom.Prepare(c.Edge(i)); !visit(&e) {
				return
			}
		}
	}
}

// Contains reports whether p is in r or on its boundary.
func (r Region) Contains(p geom.Point) bool { return r.Locate(p) != Outside }

// BoundaryDist is the distance from p to the nearest point of the boundary,
// wherever p lies; infinite if r is empty.
func (r Region) BoundaryDist(p geom.Point) float64 {
	if q := r.prepared(); q != nil {
		return q.index.Nearest(p, func(i int) float64 { return q.edges[i].Dist(p) })
	}
	best := math.Inf(1)
	r.eachEdge(func(e *geom.Prepared) bool {
		if e.Box.Dist(p) < best {
			best = min(best, e.Dist(p))
		}
		return true
	})
	return best
}

// Dist is the distance from p to the nearest point of r: 0 inside, infinite
// if r is empty.
func (r Region) Dist(p geom.Point) float64 {
	if r.Contains(p) {
		return 0
	}
	return r.BoundaryDist(p)
}

// Gap is the distance between the nearest points of r and s: 0 where they
// meet, infinite if either is empty.
func (r Region) Gap(s Region) float64 {
	if r.Empty() || s.Empty() {
		return math.Inf(1)
	}
	best := s.BoundaryDist(r.loops[0].Start())
	edges, index := indexed(s.loops)
	r.eachEdge(func(e *geom.Prepared) bool {
		index.Search(e.Box.Expand(best), func(i int) bool {
			if boxGap(e.Box, edges[i].Box) < best {
				best = min(best, geom.Gap(e.Edge, edges[i].Edge))
			}
			return true
		})
		return best > 0
	})
	if best > 0 && (r.holdsSome(s) || s.holdsSome(r)) {
		return 0
	}
	return best
}

// holdsSome reports whether a piece of s begins inside r.
func (r Region) holdsSome(s Region) bool {
	return slices.ContainsFunc(s.loops, func(c geom.Contour) bool {
		return c.Area() > 0 && r.Contains(c.Start())
	})
}

func boxGap(a, b geom.Box) float64 {
	dx := math.Max(0, math.Max(a.Min.X-b.Max.X, b.Min.X-a.Max.X))
	dy := math.Max(0, math.Max(a.Min.Y-b.Max.Y, b.Min.Y-a.Max.Y))
	return math.Hypot(dx, dy)
}
