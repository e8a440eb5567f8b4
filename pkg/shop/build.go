package shop

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"

	"strapwork/pkg/dxf"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/sheet"
	"strapwork/pkg/svg"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
)

// Options say how Build writes. The zero value writes everything as R2000.
type Options struct {
	Version       dxf.Version
	Bare          bool              // leave notes out of drawings for machines
	TemplatesOnly bool              // leave out inlay.svg
	Step          func(what string) // is told what comes next, for progress; may be nil
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
	r := check(file, data, readFile, o.Step)
	if r.Reached == Planned && r.OK() {
		r.write(o)
		if !r.OK() {
			r.Files = nil
		}
	}
	r.tidy()
	return r
}

// Kerf is the full width in mm of the burnt line that the outlines allow for:
// 0 when they are drawn at true size, because the shop allows for it or
// nothing is told of it.
func (r Result) Kerf() float64 {
	if c := r.Job.Cutting; c != nil && c.KerfBy == job.KerfByMe {
		return c.Kerf
	}
	return 0
}

// write draws, writes and proves.
func (r *Result) write(o Options) {
	o.Step("drawing the sheets")
	layout := r.layout(o)
	if r.Job.Router.Guide == job.GuidePivot {
		r.writeBar(layout, o)
	} else {
		r.writePanels(layout, o)
	}
	if !r.OK() {
		return
	}
	r.writeAids(layout, o)
	if !o.TemplatesOnly {
		r.picture()
	}
	slices.SortFunc(r.Files, func(a, b File) int { return cmp.Compare(a.Path, b.Path) })
	r.Reached = Proved
}

// writePanels writes the panels' parts and proves their openings.
func (r *Result) writePanels(layout dxf.Options, o Options) {
	r.Parts = r.Set.Parts(r.Job, r.Groove.Size, r.Kerf())
	read := map[string][]geom.Contour{} // openings of the walls, by panel
	for _, p := range r.Parts {
		data, ok := r.makePart(p, layout, o)
		if !ok || p.Layer != template.Wall {
			continue
		}
		var err error
		if read[p.Panel], err = openings(data, layout); err != nil {
			r.unread(p, err)
		}
	}
	if r.OK() {
		r.prove(read, o)
	}
}

// makePart adds the files of a part that a machine can cut, and returns its
// DXF; else it tells why not.
func (r *Result) makePart(p template.Part, layout dxf.Options, o Options) ([]byte, bool) {
	if !r.canCut(p.Sheet) {
		return nil, false
	}
	data, err := r.writePart(p, layout, o)
	if err != nil {
		r.Findings.Errorf(r.Job.Pos("cutting.profile"), "dxf", "the sheet %s can't be written: %v", p.Sheet.Name, err).
			Hintf("check the layers of the profile")
	}
	return data, err == nil
}

func (r *Result) unread(p template.Part, err error) {
	r.Findings.Errorf(r.Job.Pos("template"), "dxf", "the sheet %s can't be read back: %v", p.Sheet.Name, err)
}

// canCut holds a sheet against what a machine needs, and tells what it lacks.
func (r *Result) canCut(s sheet.Sheet) bool {
	faults := sheet.Check(s)
	for _, f := range faults {
		r.Findings.Errorf(r.Job.Pos("template"), "sheet-"+f.Rule.String(), "the sheet %s can't be cut: %s", s.Name, f.Message).
			SetAt(f.At.X, f.At.Y).Hintf("change the rider, template.web or the motif a little")
	}
	return len(faults) == 0
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

// writePart adds the files of one sheet and returns the DXF's bytes.
func (r *Result) writePart(p template.Part, layout dxf.Options, o Options) ([]byte, error) {
	var d, s bytes.Buffer
	if err := dxf.Write(&d, p.Sheet, layout); err != nil {
		return nil, err
	}
	if err := svg.WriteSheet(&s, p.Sheet, svg.Options{Bare: o.Bare, NoScale: o.Bare}); err != nil {
		return nil, err
	}
	path, role := "templates/"+p.Sheet.Name, p.Layer.String()
	r.Files = append(r.Files,
		File{Path: path + ".dxf", Kind: DXF, Role: role, Panel: p.Panel, Data: d.Bytes()},
		File{Path: path + ".svg", Kind: SVG, Role: role, Panel: p.Panel, Data: s.Bytes()})
	return d.Bytes(), nil
}

// openings reads a wall sheet's file and returns its openings in mm: the
// closed contours on the opening's layer. Where the shop has openings and the
// edge on one layer, the edge is the one round all the others.
func openings(data []byte, layout dxf.Options) ([]geom.Contour, error) {
	d, err := dxf.Read(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	layer, shared := layerOf(layout, sheet.Opening), layerOf(layout, sheet.Opening) == layerOf(layout, sheet.Edge)
	var found []geom.Contour
	outer, largest := -1, 0.0
	for _, l := range d.Lines {
		if l.Layer != layer || !l.Contour.Closed {
			continue
		}
		c := geom.Scaling(d.Units.MM()).Contour(l.Contour)
		if size := c.Bounds().Size(); size.X*size.Y > largest {
			outer, largest = len(found), size.X*size.Y
		}
		found = append(found, c)
	}
	if shared && outer >= 0 {
		found = slices.Delete(found, outer, outer+1)
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
	var laid []template.Laid
	for _, p := range r.Set.Panels {
		laid = append(laid, template.Laid{ID: p.ID, Openings: read[p.ID], Positions: p.Positions})
	}
	r.Proof = template.Prove(r.Groove, laid, r.Kerf()/2)
	r.judge()
}

// judge tells of a proof that doesn't hold.
func (r *Result) judge() {
	if at := r.Proof.OvercutAt; !r.Proof.Holds() {
		r.Findings.Errorf(r.Job.Pos("router.rider"), "overcut", "the templates would let the router cut %.4f mm beyond the groove at (%.2f, %.2f) mm", r.Proof.OvercutMax, at.X, at.Y).
			SetAt(at.X, at.Y).Hintf("nothing was written; take a smaller rider, or make the bend there wider (limit %g mm)", groove.Overcut)
	}
}

// picture draws the finished inlay.
func (r *Result) picture() {
	var b bytes.Buffer
	if err := svg.WritePicture(&b, r.Inlay.Picture(r.Job.Title)); err != nil {
		r.Findings.Errorf(r.Job.Pos("inlay"), "picture", "the picture of the inlay can't be drawn: %v", err).
			Hintf("build --only templates leaves it out")
		return
	}
	r.Files = append(r.Files, File{Path: "inlay.svg", Kind: SVG, Role: "inlay", Data: b.Bytes()})
}
