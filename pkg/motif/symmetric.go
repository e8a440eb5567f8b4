package motif

import (
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// mostTurns bounds the turns that a drawing is tried for: rosettes of more
// are drawn with copies to begin with.
const mostTurns = 12

// reportNearlySymmetric reports a motif that a turn moves onto itself but for
// Joint: later stages keep to Same, and would take it for one without symmetry.
func (d *drawing) reportNearlySymmetric(m Motif, j work.Drawing) {
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
			d.found.Notef(j.Elements[0].Key, "nearly-symmetric",
				"turned by 1/%d the motif matches itself only to within %s: it is treated as not symmetric", n, unit.Len(off)).
				Hintf("draw one part and write copies = %d in [motif], so that panels can be turned", n)
		}
		return
	}
}

// turned is how far c, turned by any n-th about the origin, is off itself; not ok
// where that is more than Joint. All turns are tried, since what each is off may
// add up, and a plan asks for all of them.
func (c curve) turned(n int, index geom.Index) (off float64, ok bool) {
	for k := 1; k < n; k++ {
		turn := geom.TurningFraction(k, n)
		for _, e := range c.edges {
			for _, t := range [5]float64{0, 0.31, 0.5, 0.69, 1} {
				gap, ok := c.gap(turn.Apply(e.At(t)), index)
				if !ok {
					return 0, false
				}
				off = max(off, gap)
			}
		}
	}
	return off, true
}

// gap is how far p is from c; not ok where that is more than Joint.
func (c curve) gap(p geom.Point, index geom.Index) (least float64, ok bool) {
	least = Joint
	index.Search(geom.Box{Min: p, Max: p}.Expand(Joint), func(i int) bool {
		if gap := c.edges[i].Dist(p); gap <= least {
			least, ok = gap, true
		}
		return true
	})
	return least, ok
}
