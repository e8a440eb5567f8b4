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
	"math"
	"slices"

	"strapwork/pkg/job"
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
	prefer   job.Prefer
	blocked  [][]int
	work     *int    // clauses that may still be learnt
	mul      [][]int // by two positions, the position of doing the second first
	clique   []int   // atoms of which no panel holds two at once
	limit    count   // bounds proved from below
	late     bool    // the work is done
	unproved bool    // some question was left unanswered
}

func newSearch(at *atoms, prefer job.Prefer, work *int) *search {
	s := &search{at: at, prefer: prefer, work: work, clique: greedyClique(at)}
	for _, f := range at.image {
		row := make([]int, len(at.image))
		for h, g := range at.image {
			row[h] = slices.IndexFunc(at.image, func(x []int) bool { return slices.Equal(x, composed(f, g)) })
		}
		s.mul = append(s.mul, row)
	}
	return s
}

// oneQuestion bounds the work on one question, in clauses learnt: about half
// a second's. The search goes on without the answer, but what a "no" would have
// proved is not proved.
const oneQuestion = 4_000

// ask puts a question unless the whole search's work is done.
func (s *search) ask(q question) answer {
	if *s.work <= 0 {
		s.late, s.unproved = true, true
		return nil
	}
	q.at, q.blocked = s.at, s.blocked
	ans, spent, known := ask(q, min(oneQuestion, *s.work))
	*s.work -= spent + questionWork
	s.unproved = s.unproved || !known
	return ans
}

