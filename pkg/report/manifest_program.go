package report

import (
	"math"

	"strapwork/pkg/build"
	"strapwork/pkg/geom"
)

// programJSON is how a machine grooves the board itself.
type programJSON struct {
	Machine string     `json:"machine"` // the profile's name; empty: none named
	Cutter  string     `json:"cutter"`
	Zero    string     `json:"zero"`  // "motif" or "board"
	Shift   xy         `json:"shift"` // the motif's origin in the program's coordinates
	Feed    num        `json:"feed"`  // mm a minute
	Plunge  num        `json:"plunge"`
	Speed   num        `json:"speed"` // turns a minute
	Safe    num        `json:"safe"`
	Climb   bool       `json:"climb"`
	Rough   num        `json:"rough"`
	RampDeg num        `json:"ramp_deg"`
	Depths  []num      `json:"depths"`
	Widen   num        `json:"widen"`
	Runs    []runJSON  `json:"runs"` // in the order of cutting
	DryRun  dryRunJSON `json:"dry_run"`
}

type runJSON struct {
	Strand string `json:"strand"`
	Name   string `json:"name"`
	From   xy     `json:"from"` // in the motif's coordinates
	To     xy     `json:"to"`
	Line   int    `json:"line"` // of the program, from which it can be started
}

func newProgram(r build.Result) *programJSON {
	g := r.Grooving
	if g.Run.Blocks == 0 {
		return nil
	}
	out := &programJSON{
		Machine: g.Machine.Name, Zero: "motif", Shift: toXY(g.Shift),
		Feed: num(g.Feed), Plunge: num(g.Plunge), Speed: num(g.Speed), Safe: num(g.Wanted.Safe), Climb: g.Wanted.Climb,
		Rough: num(g.Wanted.Rough), RampDeg: num(g.Wanted.Ramp * 180 / math.Pi), Depths: nums(g.Plan.Depths), Widen: num(g.Wanted.Widen),
		Runs: []runJSON{}, DryRun: newDryRun(g.Run),
	}
	if g.Cutter != nil {
		out.Cutter = g.Cutter.Name
	}
	if g.Shift != (geom.Point{}) || g.Wanted.ZeroBoard {
		out.Zero = "board"
	}
	start := map[int]int{}
	for _, s := range g.Sections {
		start[s.Strand] = s.Start
	}
	for _, run := range g.Plan.Runs {
		out.Runs = append(out.Runs, runJSON{Strand: r.Motif.Strands[run.Strand].ID, Name: run.Name, From: toXY(run.Start), To: toXY(run.End()), Line: start[run.Strand]})
	}
	return out
}
