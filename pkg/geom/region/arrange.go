package region

// The arrangement of a set of edges: the plane cut up along them, with the
// winding numbers of every face. All areas in this package are made with it.
//
// Method: every edge is split at all its meetings with the others, found
// through a spatial index; ends within geom.Coincident become one vertex; an
// edge that passes a vertex within that distance is split there too. Where a
// vertex drew a piece off its edge, that piece is tried against all others once
// more, until nothing moves. Pieces between the same two vertices that are
// nowhere further apart than Coincident are one piece, and their changes of
// winding add up. The pieces round each vertex are ordered by where they cross
// a small circle about it, and those that leave in nearly one direction by
// where the shorter one ends: there they are apart, or the longer one would be
// split. Winding numbers are then handed on from side to side round the
// vertices, from one ray per connected component, cast where there is room.
// (Elementary topology of planar maps; the ordering and the merging by normal
// distance are our own answer to tangency.)

import (
	"cmp"
	"slices"

	"strapwork/pkg/geom"
)

// operands is the number of areas that one arrangement can distinguish.
const operands = 2

// winding holds a winding number, or a change of one, for each operand.
type winding [operands]int32

func (w winding) plus(x winding) winding { return winding{w[0] + x[0], w[1] + x[1]} }

func (w winding) minus(x winding) winding { return winding{w[0] - x[0], w[1] - x[1]} }

// An input is an edge to cut the plane along. The winding number on its left
// is that on its right plus delta.
type input struct {
	geom.Edge
	delta winding
	src   int  // its number in arrangement.src
	moved bool // not yet tried against all others as it is now
}

// boundary is e as an edge of one operand's boundary, with the operand on its
// left.
func boundary(e geom.Edge, operand int) input {
	in := input{Edge: e}
	in.delta[operand] = 1
	return in
}

// A piece is a stretch of an input edge between two vertices that no other
// piece crosses. Seen from the direction a to b, the winding number on the
// left is that on the right plus delta.
type piece struct {
	a, b   int
	bulge  float64
	src    int // the edge it came from
	delta  winding
	left   winding
	right  winding
	known  bool
	moved  bool // it is not quite the stretch of the edge that it came from
	merged bool // counted in another piece, and to be left out
}

// A half is one of the two directions of a piece: 2p runs from a to b of piece
// p, 2p+1 from b to a. It is filed at the vertex it leaves.
type half int

func (h half) piece() int { return int(h) >> 1 }

func (h half) twin() half { return h ^ 1 }

type arrangement struct {
	src      []input // the edges as given
	verts    vertices
	pieces   []piece
	shapes   []geom.Prepared // of the pieces, once they are final
	out      [][]half        // by vertex, counter-clockwise
	pos      []int           // by half: its place in out
	rays     rayIndex
	doubtful int // pieces whose winding numbers contradict their neighbours'
}

// settling is how often an arrangement is made again. Ends that are made one
// vertex move by up to Coincident and take their pieces along, which then may
// pass vertices and pieces that they did not. Rounding alone moves nothing
// that far: one round does for exact scenes, two or three for those made of
// nothing but noise.
const settling = 8

// arrange cuts up the plane along the edges of in.
func arrange(in []input) *arrangement { return prepare(in).arrange() }

// prepare makes a set of edges given from outside.
func prepare(in []input) edgeSet {
	for i := range in {
		in[i].src, in[i].moved = i, true
	}
	return newEdgeSet(in)
}

// arrange cuts up the plane along the edges of s.
func (s edgeSet) arrange() *arrangement {
	src := s.in
	for round := 1; ; round++ {
		ar := &arrangement{src: src}
		moved := ar.split(s)
		ar.mergeCoincident()
		if !moved || round == settling {
			ar.sortRounds()
			ar.wind()
			return ar
		}
		s = newEdgeSet(ar.asInput())
	}
}

// asInput returns the pieces as edges to be arranged once more.
func (ar *arrangement) asInput() []input {
	in := make([]input, len(ar.pieces))
	for i, p := range ar.pieces {
		in[i] = input{ar.edge(half(2 * i)), p.delta, p.src, p.moved}
	}
	return in
}

// edge returns the geometry of h.
func (ar *arrangement) edge(h half) geom.Edge {
	p := &ar.pieces[h.piece()]
	e := geom.Edge{A: ar.verts.pts[p.a], B: ar.verts.pts[p.b], Bulge: p.bulge}
	if h&1 == 1 {
		return e.Reverse()
	}
	return e
}

// from and to are the vertices at which h begins and ends.
func (ar *arrangement) from(h half) int {
	if h&1 == 1 {
		return ar.pieces[h.piece()].b
	}
	return ar.pieces[h.piece()].a
}

func (ar *arrangement) to(h half) int { return ar.from(h.twin()) }

// mergeCoincident joins pieces that are the same curve, and drops those that
// no longer bound anything.
func (ar *arrangement) mergeCoincident() {
	order, starts := inGroups(len(ar.pieces), len(ar.verts.pts), func(i int) int { return min(ar.pieces[i].a, ar.pieces[i].b) })
	for v := range ar.verts.pts {
		group := order[starts[v]:starts[v+1]]
		if len(group) > 1 {
			slices.SortFunc(group, func(i, j int32) int {
				p, q := &ar.pieces[i], &ar.pieces[j]
				return cmp.Or(max(p.a, p.b)-max(q.a, q.b), int(i-j))
			})
		}
		for k, i := range group {
			ar.mergeInto(int(i), group[:k])
		}
	}
	ar.pieces = slices.DeleteFunc(ar.pieces, func(p piece) bool { return p.merged || p.delta == winding{} })
}

// mergeInto adds piece i to the last of the earlier ones that is the same curve, if there is one.
func (ar *arrangement) mergeInto(i int, earlier []int32) {
	p := &ar.pieces[i]
	// Those with the same two ends come just before.
	for k := len(earlier) - 1; k >= 0 && ar.joinsSame(i, int(earlier[k])); k-- {
		if q := &ar.pieces[earlier[k]]; !q.merged && ar.coincide(*p, *q) {
			if q.a == p.a {
				q.delta = q.delta.plus(p.delta)
			} else {
				q.delta = q.delta.minus(p.delta)
			}
			p.merged = true
			return
		}
	}
}

// joinsSame reports whether pieces i and j have the same two ends.
func (ar *arrangement) joinsSame(i, j int) bool {
	p, q := &ar.pieces[i], &ar.pieces[j]
	return (p.a == q.a && p.b == q.b) || (p.a == q.b && p.b == q.a)
}

// coincide reports whether two pieces with the same two ends are one curve.
func (ar *arrangement) coincide(p, q piece) bool {
	if p.bulge == 0 && q.bulge == 0 {
		return true
	}
	e := geom.Edge{A: ar.verts.pts[p.a], B: ar.verts.pts[p.b], Bulge: p.bulge}
	f := geom.Edge{A: ar.verts.pts[q.a], B: ar.verts.pts[q.b], Bulge: q.bulge}
	return e.Mid().Near(f.Mid(), 2*geom.Coincident)
}
