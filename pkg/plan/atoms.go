package plan

// Atoms: the chains cut up so finely that every plan worth having puts whole
// atoms on panels.
//
// A chain is cut where it passes another strand, where its curvature changes,
// at the images of all these places under the motif's symmetry, and evenly
// between. So the symmetry takes atoms to atoms, and a panel's turned position
// covers whole atoms too.

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
)

// A link is one chain with its stops; atom first+i lies between stops i and
// i+1. On a ring the last atom ends at the first stop, a lap on.
type link struct {
	groove.Chain
	stops []groove.Stop // in order; on a ring without the last
	first int           // the number of its first atom
	atoms int
	far   []int     // how many atoms can be cut in one go from each
	shown int       // visible splits that it needs at least
	parts int       // stretches that it can be cut in at least
	clear []float64 // how far each stop is from a crossing, once it is asked for
	short float64   // a stretch must not be shorter, unless it is all of the chain
	open  [2]bool   // its ends are places like any other, where the chain is split if an atom there is cut
}

// atoms are all atoms of a motif and what symmetry does to them.
type atoms struct {
	g         *groove.Groove
	links     []link
	of        []int          // each atom's link
	line      []geom.Contour // each atom's centre line
	positions []Orientation  // the symmetry that takes atoms to atoms
	image     [][]int        // by position and atom
	inverse   []int          // by position, the index of the position that undoes it
	seams     []seam         // between atoms that follow each other
	seamImage [][]int        // by position and seam
	clashes   [][2]int       // pairs that no panel holds together
	ties      []tie
	tooLong   [][]int    // runs that can't be cut in one go
	tooShort  []shortRun // runs too short to be cut by themselves
	row       []int      // by atom, which row of copies it is of, each a shift from the last; nil for none
	fold      *fold      // nil where each atom is to be cut for itself
	off       [][]int    // by what a panel may keep off: the atoms that it then can't hold
	crowded   bool       // clashes and ties are unknown: there would be too many
	pause     func()     // may be nil; see MakeUntil
}

// rest calls pause, if there is one.
func (at *atoms) rest() {
	if at.pause != nil {
		at.pause()
	}
}

// A tie is that a panel which holds i and j, near one another along a chain, holds k
// too, or what may be instead: round a ring there may be two ways.
type tie struct{ i, j, k, or int }

// A shortRun is a run of atoms that a panel holds only with the atom before it
// or the one after.
type shortRun struct {
	run           []int
	before, after int // noAtom at a chain's end
}

const noAtom = -1

// A seam is where one atom ends and the next of the chain begins; at a link's open end
// there is none on one side.
type seam struct {
	a, b   int // noAtom for none
	at     geom.Point
	hidden bool
}

// cutUp makes the atoms of a motif, none longer than step. sparing leaves
// chains whole that can be cut in one go.
func cutUp(g *groove.Groove, positions []Orientation, step float64, sparing bool) *atoms {
	at := &atoms{g: g, positions: positions}
	marks := at.marks()
	for i := range g.Motif.Strands {
		for _, ch := range g.Chains(i) {
			if sparing && !ch.Ring && g.Follows(g.Stretch(ch.Strand, ch.From, ch.To)) {
				at.addWhole(ch)
			} else {
				at.addLink(ch, marks[i], step)
			}
		}
	}
	at.mapImages()
	return at
}

// marks returns, for each strand, the distances at which it is cut for a
// reason that the symmetry keeps.
func (at *atoms) marks() [][]float64 {
	m, w := at.g.Motif, at.g.Weave
	own := make([][]float64, len(m.Strands))
	for i, s := range m.Strands {
		for _, v := range w.Visits[i] {
			own[i] = append(own[i], v.S)
		}
		own[i] = append(own[i], bends(s)...)
		own[i] = append(own[i], at.g.Kinks(i)...)
		if len(own[i]) == 0 && s.Contour.Closed {
			own[i] = append(own[i], 0) // a circle; those about the origin are evenly cut
		}
	}
	all := make([][]float64, len(own))
	c := newCurves(m)
	owner := edgeOwners(m)
	for i, s := range m.Strands {
		for _, d := range own[i] {
			p, _ := s.Contour.At(d)
			for _, pos := range at.positions {
				c.placesOf(pos.Similarity().Apply(p), func(k int, t float64) {
					o := owner[k]
					offs := m.Strands[o.strand].Offsets()
					all[o.strand] = append(all[o.strand], offs[o.edge]+t*(offs[o.edge+1]-offs[o.edge]))
				})
			}
		}
	}
	return all
}

