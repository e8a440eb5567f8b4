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

// fitted returns the pieces of a layer that are left of a stretch. The longest part of it
// that nothing lies over is taken as it is, and what is left before and after it is
// measured apart: the stretch may touch itself, where it runs over its own end.
func (b *builder) fitted(t *track, st *stretch, layer int) []Piece {
	covers := t.covers(st)
	q0, q1, ok := b.free(st, covers)
	if !ok {
		return b.shapes(st, layer, covers)
	}
	before, after := *st, *st
	before.to, before.cuts[1], before.parted[1] = q0, nil, true
	after.from, after.cuts[0], after.parted[0] = q1, nil, true
	first, rest := b.shapes(&before, layer, covers), b.shapes(&after, layer, covers)
	n := len(first) - 1
	if n < 0 || len(rest) == 0 || math.Abs(first[n].To-q0) > onLine || math.Abs(rest[0].From-q1) > onLine {
		return b.shapes(st, layer, covers)
	}
	joined := b.joined(st, layer, first[n], rest[0])
	return append(append(first[:n], joined), rest[1:]...)
}

// free returns the ends of the longest part of a stretch that nothing lies over, off what
// does and off its mitres.
func (b *builder) free(st *stretch, covers []cover) (from, to float64, ok bool) {
	const off, least = 0.1, 0.5 // mm; of anything shorter there is no need
	first, last := st.from, st.to
	if !st.arm.ring {
		f, l := b.plain(st.arm)
		first, last = math.Max(first, f), math.Min(last, l)
	}
	stops := append(b.stops(st, covers), first, last)
	slices.Sort(stops)
	for i := range len(stops) - 1 {
		s0, s1 := stops[i]+off, stops[i+1]-off
		under := slices.ContainsFunc(covers, func(v cover) bool { return v.from < s1 && v.to > s0 })
		if !under && s0 > first && s1 < last && s1-s0 > math.Max(least, to-from) {
			from, to, ok = s0, s1, true
		}
	}
	return from, to, ok
}

// joined is the piece that two pieces are the ends of, with the whole strip between them.
func (b *builder) joined(st *stretch, layer int, first, last Piece) Piece {
	var sides [3][]geom.Edge
	for i := range sides {
		sides[i] = st.arm.side(b.lines.at[2*layer+i], first.To, last.From)
	}
	between := enclosed(append(slices.Clone(sides[2]), reversed(sides[0])...))
	p := Piece{
		From: first.From, To: last.To, Ends: [2]End{first.Ends[0], last.Ends[1]},
		Area: region.Union(first.Area, between, last.Area),
		Left: first.Left + total(sides[0]) + last.Left, Length: first.Length + total(sides[1]) + last.Length,
		Right: first.Right + total(sides[2]) + last.Right,
		At:    st.arm.point(b.lines.at[2*layer+1], (first.To+last.From)/2),
	}
	for _, more := range [][]Segment{first.Segments, segments(sides[1]), last.Segments} {
		p.Segments = followed(p.Segments, more)
	}
	return p
}

// followed is segments that go on in others.
func followed(all, more []Segment) []Segment {
	if n := len(all); n > 0 && len(more) > 0 && sameBend(all[n-1].curvature(), more[0].curvature()) {
		all[n-1].Length += more[0].Length
		more = more[1:]
	}
	return append(all, more...)
}

// shapes returns what the covers leave of a layer of a stretch, measured by its shape.
func (b *builder) shapes(st *stretch, layer int, covers []cover) []Piece {
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
		if st.ownEnd(1, to) {
			outline = append(outline, b.cutAt(st, 1, layer)...)
		}
		outline = append(outline, reversed(sides[0])...)
		if st.ownEnd(0, from) {
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
	if st.ownEnd(0, from) {
		s = st.arm.start[k]
	}
	if st.ownEnd(1, to) {
		e = st.arm.finish[k]
	}
	return s, e
}

// ownEnd reports whether a stretch's end is its arm's, at station s.
func (st *stretch) ownEnd(end int, s float64) bool {
	return s == [2]float64{st.from, st.to}[end] && st.cuts[end] == nil && !st.parted[end]
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
