package geom

import (
	"math"
	"slices"
)

// speckBend is the height in mm of an arc over its chord that is nothing: a
// hundredth of the thousandths that makers' work is judged in. Only arcs that are less bent
// are welded before they have to be.
const speckBend = 1e-5

// Welded returns c with edges shorter than least drawn together to a point, and
// those shorter than twice that, so that none is left beside them, but for arcs
// that turn within such a length. The neighbours keep their lines and circles.
// An open contour keeps its ends; a closed one that is smaller than that
// altogether keeps two edges.
func (c Contour) Welded(least float64) Contour {
	for i := 0; i < c.Len() && c.Len() > 1; i++ {
		if c.Closed && c.Len() == 2 {
			break
		}
		if e := c.Edge(i); e.Length() < least || (e.Length() < 2*least && bend(e) < speckBend) {
			c = c.without(i)
			i = max(-1, i-2) // the edge before has a new end
		}
	}
	return c
}

// bend is the height of an arc over its chord.
func bend(e Edge) float64 { return math.Abs(e.Bulge) * e.Chord() / 2 }

// without returns c less its i-th edge, whose ends become one point.
func (c Contour) without(i int) Contour {
	edges := c.Edges()
	at, n := edges[i].Mid(), len(edges)
	prev, next := (i+n-1)%n, (i+1)%n
	switch {
	case !c.Closed && i == 0:
		at, prev = edges[i].A, n
	case !c.Closed && i == n-1:
		at, next = edges[i].B, n
	}
	var kept []Edge
	for k, e := range edges {
		switch k {
		case i:
		case prev:
			kept = append(kept, ended(e, at)...)
		case next:
			back := ended(e.Reverse(), at)
			slices.Reverse(back)
			for _, b := range back {
				kept = append(kept, b.Reverse())
			}
		default:
			kept = append(kept, e)
		}
	}
	return Chain(c.Closed, kept...)
}

// ended is e ended at a point beside or just past its end. An arc stays on its
// circle, in two edges where that makes it more than half of one.
func ended(e Edge, at Point) []Edge {
	t := math.Max(0, e.Param(at))
	half := t * e.Sweep() / 2
	switch past := 2*math.Abs(half) - math.Pi; {
	case past > 0 && past*e.Radius() < pastHalf:
		return []Edge{{A: e.A, B: at, Bulge: math.Copysign(1, e.Bulge)}}
	case past > 0:
		mid, bulge := e.At(t/2), math.Tan(half/4)
		return []Edge{{A: e.A, B: mid, Bulge: bulge}, {A: mid, B: at, Bulge: bulge}}
	}
	return []Edge{{A: e.A, B: at, Bulge: math.Tan(e.Sweep() * t / 4)}}
}

// pastHalf is the length in mm by which an arc may be more than a half circle
// and be drawn as one: it is out by half of that at most.
const pastHalf = 1e-4
