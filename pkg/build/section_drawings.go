package build

import (
	"fmt"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/lettering"
	"strapwork/pkg/sheet"
	"strapwork/pkg/table"
	"strapwork/pkg/unit"
)

// SectionRole is the role of a section's drawing.
const SectionRole = "section-drawing"

// SectionPath is the path of the drawing of a kind of sections, without the ending.
func SectionPath(name string) string { return "sections/" + name }

type sectionDrawingIn struct {
	Table   made[table.Table]
	Section made[Sectioned]
	Kind    int
	Depth   float64
	Units   unit.System
}

// drawSectionSheet draws a kind of sections as it is to be in the end: what of the groove is
// its own as closed outlines, centre lines open, and its outline, which nobody cuts, as a note.
func drawSectionSheet(in sectionDrawingIn) (s sheet.Sheet, _ diag.Findings) {
	k, own := in.Table.Value.Kinds[in.Kind], in.Section.Value
	depth := unit.Len(in.Depth).In(in.Units)
	s.Name = k.Name
	s.Title = fmt.Sprintf("section %s, from its front left corner: groove %s deep, its centre lines, and the outline", k.Name, depth)
	add := func(role sheet.Role, c geom.Contour) { s.Lines = append(s.Lines, sheet.Line{Role: role, Contour: c}) }
	for _, c := range region.Intersect(own.Groove.Area(), region.New(k.Outline)).Loops() {
		add(sheet.Opening, sheet.Weld(c))
	}
	for i, m := range own.Motif.Strands {
		c := m.Contour
		if c.Closed {
			c = geom.Chain(false, c.Edges()...)
		} else {
			c = c.Sub(own.Runs[i][0], m.Length()-own.Runs[i][1])
		}
		add(sheet.Mark, c)
	}
	add(sheet.Note, k.Outline)
	for _, c := range underSection(k, depth) {
		add(sheet.Note, c)
	}
	return s, nil
}

// underSection is what is written under a section's drawing, in front of the front edge.
func underSection(k table.Kind, depth string) (lines []geom.Contour) {
	const height, down = 8.0, 16.0
	box := k.Outline.Bounds()
	at := geom.Pt(box.Min.X, box.Min.Y-down)
	for _, s := range []string{strings.ToUpper(k.Name) + ": FRONT", "GROOVE " + depth + " DEEP, NOT THROUGH"} {
		lines = append(lines, lettering.Text(s, at, height)...)
		at.Y -= down
	}
	return lines
}

// drawSections makes the drawings of the table's sections outputs.
func (w *writer) drawSections() {
	if w.Table == nil {
		return
	}
	var all []drawing
	for k, kind := range w.Table.Kinds {
		in := sectionDrawingIn{w.a.table, w.a.sections[k], k, w.Job.Inlay.Depth, w.Job.Units}
		s := ask(w.a.Graph, "drawing of a section", in, drawSectionSheet).Value
		if f := sheet.CheckParts(s, 0); len(f) > 0 {
			w.Findings.Warnf("table", "section-undrawn", "the section %s is left out of the drawings: %s", kind.Name, f[0].Message).
				SetAt(f[0].At.X, f[0].At.Y).Hintf("move the motif or its station a little")
			continue
		}
		all = append(all, drawing{File{Path: SectionPath(kind.Name), Role: SectionRole}, s, nil})
	}
	w.writeDrawings(all)
}
