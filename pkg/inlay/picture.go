package inlay

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/label"
	"strapwork/pkg/numbering"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
	"strapwork/pkg/wood"
	"strapwork/pkg/work"
)

// Picture draws the finished inlay: the board, the grooves, every strip in its
// material's colour with a line round each piece, and a legend under it. Where
// the job does not describe the board a piece of it round the motif is drawn.
// An inlay of no strands gives a picture of the board alone. Over it lie the numbers of
// crossings, if there are any.
func (in Inlay) Picture(title string, numbers ...work.Numbers) sheet.Picture {
	p := in.Top(title)
	size := math.Max(p.Bounds.Size().X, p.Bounds.Size().Y)
	l := in.number(numbers, size)
	p.Fills, p.Texts = append(p.Fills, l.Fills...), append(p.Texts, l.Texts...)
	return in.paged(p, l, size)
}

// Top draws the board with the finished inlay and nothing else.
func (in Inlay) Top(title string) sheet.Picture {
	p := sheet.Picture{Title: title, Bounds: in.boardBox()}
	board := wood.BoardColor(in.wood)
	if len(in.tops) == 0 {
		p.Fills = append(p.Fills, sheet.Fill{Loops: []geom.Contour{geom.Rect(p.Bounds)}, Color: board.Hex(), Label: "board"})
	}
	for _, top := range in.tops {
		p.Fills = append(p.Fills, sheet.Fill{Loops: []geom.Contour{top.Outline}, Color: board.Hex(), Stroke: wood.Line(board).Hex(), StrokeWidth: in.lineWidth(), Label: top.Name})
	}
	for _, g := range in.grooves {
		p.Fills = append(p.Fills, sheet.Fill{Loops: g.Loops(), Color: grooveShade})
	}
	colors := wood.Palette(in.layers, wood.BoardColor(in.wood))
	for _, s := range in.Strips {
		p.Fills = append(p.Fills, in.drawn(s, colors[s.Layer]))
	}
	return p
}

// Extent is what the grooves take up.
func (in Inlay) Extent() geom.Box {
	b := geom.EmptyBox()
	for _, g := range in.grooves {
		b = b.Join(g.Bounds())
	}
	return b
}

// A Material is one that is seen, and how it looks.
type Material struct {
	Name  string // the board's, where the job doesn't give it, is "board"
	Color string // #rrggbb
}

// Materials are the board's and the strips', each once.
func (in Inlay) Materials() []Material {
	board := wood.BoardColor(in.wood)
	list := []Material{{cmp.Or(in.wood.Species, "board"), board.Hex()}}
	for k, c := range wood.Palette(in.layers, board) {
		m := Material{cmp.Or(in.layers[k].Material, "inlay"), c.Hex()}
		if !slices.Contains(list, m) {
			list = append(list, m)
		}
	}
	return list
}

// number writes the numbers of crossings on plates over the inlay.
func (in Inlay) number(numbers []work.Numbers, size float64) (all numbering.Lettering) {
	const tall, small, apart, line = 0.7, 0.4, 0.2, 0.06 // of the legend's capitals
	h := capitals * size
	s := numbering.Style{Heights: []float64{tall * h, small * h}, Half: in.half(), Apart: apart * h, To: geom.Identity(), Color: lineShade, Ink: wood.Line(wood.BoardColor(in.wood)).Hex(), Plate: pageShade, Line: line * h}
	room := in.room(apart * h / 2)
	for _, n := range numbers {
		l := s.Of(n, room)
		all.Fills, all.Texts = append(all.Fills, l.Fills...), append(all.Texts, l.Texts...)
	}
	return all
}

// room is where numbers find room: so far off every groove.
func (in Inlay) room(clear float64) *label.Room {
	var room label.Room
	for _, g := range in.grooves {
		room.KeepOff(clear, 1, g.Loops()...)
	}
	return &room
}

