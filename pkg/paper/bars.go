package paper

import (
	"fmt"
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// A bar runs over as many tiles as it can, to measure how they were put
// together: drawn as a ladder of filled and empty steps, so that nobody takes
// it for a line to cut.
type bar struct {
	from, to geom.Point // of its lower or left side
	in       geom.Point // to its other side
	step     float64
}

// barWidth in mm is that of a bar's steps.
const barWidth = 1.2

// longBars finds the longest run of pages in a row and in a column, and lays a
// bar along each, clear of the scales.
func (s *sheets) longBars() []bar {
	step, whole := 50.0, 10.0
	if s.o.Units == unit.Inch {
		step, whole = 2*unit.MMPerInch, unit.MMPerInch
	}
	const clear = 14.0 // from the cell's sides, past the scales and the cross's place
	var bars []bar
	if row, from, to := s.run(s.l.Rows, s.l.Cols, s.l.Has); to > from {
		a, b := s.l.Cell(row, from), s.l.Cell(row, to)
		lo, hi := between(a.Min.X+clear, b.Max.X-clear, whole, step)
		y := a.Min.Y + clear
		bars = append(bars, bar{from: geom.Pt(lo, y), to: geom.Pt(hi, y), in: geom.Pt(0, barWidth), step: step})
	}
	across := func(col, row int) bool { return s.l.Has(row, col) }
	if col, from, to := s.run(s.l.Cols, s.l.Rows, across); to > from {
		a, b := s.l.Cell(to, col), s.l.Cell(from, col)
		lo, hi := between(a.Min.Y+clear, b.Max.Y-clear, whole, step)
		x := a.Max.X - clear // away from the sheets' labels
		bars = append(bars, bar{from: geom.Pt(x, lo), to: geom.Pt(x, hi), in: geom.Pt(barWidth, 0), step: step})
	}
	return bars
}

// run is the longest run of cells that are there, of all lines of cells: its
// line and its first and last place. The first of equal ones counts.
func (s *sheets) run(lines, places int, has func(line, place int) bool) (line, from, to int) {
	best := 0
	for i := range lines {
		for a := 0; a < places; a++ {
			b := a
			for b < places && has(i, b) {
				b++
			}
			if b-a > best {
				best, line, from, to = b-a, i, a, b-1
			}
			a = b
		}
	}
	return line, from, to
}

// between is the longest whole number of steps within lo and hi that begins on
// a whole number.
func between(lo, hi, whole, step float64) (from, to float64) {
	from = math.Ceil(lo/whole) * whole
	return from, from + math.Floor((hi-from)/step)*step
}

// bars draws what the window shows of the long bars.
func (t *tile) bars() {
	for _, b := range t.sheets.bars {
		along := b.to.Sub(b.from)
		n := int(math.Round(along.Norm() / b.step))
		if n == 0 {
			continue
		}
		each := along.Scale(1 / float64(n))
		for i := range n {
			a := b.from.Add(each.Scale(float64(i)))
			box := geom.Box{Min: a, Max: a.Add(each).Add(b.in)}
			t.draw(penThin, geom.Rect(box))
			if i%2 == 0 {
				t.blacken(box)
			}
		}
		for _, end := range []geom.Point{b.from, b.to} {
			t.draw(penFrame, line(end.Sub(b.in.Scale(1.5)), end.Add(b.in.Scale(2.5))))
		}
		t.nameBar(b)
	}
}

// blacken fills what the window shows of a box.
func (t *tile) blacken(b geom.Box) {
	b.Min = geom.Pt(math.Max(b.Min.X, t.window.Min.X), math.Max(b.Min.Y, t.window.Min.Y))
	b.Max = geom.Pt(math.Min(b.Max.X, t.window.Max.X), math.Min(b.Max.Y, t.window.Max.Y))
	if b.Min.X < b.Max.X && b.Min.Y < b.Max.Y {
		t.page.fill(0, moved(geom.Rect(b), t.shift))
	}
}

// nameBar says a bar's length at both of its ends.
func (t *tile) nameBar(b bar) {
	say := fmt.Sprintf("assembly check: %s between the end marks", t.length(b.to.Dist(b.from)))
	w := Width(say, small, false)
	in := b.to.Sub(b.from).Unit()
	angle := in.Angle()
	off := in.Left().Scale(2.5)
	if b.in.Dot(in.Left()) > 0 {
		off = off.Add(b.in)
	}
	t.write(Text{At: b.from.Add(in.Scale(2)).Add(off), String: say, Size: small, Angle: angle}, false)
	t.write(Text{At: b.to.Sub(in.Scale(2 + w)).Add(off), String: say, Size: small, Angle: angle}, false)
}
