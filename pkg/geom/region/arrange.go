package region

// The arrangement of a set of edges: the plane cut up along them, with the
// winding numbers of every face. All areas in this package are made with it.
//
// Method: every edge is split at all its meetings with the others, found
// through a spatial index; ends within geom.Coincident become one vertex; an
// edge that passes a vertex within that distance is split there too; pieces
// between the same two vertices that are nowhere further apart than that are
// one piece, and their changes of winding add up. The pieces round each vertex
// are ordered by where they cross a small circle about it, which decides
// tangent arcs by what they do a little further on instead of by an angle that
// is the same for both. Winding numbers are then handed on from side to side
// round the vertices, from one ray per connected component.
// (Elementary topology of planar maps; the circle ordering and the merging by
// normal distance are our own answer to tangency.)

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
)

// operands is the number of areas that one arrangement can tell apart.
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
	src   int // its number in arrangement.src
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
	a, b  int
	bulge float64
	src   int // the edge it came from
	delta winding
	left  winding
	right winding
	known bool
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
	out      [][]half // by vertex, counter-clockwise
	pos      []int    // by half: its place in out
	rays     rayIndex
	doubtful int // pieces whose winding numbers contradict their neighbours'
}

// settling is how often an arrangement is made again. Ends that are made one
// vertex move by up to Coincident and take their pieces along, which then may
// cross where they did not. One or two rounds settle all but scenes made of
// nothing but noise.
const settling = 6

// arrange cuts up the plane along the edges of in.
func arrange(in []input) *arrangement {
	for i := range in {
		in[i].src = i
	}
	todo := in
	for round := 1; ; round++ {
		ar := &arrangement{src: in}
		ar.split(todo)
		ar.mergeCoincident()
		ar.sortRounds()
		ar.wind()
		if ar.doubtful == 0 || round == settling {
			return ar
		}
		todo = ar.asInput()
	}
}

// asInput returns the pieces as edges to be arranged once more.
func (ar *arrangement) asInput() []input {
	in := make([]input, len(ar.pieces))
	for i, p := range ar.pieces {
		in[i] = input{ar.edge(half(2 * i)), p.delta, p.src}
	}
	return in
}

// A cut is a place where an input edge is split: a fraction of its length, and
// the vertex there.
type cut struct {
	t float64
	v int
}

// split fills in the vertices and pieces.
func (ar *arrangement) split(in []input) {
	boxes := make([]geom.Box, len(in))
	cuts := make([][]cut, len(in))
	for i, e := range in {
		boxes[i] = e.Bounds()
		cuts[i] = []cut{{0, ar.verts.at(e.A)}, {1, ar.verts.at(e.B)}}
	}
	ends := len(ar.verts.pts)
	index := geom.NewIndex(boxes)
	add := func(i int, t float64, v int) {
		if !slices.ContainsFunc(cuts[i], func(c cut) bool { return c.v == v }) {
			cuts[i] = append(cuts[i], cut{t, v})
		}
	}
	index.Pairs(geom.Coincident, func(i, j int) bool {
		for _, m := range geom.Crossings(in[i].Edge, in[j].Edge, geom.Coincident) {
			v := ar.verts.at(m.At)
			add(i, m.E, v)
			add(j, m.F, v)
		}
		return true
	})
	for v := ends; v < len(ar.verts.pts); v++ {
		p := ar.verts.pts[v]
		index.Search(geom.Box{Min: p, Max: p}.Expand(geom.Coincident), func(i int) bool {
			if q, t := in[i].Nearest(p); p.Near(q, geom.Coincident) {
				add(i, t, v)
			}
			return true
		})
	}
	for i, e := range in {
		ar.addPieces(e, cuts[i])
	}
}

// shortest is the length in millimetres under which a flat piece of an arc is
// taken for straight: its bulge would amplify the rounding of its ends.
const shortest = 20 * geom.Coincident

// flat is the bulge up to which that may be done: the height of a piece is
// half its bulge times its length, here at most a hundredth of Coincident.
const flat = 1e-3

// addPieces cuts up e. The first two cuts are its ends, which stay so: another
// vertex may be as near to them as makes no difference.
func (ar *arrangement) addPieces(e input, cuts []cut) {
	last := cuts[1]
	cuts = append(slices.Delete(cuts, 1, 2), last)
	slices.SortFunc(cuts[1:len(cuts)-1], func(a, b cut) int {
		return cmp.Or(cmp.Compare(a.t, b.t), a.v-b.v)
	})
	quarter := math.Atan(e.Bulge)
	for k := 1; k < len(cuts); k++ {
		c, d := cuts[k-1], cuts[k]
		if c.v == d.v {
			continue
		}
		p := piece{a: c.v, b: d.v, src: e.src, delta: e.delta}
		p.bulge = math.Tan(quarter * (d.t - c.t))
		if math.Abs(p.bulge) < flat && ar.verts.pts[c.v].Dist(ar.verts.pts[d.v]) < shortest {
			p.bulge = 0
		}
		ar.pieces = append(ar.pieces, p)
	}
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
	type ends struct{ lo, hi int }
	seen := make(map[ends][]int, len(ar.pieces))
	kept := ar.pieces[:0:0]
	for _, p := range ar.pieces {
		key := ends{min(p.a, p.b), max(p.a, p.b)}
		same := -1
		for _, k := range seen[key] {
			if ar.coincide(p, kept[k]) {
				same = k
				break
			}
		}
		switch {
		case same < 0:
			seen[key] = append(seen[key], len(kept))
			kept = append(kept, p)
		case kept[same].a == p.a:
			kept[same].delta = kept[same].delta.plus(p.delta)
		default:
			kept[same].delta = kept[same].delta.minus(p.delta)
		}
	}
	ar.pieces = slices.DeleteFunc(kept, func(p piece) bool { return p.delta == winding{} })
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

// vertices are points that are pairwise further apart than Coincident, filed
// in a grid.
type vertices struct {
	pts  []geom.Point
	grid map[gridCell][]int
}

type gridCell struct{ x, y int64 }

// gridSize is the side of a grid cell in millimetres: so much larger than
// Coincident that a look-up nearly always reads one cell, so small that a cell
// nearly never holds two vertices.
const gridSize = 1000 * geom.Coincident

func cellOf(x, y float64) gridCell {
	return gridCell{int64(math.Floor(x / gridSize)), int64(math.Floor(y / gridSize))}
}

// at returns the vertex at p, a new one if there is none within Coincident.
func (vs *vertices) at(p geom.Point) int {
	if vs.grid == nil {
		vs.grid = make(map[gridCell][]int)
	}
	lo := cellOf(p.X-geom.Coincident, p.Y-geom.Coincident)
	hi := cellOf(p.X+geom.Coincident, p.Y+geom.Coincident)
	for x := lo.x; x <= hi.x; x++ {
		for y := lo.y; y <= hi.y; y++ {
			for _, v := range vs.grid[gridCell{x, y}] {
				if vs.pts[v].Near(p, geom.Coincident) {
					return v
				}
			}
		}
	}
	v := len(vs.pts)
	vs.pts = append(vs.pts, p)
	c := cellOf(p.X, p.Y)
	vs.grid[c] = append(vs.grid[c], v)
	return v
}
