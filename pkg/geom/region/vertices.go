package region

import (
	"math"
	"math/bits"

	"strapwork/pkg/geom"
)

// vertices are points that are pairwise further apart than Coincident: a few
// in a list, many also filed by the cells of a grid, in a table of chains.
type vertices struct {
	pts   []geom.Point
	heads []int32 // by a cell's hash: 1 + the vertex filed last there; a power of two long, empty while there are few
	next  []int32 // by vertex: 1 + the one filed before it in its chain
}

// fewVertices is the number up to which looking through all of them is quicker
// than the grid.
const fewVertices = 48

// gridSize is the side of a grid cell in millimetres: so much larger than
// Coincident that a look-up nearly always reads one cell, so small that a cell
// nearly never holds two vertices.
const gridSize = 1000 * geom.Coincident

// chain is the place in heads of the cell (x, y), which are whole numbers.
func (vs *vertices) chain(x, y float64) uint64 {
	// Fibonacci hashing of both (Knuth, TAOCP 3, 6.4, recalled).
	h := (uint64(int64(x))*0x9e3779b97f4a7c15 ^ uint64(int64(y))) * 0xbf58476d1ce4e5b9
	return h >> 32 & uint64(len(vs.heads)-1)
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
	case v < fewVertices:
	case v >= len(vs.heads):
		vs.refile()
	default:
		vs.file(v)
	}
	return v
}

// refile files all vertices in a larger table.
func (vs *vertices) refile() {
	n := 2 * fewVertices
	for n < 2*max(len(vs.pts), cap(vs.pts)/2) {
		n *= 2
	}
	vs.heads = make([]int32, 1<<bits.Len(uint(n-1)))
	vs.next = make([]int32, 0, max(cap(vs.pts), len(vs.heads)))
	for v := range vs.pts {
		vs.file(v)
	}
}

func (vs *vertices) file(v int) {
	p := vs.pts[v]
	head := &vs.heads[vs.chain(math.Floor(p.X/gridSize), math.Floor(p.Y/gridSize))]
	vs.next = append(vs.next, *head)
	*head = int32(v + 1)
}

// find returns the vertex nearest to p within Coincident, -1 if there is none.
func (vs *vertices) find(p geom.Point) int {
	best, dist := -1, geom.Coincident
	take := func(v int) {
		q := vs.pts[v]
		if math.Abs(q.X-p.X) <= dist {
			if d := q.Dist(p); d < dist || d == dist && v > best {
				best, dist = v, d
			}
		}
	}
	if vs.heads == nil {
		for v := range vs.pts {
			take(v)
		}
		return best
	}
	toX, toY := math.Floor((p.X+geom.Coincident)/gridSize), math.Floor((p.Y+geom.Coincident)/gridSize)
	for x := math.Floor((p.X - geom.Coincident) / gridSize); x <= toX; x++ {
		for y := math.Floor((p.Y - geom.Coincident) / gridSize); y <= toY; y++ {
			for v := vs.heads[vs.chain(x, y)]; v > 0; v = vs.next[v-1] {
				take(int(v - 1))
			}
		}
	}
	return best
}
