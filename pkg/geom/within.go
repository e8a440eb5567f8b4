package geom

import (
	"math"
	"slices"
)

// A Stretch is a part of a contour, and how far along the contour it begins.
type Stretch struct {
	Contour Contour
	From    float64
}

// Within returns the stretches of c within a box, its sides included, in order
// along c. Lines stay lines and arcs stay arcs: each edge is cut at its exact
// meetings with the sides' lines. A closed contour that lies wholly within
// comes back closed; otherwise it is cut at its start as well.
func (c Contour) Within(b Box) []Stretch {
	bounds := c.Bounds()
	switch {
	case !bounds.Meets(b):
		return nil
	case b.Holds(bounds.Min) && b.Holds(bounds.Max):
		return []Stretch{{Contour: c}}
	}
	var pieces []Stretch
	var run []Edge
	from, along := 0.0, 0.0
	end := func() {
		if len(run) > 0 {
			pieces = append(pieces, Stretch{Contour: Chain(false, run...), From: from})
			run = nil
		}
	}
	for _, e := range c.Edges() {
		if math.Abs(e.Bulge)*e.Chord()/2 < Coincident {
			e.Bulge = 0 // so flat that its centre is lost in rounding
		}
		length := e.Length()
		if length == 0 {
			continue
		}
		if !e.Bounds().Meets(b) {
			end()
			along += length
			continue
		}
		ts := cuts(e, b)
		for i := 0; i+1 < len(ts); i++ {
			if !b.Holds(e.At((ts[i] + ts[i+1]) / 2)) {
				end()
				continue
			}
			if len(run) == 0 {
				from = along + ts[i]*length
			}
			run = append(run, part(e, ts[i], ts[i+1]))
		}
		along += length
	}
	end()
	return pieces
}

// part is a stretch of an edge; the whole edge is itself, without rounding.
func part(e Edge, t0, t1 float64) Edge {
	if t0 == 0 && t1 == 1 {
		return e
	}
	return e.Part(t0, t1)
}

// cuts are the fractions of an edge's length at which it meets the lines of a
// box's sides, with 0 and 1, in order.
func cuts(e Edge, b Box) []float64 {
	ts := []float64{0, 1}
	add := func(p Point) {
		if t := e.Param(p); t > 0 && t < 1 {
			ts = append(ts, t)
		}
	}
	d := e.B.Sub(e.A)
	if e.IsLine() {
		for _, x := range []float64{b.Min.X, b.Max.X} {
			if d.X != 0 {
				add(e.A.Lerp(e.B, (x-e.A.X)/d.X))
			}
		}
		for _, y := range []float64{b.Min.Y, b.Max.Y} {
			if d.Y != 0 {
				add(e.A.Lerp(e.B, (y-e.A.Y)/d.Y))
			}
		}
	} else {
		c, r := e.Center(), e.Radius()
		for _, x := range []float64{b.Min.X, b.Max.X} {
			if h := r*r - (x-c.X)*(x-c.X); h > 0 {
				add(Pt(x, c.Y+math.Sqrt(h)))
				add(Pt(x, c.Y-math.Sqrt(h)))
			}
		}
		for _, y := range []float64{b.Min.Y, b.Max.Y} {
			if h := r*r - (y-c.Y)*(y-c.Y); h > 0 {
				add(Pt(c.X+math.Sqrt(h), y))
				add(Pt(c.X-math.Sqrt(h), y))
			}
		}
	}
	slices.Sort(ts)
	return slices.Compact(ts)
}
