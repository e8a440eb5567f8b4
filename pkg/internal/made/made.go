// Package made makes jobs for tests, up to the plan of their panels, and keeps them:
// each is read and planned once for all tests of a package. What is made is shared,
// so no test may change it.
//
// It knows nothing of what is drawn from a plan, so that the rooms that draw can use
// it in their own tests.
package made

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/plan"
	"strapwork/pkg/proof"
	"strapwork/pkg/sheet"
	"strapwork/pkg/weave"
)

// A Job is a job, its groove and the plan of its panels.
type Job struct {
	*job.Job
	Name   string // of its file, or what it is
	Groove groove.Groove
	Plan   plan.Plan
}

// Openings are the areas that the panels' openings take, panel by panel.
func (j Job) Openings() []region.Region {
	var list []region.Region
	for _, p := range j.Plan.Panels {
		for _, c := range p.Cuts {
			list = append(list, j.Groove.Opening(c))
		}
	}
	return list
}

// Positions are those of all panels.
func (j Job) Positions() []plan.Orientation {
	var list []plan.Orientation
	for _, p := range j.Plan.Panels {
		list = append(list, p.Positions...)
	}
	return list
}

// kept are the jobs that were made, by their text and how far.
var kept sync.Map

type once struct {
	sync.Once
	job Job
	err error
}

func keep(key string, make func() (Job, error)) (Job, error) {
	v, _ := kept.LoadOrStore(key, new(once))
	o := v.(*once)
	o.Do(func() { o.job, o.err = make() })
	return o.job, o.err
}

// Grooved is a job up to its groove, without a plan. Its text has neither title nor
// units, which are mm.
func Grooved(t testing.TB, text string) Job {
	t.Helper()
	return must(t)(keep("grooved "+text, func() (Job, error) { return grooved("test.toml", headed(text)) }))
}

// File is a whole job file up to its groove, if it can be made; it isn't kept.
func File(text string) (Job, bool) {
	j, err := grooved("test.toml", text)
	return j, err == nil
}

// Planned is a job up to its plan. Its text has neither title nor units, which are mm.
func Planned(t testing.TB, text string) Job {
	t.Helper()
	return must(t)(keep(text, func() (Job, error) { return planned("test.toml", headed(text), best) }))
}

// Try is Planned for what may not be a job that can be made.
func Try(text string) (Job, bool) {
	j, err := keep(text, func() (Job, error) { return planned("test.toml", headed(text), best) })
	return j, err == nil
}

func must(t testing.TB) func(Job, error) Job {
	t.Helper()
	return func(j Job, err error) Job {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return j
	}
}

func headed(text string) string { return "title = \"test\"\nunits = \"mm\"\n" + text }

func grooved(name, text string) (Job, error) {
	j, found := job.Read(name, []byte(text))
	if found.HasErrors() {
		return Job{}, found
	}
	var all diag.Findings
	m, found := motif.Build(j.Motif)
	all.Add(found...)
	if all.HasErrors() {
		return Job{}, all
	}
	w, found := weave.Build(m, j.Weave)
	all.Add(found...)
	if all.HasErrors() {
		return Job{}, all
	}
	g, found := groove.Build(groove.SizeOf(j.Inlay, j.Router, j.Template), m, w)
	all.Add(found...)
	if all.HasErrors() {
		return Job{}, all
	}
	return Job{Job: j, Name: name, Groove: g}, nil
}

// planned makes a job up to its plan, made as asked.
func planned(name, text string, how func(Job, []groove.Cut) plan.Plan) (Job, error) {
	j, err := grooved(name, text)
	if err != nil {
		return j, err
	}
	if !j.Router.Guide.HasPanels() {
		return j, fmt.Errorf("%s has no panels", name)
	}
	cuts, found := plan.Split(&j.Groove)
	if found.HasErrors() {
		return j, found
	}
	j.Plan = how(j, cuts)
	return j, nil
}

// best is the plan that the job asks for.
func best(j Job, cuts []groove.Cut) plan.Plan {
	t := j.Template
	return plan.Make(plan.Params{Turn: t.Turn, Flip: t.Flip && j.Router.Guide.TurnsOver(), Prefer: t.Prefer}, &j.Groove, cuts)
}

// long are the jobs of testdata that take seconds to plan.
var long = []string{"hall-table.toml", "rosette.toml"}

// every are the jobs of testdata that have panels, and seeded motifs: fewer of both
// with -short.
var every = sync.OnceValues(func() ([]Job, error) {
	files, err := filepath.Glob("../../testdata/jobs/*.toml") // from pkg/NAME, where its tests run
	if err != nil {
		return nil, err
	}
	var list []Job
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			return nil, err
		}
		name := filepath.Base(f)
		if testing.Short() && slices.Contains(long, name) {
			continue
		}
		if j, err := planned(name, string(data), best); err == nil {
			list = append(list, j)
		}
	}
	n, seeds := len(list), tried
	if testing.Short() {
		seeds = tried / 2
	}
	for seed := range uint64(seeds) {
		if j, err := planned(fmt.Sprintf("seed %d", seed), seeded(seed), anyhow(seed)); err == nil {
			list = append(list, j)
		}
	}
	if n < 2 || len(list)-n < seeds/3 {
		return nil, fmt.Errorf("only %d jobs and %d of %d seeded motifs can be made", n, len(list)-n, seeds)
	}
	return list, nil
})

// Every is the jobs of testdata that have panels, and seeded motifs.
func Every(t testing.TB) []Job {
	t.Helper()
	list, err := every()
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// Near fails a test where a number is further off what it is to be than a tolerance.
func Near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s is %.10g, want %.10g (tolerance %g)", what, got, want, tol)
	}
}

// Laid are the job's panels by the walls among their parts, as they were written or
// drawn, panel by panel.
func (j Job) Laid(parts []sheet.Part) []proof.Placed {
	var all []proof.Placed
	for _, p := range parts {
		if p.Ply != sheet.Wall {
			continue
		}
		if n := len(all); n == 0 || all[n-1].ID != p.Panel {
			all = append(all, proof.Placed{ID: p.Panel, Positions: j.Plan.Panels[n].Positions})
		}
		own := &all[len(all)-1]
		for _, l := range p.Sheet.Lines {
			if l.Role == sheet.Opening {
				own.Openings = append(own.Openings, l.Contour)
			}
		}
	}
	return all
}
