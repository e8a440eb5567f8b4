package region

import (
	"math"

	"strapwork/pkg/geom"
)

// A Border answers distances to the boundary of a region for many points: it
// looks only at the edges near each.
type Border struct {
	edges []geom.Edge
	index geom.Index
}

// Border indexes the boundary of r.
func (r Region) Border() Border {
	var b Border
	var boxes []geom.Box
	for _, c := range r.loops {
		for i := range c.Len() {
			e := c.Edge(i)
			b.edges = append(b.edges, e)
			boxes = append(boxes, e.Bounds())
		}
	}
	b.index = geom.NewIndex(boxes)
	return b
}

// firstLook is the distance in mm from a point at which edges are looked for
// first; it is widened until some are found.
const firstLook = 1.0

// Dist is the distance from p to the nearest point of the boundary, whichever
// side p is on; infinite if there is no boundary.
func (b Border) Dist(p geom.Point) float64 {
	if len(b.edges) == 0 {
		return math.Inf(1)
	}
	for look := firstLook; ; look *= 4 {
		best := math.Inf(1)
		b.index.Search(geom.Box{Min: p, Max: p}.Expand(look), func(i int) bool {
			best = math.Min(best, b.edges[i].Dist(p))
			return true
		})
		// What is nearer than the look was found; a look this wide saw all.
		if best <= look || math.IsInf(look, 1) || math.IsNaN(best) {
			return best
		}
	}
}
