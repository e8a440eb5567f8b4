package job

// Elements cut where arcs that are tangent to them go on.

import (
	"math"

	"strapwork/pkg/conf"
	"strapwork/pkg/geom"
)

// A cut is where an arc goes on from an element; the rest of that end is left out.
type cut struct {
	contour int     // of the element
	s       float64 // how far along it
	before  bool    // what lies before it is kept
	by      string  // the arc
	at      *conf.Value
}

// trim leaves out what arcs have replaced.
func (r *reader) trim(d *drawn) {
	for i, c := range d.contours {
		var ends [2]*cut // at which it starts, and ends
		for k, cut := range d.cuts {
			if cut.contour != i {
				continue
			}
			end := 0
			if cut.before {
				end = 1
			}
			other := ends[end]
			if other != nil && other.by == cut.by && math.Abs(other.s-cut.s) <= joint {
				continue // it joins the element to its own reflection
			}
			if other != nil {
				r.Errorf(cut.at, ruleConflict, "tangent: %s and %s both go on from the same end of %s", other.by, cut.by, d.name).
					Hintf("draw %s in two parts, or choose other arcs by near = [x, y]", d.name)
				return
			}
			ends[end] = &d.cuts[k]
		}
		from, to := ends[0], ends[1]
		if from == nil && to == nil {
			continue
		}
		kept, ok := between(c, from, to)
		if !ok {
			one := from
			if one == nil {
				one = to
			}
			if c.Closed {
				r.Errorf(one.at, ruleConflict, "tangent: %s is closed, and %s joins it at one place only", d.name, one.by).
					Hintf("draw %s as an arc or a line with ends, or let a second arc join it where it is to end", d.name)
			} else {
				r.Errorf(one.at, ruleConflict, "tangent: nothing is left of %s between %s and %s", d.name, from.by, to.by).
					Hintf("make the radii smaller, or %s longer", d.name)
			}
			return
		}
		d.contours[i] = kept
	}
}

// between is the part of a contour from one cut to another, either of which an open one
// may lack; not ok if that is nothing.
func between(c geom.Contour, from, to *cut) (geom.Contour, bool) {
	length := c.Length()
	if c.Closed {
		if from == nil || to == nil {
			return c, false
		}
		end := to.s
		if end <= from.s {
			end += length
		}
		return c.Sub(from.s, end), true
	}
	start, end := 0.0, length
	if from != nil {
		start = from.s
	}
	if to != nil {
		end = to.s
	}
	if end-start < shortest {
		return c, false
	}
	return c.Sub(start, end), true
}
