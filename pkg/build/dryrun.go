package build

// Judging a program: what the job says of the groove, the board, the clamps
// and the machine, as the dry run wants it.

import (
	"bytes"
	"cmp"
	"fmt"

	"strapwork/pkg/diag"
	"strapwork/pkg/dryrun"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/ngc"
	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
	"strapwork/pkg/walls"
	"strapwork/pkg/work"
)

// Purpose is what a program is for, and so what it is judged against.
type Purpose int

const (
	// WholeGroove cuts the whole groove.
	WholeGroove Purpose = iota
	// PartOfIt cuts some of the groove, or nothing at all.
	PartOfIt
	// Recut makes a finished groove wider.
	Recut
	// Coupon cuts trial grooves in scrap.
	Coupon
)

// String is the purpose's word on the command line.
func (p Purpose) String() string {
	switch p {
	case WholeGroove:
		return "groove"
	case PartOfIt:
		return "part"
	case Recut:
		return "widen"
	case Coupon:
		return "coupon"
	}
	return fmt.Sprintf("purpose(%d)", int(p))
}

// Purposes are all of them.
func Purposes() []Purpose { return []Purpose{WholeGroove, PartOfIt, Recut, Coupon} }

// A ProgramFile is a program to judge.
type ProgramFile struct {
	Name    string // for findings
	Text    []byte
	Purpose Purpose
	Page    bool              // make a page on which to watch it, at PreviewPath
	Step    func(what string) // is told what comes next, for progress; may be nil
}

// aRecut in mm is a usual recut (common practice).
const aRecut = 0.1

// DryRun judges a program against a job, which is taken as far as its groove.
// The report holds if the result reached Grooved without errors; else the
// program was not read. The page, if one is asked for, is the result's file; it
// shows no set-ups.
func DryRun(file string, data []byte, readFile ReadFile, p ProgramFile) (Result, dryrun.Report) {
	step := p.Step
	if step == nil {
		step = func(string) {}
	}
	r := readJob(job.ReadForProgram, file, data, readFile)
	if r.Job != nil {
		r.Revision = revision(data)
		step("finding crossings and grooves")
		r.plane()
	}
	if r.Reached == Grooved {
		r.passes() // names the strands
	}
	if p.Purpose == Recut && r.OK() && r.Grooving.Wanted.Widen == 0 {
		r.Findings.Errorf("program", planRefused, "the job has no recut to judge a program by").
			Hintf("write widen = %s in [program]", unit.Len(aRecut).Typed())
	}
	run := judged{path: p.Name, text: p.Text}
	if r.Reached == Grooved && r.OK() {
		step("watching " + p.Name)
		r.judgeFile(&run, p)
	}
	r.tidy()
	return r, run.report
}

// judgeFile judges a file that may be anybody's.
func (r *Result) judgeFile(run *judged, p ProgramFile) {
	work, err := r.work(p.Purpose)
	if err != nil {
		r.Findings.Errorf("program", planRefused, "%v", err)
		return
	}
	var keep func(dryrun.Step)
	if p.Page {
		keep = func(s dryrun.Step) { run.steps = append(run.steps, s) }
	}
	run.report = dryrun.Judge(bytes.NewReader(p.Text), r.Grooving.dialect(p.Name), work, keep)
	run.report.Findings = run.report.Findings.Shorten()
	showLines(run.report.Findings, p.Text)
	if p.Page {
		run.path = jobBase(p.Name)
		run.sections = r.sections(run.steps)
		r.preview(*run)
	}
}

// dialect is what a program for the job's machine doesn't say of itself.
func (g Grooving) dialect(file string) ngc.Dialect {
	return ngc.Dialect{File: file, DwellMillis: g.Machine.DwellMillis, StartsWith: g.Machine.StartsWith}
}

