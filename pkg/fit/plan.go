package fit

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/received"
	"strapwork/pkg/unit"
)

// Of finds what makes every groove take the lay-up. With errors among the findings either
// something isn't known, and the plan has no grooves, or a groove can't be made to fit.
func Of(p Params, c Card, ways []Way) (Plan, diag.Findings) {
	f := &fitter{Params: p, card: c}
	f.strips()
	f.grooves(ways)
	if f.found.HasErrors() {
		f.found.Sort()
		return Plan{}, f.found
	}
	f.plan.Clearance = p.Inlay.Clearance
	if len(p.Inlay.Strips) == 0 {
		f.plan.Clearance = math.Max(0, p.Inlay.Width-f.plan.Together())
	}
	if ways[0].Track == nil {
		f.anew()
	} else {
		f.byHand()
	}
	f.found.Sort()
	return f.plan, f.found
}

// least is by how much a groove may be too narrow and be left: what makers work to, and no
// more than half of the clearance, so that the strips still go in.
func (p Plan) least() float64 { return math.Min(received.Tolerance, p.Clearance/2) }

// byHand finds what is done about strips and about the walls of tracks.
func (f *fitter) byHand() {
	order := make([]int, len(f.plan.Grooves)) // by width
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(f.plan.Grooves[a].Narrow, f.plan.Grooves[b].Narrow)
	})
	filed := f.thin(order)
	if filed == len(order) && f.plan.Together() > f.plan.Grooves[order[filed-1]].Broad+rounding {
		f.tooThick(order[filed-1])
	}
	if wanted := f.plan.Wanted(); wanted < f.Bit-received.Tolerance-rounding {
		needs, slot := unit.Apart(wanted, f.Bit)
		f.card.Errorf(&f.found, f.plan.Strips[0].reading, ruleBit, "the strips and their clearance need a groove of %s, and the bit cuts a slot of %s", needs, slot).
			Hintf("take a narrower bit, or strips that are %s thicker together", unit.AtLeast(f.Bit-wanted))
	}
	for k, i := range order {
		f.repair(&f.plan.Grooves[i], k < filed)
	}
}

// thin thins the strips, if they need it, to the narrowest groove that they can be thinned
// to and that isn't narrower than the others for a fault of its own, and says how many, the
// narrowest, are left for a file.
func (f *fitter) thin(order []int) (filed int) {
	width := func(k int) float64 { return f.plan.Grooves[order[k]].Narrow }
	wanted := f.plan.Wanted()
	middle := width(len(order) / 2)
	for filed < len(order) && width(filed) < middle-outlier-rounding && width(filed) < wanted-f.plan.least()-rounding {
		filed++
	}
	for ; filed < len(order); filed++ {
		need := wanted - width(filed)
		if need <= f.plan.least()+rounding || f.thinned(need) {
			return filed
		}
	}
	return filed
}

// tooThick reports strips that no groove takes.
func (f *fitter) tooThick(widest int) {
	g := f.plan.Grooves[widest]
	together, width := unit.Apart(f.plan.Together(), g.Broad)
	f.card.Errorf(&f.found, f.plan.Strips[0].reading, ruleStrips, "the strips are %s thick together, and the widest groove, of %s, is %s", together, g.said(), width).
		Hintf("take strips that are %s thinner together, or write their thicknesses into the job and have new templates made",
			unit.AtLeast(f.plan.Wanted()-g.Narrow))
}

// repair says what is done about a track's groove; filed: it is left for a file.
func (f *fitter) repair(g *Groove, filed bool) {
	wanted := f.plan.Wanted()
	g.Off = g.Narrow - wanted
	width := unit.Len(g.Narrow)
	switch {
	case filed && -g.Off > f.plan.least()+rounding:
		g.File = roundUp(-g.Off)
		g.Remedy = File
		is, needs := unit.Apart(g.Narrow, wanted)
		if -g.Off > mostFile+rounding {
			g.Remedy, g.File = Narrow, 0
			f.card.Errorf(&f.found, g.reading, ruleNarrow, "the groove of %s is %s wide and needs to be %s, more than a file can fix", g.said(), is, needs).
				Hintf("recut the panel, its tracks %s wider", unit.AtLeast(-g.Off))
			break
		}
		f.card.Warnf(&f.found, g.reading, ruleNarrow, "the groove of %s is %s wide and needs to be %s: too narrow to thin the strips to it", g.said(), is, needs).
			Hintf("take %s off each wall of the track %s with a file and a flat block, or recut the panel", unit.Len(g.File/2), g.ID)
	case g.Off > received.MostTape+rounding:
		g.Remedy = Wide
		f.card.Errorf(&f.found, g.reading, ruleWide, "the groove of %s is %s wide, %s too wide for the strips, more than tape can fix", g.said(), width, unit.Len(g.Off)).
			Hintf("take strips that are %s thicker together, or lay a veneer of that beside them; or recut the panel", unit.Len(g.Off))
	case g.Off > received.Small+rounding:
		g.Remedy, g.Tape = Tape, tapeFor(g.Off, f.plan.least())
	}
	g.Tight = g.Narrow + g.changed() - f.plan.Thinned()
	g.Loose = g.Broad + g.changed() - f.plan.thinnest()
}

// tapeFor chooses tape that leaves the strips at least their clearance less what may be
// missing of it.
func tapeFor(off, least float64) received.Taping {
	tape := received.TapeFor(off)
	for less := step; tape.Total() > off+least+rounding && less <= received.Tolerance+rounding; less += step {
		tape = received.TapeFor(off - less)
	}
	return tape
}

// anew proposes what to write into the job where no walls make the grooves: a machine's
// program, or a pivot's bar, is as right as the measures in the job.
func (f *fitter) anew() {
	narrow, broad := math.Inf(1), 0.0
	for _, g := range f.plan.Grooves {
		narrow, broad = math.Min(narrow, g.Narrow), math.Max(broad, g.Narrow)
	}
	p := &f.plan
	off := narrow - p.Wanted()
	right := -off <= p.least()+rounding && off <= received.Tolerance+rounding
	for i := range p.Grooves {
		g := &p.Grooves[i]
		g.Off = g.Narrow - p.Wanted()
		changed := 0.0
		if !right {
			g.Remedy, changed = Anew, -off
		}
		g.Tight, g.Loose = g.Narrow+changed-p.Thinned(), g.Broad+changed-p.thinnest()
	}
	if right {
		return
	}
	p.Bit = f.Bit + narrow - f.Inlay.Width
	is, needs := unit.Apart(narrow, p.Wanted())
	f.card.Warnf(&f.found, p.Grooves[0].reading, ruleAnew, "the grooves are %s wide, and the strips with their clearance need %s", is, needs).
		Hintf("put %s into the job, and build it again", unit.List(f.asMeasured()))
}

// asMeasured is what was measured otherwise than the job has it, as it is typed.
func (f *fitter) asMeasured() (list []unit.Text) {
	for _, s := range f.plan.Strips {
		if math.Abs(s.Most-s.Planned) > rounding {
			list = append(list, unit.Say("thickness = %s for %s", unit.Len(s.Most).Typed(), s.name()))
		}
	}
	if math.Abs(f.plan.Bit-f.Bit) > rounding {
		list = append(list, unit.Say("bit = %s", unit.Len(f.plan.Bit).Typed()))
	}
	return list
}

// roundUp is a length to what calipers show, no less than it is.
func roundUp(mm float64) float64 { return math.Ceil((mm-rounding)/step) * step }
