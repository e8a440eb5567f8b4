package fromsvg

import (
	"math"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
)

// A chain is a subpath in user space, with y down as the file has it.
type chain struct {
	segments []drawing.Segment
	closed   bool
	empty    bool // nothing but a move
}

// numbersOf is how many numbers each command takes (SVG 2, section 9.3).
var numbersOf = map[byte]int{'m': 2, 'l': 2, 'h': 1, 'v': 1, 'c': 6, 's': 4, 'q': 4, 't': 2, 'a': 7, 'z': 0}

// A pathReader is at work on path data.
type pathReader struct {
	scanner
	most      int // segments to read at most
	count     int
	chains    []chain
	start     geom.Point // of the subpath
	now       geom.Point
	begun     bool       // there is a subpath to go on with
	last      byte       // the last command, in small letters
	control   geom.Point // the last curve's second control point
	beginning int        // where the command stands
}

// parsePath reads path data (SVG 2, section 9.3, whose grammar holds that of SVG 1.1,
// section 8.3.9) of at most so many segments, and says whether that is the whole. A browser draws up to the first mistake;
// here a mistake is reported.
func parsePath(d string, most int) (chains []chain, whole bool, wrong *fault) {
	p := pathReader{scanner: scanner{s: d}, most: most}
	p.space()
	for !p.ended() && p.count <= most {
		p.beginning = p.at
		letter := p.s[p.at]
		command := letter | 0x20
		if _, known := numbersOf[command]; !known || !isLetter(letter) {
			return nil, true, &fault{at: p.at, text: "this is not a command of a path, " + p.next(p.at)}
		}
		if p.last == 0 && command != 'm' {
			return nil, true, &fault{at: p.at, text: "a path begins with M, " + p.next(p.at)}
		}
		p.at++
		p.space()
		if wrong := p.command(command, letter != command); wrong != nil {
			return nil, true, wrong
		}
	}
	p.end(false)
	return p.chains, p.count <= most, nil
}

// command reads a command's numbers, as often as they are repeated.
func (p *pathReader) command(command byte, absolute bool) *fault {
	if command == 'z' {
		p.close()
		p.last = command
		return nil
	}
	for first := true; first || p.more(); first = false {
		var a [7]float64
		for i := range numbersOf[command] {
			var wrong *fault
			if command == 'a' && (i == 3 || i == 4) {
				a[i], wrong = p.flag()
			} else {
				a[i], wrong = p.number()
			}
			if wrong != nil {
				return wrong
			}
			p.separator()
		}
		p.step(command, absolute, a)
		p.last = command
		if p.count > p.most {
			return nil
		}
		if command == 'm' {
			command = 'l' // SVG 1.1, section 8.3.2: what follows a move are lines
		}
	}
	return nil
}

// more reports whether a number is next.
func (p *pathReader) more() bool {
	c := p.peek()
	return isDigit(c) || c == '.' || c == '-' || c == '+'
}

// flag reads a 0 or 1 that needs no separator after it.
func (p *pathReader) flag() (float64, *fault) {
	switch {
	case p.skip('0'):
		return 0, nil
	case p.skip('1'):
		return 1, nil
	}
	return 0, &fault{at: p.at, text: "a flag of an arc is 0 or 1, " + p.next(p.at)}
}

// step does one command.
func (p *pathReader) step(command byte, absolute bool, a [7]float64) {
	from := geom.Point{}
	if !absolute {
		from = p.now
	}
	to := func(i int) geom.Point { return geom.Pt(from.X+a[i], from.Y+a[i+1]) }
	switch command {
	case 'm':
		p.end(false)
		p.now = to(0)
		p.start, p.begun = p.now, true
		if n := len(p.chains); n > 0 && p.chains[n-1].empty {
			return // two moves one after the other
		}
		p.chains = append(p.chains, chain{empty: true})
	case 'l':
		p.line(to(0))
	case 'h':
		p.line(geom.Pt(from.X+a[0], p.now.Y))
	case 'v':
		p.line(geom.Pt(p.now.X, from.Y+a[0]))
	case 'c':
		p.curve(to(0), to(2), to(4))
	case 's':
		p.curve(p.mirrored('c', 's'), to(0), to(2))
	case 'q':
		p.curve(to(0), to(2))
	case 't':
		p.curve(p.mirrored('q', 't'), to(0))
	case 'a':
		p.arc(a, to(5))
	}
}

// mirrored is the first control point of a smooth curve: the last one mirrored in the
// point where the curve stands, if it came by one of the commands, else that point (SVG
// 1.1, sections 8.3.6 and 8.3.7).
func (p *pathReader) mirrored(a, b byte) geom.Point {
	if p.last != a && p.last != b {
		return p.now
	}
	return p.now.Scale(2).Sub(p.control)
}

func (p *pathReader) line(to geom.Point) {
	if to != p.now {
		p.add(drawing.Line{A: p.now, B: to}, to)
	} else {
		p.add(nil, to)
	}
}

// curve adds a Bezier curve through the rest of its control points.
func (p *pathReader) curve(rest ...geom.Point) {
	to := rest[len(rest)-1]
	p.control = rest[len(rest)-2]
	points := append([]geom.Point{p.now}, rest...)
	for _, q := range rest {
		if q != p.now {
			p.add(drawing.Bezier{Points: points}, to)
			return
		}
	}
	p.add(nil, to)
}

func (p *pathReader) arc(a [7]float64, to geom.Point) {
	p.add(arcTo(p.now, to, geom.Pt(a[0], a[1]), radians(a[2]), a[3] == 1, a[4] == 1), to)
}

// add adds a segment; nil is one without length. After Z a subpath begins where the last
// one began (SVG 1.1, section 8.3.3).
func (p *pathReader) add(s drawing.Segment, to geom.Point) {
	if !p.begun {
		p.begun = true
		p.chains = append(p.chains, chain{})
	}
	c := &p.chains[len(p.chains)-1]
	c.empty = false
	if s != nil {
		c.segments = append(c.segments, s)
	}
	p.count++
	p.now = to
}

// close draws back to where the subpath began.
func (p *pathReader) close() {
	if !p.begun {
		return // Z twice
	}
	if !same(p.now, p.start) {
		p.line(p.start)
	}
	p.end(true)
	p.now = p.start
}

// end ends the subpath.
func (p *pathReader) end(closed bool) {
	if !p.begun {
		return
	}
	p.begun = false
	c := &p.chains[len(p.chains)-1]
	c.empty = c.empty && !closed
	c.closed = len(c.segments) > 0 && (closed || len(c.segments) > 1 && same(p.now, p.start))
}

// coincident is how far apart, as a share of their coordinates, points may be and be
// taken for one: relative coordinates add up their rounding.
const coincident = 1e-12

func same(p, q geom.Point) bool {
	size := math.Abs(p.X) + math.Abs(p.Y) + math.Abs(q.X) + math.Abs(q.Y)
	return p.Near(q, coincident*size)
}
