package family

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// Rosette is Count circles of Radius whose centres stand evenly on a circle of radius Ring,
// each crossing every other twice: Count strands, Count (Count - 1) crossings. The first
// stands on top.
type Rosette struct {
	Count  int
	Ring   float64 // mm; the size
	Radius float64 // mm; 0: in proportion
}

// rosetteShare is a circle's radius, if it isn't given, as a share of the ring.
const rosetteShare = 1.6

// Sized is the rosette on a circle of another radius.
func (p Rosette) Sized(size float64) Pattern {
	p.Ring = size
	return p
}

// Draw is a circle for each.
func (p Rosette) Draw() ([]geom.Contour, error) {
	radius := p.Radius
	if radius == 0 {
		radius = rosetteShare * p.Ring
	}
	if err := p.refuse(radius); err != nil {
		return nil, err
	}
	var circles []geom.Contour
	for k := range p.Count {
		circles = append(circles, geom.Circle(around(k, p.Count, p.Ring), radius))
	}
	return circles, nil
}

// refuse is what is wrong with a radius.
func (p Rosette) refuse(radius float64) error {
	apart := p.Ring * math.Sin(float64(p.Count/2)*math.Pi/float64(p.Count)) // the two furthest, halved
	short, long := (1-clearOf)*p.Ring, (1+clearOf)*p.Ring
	between := apart < short // circles may all meet and yet keep clear of the middle
	if radius >= long*(1-exact) || between && apart < radius && radius <= short*(1+exact) {
		return nil
	}
	f := fault("radius", "circles of %s on a ring of %s all meet in the middle, or nearly", unit.Len(radius), unit.Len(p.Ring))
	if radius <= apart {
		f = fault("radius", "circles of %s don't all meet, since some centres are %s apart", unit.Len(radius), unit.Len(2*apart))
	}
	switch {
	case !between:
		return f.hint("at least %s", unit.AtLeast(long).Typed())
	case radius <= apart:
		return f.hint("at least %s", over(apart))
	}
	return f.hint("at most %s or at least %s", unit.AtMost(short).Typed(), unit.AtLeast(long).Typed())
}
