package shop

// Does the whole way of the bit fit into the machine? It is told at the job's
// line, and not at each of a program's.

import (
	"fmt"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/profile"
	"strapwork/pkg/program"
	"strapwork/pkg/unit"
)

// leastSafe in mm is the height under which moves across are not proposed: chips
// and a warped board stand as high (common practice).
const leastSafe = 2

var axisNames = [3]string{"x", "y", "z"}

// An extent is from where to where something goes along one axis, mm.
type extent struct{ lo, hi float64 }

func (e extent) size() float64 { return e.hi - e.lo }

// extents is how far the programs go, in their own coordinates: along the groove,
// round it at the edge of the cut, and to where they end.
func (r *Result) extents() (list [3]extent) {
	g := r.Grooving
	box, lowest := program.Extents(g.Plan)
	box = box.Expand(r.Job.Router.Bit / 2)
	box = geom.Box{Min: box.Min.Add(g.Shift), Max: box.Max.Add(g.Shift)}
	if g.Machine.Parks {
		box = box.Include(geom.Pt(g.Machine.Park[0], g.Machine.Park[1]))
	}
	return [3]extent{{box.Min.X, box.Max.X}, {box.Min.Y, box.Max.Y}, {lowest, g.Wanted.Safe}}
}

// checkTravel holds the extents against the machine's travel.
func (r *Result) checkTravel() {
	m, fits := r.Grooving.Machine, true
	for i, e := range r.extents() {
		if !m.Known(i) || e.size() <= m.Span(i) {
			continue
		}
		fits = false
		f := r.Findings.Errorf(r.Job.Pos("program.machine"), ruleFeed, "the program needs %s in %s, and the machine has %s",
			unit.Len(e.size()), axisNames[i], unit.Len(m.Span(i)))
		if axisNames[i] == "z" {
			if safe := e.lo + m.Span(i); safe > leastSafe {
				f.Hintf("write safe = %s in [program], or name a machine with more height", unit.AtMost(safe).Typed()).
					Propose("program.safe", unit.AtMost(safe))
				continue
			}
			f.Hintf("name a machine with more height")
		} else {
			f.Hintf("name a larger machine, which strapwork profiles lists, or turn the motif")
		}
	}
	if fits && r.Grooving.Wanted.AtGiven {
		r.checkPlace()
	}
}

// checkPlace holds the extents against the travel, where the program's zero lies
// in the machine.
func (r *Result) checkPlace() {
	g := r.Grooving
	m, at := g.Machine, g.Wanted.At
	var outs, rooms []any
	negative := false
	for i, e := range r.extents() {
		lo, hi := e.lo+at[i], e.hi+at[i]
		if !m.Known(i) || lo >= m.Travel[i][0]-geom.Coincident && hi <= m.Travel[i][1]+geom.Coincident {
			continue
		}
		outs = append(outs, unit.Say("%s from %s to %s, where the machine has %s to %s",
			axisNames[i], unit.Len(lo).Typed(), unit.Len(hi), unit.Len(m.Travel[i][0]).Typed(), unit.Len(m.Travel[i][1])))
		rooms = append(rooms, unit.Say("%s between %s and %s",
			axisNames[i], unit.Len(m.Travel[i][0]-e.lo).Up().Typed(), unit.Len(m.Travel[i][1]-e.hi).Down().Typed()))
		negative = negative || at[i] < 0 && m.Travel[i][0] >= 0
	}
	if len(outs) == 0 {
		return
	}
	join := func(parts []any) unit.Amount { return unit.Say(strings.Repeat(", %s", len(parts))[2:], parts...) }
	f := r.Findings.Errorf(r.Job.Pos("program.at"), ruleFeed, "with its zero there the program leaves the machine's travel: %s", join(outs))
	if negative {
		f.Hintf("where the machine's own coordinates run negative, write that in its profile: travel = %s; else place the work so that at has %s",
			negativeTravel(m), join(rooms))
		return
	}
	f.Hintf("place the work so that at has %s", join(rooms))
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
