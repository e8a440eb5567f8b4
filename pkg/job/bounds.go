package job

import (
	"math"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Bounds on what a job may ask for, so that none makes the program run without
// an end or out of memory. All are far beyond what a bench makes; DEVELOPERS.md
// lists them with those of other stages.
const (
	// leastBit in mm is half the thinnest cutter that is sold for grooves (from
	// memory).
	leastBit = 0.1
	// leastRamp in degrees: flatter ones, which gain nothing, go round and round.
	leastRamp = 0.1
	// mostPasses is how often the bit may go along a groove, side by side and
	// depth by depth.
	mostPasses = 1000
	// mostLegs is how many lines and arcs a motif may have, copies included.
	mostLegs = 5000
	// mostMoves is passes times legs: a program of some hundred megabytes.
	mostMoves = 1_000_000
	// mostStrips is how many strips may lie side by side.
	mostStrips = 100
	// mostPairs is how many lines and arcs are held against one another, in all, to find
	// where elements meet or what touches them: a second or two.
	mostPairs = 250_000
	// mostListed is how many clamps, flips or names in an order there may be.
	mostListed = 1000
)

// times is how often each element is drawn.
func times(m work.Drawing) int {
	if m.Mirror {
		return 2 * m.Copies
	}
	return m.Copies
}

// boundLegs refuses a motif of too many lines and arcs.
func (r *reader) boundLegs(t conf.Section, m work.Drawing) work.Drawing {
	times := times(m)
	legs := 0
	for _, e := range m.Elements {
		legs += len(e.Contour.Edges())
	}
	if legs*times > mostLegs {
		at := t.Value
		if v := t.Get("copies"); v != nil && legs <= mostLegs {
			at = v
		}
		f := r.Faultf(at, conf.BadValue, "the motif has %s lines and arcs, copies included: more than %s", unit.Grouped(legs*times), unit.Grouped(mostLegs))
		if most := mostLegs / (legs * (times / m.Copies)); most > 0 {
			f.Hintf("draw curves as arcs and not as many short lines, or take at most %d copies", most)
		} else {
			f.Hintf("draw curves as arcs and not as many short lines, or draw fewer")
		}
		m.Elements, m.Numbers = nil, nil
	}
	return m
}

// boundPasses refuses a bit or a step so small that the groove takes too many
// passes. What was wrong by itself is NaN by now, and isn't too many.
func (r *reader) boundPasses(j *Job) {
	step, table, key := work.DepthStep(j.Router.Bit), "router", "bit"
	if p := j.Program; p != nil && p.Step > 0 {
		step, table, key = p.Step, "program", "step"
	}
	across, deep := math.Ceil(j.Inlay.Width/j.Router.Bit), math.Ceil(j.Inlay.Depth/step)
	legs := 0
	for _, e := range j.Motif.Elements {
		legs += len(e.Contour.Edges())
	}
	switch {
	case across*deep*float64(legs*times(j.Motif)) > mostMoves && across*deep <= mostPasses:
		r.Faultf(r.Find("motif"), conf.BadValue, "the groove would take %.0f passes along %s lines and arcs: more than %s moves", across*deep, unit.Grouped(legs*times(j.Motif)), unit.Grouped(mostMoves)).
			Hintf("take a wider bit, a deeper step or a shallower groove")
		return
	case !(across*deep > mostPasses):
		return
	case across > deep:
		table, key = "router", "bit"
	case j.Inlay.Depth > mostPasses:
		table, key = "inlay", "depth"
	}
	r.Faultf(r.Find(diag.Key(table+"."+key)), conf.BadValue, "the groove would take %.0f passes beside one another at %.0f depths: more than %d in all", across, deep, mostPasses).
		Hintf("take a wider bit, a deeper step or a shallower groove")
}
