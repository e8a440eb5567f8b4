package plan

// The search for the best plans over one cutting-up into atoms.
//
// There is one kind of question: is there a plan with no more than so many
// visible splits, set-ups and panels? Plans that were found, and questions that
// have no answer, settle others, whatever they were asked for; so the three
// preferences, each of which makes the three numbers least in an order of its
// own, share all that is known.
//
// Panels that are each laid once are the general case: such plans include every
// other, so that the least number of set-ups is found with them. To share these
// out over fewer panels, the solver chooses the positions.

import (
	"math"
	"slices"

	"strapwork/pkg/sat"
	"strapwork/pkg/work"
)

// A count is what plans are compared by, or what a question bounds.
type count struct{ visible, setUps, panels, openings int }

// none is no bound.
const none = math.MaxInt

// unbounded is the question whether there is any plan.
var unbounded = count{none, none, none, none}

// within reports whether a is no more than b in anything.
func (a count) within(b count) bool {
	return a.visible <= b.visible && a.setUps <= b.setUps && a.panels <= b.panels && a.openings <= b.openings
}

// key is what counts, most important first.
func (a count) key(prefer work.Prefer) [4]int {
	switch prefer {
	case work.PreferSetups:
		return [4]int{a.setUps, a.visible, a.panels, a.openings}
	case work.PreferPanels:
		return [4]int{a.panels, a.visible, a.setUps, a.openings}
	case work.PreferClean:
	}
	return [4]int{a.visible, a.setUps, a.panels, a.openings}
}

// better reports whether a is a better plan than b.
func better(a, b count, prefer work.Prefer) bool {
	x, y := a.key(prefer), b.key(prefer)
	return slices.Compare(x[:], y[:]) < 0
}

// A solution is a plan over atoms.
type solution struct {
	count
	at   *atoms
	sets [][]int // for each panel, its positions
	ans  answer
	uses [][][]bool // by panel, place among its positions and atom: it is cut there, if held; nil if all is
}

// A search is over one cutting-up.
type search struct {
	at       *atoms
	budget   *int // steps that may still be made
	mul      [][]int
	clique   []int   // atoms of which no panel holds two at once
	hopeless bool    // some atom can't be cut by itself, nor with others: no number of panels helps
	blocked  []fault // what no panel may hold, found out by exact tests
	models   map[kind]*model
	room     int               // the clauses that these take
	found    []*solution       // sound plans, also over other atoms
	refuted  []count           // questions that no plan answers
	open     map[count]int     // questions that were given up, after so many steps
	listed   map[int]listing   // position sets by size
	chosen   map[[2]int]chosen // choices of position sets, by panels and set-ups
	visible  int               // the fewest visible splits that any plan has
}

func newSearch(at *atoms, budget *int, found []*solution) *search {
	s := &search{
		at: at, budget: budget, found: found, clique: at.alone(greedyClique(at.clashing())), listed: map[int]listing{},
		models: map[kind]*model{}, chosen: map[[2]int]chosen{}, open: map[count]int{},
	}
	s.visible = s.leastVisible()
	for _, f := range at.image {
		row := make([]int, len(at.image))
		for h, g := range at.image {
			row[h] = slices.IndexFunc(at.image, func(x []int) bool { return slices.Equal(x, composed(f, g)) })
		}
		s.mul = append(s.mul, row)
	}
	return s
}

// An outcome is the best plan for a preference, and what no plan is below.
type outcome struct {
	sol    *solution
	limit  count // each given what is preferred before it
	proved bool  // nothing is better, over these atoms
}

// best makes the three numbers least, in the order of a preference.
func (s *search) best(prefer work.Prefer) outcome {
	o := outcome{proved: true}
	c := unbounded
	switch prefer {
	case work.PreferClean:
		s.leastOf(&o, &c, visibleOf, s.visible)
		s.leastOf(&o, &c, setUpsOf, max(1, len(s.clique)))
		s.leastOf(&o, &c, panelsOf, s.leastPanels(c.setUps))
	case work.PreferSetups:
		s.leastOf(&o, &c, setUpsOf, max(1, len(s.clique)))
		s.leastOf(&o, &c, visibleOf, s.visible)
		s.leastOf(&o, &c, panelsOf, s.leastPanels(c.setUps))
	case work.PreferPanels:
		s.leastOf(&o, &c, panelsOf, 1)
		few := c // panels laid less often have fewer ends: a good way to begin
		s.lower(&few, setUpsOf, max(1, len(s.clique)))
		for range fewMore {
			few.visible = none
			s.lower(&few, visibleOf, s.visible)
			few.setUps++
		}
		s.leastOf(&o, &c, visibleOf, s.visible)
		s.leastOf(&o, &c, setUpsOf, max(1, len(s.clique)))
	}
	if o.sol = s.within(c, openingsOf); o.sol != nil && o.sol.at == s.at {
		o.sol = s.fewestOpenings(s.neatly(o.sol))
	}
	return o
}

