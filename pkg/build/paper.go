package build

import (
	"bytes"
	"fmt"
	"math"
	"runtime"
	"sync"

	"strapwork/pkg/aids"
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
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
func (r *Result) openPaper(readFile ReadFile) {
	p := r.Job.Paper
	if p == nil {
		p = &job.Paper{Margin: math.NaN()}
	}
	name := p.Name
	if name == "" {
		name = r.Job.DefaultPaper()
	}
	opened, err := profile.OpenPaper(name, readFile)
	if err != nil {
		r.tellPaper(name, err)
		return
	}
	if r.Job.Units == unit.Inch && !profile.IsPath(name) {
		opened.Margin = profile.DefaultMarginIn
	}
	r.Paper = opened
	if p.Name == "" {
		r.Findings.Notef("paper", profile.RulePaper, "paper assumed: %s, with %s kept clear of print on each side; see page one of a pattern for how true the printer is",
			name, unit.Len(opened.Margin))
	}
	if !math.IsNaN(p.Margin) {
		r.Paper.Margin = p.Margin
		r.judgePaper("paper.margin", p.Margin, profile.CheckMargin)
	}
	if p.Measured[0] > 0 {
		r.Paper.Measured = p.Measured
	}
	if p.Diagonals[0] > 0 {
		r.Paper.Diagonals = p.Diagonals
	}
	for i := range p.Measured {
		r.judgeMeasured(diag.Key(fmt.Sprintf("paper.measured.%d", i+1)), p.Measured[i], profile.ProofBar)
		r.judgeMeasured(diag.Key(fmt.Sprintf("paper.diagonals.%d", i+1)), p.Diagonals[i], profile.ProofDiagonal)
	}
	r.skew()
}

// usePaper takes another paper than the job's, by its name; what is known of the
// printer stays. An empty name changes nothing.
func (r *Result) usePaper(name string) {
	if name == "" || r.Job == nil {
		return
	}
	p, err := profile.OpenPaper(name, nil)
	if err != nil {
		r.tellPaper(name, err)
		return
	}
	r.Paper.Name, r.Paper.Width, r.Paper.Height, r.Paper.Roll = p.Name, p.Width, p.Height, p.Roll
}

// tellPaper tells of a paper that can't be used.
func (r *Result) tellPaper(name string, err error) {
	r.tellProfile("paper.paper", profile.RulePaper, "paper", name, err)
}

func (r *Result) judgePaper(key diag.Key, mm float64, check func(float64) (text, hint unit.Text, ok bool)) {
	if text, hint, ok := check(mm); !ok {
		r.Findings.Errorf(key, profile.RulePaper, "%s", text).Hintf("%s", hint)
	}
}

func (r *Result) judgeMeasured(key diag.Key, mm, want float64) {
	if mm > 0 {
		r.judgePaper(key, mm, func(v float64) (text, hint unit.Text, ok bool) { return profile.CheckMeasured(v, want) })
	}
}

// skew tells of a printer whose axes are not square to one another.
func (r *Result) skew() {
	skew := r.Paper.Skew()
	if skew == 0 || math.IsNaN(skew) {
		return
	}
	r.Findings.Warnf("paper.diagonals", "paper-skew", "the printer's axes are out of square by %.2f degrees, %s in %s, which scaling can't mend",
		math.Abs(skew), unit.Len(profile.ProofBar*math.Abs(math.Tan(skew*math.Pi/180))), unit.Len(profile.ProofBar)).
		Hintf("print on another printer, or lay each sheet by its crosses and share the error out")
}

// A printed is a pattern that is to become a file.
type printed struct {
	file File
	draw func() paper.Drawing
}

// print writes the paper patterns: of every part at true size, whoever allows
// for the kerf, and of the groove itself.
func (r *Result) print(o Options) {
	o.Step("laying the patterns over sheets of paper")
	list := []printed{{
		file: File{Path: "paper/groove.pdf", Kind: PDF, Role: "groove"},
		draw: r.groovePattern,
	}}
	for _, p := range r.trueParts() {
		list = append(list, printed{
			file: File{Path: "paper/" + p.Sheet.Name + ".pdf", Kind: PDF, Role: p.Ply.String(), Panel: p.Panel},
			draw: func() paper.Drawing { return r.partPattern(p) },
		})
	}
	errs := make([]error, len(list))
	together(len(list), func(i int) { list[i].file.Data, errs[i] = r.printOne(list[i]) })
	for i, p := range list {
		if errs[i] != nil {
			r.Findings.Errorf("paper", profile.RulePaper, "the pattern %s can't be written: %v", p.file.Path, errs[i]).
				Hintf("take larger paper, such as --paper \"roll 610 mm\", or build --only templates")
			continue
		}
		r.Files = append(r.Files, p.file)
	}
}

// together calls do for 0 to n-1 on all processors.
func together(n int, do func(i int)) {
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(n, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
}

func (r *Result) printOne(p printed) ([]byte, error) {
	doc, err := paper.Pattern(p.draw(), r.PaperOptions())
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = pdf.Write(&b, doc)
	return b.Bytes(), err
}

// PaperOptions are how the job's pages are printed.
func (r *Result) PaperOptions() paper.Options {
	rt, u := r.Job.Router, r.Job.Units
	b := paper.Block{Job: r.Job.Title, Revision: r.Revision, Bit: "bit " + both(rt.Bit, u)}
	if b.Job == "" {
		b.Job = r.File
	}
	if rt.Rider > 0 {
		b.Rider = rt.Guide.String() + " \u00d8 " + both(rt.Rider, u)
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
func (r *Result) trueParts() []sheet.Part {
	if r.Kerf() == 0 {
		return r.Parts
	}
	list := aids.Draw(AidsParams(r.Job), r.Groove, r.Proof.Leftovers, r.Shop.Cutter, 0)
	if r.Job.Router.Guide == work.GuidePivot {
		return append([]sheet.Part{r.Pivot.Part(AidsParams(r.Job), 0)}, list...)
	}
	return append(r.Set.Parts(r.Job.Template, r.Groove.Size, 0), list...)
}

// partPattern is the pattern of a part, dimensioned.
func (r *Result) partPattern(p sheet.Part) paper.Drawing {
	d := paper.FromSheet(p.Sheet)
	var lines []geom.Contour
	for _, l := range d.Lines {
		if l.Use == paper.Cut || l.Use == paper.Edge {
			lines = append(lines, l.Contour)
		}
	}
	d.Measure(lines, r.Job.Units)
	d.Notes = append(d.Notes, fmt.Sprintf("**%s**, from sheet of %s, %d of it. Cut on the lines' centres: the pattern has the part's true size, and no width of cut is allowed for.",
		d.Title, both(p.Thickness, r.Job.Units), p.Quantity))
	return d
}
