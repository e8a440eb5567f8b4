package work

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
)

// Board is the work, in the coordinates whose origin lies at Origin: the motif's in a
// job, a program's where a Shift took it there.
type Board struct {
	Size      geom.Point // width and height
	Thickness float64
	Grain     float64    // radians from +x
	Origin    geom.Point // where the coordinates' origin lies, from the board's lower left corner
}

// Box is where the board lies.
func (b Board) Box() geom.Box {
	return geom.Box{Min: b.Origin.Scale(-1), Max: b.Size.Sub(b.Origin)}
}

// Clamping is how the board is held.
type Clamping struct {
	Clearance float64 // kept between the bit and clamps
	Clamps    []Clamp
}

// A Clamp is a box that stands on the top of the work.
type Clamp struct {
	Box    geom.Box // in the motif's coordinates, or where a Shift took it
	Height float64  // up from the top of the work
	Key    diag.Key // of the table that describes it; empty where there is no file
}
