package ngc

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"

	"strapwork/pkg/geom"
)

// Options are how a machine wants its programs. The zero Options are mm, four
// decimals, arcs and helices, words only where they change, no path mode, dwells
// in seconds, M2, neither line numbers nor percent signs.
type Options struct {
	Units       Units   // of the program; UnitsUnstated means mm
	Decimals    int     // of places, 3 to 6; 0 means 4 in mm and 5 in inches
	Repeat      bool    // write every word in every block, for machines that forget
	Chord       float64 // if > 0: no arcs, but lines that leave them by this much at most, in mm
	Flat        bool    // no helices: lines in their place, as close as an arc's own rule is
	Exact       bool    // state the exact path mode, G61
	Percent     bool    // enclose the program in lines of a percent sign alone (NISTIR 6556, 3.2)
	Numbers     bool    // begin each block with its line in the file as its N word, modulo 100,000
	Bare        bool    // leave comments out
	DwellMillis bool    // P of G4 in milliseconds, where a machine wants it so
	Rewind      bool    // end with M30, not M2
}

const (
	minDecimals     = 3
	maxDecimals     = 6
	decimalsMM      = 4
	decimalsInch    = 5
	decimalsSpeed   = 3 // of S
	decimalsSeconds = 3 // of P, so that a second and a millisecond are as fine

	// numberLimit is one more than the greatest N word (NISTIR 6556, 3.3.1: 0 to
	// 99999, which may be repeated).
	numberLimit = 100_000

	// roundOff is how far, in steps, rounding both axes can move a point.
	roundOff = math.Sqrt2 / 2

	// joinGap is how far, in mm, from the bit's place a path may begin: twice
	// what the coarsest decimals of an inch can be out by, and far under what
	// shows in wood. More is a mistake in the caller.
	joinGap = 0.01
)

// Errors that a Writer's Close returns, wrapped with what was asked for.
var (
	ErrOrder   = errors.New("blocks in an order that makes no safe program")
	ErrValue   = errors.New("a value that can't be written")
	ErrUnknown = errors.New("a place that isn't known")
)

// A Writer writes one program, block by block. It keeps the first error, writes
// nothing after it, and returns it from Close.
//
// Places are rounded to the program's decimals, and the Writer goes on from the
// rounded place, so rounding never adds up.
type Writer struct {
	w        *bufio.Writer
	o        Options
	err      error
	grid     grid
	at       [3]int64 // in steps of the grid
	known    Axes
	motion   int   // the motion word in force; none after Preamble
	feed     int64 // in steps of the grid a minute; 0 for none
	origin   Origin
	spindle  Spindle
	speed    int64
	begun    bool
	ended    bool
	unstated bool // moves were printed whose origin isn't stated
	lines    int  // written
	block    []byte
}

// NewWriter returns a Writer to w. Options that make no sense are an error of
// Close.
func NewWriter(w io.Writer, o Options) *Writer {
	if o.Units == UnitsUnstated {
		o.Units = Millimetres
	}
	if o.Decimals == 0 {
		o.Decimals = decimalsMM
		if o.Units == Inches {
			o.Decimals = decimalsInch
		}
	}
	out := &Writer{w: bufio.NewWriter(w), o: o}
	switch {
	case o.Units > Inches:
		out.fail(ErrValue, "%v as units", o.Units)
	case o.Decimals < minDecimals || o.Decimals > maxDecimals:
		out.fail(ErrValue, "%d decimals: write %d to %d", o.Decimals, minDecimals, maxDecimals)
	case o.Chord < 0 || o.Chord > 0 && o.Chord < 2*roundOff*newGrid(o).step, math.IsNaN(o.Chord):
		out.fail(ErrValue, "a chord error of %v mm: at least 1.5 steps of the last decimal are needed", o.Chord)
	default:
		out.grid = newGrid(o)
	}
	return out
}

func (w *Writer) fail(kind error, format string, args ...any) {
	if w.err == nil {
		w.err = fmt.Errorf("program: %w: %s", kind, fmt.Sprintf(format, args...))
	}
}

// Close writes out what is held back and returns the first error. It doesn't
// close the file. A program without End is an error.
func (w *Writer) Close() error {
	if !w.ended {
		w.fail(ErrOrder, "no End")
	}
	if err := w.w.Flush(); w.err == nil && err != nil {
		w.err = fmt.Errorf("writing the program: %w", err)
	}
	return w.err
}

// put writes w.block as a block of its own and empties it.
func (w *Writer) put() {
	text := string(w.block)
	if w.o.Numbers {
		text = fmt.Sprintf("N%d %s", w.next()%numberLimit, text)
	}
	w.line(text)
	w.block = w.block[:0]
}