// fewMore is how many numbers of set-ups, the fewest and more, are tried for few
// visible splits.
const fewMore = 3

// A part is one number of a count.
type part func(*count) *int

func visibleOf(c *count) *int  { return &c.visible }
func setUpsOf(c *count) *int   { return &c.setUps }
func panelsOf(c *count) *int   { return &c.panels }
func openingsOf(c *count) *int { return &c.openings }

// leastOf makes one number of a question as small as there is a plan for, and
// finds what it is not below, no less than first: from below while the answers come
// quickly, then from above in the same way, then from below with patience.
func (s *search) leastOf(o *outcome, c *count, of part, first int) {
	n, limit := of(c), of(&o.limit)
	*limit = first
	for _, steps := range [2]int{quick, oneQuestion} {
		for *n = *limit; ; *n++ {
			ok := s.ask(*c, steps)
			if *limit = *n; ok {
				return
			}
			if !s.isRefuted(*c) {
				break
			}
		}
		*n = none
		s.lower(c, of, *limit)
		if *n == *limit {
			return
		}
	}
	o.proved = false
}

// lower makes one number of a question less, from what was found, by more and
// more while that comes quickly.
func (s *search) lower(c *count, of part, limit int) {
	n := of(c)
	sol := s.within(*c, of)
	if sol == nil {
		return
	}
	*n = *of(&sol.count)
	for gap := min(1, *n-limit); gap > 0; gap = min(gap, *n-limit) {
		fewer := *c
		*of(&fewer) -= gap
		if s.ask(fewer, quick) {
			*n = *of(&s.within(fewer, of).count)
			gap *= 2
		} else {
			gap /= 2
		}
	}
}

// within is the plan found within bounds that has the least of something; nil if
// there is none.
func (s *search) within(c count, of part) *solution {
	var best *solution
	for _, sol := range s.found {
		if sol.count.within(c) && (best == nil || *of(&sol.count) < *of(&best.count)) {
			best = sol
		}
	}
	return best
}

func (s *search) isRefuted(c count) bool {
	return slices.ContainsFunc(s.refuted, c.within)
}

// What is done for one question at most, in steps of the solver, of which some
// 40 million take a second. The search goes on without the answer, but what a "no"
// would have proved is not proved.
const (
	quick       = 2_000_000
	oneQuestion = 40_000_000
	oneSet      = 1_000_000 // for one choice of positions
)

// mostRepairs bounds how often a plan whose openings turn out too near one
// another, or not to be followed, is sent back.
const mostRepairs = 20

// ask looks for a plan within bounds, and reports whether there is one now.
func (s *search) ask(c count, steps int) bool {
	if s.within(c, openingsOf) != nil {
		return true
	}
	steps = min(steps, *s.budget*3/4) // something is left for what is asked later
	if s.isRefuted(c) || s.open[c] >= steps || s.hopeless {
		return false
	}
	m := s.modelFor(c)
	if m == nil {
		s.open[c] = none
		return false
	}
	switch s.decide(m, c, steps) {
	case sat.Yes:
		return true
	case sat.No:
		if c.setUps != none || c.panels != none {
			s.refuted = append(s.refuted, c)
			break
		}
		s.open[c] = none // with more panels there might be one
	case sat.Unknown:
		s.open[c] = steps
	}
	return false
}

// decide puts a question in the way that is quickest.
func (s *search) decide(m *model, c count, steps int) sat.Answer {
	switch {
	case m.laid == nil:
	case c.setUps == none && c.visible == none:
		all := make([]int, len(s.at.positions))
		for i := range all {
			all[i] = i
		}
		return s.put(m, steps, m.in(slices.Repeat([][]int{all}, c.panels)))
	case c.setUps != none:
		begun := *s.budget
		if ans := s.setBySet(m, c, steps); ans != sat.Unknown {
			return ans
		}
		steps -= begun - *s.budget
	}
	return s.put(m, steps, m.bounds(c))
}

