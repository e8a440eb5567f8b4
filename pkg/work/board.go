package work

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
)

// Board is the work.
type Board struct {
	Size      geom.Point // width and height
	Thickness float64
	Grain     float64    // radians from +x
	Origin    geom.Point // where the motif's origin lies, from the board's lower left corner
}

// Clamping is how the board is held.
type Clamping struct {
	Clearance float64 // kept between the bit and clamps
	Clamps    []Clamp
}

// A Clamp is a box that stands on the top of the work.
type Clamp struct {
	Box    geom.Box // in the motif's coordinates
	Height float64  // up from the top of the work
	Key    diag.Key
}
