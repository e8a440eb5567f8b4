package paper

import (
	"math"

	"strapwork/pkg/geom"
)

// columnGap in mm is between two columns of rows.
const columnGap = 5.0

// cardGaps in mm are between cells of a row: the first with which two columns of rows
// stand side by side, or else the widest.
var cardGaps = []float64{2.6, 2.2, 1.8}

// cardTable is where the cells, boxes and blanks of a card's rows stand, alike in all
// set-ups.
type cardTable struct {
	cols  []float64 // left ends of the cells
	aside float64   // left end of what is said in place of boxes
	ticks []float64 // middles of the boxes
	blank float64   // left end of the blank
	width float64
}

func (d *carding) newTable() cardTable {
	for _, gap := range cardGaps {
		if t := d.spaced(gap); 2*t.width+columnGap <= d.free.Size().X {
			return t
		}
	}
	return d.spaced(cardGaps[0])
}

// spaced is the table with a gap between cells.
func (d *carding) spaced(gap float64) (t cardTable) {
	x := 0.0
	for i, head := range d.card.Columns {
		wide := Width(Legible(head), cardSize, false)
		for _, s := range d.card.SetUps {
			for _, r := range s.Rows {
				if i < len(r.Cells) {
					wide = math.Max(wide, Width(Legible(r.Cells[i]), cardSize, i == 0))
				}
			}
		}
		t.cols = append(t.cols, x)
		x += wide + gap
	}
	t.aside = x
	from := x
	for _, head := range d.card.Passes {
		wide := math.Max(tickBox, Width(Legible(head), cardSize, false))
		t.ticks = append(t.ticks, x+wide/2)
		x += wide + gap
	}
	x = math.Max(x, from+Width(Legible(d.card.Ticks), cardSize, false)+gap)
	t.blank = x
	t.width = x + d.blankWide()
	return t
}

// blankWide is how long the blanks are: as wide as the longest word over them.
func (d *carding) blankWide() float64 {
	wide := blankLeast
	for _, l := range wrap(Legible(d.card.Measure), cardSize, false, 0) {
		wide = math.Max(wide, Width(l, cardSize, false))
	}
	return wide
}

// spread breaks what is said aside into rows that it fits in.
func (d *carding) spread(rows []CardRow) []CardRow {
	var out []CardRow
	for _, r := range rows {
		if r.Aside == "" {
			out = append(out, r)
			continue
		}
		for i, l := range wrap(Legible(r.Aside), cardSize, false, d.table.width-d.asideAt(r)) {
			one := CardRow{Aside: l}
			if len(r.Cells) > 0 {
				one.Cells = make([]string, 1)
			}
			if i == 0 {
				one.Cells = r.Cells
			}
			out = append(out, one)
		}
	}
	return out
}

// asideAt is where a row's text begins that stands in place of boxes: after its last
// cell.
func (d *carding) asideAt(r CardRow) float64 {
	switch n := len(r.Cells); {
	case n < len(d.table.cols):
		return d.table.cols[n]
	default:
		return d.table.aside
	}
}

// rows sets rows in columns, from the top of a box down.
func (d *carding) rows(rows []CardRow, b geom.Box, cols int) {
	n := (len(rows) + cols - 1) / cols
	if n == 0 {
		return
	}
	high := math.Max(rowLeast, math.Min(rowMost, (b.Size().Y-headHigh)/float64(n)))
	for c := range cols {
		part := rows[min(c*n, len(rows)):min((c+1)*n, len(rows))]
		if len(part) == 0 {
			return
		}
		at := geom.Pt(b.Min.X+float64(c)*(b.Size().X+columnGap)/float64(cols), b.Max.Y)
		d.heads(at)
		for i, r := range part {
			d.row(r, at.Sub(geom.Pt(0, headHigh+float64(i)*high)), high)
		}
	}
}

// heads writes the heads of the rows under their upper left corner.
func (d *carding) heads(at geom.Point) {
	t := d.table
	low := at.Sub(geom.Pt(0, 2*cardLine-0.6))
	up := low.Add(geom.Pt(0, cardLine))
	for i, s := range d.card.Columns {
		d.put(low.Add(geom.Pt(t.cols[i], 0)), Legible(s), cardSize, false)
	}
	d.put(up.Add(geom.Pt(t.aside, 0)), Legible(d.card.Ticks), cardSize, false)
	for i, s := range d.card.Passes {
		d.page().text(Text{At: low.Add(geom.Pt(t.ticks[i], 0)), String: Legible(s), Size: cardSize, Align: Center})
	}
	lines := wrap(Legible(d.card.Measure), cardSize, false, d.blankWide())
	for i, l := range lines {
		d.put(low.Add(geom.Pt(t.blank, float64(len(lines)-1-i)*cardLine)), l, cardSize, false)
	}
	d.page().line(penThin, at.Sub(geom.Pt(0, headHigh)), at.Add(geom.Pt(t.width, -headHigh)))
}

// row writes one row under its upper left corner, with a faint line below.
func (d *carding) row(r CardRow, at geom.Point, high float64) {
	t := d.table
	base := at.Sub(geom.Pt(0, high/2+capHeight*cardSize/2))
	for i, s := range r.Cells {
		d.put(base.Add(geom.Pt(t.cols[i], 0)), Legible(s), cardSize, i == 0)
	}
	end := at.Sub(geom.Pt(0, high))
	d.page().line(penFaint, end, end.Add(geom.Pt(t.blank-cardGaps[len(cardGaps)-1], 0)))
	if r.Aside != "" {
		d.put(base.Add(geom.Pt(d.asideAt(r), 0)), r.Aside, cardSize, false)
		return
	}
	for _, x := range t.ticks {
		d.tick(at.Add(geom.Pt(x-tickBox/2, -high/2-tickBox/2)))
	}
	d.page().line(penFrame, end.Add(geom.Pt(t.blank, 0)), end.Add(geom.Pt(t.width, 0)))
}
