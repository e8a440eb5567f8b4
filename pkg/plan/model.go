package plan

// What so many panels can hold, put as clauses to the solver.
//
// Unknowns: holds[p][a], panel p, as it lies unturned, holds atom a; and where
// panels may be laid more than once, laid[p][g], panel p is laid in position g.
// Clauses: no panel holds two atoms that clash; with two atoms near one another
// along a chain it holds what is between; no run is too long to follow, or too
// short to be cut by itself; each atom is held, turned back, by some panel in
// some position. A seam is a split when some panel holds the atom on one of its
// sides only; an opening begins where a panel holds an atom and not the one
// before it. Splits, set-ups and openings are counted (count.go), and each
// question bounds them by what it assumes. So the solver keeps what it has
// learnt from one question to the next.

import (
	"fmt"
	"slices"

	"strapwork/pkg/sat"
)

// An answer lists, for each panel, which atoms it holds.
type answer [][]bool

// A model is so many panels, kept for many questions.
type model struct {
	sat.Solver
	at       *atoms
	like     []int         // for each atom, the one that it is always held with
	holds    [][]sat.Lit   // by panel and atom
	cuts     [][][]sat.Lit // by panel, position and atom: the panel, laid so, cuts what it holds; nil where each is laid once
	laid     [][]sat.Lit   // by panel and position; nil where each panel is laid once, unturned
	visible  *counter      // of those more than least
	least    int
	setUps   *counter    // nil as laid
	openings *counter    // nil until they are asked about
	covers   [][]sat.Lit // by atom: what cuts it
	onlyOnce sat.Lit     // no atom is cut twice; none until it is asked about
	counted  int         // the clauses that counters were given room for
	blocked  int         // so many of the search's forbidden sets are forbidden here
}

// A kind is what a model allows.
type kind struct {
	panels int
	once   bool // each is laid once, and not in positions of the solver's choice
	clean  bool // no more visible splits than each chain needs by itself
}

// clauses is about how many clauses a model takes, and as many unknowns at most.
func (at *atoms) clauses(k kind) int {
	held := len(at.clashes) + len(at.ties) + len(at.tooLong) + len(at.tooShort)
	cut := 2*len(at.seams) + len(at.line)
	if !k.once {
		cut = len(at.positions) * (4*len(at.seams) + 3*len(at.line))
	}
	return k.panels * (held + cut)
}

func newModel(at *atoms, k kind) *model {
	m := &model{at: at, like: at.alike(k)}
	for range k.panels {
		held := make([]sat.Lit, len(at.line))
		for a := range held {
			if m.like[a] == a {
				held[a] = m.Var()
			}
		}
		for a, b := range m.like {
			held[a] = held[b]
		}
		m.holds = append(m.holds, held)
		if !k.once {
			m.laid = append(m.laid, m.Vars(len(at.positions)))
		}
	}
	for p := range m.holds {
		m.panel(p)
	}
	if !k.once {
		m.use()
	}
	m.cover()
	m.countSplits()
	if !k.once {
		m.countSetUps()
	}
	return m
}

// alike gives for each atom the first of those that a panel holds all of or none
// of: in clean work, those on both sides of a seam that would show, in chains that
// need no split to be seen.
func (at *atoms) alike(k kind) []int {
	like := make([]int, len(at.line))
	for a := range like {
		like[a] = a
	}
	if !k.clean {
		return like
	}
	root := func(a int) int {
		for like[a] != a {
			a = like[a]
		}
		return a
	}
	for i, s := range at.seams {
		if !s.atEnd() && at.shows(i, k.once) {
			a, b := root(s.a), root(s.b)
			like[max(a, b)] = min(a, b)
		}
	}
	for a := range like {
		like[a] = root(a)
	}
	return like
}

// shows reports whether an end at a seam is seen that need not be, in whatever
// position the opening is used.
func (at *atoms) shows(seam int, once bool) bool {
	for g, image := range at.seamImage {
		s := at.seams[image[seam]]
		if s.hidden || at.links[at.of[s.a]].shown > 0 {
			return false
		}
		if once && g == 0 {
			break
		}
	}
	return true
}

// panel says what one panel can hold.
func (m *model) panel(p int) {
	held := m.holds[p]
	put := map[[4]sat.Lit]bool{} // many say the same where atoms are alike
	for _, c := range m.at.clashes {
		a, b := held[c[0]], held[c[1]]
		if key := [4]sat.Lit{min(a, b), max(a, b)}; !put[key] {
			put[key] = true
			m.Add(a.Not(), b.Not())
		}
	}
	for _, t := range m.at.ties {
		a, b, k, or := held[t.i], held[t.j], held[t.k], held[t.or]
		if key := [4]sat.Lit{min(a, b), max(a, b), k, or}; !put[key] {
			put[key] = true
			m.Add(a.Not(), b.Not(), k, or)
		}
	}
	for _, run := range m.at.tooLong {
		m.Add(m.notAll(p, run)...)
	}
	for _, short := range m.at.tooShort {
		lits := m.notAll(p, short.run)
		for _, a := range [2]int{short.before, short.after} {
			if a != noAtom {
				lits = append(lits, held[a])
			}
		}
		m.Add(lits...)
	}
	m.keepOff(p)
}

