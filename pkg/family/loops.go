package family

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// Loops is a regular polygon of Count corners at which its side runs on, turns round in a
// loop and comes back across itself: one strand, Count crossings at 360 / Count degrees,
// Count (2 Ring tan(pi / Count) + 2 t + Radius (2 pi - 2 pi / Count)) long, where
// t = Radius tan(pi / Count) is how far the sides run on. A side lies at the bottom.
type Loops struct {
	Count  int
	Ring   float64 // of the circle that the sides touch, mm; the size
	Radius float64 // of a loop, mm; 0: in proportion
}

// loopsShare is a loop's radius, if it isn't given, as a share of half a side.
const loopsShare = 0.7

// Sized is the loops round a circle of another radius.
func (p Loops) Sized(size float64) Pattern {
	p.Ring = size
	return p
}

// Draw is one closed strand that begins at the left end of the lowest side.
func (p Loops) Draw() ([]geom.Contour, error) {
	half := math.Pi / float64(p.Count)
	side := p.Ring * math.Tan(half) // half of it
	radius := p.Radius
	if radius == 0 {
		radius = loopsShare * side
	}
	if tan := math.Tan(half); p.Count > 4 && radius*(1-tan) >= side {
		return nil, fault("radius", "loops of %s meet one another", unit.Len(radius)).
			hint("at most %s", under(side/(1-tan)))
	}
	reach := side + radius*math.Tan(half)
	lowest := []geom.Edge{geom.Line(geom.Pt(-reach, -p.Ring), geom.Pt(reach, -p.Ring))}
	lowest = append(lowest, geom.Arc(geom.Pt(reach, -p.Ring-radius), radius, math.Pi/2, 2*half-2*math.Pi)...)
	return []geom.Contour{turned(p.Count, lowest)}, nil
}

// turned is a closed strand of edges that are repeated by turns of a full one over n,
// each beginning where the one before ended.
func turned(n int, edges []geom.Edge) geom.Contour {
	var c geom.Contour
	for k := range n {
		c.Vertices = append(c.Vertices, geom.TurningFraction(k, n).Contour(geom.Chain(true, edges...)).Vertices...)
	}
	c.Closed = true
	return c
}
