package plan

import (
	"math"
	"slices"

	"strapwork/pkg/groove"
	"strapwork/pkg/job"
)

// How finely chains are cut up: so that a motif has about this many atoms, but
// none shorter than fineStep.
const (
	manyAtoms = 240
	fineStep  = 10.0 // mm
)

// tooManyAtoms is the number beyond which the solver is not asked: its answers
// would take minutes.
const tooManyAtoms = 700

// patience bounds the search, in clauses that the solver learns: some seconds.
// What is found by then is used, and the bounds proved by then are told.
const patience = 10_000

// mostRepairs bounds how often a plan whose openings turn out too near one
// another, or not to be followed, is sent back.
const mostRepairs = 20

// Make plans a motif's cuts. It is given those that the groove's own Cuts
// found without an error, and falls back on them.
// First the chains are cut up coarsely, half-way between crossings and at
// joints, since splits look best there; then finely, to prove that nothing is
// better, or to find it. Of a motif that is too large for that, only the
// chains' cheapest splittings that keep its symmetry, or part of it, are
// planned with.
func Make(j *job.Job, g *groove.Groove, cuts []groove.Cut) Plan {
	positions := []Position{{}}
	if j.Template.Turn {
		positions = Symmetry(g.Motif, j.Template.Flip && j.Router.Guide != job.GuideBase)
	}
	m := maker{g: g, prefer: j.Template.Prefer, work: patience}
	if coarseAtoms(g) <= tooManyAtoms {
		m.exact(cutUp(g, positions, math.Inf(1), false))
	}
	if m.sol == nil || m.unproved {
		m.large(cutUp(g, positions, math.Inf(1), true))
	}
	if m.sol == nil {
		return unturned(g, cuts)
	}
	return m.finish()
}

// coarseAtoms is about the number of atoms that a coarse cutting-up makes: two
// for every passage of a crossing, change of curvature and chain.
func coarseAtoms(g *groove.Groove) int {
	n := 0
	for i, s := range g.Motif.Strands {
		n += 2 * (len(g.Weave.Visits[i]) + len(bends(s)) + 1)
	}
	return n
}

// A maker holds the best plan so far.
type maker struct {
	g        *groove.Groove
	prefer   job.Prefer
	work     int
	at       *atoms // of the best plan
	sol      *solution
	limit    count // proved from below
	unproved bool  // the bounds are not met by proof
}

// exact searches over the coarse atoms, then over fine ones.
func (m *maker) exact(coarse *atoms) {
	coarse.relate()
	s := newSearch(coarse, m.prefer, &m.work)
	m.try(s)
	m.limit, m.unproved = s.limit, s.unproved
	if m.sol != nil && s.settled(m.sol) {
		return
	}
	length := 0.0
	for _, st := range m.g.Motif.Strands {
		length += st.Length()
	}
	fine := cutUp(m.g, coarse.positions, max(fineStep, length/manyAtoms), false)
	if len(fine.line) > tooManyAtoms {
		m.unproved = true
		return
	}
	fine.relate()
	s = newSearch(fine, m.prefer, &m.work)
	m.try(s)
	m.limit, m.unproved = s.limit, s.unproved
}

// try searches until a plan's openings stand up to the exact tests, and keeps
// it if it is better.
func (m *maker) try(s *search) {
	for range mostRepairs {
		sol := s.best(m.sol)
		if sol == nil {
			return
		}
		s.at.prune(sol)
		bad := s.at.faults(sol)
		if bad == nil {
			if m.sol == nil || better(sol.count, m.sol.count, m.prefer) {
				m.sol, m.at = sol, s.at
			}
			return
		}
		s.blocked = append(s.blocked, bad...)
	}
	s.unproved = true
}

