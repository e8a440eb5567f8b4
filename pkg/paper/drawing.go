package paper

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// A Use says what a line of a pattern means to whoever follows it.
type Use int

const (
	// Cut is a line to cut along.
	Cut Use = iota
	// FloorCut is a line to cut along on the floor alone, where a panel's wall
	// and floor share their sheets.
	FloorCut
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
	// Strip is the outline of a piece of the strips.
	Strip
	// Blank is what a piece is cut to before it is bent and trimmed.
	Blank
)

// uses lists every use in the order of the legend.
func uses() []Use {
	return []Use{Cut, FloorCut, Edge, GrooveEdge, Centre, Upper, Chisel, Strip, Blank, Mark, Note}
}

var useWords = [...]string{
	Cut:        "opening or hole: cut on the line's centre",
	FloorCut:   "slot of the floor: cut in the floor only",
	Edge:       "edge of the part: cut last",
	GrooveEdge: "edge of the groove",
	Centre:     "centre line of the groove",
	Upper:      "side of the strand that lies on top at a crossing",
	Mark:       "lettering and marks on the part: not cut",
	Note:       "for the reader: not cut",
	Chisel:     "round a corner or end that is left for the chisel",
	Strip:      "outline of a piece",
	Blank:      "cut to this length first: bent, then trimmed to its ends",
}

// String is what the line means, for the legend.
func (u Use) String() string { return unit.Word(useWords[:], u, "use") }

// pen is how lines of a use are drawn.
func (u Use) pen() Pen {
	switch u {
	case Cut, Edge:
		return penCut
	case FloorCut:
		return penFloor
	case GrooveEdge:
		return penGroove
	case Centre:
		return penCentre
	case Upper:
		return penUpper
	case Mark:
		return penMark
	case Note:
		return penNote
	case Chisel:
		return Pen{Width: 0.2, Dash: []float64{0.5, 0.7}, Gray: 0.35}
	case Strip:
		return penStrip
	case Blank:
		return penBlank
	}
	return penThin
}

// A Drawn is one line of a pattern.
type Drawn struct {
	Use     Use
	Contour geom.Contour
}

// drawn reports whether a line is one of what the pattern is of: a sheet that
// has none of these is left out.
func (u Use) drawn() bool { return u != Note }

// waste says on which side of a closed line there is waste: within it, beyond
// it, or neither.
func (u Use) waste() (within, beyond bool) {
	switch u {
	case Cut, FloorCut:
		return true, false
	case Edge:
		return false, true
	case GrooveEdge, Centre, Upper, Mark, Note, Chisel, Strip, Blank:
	}
	return false, false
}

// A Piece is a part that a drawing is a pattern of.
type Piece struct {
	Name      string // as its files are named: "A-wall"
	Make      int    // so many are cut; 0 for what isn't a part
	Drawn     int    // so many of them are on the sheets
	Thickness float64
}

// A Drawing is a pattern before it is laid over pages.
type Drawing struct {
	Title  string
	Pieces []Piece
	Clear  float64 // in mm, kept free round the lines, for lettering
	Lines  []Drawn
	Texts  []Text       // in the drawing's coordinates; see Label
	Points []geom.Point // that lines are laid out from: shown as small crosses
	Tables []Table      // of what the drawing is laid out by
	Notes  []string     // said in the contents
	labels []caption    // besides Texts
	points int          // so many are numbered
}

// A Table is a list of measures. Its rows stand in as many columns side by side
// as there is room for.
type Table struct {
	Title string
	Head  []string
	Rows  [][]string
}

// crossArm is half of the size in mm of the cross at a point.
const crossArm = 1.5

// Bounds is the smallest box that holds the lines, but for those that are for
// the reader alone. Crosses at corners may reach beyond it.
func (d Drawing) Bounds() geom.Box {
	b := geom.EmptyBox()
	for _, l := range d.Lines {
		if l.Use.drawn() {
			b = b.Join(l.Contour.Bounds())
		}
	}
	if b.Empty() {
		return b
	}
	return b.Expand(d.Clear)
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

// WithFloor puts the floor of a panel on the sheets of its wall, if both have
// the same edge: what both are cut along is drawn once. It reports whether they
// have.
func (d *Drawing) WithFloor(floor Drawing) bool {
	var own []Drawn
	for _, l := range floor.Lines {
		shared := d.has(l)
		if l.Use == Edge && !shared {
			return false
		}
		if l.Use == Cut && !shared {
			own = append(own, Drawn{Use: FloorCut, Contour: l.Contour})
		}
	}
	d.Lines = append(d.Lines, own...)
	d.Pieces = append(d.Pieces, floor.Pieces...)
	return true
}

// has reports whether a drawing has the same line.
func (d *Drawing) has(l Drawn) bool {
	same := func(o Drawn) bool {
		return o.Use == l.Use && o.Contour.Closed == l.Contour.Closed && slices.EqualFunc(o.Contour.Vertices, l.Contour.Vertices, func(v, w geom.Vertex) bool {
			return v.Point.Near(w.Point, geom.Coincident) && math.Abs(v.Bulge-w.Bulge) < geom.Coincident
		})
	}
	return slices.ContainsFunc(d.Lines, same)
}

// Add puts another drawing on d, moved. Its labels are as short as they can be,
// since places in them are of where it lay.
func (d *Drawing) Add(part Drawing, at geom.Similarity) {
	for _, l := range part.Lines {
		d.Lines = append(d.Lines, Drawn{Use: l.Use, Contour: at.Contour(l.Contour)})
	}
	for _, p := range part.Points {
		d.Points = append(d.Points, at.Apply(p))
	}
	for _, l := range part.labels {
		if l.of == aCentre {
			continue // has its cross
		}
		d.Label(at.Apply(l.at), l.bold, l.forms[len(l.forms)-1])
	}
	d.Tables = append(d.Tables, part.Tables...)
}
