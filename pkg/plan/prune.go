package plan

// Repairing an answer of the solver: it may hold atoms to no purpose.

import "slices"

// prune drops runs, and ends of runs, that other set-ups cut anyway, where
// that makes no further split.
func (at *atoms) prune(sol *solution) {
	at.useAll(sol)
	t := newTally(at, sol)
	for p := range sol.ans {
		for _, r := range at.runsOf(sol.ans[p]) {
			t.without(p, at.atomsOf(r))
		}
	}
	for p := range sol.ans {
		for _, r := range at.runsOf(sol.ans[p]) {
			t.trim(p, at.atomsOf(r))
		}
	}
	sol.dropIdle()
	_, sol.visible = at.splits(sol)
	sol.openings = at.openings(sol.ans)
}

// dropIdle drops panels that hold nothing, which the solver may leave where it
// was not asked for fewer.
func (sol *solution) dropIdle() {
	kept := solution{count: sol.count, at: sol.at}
	kept.setUps, kept.panels = 0, 0
	for p, held := range sol.ans {
		if slices.Contains(held, true) {
			var set []int
			var uses [][]bool
			for i, g := range sol.sets[p] {
				idle := true
				for a, h := range held {
					idle = idle && !(h && sol.used(p, i, a))
				}
				if idle {
					continue
				}
				set = append(set, g)
				if sol.uses != nil {
					uses = append(uses, sol.uses[p][i])
				}
			}
			if sol.uses != nil {
				kept.uses = append(kept.uses, uses)
			}
			kept.ans, kept.sets = append(kept.ans, held), append(kept.sets, set)
			kept.setUps += len(set)
			kept.panels++
		}
	}
	*sol = kept
}

// cutsAgain reports whether some atom is cut by two set-ups.
func (at *atoms) cutsAgain(sol *solution) bool {
	cut := make([]bool, len(at.line))
	for p, held := range sol.ans {
		for i, g := range sol.sets[p] {
			for a, h := range held {
				if b := at.atomOf(at.image[g][a]); h && sol.used(p, i, a) {
					if cut[b] {
						return true
					}
					cut[b] = true
				}
			}
		}
	}
	return false
}

// splits counts the seams at which a cut of a solution ends, and those among
// them that will be seen.
func (at *atoms) splits(sol *solution) (all, visible int) {
	split := make([]bool, len(at.seams))
	for p, held := range sol.ans {
		for i, g := range sol.sets[p] {
			for k, s := range at.seams {
				if s.ends(held) && (s.a != noAtom && held[s.a] && sol.used(p, i, s.a) || s.b != noAtom && held[s.b] && sol.used(p, i, s.b)) {
					split[at.seamOf(at.seamImage[g][k])] = true
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

// used reports whether a panel, laid in the i-th of its positions, cuts an atom if it
// holds it, or leaves its opening alone.
func (sol *solution) used(panel, i, atom int) bool {
	return sol.uses == nil || sol.uses[panel][i][atom]
}

// usedIf is used, of an atom that there may be none of.
func (sol *solution) usedIf(panel, i, atom int) bool {
	return atom != noAtom && sol.used(panel, i, atom)
}

// useAll forgets where openings are left alone if that is not needed for fewer
// splits to be seen, or for nothing to be cut twice: once settles it in the order of
// work.
func (at *atoms) useAll(sol *solution) {
	_, fewest := at.splits(sol)
	all := *sol
	all.uses = nil
	if _, visible := at.splits(&all); visible <= fewest && (at.cutsAgain(sol) || !at.cutsAgain(&all)) {
		sol.uses = nil
	}
}
