package job

import (
	"path/filepath"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
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
func Read(file string, data []byte) (*Job, diag.Findings) {
	_, j, found := read(file, data, false)
	return j, found
}

// ReadForProgram is Read where nothing is made but what a machine needs: whatever
// the file's guide is, it is guide = "none", and nothing is asked of rider, templates,
// cutting and paper.
func ReadForProgram(file string, data []byte) (*Job, diag.Findings) {
	_, j, found := read(file, data, true)
	return j, found
}

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
	pairs  int               // of lines and arcs that were held against one another

	inlay  work.Inlay  // the groove, and
	router work.Router // what cuts it, for patterns that are sized for it

	sizes []float64 // of patterns that have none in the file, mm

	forProgram bool // only what a machine needs is made from the file
}

func read(file string, data []byte, forProgram bool) (*reader, *Job, diag.Findings) {
	in, ok := conf.Open(&format, file, data)
	if !ok {
		return nil, nil, in.Findings()
	}
	r := &reader{Reader: in, forProgram: forProgram}
	in.Lookup, in.Names = r.lookup, r.names
	in.PointOf, in.Named = r.pointOf, r.named
	j := r.job()
	r.Notes.Sort()
	found := r.Findings()
	if found.HasErrors() {
		return r, nil, found
	}
	j.Notes = r.Notes
	return r, j, found
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
	j.Inlay = r.readInlay(top)
	j.Router = r.readRouter(top)
	r.inlay, r.router = j.Inlay, j.Router
	j.Motif = r.readMotif(top)
	j.Weave = r.readWeave(top)
	j.Board = r.readBoard(top)
	if j.Router.Guide.HasTemplates() {
		j.Template = r.readTemplate(top, j.Router.Guide)
		j.Cutting = r.readCutting(top)
		j.Paper = r.readPaper(top)
	} else {
		for _, key := range []string{"template", "cutting", "paper"} {
			r.idle(top, key, "no templates are made")
		}
	}
	j.Program = r.readProgram(top)
	j.Clamping = r.readStock(top)
	r.fits(j)
	return j
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
	if !r.forProgram {
		s.NoEffect(key, `guide is "none", and `+why)
	}
}

// show is a length in mm as the file's maker writes it.
func (r *reader) show(mm float64) string { return unit.Len(mm).In(r.Units) }

// typed is a length as the file's maker types it after a key.
func (r *reader) typed(q unit.Quantity) string { return q.Typed().In(r.Units) }
