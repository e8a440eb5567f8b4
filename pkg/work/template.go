package work

import "strapwork/pkg/unit"

// Prefer says which count a panel plan makes smallest first.
type Prefer int

const (
	// PreferClean puts the fewest visible splits first.
	PreferClean Prefer = iota
	// PreferSetups puts the fewest set-ups first.
	PreferSetups
	// PreferPanels puts the fewest panels first.
	PreferPanels
)

var preferWords = [...]string{
	PreferClean:  "clean",
	PreferSetups: "setups",
	PreferPanels: "panels",
}

// String is the preference's word in the job file.
func (p Prefer) String() string { return unit.Word(preferWords[:], p, "prefer") }

// Template says how the panels are made.
type Template struct {
	Web    float64 // least wood between openings
	Margin float64 // from the outermost opening to the edge
	Wall   float64 // sheet thickness of the wall layer
	Floor  float64 // and of the floor layer; 0: none, and always 0 unless the base rides
	Turn   bool    // panels may be turned in the frame
	Flip   bool    // and turned over
	Prefer Prefer
	Step   int     // repeats of the pattern that a panel holds and is shifted by; 0: none, Stepped: where it is too long for the shop's bed
	Frame  float64 // width of the locating frame's sides; 0 for none
	Play   float64 // frame opening larger than the panel, per side
}

// Stepped is a Template's Step where the job leaves it to the program.
const Stepped = -1

// KerfBy says who allows for the width of the burnt line.
type KerfBy int

const (
	// KerfByUnknown is never the outcome of a job that was read without errors.
	KerfByUnknown KerfBy = iota
	// KerfByMe draws the outlines compensated.
	KerfByMe
	// KerfByShop draws them at true size.
	KerfByShop
)

var kerfByWords = [...]string{
	KerfByUnknown: "unknown",
	KerfByMe:      "me",
	KerfByShop:    "shop",
}

// String is the word in the job file: me or shop.
func (k KerfBy) String() string { return unit.Word(kerfByWords[:], k, "kerfby") }
