package weave

// The shortest pairing is a perfect matching of least weight in a complete
// graph: the blossom method (J. Edmonds, "Maximum matching and a polyhedron
// with 0,1-vertices", J. Res. NBS 69B, 1965), in the form that takes n^3 steps
// (Z. Galil, "Efficient algorithms for finding maximum matching in graphs",
// ACM Computing Surveys 18, 1986).
//
// In short: alternating trees grow from all unpaired vertices at once, along
// tight edges, those whose two labels add up to the edge's value. Where two
// trees meet, a path between two unpaired vertices is found and exchanged.
// Where a tree meets itself an odd ring has formed, a blossom, which is shrunk
// to one node. When nothing is tight the labels change until something is.

import (
	"math"
	"slices"
)

// role is what a node is in the alternating trees.
type role int

const (
	unreached role = iota
	outer          // an even number of edges from its tree's root
	inner          // an odd number
)

// A bond is an edge between two vertices u and v, seen from the node that u
// is in. value is 0 where there is none.
type bond struct{ u, v, value int }

// A matcher holds nodes: vertices 1 to n, blossoms above. 0 is no node.
type matcher struct {
	n, nodes int
	bonds    [][]bond // between two nodes: the edge of least slack
	label    []int    // twice the dual value
	mate     []int    // of a node: the vertex at the far end of its paired edge
	top      []int    // the outermost blossom that a node is in; itself if none, 0 for a blossom that was dissolved
	parent   []int    // of an inner node: the outer vertex from which it was reached
	closest  []int    // of a node that is not outer: the outer vertex with the least slack to it
	role     []role   // of the outermost nodes
	petals   [][]int  // of a blossom: its nodes in ring order, the base first
	petalOf  [][]int  // of a blossom and a vertex: the petal that holds the vertex
	queue    []int    // outer vertices whose edges are still to be looked at
	seen     []int    // stamps for finding a common root
	stamp    int
}

// pairUp returns the mate of each, for an even number of them with mutual
// distances dist >= 0, such that the distances add up to the least.
func pairUp(dist [][]int) []int {
	m := newMatcher(dist)
	for range m.n / 2 {
		m.augmentOnce()
	}
	mate := make([]int, m.n)
	for i := range mate {
		mate[i] = m.mate[i+1] - 1
	}
	return mate
}

func newMatcher(dist [][]int) *matcher {
	n := len(dist)
	size := n + n/2 + 2 // no more than n/2 blossoms at a time
	far := 1
	for _, row := range dist {
		far = max(far, slices.Max(row)+1)
	}
	ints := func() []int { return make([]int, size) }
	m := &matcher{
		n: n, nodes: n,
		bonds: make([][]bond, size), petals: make([][]int, size), petalOf: make([][]int, size), role: make([]role, size),
		label: ints(), mate: ints(), top: ints(), parent: ints(), closest: ints(), seen: ints(),
	}
	for u := range size {
		m.bonds[u] = make([]bond, size)
		m.petalOf[u] = ints()
	}
	for u := 1; u <= n; u++ {
		m.top[u] = u
		m.petalOf[u][u] = u
		m.label[u] = far // no edge has a greater value
		for v := 1; v <= n; v++ {
			a := bond{u: u, v: v}
			if u != v {
				a.value = far - dist[u-1][v-1]
			}
			m.bonds[u][v] = a
		}
	}
	return m
}

// gap is how far an edge is from being tight; never negative.
func (m *matcher) gap(a bond) int { return m.label[a.u] + m.label[a.v] - 2*m.bonds[a.u][a.v].value }

// offer makes the outer vertex u the closest to node x if it is.
func (m *matcher) offer(u, x int) {
	if c := m.closest[x]; c == 0 || m.gap(m.bonds[u][x]) < m.gap(m.bonds[c][x]) {
		m.closest[x] = u
	}
}

// findClosest looks anew for the outer vertex closest to node x.
func (m *matcher) findClosest(x int) {
	m.closest[x] = 0
	for u := 1; u <= m.n; u++ {
		if m.bonds[u][x].value > 0 && m.top[u] != x && m.role[m.top[u]] == outer {
			m.offer(u, x)
		}
	}
}

