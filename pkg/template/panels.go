package template

import (
	"fmt"
	"math"
	"slices"

	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/sheet"
	"strapwork/pkg/work"
)

// Parts draws the panels' layers, for outlines that allow for kerf, the full
// width of a burnt line; 0 draws true size.
func (s Set) Parts(t work.Template, size groove.Size, kerf float64) []sheet.Part {
	var parts []sheet.Part
	for _, p := range s.Panels {
		parts = append(parts, p.parts(sheet.Wall, t.Wall, size)...)
		if p.HasFloor() {
			parts = append(parts, p.parts(sheet.Floor, t.Floor, size)...)
		}
	}
	parts = append(parts, s.jointKeys(t.Wall)...)
	if s.Frame != nil {
		parts = append(parts, s.Frame.Parts(t.Wall)...)
	}
	if s.Rail != nil {
		parts = append(parts, s.Rail.Parts(s.plates(), t.Wall)...)
	}
	return sheet.Compensated(parts, kerf)
}

// jointKeys are the keys of panels that are made in parts.
func (s Set) jointKeys(thickness float64) []sheet.Part {
	keys, key := 0, fixture.JointKey{}
	for _, p := range s.Panels {
		if p.Division != nil {
			keys, key = keys+p.Division.Keys(), p.Division.key
		}
	}
	if keys == 0 {
		return nil
	}
	return []sheet.Part{key.Part("panel-"+fixture.JointKeyName, "key for the joints of panels", keys, thickness)}
}

// HasFloor reports whether a floor lies under the panel's wall.
func (p Panel) HasFloor() bool {
	for _, o := range p.Openings {
		if !o.Slot.Empty() {
			return true
		}
	}
	return false
}

// PartName is the name of a layer's part, by the part's place in the panel's division:
// "A-wall-1".
func (p Panel) PartName(l sheet.Ply, part int) string {
	return fmt.Sprintf("%s-%d", p.layerName(l), part+1)
}

// layerName is the name of a layer that is in one part.
func (p Panel) layerName(l sheet.Ply) string { return p.ID + "-" + l.String() }

func (p Panel) part(l sheet.Ply, thickness float64, size groove.Size) sheet.Part {
	s := sheet.Sheet{Name: p.layerName(l), Title: "panel " + p.ID + ", " + l.String()}
	for _, o := range p.Openings {
		area, radius := o.Area, size.RiderRadius
		if l == sheet.Floor {
			area, radius = o.Slot, SlotWidth(size)/2-size.Offset()
		}
		if size.Thin() {
			radius += size.Offset()
		}
		for _, c := range area.Loops() {
			s.Lines = append(s.Lines, sheet.Line{Role: sheet.Opening, Contour: beginOnEnd(sheet.Weld(c), o.Cut, radius)})
		}
	}
	s.Lines = append(s.Lines, sheet.Line{Role: sheet.Edge, Contour: p.Outline})
	for _, o := range p.Openings {
		s.Lines = append(s.Lines, sheet.Line{Role: sheet.Note, Contour: o.Cut.Line})
	}
	for _, at := range p.Dowels {
		s.Holes = append(s.Holes, sheet.Hole{Role: sheet.Pin, Center: at, Radius: dowelRadius})
	}
	for _, at := range p.PlatePins() {
		s.Holes = append(s.Holes, sheet.Hole{Role: sheet.Pin, Center: at, Radius: p.Plates[0].Pin / 2})
	}
	marks := p.Marks
	if l == sheet.Floor {
		marks = p.FloorMarks
	}
	for _, c := range marks {
		s.Lines = append(s.Lines, sheet.Line{Role: sheet.Mark, Contour: c})
	}
	return sheet.Part{Panel: p.ID, Ply: l, Thickness: thickness, Quantity: 1, Sheet: s}
}

// Drilled lists the diameters in mm of the panels', the frame's and the rail's holes that
// are too small for a cut of width kerf, dowels' before screws' before pins'.
func (s Set) Drilled(kerf float64) []float64 {
	var list []float64
	dowels := slices.ContainsFunc(s.Panels, func(p Panel) bool { return len(p.Dowels) > 0 })
	if dowels && sheet.Drilled(dowelRadius, kerf) {
		list = append(list, 2*dowelRadius)
	}
	if s.Frame != nil && len(s.Frame.Screws) > 0 && sheet.Drilled(fixture.ScrewHole/2, kerf) {
		list = append(list, fixture.ScrewHole)
	}
	if s.Rail != nil && sheet.Drilled(s.Rail.Pin/2, kerf) {
		list = append(list, s.Rail.Pin)
	}
	return list
}

// beginOnEnd returns the opening's contour begun in the middle of an arc about
// one of the cut's ends. The mark that a laser leaves where it starts would be
// copied into the groove if it were on a wall that guides.
func beginOnEnd(c geom.Contour, cut groove.Cut, radius float64) geom.Contour {
	if cut.Line.Len() == 0 {
		return c
	}
	end, _ := cut.Line.At(cut.Line.Length())
	last := cut.Line.Edge(cut.Line.Len() - 1)
	ahead := end.Add(last.Tangent(1).Scale(radius))
	best, at := math.Inf(1), -1
	for i := range c.Len() {
		e := c.Edge(i)
		if e.Bulge <= 0 || math.Abs(e.Radius()-radius) > endArcSlack {
			continue
		}
		if d := e.Mid().Dist(ahead); d < best {
			best, at = d, i
		}
	}
	if at < 0 {
		return c
	}
	return sheet.BegunAt(c, at, 0.5)
}

// endArcSlack is by how much in mm an end arc's radius may differ from the
// rider's after welding and rounding.
const endArcSlack = 0.01

// parts draws a layer of a panel, in parts where it is divided. Keys join the parts
// of a wall; those of a floor are glued to the wall.
func (p Panel) parts(l sheet.Ply, thickness float64, size groove.Size) []sheet.Part {
	whole := p.part(l, thickness, size)
	d := p.Division
	if d == nil {
		return []sheet.Part{whole}
	}
	area := region.New(p.Outline)
	if l == sheet.Wall {
		area = region.Subtract(area, d.recesses())
	}
	var list []sheet.Part
	for i, place := range d.Parts {
		part, outline := whole, region.Intersect(area, region.New(place))
		part.Sheet = sheet.Sheet{
			Name:  p.PartName(l, i),
			Title: fmt.Sprintf("%s, part %d of %d", whole.Sheet.Title, i+1, len(d.Parts)),
		}
		for _, line := range whole.Sheet.Lines {
			if line.Role != sheet.Edge && d.Part(line.Contour.Start()) == i {
				part.Sheet.Lines = append(part.Sheet.Lines, line)
			}
		}
		part.Sheet.Lines = append(part.Sheet.Lines, sheet.Line{Role: sheet.Edge, Contour: outline.Loops()[0]})
		for _, h := range whole.Sheet.Holes {
			if d.Part(h.Center) == i {
				part.Sheet.Holes = append(part.Sheet.Holes, h)
			}
		}
		list = append(list, part)
	}
	return list
}
