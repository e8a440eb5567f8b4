package dryrun

// What counts as the same, and what as a fault.

const (
	// written is how far a place in a file may be from where it was meant, in
	// mm: half a step of the third decimal in x and in y, 0.0005 times the root
	// of 2.
	written = 0.00071

	// surface is how far below the top of the work a tip must be to cut, in mm.
	// A height of nought is written as nought and comes out of increments within
	// 1e-9; a millionth of a millimetre marks no wood.
	surface = 1e-6

	// gougeOver is by how much the bit may go beyond the groove, in mm: a
	// hundredth, what makers work to. It has room for an arc's ends (0.002, the
	// rule of RS-274/NGC), for lines in the place of an arc (0.005) and for the
	// writer's rounding (0.0007).
	gougeOver = 0.01

	// deepOver is by how much a cut may be too deep or too shallow, in mm: two
	// hundredths, what a maker who touches a bit off on paper can see.
	deepOver = 0.02

	// leftOver is the thickness in mm up to which wood that is left is nothing:
	// a hundredth, for the reasons of gougeOver.
	leftOver = 0.01

	// fused is how far in mm a run of small moves may be from the one edge that
	// stands for it when cuts are added up: a fiftieth of leftOver, which it is
	// added to.
	fused = 2e-4

	// leastChip is the depth in mm of a corner that is worth a chisel: a tenth
	// of what makers work to.
	leastChip = 0.001

	// searched is how near in mm to the greatest distance a search by halving
	// comes, where it is not on an outline: half of what makers work to.
	searched = 0.005

	// paceOver is by what part a feed or a speed may be over its limit: machines
	// hold theirs to a percent or so (common practice), and the rounding of a
	// short ramp's ends tilts it by as much.
	paceOver = 0.01

	// mostBlend is how far in mm a machine may leave the path to keep its speed: half
	// of what makers work to. Up to it the bit is taken to be that much wider where
	// it must not cut, and that much narrower where it must.
	mostBlend = 0.005

	// blendStep is to what in mm it is rounded up: a tenth of mostBlend, far below
	// what matters, so that few widths of the bit are looked at.
	blendStep = 0.0005

	// justAbove is how far above the work in mm a rapid down may end: what clears a
	// board that isn't quite flat (common practice).
	justAbove = 2.0

	// slowPart is the part of the job's speed under which a bit rubs more than it
	// cuts at the job's feed.
	slowPart = 0.5

	// longWait in seconds is beyond any spindle's start: whoever writes more means
	// milliseconds, or a pause.
	longWait = 60

	// reportedMost is how many findings of one rule are reported; no one fixes more at a
	// time.
	reportedMost = 20

	// nearLines is how many lines of the program may lie between two moves that
	// share a fault and are reported as one.
	nearLines = 30
)
