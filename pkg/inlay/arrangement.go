package inlay

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
	"strapwork/pkg/wood"
)

// Arrangement draws tops that are put together: what Top shows, the joints between them,
// their names, the grain, and how long they are together.
func (in Inlay) Arrangement(title string, grain float64) sheet.Picture {
	p := in.Top(title)
	board := p.Bounds
	size := math.Max(board.Size().X, board.Size().Y)
	h := capitals * size
	k := detailing{in: in, p: &p, h: h}
	row := board.Min.Y - nameDrop*h
	for _, top := range in.tops[1:] {
		low, high := top.Outline.Bounds().Min, top.Outline.Bounds().Max
		p.Fills = append(p.Fills, sheet.Fill{
			Loops: []geom.Contour{geom.Chain(false, geom.Line(low, geom.Pt(low.X, high.Y)))}, Stroke: wood.Line(wood.BoardColor(in.wood)).Hex(), StrokeWidth: jointWide * size, Hair: true, Label: "joint",
		})
	}
	k.names(row)
	row -= 2 * h
	for _, x := range [2]float64{board.Min.X, board.Max.X} {
		k.line(geom.Pt(x, board.Min.Y-h/2), geom.Pt(x, row-h/2))
	}
	k.dimension(geom.Pt(board.Min.X, row), geom.Pt(board.Max.X, row))
	row -= 2 * h
	k.text(geom.Pt(board.Center().X, row), true, k.said(board.Size().X))
	k.grain(geom.Pt(board.Min.X, row), grain)
	p.Bounds = board.Join(k.box)
	return in.legended(p, p.Bounds, size)
}

// jointWide is the width of a joint's line, as a share of the top's longer side.
const jointWide = 1.0 / 2000

// nameDrop is how far under its top a name stands, in heights of capitals.
const nameDrop = 2.0

// names writes the tops' names under them, smaller where a top is shorter than its name.
func (k *detailing) names(y float64) {
	h := k.h
	for _, top := range k.in.tops {
		b := top.Outline.Bounds()
		if wide := (sheet.Text{Height: h, String: top.Name}).Width(); wide > b.Size().X {
			k.h = h * b.Size().X / wide
		}
		k.text(geom.Pt(b.Center().X, y), true, top.Name)
		k.h = h
	}
}

// grain draws which way the grain runs, with the word beside it.
func (k *detailing) grain(at geom.Point, angle float64) {
	const long = 1.0 // of a half, in heights of capitals
	way := geom.Polar(long*k.h, angle)
	mid := at.Add(geom.Pt(math.Abs(way.X)+k.h, k.h/2))
	k.dimension(mid.Sub(way), mid.Add(way))
	k.text(geom.Pt(mid.X+math.Abs(way.X)+0.6*k.h, at.Y), false, "grain")
}
