package paper

// The strips' sheet: every kind of piece at full size. Pieces lie in rows over pages that
// are laid across, since most are long; one that is longer than a page is drawn broken, with
// both its ends true. Each is in the first row that has room for it, so numbers rise but
// roughly.

import (
	"fmt"
	"math"
	"slices"

	"strapwork/pkg/geom"
)

// A Bar is a kind of piece of the strips.
type Bar struct {
	Name  string   // printed large: the pieces' numbers
	Facts []string // words between ** are bold
	Flat  []Drawn  // as it is cut from a straight strip, along x
	Laid  []View   // as it is laid, where it is bent
}

// A View is what is drawn of a piece, and what is said under it.
type View struct {
	Say   string
	Lines []Drawn
}

// Measures of the strips' sheet, mm.
const (
	placesApart = 7.0  // between pieces side by side
	rowsApart   = 3.5  // between rows
	barLeast    = 80.0 // of a piece's place: its words need so much
	factsFrom   = 3.0  // from the numbers to the facts beside them
	breakGap    = 7.0  // in a piece that is drawn broken
	wordsFrom   = 1.8  // from the words to the piece under them
	viewsApart  = 2.5  // from the straight piece to what is bent
	breakPast   = 1.5  // how far the lines at a break go past the piece
)

// StripSheet lays the strips' sheet out: the text with its pictures, the page that proves the printer's
// scale, and the pieces, with what is said of all of them over the first.
func StripSheet(title string, text []byte, pictures []Illustration, bars []Bar, said []string, o Options) Book {
	b := &binder{o: o, title: title, pages: map[string][]int{}}
	var words *prose
	if len(text) > 0 {
		words = tightProse(text, pictures, o)
		b.before = len(words.pages)
	}
	b.add("scale proof", b.proof()...)
	s := &rack{o: o}
	s.begin()
	s.head(said)
	for _, bar := range bars {
		b.pages[bar.Name] = []int{b.before + len(b.leaves) + s.put(bar) + 1}
	}
	b.add("pieces", s.pages...)
	doc := Document{Title: fmt.Sprintf("%s - %s", o.Block.Job, title)}
	if words != nil {
		words.footers(o, b.before+len(b.leaves))
		doc.Pages = words.pages
	}
	for i, l := range b.leaves {
		b.block(&l, i+1)
		doc.Pages = append(doc.Pages, l.Page)
	}
	return Book{Document: doc, Pages: b.pages}
}

// BarRoom is how large a view of a piece may be on the strips' sheet.
func BarRoom(o Options) geom.Point {
	s := &rack{o: o}
	s.begin()
	const share = 0.36 // of the page's height: two with their words and straight pieces on a page
	return geom.Pt(s.area.Size().X, share*s.area.Size().Y)
}

// extent is the box of what is drawn.
func extent(lines []Drawn) geom.Box {
	box := geom.EmptyBox()
	for _, l := range lines {
		box = box.Join(l.Contour.Bounds())
	}
	return box
}

// A rack is pages of pieces in rows.
type rack struct {
	o     Options
	pages []Page
	area  geom.Box  // of every page
	free  []float64 // of every page, where the next row may begin
	rows  []row
}

// A row is one on a page: where the next piece's upper left corner is.
type row struct {
	page int
	at   geom.Point
	deep float64
}

func (s *rack) begin() {
	ways := bothWays(s.o.Paper)
	s.pages = append(s.pages, ways[len(ways)-1])
	s.area = s.pages[0].free(s.o.Paper.Margin)
	s.area.Min.Y += blockHeight
	s.free = append(s.free, s.area.Max.Y)
}

// head writes what is said of all pieces.
func (s *rack) head(said []string) {
	x, y := s.area.Min.X, s.area.Max.Y-huge*capHeight
	on := &s.pages[0]
	on.text(Text{At: geom.Pt(x, y), String: "Strips at full size", Size: huge, Bold: true})
	y -= 1.5
	for _, text := range said {
		for _, l := range breakRuns(runs(text), small, s.area.Size().X) {
			y -= small * lead
			on.run(geom.Pt(x, y), l, small)
		}
	}
	s.free[0] = y - rowsApart
}

// run writes a line of runs of text.
func (p *Page) run(at geom.Point, line []weighted, size float64) {
	for _, r := range line {
		p.text(Text{At: at, String: Legible(r.text), Size: size, Bold: r.bold})
		at.X += Width(Legible(r.text), size, r.bold)
	}
}

// put places a piece in the first row that has room for it, or in a new one on the first page
// that has, and returns the page's index.
func (s *rack) put(bar Bar) int {
	p := newPlace(bar, s.area.Size().X)
	r := slices.IndexFunc(s.rows, func(r row) bool {
		return r.at.X+p.wide <= s.area.Max.X+rounding && p.high <= r.deep
	})
	if r < 0 {
		s.rows = append(s.rows, s.newRow(p.high))
		r = len(s.rows) - 1
	}
	to := &s.rows[r]
	p.draw(&s.pages[to.page], to.at)
	to.at.X += p.wide + placesApart
	return to.page
}

// newRow begins a row of a height.
func (s *rack) newRow(high float64) row {
	fits := func(y float64) bool { return y-high >= s.area.Min.Y }
	i := slices.IndexFunc(s.free, fits)
	if i < 0 {
		s.begin()
		i = len(s.pages) - 1
	}
	at := geom.Pt(s.area.Min.X, s.free[i])
	s.free[i] -= high + rowsApart
	return row{page: i, at: at, deep: high}
}

