package build

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/dxf"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/inlay"
	"strapwork/pkg/motif"
	"strapwork/pkg/profile"
	"strapwork/pkg/proof"
	"strapwork/pkg/sheet"
	"strapwork/pkg/svg"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Options say how Build writes. The zero value writes everything as R2000.
type Options struct {
	Version  dxf.Version
	Bare     bool              // leave notes out of drawings for machines
	Only     Want              // leave out what isn't wanted; 0 wants everything
	Paper    string            // to print patterns on in place of the job's: a size's name or a roll
	Separate bool              // write a file of patterns for each part
	Nest     bool              // put the parts on sheets of the bed's size
	Numbers  bool              // name the crossings of patterns in the picture of the inlay
	Step     func(what string) // is called with what comes next, for progress; may be nil
	Dropped  func() bool       // whether nobody waits for the answer any more, asked at each step and while a plan is made; may be nil
}

// Want is a set of outputs.
type Want int

const (
	// Templates are the drawings for the shop that cuts.
	Templates Want = 1 << iota
	// PaperPatterns are the parts and the groove to print at full size.
	PaperPatterns
	// Programs groove the board with a machine.
	Programs
	// Preview is the page on which to watch it, and the routing by hand.
	Preview
)

func (o Options) wants(w Want) bool { return o.Only == 0 || o.Only&w != 0 }

// forProgram reports whether nothing is wanted that guides a router by hand, so that
// nothing is asked of riders and walls.
func (o Options) forProgram() bool {
	return o.Only != 0 && o.wants(Programs) && !o.wants(Templates) && !o.wants(PaperPatterns)
}

// refuseTemplates reports outputs that were asked for and that a job without
// templates doesn't have.
func (o Options) refuseTemplates() (found diag.Findings) {
	var asked []unit.Text
	for _, a := range []struct {
		yes  bool
		what string
	}{
		{o.Only != 0 && o.wants(Templates), "templates"},
		{o.Only != 0 && o.wants(PaperPatterns), "patterns on paper"},
		{o.Nest, "parts to put on sheets"},
	} {
		if a.yes {
			asked = append(asked, unit.Say("%s", a.what))
		}
	}
	if len(asked) > 0 {
		found.Errorf("router.guide", "no-templates", "guide is \"none\", so there are no %s", unit.List(asked)).
			Hintf("leave out what asks for them, or write --only program,preview; for templates write what rides them: guide = %s", work.Either(work.Guides(work.Guide.HasTemplates)))
	}
	return found
}

// partDrawing reports whether a file is a drawing to cut from.
func partDrawing(f File) bool {
	return f.Kind == DXF || f.Kind == SVG && f.Role != setUpRole && f.Role != stepsRole && f.Role != piecesRole && f.Role != "inlay"
}

// Build is a graph's Build where nothing is asked afterwards.
func Build(file string, data []byte, readFile ReadFile, o Options) Result {
	return NewGraph(readFile).Build(file, data, o)
}

// Build checks a job as Check does and, if that found no error, draws the
// template sheets, writes them, reads the DXF files back and proves that what
// was read cuts nothing but the groove. Sheets that a machine could not cut,
// and an overcut of more than groove.Overcut, are errors. With any error there
// are no Files.
func (g *Graph) Build(file string, data []byte, o Options) Result {
	return g.answer(file, func() Result { return g.asking(o).build(file, data) })
}

func (a *asking) build(file string, data []byte) Result {
	r := a.check(file, data)
	r.Alone, r.Revision = a.forProgram(), revision(data, r.Job)
	if r.Job != nil && (r.templates() || !a.forProgram()) {
		var found diag.Findings
		r.Paper, found = otherPaper(r.Paper, a.Options.Paper)
		r.Findings.Add(found...)
	}
	switch {
	case r.Job == nil:
	case r.templates():
		if a.Nest {
			r.Findings.Add(r.wantBed()...)
		}
	case !a.forProgram():
		r.Findings.Add(a.refuseTemplates()...)
	}
	if r.Reached == Planned && r.OK() {
		a.write(&r)
	}
	return r
}

// Kerf is the full width in mm of the burnt line that the outlines allow for:
// 0 when they are drawn at true size, because the shop allows for it or
// nothing is reported about it.
func (r Result) Kerf() float64 {
	if c := r.Job.Cutting; c != nil && c.KerfBy == work.KerfByMe {
		return c.Kerf
	}
	return 0
}

// A writer makes some of a job's outputs, side by side with others. Its result is that
// of Check, with what it has made and found itself and nothing that another has.
type writer struct {
	a *asking
	Result
	layout dxf.Options
	marked made[template.Set] // the set with its marks
}

