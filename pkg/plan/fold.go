package plan

// Atoms that are one for all that is to be cut: a panel that is stepped along cuts what
// it holds at every station, so that of the places that a step takes to one another one
// is enough to be held.

import (
	"slices"

	"strapwork/pkg/sat"
)

// A fold says which atoms, and which seams, are cut as one.
type fold struct {
	atom []int // by atom, the first of those that are one with it
	seam []int // by seam
	back []int // by atom, where a position that turns the pattern end for end takes it; nil without one
}

// atomOf is the atom that stands for those that are one with it.
func (at *atoms) atomOf(a int) int {
	if at.fold == nil {
		return a
	}
	return at.fold.atom[a]
}

// seamOf is the seam that stands for those that are one with it.
func (at *atoms) seamOf(k int) int {
	if at.fold == nil {
		return k
	}
	return at.fold.seam[k]
}

// folded lists the atoms by what is to be cut.
func (at *atoms) folded() [][]int {
	var list [][]int
	place := make([]int, len(at.line))
	for a := range at.line {
		first := at.atomOf(a)
		if first == a {
			place[a] = len(list)
			list = append(list, nil)
		}
		list[place[first]] = append(list[place[first]], a)
	}
	return list
}

// alone leaves those of some atoms that nothing else is cut in place of.
func (at *atoms) alone(list []int) []int {
	if at.fold == nil {
		return list
	}
	count := make([]int, len(at.line))
	for _, first := range at.fold.atom {
		count[first]++
	}
	return slices.DeleteFunc(list, func(a int) bool { return count[at.fold.atom[a]] > 1 })
}

// balance says that of places that are one, those are cut that leave the same at both ends
// of a pattern that can be turned end for end: what cuts one end then cuts the other.
func (m *model) balance() {
	back := m.at.fold.back
	for a, b := range back {
		others := m.cutBy(b)
		for _, l := range m.cutBy(a) {
			m.Add(append([]sat.Lit{l.Not()}, others...)...)
		}
	}
}

// atEnd reports whether a seam is a link's open end.
func (s seam) atEnd() bool { return s.a == noAtom || s.b == noAtom }

// atom is one of a seam's atoms.
func (s seam) atom() int { return max(s.a, s.b) }

// ends reports whether a panel holds what is on one side of a seam only.
func (s seam) ends(held []bool) bool {
	return (s.a != noAtom && held[s.a]) != (s.b != noAtom && held[s.b])
}

// imageOf is an atom's image, or none of none.
func imageOf(image []int, a int) int {
	if a == noAtom {
		return noAtom
	}
	return image[a]
}
