package report

import (
	"slices"

	"strapwork/pkg/build"
	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/laying"
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

	Name      string      // the title, or else the job file's name
	SetUps    []setUpJSON // those of the plan, at whatever station they are made
	Alone     bool        // a machine does all of it, without templates
	Swung     bool        // the router swings on a bar
	Thin      bool        // the bit is as wide as the groove
	Metal     bool        // a strip is known to be of metal
	BaseKnown bool        // the job states the router's base
	Warnings  int
	ByWeight  []findingJSON // the findings, errors first, but for notes that stand at their step
	Unstated  []findingJSON // notes on what the maker is to measure
	Assumed   []findingJSON // notes on defaults

	MachineSheet bool // there is one
	Stable       bool // the top is veneered on a core that doesn't move
	Compact      bool // there are too many cuts to say all of each
	Arrows       bool // a panel carries arrows that bear set-ups' numbers
	Flipped      bool // a panel is laid turned over
	Turned       bool // one is laid at a turn that is no quarter

	partsFacts
	Track     num // width of a track, wall to wall
	Tracks    []trackFacts
	Passes    []passFacts
	Board     *boardFacts  // nil where the job has none
	Battens   *battenFacts // nil where there is a frame, or no panel
	Bar       barFacts
	Guided    bool        // there are chisel guides
	ManyLeft  bool        // too many places are left for the chisel to say all of each
	LeftAlike []leftFacts // those, alike ones together
	Splits    []splitFacts
	Broken    bool         // over and under fail to alternate somewhere
	Layers    []layerFacts // of the lay-up, equal ones together
	Stack     stackFacts
	Cut       listFacts
	Order     layFacts
	Plan      planFacts
	Bends     *bendsFacts // nil where no strip is bent
	Places    placesFacts // what stations.md says

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
		BaseKnown: r.Job.Router.BaseRadius() > 0, MachineSheet: hasProgram(r), Compact: len(r.Cuts) > mostCuts,
		Warnings: r.Findings.Count(diag.Warning), CutsPlanned: len(r.Cuts),
		partsFacts: newParts(r),
		Track:      num(2 * r.Groove.Size.Reach()), Tracks: newTracks(r), Passes: newPasses(r.Job),
		Board: newBoard(r.Job), Battens: newBattens(r), Bar: newBar(r.Pivot),
		Splits: newSplits(r), Stack: newStack(r.Job.Inlay), Layers: newLayers(r.Job.Inlay.Strips), Plan: newPlan(r.Set.Plan),
		paths: each(r.Files, func(f build.File) string { return f.Path }),
	}
	if f.SetUps = f.manifest.SetUps; r.Table != nil {
		f.SetUps = newSetUps(r)
	}
	if f.MachineSheet {
		f.paths = append(f.paths, MachinePath)
	}
	if hasStrips(r) {
		f.paths = append(f.paths, StripsPath)
	}
	if hasStations(r) {
		f.paths = append(f.paths, StationsPath)
	}
	if f.Name == "" {
		f.Name = f.Job
	}
	f.Stable = r.Job.Table != nil && r.Job.Table.Stable
	f.sortFindings()
	f.Guided = slices.ContainsFunc(f.Proof.Leftovers, func(l leftoverJSON) bool { return l.Guide != "" })
	f.Broken = slices.ContainsFunc(f.Crossings, func(x crossJSON) bool { return x.Broken })
	f.Arrows = slices.ContainsFunc(f.SetUps, func(s setUpJSON) bool { return s.Arrow })
	f.Turned = slices.ContainsFunc(f.SetUps, func(s setUpJSON) bool { return s.Edge == "" })
	f.Flipped = slices.ContainsFunc(f.SetUps, func(s setUpJSON) bool { return s.Flip })
	f.LeftAlike, f.ManyLeft = newLeftAlike(f.Proof.Leftovers), len(f.Proof.Leftovers) > mostLeft
	f.Floored = newFloored(f.Panels)
	f.Cut, f.Order = newList(r.List, r.Laid()), newOrder(laying.New(r.List, r.Laid(), together(r.Job)), r.List.Sections, together(r.Job))
	f.Order.Station = r.Job.Table != nil && r.Job.Table.ByStation
	f.Bends, f.Places = newBends(r), newPlaces(r, f.Findings)
	return f
}

// Of more cuts, or places left for the chisel, than these a sheet says only what distinguishes
// them, several side by side: a table of more rows is no longer taken in at a glance.
const (
	mostCuts = 30
	mostLeft = 12
	mostRows = 12 // of kinds of pieces: more stand on the strips' own sheet
)

// Rules of notes that stand at their step, and not among the others: on what the job doesn't
// state where things are measured; and those that say no more than the sheet does where the
// board is measured and the frame is laid.
var (
	unstatedRules   = []string{"flute-unknown", "shank-unknown", "collar-unknown", "base-unknown"}
	saidAtTheirStep = []string{"board-unknown", "frame-overhang"}
)

// hintAtItsStep is the rule of a warning whose hint the sheet follows step by step.
const hintAtItsStep = "frame-round"

// sortFindings puts each finding where it is printed.
func (f *facts) sortFindings() {
	for _, d := range f.Findings {
		switch {
		case d.weight != diag.Note:
			if d.Rule == hintAtItsStep {
				d.Hint = ""
			}
			f.ByWeight = append(f.ByWeight, d)
		case slices.Contains(unstatedRules, d.Rule):
			f.Unstated = append(f.Unstated, d)
		case d.Rule == conf.RuleAssumed:
			f.Assumed = append(f.Assumed, d)
		case !slices.Contains(saidAtTheirStep, d.Rule):
			f.ByWeight = append(f.ByWeight, d)
		}
	}
	slices.SortStableFunc(f.ByWeight, func(a, b findingJSON) int { return int(b.weight) - int(a.weight) })
}

// sheet is one of the sheets in Markdown: setup.md or machine.md.
func (f *facts) sheet(r build.Result, path string) ([]byte, error) {
	text, err := printed(r.Job.Units, path+".tmpl", f)
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
