package build

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/profile"
	"strapwork/pkg/sketch"
	"strapwork/pkg/unit"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// Sketch is the picture of a motif; Result.Job is as job.ReadForDrawing gives it where
// the file has mistakes or lacks tables.
type Sketch struct {
	Result
	Picture []byte // SVG; nil if there is nothing to draw
	Marked  int    // findings that have their number in it
}

// Draw draws a job's motif, and what Check finds at its place; if not checked, without
// what is found in its panels, which take longest to plan. Of o it takes Numbers and
// Step. Where the job can't be checked, since it has mistakes or lacks tables that a
// drawing doesn't need, it draws what can be read of the motif, with what is found in that.
func (g *Graph) Draw(file string, data []byte, checked bool, o Options) (s Sketch) {
	s.Result = g.answer(file, func() Result {
		a := g.asking(Options{Step: o.Step, Numbers: o.Numbers})
		a.unplanned = !checked
		r := a.drawn(file, data)
		a.sketch(&r, &s)
		return r
	})
	return s
}

// sketch draws the motif of a result with all that was found, if there is any.
func (a *asking) sketch(r *Result, s *Sketch) {
	if r.Job == nil {
		return
	}
	numbers := a.numbers(r)
	r.tidy() // so that numbers go by what will be printed
	a.Step("drawing the motif")
	p := ask(a.Graph, "sketch", a.sketchIn(*r, numbers), makeSketch)
	r.Findings.Add(p.Found...)
	s.Picture, s.Marked = p.Value, r.placed()
}

// placed is how many findings have a place.
func (r Result) placed() (n int) {
	for _, f := range r.Findings {
		if f.HasAt {
			n++
		}
	}
	return n
}

// drawn takes a job as far as it can be checked, or its motif as far as it can be read.
func (a *asking) drawn(file string, data []byte) Result {
	read := ask(a.Graph, "drawing", jobIn{File: file, Data: data, Drawings: drawings(data, a.readFile)}, readDrawing)
	if !read.Found.HasErrors() {
		if r := a.check(file, data); r.Job != nil {
			return r
		}
	}
	r := Result{File: file, Shop: profile.Plain(), Job: read.Value}
	r.Findings.Add(read.Found...)
	if r.Job == nil || len(r.Job.Motif.Elements) == 0 {
		r.Job = nil
		return r
	}
	r.Findings.Add(r.Job.Notes...)
	r.Reached = Read
	a.strands(&r)
	a.woven(&r)
	return r
}

func readDrawing(in jobIn) (*job.Job, diag.Findings) {
	return job.ReadForDrawing(in.File, in.Data, in.trace)
}

// numbers are those of the job's crossings, if they are asked for.
func (o Options) numbers(r *Result) []work.Numbers {
	if !o.Numbers {
		return nil
	}
	if len(r.Job.Motif.Numbers) == 0 {
		r.Findings.Warnf("motif", "no-numbers", "there are no crossings to number").Hintf("those of motif.panel and motif.border are, for breaks")
	}
	return r.Job.Motif.Numbers
}

type sketchIn struct {
	Title    string
	Units    unit.System
	Width    float64
	Motif    made[motif.Motif]
	Weave    made[weave.Weave]
	Numbers  []work.Numbers
	Findings diag.Findings
	Joint    bool // the motif's origin lies on joints
}

func (a *asking) sketchIn(r Result, numbers []work.Numbers) sketchIn {
	return sketchIn{r.Job.Title, r.Job.Units, r.Job.Inlay.Width, a.motif, a.weave, numbers, r.Findings, r.Job.Table != nil && len(r.Job.Table.Stations) == 0}
}

func makeSketch(in sketchIn) (data []byte, found diag.Findings) {
	s := sketch.Of(sketch.Drawing{
		Title: in.Title, Units: in.Units, Width: in.Width, Motif: in.Motif.Value, Weave: in.Weave.Value, Numbers: in.Numbers, Findings: in.Findings,
	})
	if box := in.Motif.Value.Bounds(); in.Joint && !box.Empty() {
		line := geom.Chain(false, geom.Line(geom.Pt(0, box.Min.Y), geom.Pt(0, box.Max.Y)))
		s.Layers = append(s.Layers, sketch.Layer{Style: sketch.Parted, Lines: []geom.Contour{line}, Legend: "joint of two sections"})
	}
	data, err := writePicture(s.Picture())
	if err != nil {
		found.Errorf("motif", "picture", "the motif can't be drawn: %v", err)
		return nil, found
	}
	return data, found
}
