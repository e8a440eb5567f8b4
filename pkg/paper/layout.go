package paper

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
)

const (
	// beyond is by how much in mm the overlap is wider than what the printer
	// leaves clear, so that a sheet laid over its neighbour untrimmed still
	// shows lines that meet; beyondInch is that in a job in inches.
	beyond     = 5.0
	beyondInch = 0.2 * unit.MMPerInch
	// blockHeight in mm is that of the title block at each page's foot.
	blockHeight = 15.0
	// spare in mm is kept free round the drawing within the grid, for the width
	// of its lines.
	spare = 1.0
	// pitchMM is what the tiles' pitch is a multiple of in a job in mm, and
	// pitchInch in one in inches: a rule's own numbers.
	pitchMM   = 10.0
	pitchInch = unit.MMPerInch / 2
	// originMM and originInch are what the grid's corner is a multiple of, so
	// that the scales' ticks fall on whole numbers.
	originMM   = 1.0
	originInch = unit.MMPerInch / 4
)

// A Layout says how a drawing is laid over tiles of an absolute grid. Cell
// (row, col) reaches from Corner(row, col) one pitch to the right and up; row 0
// is the topmost. A page shows its cell and half of Overlap on all sides, its
// window.
type Layout struct {
	Rows, Cols    int
	Pitch         geom.Point // of the cells
	Origin        geom.Point // lower left corner of the grid, in the drawing
	Overlap       float64    // width of what two neighbours both show
	Width, Height float64    // of the page
	Landscape     bool
	ScaleX        float64 // of the printer's correction, along the page's width
	ScaleY        float64
	Present       []bool // by row, then column: the cells with something on them
}

// Corner is the lower left corner of a cell, in the drawing.
func (l Layout) Corner(row, col int) geom.Point {
	return l.Origin.Add(geom.Pt(float64(col)*l.Pitch.X, float64(l.Rows-1-row)*l.Pitch.Y))
}

// Cell is the box of a cell, in the drawing.
func (l Layout) Cell(row, col int) geom.Box {
	c := l.Corner(row, col)
	return geom.Box{Min: c, Max: c.Add(l.Pitch)}
}

// Window is what a cell's page shows, in the drawing.
func (l Layout) Window(row, col int) geom.Box { return l.Cell(row, col).Expand(l.Overlap / 2) }

// Has reports whether a cell is within the grid and has a page.
func (l Layout) Has(row, col int) bool {
	return row >= 0 && row < l.Rows && col >= 0 && col < l.Cols && l.Present[row*l.Cols+col]
}

// Count is the number of cells that have a page.
func (l Layout) Count() int {
	n := 0
	for _, p := range l.Present {
		if p {
			n++
		}
	}
	return n
}

// At is where the window's lower left corner lies on the page, in true mm.
func (l Layout) At(margin float64) geom.Point {
	p := Page{Width: l.Width, Height: l.Height, ScaleX: l.ScaleX, ScaleY: l.ScaleY}
	free := p.free(margin)
	free.Min.Y += blockHeight
	rest := free.Size().Sub(l.Pitch.Add(geom.Pt(l.Overlap, l.Overlap)))
	return free.Min.Add(rest.Scale(0.5))
}

// Lay lays a drawing over sheets of a paper, upright or lying and with the grid
// where it needs the fewest; upright and in the middle if they are as many. A
// roll's pages are as long as they need to be, and split where they would be
// longer than a page can be.
func Lay(d Drawing, p profile.Paper, u unit.System) Layout {
	dots := d.dots()
	upright, lying := lay(d, dots, p, u, false), lay(d, dots, p, u, true)
	n, m := upright.Count(), lying.Count()
	if m < n || m == n && p.Roll && lying.Width*float64(m) < upright.Height*float64(n) {
		return lying
	}
	return upright
}

// Bed is what a sheet that is by itself has room for, upright, within its
// scales.
func Bed(p profile.Paper, u unit.System) geom.Point {
	l := lay(Drawing{Lines: []Drawn{{Contour: geom.Circle(geom.Point{}, 1)}}}, nil, p, u, false)
	if p.Roll {
		l.Pitch.Y = l.Pitch.X // no longer than it is wide
	}
	return l.Pitch.Sub(geom.Pt(2*inset, 2*inset))
}

