package plan

// Numbers that no plan beats, chain by chain: by dynamic programming over the
// seams.

import "math"

// leastPanels is a number of panels that no plan of k set-ups beats: a panel
// has no more positions than the motif has symmetries.
func (s *search) leastPanels(k int) int {
	n := len(s.at.positions)
	s.limit.panels = (k + n - 1) / n
	return s.limit.panels
}

// leastVisible is the fewest visible splits that any plan has: the sum over
// the chains.
func (s *search) leastVisible() int {
	sum := 0
	for _, l := range s.at.links {
		sum += l.leastVisible()
	}
	return sum
}

func (l link) leastVisible() int {
	return l.least(func(i int) int {
		if l.stops[i].Hidden {
			return 0
		}
		return 1
	})
}

// leastOpenings is a number of openings that no plan of k set-ups beats: every
// stretch of every chain is cut in some set-up.
func (s *search) leastOpenings(k int) int {
	sum := 0
	for _, l := range s.at.links {
		n := l.least(func(int) int { return 1 })
		if !l.Ring {
			n++
		}
		sum += n
	}
	return (sum + k - 1) / k
}

// least is the least total cost of splits, each at a seam before atom i of
// cost(i), that leave no stretch too long. A ring has at least two. Stretches
// too short count: between two splits there may be one where cuts overlap.
func (l link) least(cost func(i int) int) int {
	if !l.Ring {
		return l.leastFrom(0, l.atoms, cost)
	}
	best := math.MaxInt
	for first := 0; first < l.atoms && first <= l.far[0]; first++ {
		if c := l.leastFrom(first, first+l.atoms, cost); c < math.MaxInt {
			best = min(best, c+cost(first))
		}
	}
	return best
}

// leastFrom is the least cost of splits strictly between two seams.
func (l link) leastFrom(first, last int, cost func(i int) int) int {
	best := make([]int, last-first+1)
	for i := 1; i <= last-first; i++ {
		best[i] = math.MaxInt
	}
	for i := first; i < last; i++ {
		if best[i-first] == math.MaxInt {
			continue
		}
		reach := l.far[i%l.atoms]
		if l.Ring {
			reach = min(reach, l.atoms-1)
		}
		for j := i + 1; j <= min(last, i+reach); j++ {
			c := best[i-first]
			if j < last {
				c += cost(j % l.atoms)
			}
			best[j-first] = min(best[j-first], c)
		}
	}
	return best[last-first]
}
