package inlay

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/unit"
)

// pieces returns the pieces of one layer of a strand, by distance along it.
func (b *builder) pieces(t *track, layer int) []Piece {
	var all []Piece
	for i := range t.stretches {
		st := &t.stretches[i]
		ps := b.piecesOf(t, st, layer)
		for k := range ps {
			ps[k].Stretch = i
		}
		all = append(all, ps...)
	}
	return all
}

// piecesOf returns those of one stretch.
func (b *builder) piecesOf(t *track, st *stretch, layer int) []Piece {
	switch {
	case len(st.others) > 0:
		return b.fitted(t, st, layer)
	case st.arm.ring && st.cuts[0] == nil:
		return []Piece{b.ring(st.arm, layer)}
	}
	p, state := b.plainPiece(st, layer)
	switch {
	case state == whole:
		return []Piece{p}
	case st.cuts[0] != nil || st.cuts[1] != nil:
		return b.fitted(t, st, layer)
	}
	b.tooShort(t, st.arm)
	if state == tip {
		return []Piece{p}
	}
	return nil
}

// ring is the whole of one layer of a closed strand without corners or unders.
func (b *builder) ring(a *arm, layer int) Piece {
	var sides [3][]geom.Edge
	var lengths [3]float64
	for i := range sides {
		sides[i] = a.side(b.lines.at[2*layer+i], 0, a.lap())
		lengths[i] = total(sides[i])
	}
	right := geom.Chain(true, sides[2]...)
	left := geom.Chain(true, sides[0]...)
	return Piece{
		To: a.lap(), Area: region.New(right, left.Reverse()),
		Left: lengths[0], Length: lengths[1], Right: lengths[2],
		Segments: segments(sides[1]), At: sides[1][0].A,
		Ends: [2]End{{Kind: EndSquare, Angle: math.Pi / 2}, {Kind: EndSquare, Angle: math.Pi / 2}},
	}
}

func total(edges []geom.Edge) float64 {
	sum := 0.0
	for _, e := range edges {
		sum += e.Length()
	}
	return sum
}

// span is the stations from which to which line k of a stretch is seen.
func (st *stretch) span(k int) (from, to float64) {
	from, to = st.arm.start[k], st.arm.finish[k]
	if c := st.cuts[0]; c != nil {
		from = st.from + c.ahead[k].ds
	}
	if c := st.cuts[1]; c != nil {
		to = st.to + c.behind[k].ds
	}
	return from, to
}

// shape says what the ends of a stretch leave of a strip.
type shape int

const (
	whole   shape = iota // both sides and the middle
	tip                  // a triangle with one side
	nothing              // neither side
)

// plainPiece is the piece of a layer in a stretch whose ends are cut by its
// own unders and mitres alone. What its ends leave is reported with it.
func (b *builder) plainPiece(st *stretch, layer int) (Piece, shape) {
	var sides [3][]geom.Edge
	var from, to [3]float64
	gone := 0
	for i := range sides {
		k := 2*layer + i
		from[i], to[i] = st.span(k)
		sides[i] = st.arm.side(b.lines.at[k], from[i], to[i])
		if to[i]-from[i] <= stationTie {
			gone++
		}
	}
	if gone > 0 {
		return b.tipPiece(st, layer, sides[0], sides[2])
	}
	p := Piece{
		From: from[1], To: to[1],
		Left: total(sides[0]), Length: total(sides[1]), Right: total(sides[2]),
		Segments: segments(sides[1]),
	}
	p.At = st.arm.point(b.lines.at[2*layer+1], (from[1]+to[1])/2)
	outline := append([]geom.Edge(nil), sides[2]...)
	finish, start := b.cutAt(st, 1, layer), b.cutAt(st, 0, layer)
	outline = append(outline, finish...)
	outline = append(outline, reversed(sides[0])...)
	outline = append(outline, reversed(start)...)
	p.Area = enclosed(outline)
	l, m, r := sides[0], sides[1], sides[2]
	p.Ends[0] = b.end(st, 0, layer, m[0].Tangent(0), r[0].A, l[0].A, start)
	p.Ends[1] = b.end(st, 1, layer, m[len(m)-1].Tangent(1), r[len(r)-1].B, l[len(l)-1].B, finish)
	return p, whole
}

// end describes an end of a plain piece.
func (b *builder) end(st *stretch, at, layer int, along, right, left geom.Point, cut []geom.Edge) End {
	kind := st.arm.ends[at]
	c := st.cuts[at]
	if c != nil {
		kind = EndButt
	}
	e := endOf(kind, along, right, left, cut, at == 1)
	if c != nil {
		e.On, e.Tee = []On{c.on()}, c.tee
	}
	return e
}

