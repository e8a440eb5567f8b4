package region

import (
	"math"

	"strapwork/pkg/geom"
)

// vertices are points that are pairwise further apart than Coincident: a few
// in a list, many also filed in a grid.
type vertices struct {
	pts  []geom.Point
	grid map[gridCell][]int32 // nil while there are few
}

// fewVertices is the number up to which looking through all of them is quicker
// than the grid.
const fewVertices = 64

type gridCell struct{ x, y int64 }

// gridSize is the side of a grid cell in millimetres: so much larger than
// Coincident that a look-up nearly always reads one cell, so small that a cell
// nearly never holds two vertices.
const gridSize = 1000 * geom.Coincident

func cellOf(x, y float64) gridCell {
	return gridCell{int64(math.Floor(x / gridSize)), int64(math.Floor(y / gridSize))}
}

// expect makes room for n vertices.
func (vs *vertices) expect(n int) { vs.pts = make([]geom.Point, 0, n) }

// at returns the vertex nearest to p, a new one if there is none within
// Coincident.
func (vs *vertices) at(p geom.Point) int {
	if v := vs.find(p); v >= 0 {
		return v
	}
	v := len(vs.pts)
	vs.pts = append(vs.pts, p)
	switch {
	case vs.grid != nil:
		vs.file(v)
	case v == fewVertices:
		vs.grid = make(map[gridCell][]int32, cap(vs.pts))
		for i := range vs.pts {
			vs.file(i)
		}
	}
	return v
}

func (vs *vertices) file(v int) {
	c := cellOf(vs.pts[v].X, vs.pts[v].Y)
	vs.grid[c] = append(vs.grid[c], int32(v))
}

// find returns the vertex nearest to p within Coincident, -1 if there is none.
func (vs *vertices) find(p geom.Point) int {
	best, dist := -1, geom.Coincident
	take := func(v int) {
		q := vs.pts[v]
		if math.Abs(q.X-p.X) <= dist {
			if d := q.Dist(p); d <= dist {
				best, dist = v, d
			}
		}
	}
	if vs.grid == nil {
		for v := range vs.pts {
			take(v)
		}
		return best
	}
	lo := cellOf(p.X-geom.Coincident, p.Y-geom.Coincident)
	hi := cellOf(p.X+geom.Coincident, p.Y+geom.Coincident)
	for x := lo.x; x <= hi.x; x++ {
		for y := lo.y; y <= hi.y; y++ {
			for _, v := range vs.grid[gridCell{x, y}] {
				take(int(v))
			}
		}
	}
	return best
}
