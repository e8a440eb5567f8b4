package plan

// What atoms mean to one another on a panel: which can't be there together,
// which only with others, and which in one run.

import (
	"cmp"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
)

// relate finds seams, clashes, ties and runs that are too long.
func (at *atoms) relate() {
	at.reach()
	at.shorten()
	for k := range at.links {
		at.addSeams(k)
		at.addTooLong(k)
		at.addTooShort(k)
	}
	at.mapSeams()
	pieces := make([]groove.Cut, len(at.line))
	each(len(pieces), atomsInRow, func(i int) {
		at.rest()
		l := at.links[at.of[i]]
		pieces[i] = at.g.Stretch(l.Strand, l.stopAt(i-l.first, 0), l.stopAt(i-l.first+1, 0))
	})
	pairs, ok := conflicts(at.g, pieces, mostNear)
	if !ok {
		at.crowded = true
		return
	}
	for _, p := range pairs {
		at.relatePair(p[0], p[1])
	}
}

// mostNear bounds the pairs of cuts whose boxes are near enough to be in each
// other's way: looking at one takes some 10 microseconds (measured), at all of
// them a few seconds.
const mostNear = 250_000

// conflicts returns the pairs of cuts that can't share a panel, in order; ok is
// false if there are more to look at than most.
func conflicts(g *groove.Groove, cuts []groove.Cut, most int) (pairs [][2]int, ok bool) {
	boxes := make([]geom.Box, len(cuts))
	for i, c := range cuts {
		boxes[i] = boxOf(g, c)
	}
	var near [][2]int
	geom.NewIndex(boxes).Pairs(g.Apart(), func(i, j int) bool {
		near = append(near, [2]int{i, j})
		return len(near) <= most
	})
	if len(near) > most {
		return nil, false
	}
	clash := make([]bool, len(near))
	each(len(near), pairsInRow, func(k int) { clash[k] = g.Conflict(cuts[near[k][0]], cuts[near[k][1]]) })
	for k, p := range near {
		if clash[k] {
			pairs = append(pairs, p)
		}
	}
	slices.SortFunc(pairs, func(a, b [2]int) int { return cmp.Or(a[0]-b[0], a[1]-b[1]) })
	return pairs, true
}

// boxOf is the box of where the bit's centre may go in a cut; empty if the cut is.
func boxOf(g *groove.Groove, c groove.Cut) geom.Box {
	if !g.Size.Thin() {
		return c.Centre.Bounds()
	}
	box := geom.EmptyBox()
	for _, e := range c.Line.Edges() {
		box = box.Join(e.Bounds())
	}
	return box
}

// clashing returns, for each atom, those that it clashes with.
func (at *atoms) clashing() [][]int {
	near := make([][]int, len(at.line))
	for _, c := range at.clashes {
		near[c[0]], near[c[1]] = append(near[c[0]], c[1]), append(near[c[1]], c[0])
	}
	return near
}

// relatePair settles what two atoms that are near one another mean.
func (at *atoms) relatePair(i, j int) {
	var ways [][2]int
	if at.of[i] == at.of[j] {
		ways = at.ways(i, j)
	}
	switch {
	case slices.ContainsFunc(ways, func(way [2]int) bool { return way[0] == i || way[0] == j }):
		// Neighbours are in one run anyway.
	case len(ways) == 0:
		at.clashes = append(at.clashes, [2]int{i, j})
	case len(ways) == 1:
		for _, k := range ways[0] {
			at.ties = append(at.ties, tie{i, j, k, k})
		}
	default:
		for _, k := range ways[0] {
			for _, or := range ways[1] {
				at.ties = append(at.ties, tie{i, j, k, or})
			}
		}
	}
}

// ways are the ways to cut atoms i and j of one link in one go: on a ring there
// may be two. Of each it gives what comes right after the first atom, and right
// before the last: of neighbours these are themselves.
func (at *atoms) ways(i, j int) (list [][2]int) {
	l := at.links[at.of[i]]
	a, b := i-l.first, j-l.first
	for _, run := range [2][2]int{{a, b}, {b, a + l.atoms}} {
		if n := run[1] - run[0]; run[0] == b && !l.Ring || n >= l.far[run[0]] || l.Ring && n >= l.atoms-1 {
			continue // nor can all of a ring be cut in one go
		}
		list = append(list, [2]int{l.first + (run[0]+1)%l.atoms, l.first + (run[1]-1)%l.atoms})
	}
	return list
}

