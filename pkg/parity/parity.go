// Package parity chooses bits such that pairs of them are equal or differ as is
// asked, and breaks as little of it as can be where not all can be had: over
// and under that alternate in every arrangement of a table ask this.
//
// What is asked is a signed graph, and it can all be had exactly when no ring
// asks for an odd number of changes (F. Harary, "On the notion of balance of a
// signed graph", Michigan Math. J. 2, 1953): bits that know how they stand to a
// root show it (Tarjan's union-find, with a bit to each link). The fewest to break
// are a hard problem where the graph can't be drawn in the plane (see
// pkg/weave for one that can), so the pieces that come out odd are cut apart at
// their bridges and at single bits, and each goes to an exact search.
//
// Method of the search: turn bits until few constraints are broken, and choose
// bits such that each broken constraint has one among them. With these bits
// given, what is left is a least cut between those that want false and those
// that want true (L. R. Ford and D. R. Fulkerson, "Maximal flow through a
// network", Can. J. Math. 8, 1956). So only these bits are branched on, and a
// better solution gives fewer of them: iterative compression (J. Guo et al.,
// "Compression-based fixed-parameter algorithms for feedback vertex set and
// edge bipartization", JCSS 72, 2006). What it can't be less than is the flow
// so far and odd rings in what that leaves, each with an edge of its own to
// break. All recalled.
package parity

import "slices"

// A Constraint asks that two bits are equal, or that they differ. A constraint
// of a bit with itself always holds or never.
type Constraint struct {
	A, B   int
	Differ bool
	Once   int // cost if broken, not negative: counted once a kind
	All    int // cost over all arrangements, not negative: decides between what costs the same by Once
}

// A Solution breaks as little as can be: the least sum of Once, of those the
// least sum of All, and of those the one whose first bit that differs from
// another's is false.
type Solution struct {
	Bits   []bool
	Broken []int // indices of the constraints that don't hold, in order
	Proved bool  // nothing costs less; false where the work that is allowed is done
}

// mostSteps bounds the work, in constraints looked at: some tenths of a second.
// The first half is for the least cost, what is left for the smallest bits.
const mostSteps = 40_000_000

// Solve chooses n bits. Once all bits that costs are proved least, work that
// runs out leaves bits of the least cost that may not be the smallest.
func Solve(n int, list []Constraint) Solution {
	return solve(n, list, mostSteps)
}

func solve(n int, list []Constraint, steps int) Solution {
	edges := weigh(list)
	bits, even := spread(n, edges)
	proved := true
	if !even {
		w := &worker{allowed: steps}
		for _, piece := range oddPieces(n, edges) {
			w.allowed = w.steps + max(0, steps-w.steps)/2
			sure := w.fewest(piece.graph, piece.bits)
			proved = proved && sure
			w.allowed = steps
			w.smallest(piece.graph, piece.bits)
			for i, v := range piece.members {
				bits[v] = piece.bits[i]
			}
		}
	}
	return Solution{bits, broken(bits, list), proved}
}

// An edge is a constraint with one cost.
type edge struct {
	a, b int
	odd  bool // the bits differ
	cost int
}

// breaks reports whether the bits break e.
func (e edge) breaks(bits []bool) bool { return (bits[e.a] != bits[e.b]) != e.odd }

// weigh makes edges of the constraints whose breaking costs something. What is
// asked of one bit alone is no matter of choice.
func weigh(list []Constraint) []edge {
	var edges []edge
	unit := 1 // more than all of All together
	for _, c := range list {
		unit += c.All
	}
	for _, c := range list {
		if cost := c.Once*unit + c.All; cost > 0 && c.A != c.B {
			edges = append(edges, edge{c.A, c.B, c.Differ, cost})
		}
	}
	return edges
}

// broken lists the constraints that don't hold.
func broken(bits []bool, list []Constraint) []int {
	var bad []int
	for i, c := range list {
		if (bits[c.A] != bits[c.B]) != c.Differ {
			bad = append(bad, i)
		}
	}
	return bad
}

// A graph is edges between n bits.
type graph struct {
	n     int
	edges []edge
}

// cost is what the bits break.
func (g graph) cost(bits []bool) int {
	sum := 0
	for _, e := range g.edges {
		if e.breaks(bits) {
			sum += e.cost
		}
	}
	return sum
}

// A piece is a connected part of a graph, its bits numbered anew in the same
// order.
type piece struct {
	graph
	members []int // of each of its bits: which it is
	bits    []bool
}

// oddPieces cuts out the connected parts that can't all be had.
func oddPieces(n int, edges []edge) []piece {
	u := newUnion(n)
	odd := make([]bool, n) // by root, after all are joined
	for _, e := range edges {
		u.join(e.a, e.b, e.odd)
	}
	for _, e := range edges {
		root, a := u.find(e.a)
		if _, b := u.find(e.b); (a != b) != e.odd {
			odd[root] = true
		}
	}
	var pieces []piece
	at := make([]int, n)    // of each bit: its number in its piece
	which := make([]int, n) // of each root: its piece and one more
	for v := range n {
		root, bit := u.find(v)
		if !odd[root] {
			continue
		}
		if which[root] == 0 {
			pieces = append(pieces, piece{})
			which[root] = len(pieces)
		}
		p := &pieces[which[root]-1]
		at[v] = p.n
		p.n++
		p.members = append(p.members, v)
		p.bits = append(p.bits, bit)
	}
	for _, e := range edges {
		if root, _ := u.find(e.a); odd[root] {
			p := &pieces[which[root]-1]
			p.edges = append(p.edges, edge{at[e.a], at[e.b], e.odd, e.cost})
		}
	}
	return pieces
}

// smallest makes the bits of a connected piece the smallest that cost the same:
// each that is true is tried as false, with those before it as they are.
func (w *worker) smallest(g graph, bits []bool) {
	if bits[0] {
		for v := range bits {
			bits[v] = !bits[v]
		}
	}
	cost := g.cost(bits)
	for v := range bits {
		if !bits[v] || w.steps >= w.allowed {
			continue
		}
		bits[v] = false
		if other, ok := w.given(g, bits, v+1, cost); ok {
			copy(bits, other)
		} else {
			bits[v] = true
		}
	}
}

// given looks for bits that cost no more, the first so many given.
func (w *worker) given(g graph, bits []bool, fixed, cost int) ([]bool, bool) {
	w.steps += len(g.edges)
	rest := graph{n: g.n - fixed + 1} // all that are given are one bit, which is false
	for _, e := range g.edges {
		for _, end := range []*int{&e.a, &e.b} {
			if *end < fixed {
				e.odd = e.odd != bits[*end]
			}
			*end = max(0, *end-fixed+1)
		}
		switch {
		case e.a != e.b:
			rest.edges = append(rest.edges, e)
		case e.odd:
			cost -= e.cost
		}
	}
	if cost < 0 {
		return nil, false
	}
	all := slices.Clone(bits)
	part := append([]bool{false}, bits[fixed:]...)
	if !w.within(rest, part, cost) {
		return nil, false
	}
	for i, bit := range part[1:] {
		all[fixed+i] = bit != part[0]
	}
	return all, true
}
