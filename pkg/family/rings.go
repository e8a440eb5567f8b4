package family

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// Rings are circles of Radius whose centres stand evenly on a circle of radius Ring, each
// crossing its two neighbours and no other: 2 Count crossings, Count strands. The first
// stands on +x.
type Rings struct {
	Count  int
	Ring   float64 // mm; the size
	Radius float64 // mm; 0: so that each crosses its neighbours well
}

// A ring's radius, if it isn't given: a share of the way to the next centre, half-way
// between what reaches it and what goes over it; no more than a share of half the way to
// the next but one.
const (
	ringsNext = 0.75
	ringsOver = 0.9
)

// Sized is the rings on a circle of another radius.
func (p Rings) Sized(size float64) Pattern {
	p.Ring = size
	return p
}

// Draw is a circle for each ring.
func (p Rings) Draw() ([]geom.Contour, error) {
	next := 2 * p.Ring * math.Sin(math.Pi/float64(p.Count)) // from a centre to the next
	over := 2 * p.Ring * math.Sin(2*math.Pi/float64(p.Count))
	radius := p.Radius
	if radius == 0 {
		radius = ringsNext * next
		if p.Count > 3 {
			radius = min(radius, ringsOver*over/2)
		}
	}
	switch {
	case radius <= next/2:
		return nil, fault("radius", "rings of %s don't reach their neighbours, whose centres are %s away", unit.Len(radius), unit.Len(next)).
			hint("more than %s", unit.AtLeast(next/2).Typed())
	case radius >= next:
		return nil, fault("radius", "rings of %s go over their neighbours' centres, %s away", unit.Len(radius), unit.Len(next)).
			hint("less than %s", unit.AtMost(next).Typed())
	case p.Count > 3 && radius >= over/2:
		return nil, fault("radius", "rings of %s meet the next but one, whose centres are %s away", unit.Len(radius), unit.Len(over)).
			hint("less than %s; a rosette is of rings that all meet", unit.AtMost(over/2).Typed())
	}
	var rings []geom.Contour
	for k := range p.Count {
		at := geom.TurningFraction(k, p.Count).Apply(geom.Pt(p.Ring, 0))
		rings = append(rings, geom.Circle(at, radius))
	}
	return rings, nil
}