// notAll is the clause that a panel doesn't hold all of some atoms.
func (m *model) notAll(p int, atoms []int) []sat.Lit {
	lits := make([]sat.Lit, len(atoms))
	for i, a := range atoms {
		lits[i] = m.holds[p][a].Not()
	}
	return lits
}

// A fault is atoms of which a panel can't hold all after all, unless it holds one
// of others too.
type fault struct{ all, unless []int }

// block forbids each panel what none can hold.
func (m *model) block(faults []fault) {
	for ; m.blocked < len(faults); m.blocked++ {
		f := faults[m.blocked]
		for p, held := range m.holds {
			lits := m.notAll(p, f.all)
			for _, a := range f.unless {
				lits = append(lits, held[a])
			}
			m.Add(lits...)
		}
	}
}

// pin puts each of some atoms, of which no panel holds two, on a panel of its
// own: which panel is which says nothing where all are laid once.
func (m *model) pin(atoms []int) {
	for i, a := range atoms[:min(len(atoms), len(m.holds))] {
		m.Add(m.holds[i][a])
	}
}

// use says what panels cut in each position: all of an opening, or nothing of it,
// where it is left alone.
func (m *model) use() {
	for p, held := range m.holds {
		m.cuts = append(m.cuts, nil)
		for _, laid := range m.laid[p] {
			cut := make([]sat.Lit, len(held))
			for a, b := range m.like {
				if a == b {
					cut[a] = m.Var()
					m.Add(cut[a].Not(), laid)
					m.Add(cut[a].Not(), held[a])
				}
			}
			for a, b := range m.like {
				cut[a] = cut[b]
			}
			for _, s := range m.at.seams {
				if !s.atEnd() && m.like[s.a] != m.like[s.b] {
					m.Add(cut[s.a].Not(), held[s.b].Not(), cut[s.b])
					m.Add(cut[s.b].Not(), held[s.a].Not(), cut[s.a])
				}
			}
			m.cuts[p] = append(m.cuts[p], cut)
		}
		// Unturned it cuts something, if it holds anything: any of a panel's turned
		// selves may be called so.
		empty := m.Var()
		for a, l := range held {
			if m.like[a] == a {
				m.Add(empty.Not(), l.Not())
			}
		}
		m.Add(append(slices.Clone(m.cuts[p][0]), empty)...)
	}
}

// cover says that each atom is held by some panel, turned back from where the
// panel is laid, and cut there; of atoms that are folded into one, one of them.
func (m *model) cover() {
	put := map[string]bool{}
	for _, like := range m.at.folded() {
		var lits []sat.Lit
		for _, a := range like {
			lits = append(lits, m.cutBy(a)...)
		}
		if key := fmt.Sprint(lits); !put[key] {
			put[key] = true
			m.Add(lits...)
			m.covers = append(m.covers, lits)
		}
	}
	if m.at.fold != nil {
		m.Add(m.once())
		m.balance()
	}
}

// cutBy is what cuts an atom: the panels that hold it, or what comes to lie on it.
func (m *model) cutBy(a int) []sat.Lit {
	var lits []sat.Lit
	for p, held := range m.holds {
		if m.laid == nil {
			lits = append(lits, held[a])
			continue
		}
		for g := range m.laid[p] {
			lits = append(lits, m.cuts[p][g][m.at.image[m.at.inverse[g]][a]])
		}
	}
	return lits
}

// once is what to assume for nothing to be cut twice.
func (m *model) once() sat.Lit {
	if m.onlyOnce != 0 {
		return m.onlyOnce
	}
	m.onlyOnce = m.Var()
	for _, lits := range m.covers {
		c := counter{solver: &m.Solver, of: lits}
		for _, l := range c.atMost(1) {
			m.Add(m.onlyOnce.Not(), l)
		}
	}
	return m.onlyOnce
}

