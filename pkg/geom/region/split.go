package region

// Cutting edges at all their meetings.

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
)

// A cut is a place where an input edge is split: a fraction of its length, and
// the vertex there. The edge's own ends stay the first and the last, though
// another vertex may be as near to them as makes no difference.
type cut struct {
	edge  int
	t     float64
	v     int
	moved bool // the vertex is not on the edge between its ends
}

// harmless is the distance in millimetres off its line or circle by which a
// vertex may draw a piece without anything else having to be tried again: far
// above rounding, a hundredth of Coincident.
const harmless = geom.Coincident / 100

// An edgeSet is edges to be arranged, with what many questions about them need.
type edgeSet struct {
	in    []input
	edges []geom.Prepared
	index geom.Index
}

func newEdgeSet(in []input) edgeSet {
	edges := make([]geom.Prepared, len(in))
	boxes := make([]geom.Box, len(in))
	for i, e := range in {
		edges[i] = geom.Prepare(e.Edge)
		in[i].Edge = edges[i].Edge // straight if it is too flat for an arc
		boxes[i] = edges[i].Box
	}
	return edgeSet{in, edges, geom.NewIndex(boxes)}
}

// A splitter finds the cuts of edges.
type splitter struct {
	edgeSet
	ar   *arrangement
	cuts []cut
}

// split fills in the vertices and pieces. It reports whether a piece had to
// leave the edge that it is a piece of.
func (ar *arrangement) split(edges edgeSet) (moved bool) {
	in := edges.in
	s := splitter{edges, ar, make([]cut, 0, 4*len(in))}
	ar.verts.expect(2 * len(in))
	for i, e := range in {
		s.add(i, -1, 0, e.A, ar.verts.at(e.A))
		s.add(i, 1, 1, e.B, ar.verts.at(e.B))
	}
	ends := len(ar.verts.pts)
	s.meet()
	s.pass(ends)
	ar.pieces = make([]piece, 0, len(s.cuts)-len(in))
	order, starts := inGroups(len(s.cuts), len(in), func(c int) int { return s.cuts[c].edge })
	var along []cut
	for i, e := range in {
		along = along[:0]
		for _, c := range order[starts[i]:starts[i+1]] {
			along = append(along, s.cuts[c])
		}
		ar.addPieces(e, sorted(along))
	}
	return slices.ContainsFunc(ar.pieces, func(p piece) bool { return p.moved })
}

// sorted puts the cuts of one edge, its ends first, in the order along it.
func sorted(cuts []cut) []cut {
	last, between := len(cuts)-1, cuts[1:len(cuts)-1]
	end := cuts[1]
	copy(between, cuts[2:])
	cuts[last] = end
	if len(between) > 1 {
		slices.SortFunc(between, func(a, b cut) int { return cmp.Or(cmp.Compare(a.t, b.t), a.v-b.v) })
	}
	return cuts
}

// inGroups puts the numbers below n in order of their groups, which are
// numbered below groups, and within a group in their own order: those of group
// g are order[starts[g]:starts[g+1]].
func inGroups(n, groups int, of func(i int) int) (order, starts []int32) {
	starts = make([]int32, groups+1)
	for i := range n {
		starts[of(i)+1]++
	}
	for g := range groups {
		starts[g+1] += starts[g]
	}
	order = make([]int32, n)
	for i := range n {
		g := of(i)
		order[starts[g]] = int32(i)
		starts[g]++
	}
	copy(starts[1:], starts)
	starts[0] = 0
	return order, starts
}

// add cuts edge i at vertex v, near which it comes at the fraction t of its
// length, where p is.
func (s *splitter) add(i, rank int, t float64, p geom.Point, v int) {
	if rank == 0 && (s.cuts[2*i].v == v || s.cuts[2*i+1].v == v) {
		return
	}
	q := s.ar.verts.pts[v]
	if q != p {
		t = s.edges[i].Param(q)
	}
	var moved bool
	if rank == 0 {
		moved = t <= 0 || t >= 1 || s.edges[i].OffCarrier(q) > harmless
	} else {
		moved = q != p && q.Dist(p) > harmless
	}
	s.cuts = append(s.cuts, cut{i, t, v, moved})
}

// meet cuts the edges where they meet each other. Two that have not moved
// since they were last tried have no more meetings.
func (s *splitter) meet() {
	var ms []geom.Meeting
	s.index.Pairs(geom.Coincident, func(i, j int) bool {
		if !s.in[i].moved && !s.in[j].moved {
			return true
		}
		ms = s.edges[i].Places(&s.edges[j], geom.Coincident, ms[:0])
		for _, m := range ms {
			v := s.ar.verts.at(m.At)
			s.add(i, 0, m.E, m.At, v)
			s.add(j, 0, m.F, m.At, v)
		}
		return true
	})
}

// pass cuts the edges where they pass a vertex found since the first ones.
func (s *splitter) pass(first int) {
	for v := first; v < len(s.ar.verts.pts); v++ {
		p := s.ar.verts.pts[v]
		s.index.Search(geom.Box{Min: p, Max: p}.Expand(geom.Coincident), func(i int) bool {
			if t, ok := s.edges[i].Passes(p, geom.Coincident); ok {
				s.add(i, 0, t, p, v)
			}
			return true
		})
	}
}

// shortest is the length in millimetres under which a flat piece of an arc is
// taken for straight: its bulge would amplify the rounding of its ends.
const shortest = 20 * geom.Coincident

// flat is the bulge up to which that may be done: the height of a piece is
// half its bulge times its length, here at most a hundredth of Coincident.
const flat = 1e-3

// addPieces cuts up e.
func (ar *arrangement) addPieces(e input, cuts []cut) {
	quarter := math.Atan(e.Bulge)
	from := cuts[0]
	for _, to := range cuts[1:] {
		if from.v == to.v {
			continue
		}
		p := piece{a: from.v, b: to.v, src: e.src, delta: e.delta, moved: from.moved || to.moved}
		switch {
		case e.Bulge == 0:
		case from.t == 0 && to.t == 1:
			p.bulge = e.Bulge
		default:
			p.bulge = math.Max(-1, math.Min(1, math.Tan(quarter*(to.t-from.t))))
		}
		if math.Abs(p.bulge) < flat && ar.verts.pts[p.a].Dist(ar.verts.pts[p.b]) < shortest {
			p.bulge = 0
		}
		ar.pieces = append(ar.pieces, p)
		from = to
	}
}
