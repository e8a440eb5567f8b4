package build

// The programs: written from the plan, then read back as saved and judged.

import (
	"bytes"
	"fmt"
	"io"
	"path"
	"slices"
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
	"strapwork/pkg/work"
)

// GroovePath is the path of the program that cuts the whole groove.
const GroovePath = "program/groove.nc"

// CouponPath is the path of the trial in scrap.
const CouponPath = "program/coupon.nc"

// judged is a program as saved, and what its dry run found.
type judged struct {
	path     string
	text     []byte
	sections []program.Section
	steps    []dryrun.Step // only of the whole groove's program
	report   dryrun.Report
}

// writePrograms writes all programs and judges each. Faults are errors at the
// program's line, but those that are said of the job already, before.
func (w *writer) writePrograms(before diag.Findings) {
	pieces := w.pieces()
	if len(pieces) == 0 {
		if w.a.wants(Preview) {
			w.preview(made[judged]{}, before)
		}
		return
	}
	w.a.Step("writing the programs")
	low := slices.ContainsFunc(before, func(f diag.Finding) bool { return f.Rule == ruleHeight })
	var drafts []draft
	for i, p := range pieces {
		list, found := p.drafts(low, i == 0)
		if w.Findings.Add(found...); !w.OK() {
			return
		}
		drafts = append(drafts, list...)
	}
	runs := each(drafts, func(d draft) made[judged] {
		w.a.Step("watching " + d.In.Path)
		return ask(w.a.Graph, "program", d.In, makeProgram)
	})
	seen, whole := repeats{}, []wholeRun(nil)
	for i, run := range runs {
		d, report := drafts[i], run.Value.report
		if w.Findings.Add(run.Found...); run.Found.HasErrors() {
			break
		}
		seen.add(&w.Findings, report.Findings)
		if d.whole {
			d.of.Grooving.Run, d.of.Grooving.Sections = report, run.Value.sections
			if !report.Findings.HasErrors() {
				whole = append(whole, wholeRun{d.of, run})
			}
		}
		if w.a.wants(Programs) {
			w.Files = append(w.Files, File{Path: d.In.Path, Kind: Program, Role: d.role, Data: run.Value.text})
		}
	}
	if w.a.wants(Preview) && len(whole) > 0 {
		w.previewOf(whole, before)
	}
	seen.count(w.Findings)
	w.takeRuns(pieces)
}

// pieces are what is grooved by a program of its own: the work, or each kind of section of
// a table that has a groove.
func (w *writer) pieces() (list []*writer) {
	if w.Table == nil {
		if len(w.Grooving.Plan.Runs) > 0 {
			list = append(list, w)
		}
		return list
	}
	for k, g := range w.Grooving.BySection {
		if len(g.Plan.Runs) > 0 {
			a, r := w.a.section(w.Result, k)
			list = append(list, a.writer(r))
		}
	}
	return list
}

// takeRuns takes what the pieces' programs were found to do.
func (w *writer) takeRuns(pieces []*writer) {
	if w.Table != nil {
		w.Grooving.BySection = slices.Clone(w.Grooving.BySection)
		var all []dryrun.Report
		var times []int
		for _, p := range pieces {
			w.Grooving.BySection[p.Grooving.Piece.Kind] = p.Grooving
			all, times = append(all, p.Grooving.Run), append(times, p.Grooving.Piece.Count)
		}
		w.Grooving.Run = summed(all, times)
	}
	if w.templates() {
		return
	}
	var left []proof.Leftover
	var over dryrun.Deviation
	var at geom.Point
	area := 0.0
	for _, p := range pieces {
		run, here := p.Grooving.Run, p.inMotif()
		for _, s := range run.Left {
			l := proof.Leftover{At: here.Point(s.At), Depth: s.Amount, Area: s.Area}
			if !s.Chisel {
				l.MissedDepth, l.MissedArea = s.Amount, s.Area
			}
			left = append(left, l)
		}
		if run.GougeMax.Amount > over.Amount {
			over, at = run.GougeMax, here.Point(run.GougeMax.At)
		}
		for _, s := range run.Gouges {
			area += s.Area
		}
	}
	w.Proof = proof.Of(w.Groove, over.Amount, at, area, left)
}

// inMotif takes places of the program to the motif's coordinates, of a section those about
// the motif's origin on it.
func (r Result) inMotif() work.Shift {
	back := geom.Point(r.Grooving.Shift).Scale(-1)
	if p := r.Grooving.Piece; p != nil {
		back = back.Sub(p.Origin)
	}
	return work.Shift(back)
}

// A draft is a program before it is written.
type draft struct {
	role  string
	of    *writer // whose program it is
	whole bool    // it cuts all of that's groove
	In    programIn
}

