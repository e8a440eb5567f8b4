package dryrun

// The groove's boundary, made ready for very many questions of one kind: does
// this path keep away from it? A coarse grid over the board holds, for each of
// its cells, the few edges that may come near a short path there.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

const (
	// leastCell is the side of the grid's cells in mm, about half a usual bit:
	// smaller ones hold no fewer edges.
	leastCell = 2.0

	// mostCells bounds the grid's memory (4 bytes a cell, and the lists of those that are asked).
	mostCells = 1 << 20
)

// wall is the boundary of the groove.
type wall struct {
	area    region.Region
	allowed region.Region              // the area, and gougeOver more
	parts   map[[2]int32]region.Region // of the allowed area, by patches
	box     geom.Box
	edges   []geom.Prepared
	index   geom.Index
	bit     float64 // its radius
	keep    float64 // how far from the boundary its middle must stay

	cell   float64
	nx, ny int
	cells  []int32   // by cell: 1 + the number of its list, 0 if it is not made
	lists  [][]int32 // the edges that may be near
	found  []int32   // scratch
}

func newWall(area region.Region, bit float64) *wall {
	w := &wall{area: area, allowed: area.Grow(gougeOver), parts: map[[2]int32]region.Region{}, box: area.Bounds(), bit: bit, keep: bit - gougeOver}
	var boxes []geom.Box
	for _, c := range area.Loops() {
		for i := range c.Len() {
			e := geom.Prepare(c.Edge(i))
			w.edges = append(w.edges, e)
			boxes = append(boxes, e.Box)
		}
	}
	w.index = geom.NewIndex(boxes)
	if area.Empty() {
		return w
	}
	size := w.box.Size()
	w.cell = math.Max(leastCell, math.Sqrt(size.X*size.Y/mostCells)*1.25)
	w.nx, w.ny = int(size.X/w.cell)+1, int(size.Y/w.cell)+1
	if w.nx*w.ny > mostCells {
		w.nx, w.ny = 0, 0 // far longer than wide: the index has to do
	}
	w.cells = make([]int32, w.nx*w.ny)
	return w
}

// widest is the smaller side in mm from which the box of a line is looked at in halves.
const widest = 20

// clear reports whether all of a path keeps away from the boundary, on
// whichever side it lies.
func (w *wall) clear(e geom.Edge) bool {
	if w.keep <= geom.Coincident {
		return false
	}
	if s := e.Bounds().Size(); min(s.X, s.Y) > widest && e.Bulge == 0 {
		// The box of a long slanting line holds much that is far from the line.
		return w.clear(e.Part(0, 0.5)) && w.clear(e.Part(0.5, 1))
	}
	half := e.Chord() / 2 // how far from its middle e goes at most, both for a line
	mid := e.A.Lerp(e.B, 0.5)
	if e.Bulge != 0 {
		half, mid = e.Length()/2, e.Mid()
	}
	for _, i := range w.near(e, mid, half) {
		f := &w.edges[i]
		if f.Dist(mid)-half >= w.keep {
			continue
		}
		if gapBelow(e, f, w.keep, half) {
			return false
		}
	}
	return true
}

// gapBelow reports whether e and f come nearer to one another than d.
func gapBelow(e geom.Edge, f *geom.Prepared, d, half float64) bool {
	if f.Dist(e.A) < d || f.Dist(e.B) < d {
		return true
	}
	if e.A == e.B {
		return false
	}
	if e.Bulge == 0 && f.Bulge == 0 && 2*half < d {
		// A line too short to reach across has its nearest point to another
		// line at an end of one of them.
		return e.Dist(f.A) < d || e.Dist(f.B) < d
	}
	return geom.Gap(e, f.Edge) < d
}

// near lists the edges that may come near e, which lies within half of mid.
func (w *wall) near(e geom.Edge, mid geom.Point, half float64) []int32 {
	if half <= w.cell/2 && w.box.Holds(mid) && len(w.cells) > 0 {
		x, y := int((mid.X-w.box.Min.X)/w.cell), int((mid.Y-w.box.Min.Y)/w.cell)
		c := &w.cells[min(y, w.ny-1)*w.nx+min(x, w.nx-1)]
		if *c == 0 {
			w.lists = append(w.lists, w.listed(x, y))
			*c = int32(len(w.lists))
		}
		return w.lists[*c-1]
	}
	w.found = w.found[:0]
	w.index.Search(e.Bounds().Expand(w.bit), func(i int) bool {
		w.found = append(w.found, int32(i))
		return true
	})
	return w.found
}

// listed lists the edges that a path of up to a cell's length, its middle in the
// cell, may come near.
func (w *wall) listed(x, y int) (near []int32) {
	corner := w.box.Min.Add(geom.Pt(float64(x)*w.cell, float64(y)*w.cell))
	box := geom.Box{Min: corner, Max: corner.Add(geom.Pt(w.cell, w.cell))}
	reach := w.bit + w.cell/2
	w.index.Search(box.Expand(reach), func(i int) bool {
		if w.edges[i].Dist(box.Center()) <= reach+w.cell*math.Sqrt2/2 {
			near = append(near, int32(i))
		}
		return true
	})
	return near
}

// nearest is the distance from p to the boundary and the direction from p
// outwards there.
func (w *wall) nearest(p geom.Point) (float64, geom.Point) {
	best, which := math.Inf(1), -1
	w.index.Nearest(p, func(i int) float64 {
		d := w.edges[i].Dist(p)
		if d < best {
			best, which = d, i
		}
		return d
	})
	if which < 0 {
		return best, geom.Point{}
	}
	e := &w.edges[which]
	q, t := e.Nearest(p)
	if best <= geom.Coincident {
		return best, e.Tangent(t).Left().Scale(-1) // the inside is on the left
	}
	u := q.Sub(p).Unit()
	if !w.area.Contains(p) {
		u = u.Scale(-1)
	}
	return best, u
}
