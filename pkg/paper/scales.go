package paper

import (
	"fmt"
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

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

// A side is one side of a cell: its ends, lower or left first, and the way into
// the cell.
type side struct{ from, to, in geom.Point }

func (t *tile) sides() []side {
	c := t.cell
	return []side{
		{c.Min, geom.Pt(c.Max.X, c.Min.Y), geom.Pt(0, 1)},
		{geom.Pt(c.Min.X, c.Max.Y), c.Max, geom.Pt(0, -1)},
		{c.Min, geom.Pt(c.Min.X, c.Max.Y), geom.Pt(1, 0)},
		{geom.Pt(c.Max.X, c.Min.Y), c.Max, geom.Pt(-1, 0)},
	}
}

// reach is from where to where a side goes along its axis.
func (s side) reach() (lo, hi float64) {
	if s.in.X != 0 {
		return s.from.Y, s.to.Y
	}
	return s.from.X, s.to.X
}

// at is the place of a number of the drawing's axis on a side.
func (s side) at(v float64) geom.Point {
	if s.in.X != 0 {
		return geom.Pt(s.from.X, v)
	}
	return geom.Pt(v, s.from.Y)
}

// scales draws the cell's sides, where sheets are trimmed and joined, and the
// rules along them: ticks at the drawing's own whole numbers, pointing into the
// cell, so that those of two neighbours meet.
func (t *tile) scales() {
	t.page.box(penTrim, geom.Box{Min: t.on(t.cell.Min), Max: t.on(t.cell.Max)})
	r := t.rule()
	for _, s := range t.sides() {
		t.ticks(r, s)
		t.numbers(r, s)
	}
}

// whole is what a cell's corner may be off a whole number, in steps of a rule:
// rounding.
const whole = 1e-6

// ticks draws those along one side.
func (t *tile) ticks(r rule, s side) {
	lo, hi := s.reach()
	for i := int(math.Ceil(lo/r.step - whole)); float64(i) <= hi/r.step+whole; i++ {
		length := tickShort
		switch {
		case i%r.long == 0:
			length = tickLong
		case i%r.half == 0:
			length = tickHalf
		}
		at := s.at(float64(i) * r.step)
		t.page.stroke(penScale, line(t.on(at), t.on(at.Add(s.in.Scale(length)))))
	}
}

// numbers writes those along one side: at every numbered tick, or at a long one
// beside it where something is in the way.
func (t *tile) numbers(r rule, s side) {
	lo, hi := s.reach()
	for i := int(math.Ceil(lo/r.step - whole)); float64(i) <= hi/r.step+whole; i++ {
		if i%r.num != 0 {
			continue
		}
		for _, k := range []int{0, 1, -1, 2, -2} {
			j := i + k*r.long
			if k != 0 && r.num == r.long {
				break // every long tick has its own
			}
			v := float64(j) * r.step
			if math.Min(v-lo, hi-v) > cornerArm && t.number(s, v, unit.Decimal(v/r.unit, 3)) {
				break
			}
		}
	}
}

// number writes a scale's number beside a tick, inside the cell or else outside
// of it, and reports whether there was room.
func (t *tile) number(s side, v float64, text string) bool {
	const size, gap = 2.2, 0.5
	turn := 0.0
	if s.in.X != 0 {
		turn = math.Pi / 2
	}
	for _, try := range []struct {
		way  geom.Point
		from float64
	}{{s.in, tickLong + gap}, {s.in.Scale(-1), 2 * gap}} {
		base := s.at(v).Add(try.way.Scale(try.from))
		// The base line is on the lower side of the letters, whichever way they
		// stand: up, or turned left.
		if try.way.Y < 0 || try.way.X > 0 {
			base = base.Add(try.way.Scale(capHeight * size))
		}
		n := Text{At: base, String: text, Size: size, Angle: turn, Align: Center}
		if t.fits(n, t.window) {
			t.put(n)
			return true
		}
	}
	return false
}

// inset in mm is past the scales and their numbers.
const inset = 7.0

// corners draws the crosses at the cell's corners, says where they are, and
// names the tile.
func (t *tile) corners() {
	c := t.cell
	for _, p := range []geom.Point{c.Min, geom.Pt(c.Max.X, c.Min.Y), c.Max, geom.Pt(c.Min.X, c.Max.Y)} {
		arm := geom.Pt(cornerArm, 0)
		t.draw(penCross, line(p.Sub(arm), p.Add(arm)))
		t.draw(penCross, line(p.Sub(arm.Left()), p.Add(arm.Left())))
		t.draw(penCross, geom.Circle(p, cornerArm/4))
	}
	t.nameTile()
	t.nameCross()
}

// nameTile writes the tile's label and title at the first free place from the
// upper left.
func (t *tile) nameTile() {
	const step = 6.0 // mm from one place to the next
	name := Text{Size: huge, Bold: true}
	if t.l.Count() > 1 {
		name.String = Label(t.row, t.col)
	}
	title := Text{String: fit(Legible(t.d.Title), small, false, t.cell.Size().X/2), Size: small}
	right := geom.Pt(Width(name.String, huge, true)+2, 0)
	within := t.inside()
	for y := t.cell.Max.Y - inset - capHeight*huge; y > within.Min.Y; y -= step {
		for x := t.cell.Min.X + inset; x < within.Max.X; x += step {
			name.At = geom.Pt(x, y)
			title.At = name.At.Add(right)
			if t.fits(name, within) && t.fits(title, within) {
				if name.String != "" {
					t.put(name)
				}
				t.put(title)
				return
			}
		}
	}
}

// nameCross says where one of the crosses is: the lower left one if there is
// room beside it or somewhere near, or else another.
func (t *tile) nameCross() {
	c := t.cell
	for _, far := range []bool{false, true} {
		for _, k := range []struct {
			at, in geom.Point
			align  Align
		}{
			{c.Min, geom.Pt(inset, inset), Left},
			{geom.Pt(c.Max.X, c.Min.Y), geom.Pt(-inset, inset), Right},
			{c.Max, geom.Pt(-inset, -inset-capHeight*small), Right},
			{geom.Pt(c.Min.X, c.Max.Y), geom.Pt(inset, -inset-capHeight*small), Left},
		} {
			say := fmt.Sprintf("cross at %s", Place(k.at, t.o.Units))
			first := Text{At: k.at.Add(k.in), String: say, Size: small, Align: k.align}
			l := caption{at: k.at, first: &first}
			if far {
				l.forms = []string{say}
			}
			if t.placeLabel(l, t.inside()) {
				return
			}
		}
	}
}

// joins says what becomes of each side: left and upper sides are trimmed along
// the dotted line and laid over the neighbour, right and lower ones go under.
func (t *tile) joins() {
	c, gap := t.cell, t.l.Overlap/4
	mid := c.Center()
	over, under := []string{"trim here, lay over %s", "over %s"}, []string{"glue under %s", "under %s"}
	for _, j := range []struct {
		row, col int
		say      []string
		at       geom.Point
		angle    float64
	}{
		{t.row, t.col - 1, over, geom.Pt(c.Min.X-gap, mid.Y), math.Pi / 2},
		{t.row - 1, t.col, over, geom.Pt(mid.X, c.Max.Y+gap), 0},
		{t.row, t.col + 1, under, geom.Pt(c.Max.X+gap, mid.Y), math.Pi / 2},
		{t.row + 1, t.col, under, geom.Pt(mid.X, c.Min.Y-gap), 0},
	} {
		forms := []string{"outer edge"}
		if t.l.Has(j.row, j.col) {
			forms = nil
			for _, say := range j.say {
				forms = append(forms, fmt.Sprintf(say, Label(j.row, j.col)))
			}
		}
		for _, say := range forms {
			text := Text{At: j.at, String: say, Size: small, Angle: j.angle, Align: Center}
			if t.nameSide(text) {
				break
			}
		}
	}
}

// nameSide writes what becomes of a side in the strip along it: in its middle,
// or as near to it as there is room.
func (t *tile) nameSide(text Text) bool {
	const step = 6.0 // mm from one place to the next
	at := text.At.Add(geom.Pt(0, -capHeight*small/2).Turn(text.Angle))
	along := geom.Polar(step, text.Angle)
	half := t.cell.Size().Dot(geom.Polar(1, text.Angle)) / 2
	for k := 0.0; k*step < half; k++ {
		for _, way := range []float64{1, -1} {
			text.At = at.Add(along.Scale(k * way))
			if t.fits(text, t.strips()) {
				t.put(text)
				return true
			}
		}
	}
	return false
}

// strips is what lettering beside the cell's sides may take up: letters reach a
// little beyond the strips where those are narrow.
func (t *tile) strips() geom.Box { return t.window.Expand(small) }