// bends are the distances along s at which its curvature changes.
func bends(s motif.Strand) []float64 {
	var list []float64
	n := s.Contour.Len()
	for i := range n {
		if i == 0 && !s.Contour.Closed {
			continue
		}
		e, f := s.Contour.Edge((i+n-1)%n), s.Contour.Edge(i)
		if s.Corner[i] || math.Abs(e.Curvature()-f.Curvature()) > sameBend {
			list = append(list, s.Offsets()[i])
		}
	}
	return list
}

// sameBend is the difference in curvature, per mm, that is nothing: over a
// metre it moves a line by half a micrometre.
const sameBend = 1e-9

type edgeOwner struct{ strand, edge int }

func edgeOwners(m motif.Motif) []edgeOwner {
	var list []edgeOwner
	for i, s := range m.Strands {
		for k := range s.Contour.Len() {
			list = append(list, edgeOwner{i, k})
		}
	}
	return list
}

// placesOf calls visit with each edge that p is on, and the fraction of its
// length there.
func (c curves) placesOf(p geom.Point, visit func(edge int, t float64)) {
	c.index.Search(geom.Box{Min: p, Max: p}.Expand(2*motif.Same), func(i int) bool {
		if q, t := c.edges[i].Nearest(p); p.Near(q, 2*motif.Same) {
			visit(i, t)
		}
		return true
	})
}

// addLink cuts up one chain.
func (at *atoms) addLink(ch groove.Chain, marks []float64, step float64) {
	ds := at.within(ch, marks)
	l := link{Chain: ch, first: len(at.of), short: at.g.Size.Width}
	if ch.Ring {
		ds = append(ds, ds[0]+at.g.Motif.Strands[ch.Strand].Length())
	} else {
		ds = append(append([]float64{ch.From.S}, ds...), ch.To.S)
	}
	for i := 1; i < len(ds); i++ {
		for k, n := 0, at.parts(ch, ds[i-1], ds[i], step); k < n; k++ {
			l.stops = append(l.stops, at.stop(ch.Strand, ds[i-1]+(ds[i]-ds[i-1])*float64(k)/float64(n)))
		}
	}
	l.atoms = len(l.stops)
	if !ch.Ring {
		l.stops[0] = ch.From
		l.stops = append(l.stops, ch.To)
	}
	for range l.atoms {
		at.of = append(at.of, len(at.links))
	}
	at.links = append(at.links, l)
}

// addWhole makes one atom of a chain.
func (at *atoms) addWhole(ch groove.Chain) {
	at.of = append(at.of, len(at.links))
	at.links = append(at.links, link{Chain: ch, first: len(at.of) - 1, atoms: 1, stops: []groove.Stop{ch.From, ch.To}})
}

// within returns the marks of a strand that lie on a chain, in order: between
// its ends, or for a ring within one lap of its start.
func (at *atoms) within(ch groove.Chain, marks []float64) []float64 {
	st := at.g.Motif.Strands[ch.Strand]
	const near = 2 * motif.Same
	var ds []float64
	for _, d := range marks {
		if ch.Ring && d > ch.To.S-near {
			d = ch.From.S // the ring's end is its start
		}
		if st.Contour.Closed && !ch.Ring && d < ch.From.S {
			d += st.Length() // the chain runs on past the strand's start
		}
		if (ch.Ring && d >= ch.From.S) || (d > ch.From.S+near && d < ch.To.S-near) {
			ds = append(ds, d)
		}
	}
	slices.Sort(ds)
	return slices.CompactFunc(ds, func(a, b float64) bool { return math.Abs(a-b) < 2*near })
}

// parts is the number of atoms between two marks: an even number, so that one
// seam is half-way; on a circle about the origin that nothing crosses, such
// that every turn and turning over takes seams to seams.
func (at *atoms) parts(ch groove.Chain, a, b, step float64) int {
	n := 2 * max(1, int(math.Ceil((b-a)/(2*step))))
	if ch.Ring {
		n = max(n, 4) // fewer would follow one another on both sides
	}
	if ch.Ring && b-a > ch.To.S-ch.From.S-motif.Same && isRing(at.g.Motif.Strands[ch.Strand].Contour) {
		round := 2 * len(at.positions)
		n = round * max(1, (n+round-1)/round)
	}
	return n
}

// stop is a place at which a strand may be split.
func (at *atoms) stop(strand int, s float64) groove.Stop {
	st := at.g.Motif.Strands[strand]
	stop := at.g.SplitAt(strand, s, false)
	for _, v := range at.g.Weave.Visits[strand] {
		if along(st, v.S, s) < 4*motif.Same && v.Hides() {
			stop.Hidden = true
		}
	}
	return stop
}

// stopAt is the i-th stop of a link, laps on for a ring.
func (l *link) stopAt(i, lap int) groove.Stop {
	if l.Ring {
		n := len(l.stops)
		s := l.stops[i%n]
		s.S += float64(i/n+lap) * (l.To.S - l.From.S)
		return s
	}
	return l.stops[i]
}
