package weave

// Meetings are found edge by edge through a spatial index, then gathered:
// where a strand has a vertex, one crossing shows up as a meeting with the
// edge before and one with the edge after. A gathered meeting away from
// vertices is what the edges say it is. At a vertex the strands are probed a
// little before and after it: they cross if their four arms alternate.

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
)

// gather is the distance in mm along both strands within which two meetings
// are one: an end within motif.Same of an edge that it meets at 3 degrees is
// as far as this from the point where the lines cross. It grows as the angle
// gets less, up to gatherMost at about a tenth of a degree.
const (
	gather     = 0.02
	gatherMost = 1.0
)

// probe is the distance from a vertex at which the arms of two strands are
// compared, in gathering distances: well outside those, and for all but the
// flattest crossings well inside a groove's width.
const probe = 5

// probeTie is the angle under which two arms cannot be distinguished, when their
// common point is only known to motif.Same: strands that leave each other so
// slowly run into one another along their sides, whichever way they go on.
const probeTie = motif.Same / (probe * gather)

// A spot is a place on a strand. Within motif.Same of a vertex it is the
// vertex, and edge the edge that begins there.
type spot struct {
	strand int
	s      float64
	edge   int
	vertex bool
	end    end
}

// end distinguishes the free ends of an open strand from all other places on it.
type end int

const (
	middle end = iota
	startEnd
	finishEnd
)

func compareSpots(a, b spot) int {
	return cmp.Or(cmp.Compare(a.strand, b.strand), cmp.Compare(a.s, b.s))
}

// A meeting is a common point of two edges, a's spot being the earlier.
type meeting struct {
	at      geom.Point
	a, b    spot
	kind    geom.Kind
	reach   float64 // within which other meetings are this one, in mm
	sources [2]int  // of the edges that meet
}

// An edgeRef is one edge of one strand.
type edgeRef struct {
	geom.Edge
	strand, index int
}

// finder holds the motif's edges and an index of them.
type finder struct {
	motif motif.Motif
	edges []edgeRef
	index geom.Index
}

func newFinder(m motif.Motif) finder {
	f := finder{motif: m}
	var boxes []geom.Box
	for i, s := range m.Strands {
		for k, e := range s.Contour.Edges() {
			f.edges = append(f.edges, edgeRef{e, i, k})
			boxes = append(boxes, e.Bounds())
		}
	}
	f.index = geom.NewIndex(boxes)
	return f
}

// spotAt is the place at the fraction t of an edge.
func (f finder) spotAt(e edgeRef, t float64) spot {
	st := f.motif.Strands[e.strand]
	from, to := st.Offsets()[e.index], st.Offsets()[e.index+1]
	p := spot{strand: e.strand, s: from + t*(to-from), edge: e.index}
	switch {
	case p.s-from <= motif.Same:
		p.s, p.vertex = from, true
	case to-p.s <= motif.Same:
		p.s, p.vertex, p.edge = to, true, e.index+1
	}
	last := st.Contour.Len()
	switch {
	case st.Contour.Closed && p.edge == last:
		p.s, p.edge = 0, 0
	case st.Contour.Closed:
	case p.vertex && p.edge == 0:
		p.end = startEnd
	case p.edge == last:
		p.end, p.edge = finishEnd, last-1
	}
	return p
}

// mostMeetings bounds how often a motif's edges may meet: five times what the
// closest plait of a table top has, and some seconds' work.
const mostMeetings = 20_000

// meetings returns all meetings of edges, in the order of their spots. A
// strand does not meet itself where one of its edges follows the other. ok is
// false if there are more than mostMeetings, and they are not all.
func (f finder) meetings() (all []meeting, ok bool) {
	f.index.Pairs(motif.Same, func(i, j int) bool {
		e, g := f.edges[i], f.edges[j]
		for _, m := range common(e.Edge, g.Edge) {
			a, b := f.spotAt(e, m.E), f.spotAt(g, m.F)
			if a.strand == b.strand && a.s == b.s {
				continue
			}
			n := meeting{m.At, a, b, m.Kind, reach(e.Edge, g.Edge, m), [2]int{f.source(e), f.source(g)}}
			if compareSpots(a, b) > 0 {
				n.a, n.b = b, a
			}
			all = append(all, n)
		}
		return len(all) <= mostMeetings
	})
	if len(all) > mostMeetings {
		return nil, false
	}
	slices.SortFunc(all, func(m, n meeting) int {
		return cmp.Or(compareSpots(m.a, n.a), compareSpots(m.b, n.b), cmp.Compare(m.kind, n.kind),
			slices.Compare(m.sources[:], n.sources[:]))
	})
	return all, true
}

// reach is how far from the crossing of two edges' curves one of them may be
// within motif.Same of the other, rounded up.
func reach(e, f geom.Edge, m geom.Meeting) float64 {
	sin := math.Abs(e.Tangent(m.E).Cross(f.Tangent(m.F)))
	return min(max(gather, motif.Same/max(sin, motif.Same/gatherMost)), gatherMost)
}

// common are the meetings of two edges. Where two edges end near their crossing
// each end may be within motif.Same of the other edge, and what lies between
// runs on top of it for no more than that may be: that is no overlap, whatever else
// it is.
func common(e, f geom.Edge) []geom.Meeting {
	ms := geom.Crossings(e, f, motif.Same)
	for i, m := range ms {
		if m.Kind == geom.Overlap && !slices.ContainsFunc(ms, func(n geom.Meeting) bool {
			return n.Kind == geom.Overlap && !n.At.Near(m.At, 2*reach(e, f, m))
		}) {
			ms[i].Kind = geom.Cross
		}
	}
	return ms
}