func lay(d Drawing, dots []geom.Point, p profile.Paper, u unit.System, landscape bool) Layout {
	l := Layout{Overlap: p.Margin + beyond, Landscape: landscape, Width: p.Width, Height: p.Height}
	l.ScaleX, l.ScaleY = p.Scale()
	if landscape {
		l.Width, l.Height, l.ScaleX, l.ScaleY = l.Height, l.Width, l.ScaleY, l.ScaleX
	}
	need := d.Bounds().Expand(spare)
	step, grid := pitchMM, originMM
	if u == unit.Inch {
		step, grid = pitchInch, originInch
		l.Overlap = p.Margin + beyondInch
	}
	used := geom.Pt(2*p.Margin/l.ScaleX+l.Overlap, 2*p.Margin/l.ScaleY+l.Overlap+blockHeight)
	room := geom.Pt(l.Width/l.ScaleX, l.Height/l.ScaleY).Sub(used)
	freeX, freeY := p.Roll && landscape, p.Roll && !landscape
	x := along(need.Min.X, need.Max.X, room.X, step, grid, freeX)
	y := along(need.Min.Y, need.Max.Y, room.Y, step, grid, freeY)
	l.Pitch, l.Cols, l.Rows = geom.Pt(x.pitch, y.pitch), x.n, y.n
	if freeX {
		l.Width = (l.Pitch.X + used.X) * l.ScaleX
	}
	if freeY {
		l.Height = (l.Pitch.Y + used.Y) * l.ScaleY
	}
	return l.best(d, dots, x, y)
}

// A row of cells along one axis.
type cells struct {
	pitch  float64 // of the cells
	n      int
	middle float64 // the grid's corner with the drawing in the middle
	grid   float64 // what the corner is a multiple of
	low    int     // the corner may lie so many steps of that lower
	high   int     // or higher
}

// along lays cells along one axis from lo to hi, each at most room long. The
// pitch is a multiple of step and the corner one of grid. Cells of a free axis
// are no longer than they need to be.
func along(lo, hi, room, step, grid float64, free bool) cells {
	// Room for a whole number of steps is not lost to rounding.
	most := math.Floor(room/step+1e-9) * step
	first := math.Floor(lo/grid) * grid
	c := cells{n: max(1, int(math.Ceil((hi-first)/most))), pitch: most, grid: grid}
	if free {
		c.pitch = math.Min(most, math.Ceil((hi-first)/float64(c.n)/step)*step)
	}
	slack := float64(c.n)*c.pitch - (hi - first)
	c.high = int(math.Floor(slack / 2 / grid))
	c.low = int(math.Floor(slack/grid)) - c.high
	c.middle = first - float64(c.high)*grid
	return c
}

// tries is how many places of the grid are tried along one axis: finer steps
// than a fiftieth of a sheet hardly save one.
const tries = 24

// corners are the places of the grid's corner to try, the middle first and then
// outward.
func (c cells) corners() []float64 {
	if c.n == 1 {
		return []float64{c.middle}
	}
	by := max(1, (c.low+c.high)/tries)
	list := []float64{c.middle}
	for k := by; k <= max(c.low, c.high); k += by {
		if k <= c.low {
			list = append(list, c.middle-float64(k)*c.grid)
		}
		if k <= c.high {
			list = append(list, c.middle+float64(k)*c.grid)
		}
	}
	return list
}

// best puts the grid where the fewest cells have something in them: by dots on
// the lines, and then exactly.
func (l Layout) best(d Drawing, dots []geom.Point, x, y cells) Layout {
	l.Origin = geom.Pt(x.middle, y.middle)
	least := math.MaxInt
	hit := make([]bool, l.Rows*l.Cols)
	for _, ox := range x.corners() {
		for _, oy := range y.corners() {
			clear(hit)
			n := 0
			for _, p := range dots {
				col, row := int((p.X-ox)/x.pitch), int((p.Y-oy)/y.pitch)
				if k := min(row, l.Rows-1)*l.Cols + min(col, l.Cols-1); !hit[k] {
					hit[k] = true
					n++
				}
			}
			if n < least {
				least, l.Origin = n, geom.Pt(ox, oy)
			}
		}
	}
	l.Present = make([]bool, l.Rows*l.Cols)
	for i := range l.Present {
		l.Present[i] = d.within(l.Cell(i/l.Cols, i%l.Cols))
	}
	return l
}

// dots are places along all that is drawn, closer together than sheets can
// miss for long.
func (d Drawing) dots() []geom.Point {
	const step = 4.0
	var list []geom.Point
	for _, l := range d.Lines {
		if !l.Use.drawn() {
			continue
		}
		for _, e := range l.Contour.Edges() {
			n := int(math.Ceil(e.Length() / step))
			for i := range n + 1 {
				list = append(list, e.At(float64(i)/float64(max(1, n))))
			}
		}
	}
	return list
}

// within reports whether something of the drawing lies in a box, besides what
// is for the reader alone.
func (d Drawing) within(b geom.Box) bool {
	for _, l := range d.Lines {
		if l.Use.drawn() && l.Contour.Bounds().Meets(b) && len(l.Contour.Within(b)) > 0 {
			return true
		}
	}
	return false
}

// textBox is the room that a line of lettering takes up.
func textBox(t Text) geom.Box {
	w := Width(t.String, t.Size, t.Bold)
	from := 0.0
	switch t.Align {
	case Left:
	case Center:
		from = -w / 2
	case Right:
		from = -w
	}
	b := geom.EmptyBox()
	for _, x := range []float64{from, from + w} {
		for _, y := range []float64{-descent * t.Size, capHeight * t.Size} {
			b = b.Include(t.At.Add(geom.Pt(x, y).Turn(t.Angle)))
		}
	}
	return b
}
