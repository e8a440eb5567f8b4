package build

// Grooving the board itself with a machine: what the job asks for, held against
// what the machine and the bit can do.

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/dryrun"
	"strapwork/pkg/geom"
	"strapwork/pkg/job"
	"strapwork/pkg/profile"
	"strapwork/pkg/program"
	"strapwork/pkg/toolpath"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// A Grooving is how a machine grooves the board. Feeds are mm/min.
type Grooving struct {
	Wanted  job.Program // what the job says, defaults filled in
	Machine profile.Machine
	Cutter  *profile.Bit // nil when the job names none
	// Bit is the cutter, with what its profile leaves out as is usual; where none is
	// named it is the usual one that cuts the job's slot.
	Bit    profile.Bit
	Feed   float64 // across
	Plunge float64 // straight down
	Speed  float64 // of the spindle, rpm
	Step   float64 // deepest depth step, mm
	Plan   toolpath.Plan
	// Shift takes the motif's coordinates to the program's.
	Shift work.Shift
	// Run and Sections are the whole groove's program's, after Build. With a table Run is
	// what all sections' programs come to together, and Sections is empty.
	Run      dryrun.Report
	Sections []program.Section

	// BySection is how the kinds of a table's sections are grooved, in their order, each
	// in its own coordinates; a kind without a groove has an empty plan. Plan is then the
	// motif's own, which no program cuts.
	BySection []Grooving
	Piece     *Piece // of one of BySection: what it is; nil where the work doesn't come apart
}

// settings are what is settled before a program is planned.
func (g Grooving) settings() Grooving {
	g.Plan, g.Run, g.Sections, g.BySection = toolpath.Plan{}, dryrun.Report{}, nil, nil
	return g
}

// Rules of findings about a machine.
const (
	ruleFeed    = "beyond-machine" // more than the machine can do
	ruleCutter  = "bit-use"        // what a bit is asked to do is unusual
	ruleOrder   = "program-order"  // the passes can't be planned as asked
	ruleBody    = "spindle-unseen" // clamps may be met by what isn't known of the spindle
	ruleHeight  = "safe-height"    // clamps stand in the way of traverse moves
	planRefused = "toolpath"
	// ruleBlindStart is the dry run's: a first move lower than a clamp.
	ruleBlindStart = "blind-start"
)

// openMachine finds the machine and the bit that a program is for, and the
// feeds that go with them.
func openMachine(j *job.Job, readFile ReadFile) (Grooving, diag.Findings) {
	g := Grooving{Wanted: job.DefaultProgram(j.Units), Machine: profile.PlainMachine()}
	if p := j.Program; p != nil {
		g.Wanted = *p
	}
	var found diag.Findings
	g.Machine.Units = j.Units // whoever named none thinks in the job's
	if name := g.Wanted.Machine; name != "" {
		m, err := profile.OpenMachine(name, readFile)
		if err != nil {
			found.Add(profileFaults("program.machine", profile.RuleUnknown, "machine", name, err)...)
		} else {
			g.Machine = m
		}
	}
	if name := g.Wanted.Cutter; name != "" {
		b, err := profile.OpenBit(name, readFile)
		if err != nil {
			found.Add(profileFaults("program.cutter", profile.RuleUnknown, "bit", name, err)...)
		} else {
			g.Cutter = &b
		}
	}
	if g.Wanted.ZeroBoard {
		g.Shift = work.Shift(j.Board.Origin)
	}
	g.Bit = profile.Usual(j.Router.Bit)
	if g.Cutter != nil {
		g.Bit = g.Cutter.Filled()
	}
	g.setSpeed(&found)
	g.setFeeds(j, &found)
	if j.Program != nil {
		g.reportFeeds(j.Router.Bit, &found)
	}
	g.checkBit(j.Router.Bit, &found)
	checkClamps(j.Clamping, g.Wanted.Safe, &found)
	return g, found
}

// checkClamps warns of clamps that traverse moves don't clear. Whether any move
// comes near one is the dry run's to report.
func checkClamps(s *work.Clamping, safe float64, found *diag.Findings) {
	if s == nil {
		return
	}
	for _, c := range s.Clamps {
		if clear := c.Height + s.Clearance; clear > safe+geom.Coincident {
			found.Warnf(c.Key, ruleHeight, "the clamp stands %s high: traverse moves at %s don't clear it", unit.Len(c.Height), unit.Len(safe)).
				Hintf("write safe = %s in [program], or keep the clamp where nothing passes", unit.AtLeast(clear).Typed()).
				Propose("program.safe", unit.AtLeast(clear))
		}
	}
}

// checkBody warns of clamps that a part of the spindle may meet which isn't known.
// What is known of it the dry run holds against them.
func (g Grooving) checkBody(j *job.Job, found *diag.Findings) {
	if j.Clamping == nil || j.Program == nil {
		return
	}
	w := dryrun.Work{Bit: dryrun.Bit{Flute: j.Router.Flute}, Body: g.body(j.Router), Clearance: j.Clamping.Clearance}
	if g.Cutter != nil && w.Bit.Flute == 0 {
		w.Bit.Flute = g.Cutter.Flute
	}
	w.Clamps = j.Clamping.Clamps
	box, lowest := program.Extents(g.Plan)
	for _, i := range w.Unseen(box, lowest) {
		c := j.Clamping.Clamps[i]
		found.Warnf(c.Key, ruleBody, "the clamp stands %s high, and not all of what turns above the bit is known: the collet nut or the spindle may hit it", unit.Len(c.Height)).
			Hintf("measure stickout, nut and nose, and write them in [router]")
	}
}

// judgePasses says why a program's passes can't be planned, or what of them is more
// than the machine can. optional: who asks for no program gets templates all the same.
func (g Grooving) judgePasses(err error, j *job.Job, optional bool) (found diag.Findings) {
	var name *toolpath.NameError
	switch {
	case err == nil:
		g.checkTravel(j.Router.Bit, &found)
		g.checkBody(j, &found)
	case errors.As(err, &name):
		hint := "known here: " + strings.Join(name.Known, ", ")
		if near := diag.Nearest(name.Name, name.Known); near != "" {
			hint = "did you mean " + near + "?"
		}
		at := 1 + slices.Index(g.Wanted.OrderNames, name.Name)
		found.Errorf(diag.Key(fmt.Sprintf("program.order.%d", at)), ruleOrder, "there is no element or strand %q to cut first", name.Name).Hintf("%s", hint)
	case optional:
		found.Warnf("inlay", planRefused, "no program is written for a machine: %v", err)
	default:
		found.Errorf("program", planRefused, "%v", err)
	}
	return found
}

// options are how the groove is cut to its depth, or recut wider by some mm.
func (g Grooving) options(depth, widen float64) toolpath.Params {
	w := g.Wanted
	o := toolpath.Params{
		Depth: depth, Climb: w.Climb, Rough: w.Rough, Ramp: w.Ramp, Step: w.Step, Widen: widen,
		Order: toolpath.Order{Rule: toolpath.Short, First: w.OrderNames},
	}
	if w.Order == job.OrderDrawn {
		o.Order.Rule = toolpath.Drawn
	}
	return o
}
