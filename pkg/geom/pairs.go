package geom

// An index of boxes that are all known at once.
//
// Method: a packed tree (Kamel and Faloutsos, "On packing R-trees", 1993, recalled): the boxes
// are put in the order in which a Hilbert curve passes their middles, each eight neighbours get a
// box of their own, each eight of those another, and so on. It is made in n log n, of which only
// the sorting is more than linear, and has no pointers. Pairs descend it once, both sides at the
// same time.

import (
	"cmp"
	"math"
	"slices"
)

// fewBoxes is the number up to which trying all pairs is quicker than making
// an index (measured: the two cost the same near 50 boxes).
const fewBoxes = 48

// fan is the number of boxes in a node.
const fan = 8

// An Index finds the boxes of a list that meet a given box.
type Index struct {
	boxes  []Box
	items  []indexed // all boxes in the curve's order; none while there are few
	levels [][]Box   // the nodes: node k of a level holds those from k * fan on of the one below, or of items
}

// indexed is a box and its number in the list.
type indexed struct {
	Box
	number int
}

// NewIndex makes an index of boxes, which it keeps and does not change.
func NewIndex(boxes []Box) Index {
	x := Index{boxes: boxes}
	if len(boxes) <= fewBoxes {
		return x
	}
	x.items = alongCurve(boxes)
	level := make([]Box, 0, (len(boxes)+fan-1)/fan)
	for group := range slices.Chunk(x.items, fan) {
		all := EmptyBox()
		for _, it := range group {
			all = all.Join(it.Box)
		}
		level = append(level, all)
	}
	x.levels = append(x.levels, level)
	for len(level) > fan {
		above := make([]Box, 0, (len(level)+fan-1)/fan)
		for group := range slices.Chunk(level, fan) {
			all := EmptyBox()
			for _, b := range group {
				all = all.Join(b)
			}
			above = append(above, all)
		}
		x.levels = append(x.levels, above)
		level = above
	}
	return x
}

// curveBits is the number of bits of a coordinate on the Hilbert curve.
const curveBits = 16

// alongCurve returns the boxes in the order in which the curve passes their middles.
func alongCurve(boxes []Box) []indexed {
	all := EmptyBox()
	for _, b := range boxes {
		all = all.Join(b)
	}
	size := all.Size()
	scale := (1<<curveBits - 1) / max(size.X, size.Y)
	on := func(lo, hi, from float64) uint32 {
		v := ((lo+hi)/2 - from) * scale
		if !(v > 0) { // also what is not a number, in boxes that hold nothing
			return 0
		}
		return uint32(min(v, 1<<curveBits-1))
	}
	type place struct {
		key    uint32
		number int32
	}
	places := make([]place, len(boxes))
	for i, b := range boxes {
		places[i] = place{hilbert(on(b.Min.X, b.Max.X, all.Min.X), on(b.Min.Y, b.Max.Y, all.Min.Y)), int32(i)}
	}
	slices.SortFunc(places, func(a, b place) int {
		if a.key != b.key {
			return cmp.Compare(a.key, b.key)
		}
		return cmp.Compare(a.number, b.number)
	})
	items := make([]indexed, len(boxes))
	for k, p := range places {
		items[k] = indexed{boxes[p.number], int(p.number)}
	}
	return items
}

// hilbert is the place of (x, y), of curveBits bits each, on the Hilbert curve
// (the usual turning of quadrants, recalled).
func hilbert(x, y uint32) uint32 {
	d := uint32(0)
	for s := uint32(1) << (curveBits - 1); s > 0; s >>= 1 {
		var rx, ry uint32
		if x&s != 0 {
			rx = 1
		}
		if y&s != 0 {
			ry = 1
		}
		d = d<<2 | (3 * rx) ^ ry
		if ry == 0 {
			if rx == 1 {
				x, y = ^x, ^y
			}
			x, y = y, x
		}
	}
	return d
}

// Search calls visit with the number of each box that meets b, in no
// particular order, until visit returns false.
func (x Index) Search(b Box, visit func(i int) bool) {
	if x.items == nil {
		for i := range x.boxes {
			if b.Meets(x.boxes[i]) && !visit(i) {
				return
			}
		}
		return
	}
	top := len(x.levels) - 1
	for k := range x.levels[top] {
		if b.Meets(x.levels[top][k]) && !x.search(top, k, b, visit) {
			return
		}
	}
}

