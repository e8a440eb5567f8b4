package paper

import (
	"strconv"

	"strapwork/pkg/geom"
	"strapwork/pkg/label"
)

// Label names a cell by its row, from the top, and its column: "1-2".
func Label(row, col int) string { return strconv.Itoa(row+1) + "-" + strconv.Itoa(col+1) }

// tiles makes the pages of all cells with something on them.
func (s *sheets) tiles() []*tile {
	var list []*tile
	for row := range s.l.Rows {
		for col := range s.l.Cols {
			if s.l.Has(row, col) {
				list = append(list, s.tile(row, col))
			}
		}
	}
	return list
}

// tile makes the page of one cell. What has few places to be in comes first.
func (s *sheets) tile(row, col int) *tile {
	l := s.l
	t := &tile{
		sheets: s, row: row, col: col, cell: l.Cell(row, col), window: l.Window(row, col),
		page: Page{Width: l.Width, Height: l.Height, ScaleX: l.ScaleX, ScaleY: l.ScaleY},
	}
	t.shift = l.At(s.o.Paper.Margin).Sub(t.window.Min)
	t.drawing()
	t.bars()
	t.scales()
	t.corners()
	t.joins()
	t.labels()
	// Leaders lie under everything.
	t.page.Strokes = append(t.leaders, t.page.Strokes...)
	return t
}

// A tile is a page in the making. cell and window are in the drawing; shift
// takes the drawing to the page.
type tile struct {
	*sheets
	row, col     int
	cell, window geom.Box
	shift        geom.Point
	page         Page
	room         label.Room // for lettering, in the drawing's coordinates
	leaders      []Stroke
}

// on is where a point of the drawing lies on the page.
func (t *tile) on(p geom.Point) geom.Point { return p.Add(t.shift) }

// draw puts what the window shows of a line on the page.
func (t *tile) draw(pen Pen, c geom.Contour) {
	for _, q := range c.Within(t.window) {
		t.page.Strokes = append(t.page.Strokes, Stroke{Contour: moved(q.Contour, t.shift), Pen: pen, Offset: q.From})
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

// drawing puts what is seen of the drawing on the page.
func (t *tile) drawing() {
	for _, l := range t.d.Lines {
		t.draw(l.Use.pen(), l.Contour)
		weight := 1
		if l.Use == Mark {
			weight = 2 // lettering is read worse with a line through it
		}
		t.keepOff(weight, l.Contour)
	}
	for _, e := range t.hatches {
		if t.window.Holds(e.A) && t.window.Holds(e.B) {
			c := line(e.A, e.B)
			t.page.Strokes = append(t.page.Strokes, Stroke{Contour: moved(c, t.shift), Pen: penHatch})
			t.room.KeepOff(apart, 0, c)
		}
	}
	for _, p := range t.d.Points {
		arm := geom.Pt(crossArm, 0)
		for _, c := range []geom.Contour{line(p.Sub(arm), p.Add(arm)), line(p.Sub(arm.Left()), p.Add(arm.Left()))} {
			t.draw(penPoint, c)
			t.keepOff(1, c)
		}
	}
}

// keepOff has lettering keep off a line, as far as the window shows it.
func (t *tile) keepOff(weight int, c geom.Contour) {
	for _, p := range c.Within(t.window) {
		t.room.KeepOff(apart, weight, p.Contour)
	}
}

// place finds the cell of each label, and the bars.
func (s *sheets) place() {
	s.spots = spots()
	s.hatches = s.d.hatch()
	s.about = s.d.labelled()
	s.homes = make([]int, len(s.about))
	for i, l := range s.about {
		if s.homes[i] = s.home(l.at); s.homes[i] < 0 {
			s.said.left++ // of a sheet that is left out
		}
	}
	s.bars = s.longBars()
}

// home is the first cell with a page that holds a point, or else the first whose
// page shows it, or -1.
func (s *sheets) home(p geom.Point) int {
	shows := -1
	for k, there := range s.l.Present {
		if !there {
			continue
		}
		row, col := k/s.l.Cols, k%s.l.Cols
		if s.l.Cell(row, col).Holds(p) {
			return k
		}
		if shows < 0 && s.l.Window(row, col).Holds(p) {
			shows = k
		}
	}
	return shows
}
