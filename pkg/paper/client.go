package paper

// The client's sheet: the top in its woods to a round scale, dimensioned, on one page.

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/profile"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// A Client is what a client is shown.
type Client struct {
	Title  string
	Top    sheet.Picture // the board and what is let into it, without words, in mm
	Board  geom.Box      // the whole board; empty where nothing is said of it
	Whole  string        // what that is called; empty: "Board"
	Thick  float64       // of the board, mm; 0 where it isn't known
	Inlay  geom.Box      // what the inlay takes up
	Joints []float64     // x of the joints between sections of a table, from the left; none where it doesn't come apart
	Woods  []Swatch
}

// A Swatch is a material and how it looks.
type Swatch struct {
	Color string // #rrggbb
	Name  string
}

// Measures of the client's sheet, mm.
const (
	clientMargin = 15.0 // at least; the sheet may go in a folder
	clientDims   = 22.0 // beside and under the top, for its dimensions
	dimRow       = 9.0  // from the top to a dimension, and to the next
	dimTick      = 1.8  // the length of a dimension's arrow
	swatchSide   = 5.0
	swatchLine   = 8.0
)

// Scales that a client's sheet may have, the largest first: ISO 5455's and those between
// that folding rules have; and those of inch rules.
var (
	scales     = []float64{2, 1, 1 / 2.0, 1 / 2.5, 1 / 3.0, 1 / 4.0, 1 / 5.0, 1 / 6.0, 1 / 8.0, 1 / 10.0, 1 / 15.0, 1 / 20.0, 1 / 25.0, 1 / 50.0, 1 / 100.0, 1 / 200.0, 1 / 500.0, 1 / 1000.0}
	inchScales = []float64{2, 1, 1 / 2.0, 1 / 3.0, 1 / 4.0, 1 / 6.0, 1 / 8.0, 1 / 12.0, 1 / 16.0, 1 / 24.0, 1 / 48.0, 1 / 96.0, 1 / 192.0, 1 / 480.0, 1 / 960.0}
)

// ClientSheet lays the client's sheet out, upright or across, whichever shows the top
// larger.
func ClientSheet(c Client, o Options) Document {
	best := clientPage{}
	pages := bothWays(o.Paper)
	if size := c.Top.Bounds.Size(); size.X > size.Y {
		slices.Reverse(pages) // where both show it as large
	}
	for _, page := range pages {
		l := clientPage{Client: c, o: o, page: page}
		l.measure()
		if l.scale > best.scale {
			best = l
		}
	}
	best.draw()
	return Document{Title: c.Title, Pages: []Page{best.page}}
}

// bothWays are an empty page upright and across; off a roll there is one.
func bothWays(p profile.Paper) []Page {
	up := upright(p)
	if p.Roll {
		return []Page{up}
	}
	return []Page{up, {Width: up.Height, Height: up.Width, ScaleX: up.ScaleY, ScaleY: up.ScaleX}}
}

type clientPage struct {
	Client
	o     Options
	page  Page
	scale float64
	area  geom.Box // for top and dimensions
	foot  []footRow
}

// A footRow is a row of swatches.
type footRow []Swatch

// measure finds the largest scale at which the top and its dimensions find room.
func (l *clientPage) measure() {
	l.area = l.page.free(math.Max(l.o.Paper.Margin, clientMargin))
	l.foot = l.rows(l.area.Size().X)
	l.area.Max.Y -= float64(len(l.titleLines()))*huge*lead + 4
	l.area.Min.Y += float64(len(l.foot))*swatchLine + 2*medium*lead + 4
	room, size := l.area.Size(), l.Top.Bounds.Size()
	list := scales
	if l.o.Units == unit.Inch {
		list = inchScales
	}
	for _, s := range list {
		if l.scale = s; size.X*s <= room.X-clientDims && size.Y*s <= room.Y-clientDims {
			break
		}
	}
}

func (l *clientPage) titleLines() []string {
	const most = 3
	lines := wrap(Legible(l.Title), huge, true, l.area.Size().X)
	return lines[:min(most, len(lines))]
}

