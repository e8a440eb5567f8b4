package report

import (
	"slices"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/wood"
	"strapwork/pkg/work"
)

// facts is all that is said of a built job, made once: the manifest is a part of it
// as it is, and the set-up sheet prints the whole through templates. Lengths are mm,
// angles degrees, areas square millimetres, places [x, y] from the motif's origin with
// y up. No sentence is made here; a finding's or a cure's comes from its stage.
//
// Fields tagged "-" in the manifest's types are for the sheet alone.
type facts struct {
	manifest

	Name     string // the title, or else the job file's name
	Alone    bool   // a machine does all of it, without templates
	Swung    bool   // the router swings on a bar
	Thin     bool   // the bit is as wide as the groove
	Metal    bool   // a strip is known to be of metal
	BaseTold bool   // the job tells of the router's base
	Warnings int
	Told     []findingJSON // the findings, errors first

	partsFacts
	Track   num // width of a track, wall to wall
	Tracks  []trackFacts
	Passes  []passFacts
	Board   *boardFacts  // nil where the job has none
	Battens *battenFacts // nil where there is a frame, or no panel
	Bar     barFacts
	Guided  bool // there are chisel guides
	Splits  []splitFacts
	Broken  bool // over and under fail to alternate somewhere
	Stack   stackFacts
	Pieces  []pieceFacts
	Stock   []stockFacts // of strip, by layer
	Plan    planFacts

	CutsPlanned int
	paths       []string // of the files that are there
}

// Has reports whether a file is among the outputs.
func (f *facts) Has(path string) bool { return slices.Contains(f.paths, path) }

// newFacts gathers what is to be said of a job that was proved and whose files are
// listed in r, but for those that are printed from these facts.
func newFacts(r build.Result) *facts {
	f := &facts{
		manifest: newManifest(r),
		Name:     r.Job.Title, Alone: !r.Job.Router.Guide.HasTemplates(), Swung: r.Job.Router.Guide == work.GuidePivot,
		Thin: r.Groove.Size.Thin(), Metal: wood.HasMetal(r.Job.Inlay.Strips),
		BaseTold: r.Job.Router.BaseRadius() > 0,
		Warnings: r.Findings.Count(diag.Warning), CutsPlanned: len(r.Cuts),
		partsFacts: newParts(r),
		Track:      num(2 * r.Groove.Size.Reach()), Tracks: newTracks(r), Passes: newPasses(r.Job),
		Board: newBoard(r.Job), Battens: newBattens(r), Bar: newBar(r.Pivot),
		Splits: newSplits(r), Stack: newStack(r.Job.Inlay), Plan: newPlan(r.Set.Plan),
		paths: each(r.Files, func(f build.File) string { return f.Path }),
	}
	if f.Name == "" {
		f.Name = f.Job
	}
	f.Told = slices.Clone(f.Findings)
	slices.SortStableFunc(f.Told, func(a, b findingJSON) int { return int(b.weight) - int(a.weight) })
	f.Guided = slices.ContainsFunc(f.Proof.Leftovers, func(l leftoverJSON) bool { return l.Guide != "" })
	f.Broken = slices.ContainsFunc(f.Crossings, func(x crossJSON) bool { return x.Broken })
	f.Pieces, f.Stock = newPieces(r.Inlay)
	return f
}

// setup is setup.md.
func (f *facts) setup(r build.Result) ([]byte, error) {
	text, err := printed(r.Job.Units, "setup.md.tmpl", f)
	return tidied(text), err
}

// each lists what f makes of the values of a list.
func each[A, B any](list []A, f func(A) B) []B {
	out := make([]B, len(list))
	for i, v := range list {
		out[i] = f(v)
	}
	return out
}
