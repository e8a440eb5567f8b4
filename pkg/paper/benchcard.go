package paper

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// A Card is the cutting card, which hangs over the bench: set-up after set-up with its
// picture, and for every cut boxes to tick and a blank for what was measured. It is
// four set-ups a page; one of many cuts takes half a page or all of it.
type Card struct {
	Title   string
	Head    []string // under the title, on every page
	Care    string   // cautions, on every page
	Columns []string // heads of the rows' cells, the first of their numbers
	Ticks   string   // head of all boxes
	Passes  []string // heads of the boxes, one each
	Measure string   // head of the blank to write in
	SetUps  []CardSetUp
}

// A CardSetUp is one set-up on a card.
type CardSetUp struct {
	Title string
	Lay   string // what to do first, with a box to tick
	// Picture draws it for a print of a size in mm; nil for a set-up without picture.
	Picture func(size geom.Point) sheet.Picture
	Rows    []CardRow
}

// A CardRow is one cut. What is said aside stands in place of its boxes; a row without
// cells is nothing else.
type CardRow struct {
	Cells []string // under the card's columns
	Aside string
}

// Measures of a card, mm. Its capitals are 2.5 mm high, as ISO 3098-1 has for what is
// read from a little way off, and its boxes are large enough for a carpenter's pencil.
const (
	cardSize    = 2.5 / capHeight // of the body
	cardTitle   = 3.5 / capHeight // the next size of ISO 3098-1
	tickBox     = 4.0
	cardLine    = cardSize * 1.3
	headHigh    = 2*cardLine + 0.8 // of a table's head
	rowLeast    = tickBox + 1.2
	rowMost     = 8.0
	blankLeast  = 12.0 // to write a width in
	pictureGap  = 4.0  // between a picture and the rows
	pictureWide = 55.0 // under which a picture goes above its rows
	pictureHigh = 80.0 // at least, of one above its rows
	setUpGap    = 2.0  // above a set-up
	stretchMost = 1.4  // of set-ups on a page that isn't full
)

// setUpsPerPage is how many set-ups of few cuts stand on one page.
const setUpsPerPage = 4

var (
	penTick  = Pen{Width: 0.25}
	penRule  = Pen{Width: 0.35}
	penFaint = Pen{Width: 0.1, Gray: 0.55}
)

// pages are the card's; none for a card without set-ups.
func (c Card) pages(o Options) []Page {
	if len(c.SetUps) == 0 {
		return nil
	}
	p := o.Paper
	p.Measured = [2]float64{} // it is read and not measured
	d := &carding{card: c, next: func() Page { return upright(p) }, margin: p.Margin}
	d.begin()
	d.table = d.newTable()
	for i := 0; i < len(c.SetUps); {
		n := d.fill(c.SetUps[i:])
		i += n
		if i < len(c.SetUps) {
			d.begin()
		}
	}
	return d.done
}

// carding lays a card out.
type carding struct {
	card   Card
	next   func() Page
	margin float64
	table  cardTable
	free   geom.Box // what is left of the present page
	done   []Page
}

func (d *carding) page() *Page { return &d.done[len(d.done)-1] }

// begin starts a page with the card's head.
func (d *carding) begin() {
	d.done = append(d.done, d.next())
	b := d.page().free(math.Max(d.margin, pageMargin))
	b.Min.X = math.Max(b.Min.X, punchMargin)
	b.Min.Y += footHigh
	y := b.Max.Y - cardTitle*lead*0.8
	d.put(geom.Pt(b.Min.X, y), fit(Legible(d.card.Title), cardTitle, true, b.Size().X), cardTitle, true)
	y -= 1
	for _, s := range d.card.Head {
		for _, l := range wrap(Legible(s), cardSize, false, b.Size().X) {
			y -= cardLine
			d.put(geom.Pt(b.Min.X, y), l, cardSize, false)
		}
	}
	y = d.care(b, y-1.5)
	b.Max.Y = y - setUpGap/2
	d.free = b
}

// care writes the cautions in a frame, and returns where that ends.
func (d *carding) care(b geom.Box, y float64) float64 {
	if d.card.Care == "" {
		return y
	}
	const pad = 1.2
	lines := wrap(Legible(d.card.Care), cardSize, true, b.Size().X-2*pad)
	bottom := y - float64(len(lines))*cardLine - pad
	d.page().box(penRule, geom.Box{Min: geom.Pt(b.Min.X, bottom), Max: geom.Pt(b.Max.X, y)})
	for i, l := range lines {
		d.put(geom.Pt(b.Min.X+pad, y-float64(i+1)*cardLine), l, cardSize, true)
	}
	return bottom
}

func (d *carding) put(at geom.Point, s string, size float64, bold bool) {
	d.page().text(Text{At: at, String: s, Size: size, Bold: bold})
}