func (a *asking) writer(r Result) *writer {
	r.Findings = nil
	return &writer{a: a, Result: r, layout: layout(r.Shop, a.Options), marked: a.set}
}

// write draws, writes and proves.
func (a *asking) write(r *Result) {
	sheets, picture, programs := a.writer(*r), a.writer(*r), a.writer(*r)
	together(
		func() {
			if r.templates() {
				sheets.writeTemplates()
			}
		},
		func() {
			if a.wants(Programs) || a.wants(Preview) {
				programs.writePrograms(r.Findings)
			}
		},
		func() {
			picture.listStrips()
			if a.Only == 0 {
				picture.picture()
				picture.arrangements()
				picture.numberPieces()
			}
			if a.wants(PaperPatterns) && a.wants(Templates) {
				picture.stripsForMachine()
			}
			if a.wants(PaperPatterns) && r.templates() {
				picture.clientSheet()
			}
			if a.wants(Templates) {
				picture.drawSections()
			}
			if a.wants(PaperPatterns) {
				picture.stripsOnPaper()
				picture.printSticks()
			}
		},
	)
	r.Set, r.Parts, r.Proof, r.SheetNeeds, r.Sheets = sheets.Set, sheets.Parts, sheets.Proof, sheets.SheetNeeds, sheets.Sheets
	if r.take(sheets); !r.OK() {
		return
	}
	r.Grooving = programs.Grooving
	if !r.templates() {
		r.Proof = programs.Proof
	}
	r.Figures = picture.Figures
	r.take(picture)
	if r.take(programs); !r.OK() {
		r.Files = nil
		return
	}
	if !a.wants(Templates) {
		r.Files = slices.DeleteFunc(r.Files, partDrawing)
	}
	slices.SortFunc(r.Files, func(a, b File) int { return cmp.Compare(a.Path, b.Path) })
	r.Reached = Proved
}

// take takes what a writer found and made.
func (r *Result) take(w *writer) {
	r.Findings.Add(w.Findings...)
	r.Pictures = append(r.Pictures, w.Pictures...)
	if r.Files = append(r.Files, w.Files...); !r.OK() {
		r.Files = nil
	}
}

// writeTemplates writes and proves all that is for routing by hand.
func (w *writer) writeTemplates() {
	w.a.Step("drawing the sheets")
	if w.Job.Router.Guide == work.GuidePivot {
		w.writeBar()
	} else {
		w.writePanels()
	}
	if !w.OK() {
		return
	}
	w.writeAids()
	w.writeStock()
	w.setUpPictures()
	if w.a.wants(PaperPatterns) {
		w.print()
	}
}

// writePanels writes the panels' parts and proves their openings.
func (w *writer) writePanels() {
	w.mark()
	w.Parts = w.drawable(w.parts(w.Kerf()))
	read := map[string][]geom.Contour{} // openings of the walls, by panel
	for i, data := range w.makeParts(w.Parts) {
		p := w.Parts[i]
		if data == nil || !hasTracks(p) {
			continue
		}
		found, err := openings(data, w.layout)
		if err != nil {
			w.unread(p, err)
		}
		read[p.Panel] = append(read[p.Panel], found...) // a large panel is two parts
	}
	if w.OK() {
		w.prove(read)
	}
}

// drawable returns parts less the marks that no machine can draw, and reports
// these: a mark refuses no job.
func (w *writer) drawable(parts []sheet.Part) []sheet.Part {
	done := make([]sheet.Part, len(parts))
	for i, p := range parts {
		var left sheet.Faults
		p.Sheet, left = sheet.WithoutFaultyMarks(p.Sheet)
		done[i] = p
		for _, f := range left {
			w.Findings.Warnf("template", "mark-undrawn", "a mark on the sheet %s can't be drawn and is left out: %s", p.Sheet.Name, f.Message).
				SetAt(f.At.X, f.At.Y).Hintf("write it on the part by hand")
		}
	}
	return done
}

// makeParts adds the files of parts that a machine can cut, and says why others
// can't be. It returns the DXF of each, nil where there is none.
func (w *writer) makeParts(parts []sheet.Part) [][]byte {
	var all []drawing
	for _, p := range parts {
		proto := File{Path: w.a.folder() + p.Sheet.Name, Role: p.Ply.String(), Panel: p.Panel}
		all = append(all, drawing{proto, p.Sheet, sheet.Check(p.Sheet)})
	}
	return w.writeDrawings(all)
}

func (w *writer) unread(p sheet.Part, err error) {
	w.Findings.Errorf("template", "dxf", "the sheet %s can't be read back: %v", p.Sheet.Name, err)
}

