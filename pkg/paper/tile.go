package paper

import (
	"fmt"
	"math"
	"strconv"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// Label names a cell: its row's letter and its column's number.
func Label(row, col int) string { return rowName(row) + strconv.Itoa(col+1) }

func rowName(row int) string {
	name := ""
	for row++; row > 0; row = (row - 1) / 26 {
		name = string(rune('A'+(row-1)%26)) + name
	}
	return name
}

// tile makes the page of one cell.
func (s *sheets) tile(row, col int) {
	l := s.l
	t := &tile{
		sheets: s, row: row, col: col, cell: l.Cell(row, col), window: l.Window(row, col),
		page: Page{Width: l.Width, Height: l.Height, ScaleX: l.ScaleX, ScaleY: l.ScaleY},
	}
	t.shift = l.At(s.o.Paper.Margin).Sub(t.window.Min)
	t.bars()
	t.drawing()
	t.scales()
	t.corners()
	t.joins()
	s.doc.Pages = append(s.doc.Pages, t.page)
	s.labels = append(s.labels, "tile "+Label(row, col))
}

// A tile is a page in the making. cell and window are in the drawing; shift
// takes the drawing to the page.
type tile struct {
	*sheets
	row, col     int
	cell, window geom.Box
	shift        geom.Point
	page         Page
}

// on is where a point of the drawing lies on the page.
func (t *tile) on(p geom.Point) geom.Point { return p.Add(t.shift) }

// draw puts what the window shows of a line on the page.
func (t *tile) draw(pen Pen, c geom.Contour) {
	for _, q := range clip(c, t.window) {
		t.page.Strokes = append(t.page.Strokes, Stroke{Contour: moved(q.contour, t.shift), Pen: pen, Offset: q.from})
	}
}

// moved is a contour shifted; bulges stay as they are.
func moved(c geom.Contour, by geom.Point) geom.Contour {
	out := geom.Contour{Closed: c.Closed, Vertices: make([]geom.Vertex, len(c.Vertices))}
	for i, v := range c.Vertices {
		out.Vertices[i] = geom.Vertex{Point: v.Point.Add(by), Bulge: v.Bulge}
	}
	return out
}

func line(a, b geom.Point) geom.Contour { return geom.Chain(false, geom.Line(a, b)) }

// write puts lettering of the drawing on the page where the window shows all
// of it; force where its cell is the only one that has it.
func (t *tile) write(text Text, force bool) {
	b := textBox(text)
	if !force && !(t.window.Holds(b.Min) && t.window.Holds(b.Max)) {
		return
	}
	text.At = t.on(text.At)
	t.page.text(text)
}

// drawing puts what is seen of the drawing on the page.
func (t *tile) drawing() {
	for _, l := range t.d.Lines {
		t.draw(l.Use.pen(), l.Contour)
	}
	for _, p := range t.d.Points {
		arm := geom.Pt(crossArm, 0)
		t.draw(penPoint, line(p.Sub(arm), p.Add(arm)))
		t.draw(penPoint, line(p.Sub(arm.Left()), p.Add(arm.Left())))
	}
	for i, text := range t.d.Texts {
		t.write(text, t.homes[i] == t.row*t.l.Cols+t.col)
	}
}

// place finds the cell of each text, and the bars.
func (s *sheets) place() {
	s.homes = make([]int, len(s.d.Texts))
	for i, t := range s.d.Texts {
		s.homes[i] = -1
		p := textBox(t).Center()
		for k := range s.l.Present {
			if c := s.l.Cell(k/s.l.Cols, k%s.l.Cols); s.l.Present[k] && c.Holds(p) {
				s.homes[i] = k
				break
			}
		}
	}
	s.bars = s.longBars()
}

// Lengths in mm of a scale's ticks, into the cell, and of a cross's arms.
const (
	tickShort = 0.9
	tickHalf  = 1.5
	tickLong  = 2.4
	cornerArm = 6.0
)

// rule says how the scales are divided: a tick every step, each fifth or
// fourth longer, each tenth or sixteenth the longest, with a number at every
// numbered one.
type rule struct {
	step            float64 // mm
	half, long, num int     // in steps
	unit            float64 // mm in one of what the numbers count
}

func (s *sheets) rule() rule {
	if s.o.Units == unit.Inch {
		return rule{step: unit.MMPerInch / 16, half: 8, long: 16, num: 16, unit: unit.MMPerInch}
	}
	return rule{step: 1, half: 5, long: 10, num: 50, unit: 1}
}

// scales draws the cell's sides, where sheets are trimmed and joined, and the
// rules along them: ticks at the drawing's own whole numbers, pointing into the
// cell, so that those of two neighbours meet.
func (t *tile) scales() {
	c := t.cell
	t.page.box(penTrim, geom.Box{Min: t.on(c.Min), Max: t.on(c.Max)})
	r := t.rule()
	var ticks []geom.Contour
	for _, side := range []struct {
		from, to geom.Point
		in       geom.Point
	}{
		{c.Min, geom.Pt(c.Max.X, c.Min.Y), geom.Pt(0, 1)},
		{geom.Pt(c.Min.X, c.Max.Y), c.Max, geom.Pt(0, -1)},
		{c.Min, geom.Pt(c.Min.X, c.Max.Y), geom.Pt(1, 0)},
		{geom.Pt(c.Max.X, c.Min.Y), c.Max, geom.Pt(-1, 0)},
	} {
		ticks = append(ticks, t.ticks(r, side.from, side.to, side.in)...)
	}
	for _, k := range ticks {
		t.page.stroke(penScale, k)
	}
}

// ticks are those along one side, with their numbers.
func (t *tile) ticks(r rule, from, to, in geom.Point) []geom.Contour {
	var list []geom.Contour
	upright := from.X == to.X
	lo, hi := from.X, to.X
	if upright {
		lo, hi = from.Y, to.Y
	}
	const whole = 1e-6 // of a step: rounding of the cell's corner
	for i := int(math.Ceil(lo/r.step - whole)); float64(i) <= hi/r.step+whole; i++ {
		length := tickShort
		switch {
		case i%r.long == 0:
			length = tickLong
		case i%r.half == 0:
			length = tickHalf
		}
		at := geom.Pt(float64(i)*r.step, from.Y)
		if upright {
			at = geom.Pt(from.X, float64(i)*r.step)
		}
		list = append(list, line(t.on(at), t.on(at.Add(in.Scale(length)))))
		near := math.Min(float64(i)*r.step-lo, hi-float64(i)*r.step)
		if i%r.num == 0 && near > cornerArm {
			t.number(at, in, decimals(float64(i)*r.step/r.unit, 3))
		}
	}
	return list
}

// number writes a scale's number inside the cell.
func (t *tile) number(at, in geom.Point, text string) {
	const size, gap = 2.2, 0.5
	turn := 0.0
	if in.X != 0 {
		turn = math.Pi / 2
	}
	base := at.Add(in.Scale(tickLong + gap))
	// The base line is on the lower side of the letters, whichever way they
	// stand: up, or turned left.
	if in.Y < 0 || in.X > 0 {
		base = base.Add(in.Scale(capHeight * size))
	}
	t.page.text(Text{At: t.on(base), String: text, Size: size, Angle: turn, Align: Center})
}

// corners draws the crosses at the cell's corners and says where they are.
func (t *tile) corners() {
	for _, p := range []geom.Point{t.cell.Min, geom.Pt(t.cell.Max.X, t.cell.Min.Y), t.cell.Max, geom.Pt(t.cell.Min.X, t.cell.Max.Y)} {
		arm := geom.Pt(cornerArm, 0)
		t.draw(penFrame, line(p.Sub(arm), p.Add(arm)))
		t.draw(penFrame, line(p.Sub(arm.Left()), p.Add(arm.Left())))
		t.draw(penFrame, geom.Circle(p, cornerArm/4))
	}
	const in = 7.0 // past the scales' numbers
	at := geom.Pt(t.cell.Min.X+in, t.cell.Max.Y-in-capHeight*huge)
	t.page.text(Text{At: t.on(at), String: Label(t.row, t.col), Size: huge, Bold: true})
	t.page.text(Text{
		At: t.on(at.Add(geom.Pt(Width(Label(t.row, t.col), huge, true)+2, 0))), Size: small,
		String: fit(Legible(t.d.Title), small, false, t.cell.Size().X/2),
	})
	p := t.cell.Min.Add(geom.Pt(in, in))
	t.page.text(Text{At: t.on(p), Size: small, String: fmt.Sprintf("cross at %s", Place(t.cell.Min, t.o.Units))})
}

// joins says what becomes of each side: left and upper sides are trimmed along
// the dotted line and laid over the neighbour, right and lower ones go under.
func (t *tile) joins() {
	const over, under = "trim here, lay over %s", "glue under %s"
	c, gap := t.cell, t.l.Overlap/4
	mid := c.Center()
	for _, j := range []struct {
		row, col int
		say      string
		at       geom.Point
		angle    float64
	}{
		{t.row, t.col - 1, over, geom.Pt(c.Min.X-gap, mid.Y), math.Pi / 2},
		{t.row - 1, t.col, over, geom.Pt(mid.X, c.Max.Y+gap), 0},
		{t.row, t.col + 1, under, geom.Pt(c.Max.X+gap, mid.Y), math.Pi / 2},
		{t.row + 1, t.col, under, geom.Pt(mid.X, c.Min.Y-gap), 0},
	} {
		say := "outer edge"
		if t.l.Has(j.row, j.col) {
			say = fmt.Sprintf(j.say, Label(j.row, j.col))
		}
		down := geom.Pt(0, -capHeight*small/2).Turn(j.angle)
		t.page.text(Text{At: t.on(j.at.Add(down)), String: say, Size: small, Angle: j.angle, Align: Center})
	}
}