// questionWork is what putting a question costs, in clauses learnt.
const questionWork = 100

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
	case job.PreferPanels:
		return s.panelsFirst(known.count)
	case job.PreferSetups:
		return s.setUpsFirst(known.count)
	case job.PreferClean:
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
// given visible splits (negative: any number).
func (s *search) fewestSetUps(visible, below int) *solution {
	for k := max(1, len(s.clique)); k < below && !s.late; k++ {
		s.atLeast(&s.limit.setUps, k)
		if ans := s.ask(question{sets: single(k), visible: visible, openings: -1, given: s.pinned(k)}); ans != nil {
			return &solution{count{visible, k, k, 0}, single(k), ans}
		}
	}
	if below < math.MaxInt {
		s.atLeast(&s.limit.setUps, below)
	}
	return nil
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

func (s *search) cleanFirst(known count) *solution {
	v := s.leastVisible()
	s.limit.visible = v
	if v < known.visible {
		known.setUps, known.panels = math.MaxInt, math.MaxInt
	}
	sol := s.fewestSetUps(v, known.setUps)
	return s.fewestPanels(sol, count{v, known.setUps, known.panels, 0})
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
		sol = &solution{count{v, k, k, 0}, single(k), ans}
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
	if known.setUps == math.MaxInt {
		return nil
	}
	for m := s.leastPanels(known.setUps); m < min(known.setUps, known.panels) && !s.late; m++ {
		s.atLeast(&s.limit.panels, m)
		if found := s.withPanels(m, known.setUps, known.visible); found != nil {
			return found
		}
	}
	s.atLeast(&s.limit.panels, min(known.setUps, known.panels))
	if sol == nil {
		return nil
	}
	sol.openings = s.at.openings(sol.ans)
	return s.fewestOpenings(sol)
}

// leastPanels is a number of panels that no plan of k set-ups beats: a panel
// has no more positions than the motif has symmetries.
func (s *search) leastPanels(k int) int {
	n := len(s.at.positions)
	s.limit.panels = (k + n - 1) / n
	return s.limit.panels
}

// mostSets bounds the position sets that are put to the solver for openings:
// any of them will do, the rest only might save an opening.
const mostSets = 24

// withPanels looks for a plan of m panels and k set-ups, the one with the
// fewest openings among the position sets tried; nil if there is none.
func (s *search) withPanels(m, k, visible int) *solution {
	var best *solution
	tried := 0
	s.eachSets(m, k, func(sets [][]int) bool {
		ans := s.ask(question{sets: sets, visible: visible, openings: -1})
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
	return best
}

// fewestOpenings asks for fewer and fewer openings.
func (s *search) fewestOpenings(sol *solution) *solution {
	for sol.openings > s.leastOpenings(sol.setUps) && !s.late {
		var given [][2]int
		if sol.panels == sol.setUps {
			given = s.pinned(sol.panels)
		}
		ans := s.ask(question{sets: sol.sets, visible: sol.visible, openings: sol.openings - 1, given: given})
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

// eachSets calls visit with each choice of position sets for m panels that
// make k set-ups in all, until visit returns false.
func (s *search) eachSets(m, k int, visit func([][]int) bool) {
	n := len(s.at.positions)
	bySize := map[int][][]int{}
	var choose func(sets [][]int, left, most, from int) bool
	choose = func(sets [][]int, left, most, from int) bool {
		if len(sets) == m {
			return left > 0 || visit(slices.Clone(sets))
		}
		rest := m - len(sets) - 1
		for size := min(most, left-rest); size >= 1 && size*(rest+1) >= left; size-- {
			if bySize[size] == nil {
				bySize[size] = s.positionSets(size)
			}
			first := 0
			if size == most {
				first = from
			}
			for i := first; i < len(bySize[size]); i++ {
				if !choose(append(sets, bySize[size][i]), left-size, size, i) {
					return false
				}
			}
		}
		return true
	}
	if k >= m && k <= m*n {
		choose(nil, k, n, 0)
	}
}

// positionSets returns the sets of so many positions, the unturned one among
// them, one of each family that differ only by which of a panel's turned
// selves is called unturned.
func (s *search) positionSets(size int) [][]int {
	var list [][]int
	set := []int{0}
	var grow func(from int)
	grow = func(from int) {
		if len(set) == size {
			if s.isFirstOfFamily(set) {
				list = append(list, slices.Clone(set))
			}
			return
		}
		for g := from; g < len(s.at.positions); g++ {
			set = append(set, g)
			grow(g + 1)
			set = set[:len(set)-1]
		}
	}
	grow(1)
	return list
}

func (s *search) isFirstOfFamily(set []int) bool {
	for _, h := range set {
		turned := make([]int, len(set))
		for i, g := range set {
			turned[i] = s.mul[g][s.at.inverse[h]]
		}
		slices.Sort(turned)
		if slices.Compare(turned, set) < 0 {
			return false
		}
	}
	return true
}

// leastVisible is the fewest visible splits that any plan has: the sum over
// the chains.
func (s *search) leastVisible() int {
	sum := 0
	for _, l := range s.at.links {
		sum += l.least(func(i int) int {
			if l.stops[i].Hidden {
				return 0
			}
			return 1
		})
	}
	return sum
}

// leastOpenings is a number of openings that no plan of k set-ups beats: every
// stretch of every chain is cut in some set-up.
func (s *search) leastOpenings(k int) int {
	sum := 0
	for _, l := range s.at.links {
		n := l.least(func(int) int { return 1 })
		if !l.Ring {
			n++
		}
		sum += n
	}
	return (sum + k - 1) / k
}

// least is the least total cost of splits, each at a seam before atom i of
// cost(i), that leave no stretch too long. A ring has at least two.
func (l link) least(cost func(i int) int) int {
	if !l.Ring {
		return l.leastFrom(0, l.atoms, cost)
	}
	best := math.MaxInt
	for first := 0; first < l.atoms && first <= l.far[0]; first++ {
		if c := l.leastFrom(first, first+l.atoms, cost); c < math.MaxInt {
			best = min(best, c+cost(first))
		}
	}
	return best
}

// leastFrom is the least cost of splits strictly between two seams.
func (l link) leastFrom(first, last int, cost func(i int) int) int {
	best := make([]int, last-first+1)
	for i := 1; i <= last-first; i++ {
		best[i] = math.MaxInt
	}
	for i := first; i < last; i++ {
		if best[i-first] == math.MaxInt {
			continue
		}
		reach := l.far[i%l.atoms]
		if l.Ring {
			reach = min(reach, l.atoms-1)
		}
		for j := i + 1; j <= min(last, i+reach); j++ {
			c := best[i-first]
			if j < last {
				c += cost(j % l.atoms)
			}
			best[j-first] = min(best[j-first], c)
		}
	}
	return best[last-first]
}

// openings is the number of runs that an answer's panels hold.
func (at *atoms) openings(ans answer) int {
	n := 0
	for _, held := range ans {
		n += len(at.runsOf(held))
	}
	return n
}

// A held run is a stretch of atoms of one link that a panel holds: from the
// seam before atom from to the seam before atom to, counted on past a ring's
// start.
type heldRun struct{ link, from, to int }

func (at *atoms) runsOf(held []bool) []heldRun {
	var runs []heldRun
	for k, l := range at.links {
		for i := range l.atoms {
			before := held[l.first+(i+l.atoms-1)%l.atoms] && (l.Ring || i > 0)
			if !held[l.first+i] || before {
				continue
			}
			j := i + 1
			for j < i+l.atoms && (l.Ring || j < l.atoms) && held[l.first+j%l.atoms] {
				j++
			}
			runs = append(runs, heldRun{k, i, j})
		}
	}
	return runs
}

// cliqueStarts is the number of atoms from which cliques are grown.
const cliqueStarts = 64

// greedyClique returns atoms that pairwise clash, grown from those with the
// most clashes by preferring those with many.
func greedyClique(at *atoms) []int {
	near := make([][]int, len(at.line))
	for _, c := range at.clashes {
		near[c[0]], near[c[1]] = append(near[c[0]], c[1]), append(near[c[1]], c[0])
	}
	order := make([]int, len(near))
	for i := range order {
		order[i] = i
		slices.Sort(near[i])
	}
	slices.SortStableFunc(order, func(a, b int) int { return len(near[b]) - len(near[a]) })
	var best []int
	for _, i := range order[:min(len(order), cliqueStarts)] {
		clique, left := []int{i}, near[i]
		for len(left) > 0 {
			next := slices.MaxFunc(left, func(a, b int) int { return len(near[a]) - len(near[b]) })
			clique = append(clique, next)
			left = common(left, near[next])
		}
		if len(clique) > len(best) {
			best = clique
		}
	}
	return best
}

// common returns what two sorted lists have in common.
func common(a, b []int) []int {
	var both []int
	for i, j := 0, 0; i < len(a) && j < len(b); {
		switch {
		case a[i] == b[j]:
			both = append(both, a[i])
			i++
			j++
		case a[i] < b[j]:
			i++
		default:
			j++
		}
	}
	return both
}
