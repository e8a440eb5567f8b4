// Package program writes the words of a program: a plan of the bit's way, made
// by package toolpath, becomes a text that a machine runs, by way of package
// ngc. It decides nothing about where the bit goes.
//
// Every program goes up before it goes anywhere, crosses the work at the safe
// height only, and enters the wood no faster than the plunge feed. It begins
// anew at every strand: units, plane, spindle and safe height are stated again
// there, so that an operator can start from any of them.
//
// Lengths are mm, feeds mm/min, speeds rpm, times seconds.
// Plans are in the motif's coordinates, programs are shifted from them.
package program

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
	"strapwork/pkg/toolpath"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Errors that the writing functions return, wrapped with what was wrong.
var (
	ErrSetting = errors.New("parameters that make no program")
	ErrNothing = errors.New("nothing to cut")
)

// Clearance in mm is how far above the work's top a rapid ends on its way down:
// more than a board is uneven by, and little to go at the plunge feed.
const Clearance = 1.0

// A Params is what a program needs to know besides the plan. Texts go to its
// head only and may be empty.
type Params struct {
	Title    string // of the work
	Job      string // the job file's name
	Revision string
	Part     string // what part of the whole this program cuts, in words: "strand bar.1 alone"
	Zero     string // where x0 y0 is, in words: "the motif's origin"

	Shift  work.Shift // from the motif's coordinates
	Feed   float64    // greatest, along the path
	Plunge float64    // greatest straight down, and of the vertical part of a ramp
	Speed  float64    // of the spindle
	SpinUp float64    // wait for the spindle, more than 0
	Again  float64    // wait where the spindle turns already, at most SpinUp
	Safe   float64    // height above the work for moving across

	Board *work.Board // in the motif's coordinates; nil where unknown
	Park  *geom.Point // where the program ends, in its own coordinates; nil: where it last cut
	Time  float64     // that the program takes; 0: unknown. The lines are as many in either case
	NGC   ngc.Options
}

// finish stops the spindle, goes where programs end and ends this one. The bit is
// at the safe height.
func (p *writer) finish() error {
	p.SpindleOff()
	if p.s.Park != nil {
		p.Comment("to where the machine rests")
		p.Rapid(ngc.XY(*p.s.Park))
	}
	p.End()
	return p.Close()
}

// A Section is the part of a program that cuts one pass. Moves to the place
// where a strand begins, and away from where it ends, are in no section.
type Section struct {
	Start      int // line from which the strand can be started: its comment, or its units where comments are left out
	Line, Last int // of the program, from 1, both included
	Strand     int // as in toolpath.Run
	Name       string
	Depth      float64 // positive
	Role       toolpath.Role
}

// check reports parameters that no program can be written with.
func (s Params) check() error {
	for _, v := range []struct {
		what string
		is   float64
	}{{"feed", s.Feed}, {"plunge feed", s.Plunge}, {"spindle speed", s.Speed}, {"wait for the spindle", s.SpinUp}, {"safe height", s.Safe}} {
		if !(v.is > 0) || math.IsInf(v.is, 0) {
			return fmt.Errorf("program: %w: a %s of %v", ErrSetting, v.what, v.is)
		}
	}
	if !(s.Again >= 0 && s.Again <= s.SpinUp) {
		return fmt.Errorf("program: %w: a wait of %v s at later strands", ErrSetting, s.Again)
	}
	if s.Park != nil && !s.Park.Finite() {
		return fmt.Errorf("program: %w: an end at %v", ErrSetting, *s.Park)
	}
	if !geom.Point(s.Shift).Finite() {
		return fmt.Errorf("program: %w: a shift of %v", ErrSetting, s.Shift)
	}
	return nil
}

// Units are those of the program's lengths, for its comments.
func (s Params) Units() unit.System {
	if s.NGC.Units == ngc.Inches {
		return unit.Inch
	}
	return unit.MM
}

// A writer writes one program and knows on which line it is.
type writer struct {
	*ngc.Writer
	s     Params
	out   *bufio.Writer
	lines counter
	grid  grid
}

// newWriter checks s and starts a program; nothing is written yet.
func newWriter(w io.Writer, s Params) (*writer, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	p := &writer{s: s, lines: counter{w: w}, grid: newGrid(s.NGC)}
	for _, feed := range []float64{s.Feed, s.Plunge} {
		if !(p.grid.floor(feed) > 0) {
			return nil, unit.Errorf("program: %v: a feed of %s", ErrSetting, unit.Rate(feed))
		}
	}
	// ngc.NewWriter writes to a bufio.Writer as it is and puts no second one
	// before it (see bufio.NewWriter), so flushing this one brings the count up
	// to date.
	p.out = bufio.NewWriter(&p.lines)
	p.Writer = ngc.NewWriter(p.out, s.NGC)
	return p, nil
}

// line is how many lines are written. An error is kept by out, and reported by
// Close.
func (p *writer) line() int {
	_ = p.out.Flush()
	return p.lines.n
}

// counter counts the lines that pass it.
type counter struct {
	w io.Writer
	n int
}

func (c *counter) Write(b []byte) (int, error) {
	n, err := c.w.Write(b)
	c.n += bytes.Count(b[:n], []byte{'\n'})
	return n, err
}
