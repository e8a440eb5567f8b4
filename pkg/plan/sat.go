package plan

// One question to the solver: can panels laid in given positions hold atoms so
// that all of them are cut?
//
// Unknowns: holds(p, a), panel p, as it lies unturned, holds atom a. Clauses:
// no panel holds two atoms that clash; with two atoms near one another along a
// chain it holds what is between; no run is too long to follow, or too short to
// be cut by itself; each atom is
// held, turned back, by some panel in some position. Counts are bounded by
// cardinality constraints: a seam is a split when some panel holds the atom on
// one of its sides only; an opening begins where a panel holds an atom and not
// the one before it.

import (
	"slices"
	"sync"

	"github.com/crillab/gophersat/solver"
)

// A question is what is asked of the solver. Negative bounds mean none.
type question struct {
	at       *atoms
	sets     [][]int // for each panel, the positions in which it is laid
	visible  int
	openings int
	given    [][2]int // panel and atom that it holds, to break ties between like panels
	blocked  [][]int  // sets of atoms that no panel may hold all of
}

// An answer lists, for each panel, which atoms it holds.
type answer [][]bool

type encoder struct {
	question
	atoms, seams int
	next         int
	list         []solver.PBConstr
}

func (e *encoder) holds(p, a int) int { return 1 + p*e.atoms + a }

func (e *encoder) fresh() int {
	e.next++
	return e.next
}

// clause adds that one of lits holds. A literal may not stand twice in a
// clause, nor a clause that always holds be added: the solver takes both amiss.
func (e *encoder) clause(lits ...int) {
	slices.Sort(lits)
	lits = slices.Compact(lits)
	for _, l := range lits {
		if l > 0 {
			break
		}
		if _, both := slices.BinarySearch(lits, -l); both {
			return
		}
	}
	e.list = append(e.list, solver.PropClause(lits...))
}

// clausesALearnt is how many clauses are put to the solver in about the time in
// which it learns one (measured).
const clausesALearnt = 200

// oneAtATime guards the solver, which keeps a buffer for all its instances.
var oneAtATime sync.Mutex

// ask returns an answer, or nil if there is none. It gives up after the solver
// has learnt so many clauses: a measure of work that is the same on every
// machine. spent is what it learnt, and what putting the question cost.
func ask(q question, most int) (ans answer, spent int, known bool) {
	oneAtATime.Lock()
	defer oneAtATime.Unlock()
	e := encode(q)
	s := solver.New(solver.ParsePBConstrs(e.list))
	// The solver has no way to be stopped, but it reports every clause that it
	// learns: when the reports' channel is closed on it, the next report ends
	// it by a panic.
	s.Certified, s.CertChan = true, make(chan string)
	ended, counted := make(chan struct{}), make(chan int)
	go func() { counted <- countReports(s.CertChan, ended, most) }()
	status, done := run(s)
	close(ended)
	spent = <-counted
	spent += 1 + len(e.list)/clausesALearnt
	switch {
	case !done:
		return nil, spent, false
	case status != solver.Sat:
		return nil, spent, true
	}
	return e.read(s.Model()), spent, true
}

// countReports counts what a solver learns until it has ended, or closes the
// channel on it when that is most.
func countReports(reports chan string, ended chan struct{}, most int) int {
	for n := 0; ; {
		select {
		case <-reports:
			if n++; n >= most {
				close(reports)
				return n
			}
		case <-ended:
			return n
		}
	}
}

// onClosedChannel is Go's own text for a report on the closed channel.
const onClosedChannel = "send on closed channel"

// run solves until the end, or until its reports' channel is closed.
func run(s *solver.Solver) (status solver.Status, done bool) {
	defer func() {
		r := recover()
		if r == nil {
			return
		}
		if err, ok := r.(error); !ok || err.Error() != onClosedChannel {
			panic(r) // a fault, and not the end that was asked for
		}
		done = false
	}()
	return s.Solve(), true
}

// encode puts a question as constraints.
func encode(q question) *encoder {
	e := &encoder{question: q, atoms: len(q.at.line), seams: len(q.at.seams)}
	e.next = len(q.sets) * e.atoms
	for p := range q.sets {
		e.panel(p)
	}
	e.cover()
	if q.visible >= 0 {
		e.boundVisible()
	}
	if q.openings >= 0 {
		e.boundOpenings()
	}
	for _, g := range q.given {
		e.clause(e.holds(g[0], g[1]))
	}
	return e
}

// read takes what the panels hold from a model.
func (e *encoder) read(model []bool) answer {
	ans := make(answer, len(e.sets))
	for p := range ans {
		ans[p] = make([]bool, e.atoms)
		for a := range ans[p] {
			ans[p][a] = model[e.holds(p, a)-1]
		}
	}
	return ans
}

// panel says what one panel can hold.
func (e *encoder) panel(p int) {
	for _, c := range e.at.clashes {
		e.clause(-e.holds(p, c[0]), -e.holds(p, c[1]))
	}
	for _, t := range e.at.ties {
		e.clause(-e.holds(p, t[0]), -e.holds(p, t[1]), e.holds(p, t[2]))
	}
	for _, runs := range [2][][]int{e.at.tooLong, e.blocked} {
		for _, run := range runs {
			lits := make([]int, len(run))
			for i, a := range run {
				lits[i] = -e.holds(p, a)
			}
			e.clause(lits...)
		}
	}
	for _, short := range e.at.tooShort {
		var lits []int
		for _, a := range short.run {
			lits = append(lits, -e.holds(p, a))
		}
		for _, a := range [2]int{short.before, short.after} {
			if a != noAtom {
				lits = append(lits, e.holds(p, a))
			}
		}
		e.clause(lits...)
	}
}

func (e *encoder) cover() {
	for a := range e.atoms {
		var lits []int
		for p, set := range e.sets {
			for _, g := range set {
				lits = append(lits, e.holds(p, e.at.image[e.at.inverse[g]][a]))
			}
		}
		e.clause(lits...)
	}
}

func (e *encoder) boundVisible() {
	split := make([]int, e.seams)
	var visible []int
	for k, s := range e.at.seams {
		split[k] = e.fresh()
		if !s.hidden {
			visible = append(visible, split[k])
		}
	}
	for p, set := range e.sets {
		for _, g := range set {
			for k, s := range e.at.seams {
				x := split[e.at.seamImage[g][k]]
				e.clause(x, -e.holds(p, s.a), e.holds(p, s.b))
				e.clause(x, e.holds(p, s.a), -e.holds(p, s.b))
			}
		}
	}
	if len(visible) > e.visible {
		e.list = append(e.list, solver.AtMost(visible, e.visible))
	}
}

func (e *encoder) boundOpenings() {
	var starts []int
	for p := range e.sets {
		for _, l := range e.at.links {
			for i := range l.atoms {
				start := e.fresh()
				starts = append(starts, start)
				a := l.first + i
				if i == 0 && !l.Ring {
					e.clause(start, -e.holds(p, a))
				} else {
					e.clause(start, -e.holds(p, a), e.holds(p, l.first+(i+l.atoms-1)%l.atoms))
				}
			}
		}
	}
	e.list = append(e.list, solver.AtMost(starts, e.openings))
}
