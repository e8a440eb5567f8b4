package plan

// The search for the best plan over one cutting-up into atoms.
//
// The visible splits that are needed at least follow chain by chain, by
// dynamic programming over the seams. The number of set-ups is found from
// below with panels that are each laid once: such plans include every other,
// so the first number that can be met is the least. Then the set-ups are
// shared out over as few panels as can be: position sets are enumerated, up to
// relabelling a panel as one of its turned selves, and each is put to the
// solver. Openings are bounded last, again and again until there is no answer.

import (
	"fmt"
	"math"
	"slices"

	"strapwork/pkg/work"
)

// A count is what plans are compared by.
type count struct{ visible, setUps, panels, openings int }

// A solution is a plan over atoms.
type solution struct {
	count
	sets [][]int // for each panel, its positions
	ans  answer
}

type search struct {
	at       *atoms
	prefer   work.Prefer
	blocked  [][]int
	work     *int            // clauses that may still be learnt
	mul      [][]int         // by two positions, the position of doing the second first
	clique   []int           // atoms of which no panel holds two at once
	limit    count           // bounds proved from below
	late     bool            // the work is done
	unproved bool            // some question was left unanswered
	listed   map[int]listing // position sets by size
	asked    map[string]int  // how much was learnt in vain on questions; refuted if there is no answer
}

func newSearch(at *atoms, prefer work.Prefer, work *int) *search {
	s := &search{at: at, prefer: prefer, work: work, clique: greedyClique(at.clashing()), asked: map[string]int{}, listed: map[int]listing{}}
	for _, f := range at.image {
		row := make([]int, len(at.image))
		for h, g := range at.image {
			row[h] = slices.IndexFunc(at.image, func(x []int) bool { return slices.Equal(x, composed(f, g)) })
		}
		s.mul = append(s.mul, row)
	}
	return s
}

// refuted is more than may be learnt on any question.
const refuted = math.MaxInt

// oneQuestion bounds the work on one question, in clauses learnt: about half
// a second's. The search goes on without the answer, but what a "no" would have
// proved is not proved.
const oneQuestion = 4_000

// ask puts a question unless the whole search's work is done, or it had no
// answer before: since then panels have only been forbidden more.
func (s *search) ask(q question) answer { return s.askUpTo(oneQuestion, q) }

func (s *search) askUpTo(most int, q question) answer {
	key := fmt.Sprint(q.sets, q.visible, q.openings, len(q.given))
	if s.asked[key] >= most {
		s.unproved = s.unproved || s.asked[key] != refuted
		return nil
	}
	if *s.work <= 0 {
		s.late, s.unproved = true, true
		return nil
	}
	q.at, q.blocked = s.at, s.blocked
	ans, spent, known := ask(q, min(most, *s.work))
	*s.work -= spent
	switch {
	case !known:
		s.asked[key] = most
	case ans == nil:
		s.asked[key] = refuted
	}
	s.unproved = s.unproved || !known
	return ans
}

// atLeast records a bound, if the questions before it were all answered.
func (s *search) atLeast(bound *int, n int) {
	if !s.unproved {
		*bound = n
	}
}

// best finds the best plan, or nil if the work is done before there is any, or if
// none is better than the known one. A known plan, made over other atoms, is
// beaten by fewer splits, set-ups or panels, not by fewer openings.
func (s *search) best(known *solution) *solution {
	if known == nil {
		known = &solution{count: count{math.MaxInt, math.MaxInt, math.MaxInt, math.MaxInt}}
	}
	switch s.prefer {
	case work.PreferPanels:
		return s.panelsFirst(known.count)
	case work.PreferSetups:
		return s.setUpsFirst(known.count)
	case work.PreferClean:
	}
	return s.cleanFirst(known.count)
}

// single returns k panels that are each laid once, unturned.
func single(k int) [][]int {
	sets := make([][]int, k)
	for i := range sets {
		sets[i] = []int{0}
	}
	return sets
}

// pinned puts each atom of the clique on a panel of its own.
func (s *search) pinned(panels int) [][2]int {
	var given [][2]int
	for i, a := range s.clique {
		if i < panels {
			given = append(given, [2]int{i, a})
		}
	}
	return given
}

