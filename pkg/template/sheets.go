package template

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/sheet"
)

// Layer tells the sheets of a panel apart.
type Layer int

const (
	// Wall is the layer whose openings the rider runs in.
	Wall Layer = iota
	// Floor is the layer under it that a base stands on.
	Floor
)

// String is the layer's word in file names.
func (l Layer) String() string {
	switch l {
	case Wall:
		return "wall"
	case Floor:
		return "floor"
	}
	return "unknown"
}

// A Part is one sheet of a panel, ready to be written.
type Part struct {
	Panel string
	Layer Layer
	Sheet sheet.Sheet
}

// Parts draws the panels' layers. Openings are drawn smaller and edges larger
// by half of kerf, the full width of a burnt line that the drawing allows for;
// 0 draws true size.
func (s Set) Parts(size groove.Size, kerf float64) []Part {
	var parts []Part
	for _, p := range s.Panels {
		parts = append(parts, p.part(Wall, size, kerf))
		if p.hasFloor() {
			parts = append(parts, p.part(Floor, size, kerf))
		}
	}
	return parts
}

func (p Panel) hasFloor() bool {
	for _, o := range p.Openings {
		if !o.Slot.Empty() {
			return true
		}
	}
	return false
}

func (p Panel) part(l Layer, size groove.Size, kerf float64) Part {
	name := p.ID + "-" + l.String()
	s := sheet.Sheet{Name: name, Title: "panel " + p.ID + ", " + l.String()}
	for _, o := range p.Openings {
		area, radius := o.Area, size.Rider
		if size.Thin() {
			radius = size.Reach()
		}
		if l == Floor {
			area, radius = o.Slot, SlotWidth(size)/2-size.Play()
			if size.Thin() {
				radius = SlotWidth(size) / 2
			}
		}
		for _, c := range area.Shrink(kerf / 2).Loops() {
			s.Lines = append(s.Lines, sheet.Line{Role: sheet.Opening, Contour: beginOnEnd(welded(c), o.Cut, radius-kerf/2)})
		}
	}
	outline := p.Outline.Parallel(-kerf/2, geom.Mitre)
	s.Lines = append(s.Lines, sheet.Line{Role: sheet.Edge, Contour: outline})
	for _, o := range p.Openings {
		s.Lines = append(s.Lines, sheet.Line{Role: sheet.Note, Contour: o.Cut.Line})
	}
	return Part{Panel: p.ID, Layer: l, Sheet: s}
}

// speck is the length in mm under which an edge of an outline is welded away:
// a joint of 0.01 degrees, which counts as smooth, leaves one of 0.009 mm when
// it is grown by a base's radius.
const speck = 0.02

// welded returns c with edges shorter than a speck drawn together to a point.
func welded(c geom.Contour) geom.Contour {
	for i := 0; i < c.Len() && c.Len() > 2; i++ {
		e := c.Edge(i)
		if e.Length() >= speck {
			continue
		}
		n := c.Len()
		vs := make([]geom.Vertex, 0, n-1)
		for k, v := range c.Vertices {
			switch k {
			case i:
				v = geom.Vertex{Point: e.Mid(), Bulge: c.Vertices[(i+1)%n].Bulge}
			case (i + 1) % n:
				continue
			}
			vs = append(vs, v)
		}
		c = geom.Contour{Vertices: vs, Closed: true}
		i--
	}
	return c
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
	return splitAt(c, at)
}

// endArcSlack is by how much in mm an end arc's radius may differ from the
// rider's after welding and rounding.
const endArcSlack = 0.01

// splitAt returns the closed contour c begun in the middle of its i-th edge.
func splitAt(c geom.Contour, i int) geom.Contour {
	e := c.Edge(i)
	first, second := e.Part(0, 0.5), e.Part(0.5, 1)
	r := c.Rotate(i)
	vs := append([]geom.Vertex{{Point: second.A, Bulge: second.Bulge}}, r.Vertices[1:]...)
	return geom.Contour{Vertices: append(vs, geom.Vertex{Point: first.A, Bulge: first.Bulge}), Closed: true}
}
