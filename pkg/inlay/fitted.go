package inlay

// Stretches into which more reaches than the two cuts at their ends: a corner
// or another crossing lies within a crossing. Their strips are cut to stations
// and the upper stacks taken away as areas.

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// A cover is the stations of an arm over which an upper stack may lie.
type cover struct {
	from, to float64
	c        *under
}

// covers returns what lies over a stretch.
func (t *track) covers(st *stretch) []cover {
	var all []cover
	laps := []float64{0}
	if t.closed {
		laps = []float64{-t.length, 0, t.length, 2 * t.length}
	}
	var cuts []*under
	for _, c := range append(slices.Clone(st.others), st.cuts[:]...) {
		if c != nil && !slices.Contains(cuts, c) {
			cuts = append(cuts, c)
		}
	}
	for _, c := range cuts {
		for _, lap := range laps {
			v := cover{c.s + lap - c.reach[0], c.s + lap + c.reach[1], c}
			if v.from < st.to && v.to > st.from {
				all = append(all, v)
			}
		}
	}
	return all
}

// fitted returns the pieces of a layer that are left of a stretch.
func (b *builder) fitted(t *track, st *stretch, layer int) []Piece {
	covers := t.covers(st)
	stops := b.stops(st, covers)
	var areas []region.Region
	for i := range len(stops) - 1 {
		area := b.between(st, layer, stops[i], stops[i+1])
		for _, v := range covers {
			if v.from < stops[i+1]-stationTie && v.to > stops[i]+stationTie {
				area = region.Subtract(area, v.c.stack())
			}
		}
		areas = append(areas, area)
	}
	var all []Piece
	thick := b.lines.at[2*layer] - b.lines.at[2*layer+2]
	for _, area := range region.Union(areas...).Pieces() {
		l := area.Area() / thick
		if l < leastPiece {
			continue
		}
		all = append(all, b.measured(st, layer, area, covers))
	}
	slices.SortStableFunc(all, func(a, b Piece) int { return cmp.Compare(a.From, b.From) })
	return all
}

// leastPiece is the length in mm under which a piece is a splinter: makers
// work to a hundredth or two of a millimetre.
const leastPiece = 0.02

// stops returns the stations at which a stretch is taken apart, so that no
// part of it passes an upper stack that covers another: where the covers begin
// and end, away from mitres.
func (b *builder) stops(st *stretch, covers []cover) []float64 {
	first, last := st.from, st.to
	if !st.arm.ring {
		f, l := b.plain(st.arm)
		first, last = math.Max(first, f), math.Min(last, l)
	}
	stops := []float64{st.from, st.to}
	for _, v := range covers {
		for _, s := range [2]float64{v.from, v.to} {
			if s > first+stationTie && s < last-stationTie {
				stops = append(stops, s)
			}
		}
	}
	slices.Sort(stops)
	return slices.Compact(stops)
}

// between is the area of a layer between two stations of a stretch; the
// stretch's own ends at corners are mitred, all others square.
func (b *builder) between(st *stretch, layer int, from, to float64) region.Region {
	part := stretch{arm: st.arm, from: from, to: to}
	var sides [2][]geom.Edge
	gone := 0
	for i := range sides {
		k := 2*layer + 2*i
		s, e := st.within(k, from, to)
		sides[i] = st.arm.side(b.lines.at[k], s, e)
		if len(sides[i]) == 0 {
			gone++
		}
	}
	switch gone {
	case 0:
		outline := sides[1]
		if to == st.to && st.cuts[1] == nil {
			outline = append(outline, b.cutAt(st, 1, layer)...)
		}
		outline = append(outline, reversed(sides[0])...)
		if from == st.from && st.cuts[0] == nil {
			outline = append(outline, reversed(b.cutAt(st, 0, layer))...)
		}
		return enclosed(outline)
	case 1:
		return b.tipArea(&part, layer, sides[0], sides[1])
	}
	return region.Region{}
}

// within is the stations from which to which line k runs between two of a stretch: at its
// own ends at corners as far as it is mitred.
func (st *stretch) within(k int, from, to float64) (s, e float64) {
	s, e = from, to
	if from == st.from && st.cuts[0] == nil {
		s = st.arm.start[k]
	}
	if to == st.to && st.cuts[1] == nil {
		e = st.arm.finish[k]
	}
	return s, e
}

// groove is the groove of one arm.
func (b *builder) groove(a *arm) region.Region {
	l, r := b.lines.grooveLeft(), b.lines.grooveRight()
	if a.ring {
		right := geom.Chain(true, a.side(b.lines.at[r], 0, a.lap())...)
		left := geom.Chain(true, a.side(b.lines.at[l], 0, a.lap())...)
		return region.New(right, left.Reverse())
	}
	right := a.side(b.lines.at[r], a.start[r], a.finish[r])
	return enclosed(append(right, reversed(a.side(b.lines.at[l], a.start[l], a.finish[l]))...))
}
