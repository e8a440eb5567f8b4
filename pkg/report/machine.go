package report

import (
	"math"

	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// programJSON is how a machine grooves the board itself.
type programJSON struct {
	Machine string     `json:"machine"` // the profile's name; empty: none named
	Cutter  string     `json:"cutter"`
	Zero    string     `json:"zero"`  // "motif" or "board"
	Shift   xy         `json:"shift"` // the motif's origin in the program's coordinates
	Feed    num        `json:"feed"`  // mm/min
	Plunge  num        `json:"plunge"`
	Speed   num        `json:"speed"` // rpm
	Safe    num        `json:"safe"`
	Climb   bool       `json:"climb"`
	Rough   num        `json:"rough"`
	RampDeg num        `json:"ramp_deg"`
	Depths  []num      `json:"depths"`
	Widen   num        `json:"widen"`
	Runs    []runJSON  `json:"runs"` // in the order of cutting
	DryRun  dryRunJSON `json:"dry_run"`

	Path        string         `json:"-"` // of the program
	Page        string         `json:"-"` // of the page that plays it; "" for none
	AtBoard     bool           `json:"-"` // x 0, y 0 is the board's corner
	Least, Most xy             `json:"-"` // of the tip's places
	FeedReason  unit.Text      `json:"-"`
	StepReason  unit.Text      `json:"-"`
	SpindleWait num            `json:"-"` // s, where that is shorter from the second strand on than at the start; else 0
	Parts       []programFacts `json:"-"` // programs that cut some of the groove
	Deep        bool           `json:"-"` // of which some cut to one depth
}

// programFacts is a program that cuts some of the groove.
type programFacts struct {
	Path  string
	Floor num    // to which the groove must be cut before it; 0: it stands for itself
	After string // the programs that cut to there
}

type runJSON struct {
	Strand string `json:"strand"`
	Name   string `json:"name"`
	From   xy     `json:"from"` // in the motif's coordinates
	To     xy     `json:"to"`
	Line   int    `json:"line"` // of the program, from which it can be started

	Down, Up xy  `json:"-"` // From and To in the program's coordinates
	Passes   int `json:"-"`
}

func newProgram(r build.Result) *programJSON {
	g := r.Grooving
	if g.Run.Blocks == 0 {
		return nil
	}
	out := &programJSON{
		Machine: g.Machine.Name, Zero: "motif", Shift: toXY(geom.Point(g.Shift)),
		Feed: num(g.Feed), Plunge: num(g.Plunge), Speed: num(g.Speed), Safe: num(g.Wanted.Safe), Climb: g.Wanted.Climb,
		Rough: num(g.Wanted.Rough), RampDeg: num(g.Wanted.Ramp * 180 / math.Pi), Depths: nums(g.Plan.Depths), Widen: num(g.Wanted.Widen),
		Runs: []runJSON{}, DryRun: newDryRun(g.Run),
	}
	if g.Cutter != nil {
		out.Cutter = g.Cutter.Name
	}
	if g.Shift != (work.Shift{}) || g.Wanted.ZeroBoard {
		out.Zero = "board"
	}
	out.forTheSheet(r)
	start := map[int]int{}
	for _, s := range g.Sections {
		start[s.Strand] = s.Start
	}
	for _, run := range g.Plan.Runs {
		out.Runs = append(out.Runs, runJSON{
			Strand: r.Motif.Strands[run.Strand].ID, Name: run.Name, From: toXY(run.Start), To: toXY(run.End()), Line: start[run.Strand],
			Down: toXY(g.Shift.Point(run.Start)), Up: toXY(g.Shift.Point(run.End())), Passes: len(run.Passes),
		})
	}
	return out
}

// forTheSheet adds what isn't in the manifest.
func (out *programJSON) forTheSheet(r build.Result) {
	g := r.Grooving
	out.Path, out.AtBoard = build.GroovePath, g.Wanted.ZeroBoard
	out.Least, out.Most = toXY(g.Run.Extents.Min), toXY(g.Run.Extents.Max)
	out.FeedReason, out.StepReason = g.FeedReason(), r.StepReason()
	if g.Machine.DwellAgain < g.Machine.SpinUp {
		out.SpindleWait = num(g.Machine.DwellAgain)
	}
	written := func(path string) bool { return hasFile(r, path) }
	if written(build.PreviewPath) {
		out.Page = build.PreviewPath
	}
	for _, p := range g.Parts() {
		if written(p.Path) {
			out.Parts = append(out.Parts, programFacts{p.Path, num(p.Floor), p.After})
			out.Deep = out.Deep || p.Floor > 0
		}
	}
}
