package toolpath

import (
	"slices"

	"strapwork/pkg/geom"
)

// A tour is a sequence of stops in the making, after a place if from is set.
type tour struct {
	stops []stop
	from  *geom.Point
}

// Bounds on the search, so that large motifs are planned in a moment: what is
// further apart on a good tour than the window is seldom better together.
const (
	window    = 60
	sweeps    = 12
	longest   = 3    // of the stretches that are moved elsewhere
	worthIt   = 1e-6 // mm; a lesser gain is rounding
	cornersOf = 2    // stretches have at least so many stops to be turned round
)

// improve shortens the tour until nothing helps.
func (t *tour) improve() {
	for range sweeps {
		better := t.enterOtherEnds()
		better = t.turnRound() || better
		better = t.moveElsewhere() || better
		if !better {
			return
		}
	}
}

// way is the length of the way from before the i-th stop to after the j-th.
func (t *tour) way(i, j int) float64 {
	sum := 0.0
	for k := i; k <= j+1 && k < len(t.stops); k++ {
		in := t.stops[k].gate().in
		switch {
		case k > 0:
			sum += t.stops[k-1].gate().out.Dist(in)
		case t.from != nil:
			sum += t.from.Dist(in)
		}
	}
	return sum
}

// try makes a change to the stops from i to j and takes it back if the way
// through them gets no shorter.
func (t *tour) try(i, j int, change func(s []stop)) bool {
	was := slices.Clone(t.stops[i : j+1])
	before := t.way(i, j)
	change(t.stops[i : j+1])
	if t.way(i, j) < before-worthIt {
		return true
	}
	copy(t.stops[i:], was)
	return false
}

// enterOtherEnds runs single strands from their other ends.
func (t *tour) enterOtherEnds() bool {
	better := false
	for i := range t.stops {
		better = t.try(i, i, flip) || better
	}
	return better
}

// flip runs all strands of a stretch from their other ends.
func flip(s []stop) {
	for i := range s {
		s[i].back = !s[i].back
	}
}

// turnRound runs stretches the other way round. A strand that is left where it
// was entered keeps its end, one that is passed through is passed the other way.
func (t *tour) turnRound() bool {
	better := false
	for i := range t.stops {
		for j := i + cornersOf - 1; j < min(len(t.stops), i+window); j++ {
			better = t.try(i, j, func(s []stop) {
				slices.Reverse(s)
				for k := range s {
					s[k].back = s[k].back != s[k].passedThrough()
				}
			}) || better
		}
	}
	return better
}

// passedThrough reports whether a strand is left at its other end.
func (s stop) passedThrough() bool {
	a, b := s.gates[0], s.gates[1]
	return a.out.Dist(b.in) < a.out.Dist(a.in)
}

// moveElsewhere moves short stretches to other places of the tour, turned round
// or not.
func (t *tour) moveElsewhere() bool {
	better := false
	for i := range t.stops {
		for n := 1; n <= longest && i+n <= len(t.stops); n++ {
			for j := i + n; j < min(len(t.stops), i+window); j++ {
				better = t.move(i, j, n) || better
			}
		}
		for n := 1; n <= longest && n <= i; n++ {
			for j := max(0, i-window); j+n <= i; j++ {
				better = t.move(j, i, -n) || better
			}
		}
	}
	return better
}

// move moves the first n of the stops from i to j behind the others, or for
// n < 0 the last -n before them, as they are or turned round.
func (t *tour) move(i, j, n int) bool {
	rotate := func(s []stop) (moved []stop) {
		k := n
		if n < 0 {
			k += len(s)
		}
		turned := append(slices.Clone(s[k:]), s[:k]...)
		copy(s, turned)
		if n < 0 {
			return s[:-n]
		}
		return s[len(s)-n:]
	}
	return t.try(i, j, func(s []stop) { rotate(s) }) ||
		t.try(i, j, func(s []stop) {
			m := rotate(s)
			slices.Reverse(m)
			flip(m)
		})
}
