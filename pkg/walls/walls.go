// Package walls makes a groove's area from its strands' own walls, for those
// who judge what was cut: each wall is followed along the whole strand, round its
// corners, and the area is what the walls wind round. What a round bit must leave
// is worked out at every corner and free end by itself, from the two walls that
// meet there.
//
// It shares nothing with how grooves are made for those who plan cuts, so that
// a mistake there isn't made here too. Only the geometry of lines, arcs and
// areas is the same.
//
// Lengths are mm. Which side is left or right is seen along the strand.
package walls

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

const (
	// Smooth is the angle in radians up to which a strand's turn is no corner:
	// half a degree, the job file's promise. It opens the walls by 0.02 mm at
	// 2.5 mm from the centre line, and bridging that straight is out by no more
	// than 0.0001 mm.
	Smooth = 0.5 * math.Pi / 180

	// same is the distance in mm under which two ends of a wall are one: ten
	// times what the areas are exact to, so that no step of that size is left.
	same = 10 * geom.Coincident

	// mitreLimit is how far from its corner a mitre's tip may be, in halves of the
	// groove's width, with a millionth for rounding: 15 degrees between straights
	// want 7.66.
	mitreLimit = geom.MitreLimit * (1 + 1e-6)
)

// A Strand is the middle of a groove: its centre line, open or closed, which
// may cross itself, and the groove's width. The ends of an open one are flat.
type Strand struct {
	Line  geom.Contour
	Width float64
}

// A Groove is the area that may be cut along strands, and what it knows of
// their corners and ends. One that has an Area only has no corners.
type Groove struct {
	Area    region.Region
	strands []Strand
	arms    []arm
	index   geom.Index // of the arms
}

// Of returns the groove of strands. Walls that don't meet within 4 groove widths
// of a corner leave it cut off straight.
func Of(strands ...Strand) Groove {
	g := Groove{strands: strands}
	var outline []geom.Contour
	var boxes []geom.Box
	for i, s := range strands {
		outline = append(outline, s.outline()...)
		for k := range s.Line.Len() {
			a := s.arm(i, k)
			g.arms, boxes = append(g.arms, a), append(boxes, a.line.Box.Expand(a.reach))
		}
	}
	g.Area, g.index = region.New(outline...), geom.NewIndex(boxes)
	return g
}

// half is half of the groove's width.
func (s Strand) half() float64 { return s.Width / 2 }

// outline is what a strand's walls wind round once for every time that its
// groove passes there: one closed curve round an open strand, two along a closed
// one.
func (s Strand) outline() []geom.Contour {
	if s.Line.Len() == 0 || !(s.Width > 0) {
		return nil
	}
	right, left := wall(s.Line, s.half()), wall(s.Line.Reverse(), s.half())
	if s.Line.Closed {
		return []geom.Contour{closed(right), closed(left)}
	}
	return []geom.Contour{closed(append(right, left...))}
}

// closed joins edges to a closed curve, by straight ones where they are apart.
func closed(edges []geom.Edge) geom.Contour {
	var all []geom.Edge
	for i, e := range edges {
		all = append(all, e)
		if next := edges[(i+1)%len(edges)].A; !next.Near(e.B, same) {
			all = append(all, geom.Line(e.B, next))
		}
	}
	return geom.Chain(true, all...)
}

// wall is the right wall of a line, h from it. On the inside of a corner it
// goes by the corner itself: what that winds round twice is groove all the same.
func wall(line geom.Contour, h float64) []geom.Edge {
	var out []geom.Edge
	for i := range line.Len() {
		if c, ok := cornerAt(line, i); ok {
			out = c.join(out, h)
		}
		out = append(out, side(line.Edge(i), h))
	}
	return out
}

// side is the right wall of an edge. An arc no wider than that turns about a
// point.
func side(e geom.Edge, h float64) geom.Edge {
	if e.Bulge < 0 && e.Radius() <= h+geom.Coincident {
		return geom.Line(e.Center(), e.Center())
	}
	return e.Shift(-h)
}
