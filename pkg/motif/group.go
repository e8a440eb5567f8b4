package motif

import (
	"strapwork/pkg/geom"
	"strapwork/pkg/work"
)

// group is the symmetry that copying gives a motif: turns about the origin,
// and with mirror each of them after a reflection in the x axis. Its members
// are numbered as the copies are, from 0: turns first, then the mirrored ones.
// What holds of one copy is carried over to all others by these numbers, never
// by measuring again, so that rounding can't set two copies apart.
type group struct {
	turns int
	moves []geom.Similarity
}

func newGroup(m work.Drawing) group {
	g := group{turns: max(1, m.Copies)}
	for k := range g.turns {
		g.moves = append(g.moves, geom.TurningFraction(k, g.turns))
	}
	for k := 0; k < g.turns && m.Mirror; k++ {
		g.moves = append(g.moves, geom.MirrorX().Then(geom.TurningFraction(k, g.turns)))
	}
	return g
}

// size is the number of members.
func (g group) size() int { return len(g.moves) }

func (g group) mirrored(a int) bool { return a >= g.turns }

// times is the member that moves as b does and then as a does. A reflection
// between turns has the earlier turn run backwards.
func (g group) times(a, b int) int {
	turn, mirrored := b%g.turns, g.mirrored(a) != g.mirrored(b)
	if g.mirrored(a) {
		turn = g.turns - turn
	}
	turn = (a%g.turns + turn) % g.turns
	if mirrored {
		return turn + g.turns
	}
	return turn
}

// inverse undoes a. A reflection undoes itself.
func (g group) inverse(a int) int {
	if g.mirrored(a) || a == 0 {
		return a
	}
	return g.turns - a
}

// closure is the least subgroup that holds some members, in order.
func (g group) closure(of []int) []int {
	in := make([]bool, g.size())
	in[0] = true
	for queue := []int{0}; len(queue) > 0; queue = queue[1:] {
		for _, a := range of {
			if b := g.times(a, queue[0]); !in[b] {
				in[b] = true
				queue = append(queue, b)
			}
		}
	}
	var all []int
	for a, is := range in {
		if is {
			all = append(all, a)
		}
	}
	return all
}

// mean is the average of the images of p under some members: for a subgroup,
// the point next to p that it leaves where it is.
func (g group) mean(of []int, p geom.Point) geom.Point {
	var sum geom.Point
	for _, a := range of {
		sum = sum.Add(g.moves[a].Apply(p))
	}
	return sum.Scale(1 / float64(len(of)))
}

// back is what the member a moves onto p.
func (g group) back(a int, p geom.Point) geom.Point { return g.moves[g.inverse(a)].Apply(p) }
