package cutlist

import (
	"math"

	"strapwork/pkg/inlay"
)

// A Hand is the side on which the long point of a mitred end is, seen from the top and
// looking along the piece towards that end; it stays when the piece is turned end for end.
type Hand int

const (
	// Neither is of a square end.
	Neither Hand = iota
	// LongLeft has its long point on the left.
	LongLeft
	// LongRight has its long point on the right.
	LongRight
)

// A Mitre is how an end is cut, or the chord of one that is coped: in radians both as the
// angle between the strip and the cut, which gauges show that read 90 at square, and as the
// one between the cut and a square one, which those show that read 0.
type Mitre struct {
	FromStrip, FromSquare float64
	Hand                  Hand
}

// square is in radians how far an end may be from square and is cut so: what is printed as
// nothing to the tenth of a degree.
const square = 0.05 * math.Pi / 180

// MitreOf is an end's.
func MitreOf(e inlay.End) Mitre {
	m := Mitre{FromStrip: math.Min(e.Angle, math.Pi-e.Angle), FromSquare: math.Abs(math.Pi/2 - e.Angle)}
	switch {
	case m.FromSquare < square:
		m.FromStrip, m.FromSquare = math.Pi/2, 0
	case e.Angle < math.Pi/2:
		m.Hand = LongLeft
	default:
		m.Hand = LongRight
	}
	return m
}
