package paper

import (
	"slices"

	"strapwork/pkg/geom"
)

// A ground is what a sheet shows already, in the drawing's coordinates, so that
// lettering keeps off it.
type ground struct {
	lines   []stretch  // that no lettering may cover
	boxes   []geom.Box // of lettering and bars
	leaders []stretch
}

// A stretch is one edge of a line with its bounds.
type stretch struct {
	edge   geom.Edge
	box    geom.Box
	weight int // how many lines it counts as where a leader crosses it
}

// apart in mm is kept between lettering and what is beside it: a third of the
// letters' height, less than which runs together in print.
const apart = 0.5

// wordsApart in mm is kept between pieces of lettering side by side, twice the
// width of a space, so that two numbers aren't read as one.
const wordsApart = 1.5

// add takes in a line, as far as it lies within the window.
func (g *ground) add(c geom.Contour, window geom.Box, weight int) {
	for _, p := range clip(c, window) {
		for _, e := range p.contour.Edges() {
			g.lines = append(g.lines, stretch{edge: e, box: e.Bounds(), weight: weight})
		}
	}
}

// free reports whether lettering in a box would cover nothing.
func (g *ground) free(b geom.Box) bool {
	wide := b.Expand(apart)
	wider := wide
	wider.Min.X, wider.Max.X = b.Min.X-wordsApart, b.Max.X+wordsApart
	if slices.ContainsFunc(g.boxes, wider.Meets) {
		return false
	}
	in := func(s stretch) bool { return s.within(wide) }
	return !slices.ContainsFunc(g.lines, in) && !slices.ContainsFunc(g.leaders, in)
}

// within reports whether some of a stretch lies within a box.
func (s stretch) within(b geom.Box) bool {
	if !s.box.Meets(b) {
		return false
	}
	if b.Holds(s.edge.A) || b.Holds(s.edge.B) {
		return true
	}
	if s.edge.Length() == 0 {
		return false
	}
	ts := cuts(s.edge, b)
	for i := 0; i+1 < len(ts); i++ {
		if b.Holds(s.edge.At((ts[i] + ts[i+1]) / 2)) {
			return true
		}
	}
	return false
}

// leads reports whether a leader runs clear of lettering, bars and other
// leaders, and how many lines it crosses.
func (g *ground) leads(e geom.Edge) (crossed int, ok bool) {
	s := stretch{edge: e, box: e.Bounds()}
	if slices.ContainsFunc(g.boxes, s.within) {
		return 0, false
	}
	if slices.ContainsFunc(g.leaders, s.meets) {
		return 0, false
	}
	for _, l := range g.lines {
		if s.meets(l) {
			crossed += l.weight
		}
	}
	return crossed, true
}

func (s stretch) meets(o stretch) bool {
	return s.box.Meets(o.box) && len(geom.Crossings(s.edge, o.edge, geom.Coincident)) > 0
}
