package parity

import (
	"math"
	"slices"
)

// A worker counts what it looks at, and stops where that is as much as allowed.
type worker struct{ steps, allowed int }

// fewest makes the bits of a connected piece ones of least cost, and reports
// whether that is proved.
func (w *worker) fewest(g graph, bits []bool) bool {
	sure := true
	u := newUnion(g.n)
	for _, b := range blocks(g) {
		part := b.of(bits)
		sure = w.improve(b.graph, part, math.MaxInt) && sure
		b.hold(u, part)
	}
	take(u, g, bits)
	return sure
}

// within makes the bits ones that cost no more than most, and reports whether
// it found any. No bits may cost less.
func (w *worker) within(g graph, bits []bool, most int) bool {
	list := blocks(g)
	w.steps += len(g.edges)
	u := newUnion(g.n)
	for _, b := range list {
		part := b.of(bits)
		w.improve(b.graph, part, most)
		if most -= b.cost(part); most < 0 {
			return false
		}
		b.hold(u, part)
	}
	take(u, g, bits)
	return true
}

// of is what the bits are in the block.
func (b block) of(bits []bool) []bool {
	part := make([]bool, b.n)
	for i, v := range b.members {
		part[i] = bits[v]
	}
	return part
}

// hold joins the block's bits as they are.
func (b block) hold(u union, part []bool) {
	for i, v := range b.members {
		u.join(b.members[0], v, part[i] != part[0])
	}
}

// take sets the bits as they were joined, over bridges as is asked.
func take(u union, g graph, bits []bool) {
	for _, e := range g.edges {
		u.join(e.a, e.b, e.odd)
	}
	for v := range bits {
		_, bits[v] = u.find(v)
	}
}

// improve makes the bits of a block cost as little as can be, in so far as that
// is most or less, and reports whether nothing better is left.
func (w *worker) improve(g graph, bits []bool, most int) bool {
	at := incident(g)
	w.turn(g, at, bits)
	for {
		cost := g.cost(bits)
		if cost == 0 {
			return true
		}
		s := newSearch(w, g, at, bits, min(most, cost-1))
		better, sure := s.run()
		if better == nil {
			return sure
		}
		for v, turned := range better {
			bits[v] = bits[v] != turned
		}
	}
}

// turn turns single bits as long as each makes it cost less.
func (w *worker) turn(g graph, at [][]int, bits []bool) {
	for again := true; again; {
		again = false
		for v := range bits {
			gain := 0
			for _, i := range at[v] {
				if e := g.edges[i]; e.breaks(bits) {
					gain += e.cost
				} else {
					gain -= e.cost
				}
			}
			w.steps += len(at[v])
			if gain > 0 {
				bits[v] = !bits[v]
				again = true
			}
		}
	}
}

// A search looks for a better solution of one block than the one by which its
// edges were turned: with all bits false, the odd edges are those that break.
type search struct {
	*worker
	graph
	at    [][]int
	limit int    // what a solution may cost
	cover []int  // bits such that each odd edge has one
	given []bool // of each bit: whether it has its value, true or false by the cut's links
	taken []bool // of each odd edge: whether an end is given, so that it is a link of the other
	via   []int  // scratch: by which edge a bit was reached
	queue []int  // scratch
}

func newSearch(w *worker, g graph, at [][]int, bits []bool, limit int) *search {
	s := &search{worker: w, at: at, limit: limit}
	s.graph = graph{g.n, slices.Clone(g.edges)}
	for i, e := range s.edges {
		s.edges[i].odd = e.breaks(bits)
	}
	s.given = make([]bool, g.n)
	s.taken = make([]bool, len(g.edges))
	s.via = make([]int, g.n+2)
	s.cover = s.near(s.choose())
	return s
}

// choose covers the odd edges with few bits: again and again the bit that most
// of the rest have in common.
func (s *search) choose() []bool {
	open := make([]int, s.n) // odd edges at each bit that aren't covered
	for _, e := range s.edges {
		if e.odd {
			open[e.a]++
			open[e.b]++
		}
	}
	chosen := make([]bool, s.n)
	for {
		most := 0
		for v, k := range open {
			if k > open[most] {
				most = v
			}
		}
		if open[most] == 0 {
			return chosen
		}
		chosen[most] = true
		for _, i := range s.at[most] {
			if to := s.edges[i].other(most); s.edges[i].odd && !chosen[to] {
				open[to]--
			}
		}
		open[most] = 0
		s.steps += s.n
	}
}

// near orders the chosen bits by how far they are from the first: bits that
// are near one another soon show what they cost.
func (s *search) near(chosen []bool) []int {
	first := slices.Index(chosen, true)
	seen := make([]bool, s.n)
	seen[first] = true
	var list []int
	for queue := []int{first}; len(queue) > 0; queue = queue[1:] {
		v := queue[0]
		if chosen[v] {
			list = append(list, v)
		}
		for _, i := range s.at[v] {
			if to := s.edges[i].other(v); !seen[to] {
				seen[to] = true
				queue = append(queue, to)
			}
		}
	}
	return list
}

// run returns which bits to turn for a solution within the limit, nil if it
// found none, and then whether there is none.
func (s *search) run() ([]bool, bool) {
	c := newCut(s.graph)
	s.give(&c, 0, false) // all bits turned cost the same
	return s.branch(c, 1)
}

// branch goes on from a cut with so many of the cover's bits given.
func (s *search) branch(c cut, depth int) ([]bool, bool) {
	if s.steps > s.allowed {
		return nil, false
	}
	s.fill(&c)
	if c.flow > s.limit {
		return nil, true
	}
	side := s.side()
	if s.steps += len(s.edges); s.cost(side) <= s.limit {
		return side, true
	}
	if depth == len(s.cover) || s.rings(c) > s.limit {
		return nil, true
	}
	sure := true
	for _, bit := range []bool{false, true} {
		next := c.clone()
		s.give(&next, depth, bit)
		better, known := s.branch(next, depth+1)
		s.takeBack(depth)
		if better != nil {
			return better, true
		}
		sure = sure && known
	}
	return nil, sure
}

// give gives the cover's next bit its value: what its odd edges ask is now
// asked of their other ends alone.
func (s *search) give(c *cut, k int, bit bool) {
	v := s.cover[k]
	s.given[v] = true
	c.want(v, bit, given)
	for _, i := range s.at[v] {
		e := s.edges[i]
		if !e.odd {
			continue
		}
		if to := e.other(v); !s.given[to] {
			s.taken[i] = true
			c.want(to, !bit, e.cost)
		}
	}
}

func (s *search) takeBack(k int) {
	v := s.cover[k]
	s.given[v] = false
	for _, i := range s.at[v] {
		if !s.given[s.edges[i].other(v)] {
			s.taken[i] = false
		}
	}
}
