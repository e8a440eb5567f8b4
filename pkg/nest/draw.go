package nest

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// Draw draws a sheet with all that is on it, every line in its part's role, and
// the sheet's own rim as a note. It has as many edges as parts.
func (l Layout) Draw(items []Item, name, title string) sheet.Sheet {
	s := sheet.Sheet{Name: name, Title: title}
	for _, p := range l.Placed {
		part := items[p.Item].Sheet
		for _, line := range part.Lines {
			s.Lines = append(s.Lines, sheet.Line{Role: line.Role, Contour: p.At.Contour(line.Contour)})
		}
		for _, h := range part.Holes {
			h.Center = p.At.Apply(h.Center)
			s.Holes = append(s.Holes, h)
		}
	}
	rim := geom.Rect(geom.Box{Max: l.Size})
	s.Lines = append(s.Lines, sheet.Line{Role: sheet.Note, Contour: rim})
	return s
}

// Used is the area in mm2 within the outlines of the parts on a sheet, what is
// cut out of them included: it can't be used again.
func (l Layout) Used(items []Item) float64 {
	area := 0.0
	for _, p := range l.Placed {
		area += Outline(items[p.Item].Sheet)
	}
	return area
}

// Waste is the share of a sheet, 0 to 1, that is in none of its parts.
func (l Layout) Waste(items []Item) float64 {
	return 1 - l.Used(items)/(l.Size.X*l.Size.Y)
}

// Outline is the area in mm2 within a part's outline.
func Outline(s sheet.Sheet) float64 {
	area := 0.0
	for _, line := range s.Lines {
		if line.Role == sheet.Edge && line.Contour.Closed {
			area += math.Abs(line.Contour.Area())
		}
	}
	return area
}

// Holds reports whether c lies within the box of p, give or take the decimals
// of a file.
func (p Placed) Holds(c geom.Contour) bool {
	box, in := c.Bounds(), p.Box.Expand(fileSlack)
	return in.Holds(box.Min) && in.Holds(box.Max)
}

// fileSlack in mm is more than a coordinate loses in a file (nine decimals of
// an inch) and far less than what is between two parts.
const fileSlack = 1e-6
