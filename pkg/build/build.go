package build

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"

	"strapwork/pkg/dxf"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/paper"
	"strapwork/pkg/proof"
	"strapwork/pkg/sheet"
	"strapwork/pkg/svg"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Options say how Build writes. The zero value writes everything as R2000.
type Options struct {
	Version dxf.Version
	Bare    bool              // leave notes out of drawings for machines
	Only    Want              // leave out what isn't wanted; 0 wants everything
	Paper   string            // to print patterns on in place of the job's: a size's name or a roll
	Nest    bool              // put the parts on sheets of the bed's size
	Step    func(what string) // is told what comes next, for progress; may be nil
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

// refuseTemplates tells of outputs that were asked for and that a job without
// templates doesn't have.
func (r *Result) refuseTemplates(o Options) {
	var asked []unit.Text
	for _, a := range []struct {
		yes  bool
		what string
	}{
		{o.Only != 0 && o.wants(Templates), "templates"},
		{o.Only != 0 && o.wants(PaperPatterns) || o.Paper != "", "patterns on paper"},
		{o.Nest, "parts to put on sheets"},
	} {
		if a.yes {
			asked = append(asked, unit.Say("%s", a.what))
		}
	}
	if len(asked) > 0 {
		r.Findings.Errorf("router.guide", "no-templates", "guide is \"none\", so there are no %s", unit.List(asked)).
			Hintf("leave out what asks for them, or write --only program,preview; for templates write what rides them: guide = \"base\", \"bushing\", \"bearing\" or \"pivot\"")
	}
}

// partDrawing reports whether a file is a drawing to cut from.
func partDrawing(f File) bool {
	return f.Kind == DXF || f.Kind == SVG && f.Role != setUpRole && f.Role != "inlay"
}

// Build checks a job as Check does and, if that found no error, draws the
// template sheets, writes them, reads the DXF files back and proves that what
// was read cuts nothing but the groove. Sheets that a machine could not cut,
// and an overcut of more than groove.Overcut, are errors. With any error there
// are no Files.
func Build(file string, data []byte, readFile ReadFile, o Options) Result {
	if o.Step == nil {
		o.Step = func(string) {}
	}
	read := job.Read
	if o.forProgram() {
		read = job.ReadForProgram
	}
	r := check(read, file, data, readFile, o.Step)
	r.Revision = revision(data)
	switch {
	case r.Job == nil:
	case r.templates():
		r.usePaper(o.Paper)
		if o.Nest {
			r.wantBed()
		}
	case !o.forProgram():
		r.refuseTemplates(o)
	}
	r.complete(o)
	return r
}

// complete writes what is planned, unless there was an error.
func (r *Result) complete(o Options) {
	if r.Reached == Planned && r.OK() {
		r.write(o)
		if !r.OK() {
			r.Files = nil
		}
	}
	r.tidy()
}

// Kerf is the full width in mm of the burnt line that the outlines allow for:
// 0 when they are drawn at true size, because the shop allows for it or
// nothing is told of it.
func (r Result) Kerf() float64 {
	if c := r.Job.Cutting; c != nil && c.KerfBy == work.KerfByMe {
		return c.Kerf
	}
	return 0
}

// write draws, writes and proves.
func (r *Result) write(o Options) {
	if r.templates() {
		if r.writeTemplates(o); !r.OK() {
			return
		}
	}
	if o.Only == 0 {
		r.picture()
	}
	if o.wants(Programs) || o.wants(Preview) {
		r.programs(o)
	}
	if !o.wants(Templates) {
		r.Files = slices.DeleteFunc(r.Files, partDrawing)
	}
	slices.SortFunc(r.Files, func(a, b File) int { return cmp.Compare(a.Path, b.Path) })
	r.Reached = Proved
}

// writeTemplates writes and proves all that is for routing by hand.
func (r *Result) writeTemplates(o Options) {
	o.Step("drawing the sheets")
	layout := r.layout(o)
	if r.Job.Router.Guide == work.GuidePivot {
		r.writeBar(layout, o)
	} else {
		r.writePanels(layout, o)
	}
	if !r.OK() {
		return
	}
	r.writeAids(layout, o)
	r.writeStock(layout, o)
	r.setUpPictures()
	if o.wants(PaperPatterns) {
		r.print(o)
	}
}

// writePanels writes the panels' parts and proves their openings.
func (r *Result) writePanels(layout dxf.Options, o Options) {
	r.mark()
	r.Parts = r.drawable(r.Set.Parts(r.Job.Template, r.Groove.Size, r.Kerf()))
	read := map[string][]geom.Contour{} // openings of the walls, by panel
	for _, p := range r.Parts {
		data, ok := r.makePart(p, layout, o)
		if !ok || !hasTracks(p) {
			continue
		}
		found, err := openings(data, layout)
		if err != nil {
			r.unread(p, err)
		}
		read[p.Panel] = append(read[p.Panel], found...) // a large panel is two parts
	}
	if r.OK() {
		r.prove(read, o)
	}
}

// drawable returns parts less the marks that no machine can draw, and tells of
// these: a mark refuses no job.
func (r *Result) drawable(parts []sheet.Part) []sheet.Part {
	done := make([]sheet.Part, len(parts))
	for i, p := range parts {
		var left sheet.Faults
		p.Sheet, left = sheet.WithoutFaultyMarks(p.Sheet)
		done[i] = p
		for _, f := range left {
			r.Findings.Warnf("template", "mark-undrawn", "a mark on the sheet %s can't be drawn and is left out: %s", p.Sheet.Name, f.Message).
				SetAt(f.At.X, f.At.Y).Hintf("write it on the part by hand")
		}
	}
	return done
}

// makePart adds the files of a part that a machine can cut, and returns its
// DXF; else it tells why not.
func (r *Result) makePart(p sheet.Part, layout dxf.Options, o Options) ([]byte, bool) {
	if !r.canCut(p.Sheet) {
		return nil, false
	}
	proto := File{Path: o.folder() + p.Sheet.Name, Role: p.Ply.String(), Panel: p.Panel}
	return r.writeDrawing(proto, p.Sheet, layout, o)
}

func (r *Result) unread(p sheet.Part, err error) {
	r.Findings.Errorf("template", "dxf", "the sheet %s can't be read back: %v", p.Sheet.Name, err)
}

// canCut holds a sheet against what a machine needs, and tells what it lacks.
func (r *Result) canCut(s sheet.Sheet) bool { return r.faultless(s.Name, sheet.Check(s)) }

func (r *Result) faultless(name string, faults sheet.Faults) bool {
	for _, f := range faults {
		r.Findings.Errorf("template", "sheet-"+f.Rule.String(), "the sheet %s can't be cut: %s", name, f.Message).
			SetAt(f.At.X, f.At.Y).Hintf("change the rider, template.web or the motif a little")
	}
	return len(faults) == 0
}

// hasTracks reports whether a part is a wall, or half of one, with openings.
func hasTracks(p sheet.Part) bool {
	return p.Ply == sheet.Wall &&
		slices.ContainsFunc(p.Sheet.Lines, func(l sheet.Line) bool { return l.Role == sheet.Opening })
}

// layout is how the shop wants its drawings.
func (r *Result) layout(o Options) dxf.Options {
	layout := dxf.Options{Version: o.Version, Units: dxf.Millimetres, Bare: o.Bare}
	if r.Shop.Units == unit.Inch {
		layout.Units = dxf.Inches
	}
	if r.Shop.Name == "" {
		return layout // no shop: the format's own colours tell the roles apart
	}
	layout.Layers = map[sheet.Role]dxf.Layer{}
	for _, role := range sheet.Roles() {
		l := r.Shop.Layer(role.String())
		layout.Layers[role] = dxf.Layer{Name: l.Name, Color: l.Color}
	}
	return layout
}

// writeDrawing adds the two files of a sheet, which are like proto but for the
// ending of the path, and returns the DXF's bytes; else it tells why not.
func (r *Result) writeDrawing(proto File, s sheet.Sheet, layout dxf.Options, o Options) ([]byte, bool) {
	var d, v bytes.Buffer
	err := dxf.Write(&d, s, layout)
	if err == nil {
		err = svg.WriteSheet(&v, s, svg.Options{Bare: o.Bare, NoScale: o.Bare})
	}
	if err != nil {
		r.Findings.Errorf("cutting.profile", "dxf", "the sheet %s can't be written: %v", s.Name, err).
			Hintf("check the layers of the profile")
		return nil, false
	}
	f, g := proto, proto
	f.Path, f.Kind, f.Data = proto.Path+".dxf", DXF, d.Bytes()
	g.Path, g.Kind, g.Data = proto.Path+".svg", SVG, v.Bytes()
	r.Files = append(r.Files, f, g)
	return f.Data, true
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

// prove rolls the rider through the openings that were read back.
func (r *Result) prove(read map[string][]geom.Contour, o Options) {
	o.Step("rolling the router through what was written")
	var laid []proof.Placed
	for _, p := range r.Set.Panels {
		laid = append(laid, proof.Placed{ID: p.ID, Openings: read[p.ID], Positions: p.Positions})
	}
	r.Proof = proof.Prove(r.Groove, laid, r.Kerf()/2)
	r.judge()
	r.tellMissed()
}

// judge tells of a proof that doesn't hold.
func (r *Result) judge() {
	if at := r.Proof.OvercutAt; !r.Proof.Holds() {
		r.Findings.Errorf("router.rider", "overcut", "the templates would let the router cut %s beyond the groove at %s", unit.Len(r.Proof.OvercutMax), motif.Place(at)).
			SetAt(at.X, at.Y).Hintf("nothing was written; take a smaller rider, or make the bend there wider (limit %s)", unit.Len(groove.Overcut))
	}
}

// WhyMissed says why templates leave what the bit could reach: a cut keeps between
// its own strand's walls, and a track that is all but as wide as the bit's own way
// ends round.
func (r *Result) WhyMissed() unit.Text {
	const other = "each cut keeps between its own strand's two walls, and another groove makes the room there"
	if k := r.Groove.Size.Offset(); r.Groove.Size.Thin() && k > 0 {
		return unit.Say("the bit is only %s narrower than the groove, so that the tracks' ends are round and stop short in sharp corners; or %s", unit.Len(2*k), other)
	}
	return unit.Say(other)
}

// tellMissed warns of what the templates leave though the bit could reach it.
func (r *Result) tellMissed() {
	p := r.Proof
	if p.MissedMax == 0 {
		return
	}
	n := 0
	for _, l := range p.Leftovers {
		if l.MissedDepth > 0 {
			n++
		}
	}
	r.Findings.Warnf("router.rider", "left-in-reach", "the templates leave %s of the groove that the bit could reach, in %d of the places for the chisel, up to %s from what is cut, furthest at %s: %s",
		unit.Area(p.MissedArea), n, unit.Len(p.MissedMax), motif.Place(p.MissedAt), r.WhyMissed()).SetAt(p.MissedAt.X, p.MissedAt.Y).
		Hintf("pare it with the chisel as setup.md lists it; or move the corner or end off the other groove")
}

// picture draws the finished inlay.
func (r *Result) picture() {
	const path = "inlay.svg"
	var b bytes.Buffer
	pic := r.Inlay.Picture(r.Job.Title)
	if err := svg.WritePicture(&b, pic); err != nil {
		r.Findings.Errorf("inlay", "picture", "the picture of the inlay can't be drawn: %v", err).
			Hintf("build --only templates leaves it out")
		return
	}
	r.Pictures = append(r.Pictures, paper.Illustration{Path: path, Picture: pic})
	r.Files = append(r.Files, File{Path: path, Kind: SVG, Role: "inlay", Data: b.Bytes()})
}
