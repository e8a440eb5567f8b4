package work

import "strapwork/pkg/unit"

// Sawn says how a board was cut from its log, and so which way its rings lie.
type Sawn int

const (
	// SawnFlat has the rings along the board's face: across its width it moves as wood does
	// along the rings, tangentially.
	SawnFlat Sawn = iota
	// SawnQuarter has them upright: across its width it moves radially, which is less.
	SawnQuarter
)

var sawnWords = [...]string{
	SawnFlat:    "flat",
	SawnQuarter: "quarter",
}

// String is the word in the job file.
func (s Sawn) String() string { return unit.Word(sawnWords[:], s, "sawn") }

// Seasons is what the board's wood goes through once it is inlaid.
type Seasons struct {
	Change     [2]float64 // per cent of moisture, when inlaid and expected; or of humidity
	ByHumidity bool       // Change is the room's relative humidity
	Sawn       Sawn
	// Coefficients of one's own: the change of a width, as a part of it, for 1 per cent of
	// moisture; 0 where the job gives none.
	Radial, Tangential float64
	Source             string // of these
}
