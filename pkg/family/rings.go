package family

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// Rings are circles of Radius, each crossing its two neighbours and no other: Count
// strands. Their centres stand evenly on a circle of radius Ring, the first on +x, with
// 2 Count crossings; or in a row along x, Pitch apart, with 2 (Count - 1).
type Rings struct {
	Count  int
	Ring   float64 // mm; the size
	Pitch  float64 // mm; the size of a row; 0: there is none
	Radius float64 // mm; 0: so that each crosses its neighbours well
}

// A ring's radius, if it isn't given: a share of the way to the next centre, half-way
// between what reaches it and what goes over it; no more than a share of half the way to
// the next but one.
const (
	ringsNext = 0.75
	ringsOver = 0.9
)

// Sized is the rings on a circle of another radius, or as far apart in a row.
func (p Rings) Sized(size float64) Pattern {
	if p.Pitch > 0 {
		p.Pitch = size
	} else {
		p.Ring = size
	}
	return p
}

// Draw is a circle for each ring.
func (p Rings) Draw() ([]geom.Contour, error) {
	next := 2 * p.Ring * math.Sin(math.Pi/float64(p.Count)) // from a centre to the next
	over := 2 * p.Ring * math.Sin(2*math.Pi/float64(p.Count))
	if p.Pitch > 0 {
		next, over = p.Pitch, 2*p.Pitch
	}
	radius := p.Radius
	if radius == 0 {
		radius = ringsNext * next
		if p.Count > 3 {
			radius = min(radius, ringsOver*over/2)
		}
	}
	if err := p.refuse(radius, next, over); err != nil {
		return nil, err
	}
	var rings []geom.Contour
	for k := range p.Count {
		at := geom.TurningFraction(k, p.Count).Apply(geom.Pt(p.Ring, 0))
		if p.Pitch > 0 {
			at = geom.Pt((float64(k)-float64(p.Count-1)/2)*p.Pitch, 0)
		}
		rings = append(rings, geom.Circle(at, radius))
	}
	return rings, nil
}

// refuse is what is wrong with a radius, where centres are so far from the next and from the
// next but one.
func (p Rings) refuse(radius, next, second float64) error {
	most := next
	if p.Count > 3 {
		most = min(next, second/2)
	}
	switch {
	case radius <= next/2:
		return fault("radius", "rings of %s don't reach their neighbours, whose centres are %s away", unit.Len(radius), unit.Len(next)).
			hint("at least %s", over(next/2))
	case radius >= next:
		return fault("radius", "rings of %s go over their neighbours' centres, %s away", unit.Len(radius), unit.Len(next)).
			hint("at most %s", under(most))
	case radius >= most:
		return fault("radius", "rings of %s meet the next but one, whose centres are %s away", unit.Len(radius), unit.Len(second)).
			hint("at most %s; a rosette is of rings that all meet", under(most))
	case p.Count == 3 && p.Pitch == 0 && math.Abs(radius-p.Ring) < clearOf*p.Ring*(1-exact):
		return fault("radius", "three rings of %s on a ring of %s meet in the middle, or nearly", unit.Len(radius), unit.Len(p.Ring)).
			hint("at most %s or at least %s", unit.AtMost((1-clearOf)*p.Ring).Typed(), unit.AtLeast((1+clearOf)*p.Ring).Typed())
	}
	return nil
}
