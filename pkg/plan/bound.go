package plan

// Bounds that hold wherever the chains are split, and not just at the seams of
// one cutting-up: those that are given for motifs too large to be cut up finely.

import (
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
)

// atLeast returns the greater of each two bounds.
func (c count) atLeast(d count) count {
	return count{max(c.visible, d.visible), max(c.setUps, d.setUps), max(c.panels, d.panels), max(c.openings, d.openings)}
}

// sureBounds are the fewest visible splits, set-ups and panels that every plan
// has.
func sureBounds(at *atoms) count {
	k := max(1, len(greedyClique(passageClashes(at.g))))
	n := len(at.positions)
	return count{visible: surelyVisible(at), setUps: k, panels: (k + n - 1) / n}
}

// surelyVisible is the least number of visible splits, when what the rider
// reaches from a place between two seams is taken for what it reaches from the
// second of them, and an atom more: each split is counted as if it were at the
// seam before it.
func surelyVisible(at *atoms) int {
	sum := 0
	for _, l := range at.links {
		loose := l
		loose.far = make([]int, l.atoms)
		for i := range loose.far {
			j := i + 1
			if l.Ring {
				j %= l.atoms
			}
			switch {
			case j < l.atoms:
				loose.far[i] = min(l.atoms, l.far[j]+1)
			default:
				loose.far[i] = 1 // the chain's end
			}
		}
		if !l.Ring && l.far[0] >= l.atoms {
			continue // cut whole
		}
		sum += loose.leastVisible()
	}
	return sum
}

// passageClashes returns, for each passage of a strand through a crossing, the
// passages that no cut, nor two cuts of one panel, can make with it: those of
// other strands nearer than openings may be, and the other one of the crossing.
// Every passage is within some cut, or at the split where two meet and run on,
// so that passages that all clash need a set-up each.
func passageClashes(g *groove.Groove) [][]int {
	type passage struct {
		strand, crossing int
		at               geom.Point
	}
	var all []passage
	var boxes []geom.Box
	for i, visits := range g.Weave.Visits {
		s := g.Motif.Strands[i]
		for _, v := range visits {
			if !s.Contour.Closed && min(v.S, s.Length()-v.S) < g.Size.Width {
				continue // the bit may stay short of it
			}
			p, _ := s.Contour.At(v.S)
			all = append(all, passage{i, v.Crossing, p})
			boxes = append(boxes, geom.Box{Min: p, Max: p})
		}
	}
	near := make([][]int, len(all))
	apart := g.Apart()
	geom.NewIndex(boxes).Pairs(apart, func(i, j int) bool {
		a, b := all[i], all[j]
		if (a.strand != b.strand && a.at.Dist(b.at) < apart-geom.Coincident) || a.crossing == b.crossing {
			near[i], near[j] = append(near[i], j), append(near[j], i)
		}
		return true
	})
	return near
}
