package groove

// Whether a rider can follow a stretch of a ring, decided from its measures.
//
// A set whose reach is more than d (all points nearer to it than that have one
// nearest point in it) stays in as many pieces with as many holes when it is grown
// by up to d, and is its own closing by a disc of radius d (Federer, "Curvature
// measures", Trans. Amer. Math. Soc. 93, 1959; recalled). C of a stretch of a ring
// from split to split lies between two circles and has flat ends. Its reach is the
// inner circle's radius, or, where it goes more than half round, half the way from
// end to end along the chord of that circle. Where the rider's radius is more than
// half that way the opening is closed to a ring, as long as it leaves something of
// the inner circle: then it has a hole. So it has when it is grown by half a web.
// Near the limits it is not decided.

import (
	"math"

	"strapwork/pkg/geom"
)

// clearly is how far in mm from the limits a stretch of a ring must be to be decided
// from its measures: far more than what can be drawn costs (drawableNose).
const clearly = 0.1

// An answer may be that it isn't known.
type answer int

const (
	unknown answer = iota
	no
	yes
)

// followsRing reports whether the rider can follow a cut that is a stretch of a ring.
// It looks at the cut's line, not at C.
func (g *Groove) followsRing(c Cut) answer {
	if c.From.shape() != StopSplit || c.To.shape() != StopSplit {
		return unknown
	}
	radius, sweep, ok := roundabout(c.Line)
	if !ok {
		return unknown
	}
	inner, r := radius-g.Size.Offset(), g.Size.RiderRadius
	whole, gap := sweep >= 2*math.Pi, 2.0 // from end to end, in radii
	if sweep > math.Pi {
		gap = 2 * math.Sin(max(0, math.Pi-sweep/2))
	}
	// H and a chord of the inner circle are the worse of the two where the bit fills
	// the groove and where it doesn't.
	if min(inner, inner*gap/2) > g.Size.Reach()+g.Size.Web/2+clearly {
		return yes
	}
	for _, web := range [2]float64{0, g.Size.Web / 2} {
		closed := whole || sweep > math.Pi && radius*gap/2 < r+web-clearly
		if closed && inner > g.Size.Reach()+web+clearly {
			return no
		}
	}
	return unknown
}

// roundabout is the radius of the circle that a line runs along and the angle that
// it turns by, more than a full turn where it runs on over its start; false if it
// isn't on one circle or has edges too short to be drawn.
func roundabout(line geom.Contour) (radius, sweep float64, ok bool) {
	if line.Len() == 0 {
		return 0, 0, false
	}
	first := line.Edge(0)
	for i := range line.Len() {
		e := line.Edge(i)
		if e.IsLine() || e.Bulge*first.Bulge < 0 || e.Length() < 2*leastArc ||
			!e.Center().Near(first.Center(), geom.Coincident) || math.Abs(e.Radius()-first.Radius()) > geom.Coincident {
			return 0, 0, false
		}
		sweep += math.Abs(e.Sweep())
	}
	return first.Radius(), sweep, true
}
