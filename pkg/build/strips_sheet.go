package build

import (
	"bytes"

	"strapwork/pkg/cutlist"
	"strapwork/pkg/diag"
	"strapwork/pkg/dxf"
	"strapwork/pkg/fullsize"
	"strapwork/pkg/inlay"
	"strapwork/pkg/motif"
	"strapwork/pkg/paper"
	"strapwork/pkg/pdf"
	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
)

// The paths of the strips at full size and of their labels.
const (
	StripSheetPath = "paper/strips.pdf" // with what strips.md says; made by pkg/report
	StripDXFPath   = "strips/strips.dxf"
	LabelsPath     = "paper/labels.pdf"
)

// StripSheetRole is the role of the strips at full size.
const StripSheetRole = "strip-sheet"

type figuresIn struct {
	Params cutlist.Params
	Strips made[inlay.Inlay]
	Motif  made[motif.Motif]
}

// drawnStrips are the kinds of pieces, drawn at full size, and the list that they are of.
type drawnStrips struct {
	list    cutlist.List
	figures []fullsize.Figure
}

func drawFigures(in figuresIn) (d drawnStrips, _ diag.Findings) {
	d.list = cutlist.New(in.Params, in.Strips.Value, in.Motif.Value)
	d.figures = fullsize.Figures(d.list, in.Motif.Value)
	return d, nil
}

// stripFigures draws the kinds of pieces at full size.
func (w *writer) stripFigures() made[drawnStrips] {
	return ask(w.a.Graph, "strips at full size", figuresIn{w.a.listParams(w.Result), w.a.strips, w.a.laid}, drawFigures)
}

// stripsOnPaper makes what of the strips is printed; the sheet itself is the report's, which
// has the text for it.
func (w *writer) stripsOnPaper() {
	drawn := w.stripFigures()
	if w.Figures = drawn.Value.figures; len(w.Figures) == 0 {
		return
	}
	p := ask(w.a.Graph, "labels", labelsIn{drawn, w.PaperOptions()}, makeLabels)
	if w.Findings.Add(p.Found...); w.OK() {
		w.Files = append(w.Files, File{Path: LabelsPath, Kind: PDF, Role: "labels", Data: p.Value})
	}
}

type labelsIn struct {
	Drawn made[drawnStrips]
	On    paper.Options
}

func makeLabels(in labelsIn) (data []byte, found diag.Findings) {
	d := in.Drawn.Value
	pieces, bags := fullsize.Tags(d.figures, d.list, in.On.Units)
	var b bytes.Buffer
	if err := pdf.Write(&b, paper.TagSheet(in.On.Block.Job+" - labels", pieces, bags, in.On)); err != nil {
		found.Errorf("paper", profile.RulePaper, "the labels can't be written: %v", err).
			Hintf("take larger paper, or build --only templates")
	}
	return b.Bytes(), found
}

type stripDXFIn struct {
	Drawn  made[drawnStrips]
	Units  unit.System
	Layout dxf.Options
}

// A stripDXF is the drawing of the strips, and the first number of each kind that is left out.
type stripDXF struct {
	data []byte
	left []int
}

func makeStripDXF(in stripDXFIn) (out stripDXF, found diag.Findings) {
	s, left := fullsize.Sheet(in.Drawn.Value.figures, in.Units)
	for _, f := range left {
		out.left = append(out.left, f.Numbers...)
	}
	if fullsize.Parts(s) == 0 {
		return out, nil
	}
	var b bytes.Buffer
	if err := dxf.Write(&b, s, in.Layout); err != nil {
		found.Errorf("cutting.profile", "dxf", "the sheet %s can't be written: %v", s.Name, err).
			Hintf("check the layers of the profile")
		return out, found
	}
	out.data = b.Bytes()
	if _, err := dxf.Read(bytes.NewReader(out.data)); err != nil {
		found.Errorf("inlay", "dxf", "the sheet %s can't be read back: %v", s.Name, err)
	}
	return out, found
}

// stripsForMachine makes the drawing of the strips an output.
func (w *writer) stripsForMachine() {
	d := ask(w.a.Graph, "drawing of the strips", stripDXFIn{w.stripFigures(), w.Job.Units, w.layout}, makeStripDXF)
	w.Findings.Add(d.Found...)
	if left := d.Value.left; len(left) > 0 {
		w.Findings.Warnf("inlay", "strip-undrawn", "%s has no outline of: %s: too small or too sharp for a machine to follow", StripDXFPath, cutlist.Numbers(left)).
			Hintf("cut these by the lengths and angles in strips.csv")
	}
	if w.OK() && d.Value.data != nil {
		w.Files = append(w.Files, File{Path: StripDXFPath, Kind: DXF, Role: StripSheetRole, Data: d.Value.data})
	}
}
