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
	// shows lines that meet.
	beyond = 5.0
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

// Lay lays a drawing over sheets of a paper, upright or lying, whichever needs
// fewer; upright if they are as many. A roll's pages are as long as they need
// to be, and split where they would be longer than a page can be.
func Lay(d Drawing, p profile.Paper, u unit.System) Layout {
	upright, lying := lay(d, p, u, false), lay(d, p, u, true)
	n, m := upright.Count(), lying.Count()
	if m < n || m == n && p.Roll && lying.Width*float64(m) < upright.Height*float64(n) {
		return lying
	}
	return upright
}

func lay(d Drawing, p profile.Paper, u unit.System, landscape bool) Layout {
	l := Layout{Overlap: p.Margin + beyond, Landscape: landscape, Width: p.Width, Height: p.Height}
	l.ScaleX, l.ScaleY = p.Scale()
	if landscape {
		l.Width, l.Height, l.ScaleX, l.ScaleY = l.Height, l.Width, l.ScaleY, l.ScaleX
	}
	need := d.Bounds().Expand(spare)
	step, grid := pitchMM, originMM
	if u == unit.Inch {
		step, grid = pitchInch, originInch
	}
	used := geom.Pt(2*p.Margin/l.ScaleX+l.Overlap, 2*p.Margin/l.ScaleY+l.Overlap+blockHeight)
	room := geom.Pt(l.Width/l.ScaleX, l.Height/l.ScaleY).Sub(used)
	freeX, freeY := p.Roll && landscape, p.Roll && !landscape
	l.Origin.X, l.Pitch.X, l.Cols = along(need.Min.X, need.Max.X, room.X, step, grid, freeX)
	l.Origin.Y, l.Pitch.Y, l.Rows = along(need.Min.Y, need.Max.Y, room.Y, step, grid, freeY)
	if freeX {
		l.Width = (l.Pitch.X + used.X) * l.ScaleX
	}
	if freeY {
		l.Height = (l.Pitch.Y + used.Y) * l.ScaleY
	}
	l.Present = make([]bool, l.Rows*l.Cols)
	for i := range l.Present {
		l.Present[i] = d.within(l.Cell(i/l.Cols, i%l.Cols))
	}
	return l
}

// along lays cells along one axis from lo to hi, each at most room long: the
// grid's corner, the pitch and the number. The pitch is a multiple of step and
// the corner one of grid. Cells of a free axis are no longer than they need to
// be.
func along(lo, hi, room, step, grid float64, free bool) (origin, pitch float64, n int) {
	// Room for a whole number of steps is not lost to rounding.
	most := math.Floor(room/step+1e-9) * step
	first := math.Floor(lo/grid) * grid
	n = max(1, int(math.Ceil((hi-first)/most)))
	pitch = most
	if free {
		pitch = math.Min(most, math.Ceil((hi-first)/float64(n)/step)*step)
	}
	slack := float64(n)*pitch - (hi - first)
	return first - math.Floor(slack/2/grid)*grid, pitch, n
}

// within reports whether something of the drawing lies in a box.
func (d Drawing) within(b geom.Box) bool {
	for _, l := range d.Lines {
		if len(l.Contour.Within(b)) > 0 {
			return true
		}
	}
	for _, p := range d.Points {
		if pointBox(p).Meets(b) {
			return true
		}
	}
	for _, l := range d.labelled() {
		if b.Holds(l.at) {
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
