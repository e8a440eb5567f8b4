package plan

// Mending an answer of the solver: it may hold atoms to no purpose.

import "slices"

// prune drops runs, and ends of runs, that other set-ups cut anyway, where
// that makes no further split.
func (at *atoms) prune(sol *solution) {
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
			kept.ans, kept.sets = append(kept.ans, held), append(kept.sets, sol.sets[p])
			kept.setUps += len(sol.sets[p])
			kept.panels++
		}
	}
	*sol = kept
}

// cutsAgain reports whether some atom is cut by two set-ups.
func (at *atoms) cutsAgain(sol *solution) bool {
	cut := make([]bool, len(at.line))
	for p, held := range sol.ans {
		for _, g := range sol.sets[p] {
			for a, h := range held {
				if b := at.image[g][a]; h {
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