// enqueue queues all vertices of node x.
func (m *matcher) enqueue(x int) {
	if x <= m.n {
		m.queue = append(m.queue, x)
		return
	}
	for _, p := range m.petals[x] {
		m.enqueue(p)
	}
}

// setTop makes b the outermost node of all that is in x.
func (m *matcher) setTop(x, b int) {
	m.top[x] = b
	if x > m.n {
		for _, p := range m.petals[x] {
			m.setTop(p, b)
		}
	}
}

// augmentOnce grows trees until one more pair is made.
func (m *matcher) augmentOnce() {
	m.queue = m.queue[:0]
	clear(m.role)
	clear(m.closest)
	for x := 1; x <= m.nodes; x++ {
		if m.top[x] == x && m.mate[x] == 0 {
			m.role[x] = outer
			m.enqueue(x)
		}
	}
	for !m.grow() && !m.relabel() {
	}
}

// grow follows tight edges from the queue; true once a pair was made.
func (m *matcher) grow() bool {
	for len(m.queue) > 0 {
		u := m.queue[0]
		m.queue = m.queue[1:]
		for v := 1; v <= m.n; v++ {
			a := m.bonds[u][v]
			if a.value == 0 || m.top[u] == m.top[v] {
				continue
			}
			if m.gap(a) > 0 {
				m.offer(u, m.top[v])
			} else if m.use(a) {
				return true
			}
		}
	}
	return false
}

// use takes a tight edge from an outer vertex into the trees; true if that
// made a pair.
func (m *matcher) use(a bond) bool {
	u, v := m.top[a.u], m.top[a.v]
	switch m.role[v] {
	case unreached:
		m.parent[v], m.role[v] = a.u, inner
		next := m.top[m.mate[v]]
		m.closest[v], m.closest[next] = 0, 0
		m.role[next] = outer
		m.enqueue(next)
	case outer:
		base := m.commonRoot(u, v)
		if base == 0 {
			m.exchange(u, v)
			m.exchange(v, u)
			return true
		}
		m.shrink(u, base, v)
	case inner:
		// Closes an even ring, which is of no use.
	}
	return false
}

// commonRoot is the node where the ways from u and v to their roots join, 0 if
// they are in different trees.
func (m *matcher) commonRoot(u, v int) int {
	m.stamp++
	for u != 0 || v != 0 {
		if u != 0 {
			if m.seen[u] == m.stamp {
				return u
			}
			m.seen[u] = m.stamp
			u = m.above(u)
		}
		u, v = v, u
	}
	return 0
}

// above is the outer node two edges nearer to the root, 0 at the root.
func (m *matcher) above(u int) int {
	if m.mate[u] == 0 {
		return 0
	}
	return m.top[m.parent[m.top[m.mate[u]]]]
}

// exchange pairs node u with v, and exchanges the pairs on u's way to its root.
func (m *matcher) exchange(u, v int) {
	for {
		freed := m.top[m.mate[u]]
		m.pair(u, v)
		if freed == 0 {
			return
		}
		next := m.top[m.parent[freed]]
		m.pair(freed, next)
		u, v = next, freed
	}
}

// pair sets the mate of node u to node v; inside a blossom the pairs move
// round so that the petal that is paired to the outside becomes the base.
func (m *matcher) pair(u, v int) {
	a := m.bonds[u][v]
	m.mate[u] = a.v
	if u <= m.n {
		return
	}
	petal := m.petalOf[u][a.u]
	k := m.evenPlace(u, petal)
	for i := range k {
		m.pair(m.petals[u][i], m.petals[u][i^1])
	}
	m.pair(petal, v)
	ring := m.petals[u]
	m.petals[u] = append(slices.Clone(ring[k:]), ring[:k]...)
}

// evenPlace is the place of a petal in its blossom, after turning the ring
// round if need be so that the place is even.
func (m *matcher) evenPlace(b, petal int) int {
	ring := m.petals[b]
	k := slices.Index(ring, petal)
	if k%2 == 0 {
		return k
	}
	slices.Reverse(ring[1:])
	return len(ring) - k
}

