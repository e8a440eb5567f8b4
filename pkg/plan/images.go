package plan

// What the motif's symmetry does to atoms and seams.

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
)

// mapImages works out what each position does to each atom. A position that
// does not take atoms to atoms is left out.
func (at *atoms) mapImages() {
	m := at.g.Motif
	for _, l := range at.links {
		for i := range l.atoms {
			at.line = append(at.line, m.Strands[l.Strand].Contour.Sub(l.stopAt(i, 0).S, l.stopAt(i+1, 0).S))
		}
	}
	mids, index := at.mids()
	at.image = nil
	var images [][]int
	for _, pos := range at.positions {
		image, _ := at.imageUnder(pos.Similarity(), mids, index)
		images = append(images, image)
	}
	at.keepGroup(images)
}

// mids are the middles of all atoms, with an index of them.
func (at *atoms) mids() ([]geom.Point, geom.Index) {
	mids := make([]geom.Point, len(at.line))
	boxes := make([]geom.Box, len(at.line))
	for i, c := range at.line {
		mids[i], _ = c.At(c.Length() / 2)
		boxes[i] = geom.Box{Min: mids[i], Max: mids[i]}
	}
	return mids, geom.NewIndex(boxes)
}

// keepGroup keeps the largest set of positions that take atoms to atoms and
// that still are a symmetry: all, or those without turning over, or every
// second, third and so on of the turns.
func (at *atoms) keepGroup(images [][]int) {
	all, turns := at.positions, at.turns()
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

// turns is the number of positions that are not turned over; they come first.
func (at *atoms) turns() int {
	if i := slices.IndexFunc(at.positions, func(p Orientation) bool { return p.Flip }); i >= 0 {
		return i
	}
	return len(at.positions)
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
	taken := make([]bool, len(mids))
	for i, p := range mids {
		if image[i] = at.atomAt(t.Apply(p), t.Contour(at.line[i]), index); image[i] == noAtom {
			return nil, false
		}
		if taken[image[i]] {
			return nil, false // two atoms on one: the motif is finer than can be distinguished
		}
		taken[image[i]] = true
	}
	return image, true
}

// atomAt is the atom that a line is, given its middle and an index of all middles; noAtom
// where it is none.
func (at *atoms) atomAt(mid geom.Point, line geom.Contour, index geom.Index) int {
	a, b := line.Start(), line.End()
	found, best := noAtom, 2*sameAtom
	index.Search(geom.Box{Min: mid, Max: mid}.Expand(sameAtom), func(k int) bool {
		d := at.line[k]
		// Atoms may be shorter than sameAtom: the best match counts.
		off := math.Min(a.Dist(d.Start())+b.Dist(d.End()), a.Dist(d.End())+b.Dist(d.Start()))
		if off < best {
			found, best = k, off
		}
		return true
	})
	return found
}

// composed is f after g.
func composed(f, g []int) []int {
	c := make([]int, len(f))
	for i := range f {
		c[i] = f[g[i]]
	}
	return c
}

// mapSeams works out what each position does to each seam: the image is between
// the images of its atoms, and of two such, on a ring of two atoms, the nearer.
func (at *atoms) mapSeams() {
	between := map[[2]int][]int{}
	for k, s := range at.seams {
		pair := [2]int{min(s.a, s.b), max(s.a, s.b)} // noAtom comes first
		between[pair] = append(between[pair], k)
	}
	for g, image := range at.image {
		t := at.positions[g].Similarity()
		row := make([]int, len(at.seams))
		for k, s := range at.seams {
			a, b := imageOf(image, s.a), imageOf(image, s.b)
			p := t.Apply(s.at)
			row[k] = slices.MinFunc(between[[2]int{min(a, b), max(a, b)}], func(i, j int) int {
				return cmp.Compare(at.seams[i].at.Dist(p), at.seams[j].at.Dist(p))
			})
		}
		at.seamImage = append(at.seamImage, row)
	}
}
