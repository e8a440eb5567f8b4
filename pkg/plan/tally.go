package plan

import "slices"

// A tally counts what a solution does to atoms and seams, so that a change to it
// is judged by what it touches alone.
type tally struct {
	at     *atoms
	sol    *solution
	seams  [][]int // by atom, the seams at its ends
	shorts [][]int // by atom, the short runs that it is in or next to

	cut  []int // by atom, how many set-ups cut it
	ends []int // by seam, at how many set-ups a cut ends there
	tallied
	whole int   // how many atoms are to be cut
	short []int // by panel, the short runs that it holds by themselves
}

// tallied are the numbers of atoms that are cut, of seams at which a cut ends, and
// of those among them that will be seen.
type tallied struct{ made, splits, visible int }

func newTally(at *atoms, sol *solution) *tally {
	n := len(at.line)
	t := &tally{
		at: at, sol: sol, seams: make([][]int, n), shorts: make([][]int, n),
		whole: len(at.folded()), cut: make([]int, n), ends: make([]int, len(at.seams)), short: make([]int, len(sol.ans)),
	}
	for k, s := range at.seams {
		for _, a := range [2]int{s.a, s.b} {
			if a != noAtom {
				t.seams[a] = append(t.seams[a], k)
			}
		}
	}
	for k, r := range at.tooShort {
		for _, a := range append([]int{r.before, r.after}, r.run...) {
			if a != noAtom {
				t.shorts[a] = append(t.shorts[a], k)
			}
		}
	}
	t.countAll()
	return t
}

func (t *tally) countAll() {
	for p, held := range t.sol.ans {
		for a, h := range held {
			if h {
				t.addCut(p, a, 1)
			}
		}
		for k, s := range t.at.seams {
			if s.ends(held) {
				t.addEnd(p, k, 1)
			}
		}
		for _, r := range t.at.tooShort {
			if r.alone(held) {
				t.short[p]++
			}
		}
	}
}

// alone reports whether a panel holds a short run, and neither of the atoms beside
// it.
func (r shortRun) alone(held []bool) bool {
	holds := func(a int) bool { return a != noAtom && held[a] }
	return !holds(r.before) && !holds(r.after) && !slices.ContainsFunc(r.run, func(a int) bool { return !held[a] })
}

// addCut adds n to the set-ups of a panel that cut an atom's images.
func (t *tally) addCut(panel, atom, n int) {
	for i, g := range t.sol.sets[panel] {
		if !t.sol.used(panel, i, atom) {
			continue
		}
		t.made += add(&t.cut[t.at.atomOf(t.at.image[g][atom])], n)
	}
}

// addEnd adds n to the set-ups of a panel in which a cut ends at a seam's images.
func (t *tally) addEnd(panel, seam, n int) {
	s := t.at.seams[seam]
	for i, g := range t.sol.sets[panel] {
		if !t.sol.usedIf(panel, i, s.a) && !t.sol.usedIf(panel, i, s.b) {
			continue
		}
		k := t.at.seamOf(t.at.seamImage[g][seam])
		more := add(&t.ends[k], n)
		t.splits += more
		if !t.at.seams[k].hidden {
			t.visible += more
		}
	}
}

// add adds n to a count, and returns by how much that changes the number of counts
// that are not 0.
func add(count *int, n int) int {
	before := *count
	*count += n
	switch {
	case before == 0 && *count != 0:
		return 1
	case before != 0 && *count == 0:
		return -1
	}
	return 0
}

// flip takes atoms off a panel, or puts them there again.
func (t *tally) flip(panel int, atoms []int) {
	held := t.sol.ans[panel]
	var shorts []int
	for _, a := range atoms {
		shorts = append(shorts, t.shorts[a]...)
	}
	slices.Sort(shorts)
	shorts = slices.Compact(shorts)
	countShort := func(n int) {
		for _, k := range shorts {
			if t.at.tooShort[k].alone(held) {
				t.short[panel] += n
			}
		}
	}
	countShort(-1)
	for _, a := range atoms {
		for _, k := range t.seams[a] {
			if s := t.at.seams[k]; s.a != s.b {
				t.addEnd(panel, k, sign(!s.ends(held)))
			}
		}
		held[a] = !held[a]
		t.addCut(panel, a, sign(held[a]))
	}
	countShort(1)
}

func sign(plus bool) int {
	if plus {
		return 1
	}
	return -1
}

// without takes some atoms off a panel, and keeps the change if every atom is
// still cut, no split is added, and what is left can be cut by itself.
func (t *tally) without(panel int, atoms []int) bool {
	was := t.tallied
	t.flip(panel, atoms)
	if t.splits <= was.splits && t.visible <= was.visible && t.made == t.whole && t.short[panel] == 0 {
		return true
	}
	t.flip(panel, atoms)
	return false
}

// trim takes atoms off the ends of a run, one by one.
func (t *tally) trim(panel int, atoms []int) {
	for len(atoms) > 1 && t.without(panel, atoms[:1]) {
		atoms = atoms[1:]
	}
	for len(atoms) > 1 && t.without(panel, atoms[len(atoms)-1:]) {
		atoms = atoms[:len(atoms)-1]
	}
}