// hasTracks reports whether a part is a wall, or half of one, with openings.
func hasTracks(p sheet.Part) bool {
	return p.Ply == sheet.Wall &&
		slices.ContainsFunc(p.Sheet.Lines, func(l sheet.Line) bool { return l.Role == sheet.Opening })
}

// layout is how the shop wants its drawings.
func layout(shop profile.Shop, o Options) dxf.Options {
	layout := dxf.Options{Version: o.Version, Units: dxf.Millimetres, Bare: o.Bare}
	if shop.Units == unit.Inch {
		layout.Units = dxf.Inches
	}
	if shop.Name == "" {
		return layout // no shop: the format's own colours distinguish the roles
	}
	layout.Layers = map[sheet.Role]dxf.Layer{}
	for _, role := range sheet.Roles() {
		l := shop.Layer(role.String())
		layout.Layers[role] = dxf.Layer{Name: l.Name, Color: l.Color}
	}
	return layout
}

// A drawing is a sheet to write: its two files are like proto but for the ending of
// the path.
type drawing struct {
	proto  File
	sheet  sheet.Sheet
	faults sheet.Faults // for which no machine can cut it
}

// writeDrawings adds the files of sheets, and reports those that can't be cut or
// written. It returns the DXF of each, nil where there is none.
func (w *writer) writeDrawings(all []drawing) [][]byte {
	done := each(all, func(d drawing) made[drawn] {
		if len(d.faults) > 0 {
			return made[drawn]{}
		}
		return ask(w.a.Graph, "sheet", sheetIn{d.sheet, w.layout, w.Job.Units == unit.Inch}, drawSheet)
	})
	out := make([][]byte, len(all))
	for i, d := range all {
		for _, f := range d.faults {
			w.Findings.Errorf("template", "sheet-"+f.Rule.String(), "the sheet %s can't be cut: %s", d.sheet.Name, f.Message).
				SetAt(f.At.X, f.At.Y).Hintf("change the rider, template.web or the motif a little")
		}
		w.Findings.Add(done[i].Found...)
		if out[i] = done[i].Value.dxf; out[i] == nil {
			continue
		}
		f, g := d.proto, d.proto
		f.Path, f.Kind, f.Data = d.proto.Path+".dxf", DXF, done[i].Value.dxf
		g.Path, g.Kind, g.Data = d.proto.Path+".svg", SVG, done[i].Value.svg
		w.Files = append(w.Files, f, g)
	}
	return out
}

type sheetIn struct {
	Sheet  sheet.Sheet
	Layout dxf.Options
	Inches bool // on the scale bar
}

// Drawn is a sheet in both formats.
type drawn struct{ dxf, svg []byte }

func drawSheet(in sheetIn) (_ drawn, found diag.Findings) {
	var d, v bytes.Buffer
	err := dxf.Write(&d, in.Sheet, in.Layout)
	if err == nil {
		err = svg.WriteSheet(&v, in.Sheet, svg.Options{Bare: in.Layout.Bare, NoScale: in.Layout.Bare, Inches: in.Inches})
	}
	if err != nil {
		found.Errorf("cutting.profile", "dxf", "the sheet %s can't be written: %v", in.Sheet.Name, err).
			Hintf("check the layers of the profile")
		return drawn{}, found
	}
	return drawn{d.Bytes(), v.Bytes()}, nil
}

// openings reads a wall sheet's file and returns its openings in mm.
func openings(data []byte, layout dxf.Options) ([]geom.Contour, error) {
	found, err := closedLines(data, layout)
	if err != nil {
		return nil, err
	}
	return within(found, layout)
}

