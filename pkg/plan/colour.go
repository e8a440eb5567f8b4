package plan

// Sharing cuts out over the fewest panels is colouring their conflict graph.
//
// Method: Brélaz's DSATUR as a branch and bound (D. Brélaz, "New methods to
// color the vertices of a graph", Comm. ACM 22, 1979), component by component,
// from below by a greedy clique. The search counts its steps, not time, and
// breaks ties by the cuts' order, so that the same job gives the same panels
// on every machine; a library's exact colouring, which goes through maps and
// stops by the clock, gives the same number but not the same panels twice. It
// serves as a witness in the tests.

import (
	"cmp"
	"slices"
)

// searchSteps bounds the search of one component. Components of up to some 60
// cuts are settled well within it.
const searchSteps = 200_000

// A colouring assigns each node a colour from 0 to count-1.
type colouring struct {
	of      []int
	count   int
	proved  bool // no colouring has fewer colours
	atLeast int
}

// colour colours a graph given as lists of neighbours.
func colour(near [][]int) colouring {
	c := colouring{of: make([]int, len(near)), proved: true}
	for _, nodes := range components(near) {
		p := newPainter(near, nodes)
		p.paint(0, 0)
		for i, n := range nodes {
			c.of[n] = p.best[i]
		}
		c.count = max(c.count, p.bestCount)
		c.atLeast = max(c.atLeast, p.bound())
	}
	c.proved = c.atLeast == c.count
	return c
}

// components returns the connected components, each sorted.
func components(near [][]int) [][]int {
	seen := make([]bool, len(near))
	var all [][]int
	for i := range near {
		if seen[i] {
			continue
		}
		seen[i] = true
		nodes := []int{i}
		for k := 0; k < len(nodes); k++ {
			for _, j := range near[nodes[k]] {
				if !seen[j] {
					seen[j] = true
					nodes = append(nodes, j)
				}
			}
		}
		slices.Sort(nodes)
		all = append(all, nodes)
	}
	return all
}

// A painter colours one component. Its nodes are numbered from 0 here.
type painter struct {
	near      [][]int
	clique    int
	of        []int   // colours so far; unpainted where there is none
	around    [][]int // for each node and colour, the neighbours that have it
	variety   []int   // for each node, the colours among its neighbours
	leaders   []int   // a tree: the nodes at its last n places, at place k who comes first of 2k and 2k+1
	best      []int
	bestCount int
	steps     int
}

const unpainted = -1

// newPainter makes a painter of the component with the given nodes.
func newPainter(near [][]int, nodes []int) *painter {
	n := len(nodes)
	p := &painter{
		near: make([][]int, n), of: make([]int, n), around: make([][]int, n), variety: make([]int, n),
		leaders: make([]int, 2*n), bestCount: n + 1, steps: searchSteps,
	}
	number := make(map[int]int, n)
	for i, v := range nodes {
		number[v] = i
	}
	colours := 1 // a node's neighbours take no more than there are of them, and it one more
	for _, v := range nodes {
		colours = max(colours, len(near[v])+1)
	}
	for i, v := range nodes {
		for _, w := range near[v] {
			p.near[i] = append(p.near[i], number[w])
		}
		p.of[i] = unpainted
		p.around[i] = make([]int, colours)
		p.leaders[n+i] = i
	}
	for k := n - 1; k > 0; k-- {
		p.lead(k)
	}
	for i := range nodes {
		p.clique = max(p.clique, p.greedyClique(i))
	}
	return p
}

// greedyClique is the size of a clique grown from n, neighbours of many first.
func (p *painter) greedyClique(n int) int {
	order := slices.Clone(p.near[n])
	slices.SortFunc(order, func(a, b int) int {
		if d := len(p.near[b]) - len(p.near[a]); d != 0 {
			return d
		}
		return a - b
	})
	clique := []int{n}
	for _, m := range order {
		if !slices.ContainsFunc(clique[1:], func(k int) bool { return !slices.Contains(p.near[m], k) }) {
			clique = append(clique, m)
		}
	}
	return len(clique)
}

// bound is the number of colours that are certainly needed.
func (p *painter) bound() int {
	if p.steps > 0 {
		return p.bestCount // the search came to its end
	}
	return p.clique
}

// paint colours the nodes that are left, given how many are painted and how
// many colours are in use, whenever that gives fewer colours than the best so
// far.
func (p *painter) paint(painted, used int) {
	if painted == len(p.of) {
		p.bestCount, p.best = used, slices.Clone(p.of)
		return
	}
	n := p.mostConstrained()
	for c := 0; c <= used && c < p.bestCount-1 && p.bestCount > p.clique; c++ {
		if p.around[n][c] > 0 {
			continue
		}
		if p.best != nil {
			if p.steps--; p.steps <= 0 {
				return
			}
		}
		p.set(n, c)
		p.paint(painted+1, max(used, c+1))
		p.unset(n, c)
	}
}

func (p *painter) set(n, c int) {
	p.of[n] = c
	p.rank(n)
	for _, m := range p.near[n] {
		if p.around[m][c]++; p.around[m][c] == 1 {
			p.variety[m]++
			p.rank(m)
		}
	}
}

func (p *painter) unset(n, c int) {
	p.of[n] = unpainted
	p.rank(n)
	for _, m := range p.near[n] {
		if p.around[m][c]--; p.around[m][c] == 0 {
			p.variety[m]--
			p.rank(m)
		}
	}
}

// mostConstrained is the unpainted node with the most colours among its
// neighbours, then with the most neighbours, then the first.
func (p *painter) mostConstrained() int { return p.leaders[1] }

// rank puts a node's changes into the tree of leaders.
func (p *painter) rank(n int) {
	for k := (n + len(p.of)) / 2; k > 0; k /= 2 {
		p.lead(k)
	}
}

// lead finds who leads at a place of the tree.
func (p *painter) lead(k int) {
	a, b := p.leaders[2*k], p.leaders[2*k+1]
	if p.before(b, a) {
		a = b
	}
	p.leaders[k] = a
}

// before reports whether node a is to be painted before node b.
func (p *painter) before(a, b int) bool {
	if x, y := p.of[a] == unpainted, p.of[b] == unpainted; x != y {
		return x
	}
	return cmp.Or(p.variety[b]-p.variety[a], len(p.near[b])-len(p.near[a]), a-b) < 0
}
