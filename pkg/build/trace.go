package build

import (
	"crypto/sha256"
	"encoding/hex"
	"path/filepath"

	"strapwork/pkg/diag"
	"strapwork/pkg/drawing/from"
	"strapwork/pkg/geom"
	"strapwork/pkg/sketch"
	"strapwork/pkg/trace"
	"strapwork/pkg/unit"
)

// A Trace is what was made of a drawing, to read, to edit and to look at.
type Trace struct {
	trace.Traced
	Findings diag.Findings
	SHA256   string // of the drawing, in hexadecimal
	TOML     string // a job's motif; empty where nothing could be made of the drawing
	Picture  []byte // SVG: the drawing, and over it what was made of it
}

// OK reports whether the drawing was traced.
func (t Trace) OK() bool { return !t.Findings.HasErrors() }

// TraceDrawing traces a drawing. What stands in the way of a motif is a warning here:
// the elements are there to be changed. step gets what comes next, for progress.
func TraceDrawing(file string, data []byte, title string, p trace.Params, step func(what string)) (t Trace) {
	step("reading " + file)
	sum := sha256.Sum256(data)
	t.SHA256 = hex.EncodeToString(sum[:])
	p.Words.File, p.Words.Flags = file, true
	read, found := from.File(file, data)
	t.Findings.Add(found...)
	if t.OK() {
		step("following the lines of " + file)
		t.Traced, found = trace.Trace(read, p)
		t.Findings.Add(found...)
	}
	if t.OK() {
		t.Findings.Add(asWarnings(file, t.Report.Trouble)...)
		t.TOML = t.Traced.TOML(title)
	}
	t.Findings = t.Findings.In(unit.MM).InOrder().Shorten()
	if t.OK() {
		step("drawing the picture")
		picture, err := writePicture(t.sketch(file).Picture())
		if err != nil {
			t.Findings.ErrorAt(diag.Position{File: file}, "picture", "the picture can't be drawn: %v", err)
		}
		t.Picture = picture
	}
	return t
}

// asWarnings are findings about the motif as warnings about the drawing, notes left out.
func asWarnings(file string, found diag.Findings) (out diag.Findings) {
	for _, f := range found {
		if f.Severity == diag.Note {
			continue
		}
		f.Severity, f.Key, f.Pos, f.Cures = diag.Warning, "", diag.Position{File: file}, nil
		out.Add(f)
	}
	return out
}

// insetMost is how many places are shown again, larger.
const insetMost = 3

// sketch is the drawing and what was made of it, over one another.
func (t Trace) sketch(file string) sketch.Sketch {
	s := sketch.Sketch{Title: "Trace of " + filepath.Base(filepath.ToSlash(file)), Units: unit.MM, Axes: true}
	for _, line := range t.Report.Lines() {
		s.Lines = append(s.Lines, line.In(unit.MM))
	}
	var made []geom.Contour
	for k := range t.Copies {
		for _, e := range t.Elements {
			c := t.Turned(e.Contour, k)
			made = append(made, c)
			if at, _ := c.At(c.Length() / 2); k == 0 {
				s.Names = append(s.Names, sketch.Name{Text: e.Name, Near: []geom.Point{at}})
			}
		}
	}
	s.Layers = []sketch.Layer{
		{Style: sketch.Given, Lines: polylines(t.Drawn), Legend: "as drawn"},
		{Style: sketch.Made, Lines: made, Legend: "as traced"},
	}
	if len(t.Seen) > 0 {
		s.Layers[0].Style, s.Layers[0].Legend = sketch.Left, "edges as drawn"
		middles := sketch.Layer{Style: sketch.Given, Lines: polylines(t.Seen), Legend: "middles between them"}
		s.Layers = append(s.Layers[:1:1], middles, s.Layers[1])
	}
	for _, c := range t.Report.Corners {
		s.Signs = append(s.Signs, sketch.Sign{Kind: sketch.Corner, At: c.At})
	}
	for _, f := range t.Findings {
		if f.HasAt {
			s.Marks = append(s.Marks, sketch.Mark{Severity: f.Severity, At: geom.Pt(f.At[0], f.At[1]), Placed: true, Text: f.Said().In(unit.MM), Hint: f.Hint})
		}
	}
	s.Insets = t.insets()
	return s
}

func polylines(lines [][]geom.Point) (all []geom.Contour) {
	for _, line := range lines {
		c := geom.Contour{}
		for _, p := range line {
			c.Vertices = append(c.Vertices, geom.Vertex{Point: p})
		}
		all = append(all, c)
	}
	return all
}

// insets are the elements' worst places, the worst of all first, so large that what the
// trace is off can be seen.
func (t Trace) insets() (all []sketch.Inset) {
	used := map[int]bool{}
	for len(all) < insetMost {
		worst := -1
		for i, e := range t.Elements {
			if !used[i] && !e.Exact && (worst < 0 || e.Off > t.Elements[worst].Off) {
				worst = i
			}
		}
		if worst < 0 {
			break
		}
		used[worst] = true
		e := t.Elements[worst]
		all = append(all, sketch.Inset{At: e.At, Half: insetOffs * e.Off, Caption: unit.Say("%s is off by %s here", e.Name, unit.AtLeast(e.Off)).In(unit.MM)})
	}
	return all
}

// insetOffs is how far an inset reaches, in what the trace is off there.
const insetOffs = 12