// fill sets as many set-ups as the page has room for, four at most, and returns their
// number. What is left of it they share, so that pictures are larger.
func (d *carding) fill(list []CardSetUp) int {
	room := d.free.Size().Y
	var needs []float64
	for _, s := range list {
		need := d.need(s)
		if len(needs) == setUpsPerPage || len(needs) > 0 && need > room+rounding {
			break
		}
		needs, room = append(needs, need), room-need
	}
	more := math.Max(0, math.Min(room/float64(len(needs)), d.free.Size().Y*(stretchMost-1)/setUpsPerPage))
	whole := len(needs) == 1 && room <= 0
	for i, n := range needs {
		b := d.free
		b.Min.Y = b.Max.Y - n - more
		d.free.Max.Y = b.Min.Y
		d.setUp(list[i], b, whole)
	}
	return len(needs)
}

// need is how much of a page's height a set-up takes: a quarter at least, and all of it
// where half isn't enough.
func (d *carding) need(s CardSetUp) float64 {
	high := d.free.Size().Y
	rows := d.titleHigh(s) + headHigh + float64(len(d.spread(s.Rows)))*rowLeast
	if d.beside(s) == 0 || rows > high/2 {
		return high
	}
	return math.Max(high/setUpsPerPage, rows)
}

// beside is how wide a set-up's picture is beside its rows; 0 where it has too little
// room there.
func (d *carding) beside(s CardSetUp) float64 {
	room := d.free.Size().X - d.table.width - pictureGap
	if s.Picture == nil {
		return math.Max(0, room) + pictureGap
	}
	if room < pictureWide {
		return 0
	}
	return room
}

// titleLines are what stands over a set-up, line by line.
func (d *carding) titleLines(s CardSetUp) [][]weighted {
	return breakRuns(runs("**"+s.Title+"** "+s.Lay), cardSize, d.free.Size().X-tickBox-1.5)
}

func (d *carding) titleHigh(s CardSetUp) float64 {
	return setUpGap + math.Max(tickBox, float64(len(d.titleLines(s)))*cardLine) + 1.2
}

// title writes what stands over a set-up, under a line, and returns what is left.
func (d *carding) title(s CardSetUp, b geom.Box) geom.Box {
	d.page().line(penRule, geom.Pt(b.Min.X, b.Max.Y-setUpGap/2), geom.Pt(b.Max.X, b.Max.Y-setUpGap/2))
	y := b.Max.Y - setUpGap
	x := b.Min.X
	if s.Lay != "" {
		d.tick(geom.Pt(x, y-tickBox-0.4))
		x += tickBox + 1.5
	}
	for _, l := range d.titleLines(s) {
		y -= cardLine
		at := x
		for _, r := range l {
			d.put(geom.Pt(at, y), Legible(r.text), cardSize, r.bold)
			at += Width(Legible(r.text), cardSize, r.bold)
		}
	}
	b.Max.Y -= d.titleHigh(s)
	return b
}

// tick draws a box to tick by its lower left corner.
func (d *carding) tick(at geom.Point) {
	d.page().box(penTick, geom.Box{Min: at, Max: at.Add(geom.Pt(tickBox, tickBox))})
}

// setUp sets a set-up into a box: its picture beside the rows, or above them.
func (d *carding) setUp(s CardSetUp, b geom.Box, whole bool) {
	rows := d.spread(s.Rows)
	wide := d.beside(s)
	b = d.title(s, b)
	if whole && d.abreast(b) > 1 {
		wide = 0 // a larger picture
	}
	if fits := b.Size().Y >= headHigh+float64(len(rows))*rowLeast; wide > 0 && fits {
		left := b
		left.Max.X = left.Min.X + wide
		if s.Picture != nil {
			d.picture(s.Picture, left)
			b.Min.X = b.Max.X - d.table.width
		}
		d.rows(rows, b, 1)
		return
	}
	d.above(s, rows, b)
}

// abreast is how many columns of rows stand side by side in a box.
func (d *carding) abreast(b geom.Box) int {
	return max(1, int((b.Size().X+columnGap)/(d.table.width+columnGap)))
}

// above sets the picture over rows in columns; rows that don't fit go on on other
// pages.
func (d *carding) above(s CardSetUp, rows []CardRow, b geom.Box) {
	cols := d.abreast(b)
	least := 0.0
	if s.Picture != nil {
		least = pictureHigh
	}
	for {
		n := cols * max(1, int((b.Size().Y-least-headHigh)/rowLeast))
		now := rows[:min(n, len(rows))]
		deep := headHigh + math.Ceil(float64(len(now))/float64(cols))*rowLeast
		if least > 0 {
			over := b
			over.Min.Y += deep + 2
			d.picture(s.Picture, over)
			b.Max.Y = over.Min.Y - 2
		}
		d.rows(now, b, cols)
		if rows = rows[len(now):]; len(rows) == 0 {
			d.free.Max.Y = b.Min.Y
			return
		}
		d.begin()
		s.Title += ", continued"
		s.Lay, least = "", 0
		b = d.title(s, d.free)
	}
}

// picture draws a picture at the top of a box, as large as it can be.
func (d *carding) picture(draw func(geom.Point) sheet.Picture, b geom.Box) {
	room := b.Size()
	pic := draw(room)
	size := pic.Bounds.Size()
	k := math.Min(room.X/size.X, room.Y/size.Y)
	if !(k > 0) || math.IsInf(k, 0) {
		return
	}
	d.page().drawPicture(pic, geom.Pt(b.Center().X-size.X*k/2, b.Max.Y-size.Y*k), k)
}
