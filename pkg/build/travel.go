package build

// Does the whole way of the bit fit into the machine? It is reported at the job's
// line, and not at each of a program's.

import (
	"fmt"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/profile"
	"strapwork/pkg/program"
	"strapwork/pkg/unit"
)

// leastSafe in mm is the height under which traverse moves are not proposed: chips
// and a warped board stand as high (common practice).
const leastSafe = 2

var axisNames = [3]string{"x", "y", "z"}

// An extent is from where to where something goes along one axis, mm.
type extent struct{ lo, hi float64 }

func (e extent) size() float64 { return e.hi - e.lo }

// extents is how far the programs go, in their own coordinates: along the groove,
// round it at the edge of the cut, and to where they end.
func (g Grooving) extents(bit float64) [3]extent {
	box, lowest := program.Extents(g.Plan)
	box = box.Expand(bit / 2)
	box = g.Shift.Box(box)
	if g.Machine.Parks {
		box = box.Include(geom.Pt(g.Machine.Park[0], g.Machine.Park[1]))
	}
	return [3]extent{{box.Min.X, box.Max.X}, {box.Min.Y, box.Max.Y}, {lowest, g.Wanted.Safe}}
}

// checkTravel holds the extents against the machine's travel.
func (g Grooving) checkTravel(bit float64, found *diag.Findings) {
	m, fits := g.Machine, true
	for i, e := range g.extents(bit) {
		if !m.Known(i) || e.size() <= m.Span(i) {
			continue
		}
		fits = false
		f := found.Errorf("program.machine", ruleFeed, "the program needs %s in %s, and the machine has %s",
			unit.Len(e.size()), axisNames[i], unit.Len(m.Span(i)))
		switch most := m.Span(i) + e.lo; { // that safe may be
		case axisNames[i] != "z":
			f.Hintf("name a larger machine, which strapwork profiles lists, or turn the motif")
		case most > leastSafe:
			safe := unit.AtMost(most).Typed()
			f.Hintf("write safe = %s in [program], or name a machine with more height", safe).Propose("program.safe", safe)
		default:
			f.Hintf("name a machine with more height")
		}
	}
	if fits && g.Wanted.AtGiven {
		g.checkPlace(bit, found)
	}
}

// checkPlace holds the extents against the travel, where the program's zero lies
// in the machine.
func (g Grooving) checkPlace(bit float64, found *diag.Findings) {
	m, at := g.Machine, g.Wanted.At
	var outs, places []any
	negative := false
	for i, e := range g.extents(bit) {
		lo, hi := e.lo+at[i], e.hi+at[i]
		place := unit.Len(at[i])
		switch reach := m.Travel[i]; {
		case !m.Known(i):
		case lo < reach[0]-geom.Coincident:
			place = unit.Len(reach[0] - e.lo).Up()
		case hi > reach[1]+geom.Coincident:
			place = unit.Len(reach[1] - e.hi).Down()
		}
		if place != unit.Len(at[i]) {
			outs = append(outs, unit.Say("%s from %s to %s, where the machine has %s to %s",
				axisNames[i], unit.Len(lo).Typed(), unit.Len(hi), unit.Len(m.Travel[i][0]).Typed(), unit.Len(m.Travel[i][1])))
			negative = negative || at[i] < 0 && m.Travel[i][0] >= 0
		}
		places = append(places, place.Typed())
	}
	if len(outs) == 0 {
		return
	}
	f := found.Errorf("program.at", ruleFeed, "with its zero there the program leaves the machine's travel: %s",
		unit.Say(strings.Repeat(", %s", len(outs))[2:], outs...))
	inside := unit.Say("[%s, %s, %s]", places...)
	if negative {
		f.Hintf("where the machine's own coordinates run negative, write that in its profile: travel = %s; else move the work, to at = %s or further in",
			negativeTravel(m), inside)
	} else {
		f.Hintf("move the work, to at = %s or further in", inside)
	}
	f.Propose("program.at", inside)
}

// negativeTravel is a machine's travel as it is written where all of its
// coordinates run down from 0.
func negativeTravel(m profile.Machine) string {
	var list []string
	for i := range axisNames {
		list = append(list, fmt.Sprintf("[%g, 0]", -m.Span(i)))
	}
	return "[" + strings.Join(list, ", ") + "]"
}
