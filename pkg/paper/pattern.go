package paper

import (
	"errors"
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
)

// A Block is what the title block says beside the page's number.
type Block struct {
	Job      string
	Revision string
	Date     string // as given; none is left out
	Bit      string // "bit 3.175 mm"
	Rider    string // "base Ø 100 mm"; may be empty
}

// Options say how patterns are printed.
type Options struct {
	Paper profile.Paper
	Units unit.System
	Block Block
}

// MaxTiles bounds the sheets of one pattern: a thousand A4 sheets are 50 m2.
const MaxTiles = 2000

// A Pattern is a drawing laid over sheets of paper, which know their neighbours
// and not yet their pages: Bind puts patterns together.
type Pattern struct {
	d      Drawing
	l      Layout
	bars   []bar
	said   said
	tiles  []Page
	labels []string // of the tiles, for the title block
}

// NewPattern lays a drawing over sheets, by row and column. It is an error if
// nothing is drawn, or far too much.
func NewPattern(d Drawing, o Options) (Pattern, error) {
	if b := d.Bounds(); b.Empty() || !b.Min.Finite() || !b.Max.Finite() {
		return Pattern{}, errors.New("paper: there is nothing to draw")
	}
	size := d.Bounds().Size()
	if a := math.Max(size.X, o.Paper.Width) * math.Max(size.Y, o.Paper.Width); a > MaxTiles*o.Paper.Width*o.Paper.Width {
		return Pattern{}, unit.Errorf("paper: %s x %s is more than %d sheets of %s", unit.Len(size.X).Rough().Typed(), unit.Len(size.Y).Rough(), MaxTiles, o.Paper.Name)
	}
	s := &sheets{d: d, o: o, l: Lay(d, o.Paper, o.Units)}
	s.place()
	p := Pattern{d: d, l: s.l, bars: s.bars}
	for _, t := range s.tiles() {
		p.tiles = append(p.tiles, t.page)
		label := ""
		if s.l.Count() > 1 {
			label = "tile " + Label(t.row, t.col)
		}
		p.labels = append(p.labels, label)
	}
	p.said = s.said
	return p, nil
}

// sheets is a pattern in the making.
type sheets struct {
	d       Drawing
	o       Options
	l       Layout
	bars    []bar
	hatches []geom.Edge
	spots   []spot    // to try for each label
	about   []caption // the drawing's
	homes   []int     // for each of them, the cell that it belongs to
	said    said
}

// upright is an empty upright page. Off a roll it is as long as A4.
func upright(p profile.Paper) Page {
	const length = 297.0
	x, y := p.Scale()
	page := Page{Width: p.Width, Height: p.Height, ScaleX: x, ScaleY: y}
	if p.Roll {
		page.Height = length
	}
	return page
}

// length is a length in the job's units, with the unit.
func (o Options) length(mm float64) string { return Length(mm, o.Units) }

// Length shows a length for laying out, in the job's units with the unit: to
// 0.01 mm, or in fractions of an inch where they are exact, else in thousandths.
func Length(mm float64, u unit.System) string { return Number(mm, u) + " " + u.String() }

// Number is Length without the unit.
func Number(mm float64, u unit.System) string {
	if u == unit.Inch {
		return unit.Inches(mm)
	}
	const places = 2
	return unit.Decimal(mm, places)
}

// Place shows a point in the job's units, without the unit.
func Place(p geom.Point, u unit.System) string {
	return "(" + Number(p.X, u) + ", " + Number(p.Y, u) + ")"
}
