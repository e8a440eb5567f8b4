package plan

import (
	"math"
	"slices"

	"strapwork/pkg/groove"
	"strapwork/pkg/work"
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
const patience = 12_000

// mostRepairs bounds how often a plan whose openings turn out too near one
// another, or not to be followed, is sent back.
const mostRepairs = 20

// Params say in which positions panels may be laid, and which plan is the best.
type Params struct {
	Turn   bool // panels may be turned in the frame
	Flip   bool // and turned over: only where nothing of a panel forbids it, as a floor does
	Prefer work.Prefer
}

// Make plans a motif's cuts. It is given those that the groove's own Cuts
// found without an error, and falls back on them.
// First the chains are cut up coarsely, half-way between crossings and at
// joints, since splits look best there; then finely, to prove that nothing is
// better, or to find it. Of a motif that is too large for that, only the
// chains' cheapest splittings that keep its symmetry, or part of it, are
// planned with.
func Make(want Params, g *groove.Groove, cuts []groove.Cut) Plan {
	positions := positionsFor(want, g)
	m := maker{g: g, prefer: want.Prefer, work: patience}
	if coarseAtoms(g) <= tooManyAtoms {
		m.exact(m.cutUp(positions, math.Inf(1), false))
	}
	if m.sol == nil || m.unproved {
		m.large(m.cutUp(positions, math.Inf(1), true))
	}
	p := unturned(g, cuts)
	if p.Crowded || m.sol == nil && m.crowded {
		return Plan{Crowded: true}
	}
	if m.sol != nil && !better(p.count(), m.sol.count, m.prefer) {
		p = m.finish()
	}
	p.LayOut(g)
	p.LeastVisible = min(p.Visible, m.limit.visible)
	p.LeastSetUps = min(len(p.SetUps), max(1, m.limit.setUps))
	p.LeastPanels = min(len(p.Panels), max(1, m.limit.panels))
	if m.lost {
		// Atoms that the whole symmetry does not keep say nothing of panels.
		p.LeastPanels = (p.LeastSetUps + len(positions) - 1) / len(positions)
	}
	return p
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
	prefer   work.Prefer
	work     int
	at       *atoms // of the best plan
	sol      *solution
	limit    count // proved from below
	unproved bool  // the bounds are not met by proof
	crowded  bool  // too many cuts are near too many others
	lost     bool  // some cutting-up did not keep the whole symmetry
}

// cutUp makes the atoms of the motif and watches over their symmetry.
func (m *maker) cutUp(positions []Orientation, step float64, sparing bool) *atoms {
	at := cutUp(m.g, positions, step, sparing)
	m.lost = m.lost || len(at.positions) < len(positions)
	return at
}

// exact searches over the coarse atoms, then over fine ones.
func (m *maker) exact(coarse *atoms) {
	coarse.relate()
	if coarse.crowded {
		m.crowded, m.unproved = true, true
		return
	}
	s := newSearch(coarse, m.prefer, &m.work)
	m.try(s)
	m.limit, m.unproved = s.limit, s.unproved
	if m.sol != nil && s.settled(m.sol) {
		return
	}
	sure := sureBounds(coarse)
	length := 0.0
	for _, st := range m.g.Motif.Strands {
		length += st.Length()
	}
	fine := m.cutUp(coarse.positions, max(fineStep, length/manyAtoms), false)
	if len(fine.line) > tooManyAtoms {
		m.limit, m.unproved = sure, true
		return
	}
	fine.relate()
	if fine.crowded {
		m.limit, m.unproved = sure, true
		return
	}
	s = newSearch(fine, m.prefer, &m.work)
	m.try(s)
	m.limit, m.unproved = s.limit.atLeast(sure), s.unproved
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
func better(a, b count, prefer work.Prefer) bool {
	key := func(c count) []int {
		switch prefer {
		case work.PreferSetups:
			return []int{c.setUps, c.visible, c.panels, c.openings}
		case work.PreferPanels:
			return []int{c.panels, c.visible, c.setUps, c.openings}
		case work.PreferClean:
		}
		return []int{c.visible, c.setUps, c.panels, c.openings}
	}
	return slices.Compare(key(a), key(b)) < 0
}

// settled reports whether nothing can be better than sol, wherever the chains
// are split: it meets bounds that do not depend on that, or no plan of its kind
// has a visible split, and the places of hidden ones are given. (Otherwise
// cutting up more finely could lower the visible splits, or the openings'
// bound, but only if a rider reached further between seams than from seam to
// seam.)
func (s *search) settled(sol *solution) bool {
	if s.unproved || s.prefer != work.PreferClean || sol.visible != s.leastVisible() {
		return false
	}
	return sol.visible == 0 ||
		(sol.setUps == max(1, len(s.clique)) && sol.panels == 1 && sol.openings == s.leastOpenings(sol.setUps))
}

// finish makes the plan of the best solution.
func (m *maker) finish() Plan {
	p := Plan{}
	for i, held := range m.sol.ans {
		runs := m.at.runsOf(held)
		panel := Panel{}
		for _, k := range m.sol.sets[i] {
			pos := m.at.positions[k]
			panel.Positions = append(panel.Positions, pos)
			up := SetUp{Panel: i, Position: pos}
			for _, r := range runs {
				up.Tracks = append(up.Tracks, Track{Cut: m.at.cut(m.at.turned(r, k))})
			}
			p.SetUps = append(p.SetUps, up)
		}
		p.Panels = append(p.Panels, panel)
	}
	p.once(m.g)
	p.countSplits()
	p.named(m.g)
	return p
}

// named names all cuts by strand and place, and gives the panels theirs: those
// of their first set-up.
func (p *Plan) named(g *groove.Groove) {
	var cuts []*groove.Cut
	for _, u := range p.SetUps {
		for k := range u.Tracks {
			if !u.Tracks[k].Spare {
				cuts = append(cuts, &u.Tracks[k].Cut)
			}
		}
	}
	nameCuts(g, cuts)
	p.tellShared(g)
	for i := len(p.SetUps) - 1; i >= 0; i-- {
		p.Panels[p.SetUps[i].Panel].Cuts = p.SetUps[i].cuts()
	}
}

// countSplits counts the places at which cuts that are made end at a split.
func (p *Plan) countSplits() {
	p.Visible, p.Hidden = 0, 0
	at := map[int][]groove.Stop{} // by strand
	for _, c := range p.Cuts() {
		for _, s := range [2]groove.Stop{c.From, c.To} {
			if s.Kind != groove.StopSplit || slices.ContainsFunc(at[c.Strand], func(q groove.Stop) bool { return q.At.Near(s.At, sameStretch) }) {
				continue
			}
			at[c.Strand] = append(at[c.Strand], s)
			if s.Hidden {
				p.Hidden++
			} else {
				p.Visible++
			}
		}
	}
}

// unturned shares given cuts out over as few panels as can be, each laid once:
// the plan where no better one was found.
func unturned(g *groove.Groove, cuts []groove.Cut) Plan {
	near := make([][]int, len(cuts))
	pairs, ok := conflicts(g, cuts, mostNear)
	if !ok {
		return Plan{Crowded: true}
	}
	for _, c := range pairs {
		near[c[0]], near[c[1]] = append(near[c[0]], c[1]), append(near[c[1]], c[0])
	}
	colours := colour(near)
	p := Plan{}
	for range colours.count {
		p.Panels = append(p.Panels, Panel{Positions: []Orientation{{}}})
		p.SetUps = append(p.SetUps, SetUp{Panel: len(p.SetUps)})
	}
	for i, c := range cuts {
		up := &p.SetUps[colours.of[i]]
		up.Tracks = append(up.Tracks, Track{Cut: c})
	}
	p.countSplits()
	p.named(g)
	return p
}
