package plan

// Mending an answer of the solver: it may hold atoms to no purpose.

import "slices"

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
	sol.dropIdle()
	_, sol.visible = at.splits(sol)
	sol.openings = at.openings(sol.ans)
}

// holdsShort reports whether a panel holds a run that is too short.
func (at *atoms) holdsShort(held []bool) bool {
	holds := func(a int) bool { return a != noAtom && held[a] }
	return slices.ContainsFunc(at.tooShort, func(r shortRun) bool {
		return !holds(r.before) && !holds(r.after) && !slices.ContainsFunc(r.run, func(a int) bool { return !held[a] })
	})
}

// dropIdle drops panels that hold nothing, which the solver may leave where it
// was not asked for fewer.
func (sol *solution) dropIdle() {
	kept := solution{count: sol.count}
	kept.setUps, kept.panels = 0, 0
	for p, held := range sol.ans {
		if slices.Contains(held, true) {
			kept.ans, kept.sets = append(kept.ans, held), append(kept.sets, sol.sets[p])
			kept.setUps += len(sol.sets[p])
			kept.panels++
		}
	}
	*sol = kept
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
// change if every atom is still cut, no split is added, and what is left can be
// cut by itself.
func (at *atoms) without(sol *solution, p int, atoms []int) bool {
	all, visible := at.splits(sol)
	for _, a := range atoms {
		sol.ans[p][a] = false
	}
	a, v := at.splits(sol)
	if a <= all && v <= visible && !slices.Contains(at.covered(sol), 0) && !at.holdsShort(sol.ans[p]) {
		return true
	}
	for _, a := range atoms {
		sol.ans[p][a] = true
	}
	return false
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
