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
	window  = 60
	sweeps  = 12
	longest = 3    // of the stretches that are moved elsewhere
	worthIt = 1e-6 // mm; a lesser gain is rounding
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

// try makes a change to the stops from i to j and takes it back if the way
// through them gets no shorter.
func (t *tour) try(i, j int, change func(s []stop)) bool {
	s := t.stops[i : j+1]
	was := slices.Clone(s)
	before := t.through(t.at(i-1), s, t.at(j+1))
	change(s)
	if t.through(t.at(i-1), s, t.at(j+1)) < before-worthIt {
		return true
	}
	copy(s, was)
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
		better = t.turnFrom(i) || better
	}
	return better
}

// turnFrom runs stretches from the i-th stop on the other way round. What there is
// to gain is known from the stretch before, by its two ways: only where there may
// be something is the whole stretch tried.
func (t *tour) turnFrom(i int) bool {
	better := false
	before, first := t.at(i-1), t.stops[i].turned()
	on, back, last := 0.0, 0.0, first // the way from stop i to j as it is and turned round, and stop j turned
	for j := i + 1; j < min(len(t.stops), i+window); j++ {
		on += t.hop(&t.stops[j-1], &t.stops[j])
		next := t.stops[j].turned()
		back += t.hop(&next, &last)
		last = next
		after := t.at(j + 1)
		gain := t.hop(before, &t.stops[i]) + on + t.hop(&t.stops[j], after) - t.hop(before, &last) - back - t.hop(&first, after)
		if gain < worthIt/2 || !t.try(i, j, turnAll) {
			continue
		}
		better = true
		first, last = t.stops[i].turned(), t.stops[j].turned()
		on, back = back, on // turned twice it is as it was
	}
	return better
}

// turnAll runs a stretch the other way round.
func turnAll(s []stop) {
	slices.Reverse(s)
	for k := range s {
		s[k] = s[k].turned()
	}
}

// turned is a stop of a stretch that is run the other way round.
func (s stop) turned() stop {
	s.back = s.back != s.passedThrough()
	return s
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
			better = t.moveBest(i, n) || better
		}
	}
	return better
}

// moveBest moves the n stops from the i-th on to where they make the tour
// shortest, if that is shorter than now.
func (t *tour) moveBest(i, n int) bool {
	before, after := t.at(i-1), t.at(i+n)
	ways := [2][]stop{slices.Clone(t.stops[i : i+n]), slices.Clone(t.stops[i : i+n])}
	slices.Reverse(ways[1])
	flip(ways[1])
	most, to, moved := worthIt, -1, ways[0]
	saved := t.through(before, ways[0], after) - t.hop(before, after)
	for j := max(0, i-window); j <= min(len(t.stops), i+n+window); j++ {
		if j >= i && j <= i+n {
			continue
		}
		a, b := t.at(j-1), t.at(j)
		gap := t.hop(a, b)
		for _, s := range ways {
			if saved+gap-t.hop(a, &s[0]) < most/2 {
				continue // the way there alone is too long
			}
			if gain := saved + gap - t.through(a, s, b); gain > most {
				most, to, moved = gain, j, s
			}
		}
	}
	if to < 0 {
		return false
	}
	if to > i {
		copy(t.stops[i:], t.stops[i+n:to])
		to -= n
	} else {
		copy(t.stops[to+n:i+n], t.stops[to:i])
	}
	copy(t.stops[to:], moved)
	return true
}

// at is the i-th stop, nil before the first and after the last.
func (t *tour) at(i int) *stop {
	if i < 0 || i >= len(t.stops) {
		return nil
	}
	return &t.stops[i]
}

// hop is the way from one stop to the next: from the tour's beginning where
// there is none before, and no way where there is none after.
func (t *tour) hop(a, b *stop) float64 {
	switch {
	case b == nil, a == nil && t.from == nil:
		return 0
	case a == nil:
		return t.from.Dist(b.gate().in)
	}
	return a.gate().out.Dist(b.gate().in)
}

// through is the way from a through a stretch to b.
func (t *tour) through(a *stop, s []stop, b *stop) float64 {
	sum := 0.0
	for i := range s {
		sum += t.hop(a, &s[i])
		a = &s[i]
	}
	return sum + t.hop(a, b)
}
