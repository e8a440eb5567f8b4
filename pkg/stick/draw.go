package stick

import (
	"fmt"
	"iter"
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/label"
	"strapwork/pkg/lettering"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// Heights of letters and what is kept clear about them, mm.
const (
	large, plain, small = 5.0, 3.5, 2.6
	clear               = 1.2
	apart               = 4.0 // from words that are read by themselves
	lead                = 1.6 // from line to line, in heights
)

// dash and gap of the frame's axis, mm.
const dash, gap = 5.0, 2.0

// Draw draws a stick in one piece; left is what of its lettering found no room.
func Draw(s Stick, p Params) (out sheet.Sheet, left []string) { return draw(s, p, nil) }

// draw draws a stick that will be cut in pieces.
func draw(s Stick, p Params, cuts []float64) (out sheet.Sheet, left []string) {
	box := geom.Box{Max: geom.Pt(s.Length, Width)}
	d := drawing{Stick: s, p: p, room: label.On(region.New(geom.Rect(box)), 2*clear)}
	d.line(sheet.Edge, geom.Rect(box))
	for _, x := range cuts {
		d.room.KeepOff(3*clear, 1, upright(x, 0, Width))
	}
	for _, t := range s.ticks() {
		d.tick(t)
	}
	for _, x := range cuts {
		d.joint(x)
	}
	d.ends()
	for _, l := range s.Labels {
		d.label(l)
	}
	d.scale()
	d.words("THIS SIDE UP", plain)
	d.words(s.Title, plain)
	if p.Title != "" {
		d.words(p.Title, small)
	}
	d.sheet.Name, d.sheet.Title = s.Name, s.Title
	return d.sheet, d.left
}

// A drawing is a stick on its way to a sheet.
type drawing struct {
	Stick
	p     Params
	sheet sheet.Sheet
	room  *label.Room
	left  []string
}

func (d *drawing) line(role sheet.Role, lines ...geom.Contour) {
	for _, c := range lines {
		d.sheet.Lines = append(d.sheet.Lines, sheet.Line{Role: role, Contour: c})
	}
}

// mark engraves lines that lettering keeps off.
func (d *drawing) mark(lines ...geom.Contour) {
	d.line(sheet.Mark, lines...)
	d.room.KeepOff(clear, 1, lines...)
}

func upright(x, from, to float64) geom.Contour {
	return geom.Chain(false, geom.Line(geom.Pt(x, from), geom.Pt(x, to)))
}

// tick draws a mark from both long sides.
func (d *drawing) tick(t tick) {
	if t.Kind != Axis {
		d.mark(upright(t.At, t.from, t.to), upright(t.At, Width-t.from, Width-t.to))
		return
	}
	for y := t.from; y < Width-t.from-least; y += dash + gap {
		d.mark(upright(t.At, y, math.Min(y+dash, Width-t.from)))
	}
}

// A placed is lettering at a place: its strokes, and the box that they take up.
type placed struct {
	strokes []geom.Contour
	box     geom.Box
}

// centred is lines of lettering about a place, turned.
func centred(lines []string, heights []float64, at geom.Point, turn float64) (p placed) {
	total := 0.0
	for i := range lines {
		total += heights[i]
		if i > 0 {
			total += (lead - 1) * heights[i]
		}
	}
	p.box = geom.EmptyBox()
	by := geom.Turning(turn).Then(geom.Shifting(at))
	y := total / 2
	for i, s := range lines {
		if i > 0 {
			y -= (lead - 1) * heights[i]
		}
		y -= heights[i]
		for _, c := range lettering.Text(s, geom.Pt(-lettering.Width(s, heights[i])/2, y), heights[i]) {
			c = by.Contour(c)
			p.strokes = append(p.strokes, c)
			p.box = p.box.Join(c.Bounds())
		}
	}
	return p
}

// place engraves the first of some lettering that finds room.
func (d *drawing) place(all iter.Seq[placed]) bool {
	p, ok := label.First(d.room, clear, all, func(p placed) []geom.Contour { return []geom.Contour{geom.Rect(p.box)} })
	if ok {
		d.line(sheet.Mark, p.strokes...)
	}
	return ok
}

// label writes beside a place: all its lines, upright if there is room, else along its
// marks, else its first line alone.
func (d *drawing) label(l Label) {
	all := func(yield func(placed) bool) {
		for n := len(l.Lines); n > 0; n-- {
			heights := []float64{large}
			for len(heights) < n {
				heights = append(heights, plain)
			}
			for _, turn := range [...]float64{0, math.Pi / 2} {
				for _, dx := range [...]float64{0, 4, -4, 7, -7, 10, -10, 13, -13} {
					for _, dy := range [...]float64{0, 5, -5, 9, -9} {
						if !yield(centred(l.Lines[:n], heights, geom.Pt(l.At+dx, Width/2+dy), turn)) {
							return
						}
					}
				}
			}
		}
	}
	if !d.place(all) {
		d.left = append(d.left, l.Lines[0])
	}
}

// ends writes at the stick's ends which is which, with an arrow to each.
func (d *drawing) ends() {
	const reach, step, arrow = 0.45, 4.0, 14.0
	for k, s := range d.Ends {
		if s == "" {
			continue
		}
		half := lettering.Width(s, large) / 2
		all := func(yield func(placed) bool) {
			for x := half + arrow + 8; x < reach*d.Length; x += step {
				for _, y := range [...]float64{Width / 2, Width/2 + 12, Width/2 - 12} {
					at, tip, tail := x, x-half-3-arrow, x-half-3
					if k == 1 {
						at, tip, tail = d.Length-at, d.Length-tip, d.Length-tail
					}
					p := centred([]string{s}, []float64{large}, geom.Pt(at, y), 0)
					for _, c := range lettering.Arrow(geom.Pt(tail, y), geom.Pt(tip, y), 5) {
						p.strokes = append(p.strokes, c)
						p.box = p.box.Join(c.Bounds())
					}
					p.box = p.box.Expand(apart - clear)
					if !yield(p) {
						return
					}
				}
			}
		}
		if !d.place(all) {
			d.left = append(d.left, s)
		}
	}
}

// spots are places all over a stick for what is as large as a box, in the middle first.
func (d *drawing) spots(size geom.Point) iter.Seq[geom.Point] {
	const step, border = 4.0, 8.0
	return func(yield func(geom.Point) bool) {
		half := size.Scale(0.5)
		for x := half.X + border; x <= d.Length-half.X-border; x += step {
			for dy := 0.0; dy <= Width/2-half.Y; dy += step {
				if !yield(geom.Pt(x, Width/2+dy)) || dy > 0 && !yield(geom.Pt(x, Width/2-dy)) {
					return
				}
			}
		}
	}
}

// words writes a line where there is room: smaller where there is less, or across the stick.
func (d *drawing) words(s string, height float64) {
	all := func(yield func(placed) bool) {
		for _, turn := range [...]float64{0, math.Pi / 2} {
			for _, h := range [...]float64{height, math.Min(height, small)} {
				size := geom.Pt(lettering.Width(s, h), h)
				if turn != 0 {
					size = geom.Pt(size.Y, size.X)
				}
				for at := range d.spots(size) {
					p := centred([]string{s}, []float64{h}, at, turn)
					p.box = p.box.Expand(apart - clear)
					if !yield(p) {
						return
					}
				}
			}
		}
	}
	if !d.place(all) {
		d.left = append(d.left, s)
	}
}

// Bar is the length in mm of what a rule is held to.
func (p Params) Bar() float64 {
	if p.Units == unit.Inch {
		return 4 * unit.MMPerInch
	}
	return 100
}

// scale draws a bar to hold a rule to, or where there is no room half of it across the stick.
func (d *drawing) scale() {
	long := d.p.Bar()
	all := func(yield func(placed) bool) {
		for at := range d.spots(geom.Pt(long, 2*plain)) {
			if !yield(d.bar(long, at, 0)) {
				return
			}
		}
		for at := range d.spots(geom.Pt(2*plain, long/2)) {
			if !yield(d.bar(long/2, at, math.Pi/2)) {
				return
			}
		}
	}
	if !d.place(all) {
		d.left = append(d.left, fmt.Sprintf("the bar of %s", unit.Len(long).In(d.p.Units)))
	}
}

// bar is a line about a place with a short one across each of its ends, and its length.
func (d *drawing) bar(long float64, at geom.Point, turn float64) placed {
	const half, over = 2.0, 4.5
	by := geom.Turning(turn).Then(geom.Shifting(at))
	p := centred([]string{unit.Len(long).In(d.p.Units)}, []float64{plain}, by.Apply(geom.Pt(0, over)), turn)
	lines := []geom.Contour{geom.Chain(false, geom.Line(geom.Pt(-long/2, 0), geom.Pt(long/2, 0)))}
	for _, x := range [...]float64{-long / 2, long / 2} {
		lines = append(lines, upright(x, -half, half))
	}
	for _, c := range lines {
		p.strokes = append(p.strokes, by.Contour(c))
		p.box = p.box.Join(by.Contour(c).Bounds())
	}
	return p
}

// joint marks on both pieces of a stick so far from where they meet that a rule across them
// shows whether they lie tight and in line.
func (d *drawing) joint(x float64) {
	const long = 6.0
	half := d.p.Bar() / 2
	said := unit.Len(2*half).In(d.p.Units) + " APART"
	all := func(yield func(placed) bool) {
		for _, y := range [...]float64{Width / 2, Width/2 + 9, Width/2 - 9, Width/2 + 5, Width/2 - 5} {
			var p placed
			p.box = geom.EmptyBox()
			for _, side := range [...]float64{-1, 1} {
				q := centred([]string{said}, []float64{small}, geom.Pt(x+side*half/2, y), 0)
				c := upright(x+side*half, y-long/2, y+long/2)
				p.strokes = append(append(p.strokes, q.strokes...), c)
				p.box = p.box.Join(q.box).Join(c.Bounds())
			}
			if !yield(p) {
				return
			}
		}
	}
	p, ok := label.First(d.room, clear, all, func(p placed) []geom.Contour {
		left, right := p.box, p.box
		left.Max.X, right.Min.X = x-half/3, x+half/3
		return []geom.Contour{geom.Rect(left), geom.Rect(right)}
	})
	if !ok {
		d.left = append(d.left, said)
		return
	}
	d.line(sheet.Mark, p.strokes...)
}