// modelFor is the model of what a question allows. Where it allows any number of
// panels, it is that of more than are likely to be needed. There is none where
// that, or counting in it, would take too much room: the question is given up.
func (s *search) modelFor(c count) *model {
	turns := len(s.at.positions) > 1
	k := kind{min(c.panels, c.setUps), !turns || c.panels >= c.setUps, c.visible == s.visible}
	if k.panels == none {
		k.panels = len(s.clique) + 2
	}
	if s.models[k] == nil {
		size := s.at.clauses(k)
		if size > mostClauses-s.room {
			return nil
		}
		s.room += size
		m := newModel(s.at, k)
		if k.once {
			m.pin(s.clique)
		}
		s.models[k] = m
		*s.budget -= m.Steps()
	}
	m := s.models[k]
	if size := m.counting(c) - m.counted; size > 0 {
		if size > mostClauses-s.room {
			return nil
		}
		s.room += size
		m.counted += size
	}
	return m
}

// mostClauses bounds what all models of a search hold, in clauses: at some 150
// bytes each, with the unknowns that they are about, half a gigabyte.
const mostClauses = 4_000_000

// setBySet puts a question for one choice of positions after the other. A "no"
// takes all of them.
func (s *search) setBySet(m *model, c count, steps int) sat.Answer {
	sets, all := s.choices(c.panels, c.setUps)
	result, begun := sat.No, *s.budget
	for _, set := range sets {
		if begun-*s.budget >= steps || *s.budget <= 0 {
			return sat.Unknown
		}
		switch s.put(m, min(oneSet, steps), append(m.bounds(c), m.in(set)...)) {
		case sat.Yes:
			return sat.Yes
		case sat.Unknown:
			result = sat.Unknown
		case sat.No:
		}
	}
	if !all {
		return sat.Unknown
	}
	return result
}

// neatly looks for a plan as good as one that is known, with positions that lie in
// fewer turns, so that a panel has fewer and longer sides and room for a key; and
// with nothing cut twice.
func (s *search) neatly(sol *solution) *solution {
	c := sol.count
	c.openings = none
	m := s.modelFor(c)
	if m == nil {
		return sol
	}
	better := func(assumed ...sat.Lit) bool {
		if s.put(m, oneSet/2, append(m.bounds(c), assumed...)) != sat.Yes {
			return false
		}
		sol = s.found[len(s.found)-1]
		return true
	}
	if m.laid == nil {
		if s.at.cutsAgain(sol) {
			better(m.once())
		}
		return sol
	}
	sets, _ := s.choices(c.panels, c.setUps)
	again, most, begun := s.at.cutsAgain(sol), s.turnsOf(sol.sets), *s.budget
	for _, set := range sets {
		if turns := s.turnsOf(set); turns > most || turns == most && !again || begun-*s.budget >= neatWork {
			break
		}
		if better(append(m.in(set), m.once())...) {
			return sol
		}
		if s.turnsOf(set) < most && better(m.in(set)...) {
			again, most = s.at.cutsAgain(sol), s.turnsOf(set)
		}
	}
	return sol
}

// neatWork bounds the work on a plan's looks.
const neatWork = 10_000_000

// put puts a question until the plan found stands up to the exact tests, and
// keeps that.
func (s *search) put(m *model, steps int, assumed []sat.Lit) sat.Answer {
	for range mostRepairs {
		s.at.rest()
		m.block(s.blocked)
		begun := m.Steps()
		ans := m.Solve(min(steps, *s.budget), assumed...)
		*s.budget -= m.Steps() - begun
		if ans != sat.Yes {
			return ans
		}
		sol := m.read()
		s.at.prune(sol)
		bad := s.at.faults(sol)
		if bad == nil {
			s.found = append(s.found, sol)
			return ans
		}
		s.blocked = append(s.blocked, bad...)
		s.hopeless = s.hopeless || slices.ContainsFunc(bad, func(f fault) bool { return len(f.all) == 1 && f.unless == nil })
	}
	return sat.Unknown
}

// fewestOpenings asks for fewer and fewer openings, of panels laid as they are,
// with nothing cut twice if nothing was.
func (s *search) fewestOpenings(sol *solution) *solution {
	again := s.at.cutsAgain(sol)
	most := 0 // an opening is used in no more set-ups than its panel is laid in
	for _, set := range sol.sets {
		most = max(most, len(set))
	}
	for sol.openings > s.leastOpenings(most) {
		c := sol.count
		c.openings--
		m := s.modelFor(c)
		if m == nil {
			return sol
		}
		assumed := m.bounds(c)
		if m.laid != nil {
			assumed = append(assumed, m.in(sol.sets)...)
		}
		if !again {
			assumed = append(assumed, m.once())
		}
		if s.put(m, quick, assumed) != sat.Yes {
			return sol
		}
		sol = s.found[len(s.found)-1]
	}
	return sol
}

// bestOf is the best of some plans for a preference; nil if there is none.
func bestOf(found []*solution, prefer work.Prefer) *solution {
	var best *solution
	for _, sol := range found {
		if best == nil || better(sol.count, best.count, prefer) {
			best = sol
		}
	}
	return best
}
