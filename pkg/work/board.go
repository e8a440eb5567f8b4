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

// Stock is what strips are got from, and how.
type Stock struct {
	Boards  []StockBoard
	Kerf    float64 // of the saw that rips boards and cuts strips to length
	Sanding float64 // taken off each sawn face
	Spares  float64 // share of pieces that are cut twice
	Match   bool    // all pieces of a run come from one board
}

// A StockBoard is one kind of board, sheet or veneer that strips are got from, of equal ones.
type StockBoard struct {
	Material  string
	Length    float64 // along the strips, and so along the grain
	Width     float64
	Thickness float64
	Price     float64  // of one; 0 where none is given
	Count     int      // how many there are; 0: as many as are wanted
	Key       diag.Key // of the table that describes it
}
