package build

// Judging a program: what the job says of the groove, the board, the clamps
// and the machine, as the dry run wants it.

import (
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/dryrun"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
	"strapwork/pkg/ngc"
	"strapwork/pkg/profile"
	"strapwork/pkg/program"
	"strapwork/pkg/toolpath"
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

var purposeWords = [...]string{
	WholeGroove: "groove",
	PartOfIt:    "part",
	Recut:       "widen",
	Coupon:      "coupon",
}

// String is the purpose's word on the command line.
func (p Purpose) String() string { return unit.Word(purposeWords[:], p, "purpose") }

// Purposes are all of them.
func Purposes() []Purpose { return []Purpose{WholeGroove, PartOfIt, Recut, Coupon} }

// A ProgramFile is a program to judge.
type ProgramFile struct {
	Name    string // for findings
	Text    []byte
	Purpose Purpose
	Section string            // the section of a table that it is for; empty: as the program says, or as it fits best
	Page    bool              // make a page on which to watch it, at PreviewPath
	Step    func(what string) // is called with what comes next, for progress; may be nil
}

// aRecut in mm is a usual recut (common practice).
const aRecut = 0.1

// DryRun is a graph's DryRun where nothing is asked afterwards.
func DryRun(file string, data []byte, readFile ReadFile, p ProgramFile) (Result, dryrun.Report) {
	return NewGraph(readFile).DryRun(file, data, p)
}

// DryRun judges a program against a job, which is taken as far as its groove.
// The report holds if the result reached Grooved without errors; else the
// program was not read. The page, if one is asked for, is the result's file; it
// shows no set-ups.
func (g *Graph) DryRun(file string, data []byte, p ProgramFile) (Result, dryrun.Report) {
	var report dryrun.Report
	r := g.answer(file, func() Result {
		a := g.asking(Options{Step: p.Step})
		r := a.read(file, data, true)
		if r.Job != nil {
			r.Revision = revision(data, r.Job)
			a.plane(&r)
		}
		if r.Reached < Grooved {
			return r
		}
		a.planPasses(r) // names the strands
		a.addPasses(&r)
		if p.Purpose == Recut && r.OK() && r.Grooving.Wanted.Widen == 0 {
			r.Findings.Errorf("program", planRefused, "the job has no recut to judge a program by").
				Hintf("write widen = %s in [program]", unit.Len(aRecut).Typed())
		}
		switch {
		case !r.OK():
		case r.Table != nil && p.Purpose != Coupon:
			report = a.judgeSection(&r, p)
		default:
			report = a.judgeFile(&r, p)
		}
		return r
	})
	return r, report
}

type fileIn struct {
	Name    string
	Text    []byte
	Dialect ngc.Dialect
	Work    made[judging]
	Page    bool
	// To know which moves cut which strand:
	Groove made[groove.Groove]
	Plan   toolpath.Plan
	Shift  work.Shift
}

// judgeText judges a program that may be anybody's.
func judgeText(in fileIn) (judged, diag.Findings) {
	run := judged{path: jobBase(in.Name), text: in.Text}
	run.judge(in.Dialect, in.Work.Value.Work, in.Page)
	run.report.Findings = run.report.Findings.Shorten()
	showLines(run.report.Findings, run.text)
	if in.Page {
		g := in.Groove.Value
		r := Result{Groove: g, Motif: g.Motif, Grooving: Grooving{Plan: in.Plan, Shift: in.Shift}}
		run.sections = r.sections(run.steps)
	}
	return run, nil
}

// judgeFile judges a file that may be anybody's.
func (a *asking) judgeFile(r *Result, p ProgramFile) (report dryrun.Report) {
	work := a.work(*r, p.Purpose)
	if err := work.Value.err; err != nil {
		r.Findings.Errorf("program", planRefused, "%v", err)
		return report
	}
	a.Step("watching " + p.Name)
	g := r.Grooving
	run := ask(a.Graph, "program of a file", fileIn{p.Name, p.Text, g.dialect(p.Name), work, p.Page, a.groove, g.Plan, g.Shift}, judgeText)
	if p.Page {
		w := a.writer(*r)
		w.preview(run, r.Findings)
		r.take(w)
	}
	return run.Value.report
}

// dialect is what a program for the job's machine doesn't say of itself.
func (g Grooving) dialect(file string) ngc.Dialect {
	return ngc.Dialect{File: file, DwellMillis: g.Machine.DwellMillis, StartsWith: g.Machine.StartsWith}
}

type workIn struct {
	Purpose  Purpose
	Grooving Grooving // its settings
	Inlay    work.Inlay
	Router   work.Router
	Board    *work.Board
	Clamping *work.Clamping
	Trial    program.CouponPlan
	Motif    made[motif.Motif]
	Across   float64             // the width of a table
	Wider    made[groove.Groove] // of a recut
}

// work is what a program is judged against.
func (a *asking) work(r Result, p Purpose) made[judging] {
	j, g := r.Job, r.Grooving
	in := workIn{
		Purpose: p, Grooving: g.settings(), Inlay: j.Inlay, Router: j.Router, Board: j.Board, Clamping: j.Clamping,
		Trial: r.coupon(), Motif: a.motif,
	}
	if j.Table != nil {
		in.Across = j.Table.Width
	}
	if p == Recut {
		size := GrooveSize(j)
		size.Width += g.Wanted.Widen
		in.Wider = ask(a.Graph, "groove", grooveIn{size, a.motif, a.weave}, makeGroove)
	}
	return ask(a.Graph, "work", in, makeWork)
}

// A judging is what a program is judged against, or why there can be no such program:
// the groove can't be recut as wide as it should be.
type judging struct {
	dryrun.Work
	err error
}

func makeWork(in workIn) (w judging, _ diag.Findings) {
	g := in.Grooving
	w.Work = dryrun.Work{
		Depth: in.Inlay.Depth, Partial: in.Purpose == PartOfIt, Safe: g.Wanted.Safe, Feed: g.Wanted.Feed, Speed: g.Speed, Step: g.Step,
		Bit:     dryrun.Bit{Slot: in.Router.Bit, Flute: in.Router.Flute, ShankDiameter: in.Router.ShankDiameter, Chip: g.Bit.GreatestFeed(1)},
		Machine: g.limits(),
	}
	w.Body = g.body(in.Router)
	if c := g.Cutter; c != nil {
		if w.Bit.Flute == 0 {
			w.Bit.Flute = c.Flute
		}
		if w.Bit.ShankDiameter == 0 {
			w.Bit.ShankDiameter = c.Shank
		}
	}
	if in.Purpose == Coupon {
		w.Machine.AtKnown = false // scrap lies elsewhere
		w.Groove = couponGroove(in.Trial)
		return w, nil
	}
	w.Groove = walls.Of(in.strands(0)...)
	if in.Purpose == Recut {
		if by := g.Wanted.Widen; in.Wider.Found.HasErrors() {
			f := in.Wider.Found[slices.IndexFunc(in.Wider.Found, func(f diag.Finding) bool { return f.Severity == diag.Error })]
			w.err = unit.Errorf("recut wider by %s: %v", unit.Len(by), f.Said())
			return w, nil
		}
		// What no bit reaches of the first groove stays for the chisel.
		w.Done = region.Subtract(w.Groove.Area, region.Union(w.Groove.Tips(in.Router.Bit)...))
		w.Groove = walls.Of(in.strands(g.Wanted.Widen)...)
	}
	if b := in.Board; b != nil {
		origin := b.Origin
		if g.Piece != nil {
			origin = g.Piece.Origin
			w.Section = g.Piece.forJudge(g.Shift, in.Across)
		}
		w.OtherZero = dryrun.OtherZero{Word: "board", By: origin}
		if g.Wanted.ZeroBoard {
			w.OtherZero = dryrun.OtherZero{Word: "motif", By: origin.Scale(-1)}
		}
		w.Thickness = b.Thickness
	}
	if s := in.Clamping; s != nil {
		w.Clearance = s.Clearance
		w.Clamps = g.Shift.Clamps(s.Clamps)
	}
	return w, nil
}

// body is what turns above the bit: as the job has it, else as the machine's
// profile does.
func (g Grooving) body(r work.Router) work.Body { return r.Body.Or(g.Machine.Body) }

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
func (in workIn) strands(by float64) []walls.Strand {
	shift := in.Grooving.Shift.Similarity()
	var list []walls.Strand
	for _, s := range in.Motif.Value.Strands {
		list = append(list, walls.Strand{Line: shift.Contour(s.Contour), Width: in.Inlay.Width + by})
	}
	return list
}