// better reports whether a is a better plan than b.
func better(a, b count, prefer job.Prefer) bool {
	key := func(c count) []int {
		switch prefer {
		case job.PreferSetups:
			return []int{c.setUps, c.visible, c.panels, c.openings}
		case job.PreferPanels:
			return []int{c.panels, c.visible, c.setUps, c.openings}
		case job.PreferClean:
		}
		return []int{c.visible, c.setUps, c.panels, c.openings}
	}
	return slices.Compare(key(a), key(b)) < 0
}

// settled reports whether nothing can be better than sol, whatever the atoms:
// it meets bounds that do not depend on where the chains are cut up. (Cutting
// up more finely could lower the visible splits, or the openings' bound, only
// if a rider reached further between seams than from seam to seam.)
func (s *search) settled(sol *solution) bool {
	return !s.unproved && sol.setUps == max(1, len(s.clique)) && sol.panels == 1 &&
		sol.openings == s.leastOpenings(sol.setUps) && sol.visible == s.leastVisible() && s.prefer == job.PreferClean
}

// prune drops runs, and ends of runs, that other set-ups cut anyway, where
// that makes no further split.
func (at *atoms) prune(sol *solution) {
	for p := range sol.ans {
		for _, r := range at.runsOf(sol.ans[p]) {
			at.dropIfSpare(sol, p, r)
		}
	}
	for p := range sol.ans {
		for _, r := range at.runsOf(sol.ans[p]) {
			at.trim(sol, p, r)
		}
	}
	sol.openings = at.openings(sol.ans)
}

// covered counts, for each atom, the set-ups that cut it.
func (at *atoms) covered(sol *solution) []int {
	n := make([]int, len(at.line))
	for p, held := range sol.ans {
		for _, g := range sol.sets[p] {
			for a, h := range held {
				if h {
					n[at.image[g][a]]++
				}
			}
		}
	}
	return n
}

// splits counts the seams at which a cut of a solution ends, and those among
// them that will be seen.
func (at *atoms) splits(sol *solution) (all, visible int) {
	split := make([]bool, len(at.seams))
	for p, held := range sol.ans {
		for _, g := range sol.sets[p] {
			for k, s := range at.seams {
				if held[s.a] != held[s.b] {
					split[at.seamImage[g][k]] = true
				}
			}
		}
	}
	for k, s := range at.seams {
		if split[k] {
			all++
			if !s.hidden {
				visible++
			}
		}
	}
	return all, visible
}

// without tries the solution with some atoms taken off a panel, and keeps the
// change if every atom is still cut and no split is added.
func (at *atoms) without(sol *solution, p int, atoms []int) bool {
	_, before := at.splits(sol)
	for _, a := range atoms {
		sol.ans[p][a] = false
	}
	if _, after := at.splits(sol); after <= before && !slices.Contains(at.covered(sol), 0) {
		return true
	}
	for _, a := range atoms {
		sol.ans[p][a] = true
	}
	return false
}

func (at *atoms) atomsOf(r heldRun) []int {
	l := at.links[r.link]
	var list []int
	for i := r.from; i < r.to; i++ {
		list = append(list, l.first+i%l.atoms)
	}
	return list
}

func (at *atoms) dropIfSpare(sol *solution, p int, r heldRun) { at.without(sol, p, at.atomsOf(r)) }

// trim takes atoms off the ends of a run, one by one.
func (at *atoms) trim(sol *solution, p int, r heldRun) {
	atoms := at.atomsOf(r)
	for len(atoms) > 1 && at.without(sol, p, atoms[:1]) {
		atoms = atoms[1:]
	}
	for len(atoms) > 1 && at.without(sol, p, atoms[len(atoms)-1:]) {
		atoms = atoms[:len(atoms)-1]
	}
}

// cut is the real cut of a run.
func (at *atoms) cut(r heldRun) groove.Cut {
	l := at.links[r.link]
	return at.g.Stretch(l.Strand, l.stopAt(r.from, 0), l.stopAt(r.to, 0))
}

