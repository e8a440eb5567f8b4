package geom

import (
	"math"

	"github.com/tidwall/rtree"
)

// fewBoxes is the number up to which trying all pairs is quicker than making
// an index (measured: the two cost the same near 60 boxes).
const fewBoxes = 48

// An Index finds the boxes of a list that meet a given box.
type Index struct {
	boxes []Box
	tree  *rtree.RTreeG[int]
}

// NewIndex makes an index of boxes, which it keeps and does not change.
func NewIndex(boxes []Box) Index {
	x := Index{boxes: boxes}
	if len(boxes) > fewBoxes {
		x.tree = new(rtree.RTreeG[int])
		for i, b := range boxes {
			x.tree.Insert([2]float64{b.Min.X, b.Min.Y}, [2]float64{b.Max.X, b.Max.Y}, i)
		}
	}
	return x
}

// Search calls visit with the number of each box that meets b, in no
// particular order, until visit returns false.
func (x Index) Search(b Box, visit func(i int) bool) {
	if x.tree == nil {
		for i, c := range x.boxes {
			if b.Meets(c) && !visit(i) {
				return
			}
		}
		return
	}
	x.tree.Search([2]float64{b.Min.X, b.Min.Y}, [2]float64{b.Max.X, b.Max.Y},
		func(_, _ [2]float64, i int) bool { return visit(i) })
}

// Nearest returns the smallest of the distances dist(i) to what is in the
// boxes, of which a box's own distance from p is a lower bound; infinite if
// there are no boxes.
func (x Index) Nearest(p Point, dist func(i int) float64) float64 {
	best := math.Inf(1)
	if x.tree == nil {
		for i, b := range x.boxes {
			if b.Dist(p) < best {
				best = min(best, dist(i))
			}
		}
		return best
	}
	x.tree.Nearby(func(lo, hi [2]float64, i int, item bool) float64 {
		if item {
			return dist(i)
		}
		return Box{Point{lo[0], lo[1]}, Point{hi[0], hi[1]}}.Dist(p)
	}, func(_, _ [2]float64, _ int, d float64) bool {
		best = d
		return false
	})
	return best
}

// Pairs calls visit once for each pair i < j of boxes that come within gap of
// each other, in no particular order, until visit returns false.
func (x Index) Pairs(gap float64, visit func(i, j int) bool) {
	going := true
	for i := 0; i < len(x.boxes) && going; i++ {
		b := x.boxes[i].Expand(gap)
		if x.tree == nil {
			for j := i + 1; j < len(x.boxes) && going; j++ {
				if b.Meets(x.boxes[j]) {
					going = visit(i, j)
				}
			}
			continue
		}
		x.Search(b, func(j int) bool {
			if j > i {
				going = visit(i, j)
			}
			return going
		})
	}
}
