package family

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// Lobes are Count tips on a circle of radius Ring, each joined by an arc to the one Step
// places on: the triquetra and its kin. With a Step of 1 arcs are bowed to the middle, each
// crossing the next; in a triangle they may go past it, and do where nothing else is asked
// for. With a larger Step, at most half of Count, they go round the middle and are bowed away
// from it: gcd(Count, Step) strands, Count (Step - 1) crossings, n of them at each of
// 2 asin(|c| sin(i pi / n) / Radius), where c is how far an arc's centre is from the middle
// and i = 1 .. Step - 1 (derived: at those places both arcs lean by as much from the circle
// about the middle). With a Step of 1 it is one strand with Count crossings. One tip stands
// on top.
type Lobes struct {
	Count  int
	Step   int     // 0: 1 for three tips, else 2
	Ring   float64 // mm; the size
	Radius float64 // of the arcs, mm; 0: so that tips are about as sharp as a triquetra's
	Round  float64 // of the tips, mm; 0: they are sharp
}

const (
	// usualTip in radians is the angle of a tip of the triquetra as it is mostly drawn: arcs of
	// 136 degrees (measured on a drawing of one), whose tips are of 136 - 60.
	usualTip = 76 * math.Pi / 180
	// leastBow in radians is half of what an arc turns by, so that it is seen to be one.
	leastBow = 10 * math.Pi / 180
	// clearOf is how far arcs keep from the point where all would meet, as a share of
	// the ring: for three tips that is where half an arc's sweep is 58 to 62 degrees. And how
	// far crossings keep from tips.
	clearOf = 0.02
	// leastCrossing is the least angle at which strands of a pattern are let cross: at less
	// they lie beside one another for six widths of the groove.
	leastCrossing        = leastCrossingDegrees * math.Pi / 180
	leastCrossingDegrees = 10
)

// Sized is the lobes on a circle of another radius.
func (p Lobes) Sized(size float64) Pattern {
	p.Ring = size
	return p
}

// A bow is one arc of lobes. Its own axis is the line from the middle of the pattern through
// the middle of the arc.
type bow struct {
	radius float64
	half   float64 // what the arc turns by, halved, radians
	beta   float64 // from its axis to a tip, seen from the pattern's middle, radians
	center float64 // where on the axis its centre lies, mm
	sense  float64 // 1: it turns counter-clockwise on its way round the pattern; -1: clockwise
}

// Draw is a closed strand for each cycle of tips.
func (p Lobes) Draw() ([]geom.Contour, error) {
	p.Step = p.step()
	if p.Step > 1 && 2*p.Step > p.Count {
		return nil, fault("step", "of %d tips none is %d places from another", p.Count, p.Step).hint("at most %d", p.Count/2)
	}
	b, err := p.bow()
	if err != nil {
		return nil, err
	}
	if most := p.mostRound(b); p.Round > most*(1+exact) {
		return nil, fault("round", "tips that are rounded by %s don't fit between their two arcs", unit.Len(p.Round)).
			hint("at most %s", unit.AtMost(most).Typed())
	}
	arc := p.arc(b)
	strands := gcd(p.Count, p.Step)
	var lobes []geom.Contour
	for first := range strands {
		c := geom.Contour{Closed: true}
		for k := range p.Count / strands {
			c.Vertices = append(c.Vertices, geom.TurningFraction(first+k*p.Step, p.Count).Contour(arc).Vertices...)
		}
		lobes = append(lobes, c)
	}
	return lobes, nil
}

func (p Lobes) step() int {
	switch {
	case p.Step > 0:
		return p.Step
	case p.Count == 3:
		return 1
	}
	return 2
}

// bow is the arc from a tip to the next on its strand.
func (p Lobes) bow() (bow, error) {
	b := bow{radius: p.Radius, beta: float64(p.Step) * math.Pi / float64(p.Count), sense: 1}
	half := p.Ring * math.Sin(b.beta) // of the chord
	lean := math.Pi/2 - b.beta        // of the chord from a tip's axis
	if p.Step == 1 {
		b.sense = -1
		b.half = min(usualTip/2+lean, math.Pi/2)
	} else {
		b.half = max(usualTip/2-lean, leastBow)
	}
	if b.radius == 0 {
		b.radius = half / math.Sin(b.half)
	} else {
		if err := p.refuse(half); err != nil {
			return b, err
		}
		b.half = math.Asin(min(1, half/b.radius))
	}
	b.center = p.Ring*math.Cos(b.beta) - b.sense*b.radius*math.Cos(b.half)
	return b, p.refuseMiddle(b, half)
}