// fewestSetUps finds the fewest set-ups, fewer than below, with at most the
// given visible splits (negative: any number). Panels laid once are the general
// case, but turned ones have fewer unknowns: some are tried first.
func (s *search) fewestSetUps(visible, below int) *solution {
	for k := max(1, len(s.clique)); k < below && !s.late; k++ {
		s.atLeast(&s.limit.setUps, k)
		if sol := s.turned(visible, k); sol != nil {
			return sol
		}
		if ans := s.ask(question{sets: single(k), visible: visible, openings: -1, given: s.pinned(k)}); ans != nil {
			return &solution{count{visible, k, k, s.at.openings(ans)}, single(k), ans}
		}
	}
	if below < math.MaxInt {
		s.atLeast(&s.limit.setUps, below)
	}
	return nil
}

// How many choices of turned panels are tried for so many set-ups before the
// general case, and how much may be learnt on each.
const (
	fewTurned  = 4
	turnedWork = 150
)

// turned tries the most regular position sets of as few panels as k set-ups may
// take. That it finds nothing proves nothing.
func (s *search) turned(visible, k int) *solution {
	m := (k + len(s.at.positions) - 1) / len(s.at.positions)
	if m == k {
		return nil
	}
	var sol *solution
	tried, unproved := 0, s.unproved
	s.eachSets(m, k, func(sets [][]int) bool {
		if ans := s.askUpTo(turnedWork, question{sets: sets, visible: visible, openings: -1}); ans != nil {
			sol = &solution{count{visible, k, m, s.at.openings(ans)}, sets, ans}
		}
		tried++
		return sol == nil && tried < fewTurned && !s.late
	})
	s.unproved = unproved || s.late
	return sol
}

// fewestVisible finds the fewest visible splits, fewer than below, with the
// given panels.
func (s *search) fewestVisible(sets [][]int, given [][2]int, below int) (int, answer) {
	for v := s.leastVisible(); v < below && !s.late; v++ {
		s.atLeast(&s.limit.visible, v)
		if ans := s.ask(question{sets: sets, visible: v, openings: -1, given: given}); ans != nil {
			return v, ans
		}
	}
	if below < math.MaxInt {
		s.atLeast(&s.limit.visible, below)
	}
	return below, nil
}

// cleanFirst finds the fewest visible splits with which there is a plan at
// all, with as many set-ups as it may take, and then fewest set-ups and panels.
func (s *search) cleanFirst(known count) *solution {
	for v := s.leastVisible(); v <= known.visible && !s.late; v++ {
		s.atLeast(&s.limit.visible, v)
		if v == known.visible {
			return s.fewestPanels(s.fewestSetUps(v, known.setUps), known)
		}
		s.limit.setUps = 1
		if sol := s.fewestSetUps(v, len(s.at.line)+1); sol != nil {
			return s.fewestPanels(sol, known)
		}
	}
	return nil
}

func (s *search) setUpsFirst(known count) *solution {
	sol := s.fewestSetUps(-1, known.setUps)
	if sol != nil {
		known = count{math.MaxInt, sol.setUps, math.MaxInt, 0}
	}
	if s.late || known.setUps == math.MaxInt {
		return nil
	}
	k := known.setUps
	v, ans := s.fewestVisible(single(k), s.pinned(k), known.visible)
	if ans == nil {
		sol = nil
	} else {
		sol = &solution{count{v, k, k, s.at.openings(ans)}, single(k), ans}
		known.panels = math.MaxInt
	}
	return s.fewestPanels(sol, count{v, k, known.panels, 0})
}

// fewestPanels shares the set-ups of a solution, or of the known plan if there
// is none, out over fewer panels with no more visible splits, and then makes
// the openings few.
func (s *search) fewestPanels(sol *solution, known count) *solution {
	if sol != nil {
		known = sol.count
	}
	if known.setUps == math.MaxInt || (sol == nil && s.late) {
		return nil
	}
	if sol != nil {
		sol = s.inFamilies(sol)
		known = sol.count
	}
	for m := s.leastPanels(known.setUps); m < min(known.setUps, known.panels+1) && !s.late; m++ {
		s.atLeast(&s.limit.panels, m)
		if m == known.panels && sol == nil {
			break
		}
		if found := s.withPanels(m, known.setUps, known.visible); found != nil {
			return found
		}
	}
	s.atLeast(&s.limit.panels, min(known.setUps, known.panels))
	if sol == nil {
		return nil
	}
	return s.fewestOpenings(sol)
}

