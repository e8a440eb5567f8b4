package geom

// Path data: the W3C's notation for outlines (Scalable Vector Graphics 1.1,
// section 8.3.9, the grammar), less its curves, which no hand router's
// template can follow exactly. Here y points upwards, so a sweep flag of 1
// turns counter-clockwise.

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A PathError says what is wrong with path data, and where.
type PathError struct {
	Offset int    // bytes from the start of the data
	Msg    string // lower case, no full stop
	Hint   string // what to type instead; may be empty
	Curve  bool   // it is a curve of a kind that isn't read
}

// Error is the message with its place.
func (e *PathError) Error() string {
	return fmt.Sprintf("path data, character %d: %s", e.Offset+1, e.Msg)
}

const (
	// radiusSlack is how far, relatively, an arc's radius may fall short of
	// half the distance between its ends and still be taken for that half:
	// numbers written with nine digits carry as much rounding.
	radiusSlack = 1e-9
	// halfSlack is the same when the radius is on the long side: ten times
	// what the arithmetic loses. More would move the arc's middle visibly, as
	// the sagitta changes with the square root.
	halfSlack = 1e-14
)

// ParsePath reads path data of the commands M L H V A Z and their relative
// forms m l h v a z, and returns a contour for each subpath, in its units.
// Arcs must have equal radii; they are split into edges of equal sweep with
// |bulge| <= 1. Z closes a contour; a last point that lies on the first within
// Coincident is dropped for it. The error is a *PathError: unlike a browser,
// ParsePath refuses arcs too small for their ends and anything without length
// rather than repairing it in silence. Empty data has no contour.
func ParsePath(d string) ([]Contour, error) {
	cs, _, err := PathReader{}.Parse(d)
	return cs, err
}

// A PathReader reads path data as ParsePath does, and more.
type PathReader struct {
	// Slack is by how much a radius may be too small for its arc's ends: it is scaled up
	// (Scalable Vector Graphics 1.1, F.6.6).
	Slack float64
	// Braced, unless nil, is the value of what stands in braces in place of a number,
	// {reach + 2}, with its place in bytes from the start of the data. What is wrong
	// with it is said by whoever works it out: its error ends the reading as it is.
	Braced func(text string, at int) (float64, error)
}

// A Scaled is an arc whose radius was too small for its ends and became half
// the distance between them.
type Scaled struct {
	Offset    int     // of the radius, in bytes from the start of the data
	From, Now float64 // the radius as written and as taken
}

// Parse reads path data, and lists where it scaled a radius up.
func (r PathReader) Parse(d string) ([]Contour, []Scaled, error) {
	p := pathParser{PathReader: r, src: d}
	for p.space(); p.pos < len(p.src); p.space() {
		if err := p.command(); err != nil {
			return nil, nil, err
		}
	}
	if err := p.finish(); err != nil {
		return nil, nil, err
	}
	return p.done, p.scaled, nil
}

type pathParser struct {
	PathReader
	src    string
	pos    int
	done   []Contour
	scaled []Scaled

	cmd      byte     // the command whose arguments are read
	cmdPos   int      // its place, or the place of the arguments that repeat it
	vertices []Vertex // the subpath so far; the last one is the current point
	open     bool     // a subpath was begun with M and not closed
	start    Point    // where the last subpath began
	first    int      // the place of its M
}

func (p *pathParser) fail(at int, hint, format string, args ...any) error {
	return &PathError{Offset: at, Msg: fmt.Sprintf(format, args...), Hint: hint}
}

func (p *pathParser) peek() byte {
	if p.pos < len(p.src) {
		return p.src[p.pos]
	}
	return 0
}

// space skips white space.
func (p *pathParser) space() {
	for p.pos < len(p.src) {
		switch p.src[p.pos] {
		case ' ', '\t', '\r', '\n', '\f':
			p.pos++
		default:
			return
		}
	}
}

// comma skips white space with at most one comma in it.
func (p *pathParser) comma() {
	p.space()
	if p.peek() == ',' {
		p.pos++
		p.space()
	}
}

// command reads a letter and all arguments that belong to it.
func (p *pathParser) command() error {
	p.cmd, p.cmdPos = p.src[p.pos], p.pos
	if err := p.known(); err != nil {
		return err
	}
	p.pos++
	if p.cmd == 'Z' || p.cmd == 'z' {
		return p.close()
	}
	p.space()
	for {
		if err := p.segment(); err != nil {
			return err
		}
		after := p.pos
		if p.comma(); !p.numberAhead() {
			if p.pos = after; p.commaAhead() {
				return p.fail(p.pos, "", "a comma with no number after it")
			}
			return nil
		}
		p.cmdPos = p.pos
		switch p.cmd { // more pairs after a move are lines
		case 'M':
			p.cmd = 'L'
		case 'm':
			p.cmd = 'l'
		}
	}
}

func (p *pathParser) commaAhead() bool {
	p.space()
	return p.peek() == ','
}