// refuse is what is wrong with a radius that was asked for, with half of a chord.
func (p Lobes) refuse(half float64) error {
	if p.Step > 1 {
		if steep := func(r float64) bool { return p.leastAngle(r) >= leastCrossing }; !steep(p.Radius) {
			least := narrow(p.Ring, 100*p.Ring, steep)
			return fault("radius", "arcs of %s cross at less than %d degrees", unit.Len(p.Radius), leastCrossingDegrees).
				hint("at least %s", unit.AtLeast(least).Typed())
		}
		return nil
	}
	// Two arcs that meet in a tip cross again at 2 c cos(pi / n) - Ring from the middle.
	flat := math.Cos(math.Pi / float64(p.Count))
	furthest := p.Ring * ((1-clearOf/2)/flat - flat) // of an arc's centre from its chord
	switch most := math.Hypot(half, furthest); {
	case p.Radius < half*(1-exact):
		return fault("radius", "arcs of %s don't reach from tip to tip, %s apart", unit.Len(p.Radius), unit.Len(2*half)).
			hint("at least %s", unit.AtLeast(half).Typed())
	case p.Radius > most*(1+exact):
		return fault("radius", "arcs of %s are too flat to cross clear of their tips", unit.Len(p.Radius)).
			hint("at most %s", unit.AtMost(most).Typed())
	}
	return nil
}

// leastAngle is the least angle in radians at which arcs of a radius cross that are bowed away
// from the middle: none that are no flatter than the ring.
func (p Lobes) leastAngle(radius float64) float64 {
	if radius <= p.Ring {
		return 0
	}
	beta := float64(p.Step) * math.Pi / float64(p.Count)
	half := p.Ring * math.Sin(beta)
	center := math.Sqrt(radius*radius-half*half) - p.Ring*math.Cos(beta)
	return 2 * math.Asin(center*math.Sin(math.Pi/float64(p.Count))/radius)
}

// refuseMiddle refuses arcs that all but meet in the middle.
func (p Lobes) refuseMiddle(b bow, half float64) error {
	past := b.center + b.sense*b.radius // where the middle of the arc is
	clear := clearOf * p.Ring
	if math.Abs(past) >= clear*(1-exact) {
		return nil
	}
	f := fault("radius", "arcs of %s all meet in the middle, or nearly", unit.Len(b.radius))
	// An arc on a chord of 2 half that rises by s has a radius of (half^2 + s^2) / 2 s.
	flat := p.Ring * math.Cos(b.beta)
	rising := func(s float64) float64 { return (half*half + s*s) / (2 * s) }
	if p.Step > 1 {
		return f.hint("at most %s", unit.AtMost(rising(clear-flat)).Typed())
	}
	short := unit.AtLeast(rising(flat - clear)).Typed()
	if flat+clear > half {
		return f.hint("at least %s", short)
	}
	return f.hint("at most %s, to go past the middle, or at least %s", unit.AtMost(rising(flat+clear)).Typed(), short)
}

// mostRound is the largest radius of tips that meets both arcs beyond the crossing that is
// next to the tip, and no further from it than half-way to where the two arcs cross.
func (p Lobes) mostRound(b bow) float64 {
	if p.Step == 1 {
		return b.radius - b.center*math.Sin(b.beta)
	}
	beside := b.beta - math.Pi/float64(p.Count)
	reach := b.center*math.Cos(beside) + math.Sqrt(b.radius*b.radius-math.Pow(b.center*math.Sin(beside), 2))
	center, tip := geom.Pt(b.center, 0), geom.Polar(1, b.beta)
	crossing := geom.Polar(reach, beside)
	along := crossing.Sub(center)
	return crossing.Dist(tip.Scale(center.Cross(along) / tip.Cross(along)))
}

// arc is the first tip's arc, and the round of the tip at its end; its last vertex is left to
// what follows.
func (p Lobes) arc(b bow) geom.Contour {
	axis := geom.Polar(1, math.Pi/2+b.beta)
	center := axis.Scale(b.center)
	// The arc about center through where the rounds touch it: rounds lie inside its circle.
	inner := b.radius - p.Round
	reach := b.center*math.Cos(b.beta) + math.Sqrt(max(0, inner*inner-math.Pow(b.center*math.Sin(b.beta), 2)))
	touch := func(tip float64) (round, at geom.Point) {
		round = geom.Polar(reach, math.Pi/2+tip)
		return round, center.Add(round.Sub(center).Scale(b.radius / inner))
	}
	if p.Round == 0 {
		return geom.Contour{Closed: true, Vertices: []geom.Vertex{{Point: geom.Pt(0, p.Ring), Bulge: b.sense * math.Tan(b.half/2)}}}
	}
	_, from := touch(0)
	round, to := touch(2 * b.beta)
	next := from.Turn(2 * b.beta)
	return geom.Chain(true,
		geom.ArcThrough(from, to, center, b.sense > 0),
		geom.ArcThrough(to, next, round, b.sense > 0))
}
