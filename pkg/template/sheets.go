package template

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/sheet"
)

// Ply says what a part is.
type Ply int

const (
	// Wall is the layer of a panel whose openings the rider runs in.
	Wall Ply = iota
	// Floor is the layer under it that a base stands on.
	Floor
	// Frame is the locating frame, or one bar of it.
	Frame
	// Wedge presses a panel into the frame's corner.
	Wedge
	// Key is a loose key or peg.
	Key
	// Aid is a shop aid: a tracing disc, a gauge, a guide.
	Aid
	// PivotLayer is the bar that a router swings on about a pin.
	PivotLayer
)

// String is the layer's word in file names.
func (l Ply) String() string {
	switch l {
	case Wall:
		return "wall"
	case Floor:
		return "floor"
	case Frame:
		return "frame"
	case Wedge:
		return "wedge"
	case Key:
		return "key"
	case Aid:
		return "aid"
	case PivotLayer:
		return "pivot"
	}
	return "unknown"
}

// A Part is one piece of sheet, ready to be written.
type Part struct {
	Panel     string // the panel that it belongs to; empty for a frame and aids
	Ply       Ply
	Thickness float64 // of its sheet, mm
	Quantity  int     // how many are cut
	Sheet     sheet.Sheet
}

// Parts draws the panels' layers, for outlines that allow for kerf, the full
// width of a burnt line; 0 draws true size.
func (s Set) Parts(j Params, size groove.Size, kerf float64) []Part {
	var parts []Part
	for _, p := range s.Panels {
		parts = append(parts, p.parts(Wall, j.Template.Wall, size)...)
		if p.hasFloor() {
			parts = append(parts, p.parts(Floor, j.Template.Floor, size)...)
		}
	}
	parts = append(parts, s.frameParts(j.Template.Wall)...)
	return Compensated(parts, kerf)
}

func (p Panel) hasFloor() bool {
	for _, o := range p.Openings {
		if !o.Slot.Empty() {
			return true
		}
	}
	return false
}

func (p Panel) part(l Ply, thickness float64, size groove.Size) Part {
	s := sheet.Sheet{Name: p.ID + "-" + l.String(), Title: "panel " + p.ID + ", " + l.String()}
	for _, o := range p.Openings {
		area, radius := o.Area, size.RiderRadius
		if l == Floor {
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
	marks := p.Marks
	if l == Floor {
		marks = p.FloorMarks
	}
	for _, c := range marks {
		s.Lines = append(s.Lines, sheet.Line{Role: sheet.Mark, Contour: c})
	}
	return Part{Panel: p.ID, Ply: l, Thickness: thickness, Quantity: 1, Sheet: s}
}

// LeastPath is the least diameter in mm of a hole's outline that allows for the
// cut: a cutter that turns on the spot burns.
const LeastPath = 0.5

// Drilled lists the diameters in mm of the panels' and the frame's holes that are
// too small for a cut of width kerf, dowels' before screws'.
func (s Set) Drilled(kerf float64) []float64 {
	var list []float64
	dowels := slices.ContainsFunc(s.Panels, func(p Panel) bool { return len(p.Dowels) > 0 })
	if dowels && drilled(dowelRadius, kerf) {
		list = append(list, 2*dowelRadius)
	}
	if s.Frame != nil && len(s.Frame.Screws) > 0 && drilled(screwRadius, kerf) {
		list = append(list, 2*screwRadius)
	}
	return list
}

// thinCut is the width in mm of the widest cut whose outlines have sharp corners.
// A corner that has no mitre is bevelled, which takes up to a third of half the
// cut off the part: nothing for a laser, too much for a router. Wider cuts go
// round corners, which leaves these sharp.
const thinCut = 0.5

// drilled reports whether a hole is too small for a cut of width kerf.
func drilled(radius, kerf float64) bool { return 2*radius-kerf < LeastPath }

// Compensated returns parts drawn for a cutter that burns away half of kerf on
// either side of its line: openings and holes smaller, edges larger by that. An
// opening begins at the place nearest to where it began. A hole that is too small
// for the cutter is a cross, to be drilled.
func Compensated(parts []Part, kerf float64) []Part {
	if kerf == 0 {
		return parts
	}
	corners := geom.Mitre
	if kerf > thinCut {
		corners = geom.Round
	}
	done := make([]Part, len(parts))
	for i, p := range parts {
		s := sheet.Sheet{Name: p.Sheet.Name, Title: p.Sheet.Title}
		for _, l := range p.Sheet.Lines {
			switch l.Role {
			case sheet.Opening:
				for _, c := range region.New(l.Contour).Shrink(kerf / 2).Loops() {
					s.Lines = append(s.Lines, sheet.Line{Role: l.Role, Contour: begunNear(sheet.Weld(c), l.Contour.Start())})
				}
				continue
			case sheet.Edge:
				l.Contour = sheet.Weld(l.Contour.Parallel(-kerf/2, corners))
			case sheet.Pin, sheet.Mark, sheet.Note:
			}
			s.Lines = append(s.Lines, l)
		}
		for _, h := range p.Sheet.Holes {
			if h.Role == sheet.Pin && drilled(h.Radius, kerf) {
				s.Lines = append(s.Lines, drillMark(h)...)
				continue
			}
			if h.Role == sheet.Pin {
				h.Radius -= kerf / 2
			}
			s.Holes = append(s.Holes, h)
		}
		p.Sheet = s
		done[i] = p
	}
	return done
}

// drillMark marks where a hole is to be drilled.
func drillMark(h sheet.Hole) []sheet.Line {
	var lines []sheet.Line
	for _, d := range []geom.Point{geom.Pt(h.Radius, 0), geom.Pt(0, h.Radius)} {
		lines = append(lines, sheet.Line{Role: sheet.Mark, Contour: geom.Contour{Vertices: []geom.Vertex{{Point: h.Center.Sub(d)}, {Point: h.Center.Add(d)}}}})
	}
	return lines
}

// speck is the length in mm within which a place on an outline is its vertex:
// edges that short are welded away.
const speck = 2 * sheet.MinEdge

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
	return splitAt(c, at, 0.5)
}

// endArcSlack is by how much in mm an end arc's radius may differ from the
// rider's after welding and rounding.
const endArcSlack = 0.01

// begunNear returns the closed contour c begun at its point nearest to p, unless
// that is within a speck of a vertex: then there.
func begunNear(c geom.Contour, p geom.Point) geom.Contour {
	best, at, t := math.Inf(1), 0, 0.0
	for i := range c.Len() {
		if q, u := c.Edge(i).Nearest(p); p.Dist(q) < best {
			best, at, t = p.Dist(q), i, u
		}
	}
	length := c.Edge(at).Length()
	switch {
	case t*length < speck:
		return c.Rotate(at)
	case (1-t)*length < speck:
		return c.Rotate((at + 1) % c.Len())
	}
	return splitAt(c, at, t)
}

// splitAt returns the closed contour c begun at the fraction t of its i-th edge.
func splitAt(c geom.Contour, i int, t float64) geom.Contour {
	e := c.Edge(i)
	first, second := e.Part(0, t), e.Part(t, 1)
	r := c.Rotate(i)
	vs := append([]geom.Vertex{{Point: second.A, Bulge: second.Bulge}}, r.Vertices[1:]...)
	return geom.Contour{Vertices: append(vs, geom.Vertex{Point: first.A, Bulge: first.Bulge}), Closed: true}
}
