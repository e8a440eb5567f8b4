package template

// Sharing cuts out over the fewest panels is colouring their conflict graph.
//
// Method: Brélaz's DSATUR as a branch and bound (D. Brélaz, "New methods to
// color the vertices of a graph", Comm. ACM 22, 1979), component by component,
// from below by a greedy clique. The search counts its steps, not time, and
// breaks ties by the cuts' order, so that the same job gives the same panels
// on every machine; a library's exact colouring, which goes through maps and
// stops by the clock, gives the same number but not the same panels twice. It
// serves as a witness in the tests.

import "slices"

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
		p.run()
		for _, n := range nodes {
			c.of[n] = p.best[n]
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

// A painter colours one component.
type painter struct {
	near      [][]int
	nodes     []int
	clique    int
	colour    map[int]int // of the nodes painted so far
	best      map[int]int
	bestCount int
	steps     int
}

func newPainter(near [][]int, nodes []int) *painter {
	p := &painter{near: near, nodes: nodes, colour: map[int]int{}, bestCount: len(nodes) + 1, steps: searchSteps}
	for _, n := range nodes {
		p.clique = max(p.clique, p.greedyClique(n))
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

func (p *painter) run() { p.paint(0) }

// paint colours what is left, given that used colours are in use, whenever
// that gives fewer colours than the best so far.
func (p *painter) paint(used int) {
	if len(p.colour) == len(p.nodes) {
		p.bestCount, p.best = used, make(map[int]int, len(p.nodes))
		for n, c := range p.colour {
			p.best[n] = c
		}
		return
	}
	n, taken := p.mostConstrained()
	for c := 0; c <= used && c < p.bestCount-1 && p.bestCount > p.clique; c++ {
		if taken[c] {
			continue
		}
		if p.best != nil {
			if p.steps--; p.steps <= 0 {
				return
			}
		}
		p.colour[n] = c
		if u := max(used, c+1); u < p.bestCount {
			p.paint(u)
		}
		delete(p.colour, n)
	}
}

// mostConstrained returns the unpainted node with the most colours among its
// neighbours, then with the most neighbours, then the first; and the colours.
func (p *painter) mostConstrained() (int, map[int]bool) {
	best, bestTaken := -1, map[int]bool(nil)
	for _, n := range p.nodes {
		if _, done := p.colour[n]; done {
			continue
		}
		taken := map[int]bool{}
		for _, m := range p.near[n] {
			if c, done := p.colour[m]; done {
				taken[c] = true
			}
		}
		if best < 0 || len(taken) > len(bestTaken) || (len(taken) == len(bestTaken) && len(p.near[n]) > len(p.near[best])) {
			best, bestTaken = n, taken
		}
	}
	return best, bestTaken
}