// A place is a piece with its words, laid out.
type place struct {
	Bar
	flat       geom.Box
	wide, high float64
	names      []string
	nameSize   float64 // of their letters
	facts      [][]weighted
	factsAt    geom.Point // first base line, from the upper left corner
	flatAt     geom.Point // of the lower left corner, from the upper left corner
	views      []placedView
}

// A placedView is one and where its lower left corner is, from the place's upper left one.
type placedView struct {
	View
	box geom.Box
	at  geom.Point
}

func newPlace(bar Bar, room float64) *place {
	p := &place{Bar: bar, flat: extent(bar.Flat)}
	p.wide = math.Max(barLeast, p.flat.Size().X)
	if p.wide > room {
		p.wide = (room - placesApart) / 2 // broken it needs no more: two side by side
	}
	for _, v := range bar.Laid {
		box := extent(v.Lines)
		p.views = append(p.views, placedView{View: v, box: box})
		p.wide = math.Max(p.wide, box.Size().X)
	}
	p.wide = math.Min(p.wide, room)
	y := p.words()
	p.flatAt = geom.Pt(0, y-p.flat.Size().Y)
	p.high = -p.flatAt.Y
	p.spread()
	return p
}

// words sets the numbers and the facts, and returns where they end.
func (p *place) words() (y float64) {
	const most = 2 // lines of large numbers
	p.nameSize = large
	if p.names = wrap(p.Name, large, true, p.wide); len(p.names) > most {
		p.nameSize = medium
		p.names = wrap(p.Name, medium, true, p.wide)
	}
	room := p.wide
	p.factsAt = geom.Pt(0, -float64(len(p.names))*p.nameSize*lead-small*capHeight)
	if beside := Width(p.names[0], p.nameSize, true) + factsFrom; len(p.names) == 1 && beside < p.wide/3 {
		p.factsAt, room = geom.Pt(beside, -p.nameSize*capHeight), p.wide-beside
	}
	for _, f := range p.Facts {
		p.facts = append(p.facts, breakRuns(runs(f), small, room)...)
	}
	under := p.factsAt.Y - float64(len(p.facts)-1)*small*lead
	return math.Min(under, -float64(len(p.names))*p.nameSize*lead) - descent*small - wordsFrom
}

// spread places the views under the straight piece, side by side while there is room.
func (p *place) spread() {
	x, top, deep := 0.0, p.high+viewsApart, 0.0
	for i := range p.views {
		v := &p.views[i]
		size := v.box.Size()
		if v.Say != "" {
			size.X, size.Y = math.Max(size.X, Width(v.Say, small, false)), size.Y+small*lead
		}
		if x > 0 && x+size.X > p.wide {
			x, top, deep = 0, top+deep+viewsApart, 0
		}
		v.at = geom.Pt(x, -top-v.box.Size().Y)
		x, deep = x+size.X+placesApart, math.Max(deep, size.Y)
		p.high = top + deep
	}
}

// draw draws it with its upper left corner at a point.
func (p *place) draw(on *Page, at geom.Point) {
	for i, n := range p.names {
		on.text(Text{At: at.Sub(geom.Pt(0, p.nameSize*capHeight+float64(i)*p.nameSize*lead)), String: n, Size: p.nameSize, Bold: true})
	}
	for i, l := range p.facts {
		on.run(at.Add(p.factsAt).Sub(geom.Pt(0, float64(i)*small*lead)), l, small)
	}
	on.drawBroken(p.Flat, p.flat, at.Add(p.flatAt), p.wide)
	for _, v := range p.views {
		to := at.Add(v.at)
		on.drawBroken(v.Lines, v.box, to, p.wide)
		on.text(Text{At: to.Sub(geom.Pt(0, small*lead)), String: v.Say, Size: small})
	}
}

// drawBroken draws lines with their lower left corner at a point, broken where they are
// longer than there is room.
func (p *Page) drawBroken(lines []Drawn, box geom.Box, at geom.Point, room float64) {
	shift := at.Sub(box.Min)
	if box.Size().X <= room+rounding {
		for _, l := range lines {
			p.stroke(l.Use.pen(), moved(l.Contour, shift))
		}
		return
	}
	half := (room - breakGap) / 2
	left, right := box.Expand(1), box.Expand(1)
	left.Max.X, right.Min.X = box.Min.X+half, box.Max.X-half
	back := geom.Pt(room-box.Size().X, 0)
	for _, l := range lines {
		for _, q := range l.Contour.Within(left) {
			p.stroke(l.Use.pen(), moved(q.Contour, shift))
		}
		for _, q := range l.Contour.Within(right) {
			p.stroke(l.Use.pen(), moved(q.Contour, shift.Add(back)))
		}
	}
	for _, x := range []float64{half, half + breakGap} {
		p.breakLine(at.Add(geom.Pt(x, -breakPast)), box.Size().Y+2*breakPast)
	}
}

// breakLine draws the line at a break, upright from a point, with its kink in the middle.
func (p *Page) breakLine(at geom.Point, high float64) {
	m := at.Add(geom.Pt(0, high/2))
	const kink = 0.8
	p.line(penPoint, at, m.Sub(geom.Pt(0, kink)), m.Add(geom.Pt(kink, -kink/2)), m.Add(geom.Pt(-kink, kink/2)), m.Add(geom.Pt(0, kink)), at.Add(geom.Pt(0, high)))
}
