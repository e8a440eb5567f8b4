package plan

// Pieces of a motif that are planned by themselves, for panels that are stepped: what lies
// within one step, and both ends.

import (
	"slices"

	"strapwork/pkg/geom"
)

// A piece is some of the atoms of a motif, as atoms of their own.
type piece struct {
	*atoms
	whole  []int // by its atoms, those of the motif
	number []int // by the motif's atoms, its own; noAtom for others
}

// partImage is each atom's image, or noAtom where it doesn't come to lie on another.
func (at *atoms) partImage(t geom.Similarity, mids []geom.Point, index geom.Index) []int {
	image := make([]int, len(mids))
	for i, c := range at.line {
		image[i] = at.atomAt(t.Apply(mids[i]), t.Contour(c), index)
	}
	return image
}

// piece makes one of the atoms that are kept, in runs; open says that a run's ends within a
// chain are splits to be counted.
func (at *atoms) piece(kept []bool, open bool) *piece {
	p := &piece{atoms: &atoms{g: at.g, pause: at.pause}, number: slices.Repeat([]int{noAtom}, len(at.line))}
	for k := range at.links {
		runs := at.linkRuns(k, kept)
		if l := at.links[k]; len(runs) == 0 && kept[l.first] {
			runs = []heldRun{{k, 0, l.atoms}} // all of a ring
		}
		for _, r := range runs {
			p.links = append(p.links, at.linkOf(r, len(p.whole), open))
			for _, a := range at.atomsOf(r) {
				p.number[a] = len(p.whole)
				p.whole = append(p.whole, a)
				p.of = append(p.of, len(p.links)-1)
			}
		}
	}
	return p
}

// linkOf is a run as a link of its own, whose first atom gets a number.
func (at *atoms) linkOf(r heldRun, first int, open bool) link {
	l := &at.links[r.link]
	own := link{Chain: l.Chain, first: first, atoms: r.to - r.from, short: l.short}
	if own.atoms < l.atoms {
		own.Ring = false
		own.From, own.To = l.stopAt(r.from, 0), l.stopAt(r.to, 0)
		own.open = [2]bool{open && (l.Ring || r.from > 0), open && (l.Ring || r.to < l.atoms)}
	}
	for i := r.from; i < r.to || !own.Ring && i == r.to; i++ {
		own.stops = append(own.stops, l.stopAt(i, 0))
	}
	return own
}

// relateFolded relates atoms of which those that are one after a shift are to be cut once.
// hidden says whether a place of an atom is hidden in all that it stands for.
func (p *piece) relateFolded(next []int, by geom.Point, hidden func(atom int, at geom.Point) bool) {
	shifted := func(a int) int {
		if a == noAtom || next[p.whole[a]] == noAtom {
			return noAtom
		}
		return p.number[next[p.whole[a]]]
	}
	atom := newUnion(len(p.whole))
	for a := range p.whole {
		if b := shifted(a); b != noAtom {
			atom.join(a, b)
		}
	}
	p.fold = &fold{atom: atom.roots()}
	p.relate()
	seam := newUnion(len(p.seams))
	at := make([][]int, len(p.whole)) // by atom, its seams
	for k, s := range p.seams {
		for _, a := range [2]int{s.a, s.b} {
			if a != noAtom {
				at[a] = append(at[a], k)
			}
		}
	}
	for k, s := range p.seams {
		for _, a := range [2]int{shifted(s.a), shifted(s.b)} {
			if a == noAtom {
				continue
			}
			for _, other := range at[a] {
				if p.seams[other].at.Dist(s.at.Add(by)) < 2*sameAtom {
					seam.join(k, other)
				}
			}
		}
	}
	p.fold.seam = seam.roots()
	shown := make([]bool, len(p.seams))
	for k, s := range p.seams {
		if !hidden(p.whole[s.atom()], s.at) {
			shown[p.fold.seam[k]] = true
		}
	}
	for k := range p.seams {
		p.seams[k].hidden = !shown[p.fold.seam[k]]
	}
}

// even reports whether every position takes open ends to open ends.
func (p *piece) even() bool {
	isOpen := func(a int) int {
		l := p.links[p.of[a]]
		n := 0
		if l.open[0] && a == l.first {
			n++
		}
		if l.open[1] && a == l.first+l.atoms-1 {
			n++
		}
		return n
	}
	for _, image := range p.image {
		for a, b := range image {
			if isOpen(a) != isOpen(b) {
				return false
			}
		}
	}
	return true
}

// search is what is best for each preference. seeded begins with each chain split by itself.
func (p *piece) search(seeded bool) (all [len(aims)]outcome) {
	if p.crowded {
		return all
	}
	var found []*solution
	if seeded {
		if sol := p.seed(); sol != nil {
			found = append(found, sol)
		}
	}
	budget := 0
	s := newSearch(p.atoms, &budget, found)
	for _, prefer := range aims {
		budget = stepPatience
		all[prefer] = s.best(prefer)
	}
	return all
}

// A union joins numbers that are one.
type union []int

func newUnion(n int) union {
	u := make(union, n)
	for i := range u {
		u[i] = i
	}
	return u
}

func (u union) root(i int) int {
	for u[i] != i {
		i = u[i]
	}
	return i
}

func (u union) join(i, k int) {
	i, k = u.root(i), u.root(k)
	u[max(i, k)] = min(i, k)
}

// roots are the least numbers of what each is one with.
func (u union) roots() []int {
	list := make([]int, len(u))
	for i := range u {
		list[i] = u.root(i)
	}
	return list
}