// closedLines reads a sheet's file and returns the closed contours on the
// openings' layer, in mm.
func closedLines(data []byte, layout dxf.Options) ([]geom.Contour, error) {
	d, err := dxf.Read(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	var found []geom.Contour
	for _, l := range d.Lines {
		if l.Layer == layerOf(layout, sheet.Opening) && l.Contour.Closed {
			found = append(found, geom.Scaling(d.Units.MM()).Contour(l.Contour))
		}
	}
	return found, nil
}

// within returns the openings among one part's contours. Where the shop has
// openings and the edge on one layer, the edge is the one round all the others.
func within(found []geom.Contour, layout dxf.Options) ([]geom.Contour, error) {
	layer := layerOf(layout, sheet.Opening)
	if layer == layerOf(layout, sheet.Edge) && len(found) > 0 {
		size := func(c geom.Contour) float64 { s := c.Bounds().Size(); return s.X * s.Y }
		edge := slices.MaxFunc(found, func(a, b geom.Contour) int { return cmp.Compare(size(a), size(b)) })
		i := slices.IndexFunc(found, func(c geom.Contour) bool { return size(c) == size(edge) })
		found = slices.Delete(slices.Clone(found), i, i+1)
	}
	if len(found) == 0 {
		return nil, fmt.Errorf("there is no opening on layer %q", layer)
	}
	return found, nil
}

func layerOf(layout dxf.Options, role sheet.Role) string {
	if name := layout.Layers[role].Name; name != "" {
		return name
	}
	return role.String()
}

type proofIn struct {
	Groove made[groove.Groove]
	Placed []proof.Placed
	Beside float64 // how far the cuts are from the lines, mm
}

func makeProof(in proofIn) (proof.Proof, diag.Findings) {
	return proof.Prove(in.Groove.Value, in.Placed, in.Beside), nil
}

// prove rolls the rider through the openings that were read back. They are those of
// before, and so is the proof, if a change moved none of them.
func (w *writer) prove(read map[string][]geom.Contour) {
	w.a.Step("rolling the router through what was written")
	in := proofIn{Groove: w.a.groove, Beside: w.Kerf() / 2}
	for _, p := range w.Set.Panels {
		in.Placed = append(in.Placed, proof.Placed{ID: p.ID, Openings: read[p.ID], Positions: p.Positions})
	}
	w.Proof = ask(w.a.Graph, "proof", in, makeProof).Value
	w.judge()
	w.reportMissed()
}

// judge reports a proof that doesn't hold.
func (w *writer) judge() {
	if at := w.Proof.OvercutAt; !w.Proof.Holds() {
		w.Findings.Errorf("router.rider", "overcut", "the templates would let the router cut %s beyond the groove at %s", unit.Len(w.Proof.OvercutMax), motif.Place(at)).
			SetAt(at.X, at.Y).Hintf("nothing was written; take a smaller rider, or make the bend there wider (limit %s)", unit.Len(groove.Overcut))
	}
}

// WhyMissed says why templates leave what the bit could reach: a cut keeps between
// its own strand's walls, and a track that is all but as wide as the bit's own way
// ends round.
func (r Result) WhyMissed() unit.Text {
	const other = "each cut keeps between its own strand's two walls, and another groove makes the room there"
	if k := r.Groove.Size.Offset(); r.Groove.Size.Thin() && k > 0 {
		return unit.Say("the bit is only %s narrower than the groove, so that the tracks' ends are round and stop short in sharp corners; or %s", unit.Len(2*k), other)
	}
	return unit.Say(other)
}

// reportMissed warns of what the templates leave though the bit could reach it.
func (w *writer) reportMissed() {
	p := w.Proof
	if p.MissedMax == 0 {
		return
	}
	n := 0
	for _, l := range p.Leftovers {
		if l.MissedDepth > 0 {
			n++
		}
	}
	w.Findings.Warnf("router.rider", "left-in-reach", "the templates leave %s of the groove that the bit could reach, in %d of the places for the chisel, up to %s from what is cut, furthest at %s: %s",
		unit.Area(p.MissedArea), n, unit.Len(p.MissedMax), motif.Place(p.MissedAt), w.WhyMissed()).SetAt(p.MissedAt.X, p.MissedAt.Y).
		Hintf("pare it with the chisel as setup.md lists it; or move the corner or end off the other groove")
}

type pictureIn struct {
	Strips  made[inlay.Inlay]
	Title   string
	Numbers []work.Numbers
}

func makePicture(in pictureIn) (_ drawnPicture, found diag.Findings) {
	pic := in.Strips.Value.Picture(in.Title, in.Numbers...)
	data, err := writePicture(pic)
	if err != nil {
		found.Errorf("inlay", "picture", "the picture of the inlay can't be drawn: %v", err).
			Hintf("build --only templates leaves it out")
	}
	return drawnPicture{pic, data}, found
}

// inlayPicture draws the finished inlay alone.
func (w *writer) inlayPicture(numbers []work.Numbers) made[drawnPicture] {
	return ask(w.a.Graph, "picture", pictureIn{w.a.shown(w.Result), w.Job.Title, w.onTop(numbers)}, makePicture)
}

// picture makes the picture of the finished inlay, with its details, an output of its own.
func (w *writer) picture() {
	const path = "inlay.svg"
	in := w.a.detail(w.Result)
	in.pictureIn = pictureIn{w.a.shown(w.Result), w.Job.Title, w.onTop(w.a.numbers(&w.Result))}
	p := ask(w.a.Graph, "inlay", in, makeDetailed)
	if w.Findings.Add(p.Found...); w.OK() {
		w.addPicture(path, "inlay", p.Value)
	}
}
