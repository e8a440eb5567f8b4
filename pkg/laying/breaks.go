package laying

// The least number of breaks: a feedback vertex set of the graph of places. What needn't be
// weighed is taken away first (Levy and Low, "A contraction algorithm for finding small cycle
// cutsets", 1988): what is in no ring; what stands alone between two others, which breaks
// no ring that its only neighbour doesn't break; and what follows itself, which must be
// broken. The rest is searched by branch and bound: a place is broken, or it isn't and those
// before it are joined to those after it. Rings that share no place bound the number
// from below. Beyond so many branches the best that was met is taken.

import "slices"

// A graph is the places that are still weighed: who follows whom, ascending.
type graph struct {
	after, before [][]int
	here          []bool
	count         int
}

func newGraph(next [][]int) *graph {
	g := &graph{after: make([][]int, len(next)), before: make([][]int, len(next)), here: make([]bool, len(next)), count: len(next)}
	for i, list := range next {
		g.here[i] = true
		for _, k := range list {
			g.join(i, k)
		}
	}
	return g
}

func (g *graph) clone() *graph {
	c := &graph{after: make([][]int, len(g.after)), before: make([][]int, len(g.before)), here: slices.Clone(g.here), count: g.count}
	for i := range g.after {
		if g.here[i] {
			c.after[i], c.before[i] = slices.Clone(g.after[i]), slices.Clone(g.before[i])
		}
	}
	return c
}

func (g *graph) join(a, b int) {
	g.after[a] = with(g.after[a], b)
	g.before[b] = with(g.before[b], a)
}

func with(list []int, v int) []int {
	i, found := slices.BinarySearch(list, v)
	if found {
		return list
	}
	return slices.Insert(list, i, v)
}

func without(list []int, v int) []int {
	if i, found := slices.BinarySearch(list, v); found {
		return slices.Delete(list, i, i+1)
	}
	return list
}

// remove takes a place away.
func (g *graph) remove(v int) {
	for _, b := range g.after[v] {
		g.before[b] = without(g.before[b], v)
	}
	for _, a := range g.before[v] {
		g.after[a] = without(g.after[a], v)
	}
	g.after[v], g.before[v], g.here[v] = nil, nil, false
	g.count--
}

// keep takes a place away that isn't broken: those before it are followed by those after it.
func (g *graph) keep(v int) {
	after, before := slices.Clone(g.after[v]), slices.Clone(g.before[v])
	g.remove(v)
	for _, a := range before {
		for _, b := range after {
			g.join(a, b)
		}
	}
}

// reduce takes away what needn't be weighed, and returns the places that must be broken.
func (g *graph) reduce() (must []int) {
	for changed := true; changed; {
		changed = false
		for v := range g.here {
			if !g.here[v] {
				continue
			}
			switch {
			case follows(g, v, v):
				g.remove(v)
				must = append(must, v)
			case len(g.after[v]) <= 1 || len(g.before[v]) <= 1:
				g.keep(v)
			default:
				continue
			}
			changed = true
		}
	}
	return must
}

func follows(g *graph, a, b int) bool {
	_, found := slices.BinarySearch(g.after[a], b)
	return found
}

// busiest is the place that the most ways lead through; -1 if there is none.
func (g *graph) busiest() (best int) {
	best, most := -1, 0
	for v := range g.here {
		if n := len(g.after[v]) * len(g.before[v]); g.here[v] && n > most {
			best, most = v, n
		}
	}
	return best
}

// apart is a number of rings that share no place.
func (g *graph) apart() (n int) {
	free := slices.Clone(g.here)
	for v := range free {
		if !free[v] {
			continue
		}
		ring := g.ring(v, free)
		if ring == nil {
			continue
		}
		n++
		for _, w := range ring {
			free[w] = false
		}
	}
	return n
}

// ring is a shortest ring through v and places that are free; nil if there is none.
func (g *graph) ring(v int, free []bool) []int {
	from := map[int]int{}
	queue := []int{v}
	for len(queue) > 0 {
		w := queue[0]
		queue = queue[1:]
		for _, x := range g.after[w] {
			if x == v {
				ring := []int{v}
				for ; w != v; w = from[w] {
					ring = append(ring, w)
				}
				return ring
			}
			if _, met := from[x]; !met && free[x] {
				from[x] = w
				queue = append(queue, x)
			}
		}
	}
	return nil
}

// mostBranches bounds the search: some tenths of a second.
const mostBranches = 3000

// mostSearched is how many places are searched at most: more have more branches than that,
// and each takes longer.
const mostSearched = 200

// A search is the best set of breaks that was met.
type search struct {
	best     []int
	branches int
	ended    bool // before all was searched
}

// breaks are the places where the order is broken, few or as few as can be; least says that
// there are no fewer.
func breaks(next [][]int) (broken []bool, least bool) {
	g := newGraph(next)
	must := g.reduce()
	s := search{best: greedy(g.clone())}
	if g.count > mostSearched {
		s.ended = true
	} else {
		s.try(g, nil)
	}
	broken = make([]bool, len(next))
	for _, v := range append(must, s.best...) {
		broken[v] = true
	}
	return spared(next, broken), !s.ended
}

// greedy breaks the busiest place, again and again.
func greedy(g *graph) (all []int) {
	for {
		all = append(all, g.reduce()...)
		v := g.busiest()
		if v < 0 {
			return all
		}
		g.remove(v)
		all = append(all, v)
	}
}

// try looks for fewer breaks than the best, when so many are made already.
func (s *search) try(g *graph, made []int) {
	if s.branches++; s.branches > mostBranches {
		s.ended = true
		return
	}
	made = append(slices.Clip(made), g.reduce()...)
	if len(made)+g.apart() >= len(s.best) {
		return
	}
	v := g.busiest()
	if v < 0 {
		s.best = made
		return
	}
	broken := g.clone()
	broken.remove(v)
	s.try(broken, append(slices.Clip(made), v))
	if !s.ended {
		g.keep(v)
		s.try(g, made)
	}
}

// spared takes breaks back that break no ring any more, as greed makes them.
func spared(next [][]int, broken []bool) []bool {
	for v := range broken {
		if broken[v] {
			broken[v] = false
			broken[v] = reaches(next, broken, v)
		}
	}
	return broken
}

// reaches reports whether a place leads back to itself through places that aren't broken.
func reaches(next [][]int, broken []bool, v int) bool {
	met := make([]bool, len(next))
	stack := []int{v}
	for len(stack) > 0 {
		w := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for _, x := range next[w] {
			if x == v {
				return true
			}
			if !met[x] && !broken[x] {
				met[x] = true
				stack = append(stack, x)
			}
		}
	}
	return false
}
