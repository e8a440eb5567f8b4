package report

// What a dry run found: the same numbers for the manifest, the terminal and the
// set-up sheet.

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/dryrun"
	"strapwork/pkg/unit"
)

// dryRunJSON is a dry run's outcome. Places are the program's coordinates.
type dryRunJSON struct {
	OK         bool        `json:"ok"`                       // no fault
	Clamps     int         `json:"clamps"`                   // that it was held against
	BodyUnseen bool        `json:"spindle_unseen,omitempty"` // but not with all of the spindle's body above the bit
	Blocks     int         `json:"blocks"`
	Seconds    num         `json:"seconds"`
	Cutting    num         `json:"cutting_seconds"`
	Plunging   num         `json:"plunging_seconds"`
	Rapids     num         `json:"rapid_seconds"`
	Dwells     num         `json:"dwell_seconds"`
	Length     num         `json:"length"`       // at a feed
	RapidPath  num         `json:"rapid_length"` // in rapids
	From       *xyz        `json:"from,omitempty"`
	To         *xyz        `json:"to,omitempty"`
	GougeMax   num         `json:"gouge_max"`
	GougeAt    *xy         `json:"gouge_at,omitempty"`
	GougeLine  int         `json:"gouge_line,omitempty"`
	LeftMax    num         `json:"left_max"`
	LeftArea   num         `json:"left_area"`
	MissedArea num         `json:"missed_area"` // of it, what the bit could have reached
	Left       []leftJSON  `json:"left"`
	Section    string      `json:"section,omitempty"` // of a table, that the program was held against
	SectionBy  string      `json:"section_by,omitempty"`
	RunOns     []runOnJSON `json:"run_ons,omitempty"`

	Edges        []edgeRuns `json:"-"` // that grooves run on past
	GougeAtLeast bool       `json:"-"` // too many gouges to measure them all
	CutsNothing  bool       `json:"-"`
	Broken       bool       `json:"-"` // not all lines could be read
	Partial      bool       `json:"-"` // what is left was not looked at
	Faults       int        `json:"-"`
	Warnings     int        `json:"-"`
}

type leftJSON struct {
	At     xy   `json:"at"`
	Amount num  `json:"amount"` // how far its furthest point is from where the bit goes
	Area   num  `json:"area"`
	Chisel bool `json:"chisel"` // no bit of this size reaches it
}

// runOnJSON is how a groove runs on past an edge of a section, as the program cuts it.
type runOnJSON struct {
	Edge  string `json:"edge"`
	At    xy     `json:"at"`    // the middle of the groove, on the edge
	Far   num    `json:"far"`   // how far past the edge the program cuts
	Whole num    `json:"whole"` // and how far the groove's whole width is cut
}

func newDryRun(r dryrun.Report) dryRunJSON {
	out := dryRunJSON{
		OK: r.OK(), Clamps: r.Clamps, BodyUnseen: r.Unseen, Blocks: r.Blocks,
		Seconds: num(r.Seconds), Cutting: num(r.Cutting), Plunging: num(r.Plunging), Rapids: num(r.Rapids), Dwells: num(r.Dwells),
		Length: num(r.Length), RapidPath: num(r.RapidLength),
		GougeMax: num(r.GougeMax.Amount), LeftMax: num(r.LeftMax.Amount), LeftArea: num(r.LeftArea), MissedArea: num(r.MissedArea),
		Left:         []leftJSON{},
		GougeAtLeast: r.GougeMax.AtLeast, CutsNothing: r.Cut.Empty(), Broken: r.Broken, Partial: r.Partial,
		Faults: r.Findings.Count(diag.Error), Warnings: r.Findings.Count(diag.Warning),
	}
	if r.Extents.Min.X <= r.Extents.Max.X {
		out.From = &xyz{num(r.Extents.Min.X), num(r.Extents.Min.Y), num(r.Lowest)}
		out.To = &xyz{num(r.Extents.Max.X), num(r.Extents.Max.Y), num(r.Highest)}
	}
	if g := r.GougeMax; g.Line > 0 {
		at := toXY(g.At)
		out.GougeAt, out.GougeLine = &at, g.Line
	}
	for _, s := range r.Left {
		out.Left = append(out.Left, leftJSON{At: toXY(s.At), Amount: num(s.Amount), Area: num(s.Area), Chisel: s.Chisel})
	}
	out.Section, out.SectionBy = r.Section, r.SectionBy
	for _, o := range r.RunOns {
		out.RunOns = append(out.RunOns, runOnJSON{o.Edge, toXY(o.At), num(o.Far), num(o.Whole)})
	}
	out.Edges = newEdgeRuns(r.RunOns)
	return out
}

// edgeRuns are the run-ons past one edge.
type edgeRuns struct {
	Edge    string
	Grooves int
	Far     num // the furthest
	Whole   num // the least
}

func newEdgeRuns(all []dryrun.RunOn) (list []edgeRuns) {
	for _, o := range all {
		n := len(list)
		if n == 0 || list[n-1].Edge != o.Edge {
			list = append(list, edgeRuns{Edge: o.Edge, Whole: num(o.Whole)})
			n++
		}
		e := &list[n-1]
		e.Grooves++
		e.Far, e.Whole = max(e.Far, num(o.Far)), min(e.Whole, num(o.Whole))
	}
	return list
}

// dryRunDocument is what `dryrun --json` prints.
type dryRunDocument struct {
	Schema   int           `json:"schema"`
	Command  string        `json:"command"`
	OK       bool          `json:"ok"`
	Program  string        `json:"program"`
	Job      string        `json:"job"`
	DryRun   dryRunJSON    `json:"dry_run"`
	Findings []findingJSON `json:"findings"`
}

// DryRunJSON is the outcome of judging a program against a job, with the
// findings of both. The names' folders are left out.
func DryRunJSON(program, job string, r dryrun.Report, found diag.Findings) ([]byte, error) {
	return encode(dryRunDocument{
		Schema: schema, Command: "dryrun", OK: !found.HasErrors(), Program: jobName(program), Job: jobName(job),
		DryRun: newDryRun(r), Findings: newFindings(found),
	})
}

// DryRunText is the outcome in a few lines for a person, in the program's units,
// or in units of choice where it says none.
func DryRunText(r dryrun.Report, u unit.System) (string, error) {
	if r.HasUnits {
		u = r.Units
	}
	return printed(u, "dry run", newDryRun(r))
}
