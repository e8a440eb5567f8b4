// Package dryrun reads a program file back and judges what it would do to the
// board: what the bit cuts beyond the groove, what it leaves, how deep, where
// it would hit a clamp or the machine's end, and how long it all takes.
//
// It judges the saved words and never a plan: what it knows of the groove is its
// strands' walls (see package walls) and a depth. It works on the program's own lines and arcs, not on a grid
// of points.
//
// Places are the program's coordinates: mm, x and y from the program's zero, z
// from the top of the work and negative into it. Feeds are mm/min, times
// seconds, speeds rpm.
package dryrun

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/ngc"
	"strapwork/pkg/unit"
	"strapwork/pkg/walls"
	"strapwork/pkg/work"
)

// Work is what a program is judged against, in the program's coordinates. What
// is 0 is not known, where nothing else is said.
type Work struct {
	Groove    walls.Groove  // what may be cut
	Done      region.Region // what is cut to depth already, before this program
	Depth     float64       // of the groove, positive
	Partial   bool          // the program need not cut the whole groove: what it leaves isn't looked at
	Bit       Bit
	Body      work.Body
	Thickness float64      // of the board
	Clamps    []work.Clamp // in the program's coordinates
	Clearance float64      // kept between the bit and the clamps
	Safe      float64      // clearance height
	Feed      float64      // the job's own, across, mm/min
	Speed     float64      // the job's own, rpm
	Step      float64      // the job's own: how much depth may be taken at once
	Machine   Machine
	OtherZero OtherZero
	Section   *Section // nil where the work doesn't come apart
}

// OtherZero is the zero that the job might have had in place of its own.
type OtherZero struct {
	Word string     // that the job has for it; empty: there is none
	By   geom.Point // from where the groove lies to where it would lie with that zero
}

// Bit is the cutter, in mm; what is 0 is not known.
type Bit struct {
	Slot          float64 // width of the slot that it cuts; must be known
	Flute         float64 // length of its cutting edges
	ShankDiameter float64 // diameter of the shank above them
	Chip          float64 // how far it may be fed in a turn at most, all its flutes together
}

// Machine is what a machine can do; what is 0 is not known. Pairs are across
// (for x and y each) and vertical.
type Machine struct {
	Travel  [3][2]float64 // mm: from where to where its own coordinates reach in x, y and z
	At      [3]float64    // where the program's zero is in them, if AtKnown
	AtKnown bool
	Feed    [2]float64 // greatest feeds, mm/min
	Rapid   [2]float64 // speeds of a rapid, mm/min
	Plunge  float64    // greatest feed straight down; 0 means Feed[1]
	Spindle [2]float64 // least and greatest, rpm
	SpinUp  float64    // seconds that the spindle takes to come to speed
	NoPath  bool       // it has no path modes, and goes through every place
	Accel   [2]float64 // mm/s2; 0 means that speeds are there at once
	Brake   [2]float64 // mm/s2; 0 means Accel
}

// Step is one move of the program, in order.
type Step struct {
	Move    ngc.Move
	Seconds float64 // that it takes
	Fault   bool    // a fault is reported of this move, or is one of the n more that a finding counts
}

// Totals are the numbers of a dry run.
type Totals struct {
	Seconds  float64 // the whole program, without the operator's stops
	Cutting  float64 // of it, feed moves other than Plunging
	Plunging float64 // of it, feed moves straight down
	Rapids   float64 // of it, rapids
	Dwells   float64 // of it, waiting

	Length      float64  // mm travelled at a feed
	RapidLength float64  // mm travelled in rapids, as far as they are known
	Extents     geom.Box // of the tip's path; empty if nothing is known
	Cut         geom.Box // of the tip's path below the top of the work
	Lowest      float64  // of the tip, 0 if no height is known
	Highest     float64

	LeftArea   float64 // mm2: wood that is left in the groove
	MissedArea float64 // of LeftArea, all but what is for the chisel
}

// Report is what a dry run found.
type Report struct {
	Findings  diag.Findings // errors are faults; At is in the program's coordinates
	Blocks    int           // lines of the program that did something
	Partial   bool          // what is left was not looked at
	Units     unit.System   // that the program speaks, and its findings
	HasUnits  bool          // whether it says so
	Broken    bool          // not all lines could be read
	Clamps    int           // how many clamps it was held against
	Unseen    bool          // not all of the spindle's body above the bit, which may meet one of them, is known
	Section   string        // that the program was held against; empty where the work doesn't come apart
	SectionBy string        // how whoever judged it knew, in words; may be empty
	RunOns    []RunOn       // past its edges, edge after edge; none of a partial program

	Totals

	Gouges   []Deviation // where the bit cuts beyond the groove
	Left     []Deviation // where it leaves wood at full depth: what it could have cut, largest first, what lacks room for the bit, then what is for the chisel
	GougeMax Deviation   // the one of the greatest Amount; its Line is 0 if there is none
	LeftMax  Deviation   // of what the bit could have reached, failing that of what is for the chisel
}

// OK reports whether the program may be cut: no finding is an error.
func (r Report) OK() bool { return !r.Findings.HasErrors() }

// Deviation is a place where the program cuts too much or too little.
type Deviation struct {
	At      geom.Point     // where the Amount is
	Amount  float64        // mm: how far the bit goes beyond the groove, or how far wood that is left is from where the bit goes
	Thick   float64        // mm: diameter of the largest disc within what is left
	Depth   float64        // of the tip in a gouge; of what is left and reported, to what depth it is cut all over
	Area    float64        // mm2
	Line    int            // of the program, the first that does it; 0 for wood that is left
	Moves   int            // that do it
	Loops   []geom.Contour // the outline
	AtLeast bool           // not all that does it was measured: the Amount and the Area of a gouge, the Depth of what is left, are at least these
	Chisel  bool           // no bit of this size reaches it: not a fault
}
