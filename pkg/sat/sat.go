// Package sat decides whether a set of clauses, each of which asks that one of
// its literals holds, can be met: conflict-driven clause learning.
//
// Three things are asked of a solver here, and the libraries tried give no two
// of them: it is bounded by the work that it does and never by the clock, so
// that the same question gives the same answer on every machine; it can be
// stopped there without a race, and asked on with what it has learnt; and many
// can be at work side by side. Libraries are witnesses in the tests.
//
// Method: two watched literals and decaying activities (Moskewicz et al.,
// "Chaff", DAC 2001), clauses learnt at the first unique implication point and
// minimized (Eén and Sörensson, "An Extensible SAT-solver", SAT 2003), restarts
// after Luby, Sinclair and Zuckerman (1993), and learnt clauses kept by the
// number of decisions that they span (Audemard and Simon, IJCAI 2009). All
// recalled.
package sat

import "math"

// A Lit is a variable or what is not it.
type Lit int32

// Not is the literal that holds where l doesn't.
func (l Lit) Not() Lit { return l ^ 1 }

func (l Lit) variable() int { return int(l >> 1) }

// An Answer is what is known of a question.
type Answer int

const (
	Unknown Answer = iota // the work that was allowed is done
	Yes                   // it can be met; Holds says how
	No
)

// A Solver holds clauses. The zero value is ready, with none.
type Solver struct {
	arena   []uint32  // clauses, one after the other: header, then literals
	clauses []ref     // that were asked for, of two literals and more
	learnt  []ref     // of two and more
	watches [][]watch // by literal: the clauses that watch for it to fail

	value    []int8 // by literal: 1 holds, -1 doesn't, 0 open
	level    []int32
	reason   []ref
	phase    []bool // by variable: what it was last
	trail    []Lit
	limits   []int // where each level begins on the trail
	head     int   // what of the trail is propagated
	order    order
	model    []bool
	refuted  bool // the clauses by themselves can't be met
	steps    int  // clauses looked at since the beginning
	learning learning
	conflict
}

// conflict counts what is due after so many conflicts.
type conflict struct {
	seen    int // conflicts so far
	reduce  int // when learnt clauses are next thinned out
	reduced int // how often that was done
}

// A ref is where a clause begins in the arena; 0 is none.
type ref uint32

// A clause's header is its size, and for a learnt one how many decisions it
// spans.
const (
	spanAt  = 1
	litsAt  = 2
	forward = math.MaxUint32 // in place of a size: the clause has moved to where spanAt says
)

// A watch leads to a clause. Where other holds the clause is met; of a clause
// of two literals, other is the second.
type watch struct {
	clause ref
	other  Lit
	pair   bool
}

func (s *Solver) lits(c ref) []uint32 {
	n := ref(s.arena[c])
	return s.arena[c+litsAt : c+litsAt+n]
}

// Var is a fresh variable, as the literal that it holds.
func (s *Solver) Var() Lit {
	v := len(s.level)
	s.level = append(s.level, 0)
	s.reason = append(s.reason, 0)
	s.phase = append(s.phase, false)
	s.value = append(s.value, 0, 0)
	s.watches = append(s.watches, nil, nil)
	s.learning.met = append(s.learning.met, false)
	s.order.add(v)
	return Lit(2 * v)
}

// Vars is so many fresh variables.
func (s *Solver) Vars(n int) []Lit {
	list := make([]Lit, n)
	for i := range list {
		list[i] = s.Var()
	}
	return list
}

// Steps is the work done so far: the clauses looked at, in all questions. What a
// clause costs to be put counts as much.
func (s *Solver) Steps() int { return s.steps }

// Holds reports whether a literal held in the last answer that was Yes.
func (s *Solver) Holds(l Lit) bool { return s.model[l.variable()] == (l&1 == 0) }

