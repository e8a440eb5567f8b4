package family

import (
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// A Fret is a run of Greek keys on the lines of a square grid: straight along x, or round
// a rectangle. Each key is a line that winds in and out again beside itself; doubled, two
// lines wind in from both sides, cross in the key's middle and change sides. (Keys as in
// F. S. Meyer, "A Handbook of Ornament", 1888, recalled; lengths and corners worked out here.)
type Fret struct {
	Across, Up int     // keys along x, and along y with the corners; a run that has no Up is straight
	Turns      int     // 1: the plain key; each more goes half a turn deeper, doubled a quarter
	Cell       float64 // mm from line to line; the size
	Round      float64 // mm, the corners' radius; 0: they stay sharp
	Doubled    bool
}

// Sized is the fret on another grid.
func (p Fret) Sized(size float64) Pattern {
	p.Cell = size
	return p
}

// Tracks is a cell.
func (p Fret) Tracks() float64 { return p.Cell }

// Draw is a contour for each line.
func (p Fret) Draw() ([]geom.Contour, error) {
	if p.Doubled && p.Up > 0 && min(p.Across, p.Up) < 3 {
		key := "across"
		if p.Up < p.Across {
			key = "up"
		}
		return nil, fault(key, "two lines turn the corners without a key, and leave none between them").hint("3 or more")
	}
	if most := p.Cell / 2; p.Round > most {
		if p.Round > most+roundSlack {
			return nil, fault("round", "lines %s apart have no room for a round of %s", unit.Len(p.Cell), unit.Len(p.Round)).
				hint("at most %s", unit.AtMost(most).Typed())
		}
		p.Round = most
	}
	lines := [][]node{p.line()}
	if p.Doubled {
		lines = [][]node{p.crossing(true), p.crossing(false)}
	}
	low, high := lines[0][0], lines[0][0]
	for _, n := range slices.Concat(lines...) {
		low = node{min(low.x, n.x), min(low.y, n.y)}
		high = node{max(high.x, n.x), max(high.y, n.y)}
	}
	var all []geom.Contour
	for _, line := range lines {
		line = corners(line, p.Up > 0)
		c := geom.Contour{Closed: p.Up > 0}
		for _, n := range line {
			at := geom.Pt(float64(2*n.x-low.x-high.x)*p.Cell/2, float64(2*n.y-low.y-high.y)*p.Cell/2)
			c.Vertices = append(c.Vertices, geom.Vertex{Point: at})
		}
		all = append(all, c.Filleted(alike(p.Round, len(line))))
	}
	return all, nil
}

// corners are the nodes at which a line turns, and its ends.
func corners(line []node, closed bool) []node {
	var kept []node
	for i, n := range line {
		before, after := line[(i+len(line)-1)%len(line)], line[(i+1)%len(line)]
		straight := before.x == n.x && n.x == after.x || before.y == n.y && n.y == after.y
		if atEnd := !closed && (i == 0 || i == len(line)-1); atEnd || !straight {
			kept = append(kept, n)
		}
	}
	return kept
}

// line is the nodes of a fret of one line.
func (p Fret) line() []node {
	size := 2*p.Turns + 2 // a key's width in lines of the grid, with the gap to the next
	pen := pen{ahead: node{1, 0}}
	pen.on(0)
	if p.Up == 0 {
		for range p.Across {
			pen.key(size)
		}
		pen.line[len(pen.line)-1] = pen.spot(-1, 0) // as far as the last key is wide
		return pen.line
	}
	// Each side begins with as much plain line as the last key of the side before is high,
	// and ends with a key in its corner.
	for side := range 4 {
		pen.on(size)
		for range [2]int{p.Across, p.Up}[side%2] - 1 {
			pen.key(size)
		}
		pen.turn(1)
	}
	return pen.line[1:]
}

// A pen draws a line on a grid.
type pen struct {
	at, ahead node
	line      []node
}

// on goes straight on.
func (p *pen) on(by int) {
	p.at = p.spot(by, 0)
	p.line = append(p.line, p.at)
}

// turn turns by a quarter, to the left for 1 and to the right for -1.
func (p *pen) turn(to int) { p.ahead = node{-to * p.ahead.y, to * p.ahead.x} }

// spot is a node so far ahead of the pen, and to its left.
func (p *pen) spot(ahead, left int) node {
	return node{p.at.x + ahead*p.ahead.x - left*p.ahead.y, p.at.y + ahead*p.ahead.y + left*p.ahead.x}
}

// key draws a key of one line on the left, and goes on to where the next begins: it winds
// in to the right, by one line of the grid less each time, and out again beside that.
func (p *pen) key(size int) {
	p.turn(1)
	p.on(size - 1)
	for by := size - 1; by > 0; by-- {
		p.turn(-1)
		p.on(by)
	}
	p.turn(-1)
	p.on(1)
	for by := 1; by < size; by++ {
		p.turn(1)
		p.on(by)
	}
}

// crossing is the nodes of one of two lines, which begins on the inner side or the outer.
// Keys stand in square tiles with a gap of a cell between them, and change the line's side;
// round a rectangle the tiles at the corners are empty.
func (p Fret) crossing(inner bool) []node {
	tile := 2*p.Turns + 1
	pen := pen{ahead: node{1, 0}}
	key := func() {
		for _, n := range crossingKey(p.Turns, inner) {
			pen.line = append(pen.line, pen.spot(n.x, n.y))
		}
		pen.at, inner = pen.spot(tile, 0), !inner
	}
	if p.Up == 0 {
		for range p.Across {
			key()
		}
		return pen.line
	}
	for side := range 4 {
		pen.at = pen.spot(tile, 0)
		for range [2]int{p.Across, p.Up}[side%2] - 2 {
			key()
		}
		in := p.Turns
		if inner {
			in = -in
		}
		pen.line = append(pen.line, pen.spot(in, -in))
		pen.turn(1)
	}
	return pen.line
}

// crossingKey is one line's way through a key of two, from its middle: in along an arm
// from the inner or the outer corner, and out along the opposite one on the other side.
// Four arms wind out from the middle to the right, each beside the one before.
func crossingKey(turns int, inner bool) []node {
	arm := func(heading node) (line []node) { // that arrives at its corner with this heading
		pen := pen{ahead: heading}
		for range turns {
			pen.turn(1)
		}
		pen.on(1)
		for k := 1; k <= turns; k++ {
			pen.turn(-1)
			pen.on(min(2*k, 2*turns-1))
		}
		return pen.line
	}
	from, to := node{-1, 0}, node{1, 0}
	if inner {
		from, to = node{0, 1}, node{0, -1}
	}
	in := arm(from)
	slices.Reverse(in)
	return append(in, arm(to)...)
}
