package build

import (
	"bytes"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/inlay"
	"strapwork/pkg/paper"
	"strapwork/pkg/pdf"
	"strapwork/pkg/profile"
	"strapwork/pkg/work"
)

// ClientPath is the path of the sheet that shows a client the top to scale.
const ClientPath = "paper/inlay.pdf"

type clientIn struct {
	Strips made[inlay.Inlay]
	Board  *work.Board
	Whole  string    // what that is, where it is no board
	Joints []float64 // x of a table's
	On     paper.Options
}

// makeClient prints the client's sheet; an inlay of nothing has none.
func makeClient(in clientIn) (data []byte, found diag.Findings) {
	strips := in.Strips.Value
	if strips.Extent().Empty() {
		return nil, nil
	}
	c := paper.Client{Title: in.On.Block.Job, Top: strips.Top(in.On.Block.Job), Board: geom.EmptyBox(), Inlay: strips.Extent(), Whole: in.Whole, Joints: in.Joints}
	if in.Board != nil {
		c.Board, c.Thick = in.Board.Box(), in.Board.Thickness
	}
	for _, m := range strips.Materials() {
		c.Woods = append(c.Woods, paper.Swatch{Color: m.Color, Name: m.Name})
	}
	var b bytes.Buffer
	if err := pdf.Write(&b, paper.ClientSheet(c, in.On)); err != nil {
		found.Errorf("paper", profile.RulePaper, "the client's sheet can't be written: %v", err).
			Hintf("take larger paper, or build --only templates")
	}
	return b.Bytes(), found
}

// clientSheet makes the client's sheet an output.
func (w *writer) clientSheet() {
	in := clientIn{Strips: w.a.shown(w.Result), Board: w.Job.Board, On: w.PaperOptions()}
	if t := w.Job.Table; t != nil {
		in.Joints = w.Table.Joints
		if in.Whole = "Table"; slices.ContainsFunc(t.Sections, func(s work.Section) bool { return s.Loose }) {
			in.Whole = "Table with all leaves in,"
		}
		in.Board = &work.Board{Size: geom.Pt(t.Length(), t.Width), Thickness: t.Thickness, Grain: t.Grain}
	}
	p := ask(w.a.Graph, "client's sheet", in, makeClient)
	if w.Findings.Add(p.Found...); w.OK() && p.Value != nil {
		w.Files = append(w.Files, File{Path: ClientPath, Kind: PDF, Role: "client", Data: p.Value})
	}
}
