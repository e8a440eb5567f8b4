package paper

// The sheet of labels, to be cut out and tied or stuck to the pieces.

import (
	"fmt"
	"math"
	"strings"

	"strapwork/pkg/geom"
)

// A Tag is one label.
type Tag struct {
	Number string // printed large
	Lines  []string
}

// Measures of the labels, mm. Capitals of a piece's number are 5 mm high, as ISO 3098-1 has
// for what is read from a bench away.
const (
	tagWide, tagHigh = 38.0, 16.0
	tagNumber        = 5.0 / capHeight
	bagWide, bagHigh = 62.0, 22.0
	bagNumber        = 3.5 / capHeight
	tagPad           = 1.6
	cropPast         = 3.0 // how far lines to cut along go past the labels
)

var penCrop = Pen{Width: 0.08, Gray: 0.45}

// TagSheet lays labels out: those of pieces, and then those of the bags of pieces that are cut
// alike.
func TagSheet(title string, pieces, bags []Tag, o Options) Document {
	p := o.Paper
	p.Measured = [2]float64{} // they are read and not measured
	s := &tagging{o: o, next: func() Page { return upright(p) }}
	s.grid("Labels of the pieces, to cut out", pieces, geom.Pt(tagWide, tagHigh), (*tagging).piece)
	s.grid("Labels of bags: pieces that are cut alike", bags, geom.Pt(bagWide, bagHigh), (*tagging).bag)
	for i := range s.pages {
		free := s.area(&s.pages[i])
		at := free.Min.Sub(geom.Pt(0, footHigh))
		number := fmt.Sprintf("page %d of %d", i+1, len(s.pages))
		say := fmt.Sprintf("%s, revision %s", o.Block.Job, o.Block.Revision)
		s.pages[i].text(Text{At: at, String: fit(Legible(say), small, false, free.Size().X-40), Size: small})
		s.pages[i].text(Text{At: geom.Pt(free.Max.X, at.Y), String: number, Size: small, Align: Right})
	}
	return Document{Title: title, Pages: s.pages}
}

// tagging is a sheet of labels in the making.
type tagging struct {
	o     Options
	next  func() Page
	pages []Page
	y     float64 // of what is filled
}

func (s *tagging) page() *Page { return &s.pages[len(s.pages)-1] }

// area is what labels may fill.
func (s *tagging) area(p *Page) geom.Box {
	b := p.free(math.Max(s.o.Paper.Margin, cropPast+2))
	b.Min.Y += footHigh
	return b
}

func (s *tagging) begin() {
	s.pages = append(s.pages, s.next())
	s.y = s.area(s.page()).Max.Y
}

// grid lays labels of one size out in rows, under a heading.
func (s *tagging) grid(title string, list []Tag, cell geom.Point, draw func(s *tagging, t Tag, b geom.Box)) {
	headHigh := large*lead + cropPast
	for len(list) > 0 {
		if len(s.pages) == 0 || s.y-headHigh-cell.Y < s.area(s.page()).Min.Y {
			s.begin()
		}
		free := s.area(s.page())
		cols := max(1, int(free.Size().X/cell.X))
		rows := int((s.y - headHigh - free.Min.Y) / cell.Y)
		now := list[:min(len(list), cols*rows)]
		list = list[len(now):]
		s.page().text(Text{At: geom.Pt(free.Min.X, s.y-large), String: title, Size: large, Bold: true})
		top := s.y - headHigh
		left := free.Min.X + (free.Size().X-float64(cols)*cell.X)/2
		for i, t := range now {
			at := geom.Pt(left+float64(i%cols)*cell.X, top-float64(i/cols+1)*cell.Y)
			draw(s, t, geom.Box{Min: at, Max: at.Add(cell)})
		}
		deep := (len(now) + cols - 1) / cols
		s.crop(geom.Pt(left, top), min(cols, len(now)), deep, cell)
		s.y = top - float64(deep)*cell.Y - cropPast - large
	}
}

// crop draws the lines to cut along, from the upper left corner.
func (s *tagging) crop(at geom.Point, cols, rows int, cell geom.Point) {
	wide, high := float64(cols)*cell.X, float64(rows)*cell.Y
	for i := range cols + 1 {
		x := at.X + float64(i)*cell.X
		s.page().line(penCrop, geom.Pt(x, at.Y+cropPast), geom.Pt(x, at.Y-high-cropPast))
	}
	for i := range rows + 1 {
		y := at.Y - float64(i)*cell.Y
		s.page().line(penCrop, geom.Pt(at.X-cropPast, y), geom.Pt(at.X+wide+cropPast, y))
	}
}

// piece writes a piece's label: the number, and beside it the rest.
func (s *tagging) piece(t Tag, b geom.Box) {
	p := s.page()
	p.text(Text{At: geom.Pt(b.Min.X+tagPad, b.Center().Y-tagNumber*capHeight/2), String: t.Number, Size: tagNumber, Bold: true})
	x := b.Min.X + tagPad + math.Max(9, Width(t.Number, tagNumber, true)) + tagPad
	s.lines(t.Lines, geom.Box{Min: geom.Pt(x, b.Min.Y), Max: geom.Pt(b.Max.X-tagPad/2, b.Max.Y)})
}

// lines writes lines one under the other in the middle of a box.
func (s *tagging) lines(lines []string, b geom.Box) {
	y := b.Center().Y + (float64(len(lines))*small*lead)/2
	for _, l := range lines {
		y -= small * lead
		s.page().text(Text{At: geom.Pt(b.Min.X, y+small*descent), String: fit(Legible(l), small, false, b.Size().X), Size: small})
	}
}

// bag writes a bag's label: the numbers, on two lines if need be, and under them the rest.
func (s *tagging) bag(t Tag, b geom.Box) {
	p := s.page()
	room := b.Size().X - 2*tagPad
	numbers := wrap(t.Number, bagNumber, true, room)
	const most = 2
	if len(numbers) > most {
		numbers = append(numbers[:most-1:most-1], fit(strings.Join(numbers[most-1:], " "), bagNumber, true, room))
	}
	y := b.Max.Y - tagPad
	for _, n := range numbers {
		y -= bagNumber * lead * 0.85
		p.text(Text{At: geom.Pt(b.Min.X+tagPad, y), String: n, Size: bagNumber, Bold: true})
	}
	s.lines(t.Lines, geom.Box{Min: geom.Pt(b.Min.X+tagPad, b.Min.Y), Max: geom.Pt(b.Max.X-tagPad, y-descent*bagNumber)})
}
