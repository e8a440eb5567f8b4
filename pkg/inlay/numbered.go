package inlay

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/numbering"
	"strapwork/pkg/sheet"
	"strapwork/pkg/wood"
)

// A Name is the numbers of the pieces that lie side by side; a Spot is one where it may stand.
type (
	Name = numbering.Name
	Spot = numbering.Spot
)

// pieceHeights are the heights of pieces' numbers that are tried, in those of the legend's
// capitals: on a page the smallest are as high as the print on a rule.
var pieceHeights = []float64{0.9, 0.75, 0.6, 0.5, 0.42, 0.36, 0.3, 0.25, 0.2}

// Numbered draws the inlay, and of the board no more than is about it, with the numbers of
// its pieces.
func (in Inlay) Numbered(title string, names []Name) sheet.Picture {
	in.board = nil
	p := in.Top(title)
	size := math.Max(p.Bounds.Size().X, p.Bounds.Size().Y)
	const apart, line = 0.15, 0.05 // of the legend's capitals
	h := capitals * size
	s := numbering.Style{Half: in.half(), Apart: apart * h, To: geom.Identity(), Color: lineShade, Ink: lineShade, Plate: pageShade, Line: line * h}
	for _, f := range pieceHeights {
		s.Heights = append(s.Heights, f*h)
	}
	l := s.Names(names, in.room(apart*h/3))
	p.Fills, p.Texts = append(p.Fills, l.Fills...), append(p.Texts, l.Texts...)
	in.nameTops(&p, h)
	return in.paged(p, l, size, "Pieces: left to right, looking along the arrow.")
}

// nameTops writes each top's name over it.
func (in Inlay) nameTops(p *sheet.Picture, h float64) {
	const over = 0.6
	for _, t := range in.tops {
		b := t.Outline.Bounds()
		p.Texts = append(p.Texts, sheet.Text{At: geom.Pt(b.Center().X, b.Max.Y+over*h), Height: h, String: t.Name, Middle: true})
		p.Bounds = p.Bounds.Include(geom.Pt(b.Min.X, b.Max.Y+(1+over)*h))
	}
}

// paged puts a picture of the board with its lettering on a page, over the legend.
func (in Inlay) paged(p sheet.Picture, l numbering.Lettering, size float64, words ...string) sheet.Picture {
	seen := p.Bounds
	for _, f := range l.Fills {
		for _, c := range f.Loops {
			seen = seen.Join(c.Bounds())
		}
	}
	return in.legended(p, seen, size, words...)
}

// legended puts a picture of which so much is seen on a page, over the legend.
func (in Inlay) legended(p sheet.Picture, seen geom.Box, size float64, words ...string) sheet.Picture {
	bottom := in.legend(&p, wood.Palette(in.layers, wood.BoardColor(in.wood)), seen, size)
	const line = 2.4
	h := capitals * size
	for _, w := range words {
		bottom -= line * h
		p.Texts = append(p.Texts, sheet.Text{At: geom.Pt(seen.Min.X, bottom+0.2*h), Height: h, String: w})
	}
	page := seen.Include(geom.Pt(seen.Min.X, bottom))
	for _, t := range p.Texts {
		if !t.Middle {
			page = page.Include(t.At.Add(geom.Pt(t.Width(), 0)))
		}
	}
	p.Bounds = page.Expand(pageMargin * size)
	p.Fills = append([]sheet.Fill{{Loops: []geom.Contour{geom.Rect(p.Bounds)}, Color: pageShade}}, p.Fills...)
	return p
}
