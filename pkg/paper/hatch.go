package paper

import (
	"math"

	"strapwork/pkg/geom"
)

// Short slanted lines along what is cut, on the side of the waste: who saws sees
// on which side to leave the line.

// Lengths in mm of the hatching: from line to line along what is cut, how deep
// it is, and where it begins, clear of the line's own width.
const (
	hatchStep = 2.4
	hatchDeep = 2.0
	hatchFrom = 0.45
)

// hatch is the hatching of all of a drawing's lines, clipped: what would meet
// a line that is cut is left out. It doesn't depend on sheets, so that it goes on
// from one to the next.
func (d Drawing) hatch() []geom.Edge {
	index, edges := d.cutEdges()
	var list []geom.Edge
	for _, l := range d.Lines {
		within, beyond := l.Use.waste()
		if !l.Contour.Closed || !within && !beyond {
			continue
		}
		for _, e := range hatchAlong(l.Contour, within) {
			free := true
			index.Search(e.Bounds(), func(i int) bool {
				free = len(geom.Crossings(e, edges[i], geom.Coincident)) == 0
				return free
			})
			if free {
				list = append(list, e)
			}
		}
	}
	return list
}

// cutEdges are the edges of all that is cut.
func (d Drawing) cutEdges() (geom.Index, []geom.Edge) {
	var edges []geom.Edge
	var boxes []geom.Box
	for _, l := range d.Lines {
		if within, beyond := l.Use.waste(); within || beyond {
			for _, e := range l.Contour.Edges() {
				edges = append(edges, e)
				boxes = append(boxes, e.Bounds())
			}
		}
	}
	return geom.NewIndex(boxes), edges
}

// hatchAlong is the hatching along one closed line. In narrow areas it is less
// deep: an area's size over its border is a quarter of a circle's diameter and
// half of a slot's width.
func hatchAlong(c geom.Contour, within bool) []geom.Edge {
	area, length := c.Area(), c.Length()
	deep := hatchDeep
	if within {
		deep = math.Min(deep, math.Abs(area)/length)
	}
	if !(deep > hatchFrom) {
		return nil
	}
	side := 1.0 // to the left, which of a line counter-clockwise is within
	if (area > 0) != within {
		side = -1
	}
	n := max(1, int(length/hatchStep))
	list := make([]geom.Edge, 0, n)
	for k := range n {
		p, along := c.At((float64(k) + 0.5) * length / float64(n))
		in := along.Left().Scale(side)
		slant := in.Add(along) // by 45 degrees, forward
		list = append(list, geom.Line(p.Add(slant.Scale(hatchFrom)), p.Add(slant.Scale(deep))))
	}
	return list
}
