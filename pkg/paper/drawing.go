package paper

import (
	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// A Use says what a line of a pattern means to whoever follows it.
type Use int

const (
	// Cut is a line to cut along.
	Cut Use = iota
	// Edge is the part's outline.
	Edge
	// GrooveEdge is a wall of the groove.
	GrooveEdge
	// Centre is the middle of a groove, which the bit follows.
	Centre
	// Upper is the side of the strand that lies on top of a crossing.
	Upper
	// Mark is lettering and marks on the part.
	Mark
	// Note is for the reader alone.
	Note
	// Chisel is round a corner that the bit leaves.
	Chisel
)

// uses lists every use in the order of the legend.
func uses() []Use { return []Use{Cut, Edge, GrooveEdge, Centre, Upper, Chisel, Mark, Note} }

var useWords = [...]string{
	Cut:        "cutting line: cut on the line's centre",
	Edge:       "the part's edge: cut on the line's centre, last",
	GrooveEdge: "edge of the groove",
	Centre:     "centre line of the groove",
	Upper:      "side of the strand that lies on top at a crossing",
	Mark:       "lettering and marks on the part: not cut",
	Note:       "for the reader: not cut",
	Chisel:     "round a corner or end that is left for the chisel",
}

// String is what the line means, for the legend.
func (u Use) String() string { return unit.Word(useWords[:], u, "use") }

// pen is how lines of a use are drawn.
func (u Use) pen() Pen {
	switch u {
	case Cut:
		return penCut
	case Edge:
		return penEdge
	case GrooveEdge:
		return penGroove
	case Centre:
		return penCentre
	case Upper:
		return Pen{Width: 0.35}
	case Mark:
		return penMark
	case Note:
		return penNote
	case Chisel:
		return Pen{Width: 0.2, Dash: []float64{0.5, 0.7}}
	}
	return penThin
}

// A Drawn is one line of a pattern.
type Drawn struct {
	Use     Use
	Contour geom.Contour
}

// A Drawing is a pattern before it is laid over pages.
type Drawing struct {
	Title  string
	Lines  []Drawn
	Texts  []Text       // in the drawing's coordinates; see Label
	Points []geom.Point // that lines are laid out from: shown as small crosses
	Tables []Table      // of what the drawing is laid out by
	Notes  []string     // said beside the page map
	labels []caption    // besides Texts
}

// A Table is a list of measures.
type Table struct {
	Title string
	Head  []string
	Rows  [][]string
}

// crossArm is half of the size in mm of the cross at a point.
const crossArm = 1.5

// Bounds is the smallest box that holds the lines and points.
func (d Drawing) Bounds() geom.Box {
	b := geom.EmptyBox()
	for _, l := range d.Lines {
		b = b.Join(l.Contour.Bounds())
	}
	for _, p := range d.Points {
		b = b.Join(pointBox(p))
	}
	return b
}

func pointBox(p geom.Point) geom.Box {
	return geom.Box{Min: p, Max: p}.Expand(crossArm)
}

// FromSheet is the pattern of a template part.
func FromSheet(s sheet.Sheet) Drawing {
	d := Drawing{Title: s.Title}
	if d.Title == "" {
		d.Title = s.Name
	}
	for _, l := range s.Lines {
		d.Lines = append(d.Lines, Drawn{Use: useOf(l.Role), Contour: l.Contour})
	}
	for _, h := range s.Holes {
		d.Lines = append(d.Lines, Drawn{Use: useOf(h.Role), Contour: geom.Circle(h.Center, h.Radius)})
	}
	return d
}

func useOf(r sheet.Role) Use {
	switch r {
	case sheet.Opening, sheet.Pin:
		return Cut
	case sheet.Edge:
		return Edge
	case sheet.Mark:
		return Mark
	case sheet.Note:
		return Note
	}
	return Note
}