// known refuses letters that are no command, and commands out of place.
func (p *pathParser) known() error {
	switch p.cmd {
	case 'M', 'm':
		return nil
	case 'L', 'l', 'H', 'h', 'V', 'v', 'A', 'a', 'Z', 'z':
		if len(p.vertices) == 0 {
			return p.fail(p.pos, "write M and a point first", "path data must begin with M")
		}
		return nil
	case 'C', 'c', 'S', 's', 'Q', 'q', 'T', 't':
		return &PathError{
			Offset: p.pos, Curve: true,
			Msg:  fmt.Sprintf("%c is a Bezier curve, which a template cannot follow", p.cmd),
			Hint: "draw the curve as one or more arcs: A r r 0 large-arc sweep x y",
		}
	}
	if p.numberAhead() {
		return p.fail(p.pos, "write M, L, H, V or A before it", "a number without a command")
	}
	return p.fail(p.pos, "path data is made of M L H V A Z and plain numbers", "%q is not known here", []rune(p.src[p.pos:])[0])
}

// segment reads the arguments of the current command once.
func (p *pathParser) segment() error {
	if p.cmd == 'M' || p.cmd == 'm' {
		return p.move()
	}
	p.reopen()
	switch p.cmd {
	case 'A', 'a':
		return p.arc()
	case 'H', 'V', 'h', 'v':
		v, err := p.number()
		if err != nil {
			return err
		}
		to := p.here()
		switch p.cmd {
		case 'H':
			to.X = v
		case 'h':
			to.X += v
		case 'V':
			to.Y = v
		case 'v':
			to.Y += v
		}
		return p.line(to)
	}
	to, err := p.point()
	if err != nil {
		return err
	}
	return p.line(to)
}

func (p *pathParser) here() Point { return p.vertices[len(p.vertices)-1].Point }

// reopen begins a subpath where the last one was closed, as a command that
// follows a Z does.
func (p *pathParser) reopen() {
	if !p.open {
		p.vertices, p.open, p.first = []Vertex{{Point: p.start}}, true, p.cmdPos
	}
}

func (p *pathParser) move() error {
	if err := p.finish(); err != nil {
		return err
	}
	p.first = p.cmdPos
	if p.vertices == nil {
		p.vertices = []Vertex{{}} // the first m is taken from the origin
	} else if !p.open {
		p.vertices = []Vertex{{Point: p.start}} // after a Z, from its start
	}
	to, err := p.point()
	if err != nil {
		return err
	}
	p.start, p.open, p.vertices = to, true, []Vertex{{Point: to}}
	return nil
}

// finish ends an open subpath, if there is one.
func (p *pathParser) finish() error {
	if !p.open {
		return nil
	}
	if len(p.vertices) < 2 {
		return p.fail(p.first, "remove it, or draw on with L or A", "nothing is drawn from this point")
	}
	p.done = append(p.done, Contour{Vertices: p.vertices})
	return nil
}

// close ends the subpath with a line back to its start, if that is needed.
func (p *pathParser) close() error {
	if !p.open || len(p.vertices) < 2 {
		return p.fail(p.cmdPos, "draw something first", "nothing to close")
	}
	n := len(p.vertices) - 1
	if p.vertices[n].Near(p.start, Coincident) {
		p.vertices = p.vertices[:n]
	}
	if len(p.vertices) < 2 {
		return p.fail(p.cmdPos, "", "the closed figure has no length")
	}
	p.done = append(p.done, Contour{Vertices: p.vertices, Closed: true})
	p.vertices, p.open = []Vertex{{Point: p.start}}, false
	return nil
}

func (p *pathParser) line(to Point) error {
	if to == p.here() {
		return p.fail(p.cmdPos, "remove it", "the line's two ends coincide")
	}
	return p.append(to, 0)
}

// append draws an edge to a point.
func (p *pathParser) append(to Point, bulge float64) error {
	if !to.Finite() {
		return p.fail(p.cmdPos, "", "the point is too far away to be a number")
	}
	p.vertices[len(p.vertices)-1].Bulge = bulge
	p.vertices = append(p.vertices, Vertex{Point: to})
	return nil
}

// arc reads one elliptical arc and draws it, provided it is circular.
func (p *pathParser) arc() error {
	at := p.pos
	rx, err := p.number()
	if err != nil {
		return err
	}
	p.comma()
	ry, err := p.number()
	if err != nil {
		return err
	}
	p.comma()
	if _, err = p.number(); err != nil { // a circle's turn makes no difference
		return err
	}
	large, err := p.flag("large-arc")
	if err != nil {
		return err
	}
	sweep, err := p.flag("sweep")
	if err != nil {
		return err
	}
	p.comma()
	to, err := p.point()
	if err != nil {
		return err
	}
	half := p.here().Dist(to) / 2
	switch from := p.here(); {
	case rx <= 0 || ry <= 0:
		return p.fail(at, "", "an arc's radius must be more than 0")
	case rx != ry:
		return p.fail(at, "write the same radius twice", "an arc of an ellipse cannot be made: its radii are %s and %s", short(rx), short(ry))
	case to == from:
		return p.fail(at, "draw a full circle as two half ones", "an arc that ends where it begins")
	case rx >= half*(1-radiusSlack):
	case half-rx <= p.Slack:
		p.scaled = append(p.scaled, Scaled{at, rx, half})
		rx = half
	default:
		return p.fail(at, "make the radius at least half the distance, "+short(half),
			"an arc of radius %s cannot join points %s apart", short(rx), short(2*half))
	}
	return p.circular(to, rx, large, sweep)
}