// half is half of the lay-up's thickness.
func (in Inlay) half() (sum float64) {
	for _, l := range in.layers {
		sum += l.Thickness / 2
	}
	return sum
}

// Shades that are of no material: gaps are dark.
const (
	pageShade   = "#ffffff"
	grooveShade = "#0f0a09"
	lineShade   = "#140d0c"
)

// Shares of the board's longer side.
const (
	pageMargin  = 0.02
	boardMargin = 0.08
	capitals    = 0.018 // height of the legend's capitals
)

// boardBox is what is shown of the board, and all of the inlay.
func (in Inlay) boardBox() geom.Box {
	b := in.Extent()
	if len(in.tops) > 0 {
		for _, top := range in.tops {
			b = b.Join(top.Outline.Bounds())
		}
		return b
	}
	if in.board != nil {
		low := geom.Pt(0, 0).Sub(in.board.Origin)
		return b.Include(low).Include(low.Add(in.board.Size))
	}
	if b.Empty() {
		b = geom.Box{}
	}
	// An inch at least, so that a single straight isn't shown on a hair.
	const least = 25.4
	size := b.Size()
	return b.Expand(math.Max(least, boardMargin*math.Max(size.X, size.Y)))
}

// drawn is a strip as it is filled.
func (in Inlay) drawn(s Strip, c wood.Color) sheet.Fill {
	f := sheet.Fill{
		Color: c.Hex(), Stroke: wood.Line(c).Hex(), StrokeWidth: in.lineWidth(),
		Label: strings.TrimSpace(fmt.Sprintf("%s %s", in.names[s.Strand], in.layerName(s.Layer))),
	}
	for _, p := range s.Pieces {
		f.Loops = append(f.Loops, p.Area.Loops()...)
	}
	return f
}

// lineWidth is that of the line round a strip: a part of the thinnest strip,
// and of a hair for wide ones.
func (in Inlay) lineWidth() float64 {
	const share, hair = 0.15, 0.25
	w := hair
	for _, l := range in.layers {
		w = math.Min(w, share*l.Thickness)
	}
	return w
}

// layerName is the legend's line for a layer: "2 bronze 1.2 mm".
func (in Inlay) layerName(k int) string {
	l := in.layers[k]
	name := l.Material
	if name == "" {
		name = "fill"
	}
	return fmt.Sprintf("%d %s %s", k+1, name, unit.Len(l.Thickness).In(in.units))
}

// legend names the layers under the board, in rows, and returns the lowest
// place that it takes up.
func (in Inlay) legend(p *sheet.Picture, colors []wood.Color, board geom.Box, size float64) float64 {
	h := capitals * size
	const gap, swatch, line = 1.6, 2.2, 2.4
	x, y := board.Min.X, board.Min.Y-line*h
	text := func(at geom.Point, s string) {
		p.Texts = append(p.Texts, sheet.Text{At: at, Height: h, String: s})
	}
	if len(in.layers) > 1 {
		text(geom.Pt(x, y), "Lay-up, left to right, looking along the strand:")
		y -= line * h
	}
	for k := range in.layers {
		name := in.layerName(k)
		width := (swatch+0.6)*h + sheet.Text{Height: h, String: name}.Width()
		if x > board.Min.X && x+width > board.Max.X {
			x, y = board.Min.X, y-line*h
		}
		c := colors[k]
		box := geom.Box{Min: geom.Pt(x, y-0.2*h), Max: geom.Pt(x+swatch*h, y+1.2*h)}
		p.Fills = append(p.Fills, sheet.Fill{
			Loops: []geom.Contour{geom.Rect(box)}, Color: c.Hex(), Stroke: lineShade, StrokeWidth: h / 12,
		})
		text(geom.Pt(x+(swatch+0.6)*h, y), name)
		x += width + gap*h
	}
	return y - 0.2*h
}

// Grooves is the area of all grooves as the strips fill them: each strand's
// band with its corners mitred.
func (in Inlay) Grooves() region.Region { return region.Union(in.grooves...) }
