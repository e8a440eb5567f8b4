package plan

// Atoms: the chains cut up so finely that every plan worth having puts whole
// atoms on panels.
//
// A chain is cut where it passes another strand, where its curvature changes,
// at the images of all these places under the motif's symmetry, and evenly
// between. So the symmetry takes atoms to atoms, and a panel's turned position
// covers whole atoms too.

import (
	"cmp"
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
	clear []float64 // how far each stop is from a crossing, once it is asked for
}

// atoms are all atoms of a motif and what symmetry does to them.
type atoms struct {
	g         *groove.Groove
	links     []link
	of        []int          // each atom's link
	line      []geom.Contour // each atom's centre line
	positions []Position     // the symmetry that takes atoms to atoms
	image     [][]int        // by position and atom
	inverse   []int          // by position, the index of the position that undoes it
	seams     []seam         // between atoms that follow each other
	seamImage [][]int        // by position and seam
	clashes   [][2]int       // pairs that no panel holds together
	ties      [][3]int       // i, j, k: a panel that holds i and j holds k
	tooLong   [][]int        // runs that can't be cut in one go
}

// A seam is where one atom ends and the next of the chain begins.
type seam struct {
	a, b   int
	at     geom.Point
	hidden bool
}

// cutUp makes the atoms of a motif, none longer than step. sparing leaves
// chains whole that can be cut in one go.
func cutUp(g *groove.Groove, positions []Position, step float64, sparing bool) *atoms {
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
	c.index.Search(geom.Box{Min: p, Max: p}.Expand(2*motif.Joint), func(i int) bool {
		if q, t := c.edges[i].Nearest(p); p.Near(q, 2*motif.Joint) {
			visit(i, t)
		}
		return true
	})
}

// addLink cuts up one chain.
func (at *atoms) addLink(ch groove.Chain, marks []float64, step float64) {
	ds := at.within(ch, marks)
	l := link{Chain: ch, first: len(at.of)}
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
	const near = 2 * motif.Joint
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
	if ch.Ring && b-a > ch.To.S-ch.From.S-motif.Joint && isRing(at.g.Motif.Strands[ch.Strand].Contour) {
		round := 2 * len(at.positions)
		n = round * max(1, (n+round-1)/round)
	}
	return n
}

// stop is a place at which a strand may be split.
func (at *atoms) stop(strand int, s float64) groove.Stop {
	st := at.g.Motif.Strands[strand]
	p, _ := st.Contour.At(s)
	stop := groove.Stop{Kind: groove.StopSplit, S: s, At: p}
	for _, v := range at.g.Weave.Visits[strand] {
		d := math.Abs(v.S - s)
		if st.Contour.Closed {
			d = math.Min(math.Mod(d, st.Length()), st.Length()-math.Mod(d, st.Length()))
		}
		if d < 4*motif.Joint && !v.Over {
			stop.Hidden = true
		}
	}
	return stop
}

// stopAt is the i-th stop of a link, laps on for a ring.
func (l link) stopAt(i, lap int) groove.Stop {
	if l.Ring {
		n := len(l.stops)
		s := l.stops[i%n]
		s.S += float64(i/n+lap) * (l.To.S - l.From.S)
		return s
	}
	return l.stops[i]
}

// mapImages works out what each position does to each atom. A position that
// does not take atoms to atoms is left out.
func (at *atoms) mapImages() {
	m := at.g.Motif
	for _, l := range at.links {
		for i := range l.atoms {
			at.line = append(at.line, m.Strands[l.Strand].Contour.Sub(l.stopAt(i, 0).S, l.stopAt(i+1, 0).S))
		}
	}
	mids := make([]geom.Point, len(at.line))
	boxes := make([]geom.Box, len(at.line))
	for i, c := range at.line {
		mids[i], _ = c.At(c.Length() / 2)
		boxes[i] = geom.Box{Min: mids[i], Max: mids[i]}
	}
	index := geom.NewIndex(boxes)
	at.image = nil
	var images [][]int
	for _, pos := range at.positions {
		image, _ := at.imageUnder(pos.Similarity(), mids, index)
		images = append(images, image)
	}
	at.keepGroup(images)
}

// keepGroup keeps the largest set of positions that take atoms to atoms and
// that still are a symmetry: all, or those without turning over, or every
// second, third and so on of the turns.
func (at *atoms) keepGroup(images [][]int) {
	all := at.positions
	turns := 0
	for _, p := range all {
		if !p.Flip {
			turns++
		}
	}
	for _, flips := range [2]bool{true, false} {
		for every := 1; every <= turns; every++ {
			if turns%every != 0 {
				continue
			}
			at.positions, at.image = nil, nil
			ok := true
			for i, p := range all {
				if (p.Flip && !flips) || (i%turns)%every != 0 {
					continue
				}
				ok = ok && images[i] != nil
				at.positions, at.image = append(at.positions, p), append(at.image, images[i])
			}
			if ok {
				at.inverse = inverses(at.image)
				return
			}
		}
	}
}

func inverses(image [][]int) []int {
	inverse := make([]int, len(image))
	for g := range image {
		for h := range image {
			if slices.Equal(composed(image[g], image[h]), image[0]) {
				inverse[g] = h
			}
		}
	}
	return inverse
}

// sameAtom is the distance in mm within which ends of atoms are one place: far
// under any atom's length and over what a motif's joints may be out by.
const sameAtom = 0.02