// cutAt is the cut at an end of a layer, from its right side to its left one: along an
// upper stack, or the mitre at a corner; none at the strand's own ends.
func (b *builder) cutAt(st *stretch, end, layer int) []geom.Edge {
	c := st.cuts[end]
	if c == nil {
		if st.arm.ends[end] != EndMitre {
			return nil
		}
		return []geom.Edge{b.mitreCut(st.arm, end, layer)}
	}
	exits := c.ahead
	if end == 1 {
		exits = c.behind
	}
	return c.cut(exits[2*layer+2], exits[2*layer])
}

// mitreCut is the mitre of a layer at an end of an arm, from its right side to its left one.
// Its true curve has all places that are as far from both arms' centre lines; between the
// sides of a strip or a lay-up the arc through its middle is that within micrometres.
func (b *builder) mitreCut(a *arm, end, layer int) geom.Edge {
	var at [3]geom.Point
	for i := range at {
		k := 2*layer + i
		at[i] = a.point(b.lines.at[k], [2]float64{a.start[k], a.finish[k]}[end])
	}
	return through(at[2], at[1], at[0])
}

// through is the arc from a to b that passes through m, a straight where m is between
// them to less than a micrometre.
func through(a, m, b geom.Point) geom.Edge {
	const flat = 1e-6
	e := geom.Line(a, b)
	if math.Abs(m.Sub(a).Cross(b.Sub(a).Unit())) > flat {
		// The chords to m and on turn by half of the arc's own turn (Euclid III 20).
		u, v := m.Sub(a), b.Sub(m)
		e.Bulge = math.Tan(math.Atan2(u.Cross(v), u.Dot(v)) / 2)
	}
	return e
}

// tipPiece is the triangle that two mitres leave of a layer where they meet
// within it.
func (b *builder) tipPiece(st *stretch, layer int, left, right []geom.Edge) (Piece, shape) {
	area := b.tipArea(st, layer, left, right)
	if area.Empty() {
		return Piece{}, nothing
	}
	return b.measured(st, layer, area, nil), tip
}

func (b *builder) tipArea(st *stretch, layer int, left, right []geom.Edge) region.Region {
	if st.cuts[0] != nil || st.cuts[1] != nil || (len(left) == 0) == (len(right) == 0) {
		return region.Region{}
	}
	start, finish := b.mitreCut(st.arm, 0, layer), b.mitreCut(st.arm, 1, layer)
	ms := geom.Crossings(start, finish, geom.Coincident)
	if len(ms) == 0 {
		return region.Region{}
	}
	at := ms[0]
	if len(left) > 0 {
		return enclosed(append(reversed(left), start.Part(at.E, 1).Reverse(), finish.Part(at.F, 1)))
	}
	return enclosed(append(slices.Clone(right), finish.Part(0, at.F), start.Part(0, at.E).Reverse()))
}

func (b *builder) tooShort(t *track, a *arm) {
	if a.short {
		return
	}
	a.short = true
	st := b.motif.Strands[t.strand]
	mid := (a.begin() + a.end()) / 2
	s := mid
	if t.closed {
		s = math.Mod(mid, t.length)
	}
	src := b.motif.Sources[st.Source(s)]
	p := a.point(0, mid)
	place(b.found.Warnf(src.Key, "strip-short", "%s is only %s long between its corners near %s: some strips have no room there for both their mitres",
		src.Name, unit.Len(a.end()-a.begin()), said(b.tops, p)), b.tops, p).
		Hintf("lengthen it, or use thinner strips")
}

// segments lists the straights and bends of a centre line, those that go on
// with one curvature as one. What is as short as a splinter goes with what is beside it.
func segments(edges []geom.Edge) []Segment {
	var all []Segment
	bend, before := 0.0, 0.0
	for i, e := range edges {
		n := len(all)
		if i > 0 && e.Tangent(0).Dot(edges[i-1].Tangent(1)) > 0 {
			if sameBend(e.Curvature(), bend) || e.Length() < leastPiece {
				all[n-1].Length += e.Length()
				continue
			}
			if all[n-1].Length < leastPiece {
				before, all = all[n-1].Length, all[:n-1]
			}
		}
		bend = e.Curvature()
		s := Segment{Length: before + e.Length()}
		if before = 0; bend != 0 {
			s.Radius = 1 / bend
		}
		all = append(all, s)
	}
	return all
}

// curvature is 1/Radius, 0 for a straight.
func (g Segment) curvature() float64 {
	if g.Radius == 0 {
		return 0
	}
	return 1 / g.Radius
}

// sameBend reports whether two curvatures are one bend: over 100 mm the two
// arcs part by less than a thousandth of a millimetre.
func sameBend(a, b float64) bool {
	const leastStep = 2 * 0.001 / (100 * 100) // sagitta L^2/2 times the difference
	return math.Abs(a-b) < leastStep
}
