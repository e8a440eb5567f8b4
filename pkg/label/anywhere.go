package label

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
)

// The spots that are tried for labels that may be anywhere: a grid of at most about
// spotsMost points (enough to find every gap that a short line of text fits in, on a
// panel of a metre), no finer than spotsLeast mm.
const (
	spotsMost  = 6000
	spotsLeast = 2.0
)

// clearStep is how much more clear room in mm makes a spot a better one; within a
// step the higher and then the left one is better, so that rounding doesn't choose.
const clearStep = 1.0

// A Spot is a point of a piece of wood.
type Spot struct {
	At   geom.Point
	room float64 // how far it is from any border, in steps, less what is kept from it
}

// Takes reports whether a label whose first frame is a box about the origin can have
// its middle there at all: half its smaller side must be clear.
func (s Spot) Takes(frames ...geom.Contour) bool {
	if len(frames) == 0 {
		return false
	}
	size := frames[0].Bounds().Size()
	return s.room+clearStep/2 >= min(size.X, size.Y)/2
}

// Anywhere lists spots all over a room's wood, those with the most clear room first,
// as far as labels of a height find room there; lengths are mm. It is found once, for
// the height that is asked for first.
func (r *Room) Anywhere(height float64) []Spot {
	if r.spots != nil || r.wood == nil {
		return r.spots
	}
	r.spots = []Spot{} // known, if there are none
	if r.wood.Empty() {
		return r.spots
	}
	box := r.wood.Bounds()
	size := box.Size()
	step := max(spotsLeast, math.Sqrt(size.X*size.Y/spotsMost))
	nx, ny := int(size.X/step), int(size.Y/step)
	for iy := range ny {
		for ix := range nx {
			p := box.Center().Add(geom.Pt((float64(ix)-float64(nx-1)/2)*step, (float64(iy)-float64(ny-1)/2)*step))
			d := r.wood.BoundaryDist(p)
			if d > r.border+height/2 && r.wood.Contains(p) {
				r.spots = append(r.spots, Spot{p, math.Round(d/clearStep)*clearStep - r.border})
			}
		}
	}
	// The grid runs from the lower left; a stable sort keeps rows together.
	slices.SortStableFunc(r.spots, func(a, b Spot) int {
		return cmp.Or(cmp.Compare(b.room, a.room), cmp.Compare(b.At.Y, a.At.Y))
	})
	return r.spots
}
