// Package trace turns a drawing into what a groove can follow: lines and arcs that are
// tangent where the drawing is smooth.
//
// What is drawn exactly stays exact; curves that are drawn several times become one; the
// rest is fitted with the fewest arcs and lines within the tolerance. Edges of bands give
// the bands' middles. Over and under are taken from the drawing where it shows them.
// Whatever was changed, the result is held against the curves as they were drawn, both
// ways.
//
// Lengths are mm on the work, angles radians, counter-clockwise positive.
package trace

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Tolerance is how far in mm the trace may lie from the drawing where nothing else is
// asked: a fifth of the clearance that strips are commonly given.
const Tolerance = 0.02

// Params say what is traced, and how large.
type Params = work.Tracing

// Default is what is asked where nothing is said.
func Default() Params {
	return Params{Tolerance: Tolerance, Snap: true, Weave: true, Words: work.TraceWords{Name: "band"}}
}

// Traced is what was made of a drawing.
type Traced struct {
	Elements []Element
	Over     []work.Over    // what the drawing shows of over and under
	First    bool           // the first crossing of the first strand of each connected piece is over, and
	Flips    []geom.Point   // these are exchanged: what a job's [weave] says of Over
	Copies   int            // Elements and their turns by 360/Copies degrees about Center are all; 1: Elements are
	Center   geom.Point     // where the middle of the drawing lies
	Drawn    [][]geom.Point // the drawing's curves where they lie on the work, their chords within a tenth of the tolerance
	Seen     [][]geom.Point // of edges of bands: their middles, where the edges show them
	Report   Report
}

// An Element is one chain of lines and arcs.
type Element struct {
	Name    string
	Contour geom.Contour // rounded to millionths of a mm
	Off     float64      // how far it lies from the drawing at most
	At      geom.Point   // and where
	Exact   bool         // it lies on the drawing as near as can be measured
}

// Trace makes lines and arcs of a drawing. With an error among the findings nothing is
// traced.
func Trace(d drawing.Drawing, p Params) (Traced, diag.Findings) {
	t := &tracer{p: p}
	curves := t.pick(d)
	if t.found.HasErrors() {
		return Traced{}, t.found
	}
	place, ok := t.place(d, curves)
	if !ok {
		return Traced{}, t.found
	}
	t.draw(curves, place)
	if t.found.HasErrors() {
		return Traced{}, t.found
	}
	lay := t.tracks
	if p.Edges {
		lay = t.middles
	}
	tracks := lay()
	if t.found.HasErrors() {
		return Traced{}, t.found
	}
	return t.finish(tracks), t.found
}

// A tracer is a trace in the making.
type tracer struct {
	p       Params
	found   diag.Findings
	strokes []stroke        // of the drawing, on the work
	again   []stroke        // those that lie on another of strokes
	seen    [][]geom.Point  // middles of bands, where their edges show them
	lay     geom.Similarity // from where things were traced to where they lie
	tight   []geom.Point    // corners that have no room for a fillet
	coarse  []coarse        // rows of lines that stay lines
	radii   []float64       // that were taken, for what is fitted later
	gaps    []gap           // that were closed
	rep     Report
}

// key is the key of a parameter.
func (t *tracer) key(name string) diag.Key {
	if t.p.Words.Key == "" {
		return ""
	}
	return t.p.Words.Key + "." + diag.Key(name)
}

// write is how a parameter is given: `width = 300`, or `--width 300`.
func (t *tracer) write(name string, value string) string {
	if !t.p.Words.Flags {
		return name + " = " + value
	}
	if value == "true" {
		return "--" + name
	}
	return "--" + name + " " + value
}

// fault is an error about a parameter.
func (t *tracer) fault(name, rule, format string, args ...any) *diag.Finding {
	f := t.found.Errorf(t.key(name), rule, format, args...)
	if t.p.Words.Key == "" {
		f.Pos = diag.Position{File: t.p.Words.File}
	}
	return f
}

// warn is a warning about the drawing as a whole.
func (t *tracer) warn(rule, format string, args ...any) *diag.Finding {
	f := t.found.Warnf(t.p.Words.Key, rule, format, args...)
	if t.p.Words.Key == "" {
		f.Pos = diag.Position{File: t.p.Words.File}
	}
	return f
}

// at is a place on the work in a message.
func at(p geom.Point) unit.Place { return unit.Place{X: p.X, Y: p.Y} }
