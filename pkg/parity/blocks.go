package parity

// Rings lie within blocks: parts that no single bit, taken away, would cut in
// two. What is asked of one block is asked of no other, so each is solved by
// itself (R. Tarjan, "Depth-first search and linear graph algorithms", SIAM J.
// Comput. 1, 1972).

// A block is a piece of a graph by its edges; members as a piece's.
type block struct {
	graph
	members []int
}

// blocks cuts a graph into its blocks of more than one edge.
func blocks(g graph) []block {
	d := descent{
		g: g, at: incident(g), seen: make([]int, g.n), low: make([]int, g.n),
		number: make([]int, g.n), stamp: make([]int, g.n),
	}
	for v := range g.n {
		if d.seen[v] == 0 {
			d.from(v)
		}
	}
	return d.found
}

// incident lists the edges at each bit.
func incident(g graph) [][]int {
	at := make([][]int, g.n)
	for i, e := range g.edges {
		at[e.a] = append(at[e.a], i)
		at[e.b] = append(at[e.b], i)
	}
	return at
}

// other is an edge's far end.
func (e edge) other(v int) int { return e.a + e.b - v }

// A descent goes through a graph depth first.
type descent struct {
	g         graph
	at        [][]int
	seen, low []int // of each bit: when it was met, from 1, and the earliest met that is reached from it or below
	clock     int
	trail     []int // edges that belong to no block yet
	found     []block

	number, stamp []int // of each bit: its number in the block that stamp says
}

// A level is a bit on the way down.
type level struct {
	v, via int // the edge that led here, -1 for none
	next   int // of the edges at v
	below  int // edges on the trail before via
}

// from goes through what is connected with a bit. It keeps its own levels: a
// chain of bits may be long.
func (d *descent) from(v int) {
	d.meet(v)
	levels := []level{{v: v, via: -1}}
	for len(levels) > 0 {
		l := &levels[len(levels)-1]
		if l.next == len(d.at[l.v]) {
			done := *l
			levels = levels[:len(levels)-1]
			if len(levels) > 0 {
				d.leave(done, levels[len(levels)-1].v)
			}
			continue
		}
		i := d.at[l.v][l.next]
		l.next++
		to := d.g.edges[i].other(l.v)
		switch {
		case i == l.via:
		case d.seen[to] == 0:
			d.meet(to)
			levels = append(levels, level{v: to, via: i, below: len(d.trail)})
			d.trail = append(d.trail, i)
		case d.seen[to] < d.seen[l.v]:
			d.trail = append(d.trail, i)
			d.low[l.v] = min(d.low[l.v], d.seen[to])
		}
	}
}

func (d *descent) meet(v int) {
	d.clock++
	d.seen[v], d.low[v] = d.clock, d.clock
}

// leave goes back up from a bit: if nothing below it reaches above its parent,
// what is on the trail since is a block.
func (d *descent) leave(l level, parent int) {
	d.low[parent] = min(d.low[parent], d.low[l.v])
	if d.low[l.v] < d.seen[parent] {
		return
	}
	if list := d.trail[l.below:]; len(list) > 1 {
		d.found = append(d.found, d.block(list))
	}
	d.trail = d.trail[:l.below]
}

func (d *descent) block(list []int) block {
	var b block
	stamp := len(d.found) + 1
	number := func(v int) int {
		if d.stamp[v] != stamp {
			d.stamp[v], d.number[v] = stamp, b.n
			b.members = append(b.members, v)
			b.n++
		}
		return d.number[v]
	}
	for _, i := range list {
		e := d.g.edges[i]
		b.edges = append(b.edges, edge{number(e.a), number(e.b), e.odd, e.cost})
	}
	return b
}
