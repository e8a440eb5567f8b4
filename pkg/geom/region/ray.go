package region

import (
	"math"

	"strapwork/pkg/geom"
)

// upLeft returns how often e crosses the level line through m upwards less
// downwards, to the left of m. An end on the line counts as above it only when
// it is strictly above, so that a chain of edges is counted right whatever
// vertices lie on the line.
func upLeft(e *geom.Prepared, m geom.Point) int {
	box := e.Box
	if m.Y < box.Min.Y || m.Y > box.Max.Y || box.Min.X > m.X {
		return 0
	}
	if box.Max.X < m.X { // all of it is to the left: only the ends count
		return above(e.B, m) - above(e.A, m)
	}
	if e.Bulge == 0 {
		up := above(e.B, m) - above(e.A, m)
		if up != 0 && e.A.X+(m.Y-e.A.Y)/(e.B.Y-e.A.Y)*(e.B.X-e.A.X) >= m.X {
			return 0
		}
		return up
	}
	return arcUpLeft(e, m)
}

func above(p, m geom.Point) int {
	if p.Y > m.Y {
		return 1
	}
	return 0
}

// arcUpLeft is upLeft for an arc, taken in stretches that only rise or only fall.
func arcUpLeft(e *geom.Prepared, m geom.Point) int {
	c, r := e.Center(), e.Radius()
	dx := math.Sqrt(math.Max(0, (r-(m.Y-c.Y))*(r+(m.Y-c.Y))))
	stops, n := turningPoints(e)
	up := 0
	from := e.A
	for i := 1; i < n; i++ {
		to := e.At(stops[i])
		if d := above(to, m) - above(from, m); d != 0 {
			x := c.X - dx
			if e.At((stops[i-1]+stops[i])/2).X > c.X {
				x = c.X + dx
			}
			if x < m.X {
				up += d
			}
		}
		from = to
	}
	return up
}

// turningPoints returns the n fractions of e's length between which it only
// rises or only falls, 0 and 1 included.
func turningPoints(e *geom.Prepared) (stops [4]float64, n int) {
	n = 1
	if e.Bulge != 0 {
		c, r := e.Center(), e.Radius()
		for _, y := range [2]float64{r, -r} {
			p := geom.Pt(c.X, c.Y+y)
			if !e.Box.Expand(geom.Coincident).Holds(p) {
				continue
			}
			if t := e.Param(p); t > 0 && t < 1 {
				stops[n] = t
				n++
			}
		}
	}
	if n == 3 && stops[1] > stops[2] {
		stops[1], stops[2] = stops[2], stops[1]
	}
	stops[n] = 1
	return stops, n + 1
}

// upLeftBeside is upLeft for the point of e at the fraction t: the rising or
// falling stretch that the point is on does not count.
func upLeftBeside(e *geom.Prepared, t float64) int {
	stops, n := turningPoints(e)
	up := 0
	for i := 1; i < n; i++ {
		if t < stops[i-1] || t > stops[i] {
			part := geom.Prepare(e.Part(stops[i-1], stops[i]))
			up += upLeft(&part, e.At(t))
		}
	}
	return up
}

// A rayIndex finds the pieces in a box. Its index is made once several boxes
// have been asked for.
type rayIndex struct {
	asked int
	index geom.Index
}

// unindexed is the number of searches through all pieces before an index of
// them pays.
const unindexed = 8

// search calls visit with the number of each piece whose box meets b until it
// returns false.
func (ri *rayIndex) search(shapes []geom.Prepared, b geom.Box, visit func(q int) bool) {
	ri.asked++
	if ri.asked <= unindexed {
		for q := range shapes {
			if b.Meets(shapes[q].Box) && !visit(q) {
				return
			}
		}
		return
	}
	if ri.asked == unindexed+1 {
		boxes := make([]geom.Box, len(shapes))
		for q := range shapes {
			boxes[q] = shapes[q].Box
		}
		ri.index = geom.NewIndex(boxes)
	}
	ri.index.Search(b, visit)
}

// beside returns the winding numbers just to the left of the point of piece p
// at the fraction t of its length: 0 at infinity, less one for each piece
// crossed upwards on the way in, whose right side the way comes out on.
func (ar *arrangement) beside(p int, t float64) winding {
	var w winding
	e := &ar.shapes[p]
	m := e.At(t)
	ar.rays.search(ar.shapes, geom.Box{Min: geom.Pt(math.Inf(-1), m.Y), Max: m}, func(q int) bool {
		var up int
		if q == p {
			up = upLeftBeside(e, t)
		} else {
			up = upLeft(&ar.shapes[q], m)
		}
		for k, d := range ar.pieces[q].delta {
			w[k] -= int32(up) * d
		}
		return true
	})
	return w
}

// A sample is a point of a piece, at a fraction of its length.
type sample struct {
	piece int
	t     float64
}

// roomy is the distance in millimetres from a sample to all other pieces that
// makes its two sides sure: pieces nearer than Coincident to each other may be
// in the wrong order there.
const roomy = 20 * geom.Coincident

// sampleOf is a point of the component whose sides a level ray separates
// surely, or as surely as can be.
func (ar *arrangement) sampleOf(component []int) sample {
	best, rise := component[0], -1.0
	for _, p := range component {
		if r := ar.shapes[p].Box.Size().Y; r > rise {
			best, rise = p, r
		}
	}
	if s, ok := ar.roomySample(best); ok {
		return s
	}
	for _, p := range component {
		if s, ok := ar.roomySample(p); ok {
			return s
		}
	}
	return ar.steepest(best)
}

// steepest is the point of piece p, of three, at which it is steepest.
func (ar *arrangement) steepest(p int) sample {
	e := &ar.shapes[p]
	best, rise := sample{p, 0.5}, math.Abs(e.Tangent(0.5).Y)
	for _, t := range [2]float64{0.25, 0.75} {
		if r := math.Abs(e.Tangent(t).Y); r > rise {
			best, rise = sample{p, t}, r
		}
	}
	return best
}

// roomySample is the steepest point of piece p, if no other piece is near.
func (ar *arrangement) roomySample(p int) (sample, bool) {
	s := ar.steepest(p)
	m := ar.shapes[p].At(s.t)
	ok := math.Abs(ar.shapes[p].Tangent(s.t).Y) > 0.1
	if ok {
		ar.rays.search(ar.shapes, geom.Box{Min: m, Max: m}.Expand(roomy), func(q int) bool {
			ok = q == p || ar.shapes[q].Dist(m) > roomy
			return ok
		})
	}
	return s, ok
}
