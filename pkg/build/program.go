package build

// The programs: written from the plan, then read back as saved and judged.

import (
	"bytes"
	"fmt"
	"io"
	"path"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/dryrun"
	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
	"strapwork/pkg/profile"
	"strapwork/pkg/program"
	"strapwork/pkg/proof"
	"strapwork/pkg/toolpath"
	"strapwork/pkg/unit"
	"strapwork/pkg/walls"
)

// GroovePath is the path of the program that cuts the whole groove.
const GroovePath = "program/groove.nc"

// judged is a program as saved, and what its dry run found.
type judged struct {
	path     string
	text     []byte
	sections []program.Section
	steps    []dryrun.Step // only of the whole groove's program
	report   dryrun.Report
}

// A draft is a program before it is written.
type draft struct {
	path, role string
	purpose    Purpose
	write      func(io.Writer, program.Params) ([]program.Section, error)
}

// programs writes all programs and judges each. Faults are errors at the
// program's line.
func (r *Result) programs(o Options) {
	if len(r.Grooving.Plan.Runs) == 0 {
		if o.wants(Preview) {
			r.preview(judged{})
		}
		return
	}
	o.Step("writing the programs")
	drafts, err := r.drafts()
	if err != nil {
		r.Findings.Errorf("program", planRefused, "%v", err)
		return
	}
	seen := repeats{}
	defer seen.count(r)
	for _, d := range drafts {
		o.Step("watching " + d.path)
		run, err := r.writeProgram(d)
		if err != nil {
			r.Findings.Errorf("program", planRefused, "%s can't be written: %v", d.path, err).
				Hintf("check the feeds, the speed and the machine's profile")
			return
		}
		run.report.Findings = r.ownFindings(run.report.Findings)
		seen.add(r, run.report.Findings)
		if d.path == GroovePath {
			r.Grooving.Run, r.Grooving.Sections = run.report, run.sections
			if !r.templates() {
				r.Proof = r.proofByRun(run.report)
			}
			if o.wants(Preview) && !run.report.Findings.HasErrors() {
				r.preview(run)
			}
		}
		if o.wants(Programs) {
			r.Files = append(r.Files, File{Path: d.path, Kind: Program, Role: d.role, Data: run.text})
		}
	}
}

// proofByRun is what a program cuts and leaves as its dry run has it, where no
// templates are there to prove.
func (r *Result) proofByRun(run dryrun.Report) proof.Proof {
	back := r.Grooving.Shift.Scale(-1)
	var left []proof.Leftover
	for _, s := range run.Left {
		l := proof.Leftover{At: s.At.Add(back), Depth: s.Amount, Area: s.Area}
		if !s.Chisel {
			l.MissedDepth, l.MissedArea = s.Amount, s.Area
		}
		left = append(left, l)
	}
	over, area := run.GougeMax, 0.0
	for _, s := range run.Gouges {
		area += s.Area
	}
	return proof.Of(r.Groove, over.Amount, over.At.Add(back), area, left)
}

// drafts are the programs that the job asks for.
func (r *Result) drafts() ([]draft, error) {
	g := r.Grooving
	all := g.Plan
	list := []draft{
		{GroovePath, "groove", WholeGroove, cutting(all)},
		{"program/perimeter.nc", "perimeter", PartOfIt, r.perimeter()},
		{"program/coupon.nc", "coupon", Coupon, func(w io.Writer, s program.Params) ([]program.Section, error) {
			return nil, program.Coupon(w, r.coupon(), s)
		}},
	}
	for _, p := range g.Parts() {
		list = append(list, draft{p.Path, g.Wanted.Split.String(), PartOfIt, part(p.Plan, p.words)})
	}
	if by := g.Wanted.Widen; by > 0 {
		plan, err := toolpath.Make(&r.Groove, g.options(r.Job, by))
		if err != nil {
			return nil, err
		}
		words := func(s program.Params) string {
			return "recut, " + s.Size(by) + " wider in all, over the finished groove"
		}
		list = append(list, draft{"program/widen.nc", "widen", Recut, part(plan, words)})
	}
	return list, nil
}

func cutting(plan toolpath.Plan) func(io.Writer, program.Params) ([]program.Section, error) {
	return part(plan, func(program.Params) string { return "" })
}

// part writes a program that cuts a plan and says of itself what words are.
func part(plan toolpath.Plan, words func(program.Params) string) func(io.Writer, program.Params) ([]program.Section, error) {
	return func(w io.Writer, s program.Params) ([]program.Section, error) {
		s.Part = words(s)
		return program.Groove(w, plan, s)
	}
}