// search is Search below node k of a level.
func (x *Index) search(level, k int, b Box, visit func(i int) bool) bool {
	if level == 0 {
		for i := k * fan; i < min(k*fan+fan, len(x.items)); i++ {
			if it := &x.items[i]; b.Meets(it.Box) && !visit(it.number) {
				return false
			}
		}
		return true
	}
	below := x.levels[level-1]
	for i := k * fan; i < min(k*fan+fan, len(below)); i++ {
		if b.Meets(below[i]) && !x.search(level-1, i, b, visit) {
			return false
		}
	}
	return true
}

// Nearest returns the smallest of the distances dist(i) to what is in the
// boxes, of which a box's own distance from p is a lower bound; infinite if
// there are no boxes.
func (x Index) Nearest(p Point, dist func(i int) float64) float64 {
	best := math.Inf(1)
	if x.items == nil {
		for i, b := range x.boxes {
			if b.Dist(p) < best {
				best = min(best, dist(i))
			}
		}
		return best
	}
	return x.nearest(len(x.levels), 0, p, best, dist)
}

// nearest is Nearest below node k of a level, len(levels) being above all, where it is less
// than best.
func (x *Index) nearest(level, k int, p Point, best float64, dist func(i int) float64) float64 {
	n := len(x.items)
	if level > 0 {
		n = len(x.levels[level-1])
	}
	var away [fan]float64
	var order [fan]int
	m := 0
	for i := k * fan; i < min(k*fan+fan, n); i++ {
		var d float64
		if level > 0 {
			d = x.levels[level-1][i].Dist(p)
		} else {
			d = x.items[i].Dist(p)
		}
		if d >= best {
			continue
		}
		at := m
		for at > 0 && away[at-1] > d {
			away[at], order[at] = away[at-1], order[at-1]
			at--
		}
		away[at], order[at] = d, i
		m++
	}
	for j := 0; j < m && away[j] < best; j++ {
		if level > 0 {
			best = x.nearest(level-1, order[j], p, best, dist)
		} else {
			best = min(best, dist(x.items[order[j]].number))
		}
	}
	return best
}

// Pairs calls visit once for each pair i < j of boxes that come within gap of
// each other, in no particular order, until visit returns false.
func (x Index) Pairs(gap float64, visit func(i, j int) bool) {
	if x.items != nil {
		x.within(len(x.levels), 0, gap, visit)
		return
	}
	for i := range x.boxes {
		b := x.boxes[i].Expand(gap)
		for j := i + 1; j < len(x.boxes); j++ {
			if b.Meets(x.boxes[j]) && !visit(i, j) {
				return
			}
		}
	}
}

// within is Pairs for the pairs below node k of a level, len(levels) being above all.
func (x *Index) within(level, k int, gap float64, visit func(i, j int) bool) bool {
	if level == 0 {
		group := x.items[k*fan : min(k*fan+fan, len(x.items))]
		for i := range group {
			b := group[i].Expand(gap)
			for j := i + 1; j < len(group); j++ {
				if b.Meets(group[j].Box) && !ordered(group[i].number, group[j].number, visit) {
					return false
				}
			}
		}
		return true
	}
	below := x.levels[level-1]
	for i := k * fan; i < min(k*fan+fan, len(below)); i++ {
		if !x.within(level-1, i, gap, visit) {
			return false
		}
		b := below[i].Expand(gap)
		for j := i + 1; j < min(k*fan+fan, len(below)); j++ {
			if b.Meets(below[j]) && !x.between(level-1, i, j, gap, visit) {
				return false
			}
		}
	}
	return true
}

// between is Pairs for one box below node k and one below node m of the same level.
func (x *Index) between(level, k, m int, gap float64, visit func(i, j int) bool) bool {
	of := x.levels[level][m].Expand(gap)
	if level == 0 {
		group := x.items[m*fan : min(m*fan+fan, len(x.items))]
		for i := k * fan; i < min(k*fan+fan, len(x.items)); i++ {
			if !of.Meets(x.items[i].Box) {
				continue
			}
			b := x.items[i].Expand(gap)
			for j := range group {
				if b.Meets(group[j].Box) && !ordered(x.items[i].number, group[j].number, visit) {
					return false
				}
			}
		}
		return true
	}
	below := x.levels[level-1]
	for i := k * fan; i < min(k*fan+fan, len(below)); i++ {
		if !of.Meets(below[i]) {
			continue
		}
		b := below[i].Expand(gap)
		for j := m * fan; j < min(m*fan+fan, len(below)); j++ {
			if b.Meets(below[j]) && !x.between(level-1, i, j, gap, visit) {
				return false
			}
		}
	}
	return true
}

func ordered(i, j int, visit func(i, j int) bool) bool { return visit(min(i, j), max(i, j)) }