// work is what a program is judged against. The error is that of planning the
// coupon or the wider groove.
func (r *Result) work(p Purpose) (dryrun.Work, error) {
	g, j := r.Grooving, r.Job
	w := dryrun.Work{
		Depth: j.Inlay.Depth, Partial: p == PartOfIt, Safe: g.Wanted.Safe, Feed: g.Wanted.Feed, Speed: g.Speed, Step: g.Step,
		Bit:     dryrun.Bit{Slot: j.Router.Bit, Flute: j.Router.Flute, Shank: j.Router.Shank, Chip: g.Bit.GreatestFeed(1)},
		Machine: g.limits(),
	}
	w.Body = g.body(j.Router)
	if c := g.Cutter; c != nil {
		if w.Bit.Flute == 0 {
			w.Bit.Flute = c.Flute
		}
		if w.Bit.Shank == 0 {
			w.Bit.Shank = c.Shank
		}
	}
	if p == Coupon {
		w.Machine.AtKnown = false // scrap lies elsewhere
		w.Groove = r.couponGroove()
		return w, nil
	}
	w.Groove = walls.Of(r.strands(0)...)
	if p == Recut {
		if err := r.canWiden(g.Wanted.Widen); err != nil {
			return w, err
		}
		// What no bit reaches of the first groove stays for the chisel.
		w.Done = region.Subtract(w.Groove.Area, region.Union(w.Groove.Tips(j.Router.Bit)...))
		w.Groove = walls.Of(r.strands(g.Wanted.Widen)...)
	}
	if b := j.Board; b != nil {
		low := g.Shift.Sub(b.Origin)
		w.Zero = dryrun.Zero{Word: "board", By: b.Origin}
		if g.Wanted.ZeroBoard {
			w.Zero = dryrun.Zero{Word: "motif", By: b.Origin.Scale(-1)}
		}
		w.Board = dryrun.Board{Box: geom.Box{Min: low, Max: low.Add(b.Size)}, Thickness: b.Thickness, Known: true}
	}
	if s := j.Clamping; s != nil {
		w.Clearance = s.Clearance
		for _, c := range s.Clamps {
			w.Clamps = append(w.Clamps, dryrun.Clamp{Box: geom.Box{Min: c.Box.Min.Add(g.Shift), Max: c.Box.Max.Add(g.Shift)}, Height: c.Height})
		}
	}
	return w, nil
}

// body is what turns above the bit: as the job has it, else as the machine's
// profile does.
func (g Grooving) body(r work.Router) dryrun.Body {
	m := g.Machine.Body
	return dryrun.Body{
		Stickout: cmp.Or(r.Stickout, m.Stickout), Nut: cmp.Or(r.Nut, m.Nut),
		NutLength: cmp.Or(r.NutLength, m.NutLength), Nose: cmp.Or(r.Nose, m.Nose),
	}
}

// limits is the machine as the dry run wants it.
func (g Grooving) limits() dryrun.Machine {
	m := g.Machine
	spinUp := m.SpinUp
	if m.Name == "" {
		spinUp = 0 // a usual one, which says nothing against a program
	}
	return dryrun.Machine{
		Travel: m.Travel, At: g.Wanted.At, AtKnown: g.Wanted.AtGiven,
		Feed: m.Feed, Rapid: m.Rapid, Plunge: g.MostPlunge(), Spindle: m.Spindle, SpinUp: spinUp, NoPath: m.Path == profile.PathNone, Accel: m.Accel,
	}
}

// strands are the motif's centre lines in the program's coordinates, and their
// grooves' width, wider by some mm in all. It is all that the dry run gets to know
// of the groove.
func (r *Result) strands(by float64) []walls.Strand {
	shift := geom.Shifting(r.Grooving.Shift)
	var list []walls.Strand
	for _, s := range r.Motif.Strands {
		list = append(list, walls.Strand{Line: shift.Contour(s.Contour), Width: r.Job.Inlay.Width + by})
	}
	return list
}

// canWiden tells why the groove can't be recut wider by some mm in all.
func (r *Result) canWiden(by float64) error {
	wider := GrooveSize(r.Job)
	wider.Width += by
	_, found := groove.Build(wider, r.Motif, r.Weave)
	for _, f := range found {
		if f.Severity == diag.Error {
			return unit.Errorf("recut wider by %s: %v", unit.Len(by), f.Said())
		}
	}
	return nil
}
