// Package drawing is a drawing as it was read from a file, whatever its format: curves
// in the order in which they are painted, each with how it is drawn and where it stands
// in the file, and what was passed over. It says what is drawn, not what a maker wants
// of it.
//
// Coordinates are the file's own units with y up; a reader turns over what has y down.
// Angles are radians, counter-clockwise from +x.
package drawing

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
)

// Limits of what is read: a drawing of a motif has some hundreds of curves.
const (
	// MaxSize is the size in bytes beyond which a drawing is not read.
	MaxSize = 32 << 20
	// MaxCurves is how many segments a drawing may have, copies counted.
	MaxCurves = 50_000
	// MaxDeep is how deep its groups may be nested.
	MaxDeep = 64
	// Farthest is the largest coordinate that is read, in any unit.
	Farthest = 1e9
)

// A Drawing is what a file draws.
type Drawing struct {
	// Unit is the length of a unit in mm, as the file states it; 0 where it doesn't.
	Unit float64
	// Page is the paper or viewBox that the file states, in its units; empty where it
	// states none. (A DXF file states the extents of its curves, which is no page.)
	Page   geom.Box
	Curves []Curve  // in painting order: later ones lie on top
	Passed []Passed // what was passed over, in the order in which each was first met
}

// A Curve is a chain of segments, each beginning where the one before ends.
type Curve struct {
	Segments []Segment
	Closed   bool    // it is drawn back to its start; the last segment ends there
	Filled   bool    // its inside is painted, as if it were closed where it isn't
	Stroked  bool    // its line is painted
	Width    float64 // of the line as drawn, in the drawing's units; 0: as thin as can be
	Dashed   bool    // its line has gaps
	// Dashes are what is drawn and what is left out of a dashed line, in turn, over and
	// over along it; DashStart is how far into them it begins. In the drawing's units; nil
	// where that isn't known.
	Dashes    []float64
	DashStart float64
	Masked    bool   // a mask or a clipping path hides parts of it
	Layer     string // DXF: the layer; SVG: the id of the outermost group that has one
	Color     string // of the line where that is painted, else of the inside: "#rrggbb"; "" unknown
	ID        string // the name or handle that the file gives it; may be empty
	Pos       diag.Position
}

// Passed is what of a file is no line to follow, or is hidden.
type Passed struct {
	What  string // in a list: "text", "hidden layer", "mask"
	Count int
	Pos   diag.Position // of the first
}

// Pass counts one thing that is passed over.
func (d *Drawing) Pass(what string, pos diag.Position) {
	d.PassAll(Passed{What: what, Count: 1, Pos: pos})
}

// PassAll counts several of a kind that are passed over.
func (d *Drawing) PassAll(p Passed) {
	for i := range d.Passed {
		if d.Passed[i].What == p.What {
			d.Passed[i].Count += p.Count
			return
		}
	}
	d.Passed = append(d.Passed, p)
}

// Bounds is the smallest box that holds the curves' centre lines, in the drawing's
// units.
func (d Drawing) Bounds() geom.Box {
	b := geom.EmptyBox()
	for _, c := range d.Curves {
		b = b.Join(c.Bounds())
	}
	return b
}

// Bounds is the smallest box that holds the curve, in the drawing's units.
func (c Curve) Bounds() geom.Box {
	b := geom.EmptyBox()
	for _, s := range c.Segments {
		b = b.Join(s.Bounds())
	}
	return b
}

// Length is the length of the curve, to about 1e-9 of it where it has no cusp.
func (c Curve) Length() float64 {
	var sum float64
	for _, s := range c.Segments {
		sum += Length(s)
	}
	return sum
}

// Moved is the curve under an affine map. The width of its line grows by the root of
// the map's area; where dashes lie isn't known when the map doesn't keep shapes.
func (c Curve) Moved(m Affine) Curve {
	moved := c
	scale := m.Scale()
	moved.Width = c.Width * scale
	moved.Dashes, moved.DashStart = nil, 0
	if c.Dashes != nil && m.Similar() {
		moved.DashStart = c.DashStart * scale
		for _, d := range c.Dashes {
			moved.Dashes = append(moved.Dashes, d*scale)
		}
	}
	moved.Segments = make([]Segment, len(c.Segments))
	for i, s := range c.Segments {
		moved.Segments[i] = s.Moved(m)
	}
	return moved
}