// drafts are the programs that the job asks for; low: see programIn. The trial in scrap is
// asked for once.
func (w *writer) drafts(low, trials bool) (list []draft, found diag.Findings) {
	g, params := w.Grooving, w.programParams()
	add := func(path, role string, purpose Purpose, in programIn) {
		in.Low = low
		list = append(list, w.draft(path, role, purpose, in))
	}
	box, _ := program.Extents(g.Plan)
	box = box.Expand(w.Job.Router.Bit / 2)
	add(g.path("groove"), g.role(), WholeGroove, programIn{Plan: g.Plan, Steps: w.a.wants(Preview)})
	list[0].whole = true
	add(g.path("perimeter"), "perimeter", PartOfIt, programIn{Around: &box})
	if trials {
		trial := w.coupon()
		add(CouponPath, "coupon", Coupon, programIn{Trial: &trial})
	}
	for _, p := range g.Parts() {
		add(p.Path, g.Wanted.Split.String(), PartOfIt, programIn{Plan: p.Plan, Words: p.words(params)})
	}
	if by := g.Wanted.Widen; by > 0 {
		wider := ask(w.a.Graph, "passes", passesIn{w.a.groove, g.options(w.Job.Inlay.Depth, by)}, makePasses).Value
		if wider.err != nil {
			found.Errorf("program", planRefused, "%v", wider.err)
			return nil, found
		}
		add(g.path("widen"), "widen", Recut, programIn{Plan: wider.plan, Words: "recut, " + params.Size(by) + " wider overall, over the finished groove"})
	}
	return list, found
}

// draft fills in what all programs have.
func (w *writer) draft(path, role string, purpose Purpose, in programIn) draft {
	in.Path, in.Purpose, in.Dialect, in.Params = path, purpose, w.Grooving.dialect(path), w.programParams()
	in.Work = w.a.work(w.Result, purpose)
	if p := w.Grooving.Piece; p != nil && in.Trial == nil {
		in.Words = strings.TrimSuffix(w.Grooving.sectionWords(in.Params)+"\n"+in.Words, "\n")
	}
	return draft{role: role, of: w, In: in}
}

// coupon is the trial in scrap.
func (r Result) coupon() program.CouponPlan {
	return program.NewCoupon(r.Job.Inlay.Width, r.Job.Router.Bit, r.Job.Units, r.Grooving.options(r.Job.Inlay.Depth, 0))
}

// couponGroove is what the trial's program may cut.
func couponGroove(c program.CouponPlan) walls.Groove {
	var list []walls.Strand
	for _, box := range c.Grooves() {
		y := box.Center().Y
		line := geom.Chain(false, geom.Line(geom.Pt(box.Min.X, y), geom.Pt(box.Max.X, y)))
		list = append(list, walls.Strand{Line: line, Width: box.Size().Y})
	}
	return walls.Of(list...)
}

type programIn struct {
	Path    string
	Purpose Purpose
	Plan    toolpath.Plan       // what it cuts, unless it is
	Around  *geom.Box           // a run round the work, or
	Trial   *program.CouponPlan // the trial in scrap
	Words   string              // what the program says of itself
	Params  program.Params
	Dialect ngc.Dialect
	Work    made[judging]
	Steps   bool // keep its moves, to watch them
	Low     bool // it is said of the job already that the safe height, at which the program begins, is too low
}

func (in programIn) write(w io.Writer, s program.Params) ([]program.Section, error) {
	s.Part = in.Words
	switch {
	case in.Around != nil:
		return nil, program.Perimeter(w, *in.Around, s)
	case in.Trial != nil:
		return nil, program.Coupon(w, *in.Trial, s)
	}
	return program.Groove(w, in.Plan, s)
}

// makeProgram writes a program, reads it back and judges it. Its head says
// how long it takes, which only reading it back shows: so it is written, timed,
// written again with as many lines, and what is saved is judged.
func makeProgram(in programIn) (run judged, found diag.Findings) {
	refuse := func(err error) (judged, diag.Findings) {
		found.Errorf("program", planRefused, "%s can't be written: %v", in.Path, err).
			Hintf("check the feeds, the speed and the machine's profile")
		return judged{}, found
	}
	s, work := in.Params, in.Work.Value.Work
	if err := in.Work.Value.err; err != nil {
		return refuse(err)
	}
	run.path = in.Path
	for range 2 {
		s.Time = dryrun.Seconds(bytes.NewReader(run.text), in.Dialect, work.Machine)
		var b bytes.Buffer
		var err error
		if run.sections, err = in.write(&b, s); err != nil {
			return refuse(err)
		}
		run.text = b.Bytes()
	}
	run.judge(in.Dialect, work, in.Steps)
	if in.Low {
		run.report.Findings = without(run.report.Findings, ruleBlindStart)
	}
	showLines(run.report.Findings, run.text)
	return run, nil
}

// judge judges the program, and keeps its moves if they are to be watched.
func (run *judged) judge(d ngc.Dialect, work dryrun.Work, steps bool) {
	var keep func(dryrun.Step)
	if steps {
		keep = func(s dryrun.Step) { run.steps = append(run.steps, s) }
	}
	run.report = dryrun.Judge(bytes.NewReader(run.text), d, work, keep)
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

// programParams are what the job and the machine want of a program.
func (r Result) programParams() program.Params {
	j, g := r.Job, r.Grooving
	s := program.Params{
		Title: j.Title, Job: jobBase(r.File), Revision: r.Revision,
		Board: j.Board, Shift: g.Shift, Feed: g.Feed, Plunge: g.Plunge, Speed: g.Speed, SpinUp: g.Machine.SpinUp, Again: g.Machine.DwellAgain,
		Safe: g.Wanted.Safe, NGC: wordsFor(g.Machine),
	}
	s.NGC.Bare = !g.Wanted.Comments
	if park := g.Machine.Park; g.Machine.Parks {
		s.Park = &geom.Point{X: park[0], Y: park[1]}
	}
	s.Zero = g.zero(s)
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