// rows breaks the swatches into rows.
func (l *clientPage) rows(wide float64) []footRow {
	var list []footRow
	x := wide + 1
	for _, s := range l.Woods {
		w := swatchWide(s)
		if x+w > wide {
			list, x = append(list, nil), 0
		}
		list[len(list)-1] = append(list[len(list)-1], s)
		x += w
	}
	return list
}

func swatchWide(s Swatch) float64 { return swatchSide + 2 + Width(Legible(s.Name), medium, false) + 8 }

func (l *clientPage) draw() {
	p, size := &l.page, l.Top.Bounds.Size().Scale(l.scale)
	low := geom.Pt(l.area.Center().X-(size.X+clientDims)/2, l.area.Center().Y-(size.Y-clientDims)/2)
	p.drawPicture(l.Top, low, l.scale)
	on := func(q geom.Point) geom.Point { return low.Add(q.Sub(l.Top.Bounds.Min).Scale(l.scale)) }
	l.dimensions(on)
	wide := p.free(math.Max(l.o.Paper.Margin, clientMargin))
	y := wide.Max.Y
	for _, s := range l.titleLines() {
		y -= huge * lead
		p.text(Text{At: geom.Pt(wide.Min.X, y), String: s, Size: huge, Bold: true})
	}
	l.legend(wide)
}

// dimensions draws the board's, and where the middle of the inlay lies on it; of an inlay
// alone its own.
func (l *clientPage) dimensions(on func(geom.Point) geom.Point) {
	whole, mid := l.Inlay, l.Inlay.Center()
	if !l.Board.Empty() {
		whole = l.Board
	}
	a, b := on(whole.Min), on(whole.Max)
	edge := on(l.Top.Bounds.Max).X
	foot := on(l.Top.Bounds.Min).Y
	row := 1.0
	switch {
	case len(l.Joints) > 0:
		l.sections(on, foot)
		row = 2
	case !l.Board.Empty():
		m := on(mid)
		cross := Pen{Width: 0.18, Dash: []float64{4, 1, 1, 1}, Color: clientCross}
		p := &l.page
		p.line(cross, geom.Pt(m.X, foot), geom.Pt(m.X, m.Y+crossPast))
		p.line(cross, geom.Pt(m.X-crossPast, m.Y), geom.Pt(edge, m.Y))
		l.dimension(geom.Pt(a.X, foot), geom.Pt(m.X, foot), geom.Pt(0, -dimRow), mid.X-whole.Min.X)
		l.dimension(geom.Pt(edge, a.Y), geom.Pt(edge, m.Y), geom.Pt(dimRow, 0), mid.Y-whole.Min.Y)
		row = 2
	}
	l.dimension(geom.Pt(a.X, foot), geom.Pt(b.X, foot), geom.Pt(0, -row*dimRow), whole.Size().X)
	l.dimension(geom.Pt(edge, a.Y), geom.Pt(edge, b.Y), geom.Pt(row*dimRow, 0), whole.Size().Y)
}

// sections draws the joints of a table, and how long its sections are.
func (l *clientPage) sections(on func(geom.Point) geom.Point, foot float64) {
	from := l.Board.Min.X
	for i, x := range append(slices.Clone(l.Joints), l.Board.Max.X) {
		a, b := on(geom.Pt(from, l.Board.Min.Y)), on(geom.Pt(x, l.Board.Max.Y))
		l.dimension(geom.Pt(a.X, foot), geom.Pt(b.X, foot), geom.Pt(0, -dimRow), x-from)
		if i < len(l.Joints) {
			l.page.line(Pen{Width: 0.13, Color: clientCross}, geom.Pt(b.X, foot), b)
		}
		from = x
	}
}

// clientLine is the colour of dimensions, and clientCross of the lines to the inlay's
// middle, which are seen on dark and pale wood.
const clientLine, clientCross = "#3a3f45", "#8f9399"

// crossPast is how far in mm these lines go past the middle.
const crossPast = 4.0

