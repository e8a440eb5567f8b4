package family

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// Star is the star {Points/Step}: Points points on a circle of Radius, each joined by
// straights to those Step places on. It has gcd(Points, Step) strands and
// Points (Step - 1) crossings. One point stands on top.
// (H. S. M. Coxeter, "Regular Polytopes", 1948, on star polygons: recalled.)
type Star struct {
	Points, Step int     // Step at least 2 and less than half of Points
	Radius       float64 // mm; the size
	Round        float64 // of the points, mm; 0: they are sharp
}

// Sized is the star on a circle of another radius.
func (p Star) Sized(size float64) Pattern {
	p.Radius = size
	return p
}

// Draw is a closed strand for each polygon of the star.
func (p Star) Draw() ([]geom.Contour, error) {
	if most := (p.Points - 1) / 2; p.Step > most {
		return nil, fault("step", "a star of %d points has a step of less than half of that", p.Points).hint("at most %d", most)
	}
	most := p.mostRound()
	if p.Round > most*(1+exact) {
		return nil, fault("round", "points that are rounded by %s no longer reach the first crossing of their sides", unit.Len(p.Round)).
			hint("at most %s", unit.AtMost(most).Typed())
	}
	strands := gcd(p.Points, p.Step)
	var star []geom.Contour
	for first := range strands {
		c := geom.Contour{Closed: true}
		radii := make([]float64, p.Points/strands)
		for i := range radii {
			c.Vertices = append(c.Vertices, geom.Vertex{Point: around(first+i*p.Step, p.Points, p.Radius)})
			radii[i] = p.Round
		}
		star = append(star, c.Filleted(radii))
	}
	return star, nil
}

// mostRound is the largest radius of rounded points that leaves the sides straight from
// the outermost crossing to the next.
func (p Star) mostRound() float64 {
	half := math.Pi / float64(p.Points)
	out, first := math.Tan(float64(p.Step)*half), math.Tan(float64(p.Step-1)*half)
	return p.Radius * math.Cos(float64(p.Step)*half) * (out - first) / out
}

// around is the k-th of n places on a circle about the origin, counter-clockwise from the top.
func around(k, n int, radius float64) geom.Point {
	return geom.TurningFraction(k, n).Apply(geom.Pt(0, radius))
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
