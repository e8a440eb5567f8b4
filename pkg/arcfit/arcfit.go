// Package arcfit lays the fewest tangent arcs and lines along a curve, within a
// tolerance: free-knot arc splines. A chain of them is kept as its start, its heading
// and a curvature and a length for each piece, so that it is tangent by construction,
// a line is a curvature of 0, and a round or an equal radius is a number held or shared.
//
// The number of pieces begins at a lower bound (how many circles the points need that
// needn't meet, file circle.go); joints first lie where separate circles fit best
// (joints.go); then all numbers move at once, towards the least greatest deviation
// (solve.go). What comes out is measured both ways against what went in (measure.go).
//
// Per piece of length s, on a curve whose curvature changes by k' per length, the least
// greatest deviation is k' s^3 sqrt(3)/216 with tangency and free joints, k' s^3/192
// without tangency (Chebyshev's cubic), and k' s^3/40.5 for a pair of biarcs.
package arcfit

import (
	"errors"

	"strapwork/pkg/geom"
)

// A Section is a smooth stretch of a curve as points along it: places of a known curve
// so dense that chords lie well within the tolerance, or the vertices of a polyline as
// it was drawn.
type Section struct {
	Points []geom.Point
	Closed bool // the last point runs on to the first, smoothly
	// Leave and Arrive are the directions of travel that an open section must have at
	// its start and its end; zero where they are free.
	Leave, Arrive geom.Point
	// Loose lets the ends of an open chain lie beside the first and the last point, by
	// up to the tolerance, as it may anywhere; else it begins and ends exactly there.
	Loose bool
	// Between is, where the curve itself is known, its point at the fraction u of the way
	// from Points[i] to the next one, for the check; nil where the points are all there is.
	Between func(i int, u float64) geom.Point
}

// Params say how near a chain must come, and to what values its numbers may be pulled.
type Params struct {
	Tolerance float64 // greatest deviation in mm, either way, above 0
	Snap      Snap
}

// A Result says how far a chain is from its section.
type Result struct {
	Deviation float64    // the greatest distance, from the curve to the chain or back
	At        geom.Point // where, on the section or the chain
	Pieces    []float64  // the greatest deviation at each piece
	Least     int        // no chain with fewer pieces lies within the tolerance, tangent or not
	// Met is whether the tolerance could be kept. If not, the chain is the best found at the
	// least tolerance that would do, and Deviation is that.
	Met bool
}

// Errors of Fit: sections of which no chain can be made.
var (
	ErrTolerance = errors.New("tolerance must be more than 0")
	ErrFinite    = errors.New("a coordinate is not a number")
	ErrPoint     = errors.New("all points lie in one place")
	ErrNone      = errors.New("no chain of arcs follows the section at any tolerance tried")
	ErrFlat      = errors.New("a closed section encloses nothing")
)
