package build

import (
	"errors"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/heights"
	"strapwork/pkg/inlay"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/plan"
	"strapwork/pkg/profile"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// ReadFile returns a file's content by its path as it is written in the job.
type ReadFile func(path string) ([]byte, error)

// Check takes a job as far as its panels and returns what every stage found;
// nothing is drawn or written. file is the job file's name for positions, data
// its content; readFile is asked for a cutting profile that is given by path.
//
// An error doesn't end the run where a later stage can still tell something
// true, so that all mistakes are told in one go; what could be a mere
// consequence of an earlier error is left out.
//
// step, unless nil, is told what comes next, for progress.
func Check(file string, data []byte, readFile ReadFile, step func(what string)) Result {
	if step == nil {
		step = func(string) {}
	}
	r := check(job.Read, file, data, readFile, step)
	r.tidy()
	return r
}

// tidy puts the findings into the job's units and in the order of the job file,
// and shows the lines that something is wrong with. Notes are one line each.
func (r *Result) tidy() {
	if r.Job != nil {
		r.Findings.Locate(r.Job.Pos)
		r.Findings = r.Findings.In(r.Job.Units)
	}
	r.Findings.Sort()
	r.Findings = r.Findings.Shorten()
	for i := range r.Findings {
		f := &r.Findings[i]
		switch {
		case f.Severity == diag.Note:
			f.SetExcerpt("")
		case f.Pos.Line == 1 && f.Pos.Col == 1:
			// about what the file lacks: its first line has nothing to do with it
		case f.Excerpt == "" && f.Pos.File == r.File && r.Job != nil:
			f.SetExcerpt(r.Job.Excerpt(f.Pos.Line))
		}
	}
}

// A jobReader is job.Read or job.ReadForProgram.
type jobReader func(file string, data []byte) (*job.Job, diag.Findings)

// readJob reads a job and the profiles that it names.
func readJob(read jobReader, file string, data []byte, readFile ReadFile) Result {
	r := Result{File: file, Shop: profile.Plain()}
	var found diag.Findings
	r.Job, found = read(file, data)
	r.Findings.Add(found...)
	if r.Job == nil {
		return r
	}
	r.Findings.Add(r.Job.Notes...)
	r.Reached = Read
	if r.templates() {
		r.openShop(readFile)
		r.checkKerf()
		r.openPaper(readFile)
	}
	r.openMachine(readFile)
	return r
}

// templates reports whether the job has templates at all.
func (r *Result) templates() bool { return r.Job.Router.Guide.HasTemplates() }

func check(read jobReader, file string, data []byte, readFile ReadFile, step func(string)) Result {
	step("reading " + file)
	r := readJob(read, file, data, readFile)
	if r.Job == nil {
		return r
	}
	if r.templates() {
		r.letters()
	}
	step("finding crossings and grooves")
	r.plane()
	if !r.beyondBounds() {
		r.share(step)
	}
	return r
}

// share plans what is made from the groove: passes, cuts, panels and strips.
func (r *Result) share(step func(string)) {
	if r.Reached == Grooved {
		step("planning the machine's passes")
		r.passes()
	}
	// Heights come before anything is split up or drawn: no outline helps a
	// bit that is too short.
	r.Findings.Add(heights.Check(HeightsParams(r.Job), r.Groove)...)
	panels := false
	switch r.Job.Router.Guide {
	case work.GuideNone:
		r.reach(Stretched, true)
	case work.GuidePivot:
		r.pivot(step)
	case work.GuideBase, work.GuideBushing, work.GuideBearing:
		panels = true
		r.cuts(step)
	}
	if r.Reached == Stretched {
		if panels {
			step("sharing out the cuts over panels")
			p := plan.Make(PlanParams(r.Job), &r.Groove, r.Cuts)
			if p.Crowded {
				r.Findings.Errorf("motif", "plan-crowded", "so many cuts lie within reach of one another that they can't be shared out over panels").
					Hintf("take a smaller rider, or make the motif in parts")
				return
			}
			r.Set = template.NewSet(FixtureParams(r.Job), r.Groove, p, r.Shop)
			r.Findings.Add(r.Set.Found...)
			r.Cuts = r.Set.Cuts()
		}
		step("laying the strips")
		var found diag.Findings
		r.Inlay, found = inlay.Build(InlayParams(r.Job), r.Motif, r.Weave)
		r.Findings.Add(found...)
		r.Reached = Planned
		r.bed()
		r.whyMany()
		r.checkCutter()
	}
}

// openShop finds the cutting profile. A finding about the name is told at the
// job's line, one within a profile at the profile's.
func (r *Result) openShop(readFile ReadFile) {
	c := r.Job.Cutting
	if c == nil || c.Profile == "" {
		return
	}
	shop, err := profile.Open(c.Profile, readFile)
	if err == nil {
		r.Shop = shop
		return
	}
	r.tellProfile("cutting.profile", profile.RuleUnknown, "profile", c.Profile, err)
}

// tellProfile tells of a profile that can't be used: of its name at the job's
// line, of what is within its file at the file's own.
func (r *Result) tellProfile(key diag.Key, rule, what, name string, err error) {
	var found diag.Findings
	if !errors.As(err, &found) {
		r.Findings.Errorf(key, rule, "the %s %q cannot be read: %v", what, name, err)
		return
	}
	for _, f := range found {
		if f.Pos == (diag.Position{}) {
			f.Key = key
		}
		r.Findings.Add(f)
	}
}

// Rules of other stages' errors that Check has to know, because of what they
// leave usable.
const (
	ruleFlipNothing = "flip-nothing"  // the weave is whole but for the flip
	ruleTouch       = "grooves-touch" // follows from strands that touch or overlap
	ruleTightArc    = "arc-tight"     // true of an arc whatever else is wrong
)

// plane joins the strands, weaves them and makes the groove. Motif, Weave and
// Groove are filled in as far as can be even when there are errors.
func (r *Result) plane() {
	var found diag.Findings
	r.Motif, found = motif.Build(r.Job.Motif)
	r.Findings.Add(found...)
	r.reach(Joined, !found.HasErrors())
	r.grooves()
}

// grooves weaves the strands and makes the groove.
func (r *Result) grooves() {
	whole := r.Reached == Joined
	var found diag.Findings
	r.Weave, found = weave.Build(r.Motif, r.Job.Weave)
	if len(found) == 1 && found[0].Rule == weave.RuleMany {
		r.Findings.Add(found...)
		return
	}
	if !whole {
		// Ends that could not be joined lie on one another's strands.
		found = nil
	}
	r.Findings.Add(found...)
	whole = whole && !hasErrorsBut(found, ruleFlipNothing)
	r.reach(Woven, whole)
	r.Groove, found = groove.Build(GrooveSize(r.Job), r.Motif, r.Weave)
	if !whole {
		found = without(found, ruleTouch)
	}
	r.Findings.Add(found...)
	r.reach(Grooved, whole && !found.HasErrors())
}

// beyondBounds reports whether there are too many crossings for any later stage.
func (r *Result) beyondBounds() bool {
	return slices.ContainsFunc(r.Findings, func(f diag.Finding) bool { return f.Rule == weave.RuleMany })
}

// reach notes a stage as reached if its output is whole and the one before it
// was reached.
func (r *Result) reach(s Stage, whole bool) {
	if whole && r.Reached == s-1 {
		r.Reached = s
	}
}

// cuts splits the grooves. Where an earlier stage failed only arcs that are too
// tight for the rider are told of.
func (r *Result) cuts(step func(string)) {
	if slices.ContainsFunc(r.Findings, spoilsGroove) {
		return
	}
	step("splitting the grooves into cuts")
	cuts, found := plan.Split(&r.Groove)
	if r.Reached == Grooved {
		r.Findings.Add(found...)
		r.Cuts = cuts
		r.reach(Stretched, !found.HasErrors())
		return
	}
	for _, f := range found {
		if f.Rule == ruleTightArc {
			r.Findings.Add(f)
		}
	}
}

// spoilsGroove reports whether f is an error after which bands or mitres are
// missing, so that cuts can't be judged.
func spoilsGroove(f diag.Finding) bool {
	return f.Severity == diag.Error && (f.Rule == ruleTightArc || f.Rule == "no-mitre")
}

// bed checks that the panels fit the shop's machine, upright or on their side.
// The frame is checked where it is drawn.
func (r *Result) bed() {
	bed := geom.Pt(r.Shop.Bed[0], r.Shop.Bed[1])
	what, outlines := "panels", []geom.Contour{}
	for _, p := range r.Set.Panels {
		if p.Split != nil {
			continue // in two parts, which fit
		}
		outlines = append(outlines, p.Outline)
	}
	if len(r.Pivot.Holes) > 0 {
		what, outlines = "pivot bars", append(outlines, r.Pivot.Outline)
	}
	if bed.X <= 0 || bed.Y <= 0 || len(outlines) == 0 {
		return
	}
	fits := func(p geom.Point, bed [2]float64) bool {
		return max(p.X, p.Y) <= max(bed[0], bed[1]) && min(p.X, p.Y) <= min(bed[0], bed[1])
	}
	size := geom.Pt(0, 0)
	for _, o := range outlines {
		s := o.Bounds().Size()
		size = geom.Pt(max(size.X, s.X), max(size.Y, s.Y))
	}
	if fits(size, r.Shop.Bed) {
		return
	}
	f := r.Findings.Errorf("cutting.profile", "bed-small", "%s of %s don't fit the bed of %s", what, bySize(size), bySize(bed))
	for _, s := range profile.List() {
		if s.Cutter == r.Shop.Cutter && fits(size, s.Bed) {
			f.Hintf("profile = %q has a bed of %s; or make template.margin smaller", s.Name, bySize(geom.Pt(s.Bed[0], s.Bed[1]))).
				Propose("cutting.profile", unit.Say("%q", s.Name))
			return
		}
	}
	f.Hintf("make template.margin or the motif smaller, or find a shop with a larger bed")
}

// bySize is the size of what lies on a bench, "600 x 400 mm".
func bySize(p geom.Point) unit.Text {
	return unit.Say("%s x %s", unit.Len(p.X).Rough().Typed(), unit.Len(p.Y).Rough())
}

func without(found diag.Findings, rule string) diag.Findings {
	return slices.DeleteFunc(found, func(f diag.Finding) bool { return f.Rule == rule })
}

func hasErrorsBut(found diag.Findings, rule string) bool {
	return without(slices.Clone(found), rule).HasErrors()
}
