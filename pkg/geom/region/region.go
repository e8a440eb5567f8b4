// Package region computes with areas of the plane that are bounded by
// straight lines and circular arcs, exactly: nothing is flattened to chords.
//
// An area is a Region: a set of simple closed loops that do not cross, outer
// boundaries counter-clockwise and holes clockwise, so that the inside is
// always on the left. Loops may touch at single points. Lengths are
// millimetres, areas square millimetres.
//
// Results are right to geom.Coincident (1e-7 mm): stretches of boundary nearer
// to one another than that are one, and parts narrower than that are nothing.
// Where no such coincidence is at work they are right to the rounding of
// float64, about 1e-12 mm on a table top. A tip between two arcs that touch may
// be cut off where it is as narrow as that: at radii of R for a length of
// sqrt(8 R 1e-7), 0.02 mm at R 500. What is grown or shrunk next to such a tip
// is then right to a few hundred thousandths of a millimetre.
package region

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
)

// A Region is an area with or without holes, in one piece, several, or none.
// The zero Region is empty.
type Region struct {
	loops []geom.Contour
	ask   *questions // nil: every question is answered from the loops
}

// newRegion is the region with the given boundary.
func newRegion(loops []geom.Contour) Region {
	return Region{loops, new(questions)}
}

// New returns the area that closed contours enclose: all points about which
// they wind at least once, in either sense (the nonzero rule). The contours
// may cross themselves and each other. Open contours count as closed by a
// straight edge. A contour with a coordinate that is not finite or beyond
// Farthest is left out, here and in every operation.
func New(contours ...geom.Contour) Region {
	var in []input
	for _, c := range contours {
		c.Closed = true
		in = appendContour(in, c, 0)
	}
	return fromArrangement(arrange(in), func(w winding) bool { return w[0] != 0 })
}

// Farthest is the largest coordinate in millimetres that this package computes
// with. A float64 there is good to 1.5e-8, the last power of ten that is finer
// than geom.Coincident.
const Farthest = 1e8

// sound reports whether c can be computed with.
func sound(c geom.Contour) bool {
	for _, v := range c.Vertices {
		if !(math.Abs(v.X) <= Farthest && math.Abs(v.Y) <= Farthest && math.Abs(v.Bulge) <= Farthest) {
			return false
		}
	}
	return true
}

// Disc is the disc about center; nothing if radius is not positive.
func Disc(center geom.Point, radius float64) Region {
	c := geom.Circle(center, radius)
	if !(radius > 0) || !sound(c) {
		return Region{}
	}
	return newRegion([]geom.Contour{c})
}

// Rect is the rectangle of a box; nothing if the box has no width or no height.
func Rect(b geom.Box) Region {
	c := geom.Rect(b)
	if !(b.Min.X < b.Max.X && b.Min.Y < b.Max.Y) || !sound(c) {
		return Region{}
	}
	return newRegion([]geom.Contour{c})
}

func appendContour(in []input, c geom.Contour, operand int) []input {
	if !sound(c) {
		return in
	}
	for i := range c.Len() {
		switch e := c.Edge(i); {
		case e.A == e.B:
		case math.Abs(e.Bulge) > 1: // more than a half circle
			in = append(in, boundary(e.Part(0, 0.5), operand), boundary(e.Part(0.5, 1), operand))
		default:
			in = append(in, boundary(e, operand))
		}
	}
	return in
}

func (r Region) appendTo(in []input, operand int) []input {
	for _, c := range r.loops {
		in = appendContour(in, c, operand)
	}
	return in
}

func fromArrangement(ar *arrangement, inside func(winding) bool) Region {
	return newRegion(ar.trace(inside))
}

// Loops returns the boundary: simple closed contours with the inside on the
// left. They must not be changed.
func (r Region) Loops() []geom.Contour { return r.loops }

// Empty reports whether r holds no point.
func (r Region) Empty() bool { return len(r.loops) == 0 }

// Area is the area of r in square millimetres.
func (r Region) Area() float64 {
	var sum float64
	for _, c := range r.loops {
		sum += c.Area()
	}
	return sum
}

// Perimeter is the length of the boundary, holes included.
func (r Region) Perimeter() float64 {
	var sum float64
	for _, c := range r.loops {
		sum += c.Length()
	}
	return sum
}

// Bounds is the smallest box that holds r; the empty box if r is empty.
func (r Region) Bounds() geom.Box {
	b := geom.EmptyBox()
	for _, c := range r.loops {
		b = b.Join(c.Bounds())
	}
	return b
}

