package plan

// Numbers that no plan beats, chain by chain.

// leastPanels is a number of panels that no plan of k set-ups beats: a panel
// has no more positions than the motif has symmetries.
func (s *search) leastPanels(k int) int {
	n := len(s.at.positions)
	return max(1, (k-1)/n+1)
}

// leastVisible is the fewest visible splits that any plan has: the sum over
// the chains.
func (s *search) leastVisible() int {
	sum := 0
	for _, l := range s.at.links {
		sum += l.shown
	}
	return sum
}

// leastVisible is the fewest visible splits that leave no stretch of a link too
// long. A ring has at least two splits of any kind. Stretches too short count:
// between two splits there may be one where cuts overlap.
func (l *link) leastVisible() int {
	_, p := l.cheapest(l.atoms, l.bare)
	return p.visible
}

// leastStretches is the fewest stretches that a link can be cut in.
func (l *link) leastStretches() int {
	_, p := l.cheapest(l.atoms, func(_, _ int, split bool) price {
		if split {
			return price{splits: 1}
		}
		return price{}
	})
	if l.Ring {
		return p.splits
	}
	return p.splits + 1
}

// leastOpenings is a number of openings that no plan of panels laid k times at most beats: every
// stretch of every chain is cut in some set-up.
func (s *search) leastOpenings(k int) int {
	sum := 0
	for _, l := range s.at.links {
		sum += l.parts
	}
	return (sum + k - 1) / k
}