func (m *model) countSplits() {
	split := m.Vars(len(m.at.seams))
	for p, held := range m.holds {
		cuts := [][]sat.Lit{held}
		if m.laid != nil {
			cuts = m.cuts[p]
		}
		for g, cut := range cuts {
			for k, s := range m.at.seams {
				end := split[m.at.seamOf(m.at.seamImage[g][k])]
				if s.atEnd() {
					m.Add(end, cut[s.atom()].Not())
					continue
				}
				m.Add(end, cut[s.a].Not(), cut[s.b])
				m.Add(end, cut[s.a], cut[s.b].Not())
			}
		}
	}
	m.visible = &counter{solver: &m.Solver, of: m.excess(split)}
}

// mostCounted bounds the seams of a chain whose splits are counted by themselves: that
// takes as many clauses as their square.
const mostCounted = 300

// excess are the visible splits that are more than each chain by itself needs at
// least. To count these, and not all, spares the solver to find out that none can be
// saved elsewhere. Those of very long chains are all counted.
func (m *model) excess(split []sat.Lit) []sat.Lit {
	visible := make([][]sat.Lit, len(m.at.links))
	for k, s := range m.at.seams {
		if of := m.at.of[s.atom()]; !s.hidden && m.at.seamOf(k) == k {
			visible[of] = append(visible[of], split[k])
		}
	}
	var all []sat.Lit
	for k := range m.at.links {
		least := m.at.links[k].shown
		if least == 0 || len(visible[k]) > mostCounted {
			all = append(all, visible[k]...)
			continue
		}
		m.least += least
		own := counter{solver: &m.Solver, of: visible[k]}
		for i := least; i < len(own.of); i++ {
			all = append(all, own.atMost(i)[0].Not())
		}
	}
	return all
}

// countSetUps counts them. The unturned position is always one: any of a
// panel's turned selves may be called so.
func (m *model) countSetUps() {
	var all []sat.Lit
	for _, laid := range m.laid {
		m.Add(laid[0])
		all = append(all, laid[1:]...)
	}
	m.setUps = &counter{solver: &m.Solver, of: all}
}

func (m *model) countOpenings() {
	var starts []sat.Lit
	for _, held := range m.holds {
		for _, l := range m.at.links {
			for i := range l.atoms {
				start, a := m.Var(), l.first+i
				starts = append(starts, start)
				if i == 0 && !l.Ring {
					m.Add(start, held[a].Not())
				} else {
					m.Add(start, held[a].Not(), held[l.first+(i+l.atoms-1)%l.atoms])
				}
			}
		}
	}
	m.openings = &counter{solver: &m.Solver, of: starts}
}

// bounds is what to assume for there to be no more than given.
func (m *model) bounds(c count) []sat.Lit {
	var assumed []sat.Lit
	if c.visible != none {
		assumed = m.visible.atMost(c.visible - m.least)
	}
	if m.setUps != nil && c.setUps != none {
		assumed = append(assumed, m.setUps.atMost(c.setUps-len(m.laid))...)
	}
	if c.openings != none {
		if m.openings == nil {
			m.countOpenings()
		}
		assumed = append(assumed, m.openings.atMost(c.openings)...)
	}
	return assumed
}

// counting is how many clauses the counters take, at most, for bounds to be assumed.
func (m *model) counting(c count) int {
	n := 0
	if c.visible != none {
		n += m.visible.clauses(c.visible - m.least)
	}
	if m.setUps != nil && c.setUps != none {
		n += m.setUps.clauses(c.setUps - len(m.laid))
	}
	if c.openings != none {
		starts := counter{of: make([]sat.Lit, len(m.holds)*len(m.at.line))}
		n += starts.clauses(c.openings)
	}
	return n
}

// in is what to assume for the panels to be laid in given positions.
func (m *model) in(sets [][]int) []sat.Lit {
	var assumed []sat.Lit
	for p, set := range sets {
		want := make([]bool, len(m.at.positions))
		for _, g := range set {
			want[g] = true
		}
		for g, laid := range m.laid[p] {
			if !want[g] {
				laid = laid.Not()
			}
			assumed = append(assumed, laid)
		}
	}
	return assumed
}

// read takes the plan from the solver's last answer.
func (m *model) read() *solution {
	sol := &solution{at: m.at}
	for p, held := range m.holds {
		set := []int{0}
		if m.laid != nil {
			set = nil
			for g, laid := range m.laid[p] {
				if m.Holds(laid) {
					set = append(set, g)
				}
			}
		}
		sol.sets = append(sol.sets, set)
		own := make([]bool, len(held))
		for a, l := range held {
			own[a] = m.Holds(l)
		}
		sol.ans = append(sol.ans, own)
		if m.laid == nil {
			continue
		}
		var uses [][]bool
		for _, g := range set {
			use := make([]bool, len(held))
			for a, l := range m.cuts[p][g] {
				use[a] = m.Holds(l)
			}
			uses = append(uses, use)
		}
		sol.uses = append(sol.uses, uses)
	}
	return sol
}
