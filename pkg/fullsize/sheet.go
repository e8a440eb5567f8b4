package fullsize

import (
	"math"

	"strapwork/pkg/cutlist"
	"strapwork/pkg/geom"
	"strapwork/pkg/lettering"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// Measures of the drawing for a machine, mm.
const (
	rowWide   = 600.0 // of a row: what most beds take
	figureGap = 12.0  // between pieces
	letters   = 3.0   // height of capitals
	lettersUp = 2.0   // over the piece
)

// Sheet lays every kind out at its true size, in rows: outlines as edges, straight and
// under it as it is laid, the blank of a bent one as a note, and over them the pieces'
// numbers, what they are of and how long they are cut. Kinds with an outline that no
// machine can follow are left out and returned.
func Sheet(figures []Figure, u unit.System) (s sheet.Sheet, left []Figure) {
	s = sheet.Sheet{Name: "strips", Title: "strips at full size"}
	var at geom.Point
	low := 0.0 // of the row
	for _, f := range figures {
		lines := f.lines(u)
		own := sheet.Sheet{Lines: lines}
		if edges := own.BoundsOf(sheet.Edge); edges.Empty() || len(sheet.CheckParts(own, count(lines, sheet.Edge))) > 0 {
			left = append(left, f)
			continue
		}
		b := own.Bounds()
		if at.X > 0 && at.X+b.Size().X > rowWide {
			at, low = geom.Pt(0, at.Y-low-figureGap), 0
		}
		move := geom.Shifting(at.Sub(geom.Pt(b.Min.X, b.Max.Y)))
		for _, l := range lines {
			s.Lines = append(s.Lines, sheet.Line{Role: l.Role, Contour: move.Contour(l.Contour)})
		}
		at.X += b.Size().X + figureGap
		low = math.Max(low, b.Size().Y)
	}
	return s, left
}

// Parts is the number of outlines of a sheet.
func Parts(s sheet.Sheet) int { return count(s.Lines, sheet.Edge) }

func count(lines []sheet.Line, role sheet.Role) (n int) {
	for _, l := range lines {
		if l.Role == role {
			n++
		}
	}
	return n
}

// lines are a kind's own, the straight piece with its lower left corner at the origin.
func (f Figure) lines(u unit.System) (list []sheet.Line) {
	outline := func(c geom.Contour, by geom.Point) {
		role := sheet.Edge
		if c.Area() < 0 { // a ring's inner side
			role, c = sheet.Opening, c.Reverse()
		}
		list = append(list, sheet.Line{Role: role, Contour: geom.Shifting(by).Contour(sheet.Weld(c))})
	}
	for _, c := range f.Flat {
		outline(c, geom.Point{})
	}
	if f.Blank.Len() > 0 {
		list = append(list, sheet.Line{Role: sheet.Note, Contour: f.Blank})
	}
	if len(f.Laid) > 0 {
		down := geom.Pt(0, -figureGap/2-boundsOf(f.Laid).Max.Y)
		for _, c := range f.Laid {
			outline(c, down)
		}
		for _, c := range f.Joints {
			list = append(list, sheet.Line{Role: sheet.Mark, Contour: geom.Shifting(down).Contour(c)})
		}
	}
	say := cutlist.Numbers(f.Numbers) + ": " + material(f.Piece) + " " + length(f.Piece.Thickness, u) + ", cut " + length(f.Cut, u)
	for _, c := range lettering.Text(say, geom.Pt(0, f.Piece.Thickness+lettersUp), letters) {
		if c, ok := sheet.Drawn(c); ok {
			list = append(list, sheet.Line{Role: sheet.Mark, Contour: c})
		}
	}
	return list
}