func (f finder) source(e edgeRef) int { return f.motif.Strands[e.strand].Sources[e.index] }

// A cluster is the meetings of two passages at one place.
type cluster []meeting

// clusters gathers meetings of the same two passages, and lists pairs of
// clusters, by index, that lie at one point: three passages or more.
func (f finder) clusters(all []meeting) (gathered []cluster, concurrent [][2]int) {
	points := make([]geom.Box, len(all))
	group := make([]int, len(all))
	for i, m := range all {
		points[i] = geom.Box{Min: m.at, Max: m.at}
		group[i] = i
	}
	var onePoint [][2]int
	furthest := gather
	for _, m := range all {
		furthest = max(furthest, m.reach)
	}
	geom.NewIndex(points).Pairs(2*furthest, func(i, j int) bool {
		if f.samePassages(all[i], all[j]) {
			unite(group, i, j)
		} else if all[i].at.Near(all[j].at, motif.Same) {
			onePoint = append(onePoint, [2]int{i, j})
		}
		return true
	})
	number := make([]int, len(all))
	for i := range all {
		if r := root(group, i); r == i {
			number[i] = len(gathered)
			gathered = append(gathered, cluster{all[i]})
		} else {
			number[i] = number[r]
			gathered[number[i]] = append(gathered[number[i]], all[i])
		}
	}
	for _, p := range onePoint {
		if a, b := number[p[0]], number[p[1]]; a != b {
			concurrent = append(concurrent, [2]int{min(a, b), max(a, b)})
		}
	}
	slices.SortFunc(concurrent, func(p, q [2]int) int { return slices.Compare(p[:], q[:]) })
	return gathered, slices.Compact(concurrent)
}

// samePassages reports whether two meetings are of the same two passages. On a
// closed strand a place just before its start sorts as its last, so either
// order will do.
func (f finder) samePassages(m, n meeting) bool {
	d := max(m.reach, n.reach)
	return f.close(m.a, n.a, d) && f.close(m.b, n.b, d) || f.close(m.a, n.b, d) && f.close(m.b, n.a, d)
}

// close reports whether two spots are one passage, within a distance.
func (f finder) close(p, q spot, within float64) bool {
	if p.strand != q.strand {
		return false
	}
	d := math.Abs(p.s - q.s)
	if st := f.motif.Strands[p.strand]; st.Contour.Closed {
		d = math.Min(d, st.Length()-d)
	}
	return d <= within
}

func root(group []int, i int) int {
	for group[i] != i {
		group[i] = group[group[i]]
		i = group[i]
	}
	return i
}

func unite(group []int, a, b int) {
	a, b = root(group, a), root(group, b)
	group[max(a, b)] = min(a, b)
}

// main is the meeting that stands for the cluster: one at a free end if there
// is one, else the one at most vertices.
func (c cluster) main() meeting {
	weight := func(p spot) int {
		switch {
		case p.end != middle:
			return 4
		case p.vertex:
			return 1
		}
		return 0
	}
	return slices.MaxFunc(c, func(m, n meeting) int {
		return cmp.Compare(weight(m.a)+weight(m.b), weight(n.a)+weight(n.b))
	})
}

// has reports whether any meeting of the cluster is of a kind.
func (c cluster) has(k geom.Kind) bool {
	return slices.ContainsFunc(c, func(m meeting) bool { return m.kind == k })
}

// classify says whether the passages of a cluster cross, touch or overlap,
// and if they cross, whether the second leaves to the left of the first.
func (f finder) classify(c cluster) (kind geom.Kind, left bool) {
	m := c.main()
	switch {
	case c.has(geom.Overlap):
		return geom.Overlap, false
	case c.has(geom.Touch):
		return geom.Touch, false
	case !m.a.vertex && !m.b.vertex && len(c) == 1:
		return geom.Cross, f.tangent(m.a).Cross(f.tangent(m.b)) > 0
	}
	d := 0.0
	for _, n := range c {
		d = max(d, probe*n.reach)
	}
	out := f.near(m.a, d).Sub(m.at).Angle()
	in := turnFrom(out, f.near(m.a, -d).Sub(m.at))
	outB := turnFrom(out, f.near(m.b, d).Sub(m.at))
	inB := turnFrom(out, f.near(m.b, -d).Sub(m.at))
	for _, b := range [2]float64{outB, inB} {
		if b < probeTie || b > 2*math.Pi-probeTie || math.Abs(b-in) < probeTie {
			return geom.Touch, false
		}
	}
	if (outB < in) == (inB < in) {
		return geom.Touch, false
	}
	return geom.Cross, outB < in
}

// turnFrom is the angle in [0, 2 pi) from the direction start,
// counter-clockwise, to that of v.
func turnFrom(start float64, v geom.Point) float64 {
	a := v.Angle() - start
	if a < 0 {
		a += 2 * math.Pi
	}
	return a
}

// near is the point of p's strand at the distance d from p along it.
func (f finder) near(p spot, d float64) geom.Point {
	st := f.motif.Strands[p.strand]
	s, l := p.s+d, st.Length()
	if st.Contour.Closed {
		s = math.Mod(s+l, l)
	}
	i := st.Edge(s)
	from, to := st.Offsets()[i], st.Offsets()[i+1]
	return st.Contour.Edge(i).At((s - from) / (to - from))
}

// tangent is the direction of travel at p.
func (f finder) tangent(p spot) geom.Point {
	st := f.motif.Strands[p.strand]
	from, to := st.Offsets()[p.edge], st.Offsets()[p.edge+1]
	return st.Contour.Edge(p.edge).Tangent((p.s - from) / (to - from))
}
