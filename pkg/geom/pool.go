package geom

import "github.com/tidwall/rtree"

// A Pool holds boxes that come and go, and finds those nearest to a point or
// meeting a given box among what is there. Its zero value holds none.
type Pool struct {
	boxes []Box
	tree  rtree.RTreeG[int]
}

// Add puts boxes in. The first one ever put in has the number 0, and so on.
func (x *Pool) Add(boxes ...Box) {
	for _, b := range boxes {
		x.tree.Insert([2]float64{b.Min.X, b.Min.Y}, [2]float64{b.Max.X, b.Max.Y}, len(x.boxes))
		x.boxes = append(x.boxes, b)
	}
}

// Remove takes the i-th box out.
func (x *Pool) Remove(i int) {
	b := x.boxes[i]
	x.tree.Delete([2]float64{b.Min.X, b.Min.Y}, [2]float64{b.Max.X, b.Max.Y}, i)
}

// Nearby calls visit with the number of each box and its distance from p, the
// nearest first and those that are as far in no particular order, until visit
// returns false.
func (x *Pool) Nearby(p Point, visit func(i int, dist float64) bool) {
	x.tree.Nearby(func(lo, hi [2]float64, _ int, _ bool) float64 {
		return Box{Point{lo[0], lo[1]}, Point{hi[0], hi[1]}}.Dist(p)
	}, func(_, _ [2]float64, i int, d float64) bool { return visit(i, d) })
}

// Search calls visit with the number of each box that meets b, in no particular
// order, until visit returns false.
func (x *Pool) Search(b Box, visit func(i int) bool) {
	x.tree.Search([2]float64{b.Min.X, b.Min.Y}, [2]float64{b.Max.X, b.Max.Y},
		func(_, _ [2]float64, i int) bool { return visit(i) })
}
