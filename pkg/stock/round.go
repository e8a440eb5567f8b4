package stock

import (
	"cmp"
	"math"
	"slices"
)

// linear solves the linear program, and makes plans of its solution.
func (s *solver) linear() {
	if len(s.size) > mostKinds || len(s.size)*s.largest() > mostTable {
		return
	}
	demand, limits := slices.Clone(s.demand), s.limits()
	var fixed []cut
	for first := true; ; first = false {
		m := s.newMaster(demand, limits)
		if !first {
			m.optimize(0, s.steps/2)
		} else if m.stock(); m.optimize(s.cost, s.steps/2) {
			s.lp = m.value()
			s.prove(m.prices()[:len(demand)])
		} else if m.proof != nil {
			s.prove(m.proof)
		}
		if s.done() || s.steps <= 0 {
			return
		}
		taken := s.round(m, fixed)
		if len(taken) == 0 || s.done() {
			return
		}
		for _, c := range taken {
			for i, n := range c.n {
				demand[i] = max(0, demand[i]-n*c.times)
			}
			limits[c.bar] = freed(limits[c.bar], -c.times)
		}
		fixed = append(fixed, taken...)
		if s.cheapest(demand, limits)+s.costOf(fixed) >= s.cost {
			return
		}
	}
}

// round makes plans of a solution: what of it is whole, then one bar more after another, the
// nearest to a whole one first, and the rest filled. It returns what is whole, or if nothing is, the
// first of the others.
func (s *solver) round(m *master, fixed []cut) (taken []cut) {
	var parts []cut
	var part []float64
	for i, c := range m.basis {
		if c.slack >= 0 {
			continue
		}
		n := math.Floor(m.x[i] + fractional)
		if n > 0 {
			taken = append(taken, cut{c.bar, int(n), c.n})
		}
		if f := m.x[i] - n; f > fractional {
			at, _ := slices.BinarySearchFunc(part, f, func(a, b float64) int { return cmp.Compare(b, a) })
			part, parts = slices.Insert(part, at, f), slices.Insert(parts, at, cut{c.bar, 1, c.n})
		}
	}
	more := slices.Clone(taken)
	todo := s.complete(m, fixed, more)
	for _, c := range parts {
		if s.done() || !s.spend(perTried*len(m.demand)) {
			return nil
		}
		if s.repeats(c, todo, 1) > 0 {
			more = append(more, c)
			todo = s.complete(m, fixed, more)
		}
	}
	if len(taken) == 0 && len(parts) > 0 {
		return parts[:1]
	}
	return taken
}

// complete offers what is fixed, some cuts less what they make too many, and the rest filled. It returns the rest.
func (s *solver) complete(m *master, fixed, cuts []cut) (todo []int) {
	todo, free := slices.Clone(m.demand), slices.Clone(m.limits)
	all := slices.Clone(fixed)
	for _, c := range cuts {
		for range c.times {
			n := make([]int, len(c.n))
			for i, k := range c.n {
				n[i] = min(k, todo[i])
			}
			if s.used(n) == 0 || free[c.bar] == 0 {
				continue
			}
			for i, k := range n {
				todo[i] -= k
			}
			free[c.bar] = freed(free[c.bar], -1)
			all = append(all, cut{c.bar, 1, n})
		}
	}
	for _, longest := range []bool{true, false} {
		s.offer(slices.Concat(all, s.filled(todo, free, longest)))
	}
	return todo
}