// Len is the number of boundary edges.
func (r Region) Len() int {
	n := 0
	for _, c := range r.loops {
		n += c.Len()
	}
	return n
}

// Transform returns the image of r, as far as it is not beyond Farthest.
func (r Region) Transform(t geom.Similarity) Region {
	loops := make([]geom.Contour, 0, len(r.loops))
	for _, c := range r.loops {
		c = t.Contour(c)
		if t.Mirrors() {
			c = c.Reverse()
		}
		if sound(c) {
			loops = append(loops, c)
		}
	}
	return newRegion(loops)
}

// Union returns the points that are in any of the regions.
func Union(regions ...Region) Region {
	n := 0
	for _, r := range regions {
		n += r.Len()
	}
	in := make([]input, 0, n)
	for _, r := range regions {
		in = r.appendTo(in, 0)
	}
	return fromArrangement(arrange(in), func(w winding) bool { return w[0] > 0 })
}

// Intersect returns the points that are in both a and b.
func Intersect(a, b Region) Region {
	if !a.Bounds().Meets(b.Bounds()) {
		return Region{}
	}
	return combine(a, b, func(w winding) bool { return w[0] > 0 && w[1] > 0 })
}

// Clip returns the points of r that are in a box: Intersect with its Rect, but loops that lie
// wholly inside or outside the box cost no more than a look at their bounds.
func (r Region) Clip(b geom.Box) Region {
	var whole, cut []geom.Contour
	within := b.Expand(-geom.Coincident)
	for _, c := range r.loops {
		switch box := c.Bounds(); {
		case within.Holds(box.Min) && within.Holds(box.Max):
			whole = append(whole, c)
		case b.Meets(box):
			cut = append(cut, c)
		}
	}
	if cut == nil {
		return newRegion(whole)
	}
	// Loops don't cross, so what is cut doesn't meet what stays whole, and no hole is cut
	// without the loop that it lies in.
	made := Intersect(newRegion(cut), Rect(b))
	return newRegion(append(made.loops, whole...))
}

// Subtract returns the points of a that are in none of the regions of b.
func Subtract(a Region, b ...Region) Region {
	box := a.Bounds()
	n := a.Len()
	meets := false
	for _, r := range b {
		meets = meets || box.Meets(r.Bounds())
		n += r.Len()
	}
	if !meets {
		return a
	}
	in := a.appendTo(make([]input, 0, n), 0)
	for _, r := range b {
		in = r.appendTo(in, 1)
	}
	return fromArrangement(arrange(in), func(w winding) bool { return w[0] > 0 && w[1] <= 0 })
}

func combine(a, b Region, inside func(winding) bool) Region {
	in := make([]input, 0, a.Len()+b.Len())
	return fromArrangement(arrange(b.appendTo(a.appendTo(in, 0), 1)), inside)
}

// Pieces returns the connected pieces of r, each with its own holes, largest
// first. Pieces that touch at single points are apart.
func (r Region) Pieces() []Region {
	var pieces []Region
	outers, holes := r.split()
	slices.SortStableFunc(outers, func(a, b geom.Contour) int { return cmp.Compare(b.Area(), a.Area()) })
	for _, c := range outers {
		pieces = append(pieces, newRegion([]geom.Contour{c}))
	}
	for _, h := range holes {
		// The smallest outer loop around a hole is the one it lies in.
		for i := len(pieces) - 1; i >= 0; i-- {
			if encloses(pieces[i].loops[0], h) {
				pieces[i].loops = append(pieces[i].loops, h)
				break
			}
		}
	}
	return pieces
}

// split returns the outer loops and the holes.
func (r Region) split() (outers, holes []geom.Contour) {
	for _, c := range r.loops {
		if c.Area() > 0 {
			outers = append(outers, c)
		} else {
			holes = append(holes, c)
		}
	}
	return outers, holes
}

// encloses reports whether the loop inner lies within the loop outer, given
// that they do not cross.
func encloses(outer, inner geom.Contour) bool {
	box := outer.Bounds()
	filled := Region{loops: []geom.Contour{outer}}
	for i := range inner.Len() {
		// A loop may touch the other at a vertex or along an edge's end: take
		// the first point that is clearly on one side.
		for _, t := range [2]float64{0.5, 0} {
			p := inner.Edge(i).At(t)
			if !box.Holds(p) {
				return false
			}
			if side := filled.Locate(p); side != Boundary {
				return side == Inside
			}
		}
	}
	return math.Abs(inner.Area()) < math.Abs(outer.Area())
}