// dimension draws one from a to b, so far off, with its length.
func (l *clientPage) dimension(a, b, off geom.Point, length float64) {
	p, pen := &l.page, Pen{Width: 0.15, Color: clientLine}
	way, out := b.Sub(a).Unit(), off.Unit()
	for _, q := range []geom.Point{a, b} {
		p.line(pen, q.Add(out.Scale(1.2)), q.Add(off).Add(out.Scale(1.2)))
	}
	a, b = a.Add(off), b.Add(off)
	p.line(pen, a, b)
	for _, tip := range []struct{ at, way geom.Point }{{a, way}, {b, way.Scale(-1)}} {
		back, side := tip.at.Add(tip.way.Scale(dimTick)), tip.way.Left().Scale(dimTick/5)
		p.Areas = append(p.Areas, Area{Loops: []geom.Contour{geom.Polygon(tip.at, back.Sub(side), back.Add(side))}, Color: clientLine})
	}
	// Over a level line, and left of an upright one, read from the right.
	t := Text{String: l.said(length), Size: medium, Align: Center, Angle: way.Angle(), Color: clientLine}
	t.At = a.Lerp(b, 0.5).Add(way.Left().Scale(1))
	if Width(t.String, medium, false) > b.Dist(a) {
		t.Align, t.At = Left, b.Add(way.Scale(1)).Add(way.Left().Scale(1))
	}
	p.text(t)
}

// said is a length as a client reads it: to a millimetre or a sixteenth of an inch.
func (l *clientPage) said(mm float64) string {
	step := 1.0
	if l.o.Units == unit.Inch {
		step = unit.MMPerInch / 16
	}
	return unit.Len(math.Round(mm/step) * step).In(l.o.Units)
}

// legend names the woods at the sheet's foot, and under them the sizes and the scale.
func (l *clientPage) legend(wide geom.Box) {
	p := &l.page
	y := wide.Min.Y + 2*medium*lead + float64(len(l.foot)-1)*swatchLine
	for _, row := range l.foot {
		x := wide.Min.X
		for _, s := range row {
			box := geom.Box{Min: geom.Pt(x, y), Max: geom.Pt(x+swatchSide, y+swatchSide)}
			p.Areas = append(p.Areas, Area{Loops: []geom.Contour{geom.Rect(box)}, Color: s.Color, Pen: Pen{Width: 0.13, Color: clientLine}})
			p.text(Text{At: geom.Pt(x+swatchSide+2, y+swatchSide/2-capHeight*medium/2), String: Legible(s.Name), Size: medium})
			x += swatchWide(s)
		}
		y -= swatchLine
	}
	size := func(b geom.Box) string { return l.said(b.Size().X) + " x " + l.said(b.Size().Y) }
	say := "Inlay " + size(l.Inlay)
	if !l.Board.Empty() {
		say = cmp.Or(l.Whole, "Board") + " " + size(l.Board)
		if l.Thick > 0 {
			say += " x " + unit.Len(l.Thick).In(l.o.Units)
		}
		say += ", inlay " + size(l.Inlay)
	}
	scale := "Scale " + scaleSaid(l.scale)
	room := wide.Size().X - Width(scale, medium, true) - 4
	p.text(Text{At: wide.Min, String: fit(Legible(say), medium, false, room), Size: medium})
	p.text(Text{At: geom.Pt(wide.Max.X, wide.Min.Y), String: scale, Size: medium, Bold: true, Align: Right})
	if l.o.Block.Date != "" {
		p.text(Text{At: geom.Pt(wide.Max.X, wide.Min.Y+medium*lead), String: Legible(l.o.Block.Date), Size: medium, Align: Right})
	}
}

// scaleSaid is a scale as drawings have it: "1:5".
func scaleSaid(s float64) string {
	if s >= 1 {
		return fmt.Sprintf("%s:1", unit.Decimal(s, 1))
	}
	return fmt.Sprintf("1:%s", unit.Decimal(1/s, 1))
}
