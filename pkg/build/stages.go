package build

// The stages as nodes of the graph: what each takes, and the function that makes of
// it what the next ones take.

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"

	"strapwork/pkg/aids"
	"strapwork/pkg/diag"
	"strapwork/pkg/drawing/from"
	"strapwork/pkg/fixture"
	"strapwork/pkg/groove"
	"strapwork/pkg/heights"
	"strapwork/pkg/inlay"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/plan"
	"strapwork/pkg/profile"
	"strapwork/pkg/stock"
	"strapwork/pkg/template"
	"strapwork/pkg/toolpath"
	"strapwork/pkg/trace"
	"strapwork/pkg/unit"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

type jobIn struct {
	File       string
	Data       []byte
	ForProgram bool
	Drawings   []drawingIn
}

// A drawingIn is a drawing that the job names, as it is at this asking.
type drawingIn struct {
	Path  string
	Data  []byte
	Fault string // why it can't be read; empty if it was
}

// drawings reads the drawings that a job names.
func drawings(data []byte, readFile ReadFile) (all []drawingIn) {
	for _, path := range job.Drawings(data) {
		d := drawingIn{Path: path}
		var err error
		if d.Data, err = readFile(path); err != nil {
			d.Data, d.Fault = nil, err.Error()
		}
		all = append(all, d)
	}
	return all
}

// trace traces what was read.
func (in jobIn) trace(path string, p work.Tracing) (job.Traced, diag.Findings, error) {
	for _, d := range in.Drawings {
		switch {
		case d.Path != path:
		case d.Fault != "":
			return job.Traced{}, nil, errors.New(d.Fault)
		default:
			made, found := traceFile(path, d.Data, p)
			return made, found, nil
		}
	}
	return job.Traced{}, nil, fs.ErrNotExist
}

// traceFile traces a drawing for a job.
func traceFile(path string, data []byte, p work.Tracing) (job.Traced, diag.Findings) {
	sum := sha256.Sum256(data)
	out := job.Traced{SHA256: hex.EncodeToString(sum[:])}
	read, found := from.File(path, data)
	if found.HasErrors() {
		return out, found
	}
	made, more := trace.Trace(read, p)
	for k := range made.Copies {
		for _, e := range made.Elements {
			out.Contours = append(out.Contours, made.Turned(e.Contour, k))
		}
	}
	out.Over = made.Over
	return out, append(found, more...)
}

func readJob(in jobIn) (*job.Job, diag.Findings) {
	if in.ForProgram {
		return job.ReadForProgram(in.File, in.Data, in.trace)
	}
	return job.ReadWith(in.File, in.Data, in.trace)
}

type weaveIn struct {
	Motif made[motif.Motif]
	Weave work.Weaving
}

func makeWeave(in weaveIn) (weave.Weave, diag.Findings) { return weave.Build(in.Motif.Value, in.Weave) }

type grooveIn struct {
	Size  groove.Size
	Motif made[motif.Motif]
	Weave made[weave.Weave]
}

func makeGroove(in grooveIn) (groove.Groove, diag.Findings) {
	return groove.Build(in.Size, in.Motif.Value, in.Weave.Value)
}

type passesIn struct {
	Groove  made[groove.Groove]
	Options toolpath.Params
}

// Passes are a program's, or why there are none.
type passes struct {
	plan toolpath.Plan
	err  error
}

func makePasses(in passesIn) (p passes, _ diag.Findings) {
	p.plan, p.err = toolpath.Make(&in.Groove.Value, in.Options)
	return p, nil
}

type heightsIn struct {
	Params heights.Params
	Groove made[groove.Groove]
}

func checkHeights(in heightsIn) (struct{}, diag.Findings) {
	return struct{}{}, heights.Check(in.Params, in.Groove.Value)
}

type pivotIn struct {
	Params aids.Params
	Groove made[groove.Groove]
}

func makePivot(in pivotIn) (aids.Pivot, diag.Findings) {
	return aids.NewPivot(in.Params, in.Groove.Value)
}

func makeCuts(g made[groove.Groove]) ([]groove.Cut, diag.Findings) { return plan.Split(&g.Value) }

type planIn struct {
	Params plan.Params
	Groove made[groove.Groove]
	Cuts   made[[]groove.Cut]
}

func makePlan(in planIn, goOn func()) (plan.Plan, diag.Findings) {
	p := plan.MakeUntil(goOn, in.Params, &in.Groove.Value, in.Cuts.Value)
	return p, planFaults(in.Params, &in.Groove.Value, p)
}

type setIn struct {
	Params fixture.Params
	Groove made[groove.Groove]
	Plan   made[plan.Plan]
	Shop   profile.Shop
}

func makeSet(in setIn) (template.Set, diag.Findings) {
	s := template.NewSet(in.Params, in.Groove.Value, in.Plan.Value, in.Shop)
	return s, s.Found
}

type inlayIn struct {
	Params inlay.Params
	Motif  made[motif.Motif]
	Weave  made[weave.Weave]
}

func makeInlay(in inlayIn) (inlay.Inlay, diag.Findings) {
	return inlay.Build(in.Params, in.Motif.Value, in.Weave.Value)
}

// makeStock plans the stock, and says at each gain how far the best plan yet may be from the
// least: as a share, since some searches count strips, some boards and some their prices.
func makeStock(in stock.Params, goOn func(), step func(string)) (stock.Plan, diag.Findings) {
	var last stock.Progress
	return stock.Make(in, func(p stock.Progress) {
		goOn()
		if p == last || p.Bound <= 0 {
			return
		}
		last = p
		over := float64(p.Best-p.Bound) / float64(p.Best) * 100
		step(stepStock + ": the best yet within " + unit.Decimal(over, 1) + " % of the least")
	})
}
