package sat

// What a conflict teaches: a clause that forbids its reason, at the first place
// where one literal of the last decision's level is enough.

// learning is room that is used again and again.
type learning struct {
	met    []bool // by variable: part of the clause, or dealt with
	clause []Lit
	clean  []int // variables to take out of met
	stack  []Lit
	levels []int // by level: when it was last part of what was learnt
	turn   int
}

// learn learns from a clause that fails, goes back to where what is learnt says
// something, and draws that conclusion.
func (s *Solver) learn(failed ref) {
	clause := s.firstPoint(failed)
	clause = s.minimized(clause)
	for _, v := range s.learning.clean {
		s.learning.met[v] = false
	}
	s.learning.clean = s.learning.clean[:0]
	s.order.decay()
	if len(clause) == 1 {
		s.back(0)
		s.set(clause[0], 0)
		return
	}
	at := 1 // of the literals that fail, the one that failed last
	for i := 2; i < len(clause); i++ {
		if s.level[clause[i].variable()] > s.level[clause[at].variable()] {
			at = i
		}
	}
	clause[1], clause[at] = clause[at], clause[1]
	span := s.span(clause)
	s.back(int(s.level[clause[1].variable()]))
	c := s.store(clause, span)
	s.learnt = append(s.learnt, c)
	s.set(clause[0], c)
}

// firstPoint returns the clause, that literal first.
func (s *Solver) firstPoint(failed ref) []Lit {
	m := &s.learning
	m.clause = append(m.clause[:0], 0)
	now := int32(len(s.limits))
	open, i := 0, len(s.trail)-1
	for why, done := failed, Lit(-1); ; {
		for _, x := range s.lits(why) {
			l := Lit(x)
			v := l.variable()
			if l == done || m.met[v] || s.level[v] == 0 {
				continue
			}
			m.met[v] = true
			m.clean = append(m.clean, v)
			s.order.raise(v)
			if s.level[v] == now {
				open++
			} else {
				m.clause = append(m.clause, l)
			}
		}
		for !m.met[s.trail[i].variable()] {
			i--
		}
		done = s.trail[i]
		i--
		if open--; open == 0 {
			m.clause[0] = done.Not()
			return m.clause
		}
		why = s.reason[done.variable()]
	}
}

// minimized leaves out what follows from the rest.
func (s *Solver) minimized(clause []Lit) []Lit {
	s.span(clause)
	kept := clause[:1]
	for _, l := range clause[1:] {
		if s.reason[l.variable()] == 0 || !s.follows(l) {
			kept = append(kept, l)
		}
	}
	return kept
}

// follows reports whether a literal fails because others of the clause do.
func (s *Solver) follows(l Lit) bool {
	m := &s.learning
	m.stack = append(m.stack[:0], l)
	first := len(m.clean)
	for len(m.stack) > 0 {
		l := m.stack[len(m.stack)-1]
		m.stack = m.stack[:len(m.stack)-1]
		for _, x := range s.lits(s.reason[l.variable()]) {
			v := Lit(x).variable()
			if m.met[v] || s.level[v] == 0 {
				continue
			}
			if s.reason[v] == 0 || m.levels[s.level[v]] != m.turn { // nor can it follow from another level's
				for _, w := range m.clean[first:] {
					m.met[w] = false
				}
				m.clean = m.clean[:first]
				return false
			}
			m.met[v] = true
			m.clean = append(m.clean, v)
			m.stack = append(m.stack, Lit(x))
		}
	}
	return true
}

// span counts the decisions that a clause spans.
func (s *Solver) span(clause []Lit) int {
	m := &s.learning
	for len(m.levels) <= len(s.limits) {
		m.levels = append(m.levels, 0)
	}
	m.turn++
	n := 0
	for _, l := range clause {
		if at := &m.levels[s.level[l.variable()]]; *at != m.turn {
			*at = m.turn
			n++
		}
	}
	return n
}
