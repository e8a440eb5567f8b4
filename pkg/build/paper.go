package build

import (
	"bytes"
	"fmt"
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/job"
	"strapwork/pkg/paper"
	"strapwork/pkg/pdf"
	"strapwork/pkg/profile"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// openPaper finds what patterns are printed on, and holds what was measured of
// the printer against the proof page.
func openPaper(j *job.Job, readFile ReadFile) (on profile.Paper, found diag.Findings) {
	p := j.Paper
	if p == nil {
		p = &job.Paper{Margin: math.NaN()}
	}
	name := p.Name
	if name == "" {
		name = j.DefaultPaper()
	}
	on, err := profile.OpenPaper(name, readFile)
	if err != nil {
		return profile.Paper{}, paperFaults(name, err)
	}
	if j.Units == unit.Inch && !profile.IsPath(name) {
		on.Margin = profile.DefaultMarginIn
	}
	if p.Name == "" {
		found.Notef("paper", profile.RulePaper, "paper assumed: %s, with a non-printing margin of %s; the scale proof shows how true the printer is",
			name, unit.Len(on.Margin))
	}
	judge := func(key diag.Key, text, hint unit.Text, ok bool) {
		if !ok {
			found.Errorf(key, profile.RulePaper, "%s", text).Hintf("%s", hint)
		}
	}
	measured := func(key diag.Key, mm, want float64) {
		if mm > 0 {
			text, hint, ok := profile.CheckMeasured(mm, want)
			judge(key, text, hint, ok)
		}
	}
	if !math.IsNaN(p.Margin) {
		on.Margin = p.Margin
		text, hint, ok := profile.CheckMargin(p.Margin)
		judge("paper.margin", text, hint, ok)
	}
	if p.Measured[0] > 0 {
		on.Measured = p.Measured
	}
	if p.Diagonals[0] > 0 {
		on.Diagonals = p.Diagonals
	}
	for i := range p.Measured {
		measured(diag.Key(fmt.Sprintf("paper.measured.%d", i+1)), p.Measured[i], profile.ProofBar)
		measured(diag.Key(fmt.Sprintf("paper.diagonals.%d", i+1)), p.Diagonals[i], profile.ProofDiagonal)
	}
	reportSkew(on.Skew(), &found)
	return on, found
}

// otherPaper is a paper with another's size, by its name; what is known of the
// printer stays. An empty name changes nothing.
func otherPaper(on profile.Paper, name string) (profile.Paper, diag.Findings) {
	if name == "" {
		return on, nil
	}
	p, err := profile.OpenPaper(name, nil)
	if err != nil {
		return on, paperFaults(name, err)
	}
	on.Name, on.Width, on.Height, on.Roll = p.Name, p.Width, p.Height, p.Roll
	return on, nil
}

// paperFaults report a paper that can't be used.
func paperFaults(name string, err error) diag.Findings {
	return profileFaults("paper.paper", profile.RulePaper, "paper", name, err)
}

// reportSkew reports a printer whose axes are not square to one another, by degrees.
func reportSkew(skew float64, found *diag.Findings) {
	if skew == 0 || math.IsNaN(skew) {
		return
	}
	found.Warnf("paper.diagonals", "paper-skew", "the printer's axes are out of square by %.2f degrees, %s in %s, which scaling can't correct",
		math.Abs(skew), unit.Len(profile.ProofBar*math.Abs(math.Tan(skew*math.Pi/180))), unit.Len(profile.ProofBar)).
		Hintf("print on another printer, or lay each sheet by its crosses and share the error out")
}

// print writes the paper patterns: of every part at true size, whoever allows
// for the kerf, and of the groove itself, in one file or in one for each.
func (w *writer) print() {
	w.a.Step("laying the patterns over sheets of paper")
	o := w.PaperOptions()
	draw := []func() made[pattern]{func() made[pattern] {
		in := grooveSheetIn{w.a.groove, w.Proof.Leftovers, w.Job.Inlay.Depth, w.Job.Units, o}
		return ask(w.a.Graph, "pattern of the groove", in, printGroove)
	}}
	parts := withoutSticks(w.trueParts())
	jobs := sharedSheets(parts, o)
	if w.a.Separate {
		jobs = nil
		for _, p := range parts {
			jobs = append(jobs, partSheetIn{Parts: []sheet.Part{p}, Units: o.Units, On: o})
		}
	}
	for _, in := range jobs {
		draw = append(draw, func() made[pattern] { return ask(w.a.Graph, "pattern", in, printPart) })
	}
	made := each(draw, func(do func() made[pattern]) made[pattern] { return do() })
	if !w.a.Separate {
		w.bind(File{Path: PatternsPath, Role: "patterns"}, "patterns", made, o)
		return
	}
	w.bind(File{Path: "paper/groove.pdf", Role: "groove"}, "the groove", made[:1], o)
	for i, p := range parts {
		f := File{Path: "paper/" + p.Sheet.Name + ".pdf", Role: p.Ply.String(), Panel: p.Panel}
		w.bind(f, p.Sheet.Title, made[i+1:i+2], o)
	}
}

// PatternsPath is where the patterns for printing are, but with
// Options.Separate.
const PatternsPath = "paper/patterns.pdf"

// bind writes patterns as one file.
func (w *writer) bind(f File, title string, list []made[pattern], o paper.Options) {
	b := ask(w.a.Graph, "patterns bound", bookIn{title, list, o}, printBook).Value
	if b.err != nil {
		w.Findings.Errorf("paper", profile.RulePaper, "the patterns %s can't be written: %v", f.Path, b.err).
			Hintf("take larger paper, such as --paper \"roll 610 mm\", or build --only templates")
		return
	}
	f.Kind, f.Data, f.Pages = PDF, b.data, b.pages
	w.Files = append(w.Files, f)
}

// A pattern is one as it is laid over sheets, or why it can't be.
type pattern struct {
	on  paper.Pattern
	err error
}

func printOn(o paper.Options, d paper.Drawing) (p pattern, _ diag.Findings) {
	p.on, p.err = paper.NewPattern(d, o)
	return p, nil
}

type bookIn struct {
	Title    string
	Patterns []made[pattern]
	On       paper.Options
}

// A book is a file of patterns as it is written, or why it can't be.
type book struct {
	data  []byte
	pages map[string][]int
	err   error
}

func printBook(in bookIn) (b book, _ diag.Findings) {
	var list []paper.Pattern
	for _, p := range in.Patterns {
		if p.Value.err != nil {
			return book{err: p.Value.err}, nil
		}
		list = append(list, p.Value.on)
	}
	bound := paper.Bind(in.Title, list, in.On)
	var data bytes.Buffer
	b.err = pdf.Write(&data, bound.Document)
	b.data, b.pages = data.Bytes(), bound.Pages
	return b, nil
}

// PaperOptions are how the job's pages are printed.
func (r Result) PaperOptions() paper.Options {
	rt, u := r.Job.Router, r.Job.Units
	b := paper.Block{Job: r.Job.Title, Revision: r.Revision, Bit: "bit " + both(rt.Bit, u)}
	if b.Job == "" {
		b.Job = r.File
	}
	if rt.RiderDiameter > 0 {
		name := rt.Guide.String()
		if rt.Guide.HasPanels() {
			name = rt.Guide.Rider() // as the bench sheet calls it
		}
		b.Rider = name + " \u00d8 " + both(rt.RiderDiameter, u)
	}
	if p := r.Job.Paper; p != nil {
		b.Date = p.Date
		if p.Revision != "" {
			b.Revision = p.Revision
		}
	}
	return paper.Options{Paper: r.Paper, Units: u, Block: b}
}

// both is a length in the job's units, and in mm where those are inches.
func both(mm float64, u unit.System) string {
	if u == unit.Inch {
		return unit.Len(mm).In(u) + " (" + unit.Format(mm, unit.MM) + ")"
	}
	return unit.Format(mm, u)
}

// trueParts are the parts as they are when they are cut, without kerf.
func (w *writer) trueParts() []sheet.Part {
	switch {
	case w.Kerf() == 0:
		return w.Parts
	case w.Job.Router.Guide == work.GuidePivot:
		return append([]sheet.Part{w.Pivot.Part(AidsParams(w.Job), 0)}, slices.Concat(w.aids(0), w.forms(0))...)
	}
	return slices.Concat(w.parts(0), w.aids(0), w.forms(0))
}
