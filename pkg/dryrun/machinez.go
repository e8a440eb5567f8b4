package dryrun

// G53 leads to a height in the machine's own coordinates. Where the job says how
// the program's lie in them, it is a height like any other.

import (
	"math"

	"strapwork/pkg/ngc"
	"strapwork/pkg/unit"
)

// knowHeight puts in the height of a move that the program gives in the machine's
// coordinates, or gave last so.
func (j *judge) knowHeight(m *ngc.Move) {
	if j.place.Known&ngc.AxesXY&^m.From.Known != 0 {
		j.atMachineZ = false // by another origin, or behind a line that can't be read
	}
	if j.atMachineZ && j.w.Machine.AtKnown {
		if !m.From.Has(ngc.AxisZ) {
			j.setHeight(&m.From, j.machineZ)
		}
		if !m.To.Has(ngc.AxisZ) && m.Named&ngc.AxisZ == 0 {
			j.setHeight(&m.To, j.machineZ)
		}
	}
	if m.Machine && j.w.Machine.AtKnown {
		j.setHeight(&m.To, m.MachineZ)
	}
	if m.Named&ngc.AxisZ != 0 {
		j.machineZ, j.atMachineZ = m.MachineZ, m.Machine
	}
}

// setHeight makes a machine's height a place's; beyond its travel it doesn't get.
func (j *judge) setHeight(p *ngc.Place, machineZ float64) {
	if t := j.w.Machine.Travel[2]; t[1] > t[0] {
		machineZ = math.Max(t[0], math.Min(t[1], machineZ))
	}
	p.Z = machineZ - j.w.Machine.At[2]
	p.Known |= ngc.AxisZ
}

// liftsBlind looks for a height in the machine's coordinates that nobody can know
// from one in the wood. Their upper end is as high as the machine goes.
func (j *judge) liftsBlind(m *ngc.Move) {
	if !m.Machine || m.To.Has(ngc.AxisZ) {
		return
	}
	j.heightReported = true
	t := j.w.Machine.Travel[2]
	if top := t[1] > t[0] && m.MachineZ >= t[1]-written; !top {
		j.tally.hit(m, hit{rule: unknownHeight, which: 1, value: m.MachineZ})
	}
}

func (j *judge) liftWords(g *group) say {
	text := unit.Say("goes to z %s in the machine's own coordinates; how high that is above the work isn't known", unit.Len(g.value))
	if t := j.w.Machine.Travel[2]; t[1] > t[0] {
		return say{text, unit.Say("write G53 G0 Z%s, or give the zero's place in the job: at = [x, y, z] in [program]", inwards(t[1], true).Typed())}
	}
	return say{text, plain("write G0 and a Z of the program's own, or give the zero's place in the job: at = [x, y, z] in [program]")}
}
