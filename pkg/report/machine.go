package report

import (
	"math"
	"slices"

	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
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
	// Sections are the programs of a table's sections; Runs is then empty, and DryRun is of
	// all, each as often as it is run.
	Sections []sectionProgram `json:"sections,omitempty"`

	Path        string         `json:"-"` // of the program
	Page        string         `json:"-"` // of the page that plays it; "" for none
	AtBoard     bool           `json:"-"` // x 0, y 0 is the board's corner
	Least, Most xy             `json:"-"` // of the tip's places
	FeedReason  unit.Text      `json:"-"`
	StepReason  unit.Text      `json:"-"`
	SpindleWait num            `json:"-"` // s, where that is shorter from the second strand on than at the start; else 0
	Parts       []programFacts `json:"-"` // programs that cut some of the groove
	Deep        bool           `json:"-"` // of which some cut to one depth
	Saw         num            `json:"-"` // of a table: what sections grooved together would lose at every joint
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
	if r.Table == nil {
		out.Runs = newRuns(g, r.Motif)
	}
	for _, own := range g.BySection {
		if len(own.Sections) > 0 {
			out.Sections = append(out.Sections, newSectionProgram(own, r.Sectioned[own.Piece.Kind].Motif, r.Job))
		}
	}
	return out
}

// newRuns are the strands in the order of cutting.
func newRuns(g build.Grooving, m motif.Motif) (list []runJSON) {
	start := map[int]int{}
	for _, s := range g.Sections {
		start[s.Strand] = s.Start
	}
	for _, run := range g.Plan.Runs {
		list = append(list, runJSON{
			Strand: m.Strands[run.Strand].ID, Name: run.Name, From: toXY(run.Start), To: toXY(run.End()), Line: start[run.Strand],
			Down: toXY(g.Shift.Point(run.Start)), Up: toXY(g.Shift.Point(run.End())), Passes: len(run.Passes),
		})
	}
	return list
}

// sectionProgram is the program of a kind of section. Shift, From and To are in the
// section's coordinates.
type sectionProgram struct {
	Section string     `json:"section"`
	Count   int        `json:"count"` // sections that it is run on
	Path    string     `json:"path"`
	Shift   xy         `json:"shift"` // the section's front left corner in the program's coordinates
	Edges   []edgeJSON `json:"edges"` // that grooves run on past
	Runs    []runJSON  `json:"runs"`
	DryRun  dryRunJSON `json:"dry_run"`

	Scrap [2]edgeJSON `json:"-"` // Edges by side; without a name where none is crossed
	Zero  xy          `json:"-"` // x 0, y 0, from the section's front left corner
	Least xy          `json:"-"` // of the tip's places
	Most  xy          `json:"-"`
}

// edgeJSON is how far grooves run on past a section's edge.
type edgeJSON struct {
	Edge  string `json:"edge"`
	RunOn num    `json:"run_on"` // square to the edge, to the rim of the bit
	Scrap num    `json:"scrap"`  // the least width of the scrap to be clamped there
}

func newSectionProgram(g build.Grooving, m motif.Motif, j *job.Job) sectionProgram {
	p := g.Piece
	out := sectionProgram{
		Section: p.Name, Count: p.Count, Path: build.SectionProgramPath(p.Name), Shift: toXY(geom.Point(g.Shift)), Edges: []edgeJSON{},
		Runs: newRuns(g, m), DryRun: newDryRun(g.Run), Zero: toXY(geom.Point(g.Shift).Scale(-1)),
		Least: toXY(g.Run.Extents.Min), Most: toXY(g.Run.Extents.Max),
	}
	for side, past := range p.Past(g.Plan) {
		if past > 0 {
			out.Scrap[side] = edgeJSON{work.Side(side).String(), num(past), num(build.Scrap(past, j.Units))}
			out.Edges = append(out.Edges, out.Scrap[side])
		}
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
	if r.Table != nil {
		out.Saw = num(r.Job.Table.Saw + r.Job.Table.Gap)
	}
	written := func(path string) bool { return hasFile(r, path) }
	if written(build.PreviewPath) {
		out.Page = build.PreviewPath
	}
	for _, own := range append(slices.Clone(g.BySection), g) {
		for _, p := range own.Parts() {
			if written(p.Path) {
				out.Parts = append(out.Parts, programFacts{p.Path, num(p.Floor), p.After})
				out.Deep = out.Deep || p.Floor > 0
			}
		}
	}
}

// hasProgram reports whether a program of the whole groove, or of a section's, was written.
func hasProgram(r build.Result) bool {
	return slices.ContainsFunc(r.Files, func(f build.File) bool {
		return f.Kind == build.Program && (f.Role == "groove" || f.Role == "section")
	})
}
