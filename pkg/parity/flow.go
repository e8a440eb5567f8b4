package parity

import "slices"

// A cut parts the bits that are false from those that are true. What it costs
// is what flows from one to the other along even edges and links.
type cut struct {
	flow int
	run  []int    // of each edge: what runs from a to b, negative from b to a
	link [2][]int // what is left of each bit's link to false and to true: what it costs to be the other
}

// given is the link of a bit that has its value: more than anything costs.
const given = 1 << 62

func newCut(g graph) cut {
	return cut{run: make([]int, len(g.edges)), link: [2][]int{make([]int, g.n), make([]int, g.n)}}
}

func (c cut) clone() cut {
	c.run = slices.Clone(c.run)
	c.link = [2][]int{slices.Clone(c.link[0]), slices.Clone(c.link[1])}
	return c
}

// want asks a bit to be as it is said, at a cost.
func (c cut) want(v int, bit bool, cost int) {
	side := 0
	if bit {
		side = 1
	}
	c.link[side][v] = min(given, c.link[side][v]+cost)
}

// fill lets flow what can, each time along the fewest edges (J. Edmonds and
// R. M. Karp, JACM 19, 1972, recalled), as long as it is within the limit.
func (s *search) fill(c *cut) {
	for c.flow <= s.limit {
		end := s.reach(c)
		if end < 0 {
			return
		}
		least := c.link[1][end]
		v := end
		for s.via[v] != start {
			i := s.via[v]
			v = s.edges[i].other(v)
			least = min(least, c.left(s.edges[i], i, v))
		}
		least = min(least, c.link[0][v])
		c.flow += least
		c.draw(0, v, least)
		c.draw(1, end, least)
		for v := end; s.via[v] != start; {
			i := s.via[v]
			v = s.edges[i].other(v)
			if s.edges[i].a == v {
				c.run[i] += least
			} else {
				c.run[i] -= least
			}
		}
	}
}

// draw takes from a link; that of a bit that is given stays as it is.
func (c cut) draw(side, v, amount int) {
	if c.link[side][v] < given {
		c.link[side][v] -= amount
	}
}

// left is what can still run along an edge from the bit.
func (c cut) left(e edge, i, from int) int {
	if e.a == from {
		return e.cost - c.run[i]
	}
	return e.cost + c.run[i]
}

// In via: where a way starts, and that none has come.
const (
	start = -1
	never = -2
)

// reach goes from the bits that are linked to false wherever more can run, and
// returns the first that is linked to true, negative if there is none.
func (s *search) reach(c *cut) int {
	s.queue = s.queue[:0]
	for v := range s.n {
		s.via[v] = never
		if c.link[0][v] > 0 {
			s.via[v] = start
			s.queue = append(s.queue, v)
		}
	}
	s.steps += s.n
	for k := 0; k < len(s.queue); k++ {
		v := s.queue[k]
		if c.link[1][v] > 0 {
			return v
		}
		s.steps += len(s.at[v])
		for _, i := range s.at[v] {
			e := s.edges[i]
			if to := e.other(v); !e.odd && s.via[to] == never && c.left(e, i, v) > 0 {
				s.via[to] = i
				s.queue = append(s.queue, to)
			}
		}
	}
	return never
}

// side is the least cut after fill: what can't be reached is true.
func (s *search) side() []bool {
	side := make([]bool, s.n)
	for v := range side {
		side[v] = s.via[v] == never
	}
	return side
}

// rings adds to the flow what odd rings must cost that share nothing with it
// nor with one another: each is one odd edge and a way between its ends. The
// two values, which all given bits share, are places of a way too.
func (s *search) rings(c cut) int {
	room := make([]int, len(s.edges))
	for i, e := range s.edges {
		room[i] = e.cost - max(c.run[i], -c.run[i])
	}
	link := [2][]int{slices.Clone(c.link[0]), slices.Clone(c.link[1])}
	sum := c.flow
	for i, e := range s.edges {
		for e.odd && !s.taken[i] && room[i] > 0 && sum <= s.limit && s.way(room, link, e) {
			least := room[i]
			s.along(e, func(v, via int) {
				if via < len(room) {
					least = min(least, room[via])
				} else {
					least = min(least, link[via-len(room)][v])
				}
			})
			room[i] -= least
			s.along(e, func(v, via int) {
				if via < len(room) {
					room[via] -= least
				} else if side := via - len(room); link[side][v] < given {
					link[side][v] -= least
				}
			})
			sum += least
		}
	}
	return sum
}

// along goes back over the way found between an odd edge's ends: each edge, or
// link, with the bit at one end of it.
func (s *search) along(e edge, do func(v, via int)) {
	for v := e.b; v != e.a; {
		via := s.via[v]
		if via < len(s.edges) {
			do(v, via)
			v = s.edges[via].other(v)
			continue
		}
		do(v, via)
		// The way came to v from the value, and to the value from a bit.
		v = s.via[s.n+via-len(s.edges)]
		do(v, via)
	}
}

// way looks for a way with room from one end of an odd edge to the other.
func (s *search) way(room []int, link [2][]int, e edge) bool {
	for v := range s.via {
		s.via[v] = never
	}
	s.via[e.a] = start
	s.queue = append(s.queue[:0], e.a)
	s.steps += s.n
	for k := 0; k < len(s.queue) && s.via[e.b] == never; k++ {
		v := s.queue[k]
		s.steps += len(s.at[v])
		for _, i := range s.at[v] {
			if to := s.edges[i].other(v); !s.edges[i].odd && room[i] > 0 && s.via[to] == never {
				s.via[to] = i
				s.queue = append(s.queue, to)
			}
		}
		for side, links := range link {
			if links[v] == 0 || s.via[s.n+side] != never {
				continue
			}
			s.via[s.n+side] = v
			s.steps += s.n
			for to, left := range links {
				if left > 0 && s.via[to] == never {
					s.via[to] = len(s.edges) + side
					s.queue = append(s.queue, to)
				}
			}
		}
	}
	return s.via[e.b] != never
}
