package inlay

// Pieces by their shape. Where a corner or another crossing lies within a crossing no
// plain cut ends a piece: it is what the upper stacks leave of its strip. What of its
// outline lies on the strip's own sides is its length; what lies between them, its ends.

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// onLine is the distance in mm within which an outline's edge lies on a side, or on a
// wall: far above what areas are worked out to, far below what is cut.
const onLine = 1e-5

// A shaped piece, as its outline is taken apart.
type shaped struct {
	st      *stretch
	span    Span // at whose joints it was cut
	area    region.Region
	edges   []geom.Edge // counter-clockwise round it
	sides   [2]sideRun  // left and right
	middle  []geom.Edge // what of the strip's middle line is in it
	offsets [3]float64  // left, middle, right
	run     [2]float64  // stations between which its middle is
}

// sideRun is what of an outline lies on one side of a strip.
type sideRun struct {
	length      float64
	first, last int     // the edges that begin and end it, as the outline runs; -1 where there are none
	from, to    float64 // stations of its two ends
}

// measured works out a piece from its shape. The covers are the upper stacks that shaped it.
func (b *builder) measured(st *stretch, layer int, area region.Region, covers []cover) Piece {
	k := 2*layer + 1
	from, to := st.within(k, st.from, st.to)
	return b.shape(st, layer, area, from, to).piece(covers)
}

// shape takes a piece's outline apart, of a strip whose middle runs between two stations.
func (b *builder) shape(st *stretch, layer int, area region.Region, from, to float64) *shaped {
	m := &shaped{st: st, span: everywhere, area: area, edges: area.Loops()[0].Edges(), run: [2]float64{from, to}}
	for i := range m.offsets {
		m.offsets[i] = b.lines.at[2*layer+i]
	}
	m.sides[0] = m.side(b.lines.at[2*layer], 2*layer, true)
	m.sides[1] = m.side(b.lines.at[2*layer+2], 2*layer+2, false)
	m.middle = inside(st.arm.side(m.offsets[1], from, to), area)
	return m
}

func (m *shaped) piece(covers []cover) Piece {
	p := Piece{Area: m.area, Left: m.sides[0].length, Right: m.sides[1].length, Length: total(m.middle), Segments: segments(m.middle)}
	p.From, p.To = m.stations()
	for at := range p.Ends {
		p.Ends[at] = m.end(at, covers)
	}
	p.At = m.inner()
	return p
}

// side gathers the edges that lie on line k, at offset d; back says that the outline runs
// along it backwards, as it does on the left.
func (m *shaped) side(d float64, k int, back bool) sideRun {
	run := sideRun{first: -1, last: -1, from: math.Inf(1), to: math.Inf(-1)}
	s0, s1 := m.st.within(k, m.st.from, m.st.to)
	for i, e := range m.edges {
		if e.Length() < onLine {
			continue
		}
		a, okA := m.st.arm.station(d, e.A, s0, s1)
		mid, okM := m.st.arm.station(d, e.Mid(), s0, s1)
		b, okB := m.st.arm.station(d, e.B, s0, s1)
		if !okA || !okM || !okB || back && (a < mid || mid < b) || !back && (a > mid || mid > b) {
			continue
		}
		run.length += e.Length()
		if back {
			a, b = b, a
		}
		ends := [2]*int{&run.first, &run.last} // at its beginning and its end along the strand
		if back {
			ends[0], ends[1] = ends[1], ends[0]
		}
		if a < run.from {
			run.from, *ends[0] = a, i
		}
		if b > run.to {
			run.to, *ends[1] = b, i
		}
	}
	return run
}

// station is where p lies on the parallel at offset d, between two stations of it.
func (a *arm) station(d float64, p geom.Point, s0, s1 float64) (s float64, ok bool) {
	first, _ := a.locate(s0 - onLine)
	last, _ := a.locate(s1 + onLine)
	for k := first; k <= last; k++ {
		e := a.parallel(k, d)
		t := e.Param(p)
		s = a.at[k] + t*a.length(k)
		if s > s0-onLine && s < s1+onLine && e.At(t).Near(p, onLine) {
			return s, true
		}
	}
	return 0, false
}

// inside is what of edges that follow one another lies in an area.
func inside(edges []geom.Edge, area region.Region) (kept []geom.Edge) {
	for _, e := range edges {
		cuts := []float64{0, 1}
		for _, loop := range area.Loops() {
			for _, o := range loop.Edges() {
				for _, x := range geom.Crossings(e, o, geom.Coincident) {
					cuts = append(cuts, x.E)
				}
			}
		}
		slices.Sort(cuts)
		for i := range len(cuts) - 1 {
			if (cuts[i+1]-cuts[i])*e.Length() > stationTie && area.Contains(e.At((cuts[i]+cuts[i+1])/2)) {
				kept = append(kept, e.Part(cuts[i], cuts[i+1]))
			}
		}
	}
	return kept
}

// stations is how far along the strand the piece runs: as its middle does, and failing that
// its sides.
func (m *shaped) stations() (from, to float64) {
	if n := len(m.middle); n > 0 {
		from, _ = m.st.arm.station(m.offsets[1], m.middle[0].A, m.run[0], m.run[1])
		to, _ = m.st.arm.station(m.offsets[1], m.middle[n-1].B, m.run[0], m.run[1])
		return from, to
	}
	from, to = math.Min(m.sides[0].from, m.sides[1].from), math.Max(m.sides[0].to, m.sides[1].to)
	if from > to { // neither: a splinter between two stacks
		return m.st.from, m.st.to
	}
	return from, to
}

