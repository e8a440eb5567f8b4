package dryrun

// Does the program fit into the machine? Where its zero lies in the machine is
// often not known; then only its size is held against the machine's.

import (
	"math"

	"strapwork/pkg/ngc"
	"strapwork/pkg/unit"
)

var axisNames = [3]string{"x", "y", "z"}

// span is how far the program has been along one axis.
type span struct {
	lo, hi float64
	any    bool
}

func (s *span) take(lo, hi float64) {
	if !s.any {
		s.lo, s.hi, s.any = lo, hi, true
	}
	s.lo, s.hi = math.Min(s.lo, lo), math.Max(s.hi, hi)
}

// travel holds a move against the machine's travel.
func (j *judge) travel(m *ngc.Move) bool {
	t := j.w.Machine.Travel
	if !m.Kind.Travels() || t == [3][2]float64{} {
		return false
	}
	if m.Machine {
		return j.machineTravel(m)
	}
	lo, hi := [3]float64{m.To.X, m.To.Y, m.To.Z}, [3]float64{m.To.X, m.To.Y, m.To.Z}
	from := [3]float64{m.From.X, m.From.Y, m.From.Z}
	for i, axis := range [3]ngc.Axes{ngc.AxisX, ngc.AxisY, ngc.AxisZ} {
		if m.From.Has(axis) {
			lo[i], hi[i] = math.Min(lo[i], from[i]), math.Max(hi[i], from[i])
		}
	}
	if m.Kind == ngc.Arc {
		box := planBox(m)
		lo[0], lo[1], hi[0], hi[1] = box.Min.X, box.Min.Y, box.Max.X, box.Max.Y
	}
	fault := false
	for i, axis := range [3]ngc.Axes{ngc.AxisX, ngc.AxisY, ngc.AxisZ} {
		if t[i][1] > t[i][0] && m.To.Has(axis) {
			fault = j.travelAxis(m, i, lo[i], hi[i]) || fault
		}
	}
	return fault
}

// ownPlaces is added to which of a travel's hit where z is the machine's own.
const ownPlaces = 2 * len(axisNames)

// machineTravel holds a height in the machine's own coordinates against its
// travel.
func (j *judge) machineTravel(m *ngc.Move) bool {
	t := j.w.Machine.Travel[2]
	switch z := m.MachineZ; {
	case t[1] <= t[0]:
		return false
	case z > t[1]+written:
		j.tally.hit(m, hit{rule: outOfTravel, which: ownPlaces + len(axisNames) + 2, amount: z - t[1], value: t[1]})
	case z < t[0]-written:
		j.tally.hit(m, hit{rule: outOfTravel, which: ownPlaces + 2, amount: t[0] - z, value: t[0]})
	default:
		return false
	}
	return true
}

func (j *judge) travelAxis(m *ngc.Move, i int, lo, hi float64) bool {
	mach := &j.w.Machine
	if !mach.AtKnown {
		s := &j.spans[i]
		before := s.hi - s.lo
		s.take(lo, hi)
		over := s.hi - s.lo - (mach.Travel[i][1] - mach.Travel[i][0])
		if over <= written || s.hi-s.lo <= before {
			return false // it fits, or is no worse than it was
		}
		j.tally.hit(m, reported(m, hit{rule: outOfTravel, which: i, amount: over, value: s.hi - s.lo}))
		return true
	}
	least, most := mach.Travel[i][0]-mach.At[i], mach.Travel[i][1]-mach.At[i]
	fault := false
	if least-lo > written {
		j.tally.hit(m, reported(m, hit{rule: outOfTravel, which: i, amount: least - lo, value: least}))
		fault = true
	}
	if hi-most > written {
		j.tally.hit(m, reported(m, hit{rule: outOfTravel, which: i + len(axisNames), amount: hi - most, value: most}))
		fault = true
	}
	return fault
}

func (j *judge) travelWords(g *group) say {
	axis := axisNames[g.which%len(axisNames)]
	mach := &j.w.Machine
	if g.which >= ownPlaces {
		return say{
			unit.Say("goes %s out of the machine's travel: in its own coordinates z ends at %s", unit.Len(g.amount), unit.Len(g.value)),
			unit.Say("write G53 G0 Z%s", inwards(g.value, g.which >= ownPlaces+len(axisNames)).Typed()),
		}
	}
	if !mach.AtKnown {
		t := mach.Travel[g.which]
		need, have := unit.Apart(g.value, t[1]-t[0])
		return say{
			unit.Say("needs %s in %s by here; the machine's travel is %s", need, axis, have),
			j.meant("turn the job on the machine, cut it in parts, or lower the clearance height"),
		}
	}
	side := "under"
	if g.which >= len(axisNames) {
		side = "over"
	}
	return say{
		unit.Say("goes %s out of the machine's travel in %s, %s %s %s", unit.Len(g.amount), axis, side, axis, unit.Len(g.value)),
		j.meant("move the work on the machine and give the zero's new place"),
	}
}

// inwards is the end of a travel, rounded to the side that is still within.
func inwards(end float64, upper bool) unit.Quantity {
	if upper {
		return unit.Len(end).Down()
	}
	return unit.Len(end).Up()
}