// next is the line in the file that the next block or comment stands on, from 1.
func (w *Writer) next() int {
	if w.lines == 0 && w.o.Percent {
		return 2
	}
	return w.lines + 1
}

// line writes a line, behind the first percent sign.
func (w *Writer) line(text string) {
	if w.ended {
		w.fail(ErrOrder, "a block behind End")
	}
	if w.lines == 0 && w.o.Percent {
		text = "%\n" + text
	}
	if w.err != nil {
		return
	}
	w.lines = w.next()
	if _, err := w.w.WriteString(text + "\n"); err != nil {
		w.err = fmt.Errorf("writing the program: %w", err)
	}
}

func (w *Writer) puts(text string) {
	w.block = append(w.block[:0], text...)
	w.put()
}

// Comment writes text as comments, one or more lines of them. Characters that a
// comment may not hold, or that some controllers act on wherever they stand,
// become hyphens.
func (w *Writer) Comment(text string) {
	if w.o.Bare || w.err != nil {
		return
	}
	for _, line := range commentLines(text) {
		w.line("(" + line + ")")
	}
}

// Preamble states all modes: how numbers are meant (units, plane, absolute
// places, feed a minute), and what holds of what an earlier program may have left:
// no compensation for the cutter's width and length, no motion or cycle, the
// origin, and the path mode where the options have one. In each line stands one
// word of a modal group at most (NISTIR 6556, table 4). It forgets what is in
// force, so that the next blocks stand for themselves. It must come before any
// motion; each later one is a place where the program can be started again.
func (w *Writer) Preamble() {
	units := "G21"
	if w.o.Units == Inches {
		units = "G20"
	}
	path := ""
	if w.o.Exact {
		path = " G61"
	}
	w.puts(units + " G17 G90 G94")
	w.puts("G40 G49 G80 G54" + path)
	w.begun = true
	w.known, w.motion, w.feed = 0, g80, 0
	w.origin, w.spindle, w.speed = OriginG54, SpindleOff, 0
}

// SetOrigin selects another coordinate system, if it isn't in force; the place
// is unknown after it.
func (w *Writer) SetOrigin(o Origin) {
	switch {
	case o == w.origin:
	case o == OriginUnknown, o > OriginG593:
		w.fail(ErrValue, "%v", o)
	default:
		w.puts(o.String())
		w.origin, w.known = o, 0
	}
}

// SpindleOn starts the spindle at rpm and waits for it to come to
// speed for some seconds.
func (w *Writer) SpindleOn(way Spindle, rpm, seconds float64) {
	word := "M3"
	switch way {
	case SpindleOff:
		w.SpindleOff()
		return
	case Clockwise:
	case CounterClockwise:
		word = "M4"
	}
	speed, ok := steps(rpm, decimalsSpeed)
	if !ok || speed < 0 {
		w.fail(ErrValue, "a speed of %v", rpm)
		return
	}
	w.block = append(w.block[:0], 'S')
	w.block = appendSteps(w.block, speed, decimalsSpeed, 0)
	w.block = append(w.block, ' ')
	w.block = append(w.block, word...)
	w.put()
	w.spindle, w.speed = way, speed
	w.Dwell(seconds)
}

// SpindleOff stops the spindle.
func (w *Writer) SpindleOff() {
	w.puts("M5")
	w.spindle = SpindleOff
}

// Dwell waits for some seconds; less than half a millisecond is no wait.
func (w *Writer) Dwell(seconds float64) {
	millis, ok := steps(seconds, decimalsSeconds)
	switch {
	case !ok || millis < 0:
		w.fail(ErrValue, "a dwell of %v s", seconds)
		return
	case millis == 0:
		return
	}
	w.block = append(w.block[:0], "G4 P"...)
	if w.o.DwellMillis {
		w.block = appendSteps(w.block, millis, 0, 0)
	} else {
		w.block = appendSteps(w.block, millis, decimalsSeconds, 1)
	}
	w.put()
	w.motion = g80 // nobody should have to know that a motion word outlasts G4
}

// Stop waits for the operator, with M0.
func (w *Writer) Stop() { w.puts("M0") }

// OptionalStop waits if the machine's switch says so, with M1.
func (w *Writer) OptionalStop() { w.puts("M1") }

// End stops the spindle if it runs and ends the program.
func (w *Writer) End() {
	if w.spindle != SpindleOff {
		w.SpindleOff()
	}
	if w.o.Rewind {
		w.puts("M30")
	} else {
		w.puts("M2")
	}
	if w.o.Percent {
		w.line("%")
	}
	w.ended = true
}

// Place is where the bit is, as a reader of the program will have it.
func (w *Writer) Place() Place {
	p := Place{}
	for i := range w.at {
		if w.known&(1<<i) != 0 {
			p.set(i, w.grid.mm(w.at[i]))
		}
	}
	return p
}