// Add asks that one of the literals holds, from now on. A clause that holds
// both a literal and what is not it asks nothing.
func (s *Solver) Add(lits ...Lit) {
	if s.refuted {
		return
	}
	s.back(0)
	s.steps++
	var own []Lit
	for _, l := range lits {
		switch {
		case s.value[l] > 0 || has(own, l.Not()):
			return
		case s.value[l] == 0 && !has(own, l):
			own = append(own, l)
		}
	}
	switch len(own) {
	case 0:
		s.refuted = true
	case 1:
		s.set(own[0], 0)
	default:
		s.clauses = append(s.clauses, s.store(own, 0))
	}
}

func has(list []Lit, l Lit) bool {
	for _, m := range list {
		if m == l {
			return true
		}
	}
	return false
}

// store puts a clause into the arena and watches its first two literals.
func (s *Solver) store(lits []Lit, span int) ref {
	if len(s.arena) == 0 {
		s.arena = append(s.arena, 0) // so that no clause is at 0
	}
	c := ref(len(s.arena))
	s.arena = append(s.arena, uint32(len(lits)), uint32(span))
	for _, l := range lits {
		s.arena = append(s.arena, uint32(l))
	}
	s.watch(c)
	return c
}

func (s *Solver) watch(c ref) {
	l := s.lits(c)
	a, b, pair := Lit(l[0]), Lit(l[1]), len(l) == 2
	s.watches[a] = append(s.watches[a], watch{c, b, pair})
	s.watches[b] = append(s.watches[b], watch{c, a, pair})
}

// set makes a literal hold, for a reason or by decision.
func (s *Solver) set(l Lit, why ref) {
	v := l.variable()
	s.value[l], s.value[l.Not()] = 1, -1
	s.level[v], s.reason[v] = int32(len(s.limits)), why
	s.trail = append(s.trail, l)
}

// back undoes all levels past one.
func (s *Solver) back(level int) {
	if len(s.limits) <= level {
		return
	}
	from := s.limits[level]
	for i := len(s.trail) - 1; i >= from; i-- {
		l := s.trail[i]
		s.value[l], s.value[l.Not()] = 0, 0
		s.phase[l.variable()] = l&1 == 0
		s.order.put(l.variable())
	}
	s.trail, s.limits, s.head = s.trail[:from], s.limits[:level], from
}

// propagate draws all conclusions, and returns a clause that fails, or 0.
func (s *Solver) propagate() ref {
	value := s.value
	for s.head < len(s.trail) {
		l := s.trail[s.head].Not() // what fails now
		s.head++
		list, kept := s.watches[l], 0
		s.steps += len(list)
		for i, w := range list {
			if value[w.other] <= 0 && !w.pair && s.watchElsewhere(l, &w) {
				continue
			}
			list[kept] = w
			kept++
			if v := value[w.other]; v == 0 {
				s.set(w.other, w.clause)
			} else if v < 0 {
				kept += copy(list[kept:], list[i+1:])
				s.watches[l] = list[:kept]
				return w.clause
			}
		}
		s.watches[l] = list[:kept]
	}
	return 0
}

// watchElsewhere lets a clause that watches l, which fails, watch another of its
// literals, and reports whether there is one. If not, w's other literal is the
// only one left, or holds already.
func (s *Solver) watchElsewhere(l Lit, w *watch) bool {
	at, value := w.clause+litsAt, s.value
	lits := s.arena[at : at+ref(s.arena[w.clause])]
	if Lit(lits[0]) == l {
		lits[0], lits[1] = lits[1], lits[0]
	}
	first := Lit(lits[0])
	w.other = first
	if value[first] > 0 {
		return false
	}
	for k := 2; k < len(lits); k++ {
		if m := Lit(lits[k]); value[m] >= 0 {
			lits[1], lits[k] = lits[k], lits[1]
			s.watches[m] = append(s.watches[m], watch{w.clause, first, false})
			return true
		}
	}
	return false
}
