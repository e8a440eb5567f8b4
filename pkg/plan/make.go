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

// tooManyAtoms is the number beyond which the solver is not asked: to put one
// question to it would take a second.
const tooManyAtoms = 3_000

// patience bounds the search for a preference over one cutting-up, in steps of
// the solver: some seconds' in all. What is found by then is used, and the bounds
// proved by then are said.
var patience = [len(aims)]int{work.PreferClean: 60_000_000, work.PreferSetups: 20_000_000, work.PreferPanels: 20_000_000}

// Params say in which positions panels may be laid, and which plan is the best.
type Params struct {
	Turn   bool // panels may be turned in the frame
	Flip   bool // and turned over: only where nothing of a panel forbids it, as a floor does
	Prefer work.Prefer
	Step   int    // repeats of the motif's pitch that panels are shifted by; 0: they aren't
	Clear  []Free // if there are any: all cuts of a panel, as it lies unturned, keep off one of these
}

// Make plans a motif's cuts. It is given those that the groove's own Cuts
// found without an error, and falls back on them.
// First the chains are cut up coarsely, half-way between crossings and at
// joints, since splits look best there; then finely, to prove that nothing is
// better, or to find it. Of a motif that is too large for that, only the
// chains' cheapest splittings that keep its symmetry, or part of it, are
// planned with.
// All preferences are searched for, in the same way whichever is asked for: so
// that none gets a plan that is worse, at its own aim, than what another gets.
func Make(want Params, g *groove.Groove, cuts []groove.Cut) Plan {
	return MakeUntil(nil, want, g, cuts)
}

// MakeUntil is Make for those who may not wait for the end: pause, unless nil, is called all
// the while, before each question of a second at most, by several at once too, and what
// it panics with comes out here.
func MakeUntil(pause func(), want Params, g *groove.Groove, cuts []groove.Cut) Plan {
	if want.Step > 0 {
		s, ok := newStepper(want, g, pause)
		if !ok {
			return Plan{}
		}
		p, _ := s.plan()
		return p
	}
	positions := positionsFor(want, g)
	m := maker{g: g, clear: want.Clear, pause: pause}
	if coarseAtoms(g) <= tooManyAtoms {
		m.exact(m.cutUp(positions, math.Inf(1), false))
	}
	if len(want.Clear) > 0 {
		return m.inParts(want, len(positions))
	}
	if m.unproved() {
		m.large(m.cutUp(positions, math.Inf(1), true))
	}
	p := unturned(g, cuts)
	if p.Crowded || len(m.found) == 0 && m.crowded {
		return Plan{Crowded: true}
	}
	if sol := bestOf(m.found, want.Prefer); sol != nil && !better(p.count(), sol.count, want.Prefer) {
		p = m.finish(sol)
	}
	p.LayOut(g)
	m.bound(&p, want.Prefer, len(positions))
	p.Price = m.price(p, want.Prefer)
	return p
}

// inParts is the plan of panels that keep off lines; one without panels where none was
// found. What large motifs are planned by asks nothing of where openings lie.
func (m *maker) inParts(want Params, positions int) Plan {
	sol := bestOf(m.found, want.Prefer)
	if sol == nil {
		return Plan{}
	}
	p := m.finish(sol)
	p.InParts = true
	p.LayOut(m.g)
	// What the search refutes takes any of a panel's turned selves to be the unturned
	// one, and a set-up more to be free where a panel could be made twice: but what
	// keeps off a line may not do so turned. The bounds of all plans are left.
	sure := sureBounds(cutUp(m.g, positionsFor(want, m.g), math.Inf(1), false).reached())
	m.limit[want.Prefer] = sure
	m.bound(&p, want.Prefer, positions)
	p.Price = m.price(p, want.Prefer)
	return p
}

// bound says what no plan is below.
func (m *maker) bound(p *Plan, prefer work.Prefer, positions int) {
	limit := m.limit[prefer]
	p.LeastVisible = min(p.Visible, limit.visible)
	p.LeastSetUps = min(len(p.SetUps), max(1, limit.setUps))
	p.LeastPanels = min(len(p.Panels), max(1, limit.panels))
	if m.lost {
		// Atoms that the whole symmetry does not keep say nothing of panels.
		p.LeastPanels = (p.LeastSetUps + positions - 1) / positions
	}
}

