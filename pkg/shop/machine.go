package shop

// Grooving the board itself with a machine: what the job asks for, held against
// what the machine and the bit can do.

import (
	"errors"
	"fmt"
	"math"
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
)

// A Grooving is how a machine grooves the board. Feeds are mm a minute.
type Grooving struct {
	Wanted  job.Program // what the job says, defaults filled in
	Machine profile.Machine
	Cutter  *profile.Bit // nil when the job names none
	Feed    float64      // across
	Plunge  float64      // straight down
	Speed   float64      // of the spindle, turns a minute
	Plan    toolpath.Plan
	// Shift takes the motif's coordinates to the program's.
	Shift geom.Point
	// Run and Sections are the whole groove's program's, after Build.
	Run      dryrun.Report
	Sections []program.Section
}

// Rules of findings about a machine.
const (
	ruleFeed    = "beyond-machine" // more than the machine can do
	ruleCutter  = "bit-use"        // what a bit is asked to do is unusual
	ruleOrder   = "program-order"  // the passes can't be planned as asked
	ruleHeight  = "safe-height"    // clamps stand in the way of moves across
	planRefused = "toolpath"
)

// openMachine finds the machine and the bit that a program is for, and the
// feeds that go with them.
func (r *Result) openMachine(readFile ReadFile) {
	g := Grooving{Wanted: job.DefaultProgram(r.Job.Units), Machine: profile.PlainMachine()}
	if p := r.Job.Program; p != nil {
		g.Wanted = *p
	}
	g.Machine.Units = r.Job.Units // whoever named none thinks in the job's
	if name := g.Wanted.Machine; name != "" {
		m, err := profile.OpenMachine(name, readFile)
		if err != nil {
			r.tellProfile("program.machine", profile.RuleUnknown, "machine", name, err)
		} else {
			g.Machine = m
		}
	}
	if name := g.Wanted.Cutter; name != "" {
		b, err := profile.OpenBit(name, readFile)
		if err != nil {
			r.tellProfile("program.cutter", profile.RuleUnknown, "bit", name, err)
		} else {
			g.Cutter = &b
		}
	}
	if g.Wanted.ZeroBoard {
		g.Shift = r.Job.Board.Origin
	}
	g.Feed = r.limited("program.feed", "feed", g.Wanted.Feed, job.DefaultFeed, g.Machine.Feed[0])
	g.Plunge = r.limited("program.plunge", "plunge", g.Wanted.Plunge, job.DefaultPlunge, g.Machine.Feed[1])
	g.Speed = r.speed(g)
	r.Grooving = g
	r.checkBit()
	r.checkClamps()
}

// limited is a feed as asked for, or the usual one as far as the machine can;
// most is the machine's greatest, 0 if that isn't known.
func (r *Result) limited(key, what string, asked, usual, most float64) float64 {
	switch {
	case asked == 0 && most > 0:
		return math.Min(usual, most)
	case asked == 0:
		return usual
	case most > 0 && asked > most:
		r.Findings.Errorf(r.Job.Pos(key), ruleFeed, "a %s of %s a minute is more than the machine's %s", what, r.length(asked), r.length(most)).
			Hintf("write %s = %s", what, unit.Number(most, r.Job.Units))
	}
	return asked
}

func (r *Result) length(mm float64) string { return unit.Format(mm, r.Job.Units) }

// speed is the spindle's as asked for, or the usual one within the machine's
// range.
func (r *Result) speed(g Grooving) float64 {
	least, most := g.Machine.Spindle[0], g.Machine.Spindle[1]
	if most == 0 {
		most = math.Inf(1)
	}
	asked := g.Wanted.Speed
	if asked == 0 {
		asked = math.Max(least, math.Min(most, job.DefaultSpeed))
		if c := g.Cutter; c != nil && c.MaxSpeed > 0 {
			asked = math.Max(least, math.Min(asked, c.MaxSpeed))
		}
		return asked
	}
	if asked < least || asked > most {
		r.Findings.Errorf(r.Job.Pos("program.speed"), ruleFeed, "the machine's spindle doesn't turn at %g turns a minute", asked).
			Hintf("it has %g to %g", least, most)
	}
	return asked
}

// checkBit holds the feed and the speed against the bit's profile.
func (r *Result) checkBit() {
	g := r.Grooving
	if g.Cutter == nil {
		return
	}
	for _, remark := range g.Cutter.Check(g.Feed, g.Speed, r.Job.Router.Bit) {
		r.Findings.Warnf(r.Job.Pos("program.cutter"), ruleCutter, "%s", remark.Text).Hintf("%s", remark.Hint)
	}
}

// checkClamps warns of clamps that moves across don't clear. Whether any move
// comes near one is the dry run's to tell.
func (r *Result) checkClamps() {
	s := r.Job.Stock
	if s == nil {
		return
	}
	safe := r.Grooving.Wanted.Safe
	for _, c := range s.Clamps {
		if clear := c.Height + s.Clearance; clear > safe+geom.Coincident {
			r.Findings.Warnf(c.Pos, ruleHeight, "the clamp stands %s high, and moves across are made at %s", unit.Len(c.Height), unit.Len(safe)).
				Hintf("write safe = %s in [program], or keep the clamp where nothing passes", unit.AtLeast(clear).Typed()).
				Propose("program.safe", unit.AtLeast(clear))
		}
	}
}

// passes plans the machine's passes.
func (r *Result) passes() {
	w := r.Grooving.Wanted
	plan, err := toolpath.Make(&r.Groove, r.Grooving.options(r.Job, 0))
	var name *toolpath.NameError
	switch {
	case err == nil:
		r.Grooving.Plan = plan
		r.checkTravel()
	case errors.As(err, &name):
		hint := "known here: " + strings.Join(name.Known, ", ")
		if near := diag.Nearest(name.Name, name.Known); near != "" {
			hint = "did you mean " + near + "?"
		}
		at := 1 + slices.Index(w.OrderNames, name.Name)
		r.Findings.Errorf(r.Job.Pos(fmt.Sprintf("program.order.%d", at)), ruleOrder, "there is no element or strand %q to cut first", name.Name).Hintf("%s", hint)
	case r.Job.Program == nil:
		// Who asks for no program gets templates all the same.
		r.Findings.Warnf(r.Job.Pos("inlay"), planRefused, "no program is written for a machine: %v", err)
	default:
		r.Findings.Errorf(r.Job.Pos("program"), planRefused, "%v", err)
	}
}

// options are how the groove is cut, or recut wider by some mm.
func (g Grooving) options(j *job.Job, widen float64) toolpath.Options {
	w := g.Wanted
	o := toolpath.Options{
		Depth: j.Inlay.Depth, Climb: w.Climb, Rough: w.Rough, Ramp: w.Ramp, Step: w.Step, Widen: widen,
		Order: toolpath.Order{Rule: toolpath.Short, First: w.OrderNames},
	}
	if w.Order == job.OrderDrawn {
		o.Order.Rule = toolpath.Drawn
	}
	return o
}
