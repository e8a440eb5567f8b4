package sheet

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
)

// speck is the length in mm under which an edge of an outline is welded away:
// twice MinEdge, so that what is left after moving its ends is no speck either.
// A joint of 0.01 degrees leaves one of 0.009 mm when it is grown by a base's
// radius.
const speck = 2 * MinEdge

// speckBend is the height in mm of an arc over its chord that is nothing: a
// hundredth of the overcut that a groove may have. Only arcs that are less bent
// are welded before they have to be.
const speckBend = 1e-5

// Weld returns c with edges shorter than a speck drawn together to a point, so
// that a machine can follow what is left; arcs that turn within such a length
// stay while they are no shorter than MinEdge. The neighbours keep their lines
// and circles. An open contour keeps its ends; a closed one that is smaller than
// a speck altogether keeps two edges, and Check tells of it.
func Weld(c geom.Contour) geom.Contour {
	for i := 0; i < c.Len() && c.Len() > 1; i++ {
		if c.Closed && c.Len() == 2 {
			break
		}
		if e := c.Edge(i); e.Length() < MinEdge || (e.Length() < speck && bend(e) < speckBend) {
			c = without(c, i)
			i = max(-1, i-2) // the edge before has a new end
		}
	}
	return c
}

// bend is the height of an arc over its chord.
func bend(e geom.Edge) float64 { return math.Abs(e.Bulge) * e.Chord() / 2 }

// without returns c less its i-th edge, whose ends become one point.
func without(c geom.Contour, i int) geom.Contour {
	edges := c.Edges()
	at, n := edges[i].Mid(), len(edges)
	prev, next := (i+n-1)%n, (i+1)%n
	switch {
	case !c.Closed && i == 0:
		at, prev = edges[i].A, n
	case !c.Closed && i == n-1:
		at, next = edges[i].B, n
	}
	var kept []geom.Edge
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
	return geom.Chain(c.Closed, kept...)
}

// ended is e ended at a point beside or just past its end. An arc stays on its
// circle, in two edges where that makes it more than half of one.
func ended(e geom.Edge, at geom.Point) []geom.Edge {
	t := math.Max(0, e.Param(at))
	if half := t * e.Sweep() / 2; math.Abs(half) > math.Pi/2 {
		mid, bulge := e.At(t/2), math.Tan(half/4)
		return []geom.Edge{{A: e.A, B: mid, Bulge: bulge}, {A: mid, B: at, Bulge: bulge}}
	}
	return []geom.Edge{{A: e.A, B: at, Bulge: math.Tan(e.Sweep() * t / 4)}}
}

// Drawn returns an open line as a machine can draw it, without specks, and
// whether anything is left of it.
func Drawn(c geom.Contour) (geom.Contour, bool) {
	if c.Len() == 0 {
		return c, false
	}
	c = Weld(c)
	return c, c.Len() > 1 || c.Edge(0).Length() >= MinEdge
}

// WithoutFaultyMarks returns s with its marks as a machine can draw them, and
// the faults of those that it can't draw, which are left out.
func WithoutFaultyMarks(s Sheet) (Sheet, Faults) {
	var left Faults
	done := Sheet{Name: s.Name, Title: s.Title, Holes: s.Holes}
	for _, l := range s.Lines {
		if l.Role == Mark {
			var own Faults
			if checkNumbers(&own, l) {
				l.Contour, _ = Drawn(l.Contour)
				checkLine(&own, l)
			}
			if len(own) > 0 {
				left = append(left, own[0])
				continue
			}
		}
		done.Lines = append(done.Lines, l)
	}
	return done, left
}
