// Package paper lays patterns out for printing: drawings at full size over the
// tiles of an absolute grid, the page that proves the printer's scale, page
// map, legend, title blocks, and running text. What comes of it are neutral
// pages of lines, areas and lettering, in no file format yet.
//
// Lengths are mm, x to the right and y up. A drawing has the motif's origin,
// a page its lower left corner.
package paper

import "strapwork/pkg/geom"

// A Pen is how a line is drawn. Everything that matters differs in width and
// dash, never in colour alone: it has to be distinguished on any printer.
type Pen struct {
	Width float64   // mm; 0 draws no line
	Dash  []float64 // lengths in mm drawn and left out in turn; none: solid
	Gray  float64   // 0 is black, 1 white
	Color string    // #rrggbb; empty for a grey, which is what patterns are drawn in
}

// A Stroke is a line on a page. Offset is how far along the pen's dashes it
// begins, so that a line goes on from one page to the next.
type Stroke struct {
	Contour geom.Contour
	Pen     Pen
	Offset  float64
}

// An Area is a filled area: outer loops run counter-clockwise and holes
// clockwise. Its boundary is drawn with the pen.
type Area struct {
	Loops []geom.Contour
	Gray  float64 // 0 is black, 1 white
	Color string  // #rrggbb; empty for a grey
	Empty bool    // not filled
	Pen   Pen
}

// A Text is one line of lettering. At is the left end, the middle or the right
// end of its base line, as Align says; Angle turns it about At.
type Text struct {
	At     geom.Point
	String string
	Size   float64 // of the letters' body (em) in mm; capitals are 0.72 of it
	Bold   bool
	Angle  float64 // radians, counter-clockwise
	Align  Align
	Color  string // #rrggbb; empty for black
}

// Align says which point of a line of lettering is given.
type Align int

const (
	// Left is the line's start.
	Left Align = iota
	// Center is its middle.
	Center
	// Right is its end.
	Right
)

// A Page is one page: areas first, then lines, then lettering. What is on it
// has true size and is drawn larger by ScaleX and ScaleY, the correction of
// what the printer does; Width and Height are the sheet's own.
type Page struct {
	Width, Height  float64
	ScaleX, ScaleY float64
	Areas          []Area
	Strokes        []Stroke
	Texts          []Text
}

// A Document is a file of pages.
type Document struct {
	Title string
	Pages []Page
}

func (p *Page) stroke(pen Pen, c geom.Contour) {
	p.Strokes = append(p.Strokes, Stroke{Contour: c, Pen: pen})
}

func (p *Page) line(pen Pen, pts ...geom.Point) {
	c := geom.Contour{}
	for _, q := range pts {
		c.Vertices = append(c.Vertices, geom.Vertex{Point: q})
	}
	p.stroke(pen, c)
}

func (p *Page) box(pen Pen, b geom.Box) { p.stroke(pen, geom.Rect(b)) }

func (p *Page) fill(gray float64, loops ...geom.Contour) {
	p.Areas = append(p.Areas, Area{Loops: loops, Gray: gray})
}

func (p *Page) text(t Text) {
	if t.String != "" {
		p.Texts = append(p.Texts, t)
	}
}

// free is the part of a page that can be drawn on, in true mm.
func (p *Page) free(margin float64) geom.Box {
	return geom.Box{
		Min: geom.Pt(margin/p.ScaleX, margin/p.ScaleY),
		Max: geom.Pt((p.Width-margin)/p.ScaleX, (p.Height-margin)/p.ScaleY),
	}
}

// The pens. Widths are those of ISO 128's thin lines and below. What is followed
// with a saw is the boldest by far, and still narrow enough that its centre is
// found to 0.1 mm; what only helps to join sheets is thin and grey.
var (
	penCut    = Pen{Width: 0.4}
	penFloor  = Pen{Width: 0.4, Dash: []float64{3.2, 1.4}}
	penHatch  = Pen{Width: 0.1, Gray: 0.3}
	penGroove = Pen{Width: 0.25}
	penUpper  = Pen{Width: 0.3}
	penCentre = Pen{Width: 0.1, Dash: []float64{8, 1.2, 1.2, 1.2}}
	penNote   = Pen{Width: 0.13, Dash: []float64{3, 1, 0.5, 1}, Gray: 0.3}
	penMark   = Pen{Width: 0.2, Gray: 0.25}
	penPoint  = Pen{Width: 0.13}
	penScale  = Pen{Width: 0.1, Gray: 0.5}
	penTrim   = Pen{Width: 0.13, Dash: []float64{0.6, 1.2}, Gray: 0.4}
	penCross  = Pen{Width: 0.13, Gray: 0.3}
	penBar    = Pen{Width: 0.1, Gray: 0.5}
	penProof  = Pen{Width: 0.12}
	penFrame  = Pen{Width: 0.2}
	penBlock  = Pen{Width: 0.15, Gray: 0.4}
	penThin   = Pen{Width: 0.13}
	penStrip  = Pen{Width: 0.13} // a strip may be 0.3 mm thick
	penBlank  = Pen{Width: 0.13, Dash: []float64{1.6, 0.8}, Gray: 0.3}
	penLeader = Pen{Width: 0.08, Gray: 0.35}
)

// grayBar is how light the filled steps of bars are.
const grayBar = 0.72
