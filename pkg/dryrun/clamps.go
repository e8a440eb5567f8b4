package dryrun

// Do the bit and what turns above it keep away from the clamps? A clamp is a box
// that stands on the work; bit, collet nut and spindle nose are upright cylinders
// without an end upwards, whose lower ends follow the program's path at their
// height above the tip. One is too near where the path, as long as the cylinder's
// end is lower than the clamp's top and the clearance, comes nearer to the box,
// seen from above, than its radius and the clearance.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
	"strapwork/pkg/unit"
)

// clamp is a clamp made ready.
type clamp struct {
	box    geom.Box
	sides  [4]geom.Edge
	height float64
	top    float64 // below which the tip must keep away
}

// readyClamps returns the clamps and the height above which none is in the way.
func readyClamps(w *Work) (list []clamp, top float64) {
	top = math.Inf(-1)
	for _, c := range w.Clamps {
		k := clamp{box: c.Box, height: c.Height, top: c.Height + w.Clearance - written}
		for i := range k.sides {
			k.sides[i] = geom.Rect(c.Box).Edge(i)
		}
		list = append(list, k)
		top = math.Max(top, math.Max(k.top, k.height+2*surface))
	}
	return list, top
}

// turning is one of the cylinders that turn.
type turning struct {
	name string
	up   float64 // of its lower end above the tip
	keep float64 // of its axis from a clamp
}

// mostParts is how many there are: the bit, the nut and the nose.
const mostParts = 3

// parts are the cylinders that are known, the lowest first.
func (w *Work) parts() []turning {
	list := []turning{{"the bit", 0, w.keepOff()}}
	b := w.Body
	if b.Stickout <= 0 {
		return list
	}
	if b.NutDiameter > 0 {
		list = append(list, turning{"the collet nut", b.Stickout, b.NutDiameter/2 + w.Clearance - written})
	}
	if b.NoseDiameter > 0 {
		list = append(list, turning{"the spindle's nose", b.Stickout + b.NutLength, b.NoseDiameter/2 + w.Clearance - written})
	}
	return list
}

// widestNose in mm is about as wide as spindles for wood are (common practice): of
// what isn't known, no more than that is thought of.
const widestNose = 125

// Unseen lists the clamps that a part of the spindle which isn't known may meet,
// when the tip moves within a box and is lowest at a height. Flutes are never in a
// collet: it is at least as high above the tip as they are long.
func (w *Work) Unseen(box geom.Box, lowest float64) []int {
	if w.Body.Known() {
		return nil
	}
	var list []int
	up := math.Max(w.Body.Stickout, w.Bit.Flute)
	for i, c := range w.Clamps {
		if c.Height+w.Clearance > lowest+up && c.Box.Expand(widestNose/2+w.Clearance).Meets(box) {
			list = append(list, i)
		}
	}
	return list
}

// keepOff is how far the middle of the bit must keep from a clamp: by the bit's
// radius or the shank's, whichever is more, and the clearance.
func (w *Work) keepOff() float64 {
	return math.Max(w.Bit.Slot, w.Bit.ShankDiameter)/2 + w.Clearance - written
}

// clampsHit holds a move's legs against the clamps. Of what hits one the lowest
// part is reported.
func (j *judge) clampsHit(m *ngc.Move, ls []leg) bool {
	fault := false
	for _, l := range ls {
		if l.lowest() >= j.clampTop {
			continue
		}
		box := l.Bounds().Expand(j.widest)
		for i := range j.clamps {
			if box.Meets(j.clamps[i].box) {
				fault = j.clampHit(m, l, i) || fault
			}
		}
	}
	return fault
}

func (j *judge) clampHit(m *ngc.Move, l leg, i int) bool {
	c := &j.clamps[i]
	for k, p := range j.parts {
		top := c.top - p.up
		if k == 0 && m.Kind == ngc.Rapid && across(m) {
			top = math.Max(top, c.height+2*surface) // at its very top too
		}
		low, ok := l.below(top)
		if !ok {
			continue
		}
		if d, at := c.near(low.Edge); d < p.keep {
			j.tally.hit(m, hit{rule: hitsClamp, which: i*mostParts + k, at: at, hasAt: true, amount: p.keep - d, value: low.lowest()})
			return true
		}
	}
	return false
}

func (j *judge) clampWords(g *group) say {
	i, p := g.which/mostParts, j.parts[g.which%mostParts]
	c := j.w.Clamps[i]
	text := unit.Say("%s is %s too close to clamp %d at %s, with the tip at z %s (the clamp is %s high)",
		p.name, unit.Len(g.amount), i+1, place(g.at), unit.Len(g.value), unit.Len(c.Height))
	if g.value <= surface {
		return say{text, j.meant("move the clamp out of the bit's path")}
	}
	return say{text, j.meant("pass at Z%s or higher, or move the clamp", unit.AtLeast(c.Height+j.w.Clearance-p.up).Typed())}
}

// blindStart looks at the first move from an unknown place: its path isn't known
// either, and it is lower than a clamp's top. Once is enough.
func (j *judge) blindStart(m *ngc.Move) {
	if j.startSeen || len(j.clamps) == 0 || m.From.Has(ngc.AxesXY) || !m.To.Has(ngc.AxisZ) {
		return
	}
	low := m.To.Z
	if m.From.Has(ngc.AxisZ) {
		low = math.Min(low, m.From.Z)
	}
	tallest := 0
	for i := range j.clamps {
		if j.clamps[i].top > j.clamps[tallest].top {
			tallest = i
		}
	}
	if j.startSeen = low < j.clamps[tallest].top; j.startSeen {
		j.tally.hit(m, hit{rule: blindStart, which: tallest, amount: j.clamps[tallest].height + j.w.Clearance, value: low})
	}
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