// price is what the other preferences would get, where that is better at their
// own aim than a plan is.
func (m *maker) price(p Plan, prefer work.Prefer) []Price {
	var list []Price
	for _, other := range aims {
		sol := bestOf(m.found, other)
		if other == prefer || sol == nil || sol.key(other)[0] >= p.count().key(other)[0] {
			continue
		}
		list = append(list, Price{other, sol.visible, sol.setUps, sol.panels})
	}
	return list
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

// aims are the preferences, in the order in which they are searched for.
var aims = [3]work.Prefer{work.PreferClean, work.PreferSetups, work.PreferPanels}

// A maker holds what was found so far.
type maker struct {
	g       *groove.Groove
	clear   []Free
	pause   func()
	found   []*solution
	limit   [len(aims)]count // by preference, proved from below
	met     [len(aims)]bool  // by preference, over the atoms looked at last
	proved  [len(aims)]bool  // and however the chains are cut up
	crowded bool             // too many cuts are near too many others
	lost    bool             // some cutting-up did not keep the whole symmetry
}

// unproved reports whether there might be a better plan for some preference.
func (m *maker) unproved() bool { return slices.Contains(m.proved[:], false) }

// cutUp makes the atoms of the motif and watches over their symmetry.
func (m *maker) cutUp(positions []Orientation, step float64, sparing bool) *atoms {
	at := cutUp(m.g, positions, step, sparing)
	at.pause = m.pause
	at.keepOff(m.clear)
	m.lost = m.lost || len(at.positions) < len(positions)
	return at
}

// exact searches over the coarse atoms, then over fine ones.
func (m *maker) exact(coarse *atoms) {
	coarse.relate()
	if coarse.crowded {
		m.crowded = true
		return
	}
	sure := count{} // where atoms are forbidden, finer ones may be so less
	if len(m.clear) == 0 {
		sure = sureBounds(coarse)
		if sol := coarse.seed(); sol != nil {
			m.found = append(m.found, sol)
		}
	}
	if m.search(coarse, func(prefer work.Prefer, o outcome) bool { return len(m.clear) == 0 && o.settled(prefer, sure) }) {
		return
	}
	fine := m.cutUp(coarse.positions, finest(m.g), false)
	if len(fine.line) == len(coarse.line) {
		m.proved = m.met // it is the same
		return
	}
	if len(fine.line) <= tooManyAtoms {
		if fine.relate(); !fine.crowded {
			m.search(fine, func(_ work.Prefer, o outcome) bool { return o.proved })
			for i := range m.limit {
				m.limit[i] = m.limit[i].atLeast(sure)
			}
			return
		}
	}
	for i := range aims {
		if !m.proved[i] {
			m.limit[i] = sure
		}
	}
}

// finest is how long atoms are at most where chains are cut up finely, mm.
func finest(g *groove.Groove) float64 {
	length := 0.0
	for _, st := range g.Motif.Strands {
		length += st.Length()
	}
	return max(fineStep, length/manyAtoms)
}

// search searches over a cutting-up for all preferences that are not settled, and
// reports whether all are now. known reports whether one is, for what came out.
func (m *maker) search(at *atoms, known func(work.Prefer, outcome) bool) bool {
	if at.hopeless() {
		return false
	}
	budget := 0
	s := newSearch(at, &budget, m.found)
	for _, prefer := range aims {
		if m.proved[prefer] {
			continue
		}
		budget = patience[prefer]
		o := s.best(prefer)
		m.limit[prefer], m.met[prefer], m.proved[prefer] = o.limit, o.proved, known(prefer, o)
	}
	m.found = s.found
	return !m.unproved()
}

// settled reports whether nothing can be better for a preference, wherever the
// chains are split: what was found meets bounds that do not depend on that, or no
// plan of its kind has a visible split, and the places of hidden ones are given.
// (Otherwise cutting up more finely could lower the numbers, if a rider reached
// further between seams than from seam to seam.)
func (o outcome) settled(prefer work.Prefer, sure count) bool {
	if o.sol == nil || !o.proved {
		return false
	}
	met := o.sol.visible == sure.visible && o.sol.setUps == sure.setUps && o.sol.panels == sure.panels
	return met || prefer == work.PreferClean && o.sol.visible == 0
}

// finish makes the plan of the best solution.
func (m *maker) finish(sol *solution) Plan {
	p := m.laidOut(sol)
	if sol.uses == nil {
		return p
	}
	all := *sol
	all.uses = nil
	// Left to itself, what is spare comes in the last set-ups.
	if q := m.laidOut(&all); q.Visible <= p.Visible && q.again() <= p.again() {
		return q
	}
	return p
}

// again counts the cuts that go over what an earlier set-up has made.
func (p Plan) again() int {
	n := 0
	for _, u := range p.SetUps {
		for _, t := range u.Made() {
			n += len(t.Elsewhere)
		}
	}
	return n
}

// laidOut is the plan of a solution.
func (m *maker) laidOut(sol *solution) Plan {
	p := Plan{}
	for i, held := range sol.ans {
		runs := sol.at.runsOf(held)
		panel := Panel{}
		for n, k := range sol.sets[i] {
			pos := sol.at.positions[k]
			panel.Positions = append(panel.Positions, pos)
			up := SetUp{Panel: i, Position: pos}
			for _, r := range runs {
				up.Tracks = append(up.Tracks, Track{Cut: sol.at.cut(sol.at.turned(r, k)), Spare: !sol.used(i, n, sol.at.atomsOf(r)[0])})
			}
			p.SetUps = append(p.SetUps, up)
		}
		p.Panels = append(p.Panels, panel)
	}
	p.once(m.g)
	p.countSplits(m.g)
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
	p.reportShared(g)
	for i := len(p.SetUps) - 1; i >= 0; i-- {
		p.Panels[p.SetUps[i].Panel].Cuts = p.SetUps[i].cuts()
	}
}

// countSplits counts the places at which cuts that are made end at a split.
func (p *Plan) countSplits(g *groove.Groove) {
	p.Visible, p.Hidden = 0, 0
	at := map[int][]groove.Stop{} // by strand
	for _, c := range p.Cuts() {
		for _, s := range [2]groove.Stop{c.From, c.To} {
			if s.Kind != groove.StopSplit || slices.ContainsFunc(at[c.Strand], func(q groove.Stop) bool { return along(g.Motif.Strands[c.Strand], q.S, s.S) < sameStretch }) {
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
	p.countSplits(g)
	p.named(g)
	return p
}