func (at *atoms) imageUnder(t geom.Similarity, mids []geom.Point, index geom.Index) ([]int, bool) {
	image := make([]int, len(mids))
	for i, c := range at.line {
		p := t.Apply(mids[i])
		a, b := t.Apply(c.Start()), t.Apply(c.End())
		image[i] = -1
		index.Search(geom.Box{Min: p, Max: p}.Expand(sameAtom), func(k int) bool {
			d := at.line[k]
			if (a.Near(d.Start(), sameAtom) && b.Near(d.End(), sameAtom)) || (a.Near(d.End(), sameAtom) && b.Near(d.Start(), sameAtom)) {
				image[i] = k
			}
			return image[i] < 0
		})
		if image[i] < 0 {
			return nil, false
		}
	}
	return image, true
}

// composed is f after g.
func composed(f, g []int) []int {
	c := make([]int, len(f))
	for i := range f {
		c[i] = f[g[i]]
	}
	return c
}

// relate finds seams, clashes, ties and runs that are too long.
func (at *atoms) relate() {
	at.reach()
	for k := range at.links {
		at.addSeams(k)
		at.addTooLong(k)
	}
	at.mapSeams()
	limit := at.g.Apart()
	shapes := make([][]geom.Edge, len(at.line))
	boxes := make([]geom.Box, len(at.line))
	for i := range at.line {
		shapes[i] = at.g.Swath(at.line[i])
		boxes[i] = geom.EmptyBox()
		for _, e := range shapes[i] {
			boxes[i] = boxes[i].Join(e.Bounds())
		}
	}
	var pairs [][2]int
	geom.NewIndex(boxes).Pairs(limit, func(i, j int) bool {
		pairs = append(pairs, [2]int{i, j})
		return true
	})
	slices.SortFunc(pairs, func(a, b [2]int) int { return cmp.Or(a[0]-b[0], a[1]-b[1]) })
	for _, p := range pairs {
		at.relatePair(p[0], p[1], shapes, limit)
	}
}

// relatePair settles what two atoms that may be near one another mean.
func (at *atoms) relatePair(i, j int, shapes [][]geom.Edge, limit float64) {
	if at.of[i] == at.of[j] {
		if from, to, ok := at.run(i, j); ok {
			// Near along the chain: both only with all that is between.
			if n := at.links[at.of[i]].atoms; to-from > 1 && groove.Nearer(shapes[i], shapes[j], limit) {
				f := at.links[at.of[i]].first
				at.ties = append(at.ties, [3]int{i, j, f + (from+1)%n}, [3]int{i, j, f + (to-1)%n})
			}
			return
		}
	}
	if groove.Nearer(shapes[i], shapes[j], limit) {
		at.clashes = append(at.clashes, [2]int{i, j})
	}
}

// run reports whether atoms i and j of one link can be cut in one go, and the
// first and the last place of that run, counted on past a ring's start.
func (at *atoms) run(i, j int) (from, to int, ok bool) {
	l := at.links[at.of[i]]
	a, b := i-l.first, j-l.first
	if l.far[a] > b-a {
		return a, b, true
	}
	if l.Ring && l.far[b] > a+l.atoms-b {
		return b, a + l.atoms, true
	}
	return 0, 0, false
}

// reach finds how many atoms can be cut in one go from each. What is known of
// an atom holds for its images, as long as the chain's direction is kept.
func (at *atoms) reach() {
	for k := range at.links {
		l := &at.links[k]
		l.far = make([]int, l.atoms)
		for i := range l.far {
			if n := at.knownFar(l, i); n > 0 {
				l.far[i] = n
				continue
			}
			n := 1
			if i > 0 {
				n = max(1, l.far[i-1]-1) // what is reached from a stop is reached from the next
			}
			for at.canExtend(l, i, n) {
				n++
			}
			l.far[i] = n
		}
	}
}

func (at *atoms) canExtend(l *link, i, n int) bool {
	if n >= l.atoms || (!l.Ring && i+n >= l.atoms) {
		return false
	}
	return at.g.Reaches(l.Chain, l.stopAt(i, 0), l.stopAt(i+n+1, 0))
}

// knownFar is the reach of an image of atom i of l that has been found before;
// 0 if there is none.
func (at *atoms) knownFar(l *link, i int) int {
	a := l.first + i
	for _, image := range at.image[1:] {
		b := image[a]
		if m := at.links[at.of[b]]; b < a && m.far != nil && at.follows(m, b, image[at.next(l, i)]) {
			return m.far[b-m.first]
		}
	}
	return 0
}

// next is the atom after atom i of l; before it at a chain's end, so that the
// pair tells no direction.
func (at *atoms) next(l *link, i int) int {
	if l.Ring {
		return l.first + (i+1)%l.atoms
	}
	return l.first + min(i+1, l.atoms-1)
}

// follows reports whether atom b comes right after atom a on l.
func (at *atoms) follows(l link, a, b int) bool {
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
}

// mapSeams works out what each position does to each seam: the image is between
// the images of its atoms, and of two such, on a ring of two atoms, the nearer.
func (at *atoms) mapSeams() {
	between := map[[2]int][]int{}
	for k, s := range at.seams {
		pair := [2]int{min(s.a, s.b), max(s.a, s.b)}
		between[pair] = append(between[pair], k)
	}
	for g, image := range at.image {
		t := at.positions[g].Similarity()
		row := make([]int, len(at.seams))
		for k, s := range at.seams {
			a, b := image[s.a], image[s.b]
			p := t.Apply(s.at)
			row[k] = slices.MinFunc(between[[2]int{min(a, b), max(a, b)}], func(i, j int) int {
				return cmp.Compare(at.seams[i].at.Dist(p), at.seams[j].at.Dist(p))
			})
		}
		at.seamImage = append(at.seamImage, row)
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
		run := make([]int, n+1)
		for m := range run {
			run[m] = l.first + (i+m)%l.atoms
		}
		at.tooLong = append(at.tooLong, run)
	}
}
