package motif

import (
	"strapwork/pkg/geom"
	"strapwork/pkg/job"
)

// mostTurns bounds the turns that a drawing is tried for: rosettes of more
// are drawn with copies to begin with.
const mostTurns = 12

// reportNearlySymmetric tells of a motif that a turn moves onto itself but for
// Joint: later stages keep to Same, and would take it for one without symmetry.
func (d *drawing) reportNearlySymmetric(m Motif, j job.Motif) {
	if len(m.Strands) == 0 || len(j.Elements) == 0 {
		return
	}
	var c curve
	c.box = geom.EmptyBox()
	for _, s := range m.Strands {
		of := newCurve(s.Contour)
		c.edges, c.boxes, c.box = append(c.edges, of.edges...), append(c.boxes, of.boxes...), c.box.Join(of.box)
	}
	index := geom.NewIndex(c.boxes)
	for n := mostTurns; n > 1; n-- {
		if d.group.turns%n == 0 {
			continue // it has that symmetry
		}
		off, ok := c.turned(n, index)
		if !ok {
			continue
		}
		if off > Same {
			d.found.Notef(j.Elements[0].Pos, "nearly-symmetric",
				"the motif falls on itself when it is turned by 1/%d, but for %s mm: it is taken as not symmetric", n, fine(off)).
				Hintf("draw one part and say copies = %d in [motif], so that panels can be turned", n)
		}
		return
	}
}

// turned is how far c, turned by 1/n about the origin, is off itself; not ok
// where that is more than Joint.
func (c curve) turned(n int, index geom.Index) (off float64, ok bool) {
	turn := geom.TurningFraction(1, n)
	for _, e := range c.edges {
		e = turn.Edge(e)
		for _, t := range [3]float64{0, 0.25, 0.5} {
			p, least := e.At(t), Joint
			hit := false
			index.Search(geom.Box{Min: p, Max: p}.Expand(Joint), func(i int) bool {
				if gap := c.edges[i].Dist(p); gap <= least {
					least, hit = gap, true
				}
				return true
			})
			if !hit {
				return 0, false
			}
			off = max(off, least)
		}
	}
	return off, true
}