// Rapid moves the axes that to knows, straight and at the greatest speed. Axes
// that are there already are not written; a move of none is left out.
func (w *Writer) Rapid(to Place) { w.straight(g0, to, 0) }

// Line moves the axes that to knows, straight and at feed mm/min.
func (w *Writer) Line(to Place, feed float64) {
	if steps, ok := w.feedSteps(feed); ok {
		w.straight(g1, to, steps)
	}
}

// Cut follows a line or an arc in the plane from where the bit is, and brings it
// to height z on the way.
func (w *Writer) Cut(e geom.Edge, z, feed float64) {
	if !w.joins(e.A) {
		return
	}
	if e.IsLine() {
		w.Line(XYZ(e.B, z), feed)
		return
	}
	w.Arc(XYZ(e.B, z), e.Center(), e.Sweep(), feed)
}

// joins reports whether the bit is at p, and fails if not.
func (w *Writer) joins(p geom.Point) bool {
	at := w.Place()
	switch {
	case w.err != nil:
	case !at.Has(AxesXY):
		w.fail(ErrUnknown, "a path from it: write a Rapid first")
	case !(at.Point().Dist(p) <= joinGap+w.grid.step):
		w.fail(ErrValue, "a path from %v with the bit at %v", p, at.Point())
	default:
		return true
	}
	return false
}

func (w *Writer) feedSteps(feed float64) (int64, bool) {
	n, ok := w.grid.steps(feed)
	if !ok || n <= 0 {
		w.fail(ErrValue, "a feed of %v mm/min", feed)
		return 0, false
	}
	return n, true
}

// round is to on the grid.
func (w *Writer) round(to Place) (p [3]int64, ok bool) {
	for i := range p {
		if !to.Has(1 << i) {
			continue
		}
		if p[i], ok = w.grid.steps(to.coord(i)); !ok {
			w.fail(ErrValue, "a place of %v mm", to.coord(i))
			return p, false
		}
	}
	return p, true
}

func (w *Writer) straight(motion int, to Place, feed int64) {
	p, ok := w.round(to)
	if !ok || !w.ready() {
		return
	}
	var moved Axes
	for i := range p {
		if axis := Axes(1) << i; to.Has(axis) && (w.known&axis == 0 || p[i] != w.at[i]) {
			moved |= axis
		}
	}
	if moved == 0 {
		return
	}
	if w.o.Repeat {
		moved = to.Known
	}
	w.begin(motion)
	w.axes(moved, p)
	w.finish(feed)
}

func (w *Writer) ready() bool {
	if !w.begun {
		w.fail(ErrOrder, "motion before Preamble")
	}
	return w.err == nil
}

// begin starts a block with its motion word, where that isn't in force.
func (w *Writer) begin(motion int) {
	w.block = w.block[:0]
	if w.o.Repeat || w.motion != motion {
		w.block = append(w.block, 'G', '0'+byte(motion/10))
	}
	w.motion = motion
}

// axes writes the words of a set of axes and takes their places over.
func (w *Writer) axes(set Axes, p [3]int64) {
	for i, c := range [3]byte{'X', 'Y', 'Z'} {
		if set&(1<<i) != 0 {
			w.word(c, p[i])
			w.at[i] = p[i]
		}
	}
	w.known |= set
}

func (w *Writer) word(letter byte, n int64) {
	if len(w.block) > 0 {
		w.block = append(w.block, ' ')
	}
	w.block = append(w.block, letter)
	w.block = appendSteps(w.block, n, w.o.Decimals, 1)
}

// finish writes the feed, where there is one and it changes, and the block.
func (w *Writer) finish(feed int64) {
	if feed > 0 && (w.o.Repeat || feed != w.feed) {
		w.word('F', feed)
		w.feed = feed
	}
	w.put()
}

// A grid is the numbers that a program's decimals can express.
type grid struct {
	unit  float64 // mm
	scale float64 // steps in a unit
	step  float64 // mm
}

func newGrid(o Options) grid {
	scale := math.Pow10(o.Decimals)
	return grid{unit: o.Units.mm(), scale: scale, step: o.Units.mm() / scale}
}

// steps is mm as whole steps, the nearest; ok is false for what isn't a number
// or is more than a reader takes.
func (g grid) steps(mm float64) (n int64, ok bool) {
	units := mm / g.unit
	if !(math.Abs(units) < maxNumber/2) {
		return 0, false
	}
	return int64(math.Round(units * g.scale)), true
}

// mm is a number of steps as a reader of the program has it.
func (g grid) mm(n int64) float64 { return float64(n) / g.scale * g.unit }