// end describes the end at From or To.
func (m *shaped) end(at int, covers []cover) End {
	cut, right, left := m.cut(at)
	along := m.along(at)
	why := m.cause(at, cut, covers)
	e := endOf(why.Kind, along, right, left, cut, at == 1)
	e.On, e.Tee, e.Joint = why.On, why.Tee, why.Joint
	return e
}

// cut is the edges of an end, from the right side to the left one, and the two points
// between which they lie. Where a side is missing the ends meet in a point.
func (m *shaped) cut(at int) (cut []geom.Edge, right, left geom.Point) {
	l, r := m.sides[0], m.sides[1]
	switch {
	case l.first < 0 && r.first < 0:
		return m.splinter(at)
	case l.first < 0:
		cut = m.upTo(at, r)
	case r.first < 0:
		cut = m.upTo(at, l)
	case at == 1:
		cut = m.between(r.last, l.first)
	default:
		cut = m.between(l.last, r.first)
	}
	if len(cut) == 0 { // the sides meet
		p := m.edges[r.first].A
		if at == 1 {
			p = m.edges[r.last].B
		}
		return nil, p, p
	}
	if at == 0 {
		cut = reversed(cut)
	}
	return cut, cut[0].A, cut[len(cut)-1].B
}

// between is the edges after number i and before number k.
func (m *shaped) between(i, k int) (list []geom.Edge) {
	n := len(m.edges)
	for i = (i + 1) % n; i != k; i = (i + 1) % n {
		list = append(list, m.edges[i])
	}
	return list
}

// upTo is the edges of one end where there is one side alone, between it and the tip: what
// is the furthest from that side.
func (m *shaped) upTo(at int, only sideRun) []geom.Edge {
	others := m.between(only.last, only.first)
	if len(others) == 1 { // one cut from end to end of the side: its middle is the tip
		others = []geom.Edge{others[0].Part(0, 0.5), others[0].Part(0.5, 1)}
	}
	tip, most := 0, -1.0
	for i, e := range others[:max(0, len(others)-1)] {
		far := math.Inf(1)
		for k, s := range m.edges {
			if k == only.first || k == only.last {
				far = math.Min(far, s.Dist(e.B))
			}
		}
		if far > most {
			tip, most = i+1, far
		}
	}
	// The outline comes from the side's end to the tip and back to its beginning: along the
	// right side that is first the end ahead, along the left one the end behind.
	if isRight := only == m.sides[1]; isRight == (at == 1) {
		return others[:tip]
	}
	return others[tip:]
}

// splinter is the end of a piece with nothing of either side: half of its outline.
func (m *shaped) splinter(at int) (cut []geom.Edge, right, left geom.Point) {
	t := m.st.arm.tangent((m.st.from + m.st.to) / 2)
	if len(m.middle) > 0 {
		t = m.middle[0].Tangent(0)
	}
	low, high := 0, 0 // the vertices furthest to the right and to the left
	for i, e := range m.edges {
		side := func(p geom.Point) float64 { return p.Dot(t.Left()) }
		if side(e.A) < side(m.edges[low].A) {
			low = i
		}
		if side(e.A) > side(m.edges[high].A) {
			high = i
		}
	}
	right, left = m.edges[low].A, m.edges[high].A
	n := len(m.edges)
	if at == 1 {
		return m.between((low+n-1)%n, high), right, left
	}
	return reversed(m.between((high+n-1)%n, low)), right, left
}

// along is the direction of travel at an end.
func (m *shaped) along(at int) geom.Point {
	if n := len(m.middle); n > 0 {
		return [2]geom.Point{m.middle[0].Tangent(0), m.middle[n-1].Tangent(1)}[at]
	}
	from, to := m.stations()
	return m.st.arm.tangent([2]float64{from, to}[at])
}

// cause is what an end is cut against: the stacks that its edges run along and the joint, and
// the kind of most of its length.
func (m *shaped) cause(at int, cut []geom.Edge, covers []cover) (e End) {
	own, against, joint := 0.0, 0.0, 0.0
	for _, c := range cut {
		if m.span.on(c) {
			joint += c.Length()
			e.Joint = true
			continue
		}
		u := underAt(covers, c.Mid())
		if u == nil {
			own += c.Length()
			continue
		}
		against += c.Length()
		e.Tee = u.tee
		if !slices.Contains(e.On, u.on()) {
			e.On = append(e.On, u.on())
		}
	}
	switch e.Kind = m.st.arm.ends[at]; {
	case joint > math.Max(own, against):
		e.Kind = EndJoint
	case against > own || e.Kind == EndSquare:
		e.Kind = EndButt
	}
	return e
}

// underAt is the first upper stack on whose wall p lies.
func underAt(covers []cover, p geom.Point) *under {
	for _, v := range covers {
		for _, wall := range v.c.walls {
			for _, e := range wall {
				if e.Dist(p) < onLine {
					return v.c
				}
			}
		}
	}
	return nil
}

// inner is a point of the piece: the middle of its middle line, and failing that half-way
// from a side to the far tip.
func (m *shaped) inner() geom.Point {
	half := total(m.middle) / 2
	for _, e := range m.middle {
		if half <= e.Length() {
			return e.At(half / e.Length())
		}
		half -= e.Length()
	}
	side := m.edges[max(0, m.sides[0].first, m.sides[1].first)].Mid()
	tip := side
	for _, e := range m.edges {
		if e.A.Dist(side) > tip.Dist(side) {
			tip = e.A
		}
	}
	return side.Lerp(tip, 0.3)
}
