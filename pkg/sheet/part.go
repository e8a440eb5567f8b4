package sheet

// A part: one piece of sheet as it is handed to whoever cuts it, and what its
// outlines become for the width of the cut.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/unit"
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
	// Form is a block that strips are bent round.
	Form
	// Holder holds a bent strip while its ends are trimmed.
	Holder
	// PivotBar is the bar that a router swings on about a pin.
	PivotBar
	// Stick is a story stick: a batten that bears places at full size.
	Stick
	// Rail is the batten that stepped panels slide along, or a piece of it.
	Rail
	// Splice bridges the joints of a rail.
	Splice
	// Index is the plate by which a panel is pinned to the rail.
	Index
)

var plyWords = [...]string{
	Wall:     "wall",
	Floor:    "floor",
	Frame:    "frame",
	Wedge:    "wedge",
	Key:      "key",
	Aid:      "aid",
	Form:     "form",
	Holder:   "holder",
	PivotBar: "pivot",
	Stick:    "story-stick",
	Rail:     "rail",
	Splice:   "splice",
	Index:    "index",
}

// String is the layer's word in file names.
func (l Ply) String() string { return unit.Word(plyWords[:], l, "ply") }

// A Part is one piece of sheet, ready to be written.
type Part struct {
	Panel     string // the panel that it belongs to; empty for a frame and aids
	Ply       Ply
	Thickness float64 // of its sheet, mm
	Quantity  int     // how many are cut
	Sheet     Sheet
}

// LeastPath is the least diameter in mm of a hole's outline that allows for the
// cut: a cutter that turns on the spot burns.
const LeastPath = 0.5

// thinCut is the width in mm of the widest cut whose outlines have sharp corners.
// A corner that has no mitre is bevelled, which takes up to a third of half the
// cut off the part: nothing for a laser, too much for a router. Wider cuts go
// round corners, which leaves these sharp.
const thinCut = 0.5

// Drilled reports whether a hole is too small for a cut of width kerf.
func Drilled(radius, kerf float64) bool { return 2*radius-kerf < LeastPath }

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
		s := Sheet{Name: p.Sheet.Name, Title: p.Sheet.Title}
		for _, l := range p.Sheet.Lines {
			switch l.Role {
			case Opening:
				for _, c := range region.New(l.Contour).Shrink(kerf / 2).Loops() {
					s.Lines = append(s.Lines, Line{Role: l.Role, Contour: begunNear(Weld(c), l.Contour.Start())})
				}
				continue
			case Edge:
				l.Contour = Weld(l.Contour.Parallel(-kerf/2, corners))
			case Pin, Mark, Note:
			}
			s.Lines = append(s.Lines, l)
		}
		for _, h := range p.Sheet.Holes {
			if h.Role == Pin && Drilled(h.Radius, kerf) {
				s.Lines = append(s.Lines, drillMark(h)...)
				continue
			}
			if h.Role == Pin {
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
func drillMark(h Hole) []Line {
	var lines []Line
	for _, d := range []geom.Point{geom.Pt(h.Radius, 0), geom.Pt(0, h.Radius)} {
		lines = append(lines, Line{Role: Mark, Contour: geom.Contour{Vertices: []geom.Vertex{{Point: h.Center.Sub(d)}, {Point: h.Center.Add(d)}}}})
	}
	return lines
}

// Speck is the length in mm within which a place on an outline is its vertex:
// edges that short are welded away.
const Speck = 2 * MinEdge

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
	case t*length < Speck:
		return c.Rotate(at)
	case (1-t)*length < Speck:
		return c.Rotate((at + 1) % c.Len())
	}
	return BegunAt(c, at, t)
}

// BegunAt returns the closed contour c begun at the fraction t of its i-th edge.
func BegunAt(c geom.Contour, i int, t float64) geom.Contour {
	e := c.Edge(i)
	first, second := e.Part(0, t), e.Part(t, 1)
	r := c.Rotate(i)
	vs := append([]geom.Vertex{{Point: second.A, Bulge: second.Bulge}}, r.Vertices[1:]...)
	return geom.Contour{Vertices: append(vs, geom.Vertex{Point: first.A, Bulge: first.Bulge}), Closed: true}
}
