package dryrun

// Does the program fit into the machine? Where its zero lies in the machine is
// often not known; then only its size is held against the machine's.

import (
	"fmt"
	"math"

	"strapwork/pkg/ngc"
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
	if !m.Kind.Travels() || t == [3]float64{} {
		return false
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
		if t[i] > 0 && m.To.Has(axis) {
			fault = j.travelAxis(m, i, lo[i], hi[i]) || fault
		}
	}
	return fault
}

func (j *judge) travelAxis(m *ngc.Move, i int, lo, hi float64) bool {
	mach := &j.w.Machine
	if !mach.AtKnown {
		s := &j.spans[i]
		before := s.hi - s.lo
		s.take(lo, hi)
		over := s.hi - s.lo - mach.Travel[i]
		if over <= written || s.hi-s.lo <= before {
			return false // it fits, or is no worse than it was
		}
		j.tally.hit(m, told(m, hit{rule: outOfTravel, which: i, amount: over, value: s.hi - s.lo}))
		return true
	}
	least, most := -mach.At[i], mach.Travel[i]-mach.At[i]
	if i == 2 {
		least, most = -mach.Travel[i]-mach.At[i], -mach.At[i]
	}
	fault := false
	if least-lo > written {
		j.tally.hit(m, told(m, hit{rule: outOfTravel, which: i, amount: least - lo, value: least}))
		fault = true
	}
	if hi-most > written {
		j.tally.hit(m, told(m, hit{rule: outOfTravel, which: i + len(axisNames), amount: hi - most, value: most}))
		fault = true
	}
	return fault
}

func (j *judge) travelWords(g *group) (text, hint string) {
	axis := axisNames[g.which%len(axisNames)]
	mach := &j.w.Machine
	if !mach.AtKnown {
		return fmt.Sprintf("needs %s mm in %s by here, %s mm more than the machine's travel of %s mm",
				mm(g.value), axis, mm(g.amount), mm(mach.Travel[g.which])),
			"turn the job on the machine, cut it in parts, or lower the height for moving across" + j.scaleHint()
	}
	side := "under"
	if g.which >= len(axisNames) {
		side = "over"
	}
	return fmt.Sprintf("goes %s mm out of the machine's travel in %s, %s %s %s mm", mm(g.amount), axis, side, axis, mm(g.value)),
		"move the work on the machine and give the zero's new place" + j.scaleHint()
}

func (j *judge) speedWords(g *group) (text, hint string) {
	limits := j.w.Machine.Spindle
	switch {
	case g.which == 1:
		return fmt.Sprintf("cuts at %s turns a minute, where the spindle does %s at most", mm(g.value), mm(limits[1])), "write a lower S"
	case limits[0] > 0:
		return fmt.Sprintf("cuts at %s turns a minute, where the spindle does %s at least", mm(g.value), mm(limits[0])), "write a higher S"
	}
	return "cuts with a spindle speed that isn't known", "write S with M3"
}