// manyPositions is the number of positions beyond which the choices of
// position sets are too many to wait for.
const manyPositions = 8

// inFamilies shares the set-ups of a solution out over panels that are each
// laid in all turns of one size, as far as they go, if that makes fewer panels:
// a quick way for motifs with many positions.
func (s *search) inFamilies(sol *solution) *solution {
	turns, k := s.at.turns(), sol.setUps
	if len(s.at.positions) <= manyPositions {
		return sol
	}
	for d := 2; d <= min(turns, k); d++ {
		if turns%d != 0 {
			continue
		}
		sets := slices.Repeat([][]int{s.steps(turns/d, d)}, k/d)
		if k%d > 0 {
			sets = append(sets, s.steps(turns/d, k%d))
		}
		if ans := s.ask(question{sets: sets, visible: sol.visible, openings: -1}); ans != nil {
			sol = &solution{count{sol.visible, k, len(sets), s.at.openings(ans)}, sets, ans}
		}
	}
	return sol
}

// Bounds of the work on the position sets of so many panels and set-ups: how
// many of those that will do are tried for fewer openings, and how much may be
// learnt on each and on all that won't.
const (
	mostSets    = 24
	oneSetsWork = 1_500
	allSetsWork = 2_500
)

// withPanels looks for a plan of m panels and k set-ups, the one with the
// fewest openings among the position sets tried; nil if there is none.
func (s *search) withPanels(m, k, visible int) *solution {
	var best *solution
	tried, begun := 0, *s.work
	all := s.eachSets(m, k, func(sets [][]int) bool {
		if best == nil && begun-*s.work > allSetsWork {
			return false
		}
		ans := s.askUpTo(oneSetsWork, question{sets: sets, visible: visible, openings: -1})
		if ans == nil {
			return !s.late
		}
		sol := s.fewestOpenings(&solution{count{visible, k, m, s.at.openings(ans)}, sets, ans})
		if best == nil || sol.openings < best.openings {
			best = sol
		}
		tried++
		return tried < mostSets && best.openings > s.leastOpenings(k)
	})
	if best == nil && !all {
		s.unproved = true
	}
	return best
}

// fewestOpenings asks for fewer and fewer openings.
func (s *search) fewestOpenings(sol *solution) *solution {
	for sol.openings > s.leastOpenings(sol.setUps) && !s.late {
		var given [][2]int
		if sol.panels == sol.setUps {
			given = s.pinned(sol.panels)
		}
		ans := s.askUpTo(oneSetsWork, question{sets: sol.sets, visible: sol.visible, openings: sol.openings - 1, given: given})
		if ans == nil {
			break
		}
		sol = &solution{sol.count, sol.sets, ans}
		sol.openings = s.at.openings(ans)
	}
	return sol
}

func (s *search) panelsFirst(known count) *solution {
	all := make([]int, len(s.at.positions))
	for i := range all {
		all[i] = i
	}
	m := 1
	for ; m < known.panels && !s.late; m++ {
		s.atLeast(&s.limit.panels, m)
		if s.ask(question{sets: slices.Repeat([][]int{all}, m), visible: -1, openings: -1}) != nil {
			known.visible, known.setUps = math.MaxInt, math.MaxInt
			break
		}
	}
	if s.late {
		return nil
	}
	s.atLeast(&s.limit.panels, m)
	v, ans := s.fewestVisible(slices.Repeat([][]int{all}, m), nil, known.visible)
	if ans != nil {
		known.setUps = math.MaxInt
	}
	for k := max(m, len(s.clique)); k <= m*len(all) && k < known.setUps && !s.late; k++ {
		s.atLeast(&s.limit.setUps, k)
		if sol := s.withPanels(m, k, v); sol != nil {
			return sol
		}
	}
	if known.setUps < math.MaxInt {
		s.atLeast(&s.limit.setUps, known.setUps)
	}
	return nil
}
