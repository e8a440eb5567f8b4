package toolpath

import (
	"math"

	"strapwork/pkg/geom"
)

// A tracer writes down the bit's way.
type tracer struct {
	at     geom.Point
	z      float64
	passes []Pass
}

// begin begins a pass.
func (t *tracer) begin(depth float64, role Role) {
	t.passes = append(t.passes, Pass{Depth: depth, Role: role})
}

// move adds one move.
func (t *tracer) move(e geom.Edge, z float64, role Role) {
	p := &t.passes[len(t.passes)-1]
	p.Moves = append(p.Moves, Move{e, z, role})
	t.at, t.z = e.B, z
}

// follow runs along an open contour, going evenly down or up to z. The contour
// begins where the bit is, to rounding.
func (t *tracer) follow(c geom.Contour, z float64, role Role) {
	from, length, gone := t.z, c.Length(), 0.0
	n := c.Len()
	for i := range n {
		e := c.Edge(i)
		gone += e.Length()
		e.A = t.at // what differs is rounding
		if i == n-1 {
			t.move(e, z, role)
			return
		}
		t.move(e, from+(z-from)*gone/length, role)
	}
}

// across goes along a route from one lane to another, at the same height.
func (t *tracer) across(route []geom.Edge) {
	for _, e := range route {
		if t.at.Near(e.B, geom.Coincident) {
			continue
		}
		e.A = t.at
		t.move(e, t.z, Across)
	}
}

// shortestRamp is the length in mm of a way on which zigzagging down makes no
// sense: the bit would hardly leave its place.
const shortestRamp = 1.0

// zigzag goes down to z, forth and back on a way's first stretch, and ends at
// its start: the way itself, run after it, leaves no slope behind. Nothing is
// done if the bit is that low.
func (t *tracer) zigzag(way geom.Contour, z, ramp float64) {
	drop := t.z - z
	if drop <= 0 {
		return
	}
	length := way.Length()
	if ramp == 0 || length < shortestRamp {
		t.plunge(z)
		return
	}
	need := drop / math.Tan(ramp)
	n := math.Ceil(need / (2 * length))
	out := way.Sub(0, need/(2*n))
	home := out.Reverse()
	top := t.z
	for i := range int(n) {
		t.follow(out, top-drop*(2*float64(i)+1)/(2*n), Ramp)
		t.follow(home, top-drop*(2*float64(i)+2)/(2*n), Ramp)
	}
	t.passes[len(t.passes)-1].last().Z = z // exactly
	t.z = z
}

// last is the pass's last move.
func (p Pass) last() *Move { return &p.Moves[len(p.Moves)-1] }

// plunge goes straight down to z.
func (t *tracer) plunge(z float64) {
	if t.z > z {
		t.move(geom.Line(t.at, t.at), z, Plunge)
	}
}

// run is what was written down.
func (t *tracer) run(c course) Run {
	return Run{Strand: c.strand, Name: c.name, Start: t.passes[0].Moves[0].Edge.A, Passes: t.passes}
}
