package build

import (
	"errors"
	"slices"
	"sync"

	"strapwork/pkg/aids"
	"strapwork/pkg/bend"
	"strapwork/pkg/cutlist"
	"strapwork/pkg/diag"
	"strapwork/pkg/glue"
	"strapwork/pkg/groove"
	"strapwork/pkg/heights"
	"strapwork/pkg/inlay"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/plan"
	"strapwork/pkg/profile"
	"strapwork/pkg/table"
	"strapwork/pkg/template"
	"strapwork/pkg/toolpath"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// ReadFile returns a file's content by its path as it is written in the job.
type ReadFile func(path string) ([]byte, error)

// Check is a graph's Check where nothing is asked afterwards.
func Check(file string, data []byte, readFile ReadFile, step func(what string)) Result {
	return NewGraph(readFile).Check(file, data, step)
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

// An asking is one under way, and what of it is an input of later stages.
type asking struct {
	*Graph
	Options
	job       made[*job.Job]
	motif     made[motif.Motif]
	weave     made[weave.Weave]
	groove    made[groove.Groove]
	passes    made[passes]
	set       made[template.Set]
	strips    made[inlay.Inlay]
	table     made[table.Table] // where the work comes apart, and
	sections  []made[Sectioned] // its kinds of sections, and
	bySection []made[passes]    // the passes on each
	apart     made[Apart]       // and all sections, as the strips are laid
	laid      made[motif.Motif] // what the strips are laid by: the motif, or the table's sections apart, and
	laidOver  made[weave.Weave] // their weave
	layers    []bend.Layer      // of the lay-up, with what is known of how they bend

	unplanned bool // panels aren't asked for: sharing the cuts out takes longest
	unshared  bool // nothing is asked for that is made from the groove
}

// Check takes a job as far as its panels and returns what every stage found;
// nothing is drawn or written. file is the job file's name for positions, data
// its content.
//
// An error doesn't end the run where a later stage can still report something
// true, so that all mistakes are reported in one go; what could be a mere
// consequence of an earlier error is left out.
//
// step, unless nil, is called with what comes next, for progress.
func (g *Graph) Check(file string, data []byte, step func(what string)) Result {
	return g.answer(file, func() Result {
		return g.asking(Options{Step: step}).check(file, data)
	})
}

// asking begins an asking.
func (g *Graph) asking(o Options) *asking {
	step := o.Step
	var mu sync.Mutex
	o.Step = func(what string) {
		o.goOn()
		if step == nil {
			return
		}
		mu.Lock()
		defer mu.Unlock()
		step(what)
	}
	return &asking{Graph: g, Options: o}
}

// goOn ends the asking if nobody waits for it any more.
func (o Options) goOn() {
	if o.Dropped != nil && o.Dropped() {
		panic(errDropped)
	}
}

// read reads a job and the profiles that it names.
func (a *asking) read(file string, data []byte, forProgram bool) Result {
	a.Step("reading " + file)
	r := Result{File: file, Shop: profile.Plain()}
	a.job = ask(a.Graph, "job", jobIn{file, data, forProgram, drawings(data, a.readFile)}, readJob)
	r.Job = a.job.Value
	r.Findings.Add(a.job.Found...)
	if r.Job == nil {
		return r
	}
	r.Findings.Add(r.Job.Notes...)
	r.Reached = Read
	var found diag.Findings
	if r.templates() {
		r.Shop, found = openShop(r.Job.Cutting, a.readFile)
		r.Findings.Add(found...)
		r.Findings.Add(checkKerf(r.Job.Cutting, r.Shop)...)
	}
	if r.templates() || !a.forProgram() {
		r.Paper, found = openPaper(r.Job, a.readFile)
		r.Findings.Add(found...)
	}
	r.Grooving, found = openMachine(r.Job, a.readFile)
	r.Findings.Add(found...)
	a.layers, found = openMaterials(r.Job, a.readFile)
	r.Findings.Add(found...)
	return r
}

// templates reports whether the job has templates at all.
func (r Result) templates() bool { return r.Job.Router.Guide.HasTemplates() }

// check takes a job as far as Check does.
func (a *asking) check(file string, data []byte) Result {
	r := a.read(file, data, a.forProgram())
	if r.Job == nil {
		return r
	}
	if r.templates() {
		r.Findings.Add(letters(r.Job)...)
	}
	r.judgeSeasons()
	r.Findings.Add(glue.Check(r.Job.Inlay)...)
	a.plane(&r)
	a.judgeJoints(&r)
	if !r.beyondBounds() && !a.unshared {
		a.share(&r)
	}
	return r
}

// A shared is what is made from the groove.
type shared struct {
	heights diag.Findings
	cuts    made[[]groove.Cut]
	panels  made[plan.Plan]
	forBed  diag.Findings // about panels that are planned for the shop's bed
	bar     made[aids.Pivot]
}

// share plans what is made from the groove: passes, cuts, panels and strips.
func (a *asking) share(r *Result) {
	var s shared
	together(
		func() { a.planPanels(*r, &s) },
		func() { a.planPasses(*r) },
		func() { a.layStrips(*r) },
	)
	s.heights = ask(a.Graph, "heights", heightsIn{a.heightsParams(r.Job), a.groove}, checkHeights).Found
	a.addPasses(r)
	// Heights come before anything is split up or drawn: no outline helps a
	// bit that is too short.
	r.Findings.Add(s.heights...)
	a.addPanels(r, &s)
	r.Findings.Add(r.checkStations()...)
	if r.Reached != Stretched || s.panels.Found.HasErrors() || a.unplanned {
		return
	}
	r.Inlay, r.List = a.strips.Value, cutlist.New(a.listParams(*r), a.strips.Value, a.laid.Value)
	r.Findings.Add(a.strips.Found...)
	r.moveSeasons()
	a.planStock(r)
	var bends diag.Findings
	r.Bends, bends = bend.New(BendParams(a.layers, r.List))
	r.Findings.Add(bends...)
	r.Reached = Planned
	r.Findings.Add(a.bed(*r, &s)...)
	if len(r.Set.Panels) > 0 && r.OK() {
		r.Findings.Add(ask(a.Graph, "why", whyIn{PlanParams(r.Job), r.Job.Router, a.groove, a.set}, why).Found...)
	}
	r.Findings.Add(r.checkCutter()...)
}

// heightsParams are HeightsParams; along a rail no frame holds the base up.
func (a *asking) heightsParams(j *job.Job) heights.Params {
	p := HeightsParams(j)
	if a.set.Value.Rail != nil {
		p.Template.Frame = 0
	}
	return p
}

// layStrips lays the strips, if the groove is whole.
func (a *asking) layStrips(r Result) {
	if r.Reached < Grooved {
		return
	}
	a.Step("laying the strips")
	a.strips = ask(a.Graph, "strips", inlayIn{r.inlayParams(), a.laid, a.laidOver}, makeInlay)
}

// stepStock is that step's name in progress.
const stepStock = "planning how the strips are cut from boards"

// planStock plans what the strips are cut from.
func (a *asking) planStock(r *Result) {
	a.Step(stepStock)
	s := askShown(a.Graph, "stock", StockParams(r.Job, r.List), a.goOn, a.Step, makeStock)
	r.Stock = s.Value
	r.Findings.Add(s.Found...)
}

// planPanels shares the groove out over panels, or finds the circles to swing.
func (a *asking) planPanels(r Result, s *shared) {
	g := r.Job.Router.Guide
	if g == work.GuidePivot && r.Reached >= Joined {
		a.Step("finding the circles to swing")
		s.bar = ask(a.Graph, "pivot", pivotIn{AidsParams(r.Job), a.groove}, makePivot)
	}
	if !g.HasPanels() || slices.ContainsFunc(a.groove.Found, spoilsGroove) {
		return
	}
	a.Step("splitting the grooves into cuts")
	s.cuts = ask(a.Graph, "cuts", a.groove, makeCuts)
	if r.Reached < Grooved || s.cuts.Found.HasErrors() || a.unplanned {
		return
	}
	if a.planSteps(r, s) {
		return
	}
	a.Step("sharing out the cuts over panels")
	s.panels = askUntil(a.Graph, "plan", planIn{PlanParams(r.Job), a.groove, s.cuts}, a.goOn, makePlan)
	if !s.panels.Found.HasErrors() {
		a.set = ask(a.Graph, "openings", setIn{FixtureParams(r.Job), a.groove, s.panels, r.Shop}, makeSet)
		a.forBed(r, s)
	}
}

// planPasses plans the machine's passes, if the groove is whole.
func (a *asking) planPasses(r Result) {
	if r.Reached < Grooved {
		return
	}
	a.Step("planning the machine's passes")
	a.passes = ask(a.Graph, "passes", passesIn{a.groove, r.Grooving.options(r.Job.Inlay.Depth, 0)}, makePasses)
	if r.Table != nil {
		a.planSections(r)
	}
}

// addPasses adds the machine's passes, if the groove is whole.
func (a *asking) addPasses(r *Result) {
	if r.Reached < Grooved {
		return
	}
	r.Grooving.Plan = a.passes.Value.plan
	if err := a.passes.Value.err; r.Table != nil {
		if a.addSections(r); !errors.As(err, new(*toolpath.NameError)) {
			return // else a name that nothing has
		}
	}
	r.Findings.Add(r.Grooving.judgePasses(a.passes.Value.err, r.Job, r.Job.Program == nil && r.templates())...)
}

// addPanels adds cuts and panels, or the pivot bar.
func (a *asking) addPanels(r *Result, s *shared) {
	switch g := r.Job.Router.Guide; {
	case !g.HasTemplates():
		r.reach(Stretched, true)
	case g == work.GuidePivot:
		r.Pivot = s.bar.Value
		r.Findings.Add(s.bar.Found...)
		r.reach(Stretched, !s.bar.Found.HasErrors())
	case g.HasPanels():
		if r.Reached < Grooved {
			// Where an earlier stage failed, only arcs that are too tight for the
			// rider are reported.
			for _, f := range s.cuts.Found {
				if f.Rule == ruleTightArc {
					r.Findings.Add(f)
				}
			}
			return
		}
		r.Findings.Add(s.cuts.Found...)
		r.Cuts = s.cuts.Value
		if r.reach(Stretched, !s.cuts.Found.HasErrors()); r.Reached < Stretched {
			return
		}
		r.Findings.Add(s.panels.Found...)
		if r.Set = a.set.Value; !s.panels.Found.HasErrors() {
			r.Findings.Add(a.set.Found...)
			r.Findings.Add(s.forBed...)
			r.Cuts = r.Set.Cuts()
		}
	}
}

// openShop finds the cutting profile.
func openShop(c *job.Cutting, readFile ReadFile) (profile.Shop, diag.Findings) {
	if c == nil || c.Profile == "" {
		return profile.Plain(), nil
	}
	shop, err := profile.Open(c.Profile, readFile)
	if err != nil {
		return profile.Plain(), profileFaults("cutting.profile", profile.RuleUnknown, "profile", c.Profile, err)
	}
	return shop, nil
}

// profileFaults report a profile that can't be used: of its name at the job's
// line, of what is within its file at the file's own.
func profileFaults(key diag.Key, rule, what, name string, err error) (found diag.Findings) {
	var own diag.Findings
	if !errors.As(err, &own) {
		found.Errorf(key, rule, "the %s %q cannot be read: %v", what, name, err)
		return found
	}
	for _, f := range own {
		if f.Pos == (diag.Position{}) {
			f.Key = key
		}
		found.Add(f)
	}
	return found
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
func (a *asking) plane(r *Result) {
	a.strands(r)
	a.grooves(r)
	a.laid, a.laidOver = a.motif, a.weave
	if r.Table != nil && r.Reached >= Woven {
		a.cutSections(r)
		apart := ask(a.Graph, "apart", a.table, makeApart)
		a.apart, r.Apart = apart, &apart.Value
		a.laid, a.laidOver = ask(a.Graph, "strands apart", apart, apartMotif), ask(a.Graph, "weave apart", apart, apartWeave)
	}
}

// strands joins the motif's elements.
func (a *asking) strands(r *Result) {
	a.Step("finding crossings and grooves")
	a.motif = ask(a.Graph, "motif", r.Job.Motif, motif.Build)
	r.Motif = a.motif.Value
	r.Findings.Add(a.motif.Found...)
	r.reach(Joined, !a.motif.Found.HasErrors())
}

// woven weaves the strands, and reports whether they have too many crossings for
// anything that comes after.
func (a *asking) woven(r *Result) (tooMany bool) {
	if r.Job.Table != nil {
		a.onTable(r)
		return r.beyondBounds()
	}
	whole := r.Reached == Joined
	a.weave = ask(a.Graph, "weave", weaveIn{a.motif, r.Job.Weave}, makeWeave)
	r.Weave = a.weave.Value
	found := a.weave.Found
	if len(found) == 1 && found[0].Rule == weave.RuleMany {
		r.Findings.Add(found...)
		return true
	}
	if !whole {
		// Ends that could not be joined lie on one another's strands.
		found = nil
	}
	r.Findings.Add(found...)
	r.reach(Woven, whole && !without(found, ruleFlipNothing).HasErrors())
	return false
}

// grooves weaves the strands and makes the groove.
func (a *asking) grooves(r *Result) {
	if a.woven(r) {
		return
	}
	whole := r.Reached == Woven
	a.groove = ask(a.Graph, "groove", grooveIn{GrooveSize(r.Job), a.motif, a.weave}, makeGroove)
	r.Groove = a.groove.Value
	found := a.groove.Found
	if !whole {
		found = without(found, ruleTouch)
	}
	r.Findings.Add(found...)
	r.reach(Grooved, whole && !found.HasErrors())
}

// beyondBounds reports whether there are too many crossings for any later stage.
func (r Result) beyondBounds() bool {
	return slices.ContainsFunc(r.Findings, func(f diag.Finding) bool { return f.Rule == weave.RuleMany })
}

// reach notes a stage as reached if its output is whole and the one before it
// was reached.
func (r *Result) reach(s Stage, whole bool) {
	if whole && r.Reached == s-1 {
		r.Reached = s
	}
}

// spoilsGroove reports whether f is an error after which bands or mitres are
// missing, so that cuts can't be judged.
func spoilsGroove(f diag.Finding) bool {
	return f.Severity == diag.Error && (f.Rule == ruleTightArc || f.Rule == "no-mitre")
}

func without(found diag.Findings, rule string) diag.Findings {
	return slices.DeleteFunc(slices.Clone(found), func(f diag.Finding) bool { return f.Rule == rule })
}