// shrink makes a blossom of the ring from base to u, over to v and back.
func (m *matcher) shrink(u, base, v int) {
	b := m.n + 1
	for b <= m.nodes && m.top[b] != 0 {
		b++
	}
	m.nodes = max(m.nodes, b)
	m.label[b], m.role[b], m.mate[b] = 0, outer, m.mate[base]
	ring := []int{base}
	for _, from := range [2]int{u, v} {
		for x := from; x != base; x = m.above(x) {
			y := m.top[m.mate[x]]
			ring = append(ring, x, y)
			m.enqueue(y)
		}
		if from == u {
			slices.Reverse(ring[1:])
		}
	}
	m.petals[b] = ring
	m.setTop(b, b)
	m.inherit(b)
	m.findClosest(b)
}

// inherit gives a new blossom, for each node, the tightest of its petals' edges.
func (m *matcher) inherit(b int) {
	for x := range m.nodes + 1 {
		m.bonds[b][x], m.bonds[x][b] = bond{}, bond{}
		m.petalOf[b][x] = 0
	}
	for _, p := range m.petals[b] {
		for x := 1; x <= m.nodes; x++ {
			a := m.bonds[p][x]
			if a.value > 0 && (m.bonds[b][x].value == 0 || m.gap(a) < m.gap(m.bonds[b][x])) {
				m.bonds[b][x], m.bonds[x][b] = a, m.bonds[x][p]
			}
		}
		for x := 1; x <= m.n; x++ {
			if m.petalOf[p][x] != 0 {
				m.petalOf[b][x] = p
			}
		}
	}
}

// dissolve opens an inner blossom whose label is 0; its petals on the way of
// the tree through it stay in the tree.
func (m *matcher) dissolve(b int) {
	for _, p := range m.petals[b] {
		m.setTop(p, p)
	}
	entry := m.petalOf[b][m.bonds[b][m.parent[b]].u]
	k := m.evenPlace(b, entry)
	ring := m.petals[b]
	for i := 0; i < k; i += 2 {
		in, out := ring[i], ring[i+1]
		m.parent[in] = m.bonds[out][in].u
		m.role[in], m.role[out] = inner, outer
		m.closest[in] = 0
		m.findClosest(out)
		m.enqueue(out)
	}
	m.role[entry], m.parent[entry] = inner, m.parent[b]
	for _, p := range ring[k+1:] {
		m.role[p] = unreached
		m.findClosest(p)
	}
	m.top[b] = 0
}

// relabel changes the labels until an edge becomes tight or a blossom can be
// dissolved, and uses that; true if that made a pair.
func (m *matcher) relabel() bool {
	m.shift(m.step())
	m.queue = m.queue[:0]
	for x := 1; x <= m.nodes; x++ {
		c := m.closest[x]
		if m.top[x] == x && c != 0 && m.top[c] != x && m.gap(m.bonds[c][x]) == 0 && m.use(m.bonds[c][x]) {
			return true
		}
	}
	for b := m.n + 1; b <= m.nodes; b++ {
		if m.top[b] == b && m.role[b] == inner && m.label[b] == 0 {
			m.dissolve(b)
		}
	}
	return false
}

// step is by how much the labels can change.
func (m *matcher) step() int {
	d := math.MaxInt
	for x := 1; x <= m.nodes; x++ {
		if m.top[x] != x {
			continue
		}
		if x > m.n && m.role[x] == inner {
			d = min(d, m.label[x]/2)
		}
		if c := m.closest[x]; c != 0 {
			switch gap := m.gap(m.bonds[c][x]); m.role[x] {
			case unreached:
				d = min(d, gap)
			case outer:
				d = min(d, gap/2)
			case inner:
				// Its edges grow slacker.
			}
		}
	}
	return d
}

// shift changes the labels by d: outer vertices down, inner ones up, blossoms
// the other way by twice as much.
func (m *matcher) shift(d int) {
	for u := 1; u <= m.n; u++ {
		switch m.role[m.top[u]] {
		case outer:
			m.label[u] -= d
		case inner:
			m.label[u] += d
		case unreached:
		}
	}
	for b := m.n + 1; b <= m.nodes; b++ {
		if m.top[b] != b {
			continue
		}
		switch m.role[b] {
		case outer:
			m.label[b] += 2 * d
		case inner:
			m.label[b] -= 2 * d
		case unreached:
		}
	}
}
