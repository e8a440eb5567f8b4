package sat

import (
	"cmp"
	"slices"
)

// How often the search begins anew, and how many clauses it keeps that it has
// learnt: common practice.
const (
	lubyUnit    = 100  // conflicts
	firstReduce = 2000 // conflicts until half of the learnt clauses are dropped
	moreReduce  = 300  // so many more each time
	keptSpan    = 2    // clauses that span no more decisions are always kept
)

// Solve asks whether all clauses can be met, with what is assumed for this
// question alone, in at most so many steps.
func (s *Solver) Solve(steps int, assumed ...Lit) Answer {
	if s.reduce == 0 {
		s.reduce = firstReduce
	}
	most := s.steps + steps
	for round := 1; ; round++ {
		s.back(0)
		if s.refuted || s.propagate() != 0 {
			s.refuted = true
			return No
		}
		if s.steps >= most {
			return Unknown
		}
		if ans := s.search(lubyUnit*luby(round), most, assumed); ans != Unknown {
			return ans
		}
	}
}

// search goes on for so many conflicts.
func (s *Solver) search(conflicts, most int, assumed []Lit) Answer {
	for {
		if c := s.propagate(); c != 0 {
			if len(s.limits) == 0 {
				s.refuted = true
				return No
			}
			s.learn(c)
			s.seen++
			conflicts--
			continue
		}
		if conflicts <= 0 || s.steps >= most {
			return Unknown
		}
		if s.seen >= s.reduce {
			s.thin()
		}
		l, ans := s.next(assumed)
		if ans != Unknown {
			return ans
		}
		s.limits = append(s.limits, len(s.trail))
		s.set(l, 0)
	}
}

// next is the next decision: what is assumed first, and then the most active
// variable as it was last. The answer is Yes where nothing is open, and No where
// an assumption fails.
func (s *Solver) next(assumed []Lit) (Lit, Answer) {
	for len(s.limits) < len(assumed) {
		l := assumed[len(s.limits)]
		switch {
		case s.value[l] < 0:
			return 0, No
		case s.value[l] == 0:
			return l, Unknown
		}
		s.limits = append(s.limits, len(s.trail)) // holds anyway
	}
	for {
		v, ok := s.order.take()
		if !ok {
			s.keepModel()
			return 0, Yes
		}
		if s.value[2*v] == 0 {
			l := Lit(2 * v)
			if !s.phase[v] {
				l = l.Not()
			}
			return l, Unknown
		}
	}
}

func (s *Solver) keepModel() {
	s.model = s.model[:0]
	for v := range s.level {
		s.model = append(s.model, s.value[2*v] > 0)
	}
}

// luby is the i-th of 1 1 2 1 1 2 4 1 1 2 1 1 2 4 8 and so on.
func luby(i int) int {
	for {
		k := 1
		for 1<<k-1 < i {
			k++
		}
		if 1<<k-1 == i {
			return 1 << (k - 1)
		}
		i -= 1<<(k-1) - 1
	}
}

// thin drops the half of the learnt clauses that span the most decisions, but
// for those that give a reason now.
func (s *Solver) thin() {
	s.reduced++
	s.reduce = s.seen + firstReduce + moreReduce*s.reduced
	list := slices.Clone(s.learnt)
	slices.SortStableFunc(list, func(a, b ref) int { return cmp.Compare(s.arena[b+spanAt], s.arena[a+spanAt]) })
	for _, c := range list[:len(list)/2] {
		if s.arena[c+spanAt] > keptSpan && !s.givesReason(c) {
			s.arena[c] = 0
		}
	}
	s.compact()
}

func (s *Solver) givesReason(c ref) bool {
	l := Lit(s.lits(c)[0])
	return s.value[l] > 0 && s.reason[l.variable()] == c
}

// compact moves the clauses that are left together.
func (s *Solver) compact() {
	old := s.arena
	s.arena = append(make([]uint32, 0, len(old)), 0)
	for i := range s.watches {
		s.watches[i] = s.watches[i][:0]
	}
	for _, list := range [2]*[]ref{&s.clauses, &s.learnt} {
		kept := (*list)[:0]
		for _, c := range *list {
			n := ref(old[c])
			if n == 0 {
				continue
			}
			to := ref(len(s.arena))
			s.arena = append(s.arena, old[c:c+litsAt+n]...)
			old[c], old[c+spanAt] = forward, uint32(to)
			s.watch(to)
			kept = append(kept, to)
		}
		*list = kept
	}
	for _, l := range s.trail {
		if why := &s.reason[l.variable()]; *why != 0 {
			*why = ref(old[*why+spanAt])
		}
	}
}