// reach finds how many atoms can be cut in one go from each. What is known of
// an atom holds for its images, as long as the chain's direction is kept.
func (at *atoms) reach() {
	families := at.families()
	each(len(families), 1, func(f int) {
		for _, k := range families[f] {
			l := &at.links[k]
			l.walk(at.g, 1, func(i int) int {
				at.rest()
				return at.knownFar(l, i)
			})
			if at.fold == nil { // what is cut for others needs no split of its own
				l.shown, l.parts = l.leastVisible(), l.leastStretches()
			}
		}
	})
}

// reached is atoms whose reach has been found.
func (at *atoms) reached() *atoms {
	at.reach()
	return at
}

// knownFar is the reach of an image of atom i of l that has been found before;
// 0 if there is none.
func (at *atoms) knownFar(l *link, i int) int {
	a := l.first + i
	for _, image := range at.image[1:] {
		b := image[a]
		if m := at.links[at.of[b]]; b < a && m.far != nil && m.follows(b, image[l.next(i)]) {
			return m.far[b-m.first]
		}
	}
	if at.row != nil && !l.Ring {
		return at.farInRow(l, i)
	}
	return 0
}

// farInRow is the reach of atom i of l by that of a copy a shift away, if one is known
// whose link goes on as far, or which doesn't reach its link's end.
func (at *atoms) farInRow(l *link, i int) int {
	a, left := l.first+i, l.atoms-i
	for b, row := range at.row {
		m := &at.links[at.of[b]]
		k := b - m.first
		if row != at.row[a] || m.Ring || m.far == nil || m.far[k] == 0 || at.row[m.next(k)] != at.row[l.next(i)] {
			continue
		}
		if rest := m.atoms - k; m.far[k] < rest || rest >= left {
			return min(m.far[k], left)
		}
	}
	return 0
}

// next is the atom after atom i of l; before it at a chain's end, so that the
// pair has no direction.
func (l *link) next(i int) int {
	if l.Ring {
		return l.first + (i+1)%l.atoms
	}
	return l.first + min(i+1, l.atoms-1)
}

// follows reports whether atom b comes right after atom a on l.
func (l *link) follows(a, b int) bool {
	if l.Ring {
		return b == l.first+(a-l.first+1)%l.atoms
	}
	return b == a+1
}

func (at *atoms) addSeams(k int) {
	l := at.links[k]
	for i := range l.atoms {
		if !l.Ring && i == 0 {
			continue
		}
		a, b := l.first+(i+l.atoms-1)%l.atoms, l.first+i
		at.seams = append(at.seams, seam{a, b, l.stops[i].At, l.stops[i].Hidden})
	}
	if stop := l.stops[0]; l.open[0] {
		at.seams = append(at.seams, seam{noAtom, l.first, stop.At, stop.Hidden})
	}
	if stop := l.stops[len(l.stops)-1]; l.open[1] {
		at.seams = append(at.seams, seam{l.first + l.atoms - 1, noAtom, stop.At, stop.Hidden})
	}
}

func (at *atoms) addTooLong(k int) {
	l := at.links[k]
	for i := range l.atoms {
		n := l.far[i]
		if !l.Ring && i+n >= l.atoms {
			continue
		}
		if l.Ring && n >= l.atoms {
			n = l.atoms - 1
		}
		at.tooLong = append(at.tooLong, l.run(i, n+1))
	}
}

// tooShort reports whether the stretch from the seam before atom i of a link to
// the one before atom j is one that nobody would cut by itself: shorter than
// the groove is wide. Its two steps would be one blemish, next to a free end
// there might be nothing for the bit to cut, and a split that is meant to be
// under another strand must stay there. All of a chain is never too short.
func (l *link) tooShort(i, j int) bool {
	return j-i < l.atoms && l.stopAt(j, 0).S-l.stopAt(i, 0).S < l.short
}

func (at *atoms) addTooShort(k int) {
	l := at.links[k]
	for i := range l.atoms {
		for j := i + 1; (l.Ring || j <= l.atoms) && j-i < l.atoms && l.tooShort(i, j); j++ {
			r := shortRun{before: noAtom, after: noAtom}
			for m := i; m < j; m++ {
				r.run = append(r.run, l.first+m%l.atoms)
			}
			if l.Ring || i > 0 {
				r.before = l.first + (i+l.atoms-1)%l.atoms
			}
			if l.Ring || j < l.atoms {
				r.after = l.first + j%l.atoms
			}
			at.tooShort = append(at.tooShort, r)
		}
	}
}
