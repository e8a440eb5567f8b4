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

// A rayIndex answers winding numbers of points. Its index of the pieces is
// made once several have been asked for.
type rayIndex struct {
	asked int
	index geom.Index
}

// unindexed is the number of rays that are cast at all pieces before an index
// of them pays.
const unindexed = 4

// beside returns the winding numbers just to the left of the point of piece p
// at the fraction t of its length: 0 at infinity, less one for each piece
// crossed upwards on the way in, whose right side the way comes out on.
func (ri *rayIndex) beside(ar *arrangement, p int, t float64) winding {
	var w winding
	e := &ar.shapes[p]
	m := e.At(t)
	count := func(q int) bool {
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
	}
	ri.asked++
	if ri.asked <= unindexed {
		for q := range ar.pieces {
			count(q)
		}
		return w
	}
	if ri.asked == unindexed+1 {
		boxes := make([]geom.Box, len(ar.pieces))
		for q := range ar.shapes {
			boxes[q] = ar.shapes[q].Box
		}
		ri.index = geom.NewIndex(boxes)
	}
	ri.index.Search(geom.Box{Min: geom.Pt(math.Inf(-1), m.Y), Max: m}, count)
	return w
}
