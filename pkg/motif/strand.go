package motif

import (
	"math"
	"strconv"

	"strapwork/pkg/geom"
)

// strands makes the motif of the pieces.
func (d *drawing) strands() Motif {
	var m Motif
	for _, p := range d.pieces {
		m.Sources = append(m.Sources, p.source)
	}
	used := make([]bool, len(d.pieces))
	for i := range d.pieces {
		if used[i] {
			continue
		}
		links, closed := d.follow(i)
		for _, l := range links {
			used[l.piece] = true
		}
		m.Strands = append(m.Strands, d.strand("s"+strconv.Itoa(len(m.Strands)+1), links, closed))
	}
	return m
}

// strand chains the links. Joined ends differ by rounding at most; the strand
// goes through the middle.
func (d *drawing) strand(id string, links []link, closed bool) Strand {
	var edges []geom.Edge
	var sources []int
	for _, l := range links {
		c := d.pieces[l.piece].contour
		if l.reversed {
			c = c.Reverse()
		}
		for _, e := range c.Edges() {
			edges = append(edges, e)
			sources = append(sources, l.piece)
		}
	}
	c := geom.Chain(closed, edges...)
	corner := make([]bool, len(c.Vertices))
	for i := range edges {
		prev := i - 1
		if i == 0 {
			if !closed {
				continue
			}
			prev = len(edges) - 1
		}
		corner[i] = turn(edges[prev], edges[i]) > Smooth
		if edges[prev].B != edges[i].A {
			c.Vertices[i].Point = edges[prev].B.Lerp(edges[i].A, 0.5)
		}
	}
	return NewStrand(id, c, sources, corner)
}

// turn is the angle in [0, pi] by which the direction of travel turns from
// the end of e to the start of f.
func turn(e, f geom.Edge) float64 {
	u, v := e.Tangent(1), f.Tangent(0)
	return math.Atan2(math.Abs(u.Cross(v)), u.Dot(v))
}
