package plan

// A plan to begin with: chains split as cheaply as each can be by itself, and the
// stretches shared out over panels that are each laid once.

import "slices"

// seed is such a plan over atoms; nil if there is none, or it doesn't stand up to
// the exact tests.
func (at *atoms) seed() *solution {
	of := make([]int, len(at.line)) // each atom's stretch
	n := 0
	for k := range at.links {
		l := &at.links[k]
		if l.clear == nil {
			l.measure(at.g)
		}
		dear := l.dear(l.byLength)
		seams, _ := l.cheapest(l.atoms, func(from, to int, split bool) price {
			if l.tooShort(from, to) {
				return unpayable
			}
			return dear(from, to, split)
		})
		if seams == nil {
			return nil
		}
		begins := make([]bool, l.atoms)
		for _, i := range seams {
			begins[i%l.atoms] = true
		}
		first := 0
		if l.Ring {
			first = seams[0]
		}
		for i := range l.atoms {
			if a := (first + i) % l.atoms; i == 0 || begins[a] {
				n++
			}
			of[l.first+(first+i)%l.atoms] = n - 1
		}
	}
	sol := at.spreadOut(of, n)
	at.prune(sol)
	if at.faults(sol) != nil {
		return nil
	}
	return sol
}

// spreadOut shares stretches out over as few panels as can be found, each laid
// once, given each atom's stretch.
func (at *atoms) spreadOut(of []int, n int) *solution {
	near := make([][]int, n)
	for _, p := range at.pairsApart() {
		if a, b := of[p[0]], of[p[1]]; a != b {
			near[a], near[b] = append(near[a], b), append(near[b], a)
		}
	}
	for i := range near {
		slices.Sort(near[i])
		near[i] = slices.Compact(near[i])
	}
	colours := colour(near)
	ans := make(answer, colours.count)
	for i := range ans {
		ans[i] = make([]bool, len(at.line))
	}
	for a, s := range of {
		ans[colours.of[s]][a] = true
	}
	sol := &solution{count: count{setUps: colours.count, panels: colours.count}, at: at, sets: single(colours.count), ans: ans}
	_, sol.visible = at.splits(sol)
	sol.openings = at.openings(ans)
	return sol
}

// pairsApart are atoms that may not share a panel if they are of two stretches:
// those that clash, and those near one another along a chain.
func (at *atoms) pairsApart() [][2]int {
	pairs := slices.Clone(at.clashes)
	for _, t := range at.ties {
		pairs = append(pairs, [2]int{t.i, t.j})
	}
	for _, s := range at.seams {
		if !s.atEnd() {
			pairs = append(pairs, [2]int{s.a, s.b})
		}
	}
	return pairs
}

// single returns k panels that are each laid once, unturned.
func single(k int) [][]int {
	sets := make([][]int, k)
	for i := range sets {
		sets[i] = []int{0}
	}
	return sets
}
