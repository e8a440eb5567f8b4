package paper

import (
	"errors"
	"fmt"
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

// Options say how a pattern is printed.
type Options struct {
	Paper profile.Paper
	Units unit.System
	Block Block
}

// MaxTiles bounds the sheets of one pattern: a thousand A4 sheets are 50 m2.
const MaxTiles = 2000

// Pattern lays a drawing over pages: the scale proof first, then the page map
// with the legend and the tables of measures, then the tiles by row and
// column. It is an error if nothing is drawn, or far too much.
func Pattern(d Drawing, o Options) (Document, error) {
	if b := d.Bounds(); b.Empty() || !b.Min.Finite() || !b.Max.Finite() {
		return Document{}, errors.New("paper: there is nothing to draw")
	}
	size := d.Bounds().Size()
	if a := math.Max(size.X, o.Paper.Width) * math.Max(size.Y, o.Paper.Width); a > MaxTiles*o.Paper.Width*o.Paper.Width {
		return Document{}, unit.Errorf("paper: %s x %s is more than %d sheets of %s", unit.Len(size.X).Rough().Typed(), unit.Len(size.Y).Rough(), MaxTiles, o.Paper.Name)
	}
	s := &sheets{d: d, o: o, l: Lay(d, o.Paper, o.Units)}
	s.place()
	tiles := s.tiles()
	s.proof()
	s.overview()
	for _, t := range tiles {
		s.doc.Pages = append(s.doc.Pages, t.page)
		s.labels = append(s.labels, "tile "+Label(t.row, t.col))
	}
	for i := range s.doc.Pages {
		s.block(&s.doc.Pages[i], s.labels[i], i+1, len(s.doc.Pages))
	}
	s.doc.Title = fmt.Sprintf("%s - %s", o.Block.Job, d.Title)
	return s.doc, nil
}

// sheets is a pattern in the making.
type sheets struct {
	d      Drawing
	o      Options
	l      Layout
	bars   []bar
	spots  []spot    // to try for each label
	about  []caption // the drawing's
	homes  []int     // for each of them, the cell that it belongs to
	said   said
	doc    Document
	labels []string // of the pages, for the title block
}

// upright is a new page of the paper, upright, for the scale proof and text.
func (s *sheets) upright() Page {
	return upright(s.o.Paper)
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

// block draws the title block at a page's foot.
func (s *sheets) block(p *Page, label string, number, of int) {
	free := p.free(s.o.Paper.Margin)
	b := geom.Box{Min: free.Min, Max: geom.Pt(free.Max.X, free.Min.Y+blockHeight-2)}
	p.box(penFrame, b)
	const inset, line = 1.5, 4.1
	left, right, y := b.Min.X+inset, b.Max.X-inset, b.Max.Y-line+0.4
	sheet := fmt.Sprintf("sheet %d of %d", number, of)
	if label != "" {
		sheet = label + ", " + sheet
	}
	p.text(Text{At: geom.Pt(right, y), String: sheet, Size: medium, Bold: true, Align: Right})
	room := right - left - Width(sheet, medium, true) - 3
	p.text(Text{At: geom.Pt(left, y), String: fit(Legible(s.o.Block.Job+": "+s.d.Title), medium, true, room), Size: medium, Bold: true})
	facts := []string{"revision " + s.o.Block.Revision, s.o.Block.Bit, s.o.Block.Rider, "scale 1:1", s.o.Block.Date}
	p.text(Text{At: geom.Pt(left, y-line), String: fit(Legible(joined(facts)), small, false, right-left), Size: small})
	p.text(Text{At: geom.Pt(left, y-2*line+0.3), String: fit(correction(s.o.Paper, *p), small, false, right-left), Size: small})
}

// joined puts what isn't empty on one line.
func joined(facts []string) string {
	text := ""
	for _, f := range facts {
		switch {
		case f == "":
		case text == "":
			text = f
		default:
			text += "  |  " + f
		}
	}
	return text
}

// correction says how a page was corrected for the printer.
func correction(paper profile.Paper, p Page) string {
	text := "print at actual size (100 %); printer correction: none"
	if paper.Corrected() {
		text = fmt.Sprintf("print at actual size (100 %%); printer correction: this page's width x %s, height x %s", factor(p.ScaleX), factor(p.ScaleY))
	}
	if skew := paper.Skew(); skew != 0 {
		text += fmt.Sprintf("; skew %s degrees, not corrected", unit.Decimal(skew, 2))
	}
	return text
}

func factor(v float64) string { return fmt.Sprintf("%.5f", v) }

// length is a length in the job's units, with the unit.
func (s *sheets) length(mm float64) string { return Length(mm, s.o.Units) }

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