// faults returns sets of atoms that must not share a panel after all, because
// the real cuts, which run on past their splits, can't be followed or come too
// near one another; nil if there are none.
func (at *atoms) faults(sol *solution) [][]int {
	var bad [][]int
	for _, held := range sol.ans {
		runs := at.runsOf(held)
		cuts := make([]groove.Cut, len(runs))
		for i, r := range runs {
			cuts[i] = at.cut(r)
			if !at.g.Follows(cuts[i]) {
				bad = append(bad, at.atomsOf(r))
			}
			for k := range i {
				if at.g.Conflict(cuts[i], cuts[k]) {
					bad = append(bad, append(at.ends(runs[i]), at.ends(runs[k])...))
				}
			}
		}
	}
	return bad
}

// ends are the first and the last atom of a run.
func (at *atoms) ends(r heldRun) []int {
	atoms := at.atomsOf(r)
	return slices.Compact([]int{atoms[0], atoms[len(atoms)-1]})
}

// finish makes the plan of the best solution.
func (m *maker) finish() Plan {
	p := Plan{LeastVisible: m.limit.visible, LeastSetUps: m.limit.setUps, LeastPanels: m.limit.panels}
	for i, held := range m.sol.ans {
		runs := m.at.runsOf(held)
		panel := Panel{}
		for _, k := range m.sol.sets[i] {
			pos := m.at.positions[k]
			panel.Positions = append(panel.Positions, pos)
			up := SetUp{Panel: i, Position: pos}
			for _, r := range runs {
				up.Cuts = append(up.Cuts, m.at.cut(m.at.turned(r, k)))
			}
			p.SetUps = append(p.SetUps, up)
		}
		p.Panels = append(p.Panels, panel)
	}
	all, visible := m.at.splits(m.sol)
	p.Visible, p.Hidden = visible, all-visible
	p.named(m.g)
	return p
}

// turned is the image of a run in a position.
func (at *atoms) turned(r heldRun, position int) heldRun {
	atoms := at.atomsOf(r)
	a, b := at.image[position][atoms[0]], at.image[position][atoms[len(atoms)-1]]
	link := at.of[a]
	l := at.links[link]
	if len(atoms) > 1 && !at.follows(l, a, at.image[position][atoms[1]]) {
		a, b = b, a // the image runs the other way
	}
	return heldRun{link, a - l.first, a - l.first + len(atoms)}
}

// named names all cuts by strand and place, and gives the panels theirs: those
// of their first set-up.
func (p *Plan) named(g *groove.Groove) {
	var cuts []*groove.Cut
	for i := range p.SetUps {
		for k := range p.SetUps[i].Cuts {
			cuts = append(cuts, &p.SetUps[i].Cuts[k])
		}
	}
	g.Name(cuts)
	for i := len(p.SetUps) - 1; i >= 0; i-- {
		p.Panels[p.SetUps[i].Panel].Cuts = p.SetUps[i].Cuts
	}
}

// unturned shares given cuts out over as few panels as can be, each laid once:
// the plan where no better one was found.
func unturned(g *groove.Groove, cuts []groove.Cut) Plan {
	near := make([][]int, len(cuts))
	for i := range cuts {
		for k := range i {
			if g.Conflict(cuts[i], cuts[k]) {
				near[i], near[k] = append(near[i], k), append(near[k], i)
			}
		}
	}
	colours := colour(near)
	p := Plan{LeastSetUps: 1, LeastPanels: 1}
	for range colours.count {
		p.Panels = append(p.Panels, Panel{Positions: []Position{{}}})
		p.SetUps = append(p.SetUps, SetUp{Panel: len(p.SetUps)})
	}
	for i, c := range cuts {
		up := &p.SetUps[colours.of[i]]
		up.Cuts = append(up.Cuts, c)
		for _, s := range [2]groove.Stop{c.From, c.To} {
			if s.Kind == groove.StopSplit && s.Hidden {
				p.Hidden++
			} else if s.Kind == groove.StopSplit {
				p.Visible++
			}
		}
	}
	p.Visible, p.Hidden = p.Visible/2, p.Hidden/2 // each split has two sides
	p.named(g)
	return p
}
