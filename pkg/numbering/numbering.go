// Package numbering letters a picture with the numbers by which a pattern's crossings are
// named in a job: each beside its crossing where they find room, else along the pattern's
// lower and left rim, as on a map.
package numbering

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/label"
	"strapwork/pkg/sheet"
	"strapwork/pkg/work"
)

// Legend is what the numbers are, for those who look at them.
const Legend = "numbers: half cells from the lower left corner, as breaks counts them"

// A Style says how numbers look, in mm of the picture.
type Style struct {
	Heights []float64       // of capitals, the largest first
	Half    float64         // how far bands reach from their middles
	Apart   float64         // what is kept between numbers, and between them and lines
	To      geom.Similarity // from the motif to the picture
	Color   string          // of numbers
	Ink     string          // of lines
	Plate   string          // under numbers; empty for none
	Line    float64         // width of lines
}

// A Lettering is what is drawn: lines and plates, and over them numbers.
type Lettering struct {
	Fills []sheet.Fill
	Texts []sheet.Text
}

// Of letters a pattern's numbers. The room holds what they keep off, and from then on
// the numbers too.
func (s Style) Of(n work.Numbers, room *label.Room) (l Lettering) {
	walls := s.walls(n.Places, room)
	for _, h := range s.Heights {
		tried := room.Copy()
		if l, ok := s.beside(n.Places, h, tried); ok {
			*room = *tried
			return Lettering{append(walls, l.Fills...), l.Texts}
		}
	}
	l = s.rims(n, room)
	return Lettering{append(walls, l.Fills...), l.Texts}
}

// walls draws the breaks that there are.
func (s Style) walls(places []work.Numbered, room *label.Room) []sheet.Fill {
	var walls []geom.Contour
	for _, p := range places {
		if p.To == p.At {
			continue
		}
		at, to := s.To.Apply(p.At), s.To.Apply(p.To)
		walls = append(walls, geom.Chain(false, geom.Line(at.Sub(to.Sub(at)), to)))
	}
	if len(walls) == 0 {
		return nil
	}
	room.Take(s.Apart, walls...)
	return []sheet.Fill{{Loops: walls, Stroke: s.Ink, StrokeWidth: 3 * s.Line, Label: "breaks"}}
}

// fewLeft is the share of numbers that may find no room beside their crossings and stand
// on them: more would hide the pattern.
const fewLeft = 0.05

// beside writes each number beside its crossing, if nearly all have room there.
func (s Style) beside(places []work.Numbered, height float64, room *label.Room) (l Lettering, ok bool) {
	left := 0
	for _, p := range places {
		t := sheet.Text{Height: height, String: p.Text, Middle: true, Color: s.Color}
		at := s.To.Apply(p.At)
		box, free := s.find(at, t, room)
		plate := s.Plate
		if !free {
			plate = onLines
			if left++; float64(left) > fewLeft*float64(len(places)) {
				return Lettering{}, false
			}
			box = centred(at, boxOf(t))
		}
		room.Take(s.Apart, geom.Rect(box))
		l.write(t, box, plate)
	}
	return l, true
}

// onLines is the plate of a number that stands on lines.
const onLines = "#ffffff"

// directions is in how many directions from its crossing a number is tried.
const directions = 24

// find looks for room for a number beside its crossing, first on its right.
func (s Style) find(at geom.Point, t sheet.Text, room *label.Room) (box geom.Box, ok bool) {
	size := boxOf(t)
	for _, far := range [...]float64{0, 0.3, 0.7, 1.1, 1.6, 2.4} {
		for i := range directions {
			turn := (i + 1) / 2
			if i%2 == 0 {
				turn = -turn
			}
			d := geom.TurningFraction(turn, directions).Apply(geom.Pt(1, 0))
			mid := at.Add(d.Scale(math.Sqrt2*s.Half + s.Apart + far*t.Height)).Add(geom.Pt(d.X*size.X, d.Y*size.Y).Scale(0.5))
			if box = centred(mid, size); room.Free(geom.Rect(box)) {
				return box, true
			}
		}
	}
	return box, false
}

// rims writes the numbers of columns and rows along the rims, every so many of them, with
// a tick for each and a line across the pattern for those that are numbered.
func (s Style) rims(n work.Numbers, room *label.Room) (l Lettering) {
	var height float64
	var every int
	for _, height = range s.Heights {
		if every = s.every(n.Rims, height); every <= 2 {
			break
		}
	}
	var ticks, across []geom.Contour
	for _, r := range n.Rims {
		at, to := s.To.Apply(r.At), s.To.Apply(r.To)
		out := at.Sub(to).Unit()
		foot := at.Add(out.Scale(s.Half + s.Apart))
		long := height
		numbered := r.N%every == 0
		if numbered {
			long *= 2
		}
		end := foot.Add(out.Scale(long))
		ticks = append(ticks, geom.Chain(false, geom.Line(foot, end)))
		if !numbered {
			continue
		}
		across = append(across, geom.Chain(false, geom.Line(foot, to)))
		t := sheet.Text{Height: height, String: r.Text, Middle: true, Color: s.Color}
		size := boxOf(t)
		mid := end.Add(geom.Pt(out.X*(size.X/2+s.Apart), out.Y*(size.Y/2+s.Apart)))
		box := centred(mid, size)
		room.Take(s.Apart, geom.Rect(box))
		l.write(t, box, s.Plate)
	}
	room.KeepOff(s.Apart, 1, ticks...)
	l.Fills = append([]sheet.Fill{
		{Loops: across, Stroke: s.Ink, StrokeWidth: s.Line / 2, Dash: []float64{4 * s.Line, 4 * s.Line}, Label: "numbered columns and rows"},
		{Loops: ticks, Stroke: s.Ink, StrokeWidth: s.Line},
	}, l.Fills...)
	return l
}

// every is how many columns or rows it is from one number to the next, so that they have
// room.
func (s Style) every(rims []work.Numbered, height float64) int {
	step, wide := math.Inf(1), 0.0
	for i, r := range rims {
		wide = max(wide, boxOf(sheet.Text{Height: height, String: r.Text}).X)
		if i > 0 && r.N > 1 {
			step = min(step, s.To.Apply(r.At).Dist(s.To.Apply(rims[i-1].At)))
		}
	}
	for _, n := range [...]int{1, 2, 5, 10} {
		if float64(n)*step > wide+2*s.Apart {
			return n
		}
	}
	return 20
}

// write adds a number in its box, on a plate unless that is empty.
func (l *Lettering) write(t sheet.Text, box geom.Box, plate string) {
	if plate != "" {
		l.Fills = append(l.Fills, sheet.Fill{Loops: []geom.Contour{geom.Rect(box)}, Color: plate})
	}
	t.At = geom.Pt(box.Center().X, box.Min.Y+hangs*t.Height)
	l.Texts = append(l.Texts, t)
}

// hangs is how far commas hang below the base line, as a share of the capitals' height.
const hangs = 0.3

// boxOf is how wide and high a number is.
func boxOf(t sheet.Text) geom.Point { return geom.Pt(t.Width(), (1+hangs)*t.Height) }

// centred is a box about its middle.
func centred(at, size geom.Point) geom.Box {
	half := size.Scale(0.5)
	return geom.Box{Min: at.Sub(half), Max: at.Add(half)}
}
