// Package toolpath plans how a machine grooves the board itself: along which
// curves the bit's centre goes, at which height, strand after strand. It knows
// nothing of a program's words.
//
// Lengths are mm and angles radians, in the motif's coordinates. Heights are
// counted from the top of the work: z is 0 there and negative in the wood.
package toolpath

import (
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// Params are how the groove is cut.
type Params struct {
	Depth float64 // of the groove, mm, positive
	Climb bool    // wall on the right of travel; else on the left, conventional for a clockwise spindle
	Rough float64 // what a roughing pass leaves a side for finishing passes, mm; 0: no such slot
	Ramp  float64 // steepest descent along the path, radians; 0: straight down
	Step  float64 // deepest depth step, mm; 0: as groove.Depths
	Order Order
	// Widen recuts a finished groove this much wider overall, mm: both walls, and
	// what the bit reaches aside of them, at full depth, no roughing. Free ends
	// keep their place. 0: cut it anew.
	Widen float64
}

// An Order says in which order the strands are cut: first those named, in the
// order of their names, then all others by the rule.
type Order struct {
	Rule  OrderRule
	First []string // strands ("s3"), elements ("bar": all its copies) or copies ("bar.2")
}

// OrderRule says how strands are put in order that no name puts first.
type OrderRule int

const (
	// Short keeps the way between strands short: it is never longer than Drawn.
	Short OrderRule = iota
	// Drawn is the order of the motif's strands.
	Drawn
)

var orderRuleWords = [...]string{
	Short: "short",
	Drawn: "drawn",
}

// String is the rule's word in the job file.
func (r OrderRule) String() string { return unit.Word(orderRuleWords[:], r, "order") }

// A Role says what a move or a pass is for.
type Role int

const (
	// Plunge goes straight down; its edge has no length.
	Plunge Role = iota
	// Ramp goes down along the path.
	Ramp
	// Rough cuts the slot that leaves wood for finishing passes.
	Rough
	// Forward runs along the first wall, or along the centre line.
	Forward
	// Back runs along the other wall, or back along the centre line.
	Back
	// Between cuts what stands between the passes along the walls. In another
	// role's pass it leads aside to what only a neighbouring groove lets the bit
	// reach, and back.
	Between
	// Across goes from one pass's line to the next one's, at depth.
	Across
)

var roleWords = [...]string{
	Plunge:  "plunge",
	Ramp:    "ramp",
	Rough:   "rough",
	Forward: "forward",
	Back:    "back",
	Between: "between",
	Across:  "across",
}

// String is the role's word in listings.
func (r Role) String() string { return unit.Word(roleWords[:], r, "role") }

// A Move is one line or arc of the bit's centre, a helix where the height
// changes: evenly along its length.
type Move struct {
	Edge geom.Edge // A equals B for a plunge
	Z    float64   // height at its end, mm, at most 0
	Role Role
}

// A Pass is one way along a strand with what leads up to it. It begins where
// the pass before it ended, without lifting.
type Pass struct {
	Depth float64 // that it cuts to, mm, positive
	Role  Role    // of the way along the strand: Rough, Forward, Back or Between
	Moves []Move  // at least one
}

// A Run is all that is cut in one setting down: a whole strand, at all depths.
type Run struct {
	Strand int        // index into the motif's strands; -1 if it is none of them
	Name   string     // the element's with its copy ("bar.1") where the strand is one element, else the strand's ("s1")
	Start  geom.Point // where the bit is set down
	Z      float64    // height to which it may go down in the open before its first move: 0, or the floor that earlier depths left
	Passes []Pass
}

// End is where the bit is lifted.
func (r Run) End() geom.Point {
	for i := len(r.Passes) - 1; i >= 0; i-- {
		if n := len(r.Passes[i].Moves); n > 0 {
			return r.Passes[i].Moves[n-1].Edge.B
		}
	}
	return r.Start
}

// A Plan is the whole groove, run after run.
type Plan struct {
	Runs   []Run
	Depths []float64 // of the passes, mm, positive, the last one the groove's
	Bit    float64   // b, mm
	Width  float64   // of the groove that is cut, mm: with Widen the wider one
}

// Only returns the part of p that cuts one strand, given by its index in the
// motif; it has no runs if there is no such strand.
func (p Plan) Only(strand int) Plan {
	all := p.Runs
	p.Runs = nil
	for _, r := range all {
		if r.Strand == strand {
			p.Runs = append(p.Runs, r)
		}
	}
	return p
}

// AtDepth returns the part of p that cuts to its i-th depth, from 0. Its runs
// start on the floor that the depth before it left (Run.Z). It has no runs if
// there is no such depth.
func (p Plan) AtDepth(i int) Plan {
	all := p.Runs
	p.Runs = nil
	if i < 0 || i >= len(p.Depths) {
		return p
	}
	for _, r := range all {
		if part := r.atDepth(p.Depths[i]); len(part.Passes) > 0 {
			p.Runs = append(p.Runs, part)
		}
	}
	p.Depths = p.Depths[i : i+1]
	return p
}

// atDepth is the part of r that cuts to a depth.
func (r Run) atDepth(depth float64) Run {
	all := r.Passes
	r.Passes = nil
	for _, p := range all {
		switch {
		case p.Depth < depth:
			r.Z = -p.Depth
		case p.Depth == depth:
			r.Passes = append(r.Passes, p)
		}
	}
	if len(r.Passes) > 0 {
		r.Start = r.Passes[0].Moves[0].Edge.A
	}
	return r
}

// Rapids is the way across between the runs, in mm: from each one's end to the
// next one's start.
func (p Plan) Rapids() float64 {
	sum := 0.0
	for i := 1; i < len(p.Runs); i++ {
		sum += p.Runs[i-1].End().Dist(p.Runs[i].Start)
	}
	return sum
}