// circular draws an arc of a circle. With half the chord h and the radius r
// the lesser arc sweeps 2 asin(h/r), the greater the rest of the turn (the
// same circle as SVG's implementation notes find by its centre, F.6.5). A
// greater arc is split at its middle, which lies off the chord's middle by
// half a chord times the whole arc's bulge.
func (p *pathParser) circular(to Point, r float64, large, ccw bool) error {
	from := p.here()
	chord := to.Sub(from)
	ratio := chord.Norm() / 2 / r
	if ratio > 1-halfSlack {
		ratio = 1
	}
	theta := 2 * math.Asin(ratio)
	if large {
		theta = 2*math.Pi - theta
	}
	if !ccw {
		theta = -theta
	}
	bulge := math.Tan(theta / 4)
	if !large || ratio == 1 {
		return p.append(to, math.Max(-1, math.Min(1, bulge)))
	}
	mid := from.Lerp(to, 0.5).Sub(chord.Left().Scale(bulge / 2))
	half := math.Tan(theta / 8)
	if err := p.append(mid, half); err != nil {
		return err
	}
	return p.append(to, half)
}

// point reads a pair of numbers: a place, or for a small letter the way there
// from the current point.
func (p *pathParser) point() (Point, error) {
	x, err := p.number()
	if err != nil {
		return Point{}, err
	}
	p.comma()
	y, err := p.number()
	if err != nil {
		return Point{}, err
	}
	if p.cmd >= 'a' {
		return p.here().Add(Point{x, y}), nil
	}
	return Point{x, y}, nil
}

// flag reads a single 0 or 1, which needs nothing between it and the next
// number.
func (p *pathParser) flag(name string) (bool, error) {
	p.comma()
	c := p.peek()
	if c != '0' && c != '1' {
		return false, p.fail(p.pos, "an arc is: A r r 0 large-arc sweep x y", "the %s flag must be 0 or 1", name)
	}
	p.pos++
	return c == '1', nil
}

// numberAhead reports whether a number starts here.
func (p *pathParser) numberAhead() bool {
	return numberLen(p.src[p.pos:]) > 0 || p.Braced != nil && p.peek() == '{'
}

// braced is the value of what stands in braces.
func (p *pathParser) braced() (float64, error) {
	n := strings.IndexByte(p.src[p.pos:], '}')
	if n < 0 {
		return 0, p.fail(p.pos, "write } after it", "a brace that isn't closed")
	}
	from := p.pos + 1
	p.pos += n + 1
	v, err := p.Braced(p.src[from:p.pos-1], from)
	return v + 0, err
}

func (p *pathParser) number() (float64, error) {
	if p.Braced != nil && p.peek() == '{' {
		return p.braced()
	}
	n := numberLen(p.src[p.pos:])
	if n == 0 {
		hint := "path data takes plain numbers only, no names and no units"
		if p.Braced != nil {
			hint = "names, units and sums stand in braces: {reach + 2 mm}"
		}
		if p.pos == len(p.src) {
			return 0, p.fail(p.pos, "", "a number is missing at the end, after %c", p.cmd)
		}
		return 0, p.fail(p.pos, hint, "a number is missing here, after %c", p.cmd)
	}
	text := p.src[p.pos : p.pos+n]
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0, p.fail(p.pos, "", "%s is too large a number", text)
	}
	p.pos += n
	return v + 0, nil // no negative zero
}

// numberLen measures the number at the start of s: [+-] digits [. digits]
// [e [+-] digits], with digits before or after the point. 0 if there is none.
func numberLen(s string) int {
	digits := func(i int) int {
		for i < len(s) && s[i] >= '0' && s[i] <= '9' {
			i++
		}
		return i
	}
	sign := func(i int) int {
		if i < len(s) && (s[i] == '+' || s[i] == '-') {
			i++
		}
		return i
	}
	start := sign(0)
	i := digits(start)
	n := i - start
	if i < len(s) && s[i] == '.' {
		j := digits(i + 1)
		n += j - i - 1
		i = j
	}
	if n == 0 {
		return 0
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		if j := sign(i + 1); digits(j) > j {
			i = digits(j)
		}
	}
	return i
}

// short writes a number for a message.
func short(v float64) string { return strconv.FormatFloat(v, 'g', 9, 64) }
