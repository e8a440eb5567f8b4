package template

// The sheets of frames, wedges and keys, and of panels in two parts.

import (
	"fmt"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/sheet"
)

// Names of the sheets that go with a frame; bars are numbered: "frame-1".
const (
	FrameName    = "frame"
	WedgeName    = "wedge"
	KeyName      = "key"
	JointKeyName = "joint-key"
)

// frameParts draws the frame, its wedges and its key, and the keys of all
// joints, all of them of the walls' sheet.
func (s Set) frameParts(thickness float64) []Part {
	var parts []Part
	joints, key := 0, jointKey{}
	for _, p := range s.Panels {
		if p.Split != nil {
			joints, key = joints+len(p.Split.Joints), p.Split.key
		}
	}
	if joints > 0 {
		parts = append(parts, jointKeys("panel-"+JointKeyName, "key for the joints of panels", joints, thickness, key))
	}
	f := s.Frame
	if f == nil {
		return parts
	}
	for i, b := range f.Bars {
		name, title := FrameName, "frame"
		if len(f.Bars) > 1 {
			name, title = fmt.Sprintf("%s-%d", FrameName, i+1), fmt.Sprintf("frame, bar %d of %d", i+1, len(f.Bars))
		}
		parts = append(parts, Part{Ply: Frame, Thickness: thickness, Quantity: 1, Sheet: f.sheet(b, name, title)})
	}
	if len(f.Joints) > 0 {
		parts = append(parts, jointKeys(JointKeyName, "key for the joints of the frame", len(f.Joints), thickness, f.joint))
	}
	parts = append(parts, loosePart(Wedge, WedgeName, "folding wedge", 2*len(f.Wedges), thickness, WedgeOutline()))
	if f.Key.Radius > 0 {
		parts = append(parts, loosePart(Key, KeyName, "key", 1, thickness, geom.Circle(geom.Point{}, f.Key.Radius)))
	}
	return parts
}

func jointKeys(name, title string, n int, thickness float64, k jointKey) Part {
	return loosePart(Key, name, title, n, thickness, k.outline())
}

// loosePart is a part that is nothing but an outline.
func loosePart(l Ply, name, title string, n int, thickness float64, outline geom.Contour) Part {
	s := sheet.Sheet{Name: name, Title: title, Lines: []sheet.Line{{Role: sheet.Edge, Contour: outline}}}
	return Part{Ply: l, Thickness: thickness, Quantity: n, Sheet: s}
}

// sheet draws a bar, or a whole frame, with the screw holes in it. The opening
// of a whole frame begins in a corner's relief, where the mark of the start
// holds nothing off.
func (f *LocatingFrame) sheet(b Bar, name, title string) sheet.Sheet {
	s := sheet.Sheet{Name: name, Title: title}
	for i, c := range b.Wood.Loops() {
		role := sheet.Edge
		if i > 0 || c.Area() < 0 {
			role, c = sheet.Opening, begunOnArc(c.Reverse(), f.Inside.Corner(1))
		}
		s.Lines = append(s.Lines, sheet.Line{Role: role, Contour: sheet.Weld(c)})
	}
	for _, c := range b.Marks {
		s.Lines = append(s.Lines, sheet.Line{Role: sheet.Mark, Contour: c})
	}
	for _, screw := range f.Screws {
		if b.Wood.Contains(screw.At) {
			s.Holes = append(s.Holes, sheet.Hole{Role: sheet.Pin, Center: screw.At, Radius: screwRadius})
		}
	}
	return s
}

// begunOnArc returns a closed contour begun in the middle of its arc nearest to p.
func begunOnArc(c geom.Contour, p geom.Point) geom.Contour {
	best := -1
	for i := range c.Len() {
		if !c.Edge(i).IsLine() && (best < 0 || c.Edge(i).Mid().Dist(p) < c.Edge(best).Mid().Dist(p)) {
			best = i
		}
	}
	if best < 0 {
		return c
	}
	return splitAt(c, best, 0.5)
}

// parts draws a layer of a panel, in two parts where it is split. Keys join the
// two parts of a wall; those of a floor are glued to the wall.
func (p Panel) parts(l Ply, thickness float64, size groove.Size) []Part {
	whole := p.part(l, thickness, size)
	if p.Split == nil {
		return []Part{whole}
	}
	area := region.New(p.Outline)
	if l == Wall {
		area = region.Subtract(area, p.Split.recesses())
	}
	var list []Part
	for i, half := range p.halves(p.Split, area) {
		part := whole
		part.Sheet = sheet.Sheet{
			Name:  fmt.Sprintf("%s-%d", whole.Sheet.Name, i+1),
			Title: fmt.Sprintf("%s, part %d of 2", whole.Sheet.Title, i+1),
		}
		for _, line := range whole.Sheet.Lines {
			if line.Role != sheet.Edge && p.Split.part(line.Contour.Start()) == i {
				part.Sheet.Lines = append(part.Sheet.Lines, line)
			}
		}
		part.Sheet.Lines = append(part.Sheet.Lines, sheet.Line{Role: sheet.Edge, Contour: half.Loops()[0]})
		for _, h := range whole.Sheet.Holes {
			if p.Split.part(h.Center) == i {
				part.Sheet.Holes = append(part.Sheet.Holes, h)
			}
		}
		list = append(list, part)
	}
	return list
}
