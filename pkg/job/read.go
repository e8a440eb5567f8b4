package job

import (
	"math"
	"path/filepath"
	"slices"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Rules of this package's findings, besides those of package conf.
const (
	rulePath     = "bad-path"
	ruleScaled   = "radius-scaled"
	ruleConflict = "keys-conflict"
	ruleFit      = "does-not-fit"
	ruleThinWeb  = "thin-web"
)

// Unreadable reports whether findings of Read say that the file could not be
// read: too large, not UTF-8, or not TOML.
func Unreadable(fs diag.Findings) bool { return format.Unreadable(fs) }

// Read reads a job file; file is its name for positions. The findings hold
// all errors, in the order of the file, and then warnings; with any error the job
// is nil. What was assumed is in the job's Notes.
//
// No other file is opened: of a job with drawings that is an error.
func Read(file string, data []byte) (*Job, diag.Findings) { return ReadWith(file, data, nil) }

// ReadWith is Read where the drawings that the job names are traced.
func ReadWith(file string, data []byte, by Tracer) (*Job, diag.Findings) {
	_, j, found := read(file, data, toMake, by)
	return whole(j, found)
}

// ReadForProgram is Read where nothing is made but what a machine needs: whatever
// the file's guide is, it is guide = "none", and nothing is asked of rider, templates,
// cutting and paper.
func ReadForProgram(file string, data []byte, by Tracer) (*Job, diag.Findings) {
	_, j, found := read(file, data, toMill, by)
	return whole(j, found)
}

// ReadForDrawing is Read where nothing is made but a picture of the motif: nothing is
// asked of tables that are missing, and the job is there whatever is wrong with it, as
// far as Title, Units, Motif, Weave and Inlay.Width go. The motif is what could be read
// of it, and the width 0 where it isn't known. The job is nil only if the file can't be
// read at all.
func ReadForDrawing(file string, data []byte, by Tracer) (*Job, diag.Findings) {
	_, j, found := read(file, data, toDraw, by)
	if j == nil {
		return nil, found
	}
	j.Motif.Elements = slices.DeleteFunc(j.Motif.Elements, func(e work.Element) bool { return !drawable(e.Contour) })
	if !(j.Inlay.Width > 0) {
		j.Inlay.Width = 0
	}
	return j, found
}

// drawable reports whether a contour is whole, whatever was wrong where it was read.
func drawable(c geom.Contour) bool {
	far := func(v geom.Vertex) bool {
		return !(max(math.Abs(v.X), math.Abs(v.Y)) <= conf.Farthest) || !(math.Abs(v.Bulge) <= 1)
	}
	return c.Len() > 0 && !slices.ContainsFunc(c.Vertices, far) &&
		!slices.ContainsFunc(c.Edges(), func(e geom.Edge) bool { return e.Length() < shortest })
}

// whole is a job in which nothing is wrong.
func whole(j *Job, found diag.Findings) (*Job, diag.Findings) {
	if found.HasErrors() {
		return nil, found
	}
	return j, found
}

// purpose is what a file is read for.
type purpose int

const (
	toMake purpose = iota // all that it says
	toMill                // what a machine needs
	toDraw                // a picture of the motif
)

// reader turns the file into a Job.
type reader struct {
	*conf.Reader
	let  map[string]*name
	path []*name // of [let], each wanted by the one before

	points map[string]*spot
	spots  []*spot           // in the order of the file
	drawn  map[string]*drawn // the motif's tables by name
	trail  []*wanted         // of both, each wanted by the one before
	nested int               // how deep tables of points stand in one another
	about  []geom.Similarity // the motif's own copies
	pairs  int               // of lines and arcs that were held against one another
	tried  int               // of them, for hints

	inlay  work.Inlay  // the groove, and
	router work.Router // what cuts it, for patterns that are sized for it

	numbers map[string]work.Numbers // of patterns by name, before groups copy them

	sizes []float64 // of patterns that have none in the file, mm

	purpose purpose

	tracer  Tracer
	sources []Source
	over    []overDrawn // what drawings show, in the elements as drawn
}

// read returns the job whatever is wrong with it, as long as the file can be read.
func read(file string, data []byte, p purpose, by Tracer) (*reader, *Job, diag.Findings) {
	in, ok := conf.Open(&format, file, data)
	if !ok {
		return nil, nil, in.Findings()
	}
	r := &reader{Reader: in, purpose: p, tracer: by}
	if by == nil {
		r.tracer = none
	}
	in.Lookup, in.Names = r.lookup, r.names
	in.PointOf, in.Named = r.pointOf, r.named
	j := r.job()
	r.Notes.Sort()
	j.Notes = r.Notes
	return r, j, r.Findings()
}

// job goes through all tables, whatever is wrong in the ones before.
func (r *reader) job() *Job {
	top := r.Whole()
	j := &Job{File: r.Name, source: r.File}
	j.Units = r.readUnits(top)
	r.Units = j.Units
	r.readLet(top)
	r.readPoints(top)
	j.Title = r.readTitle(top)
	r.readTools(top, j)
	j.Motif = r.readMotif(top)
	j.Weave = r.readWeave(top)
	j.Weave.Drawn, j.Drawings = r.shown(j.Motif), r.sources
	j.Board = r.readBoard(top)
	if j.Table = r.readTable(top); j.Table != nil {
		b := j.Table.Board()
		j.Board = &b
	}
	j.Wood, j.Seasons = r.readWood(top)
	if r.purpose == toDraw && !top.Given("router") {
		return j // what else there is depends on it
	}
	if j.Router.Guide.HasTemplates() {
		j.Template = r.readTemplate(top, j.Router.Guide)
		j.Cutting = r.readCutting(top)
	} else {
		for _, key := range []string{"template", "cutting"} {
			r.idle(top, key, "no templates are made")
		}
	}
	if j.Router.Guide.HasTemplates() || r.purpose != toMill {
		j.Paper = r.readPaper(top) // the strips are printed in any case
	}
	j.Program = r.readProgram(top)
	j.Stock, j.Clamping = r.readStock(top, j.Inlay)
	r.fits(j)
	return j
}

// readTools reads what cuts the groove, and how wide: patterns are sized for it. What a
// file lacks that is only drawn is as bad as what is wrong.
func (r *reader) readTools(top conf.Section, j *Job) {
	j.Inlay, j.Router = work.Inlay{Width: bad, Depth: bad}, work.Router{Bit: bad, RiderDiameter: bad}
	if r.purpose != toDraw || top.Given("inlay") {
		j.Inlay = r.readInlay(top)
	}
	if r.purpose != toDraw || top.Given("router") {
		j.Router = r.readRouter(top)
	}
	r.inlay, r.router = j.Inlay, j.Router
}

func (r *reader) readUnits(top conf.Section) unit.System {
	if !top.Given("units") {
		r.FaultAt(conf.Top, conf.Missing, "units is missing: what does a bare number mean?").Hintf(`write units = "mm" or units = "in" at the top`)
		return unit.MM
	}
	if top.Word("units") == 1 {
		return unit.Inch
	}
	return unit.MM
}

func (r *reader) readTitle(top conf.Section) string {
	if top.Given("title") {
		return top.Text("title")
	}
	name := filepath.Base(filepath.ToSlash(r.Name))
	title := strings.TrimSuffix(name, filepath.Ext(name))
	r.NoteAt(conf.Top, conf.RuleAssumed, "no title: %q is used", title)
	return title
}

// idle notes a key that has no effect since the guide is none; where a file is only
// read for its program, nothing is wrong with what is there for templates.
func (r *reader) idle(s conf.Section, key, why string) {
	if r.purpose != toMill {
		s.NoEffect(key, `guide is "none", and `+why)
	}
}

// show is a length in mm as the file's maker writes it.
func (r *reader) show(mm float64) string { return unit.Len(mm).In(r.Units) }

// typed is a length as the file's maker types it after a key.
func (r *reader) typed(q unit.Quantity) string { return q.Typed().In(r.Units) }
