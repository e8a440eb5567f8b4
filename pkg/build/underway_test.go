package build

import (
	"os"
	"testing"

	"strapwork/pkg/dryrun"
	"strapwork/pkg/walls"
)

// resume is an asking that has come as far as a result, whoever made that.
func resume(r Result, o Options) *asking {
	a := NewGraph(os.ReadFile).asking(o)
	a.job.Value, a.motif.Value, a.weave.Value, a.groove.Value = r.Job, r.Motif, r.Weave, r.Groove
	a.passes.Value.plan, a.set.Value, a.strips.Value = r.Grooving.Plan, r.Set, r.Inlay
	return a
}

// underway takes a job as far as its profiles.
func underway(t testing.TB, name, text string) (*asking, Result) {
	t.Helper()
	a := NewGraph(os.ReadFile).asking(Options{})
	r := a.read(name, []byte(text), false)
	if r.Job == nil {
		t.Fatal(name, r.Findings)
	}
	return a, r
}

// passes plans the machine's passes.
func (r *Result) passes() {
	a := resume(*r, Options{})
	a.planPasses(*r)
	a.addPasses(r)
}

// groovesProgram writes and judges the program that cuts the whole groove.
func (r Result) groovesProgram(t testing.TB) judged {
	t.Helper()
	w := resume(r, Options{}).writer(r)
	run, found := makeProgram(w.draft(GroovePath, "groove", WholeGroove, programIn{Plan: r.Grooving.Plan, Steps: true}).In)
	if found.HasErrors() {
		t.Fatal(found)
	}
	return run
}

// work is what the whole groove's program is judged against.
func (r Result) work() dryrun.Work { return resume(r, Options{}).work(r, WholeGroove).Value.Work }

// strands are what the judge knows of the groove.
func (r Result) strands() []walls.Strand {
	in := workIn{Grooving: r.Grooving, Inlay: r.Job.Inlay}
	in.Motif.Value = r.Motif
	return in.strands(0)
}
