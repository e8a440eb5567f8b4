package plan

// Counting in clauses: a sequential counter (C. Sinz, "Towards an Optimal CNF
// Encoding of Boolean Cardinality Constraints", CP 2005; recalled), made as far
// as it is asked for.

import "strapwork/pkg/sat"

// A counter says how many of some literals hold at least.
type counter struct {
	solver *sat.Solver
	of     []sat.Lit
	more   [][]sat.Lit // more[k][i]: more than k of the first k+1+i
}

// atMost is what to assume for no more than k of the literals to hold; nothing
// where that is so anyway. Fewer than none can't be.
func (c *counter) atMost(k int) []sat.Lit {
	if k >= len(c.of) {
		return nil
	}
	for len(c.more) <= max(k, 0) {
		c.add()
	}
	if k < 0 {
		never := c.solver.Var()
		c.solver.Add(never.Not())
		return []sat.Lit{never}
	}
	column := c.more[k]
	return []sat.Lit{column[len(column)-1].Not()}
}

// clauses is how many it takes to count up to k, at most.
func (c *counter) clauses(k int) int {
	if k >= len(c.of) {
		return 0
	}
	return 2 * len(c.of) * (max(k, 0) + 1)
}

// add counts one further.
func (c *counter) add() {
	k := len(c.more)
	column := c.solver.Vars(len(c.of) - k)
	for i, m := range column {
		x := c.of[k+i].Not()
		if k == 0 {
			c.solver.Add(x, m)
		} else {
			c.solver.Add(x, c.more[k-1][i].Not(), m)
		}
		if i > 0 {
			c.solver.Add(column[i-1].Not(), m)
		}
	}
	c.more = append(c.more, column)
}
