package report

// The set-up sheet, setup.md: pinned up over the bench, in the order of use.
// This file says what comes when; the setup_ files write the sections.

import (
	"fmt"
	"slices"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/plan"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// bench is what the sections are written from.
type bench struct {
	page
	words
	r     build.Result
	j     *job.Job
	gs    groove.Size
	order []plan.SetUp
	steps []float64 // the depths of the passes

	guides map[geom.Point]string // the chisel guide that serves the leftover there
}

// Setup is setup.md: what a maker needs at the bench, from having the parts
// cut to levelling the strips. It is nil for a job that was not
// proved.
func Setup(r build.Result) []byte {
	if r.Reached < build.Proved || r.Job == nil || len(r.Parts) == 0 && r.Job.Router.Guide.HasTemplates() {
		return nil
	}
	b := &bench{
		words: words{r.Job.Units}, r: r, j: r.Job, gs: r.Groove.Size, order: r.Set.Plan.SetUps,
		steps: groove.Depths(r.Job.Inlay.Depth, r.Job.Router.Bit),
	}
	b.head()
	b.care()
	if b.alone() {
		return b.program()
	}
	b.parts()
	if b.swung() {
		b.pivot()
	} else {
		b.card()
		b.tools()
		b.test()
		b.layOut()
		b.everyCut()
		b.grooving()
	}
	b.machine()
	b.chisel()
	b.splits()
	b.strips()
	b.interlace()
	b.checks()
	b.budget()
	b.findings()
	return []byte(b.b.String())
}

func (b *bench) head() {
	title := plain(b.j.Title)
	if title == "" {
		title = plain(jobName(b.r.File))
	}
	fmt.Fprintf(&b.b, "# %s\n\n", title)
	b.para("Set-up sheet for %s. Work down it in order, and tick as you go.", plain(jobName(b.r.File)))
	b.item("The groove is %s wide and %s deep%s.", b.size(b.j.Inlay.Width), b.size(b.j.Inlay.Depth), b.filling())
	b.item("%s, %s. %s", plural(len(b.r.Motif.Strands), "strand"), plural(len(b.r.Weave.Crossings), "crossing"), b.madeWith())
	b.item("%s Places are (x, y) from the motif's origin, x to the right and y up, seen from above.", b.unitNote())
	if n := b.r.Findings.Count(diag.Warning); n > 0 {
		b.item("**There is something to look at before you cut: %s, at the end of this sheet.**", plural(n, "warning"))
	}
	b.gap()
	if b.has("inlay.svg") {
		b.para("![The inlay](inlay.svg)")
	}
}

// program ends the sheet of a job without templates.
func (b *bench) program() []byte {
	b.machine()
	b.chisel()
	b.strips()
	b.interlace()
	b.findings()
	return []byte(b.b.String())
}

// alone reports whether a machine does all of it, without templates.
func (b *bench) alone() bool { return !b.j.Router.Guide.HasTemplates() }

// madeWith says in one sentence how the job is made.
func (b *bench) madeWith() string {
	if b.alone() {
		return "A machine grooves the board; there are no templates."
	}
	if b.swung() {
		return plural(len(b.r.Pivot.Circles), "circle") + " to swing, with one pivot bar."
	}
	text := plural(len(b.r.Cuts), "cut") + ", made with " + plural(len(b.r.Set.Panels), "panel") + " in " + plural(len(b.order), "set-up")
	if b.frame() != nil {
		text += ", all in one frame"
	}
	return text + "."
}

func (b *bench) filling() string {
	if n := len(b.j.Inlay.Strips); n > 0 {
		return ", for " + plural(n, "strip") + " side by side"
	}
	return ""
}

func (b *bench) unitNote() string {
	if b.u == unit.Inch {
		return "Lengths are in inches, with mm in brackets; places are in inches."
	}
	return "Lengths and places are in mm."
}

func (b *bench) has(path string) bool {
	return slices.ContainsFunc(b.r.Files, func(f build.File) bool { return f.Path == path })
}

// marked reports whether the panels' parts carry lettering.
func (b *bench) marked() bool {
	return slices.ContainsFunc(b.r.Parts, func(p sheet.Part) bool {
		return p.Panel != "" && slices.ContainsFunc(p.Sheet.Lines, func(l sheet.Line) bool { return l.Role == sheet.Mark })
	})
}

// floored reports whether a panel has a floor layer.
func (b *bench) floored(panel string) bool {
	return slices.ContainsFunc(b.r.Parts, func(p sheet.Part) bool { return p.Panel == panel && p.Ply == sheet.Floor })
}

// anyFloor reports whether the templates have floors at all.
func (b *bench) anyFloor() bool {
	return slices.ContainsFunc(b.r.Parts, func(p sheet.Part) bool { return p.Ply == sheet.Floor })
}
