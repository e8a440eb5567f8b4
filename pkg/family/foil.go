package family

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// Cusp is what foils do where they meet.
type Cusp int

const (
	// CuspCross has the foils be whole rings, each crossing its two neighbours: Count strands,
	// 2 Count crossings.
	CuspCross Cusp = iota
	// CuspTee has each foil end twice on the one before, on which it seems to lie: Count
	// strands, no crossing, 2 Count tees.
	CuspTee
	// CuspPoint has them join in a cusp, as one outline with Count corners.
	CuspPoint
)

// Foil is Count foils of Radius within a circle of radius Ring, which each of them would
// touch: a trefoil, a quatrefoil. Foils of Ring s / (1 + s), with s = sin(pi / Count), touch
// one another, and have to be larger. The first stands on top.
// (F. S. Meyer, "Handbook of Ornament", 1888, on tracery: recalled; the measures are derived.)
type Foil struct {
	Count  int
	Ring   float64 // mm; the size
	Radius float64 // mm; 0: half-way between foils that touch and foils that are too large
	Cusp   Cusp
	Round  float64 // of cusps, mm; 0: they are sharp. For CuspPoint
}

// Sized is the foils within a circle of another radius.
func (p Foil) Sized(size float64) Pattern {
	p.Ring = size
	return p
}

// Draw is a ring or an arc for each foil, or their outline.
func (p Foil) Draw() ([]geom.Contour, error) {
	least, most := p.limits()
	if p.Radius == 0 {
		p.Radius = (least + most) / 2
		if p.Cusp == CuspPoint {
			p.Radius = (least + p.crossing()) / 2
		}
	}
	switch {
	case p.Radius <= least:
		return nil, fault("radius", "foils of %s in a ring of %s don't overlap: at best they touch", unit.Len(p.Radius), unit.Len(p.Ring)).
			hint("at least %s", over(least))
	case p.Radius >= most && p.Count == 3:
		return nil, fault("radius", "foils of %s in a ring of %s all meet", unit.Len(p.Radius), unit.Len(p.Ring)).
			hint("at most %s", under(most))
	case p.Radius >= most && p.Cusp == CuspPoint:
		return nil, fault("radius", "foils of %s are as large as the ring that holds them", unit.Len(p.Radius)).
			hint("at most %s", under(most))
	case p.Radius >= most:
		return nil, fault("radius", "foils of %s in a ring of %s meet the next but one", unit.Len(p.Radius), unit.Len(p.Ring)).
			hint("at most %s", under(most))
	}
	if p.Round > 0 && p.Cusp != CuspPoint {
		return nil, fault("round", "these foils have no cusps to round").hint(`write cusp = "point", or remove round`)
	}
	first := p.foil()
	if p.Cusp == CuspPoint {
		return []geom.Contour{turned(p.Count, first.Edges())}, nil
	}
	var foils []geom.Contour
	for k := range p.Count {
		foils = append(foils, geom.TurningFraction(k, p.Count).Contour(first))
	}
	return foils, nil
}

// limits are the radii between which foils overlap, and only as their cusps allow.
func (p Foil) limits() (least, most float64) {
	share := func(places float64) float64 {
		s := math.Sin(places * math.Pi / float64(p.Count))
		return p.Ring * s / (1 + s)
	}
	if p.Cusp == CuspPoint {
		return share(1), p.Ring
	}
	return share(1), p.crossing()
}

// crossing is the radius from which on foils meet others than their neighbours.
func (p Foil) crossing() float64 {
	if p.Count == 3 {
		return p.Ring / 2 // they go through the middle
	}
	s := math.Sin(2 * math.Pi / float64(p.Count))
	return p.Ring * s / (1 + s)
}

// foil is the first foil: a ring, or an arc that ends where its neighbours are met; as part
// of an outline with the round at its end.
func (p Foil) foil() geom.Contour {
	center := p.Ring - p.Radius
	at := geom.Pt(0, center)
	if p.Cusp == CuspCross {
		return geom.Circle(at, p.Radius)
	}
	half := math.Pi / float64(p.Count)
	// Rounds lie outside the foils: one of radius round touches both where their axis is
	// reached by a circle that is larger by that.
	outer := p.Radius + p.Round
	reach := center*math.Cos(half) + math.Sqrt(outer*outer-math.Pow(center*math.Sin(half), 2))
	left := geom.Polar(reach, math.Pi/2+half)
	right := geom.Pt(-left.X, left.Y)
	if p.Cusp == CuspTee {
		// The foil before is the one on the right, which is met again nearer the middle.
		near := 2*center*math.Cos(half) - reach
		inner := geom.Polar(near, math.Pi/2-half)
		start, end := right.Sub(at).Angle(), inner.Sub(at).Angle()
		sweep := math.Mod(end-start+4*math.Pi, 2*math.Pi)
		return geom.Chain(false, geom.Arc(at, p.Radius, start, sweep)...)
	}
	touch := func(q geom.Point) geom.Point { return at.Add(q.Sub(at).Scale(p.Radius / outer)) }
	start := touch(right).Sub(at).Angle()
	edges := geom.Arc(at, p.Radius, start, math.Pi-2*start)
	if p.Round > 0 {
		from := touch(left)
		to := touch(right).Turn(2 * half)
		edges = append(edges, geom.ArcThrough(from, to, left, false))
	}
	return geom.Chain(true, edges...)
}