func (r *Result) perimeter() func(io.Writer, program.Params) ([]program.Section, error) {
	return func(w io.Writer, s program.Params) ([]program.Section, error) {
		box, _ := program.Extents(r.Grooving.Plan)
		return nil, program.Perimeter(w, box.Expand(r.Job.Router.Bit/2), s)
	}
}

// coupon is the trial in scrap.
func (r *Result) coupon() program.CouponPlan {
	return program.NewCoupon(r.Job.Inlay.Width, r.Job.Router.Bit, r.Job.Units, r.Grooving.options(r.Job, 0))
}

// couponGroove is what the trial's program may cut.
func (r *Result) couponGroove() walls.Groove {
	var list []walls.Strand
	for _, box := range r.coupon().Grooves() {
		y := box.Center().Y
		line := geom.Chain(false, geom.Line(geom.Pt(box.Min.X, y), geom.Pt(box.Max.X, y)))
		list = append(list, walls.Strand{Line: line, Width: box.Size().Y})
	}
	return walls.Of(list...)
}

// writeProgram writes a program, reads it back and judges it. Its head tells
// how long it takes, which only reading it back tells: so it is written, timed,
// written again with as many lines, and what is saved is judged.
func (r *Result) writeProgram(d draft) (judged, error) {
	work, err := r.work(d.purpose)
	if err != nil {
		return judged{}, err
	}
	run := judged{path: d.path}
	s := r.setting()
	dialect := r.Grooving.dialect(d.path)
	for range 2 {
		s.Time = dryrun.Seconds(bytes.NewReader(run.text), dialect, work.Machine)
		var b bytes.Buffer
		if run.sections, err = d.write(&b, s); err != nil {
			return judged{}, err
		}
		run.text = b.Bytes()
	}
	var keep func(dryrun.Step)
	if d.path == GroovePath {
		keep = func(step dryrun.Step) { run.steps = append(run.steps, step) }
	}
	run.report = dryrun.Judge(bytes.NewReader(run.text), dialect, work, keep)
	showLines(run.report.Findings, run.text)
	return run, nil
}

// showLines shows the lines of the program that findings are about.
func showLines(found diag.Findings, text []byte) {
	if len(found) == 0 {
		return
	}
	lines := strings.Split(strings.TrimPrefix(string(text), "\ufeff"), "\n") // as the reader, which counts no mark
	for i := range found {
		if n := found[i].Pos.Line; n > 0 && n <= len(lines) {
			found[i].SetExcerpt(strings.TrimSuffix(lines[n-1], "\r"))
		}
	}
}

// setting is what the job and the machine want of a program.
func (r *Result) setting() program.Params {
	j, g := r.Job, r.Grooving
	s := program.Params{
		Title: j.Title, Job: jobBase(r.File), Revision: r.Revision, Zero: "the motif's origin",
		Shift: g.Shift, Feed: g.Feed, Plunge: g.Plunge, Speed: g.Speed, SpinUp: g.Machine.SpinUp, Again: g.Machine.DwellAgain,
		Safe: g.Wanted.Safe, NGC: wordsFor(g.Machine),
	}
	s.NGC.Bare = !g.Wanted.Comments
	if park := g.Machine.Park; g.Machine.Parks {
		s.Park = &geom.Point{X: park[0], Y: park[1]}
	}
	if g.Wanted.ZeroBoard {
		s.Zero = "the board's lower left corner"
	}
	if b := j.Board; b != nil {
		s.Board = geom.Box{Min: b.Origin.Scale(-1), Max: b.Size.Sub(b.Origin)}
		s.Thickness = b.Thickness
	}
	return s
}

// wordsFor is how a machine wants its programs' words.
func wordsFor(m profile.Machine) ngc.Options {
	o := ngc.Options{
		Units: ngc.Millimetres, Decimals: m.Decimals, Repeat: m.Repeat, Chord: m.Chord, Flat: m.NoHelix, Exact: m.Path == profile.PathExact,
		Percent: m.Percent, Numbers: m.LineNumbers, DwellMillis: m.DwellMillis, Rewind: m.Rewind,
	}
	if m.Units == unit.Inch {
		o.Units = ngc.Inches
	}
	return o
}

// jobBase is the job file's own name, without its folders.
func jobBase(file string) string { return path.Base(strings.ReplaceAll(file, `\`, "/")) }

// digits is how many digits numbers up to n have.
func digits(n int) int { return len(fmt.Sprint(n)) }

// safeName is a name as part of a file's: letters, digits, dots and hyphens.
func safeName(name string) string {
	return strings.Map(func(c rune) rune {
		switch {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', c == '.', c == '-', c == '_':
			return c
		}
		return '-'
	}, name)
}
