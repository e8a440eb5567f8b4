package job

// Drawings as motifs: a file of lines, traced.

import (
	"errors"
	"math"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// RuleNoDrawing is the rule of the error that a drawing cannot be read.
const RuleNoDrawing = "drawing-unreadable"

// Traced is what was made of a drawing.
type Traced struct {
	Contours []geom.Contour // mm, where they lie
	Over     []work.Over    // what it shows of over and under
	SHA256   string         // of the file, in hexadecimal
}

// A Tracer makes lines and arcs of a drawing, by its path as it is written in the job. The
// error is that the file can't be read; what else is wrong is among the findings. One
// that looks at other things than its arguments and the file's content spoils jobs that are
// kept by their content.
type Tracer func(path string, p work.Tracing) (Traced, diag.Findings, error)

// A Source is a drawing that a job names.
type Source struct {
	File   string // as written in the job
	SHA256 string // of its bytes, in hexadecimal
}

// none traces nothing.
func none(string, work.Tracing) (Traced, diag.Findings, error) {
	return Traced{}, nil, errors.New("the job is read without the files about it")
}

// Drawings are the files of drawings that a job names, each once, in its order. What is
// wrong with the job is not looked for.
func Drawings(data []byte) (paths []string) {
	in, ok := conf.Open(&format, "", data)
	if !ok {
		return nil
	}
	named := map[string]bool{}
	motif := in.Root.Get("motif")
	if motif == nil {
		return nil
	}
	all := motif.Get("drawing")
	if all == nil {
		return nil
	}
	for _, t := range all.Items {
		if f := t.Get("file"); f != nil && f.Kind == conf.KindString && !named[f.Text] {
			named[f.Text] = true
			paths = append(paths, f.Text)
		}
	}
	return paths
}

var (
	kinkWords  = []string{"corner", "smooth"}
	weaveWords = []string{"drawn", "alternate"}
)

// drawingKeys are the keys of [[motif.drawing]].
var drawingKeys = []conf.Key{
	nameKey,
	{Name: "file", Is: conf.Text, Must: true, Example: conf.Typed{`"knot.svg"`}, Ask: "the drawing, SVG or DXF", Help: "the drawing, SVG or DXF, from the job file's folder; strapwork trace shows what is made of it"},
	{Name: "width", Is: conf.Length, Range: conf.Positive, Said: "as the drawing says", Quiet: true, Example: conf.Typed{"300", "12"}, Ask: "how wide the drawing's lines are, over all", Help: "how wide the drawn lines become, over all; of bands' edges, the edges"},
	{Name: "height", Is: conf.Length, Range: conf.Positive, Said: "as the drawing says", Quiet: true, Example: conf.Typed{"200", "8"}, Help: "how high they become, in place of width"},
	{Name: "unit", Is: conf.Word, Words: work.DrawingUnits(), Said: "as the drawing says", Quiet: true, Example: conf.Typed{`"mm"`}, Help: "what one unit of the drawing is, in place of width and height"},
	{Name: "layer", Is: conf.Text, Said: "all", Quiet: true, Example: conf.Typed{`"BAND"`}, Help: "takes one layer of the drawing alone; in an SVG the id of an outermost group"},
	{Name: "color", Is: conf.Text, Said: "all", Quiet: true, Example: conf.Typed{`"#ff0000"`}, Help: "takes the lines of one colour alone"},
	{Name: "tolerance", Is: conf.Length, Range: conf.From(leastTolerance, 5), Default: conf.Typed{"0.02", "0.001"}, Quiet: true, Example: conf.Typed{"0.02", "0.001"}, Ask: "how far lines and arcs may lie from the drawn ones", Help: "how far lines and arcs may lie from the drawn ones"},
	{Name: "center", Is: conf.Place, Said: "the origin", Quiet: true, Example: conf.Typed{"[0, 0]"}, Help: "where the drawing's middle goes: that of its turns if it falls on itself when it is turned, else of its outline"},
	{Name: "turn", Is: conf.Angle, Default: conf.Typed{"0"}, Quiet: true, Example: conf.Typed{"45"}, Help: "how far it is turned about its middle, counter-clockwise"},
	{Name: "edges", Is: conf.Flag, Default: conf.Typed{"false"}, Quiet: true, Help: "the drawn lines are the edges of bands: their middle is followed"},
	{Name: "kinks", Is: conf.Word, Words: kinkWords, Default: conf.Typed{`"corner"`}, Quiet: true, Help: "what turns of 0.5 to 7 degrees are where drawn curves meet"},
	{Name: "round", Is: conf.Length, Range: conf.NotNegative, Default: conf.Typed{"0"}, Quiet: true, Example: conf.Typed{"12", `"1/2"`}, Help: "radius of the fillets that corners get; 0 leaves them sharp"},
	{Name: "snap", Is: conf.Flag, Default: conf.Typed{"true"}, Quiet: true, Help: "radii that are nearly equal or nearly round become so, and a drawing that nearly falls on itself when turned or reflected does"},
	{Name: "weave", Is: conf.Word, Words: weaveWords, Default: conf.Typed{`"drawn"`}, Quiet: true, Help: `over and under are as drawn where the drawing shows them; "alternate" takes no notice`},
}

// leastTolerance in mm is finer than any drawing is exact to.
const leastTolerance = 1e-4

// trace reads a drawing, and makes lines and arcs of it.
func (r *reader) trace(d *drawn) []geom.Contour {
	p, ok := r.tracing(d)
	file := d.t.Get("file")
	if file == nil || p.Words.File == "" || !ok {
		return nil // reported
	}
	made, found, err := r.tracer(file.Text, p)
	if err != nil {
		r.Errorf(file, RuleNoDrawing, "%q cannot be read: %v", file.Text, err).Hintf("its path is taken from the job file's folder")
		return nil
	}
	r.sources = append(r.sources, Source{file.Text, made.SHA256})
	if r.Take(found); found.HasErrors() {
		return nil
	}
	for _, c := range made.Contours {
		r.reach(c, file)
	}
	for _, o := range made.Over {
		r.over = append(r.over, overDrawn{o, d.name})
	}
	return made.Contours
}

// tracing are the parameters; not ok where one is wrong, and reported.
func (r *reader) tracing(d *drawn) (work.Tracing, bool) {
	t := d.t
	var p work.Tracing
	p.Words = work.TraceWords{Key: d.key, File: r.drawingFile(t), Name: d.name}
	p.Layer, p.Color = t.Text("layer"), t.Text("color")
	p.Tolerance = t.Length("tolerance")
	p.Edges, p.Kinks, p.Snap = t.Flag("edges"), t.Word("kinks") == 1, t.Flag("snap")
	p.Weave = t.Word("weave") == 0
	p.Inches = r.Units == unit.Inch
	p.Round = t.Length("round")
	p.Size.Turn = t.Angle("turn")
	if t.Given("center") {
		p.Size.Center = point(t, "center")
	}
	given := ""
	for _, key := range []string{"width", "height", "unit"} {
		if !t.Given(key) {
			continue
		}
		if given != "" {
			r.Errorf(t.Get(key), ruleConflict, "%s and %s are both given", given, key).Hintf("remove one of them")
		}
		given = key
	}
	sizes := 0.0
	if t.Given("width") {
		p.Size.Width = t.Length("width")
		sizes += p.Size.Width
	}
	if t.Given("height") {
		p.Size.Height = t.Length("height")
		sizes += p.Size.Height
	}
	if t.Given("unit") {
		if p.Size.Unit = work.DrawingUnit(t.Word("unit")); p.Size.Unit == 0 {
			sizes = math.NaN()
		}
	}
	return p, !math.IsNaN(p.Tolerance+p.Round+p.Size.Turn+sizes+p.Size.Center.X+p.Size.Center.Y) && t.Word("kinks") >= 0 && t.Word("weave") >= 0
}

// drawingFile is the path as it is written: one may begin or end with space. "" where it is
// wrong, and reported.
func (r *reader) drawingFile(t conf.Section) string {
	path := t.Text("file")
	if v := t.Get("file"); v != nil && v.Kind == conf.KindString && v.Text == "" {
		r.Faultf(v, conf.BadValue, "file is empty").Hintf("%s", t.Hint("file"))
	}
	return path
}

// An overDrawn is what a drawing shows, and which drawing.
type overDrawn struct {
	work.Over
	name string
}

// shown is what drawings show of over and under, at each copy that groups and the motif
// make of them.
func (r *reader) shown(m work.Drawing) (all []work.Over) {
	var copies []geom.Similarity
	for k := range m.Copies {
		copies = append(copies, geom.TurningFraction(k, m.Copies))
	}
	for k := 0; k < m.Copies && m.Mirror; k++ {
		copies = append(copies, geom.MirrorX().Then(geom.TurningFraction(k, m.Copies)))
	}
	for _, o := range r.over {
		moves := []geom.Similarity{geom.Identity()}
		for g := r.drawn[o.name].in; g != nil; g = g.in {
			moves = thenEach(moves, g.copies)
		}
		for _, to := range thenEach(moves, copies) {
			way := to.Apply(o.Along).Sub(to.Apply(geom.Point{}))
			all = append(all, work.Over{At: to.Apply(o.At), Along: way.Unit(), Key: o.Key})
		}
	}
	return all
}

// thenEach is each move followed by each of others.
func thenEach(moves, others []geom.Similarity) (all []geom.Similarity) {
	for _, m := range moves {
		for _, o := range others {
			all = append(all, m.Then(o))
		}
	}
	return all
}
