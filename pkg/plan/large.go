package plan

// Plans for motifs with too many atoms for the solver.
//
// The chains are split as cheaply as can be in a way that a turning symmetry
// keeps: one chain of each family is split, a ring that the turning maps on
// itself in equal steps of it, and the others as its images. The stretches are
// then planned as if they could not be split or joined further. This is done
// for the full turning and for each of its parts, and the best plan is taken.
// The bounds are those that hold wherever the chains are split.

import (
	"slices"

	"strapwork/pkg/groove"
)

func (m *maker) large(at *atoms) {
	at.relate()
	if at.crowded {
		m.crowded = true
		return
	}
	sure := sureBounds(at)
	for i := range m.limit {
		m.limit[i] = m.limit[i].atLeast(sure)
	}
	turns := at.turns()
	for every := 1; every <= turns; every++ {
		if turns%every != 0 {
			continue
		}
		if chosen := at.splitEvenly(every); chosen != nil && !chosen.crowded {
			m.share(chosen)
		}
	}
}

// share shares stretches out over set-ups, and these over panels.
func (m *maker) share(at *atoms) {
	of := make([]int, len(at.line))
	for i := range of {
		of[i] = i
	}
	sol := at.spreadOut(of, len(of))
	budget := 0
	s := newSearch(at, &budget, nil)
	for _, prefer := range aims {
		budget = patience[prefer]
		best := sol.count
		best.panels, best.openings = s.leastPanels(best.setUps), 0
		if was := bestOf(m.found, prefer); was != nil && !better(best, was.count, prefer) {
			continue // whatever panels may share
		}
		for c := (count{none, sol.setUps, best.panels, none}); c.panels < sol.panels && !s.ask(c, oneQuestion); c.panels++ {
		}
	}
	at.prune(sol)
	if at.faults(sol) == nil {
		s.found = append(s.found, sol)
	}
	m.found = append(m.found, s.found...)
}

// splitEvenly returns the atoms that are the stretches of the cheapest
// splitting that every so-many-th turn keeps.
func (at *atoms) splitEvenly(every int) *atoms {
	chosen := &atoms{g: at.g}
	for i, p := range at.positions {
		if !p.Flip && i%every == 0 {
			chosen.positions = append(chosen.positions, p)
		}
	}
	seams := make([][]int, len(at.links)) // the atoms of each link that begin a stretch
	for k := range at.links {
		if seams[k] != nil {
			continue
		}
		if at.links[k].clear == nil {
			at.links[k].measure(at.g)
		}
		own := at.evenSeams(k, every)
		if own == nil {
			return nil
		}
		for i, p := range at.positions {
			if !p.Flip && i%every == 0 {
				at.carry(own, k, at.image[i], seams)
			}
		}
	}
	for k, l := range at.links {
		chosen.addChosen(l, seams[k])
	}
	chosen.mapImages()
	chosen.relate()
	return chosen
}

// carry adds the images of a link's seams to those of the link that they are on.
func (at *atoms) carry(own []int, k int, image []int, seams [][]int) {
	l := at.links[k]
	to := at.of[image[l.first]]
	m := at.links[to]
	forward := l.atoms < 2 || m.follows(image[l.first], image[l.first+1])
	for _, i := range own {
		j := image[l.first+i] - m.first
		if !forward {
			j = (j + 1) % m.atoms
		}
		if !slices.Contains(seams[to], j) {
			seams[to] = append(seams[to], j)
		}
	}
	if seams[to] == nil {
		seams[to] = []int{}
	}
	slices.Sort(seams[to])
}

// evenSeams is the cheapest choice of seams of a link, the atoms before which
// it is split, that every so-many-th turn keeps; nil if there is none.
func (at *atoms) evenSeams(k, every int) []int {
	l := &at.links[k]
	period := l.atoms
	for i, p := range at.positions {
		if !l.Ring || p.Flip || i%every != 0 || at.of[at.image[i][l.first]] != k {
			continue
		}
		if shift := at.image[i][l.first] - l.first; shift > 0 && l.follows(at.image[i][l.first], at.image[i][l.first+1]) {
			period = min(period, shift)
		}
	}
	// Shares go by the number of atoms, not by their length: seams half-way between
	// crossings are found so, and panels that hold like stretches.
	dear := l.dear(func(from, to int) float64 { return float64(to-from) / float64(period) })
	seams, _ := l.cheapest(period, func(from, to int, split bool) price {
		if l.tooShort(from, to) {
			return unpayable
		}
		return dear(from, to, split)
	})
	if seams == nil {
		return nil
	}
	all := []int{}
	for lap := 0; lap < l.atoms; lap += period {
		for _, i := range seams {
			all = append(all, (i+lap)%l.atoms)
		}
	}
	return all
}

// addChosen adds a link whose atoms are the stretches between chosen seams.
func (at *atoms) addChosen(l link, seams []int) {
	c := link{Chain: l.Chain, first: len(at.of), short: l.short}
	if !l.Ring {
		c.stops = []groove.Stop{l.From}
	}
	for _, i := range seams {
		if l.Ring || i > 0 {
			c.stops = append(c.stops, l.stops[i])
		}
	}
	c.atoms = len(c.stops)
	if !l.Ring {
		c.stops = append(c.stops, l.To)
	}
	for range c.atoms {
		at.of = append(at.of, len(at.links))
	}
	at.links = append(at.links, c)
}
