package dryrun

// Does the bit keep away from the clamps? A clamp is a box, the bit an upright
// cylinder whose lower end follows the program's path: they are too near where
// the path, as long as it is lower than the clamp's top and the clearance, comes
// nearer to the box, seen from above, than the bit's radius and the clearance.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
)

// clamp is a clamp made ready.
type clamp struct {
	box   geom.Box
	sides [4]geom.Edge
	top   float64 // below which the tip must keep away
}

// readyClamps returns the clamps and the height above which none is in the way.
func readyClamps(w *Work) (list []clamp, top float64) {
	top = math.Inf(-1)
	for _, c := range w.Clamps {
		k := clamp{box: c.Box, top: c.Height + w.Clearance - written}
		for i := range k.sides {
			k.sides[i] = geom.Rect(c.Box).Edge(i)
		}
		list = append(list, k)
		top = math.Max(top, k.top)
	}
	return list, top
}

// keepOff is how far the middle of the bit must keep from a clamp: by the bit's
// radius or the shank's, whichever is more, and the clearance.
func (w *Work) keepOff() float64 {
	return math.Max(w.Bit.Slot, w.Bit.Shank)/2 + w.Clearance - written
}

// clampsHit holds a move's legs against the clamps.
func (j *judge) clampsHit(m *ngc.Move, ls []leg) bool {
	fault := false
	keep := j.w.keepOff()
	for _, l := range ls {
		if l.lowest() >= j.clampTop {
			continue
		}
		box := l.Bounds().Expand(keep)
		for i := range j.clamps {
			c := &j.clamps[i]
			if !box.Meets(c.box) {
				continue
			}
			if low, ok := l.below(c.top); ok {
				if d, at := c.near(low.Edge); d < keep {
					j.tally.hit(m, hit{rule: hitsClamp, which: i, at: at, hasAt: true, amount: keep - d, value: low.lowest()})
					fault = true
				}
			}
		}
	}
	return fault
}

// clampsBlind looks for moves whose way leads over a clamp at a height that isn't
// known. Of a move from nowhere in particular, its way isn't known either.
func (j *judge) clampsBlind(m *ngc.Move) bool {
	if len(j.clamps) == 0 || !across(m) || !m.From.Has(ngc.AxesXY) || !m.To.Has(ngc.AxesXY) || m.From.Has(ngc.AxisZ) && m.To.Has(ngc.AxisZ) {
		return false
	}
	level := *m
	level.From, level.To = ngc.XYZ(m.From.Point(), 0), ngc.XYZ(m.To.Point(), 0)
	fault := false
	keep := j.w.keepOff()
	for _, l := range legs(&level, nil) {
		for i := range j.clamps {
			if d, at := j.clamps[i].near(l.Edge); d < keep {
				j.tally.hit(m, hit{rule: blindClamp, which: i, at: at, hasAt: true, amount: keep - d})
				fault = true
			}
		}
	}
	return fault
}

// near is the distance of a path from the clamp seen from above, and about
// where it is least.
func (c *clamp) near(e geom.Edge) (float64, geom.Point) {
	best, at := math.Inf(1), e.A
	for _, p := range [2]geom.Point{e.A, e.B} {
		if d := c.box.Dist(p); d < best {
			best, at = d, p
		}
	}
	for _, s := range c.sides {
		if d := geom.Gap(e, s); d < best {
			best = d
			at, _ = e.Nearest(s.Mid())
		}
	}
	return best, at
}
