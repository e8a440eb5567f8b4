package family

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// Guilloche is Bands bands that wave about a middle line and cross one another between round
// eyes, Pitch apart: straight, along x, of Eyes eyes, or round, of Count eyes.
// (F. S. Meyer, "Handbook of Ornament", 1888, "the guilloche": recalled; all measures derived.)
//
// A straight one is arcs of (Pitch^2 / 4 + Rise^2) / 2 Rise, above and below the line in turn,
// each sweeping 4 atan(2 Rise / Pitch), which is the angle at which two bands cross. With both
// Rise and Angle the arcs are tighter, and the bands straight where they cross. Two bands meet
// at both ends, as one strand with Eyes - 1 crossings, or are loose, ending half-way between
// crossings: Eyes crossings. Three have 3 Eyes, and four 6 Eyes - 1.
//
// A round one has two bands; with n = Count eyes it is 2 strands if n is even, else 1, with n
// crossings at twice the Angle on a circle of radius Ring, where Pitch = 2 Ring sin(pi / n).
// Its arcs' radii are Pitch / 2 sin(Angle + pi / n) outside and Pitch / 2 sin(Angle - pi / n) inside.
type Guilloche struct {
	Pitch float64 // from one crossing on the middle line to the next, mm; the size
	Ring  float64 // of a round one, in place of Pitch, mm
	Count int     // of a round one; 0: it is straight
	Eyes  int     // of a straight one
	Bands int     // 2 to 4
	Rise  float64 // of the bands above and below the line, mm; 0: by Angle
	Angle float64 // at which bands cross the line, radians; 0: by Rise; neither: as is usual
	Loose bool    // the ends of two bands don't meet
}

const (
	// usualRise is the rise in pitches, and usualAngle the angle of a round guilloche:
	// bands then cross at about 105 degrees, and eyes are round (the study's choice).
	usualRise  = 0.25
	usualAngle = 50 * math.Pi / 180
	// flatCrossing is the angle below which the mitres of crossing strips get longer than
	// one and a half widths of the groove: a warning.
	flatCrossing        = flatCrossingDegrees * math.Pi / 180
	flatCrossingDegrees = 40
)

// Sized is the guilloche with another pitch, or on another ring if it has one.
func (p Guilloche) Sized(size float64) Pattern {
	if p.Ring > 0 {
		p.Ring = size
	} else {
		p.Pitch = size
	}
	return p
}

// Draw is a contour for each band, or one for what is joined.
func (p Guilloche) Draw() ([]geom.Contour, error) {
	if p.Bands != 2 && (p.Count > 0 || !p.Loose) {
		return nil, fault("bands", "of %d bands the ends don't meet", p.Bands).hint(`write bands = 2, or ends = "loose" for a straight one`)
	}
	if p.Count > 0 {
		return p.round()
	}
	w, err := p.wave()
	if err != nil {
		return nil, err
	}
	if !p.Loose {
		length := float64(p.Eyes) * p.Pitch
		there := w.from(0, length)
		back := w.from(p.Pitch, length) // the other band, half a wave on
		edges := there
		for i := len(back) - 1; i >= 0; i-- {
			edges = append(edges, back[i].Reverse())
		}
		return []geom.Contour{geom.Shifting(geom.Pt(-length/2, 0)).Contour(geom.Chain(true, edges...))}, nil
	}
	// Bands end where none of them cross, alike at both ends.
	phase, trim := 0.0, 0.0
	switch p.Bands {
	case 2:
		phase = p.Pitch / 2
	case 4:
		phase, trim = p.Pitch/8, p.Pitch/4
	}
	length := float64(p.Eyes)*p.Pitch - trim
	var bands []geom.Contour
	for k := range p.Bands {
		at := phase + 2*p.Pitch*float64(k)/float64(p.Bands)
		bands = append(bands, geom.Shifting(geom.Pt(-length/2, 0)).Contour(geom.Chain(false, w.from(at, length)...)))
	}
	return bands, nil
}

// Wary says that bands cross at a flat angle.
func (p Guilloche) Wary() *Fault {
	at := 2 * p.angle()
	if at = min(at, math.Pi-at); at >= flatCrossing || p.Bands != 2 {
		return nil
	}
	key, steep := "angle", unit.Say("%d to %d", flatCrossingDegrees/2, 90-flatCrossingDegrees/2)
	if p.Rise > 0 && p.Angle == 0 {
		least, most := p.Pitch/2*math.Tan(flatCrossing/4), p.Pitch/2*math.Tan((math.Pi-flatCrossing)/4)
		key, steep = "rise", unit.Say("%s to %s", unit.AtLeast(least).Typed(), unit.AtMost(most).Typed())
	}
	return fault(key, "the bands cross at %s degrees, and at less than %d mitres get long", unit.Decimal(at*180/math.Pi, 1), flatCrossingDegrees).hint("from %s", steep)
}

// angle is the angle at which bands cross the middle line.
func (p Guilloche) angle() float64 {
	switch {
	case p.Angle > 0:
		return p.Angle
	case p.Rise > 0:
		return 2 * math.Atan(2*p.Rise/p.Pitch)
	case p.Count > 0:
		return usualAngle
	}
	return 2 * math.Atan(2*usualRise)
}

// A wave is a band of a straight guilloche. It rises from 0 at the origin, is down again after
// half of it, and then as deep below.
type wave struct {
	half   float64 // of a wave, mm: the pitch
	angle  float64 // at which it leaves the line, radians
	radius float64 // of its arcs, mm
	shank  float64 // how far along the line it is straight, mm
}

// wave is the band that the measures ask for.
func (p Guilloche) wave() (wave, error) {
	w := wave{half: p.Pitch, angle: p.angle()}
	arcs := w.angle // by which bands of arcs alone leave the line, for the same rise
	if p.Rise > 0 {
		arcs = 2 * math.Atan(2*p.Rise/p.Pitch)
	}
	least, most := leastCrossing/2, math.Pi/2-leastCrossing/2
	rise := func(angle float64) float64 { return p.Pitch / 2 * math.Tan(angle/2) }
	switch {
	case p.Rise > 0 && (arcs < least*(1-exact) || arcs > most*(1+exact)):
		return w, fault("rise", "bands that rise by %s between crossings %s apart cross at less than %d degrees", unit.Len(p.Rise), unit.Len(p.Pitch), leastCrossingDegrees).
			hint("from %s to %s", unit.AtLeast(rise(flatCrossing/2)).Typed(), unit.AtMost(rise((math.Pi-flatCrossing)/2)).Typed())
	case w.angle < least*(1-exact) || w.angle > most*(1+exact):
		return w, fault("angle", "bands cross at less than %d degrees", leastCrossingDegrees).
			hint("from %d to %d", flatCrossingDegrees/2, 90-flatCrossingDegrees/2)
	}
	if p.Rise > 0 && p.Angle > 0 {
		if steepest, flattest := arcs, math.Atan(2*p.Rise/p.Pitch); w.angle > steepest*(1+exact) || w.angle <= flattest {
			return w, fault("angle", "no band of straights and arcs rises by %s between crossings %s apart at that angle", unit.Len(p.Rise), unit.Len(p.Pitch)).
				hint("from %s to %s", unit.Decimal(ceil(flattest*180/math.Pi*(1+within)), 2), unit.Decimal(floor(steepest*180/math.Pi), 2))
		}
		// The straight's length l and the radius r give half a pitch and the rise:
		// l cos + r sin = pitch / 2, l sin + r (1 - cos) = rise.
		sin, cos := math.Sincos(w.angle)
		w.radius = (p.Pitch/2*sin - p.Rise*cos) / (1 - cos)
		w.shank = max(0, (p.Rise*(1+cos)-p.Pitch/2*sin)/sin*cos)
		return w, nil
	}
	w.radius = p.Pitch / 2 / math.Sin(w.angle)
	return w, nil
}

// floor and ceil round an angle in degrees to hundredths.
func floor(deg float64) float64 { return math.Floor(deg*100) / 100 }
func ceil(deg float64) float64  { return math.Ceil(deg*100) / 100 }

// from is the wave from a place along the line on, as long as length, drawn from x = 0.
func (w wave) from(at, length float64) (edges []geom.Edge) {
	end := at + length
	for k := math.Floor(at/w.half + exact); ; k++ {
		u, v := max(at-k*w.half, 0), min(end-k*w.half, w.half)
		if v <= exact*w.half {
			return edges
		}
		if v >= w.half*(1-exact) {
			v = w.half
		}
		place := geom.Shifting(geom.Pt(k*w.half-at, 0))
		if math.Mod(k, 2) != 0 {
			place = geom.MirrorX().Then(place)
		}
		for _, e := range w.hump(u, v) {
			edges = append(edges, place.Edge(e))
		}
	}
}

// hump is the part of the wave's first half from u to v along the line.
func (w wave) hump(u, v float64) (edges []geom.Edge) {
	bends := [...]float64{0, w.shank, w.half - w.shank, w.half}
	for i, from := range bends[:3] {
		a, b := max(from, u), min(bends[i+1], v)
		if b-a <= exact*w.half {
			continue
		}
		e := geom.Line(w.at(a), w.at(b))
		if i == 1 {
			e = geom.ArcThrough(e.A, e.B, w.center(), false)
		}
		edges = append(edges, e)
	}
	return edges
}

// center is that of the first half's arc.
func (w wave) center() geom.Point {
	return geom.Pt(w.half/2, w.shank*math.Tan(w.angle)-w.radius*math.Cos(w.angle))
}

// at is the wave's point at x in its first half.
func (w wave) at(x float64) geom.Point {
	switch c := w.center(); {
	case x <= 0 || x >= w.half:
		return geom.Pt(x, 0)
	case x <= w.shank:
		return geom.Pt(x, x*math.Tan(w.angle))
	case x >= w.half-w.shank:
		return geom.Pt(x, (w.half-x)*math.Tan(w.angle))
	default:
		return geom.Pt(x, c.Y+math.Sqrt(w.radius*w.radius-(x-c.X)*(x-c.X)))
	}
}

// round is a round guilloche.
func (p Guilloche) round() ([]geom.Contour, error) {
	half := math.Pi / float64(p.Count)
	ring := p.Ring
	if ring == 0 {
		ring = p.Pitch / (2 * math.Sin(half))
	}
	angle := p.angle()
	least, most := max(half, leastCrossing/2), math.Pi/2-leastCrossing/2
	if angle <= half || angle < least*(1-exact) || angle > most*(1+exact) {
		return nil, fault("angle", "with %d eyes bands can't cross the ring at %s degrees and turn back", p.Count, unit.Decimal(angle*180/math.Pi, 2)).
			hint("from %s to %d", unit.Decimal(ceil(max(half*(1+within), flatCrossing/2)*180/math.Pi), 2), 90-flatCrossingDegrees/2)
	}
	chord := ring * math.Sin(half)
	outer, inner := chord/math.Sin(angle+half), chord/math.Sin(angle-half)
	start := math.Pi/2 + half // the direction of the middle of the first arc
	out := geom.Arc(geom.Polar(ring*math.Cos(half)-outer*math.Cos(angle+half), start), outer, start-angle-half, 2*(angle+half))
	in := geom.Arc(geom.Polar(ring*math.Cos(half)+inner*math.Cos(angle-half), start), inner, start+math.Pi+angle-half, -2*(angle-half))
	next := geom.TurningFraction(1, p.Count)
	pair := func(first, second []geom.Edge) []geom.Edge {
		return append(first, next.Contour(geom.Chain(false, second...)).Edges()...)
	}
	if p.Count%2 == 0 {
		n := p.Count / 2
		return []geom.Contour{turned(n, pair(out, in)), turned(n, pair(in, out))}, nil
	}
	var c geom.Contour
	both := geom.Chain(true, pair(out, in)...)
	for k := range p.Count {
		c.Vertices = append(c.Vertices, geom.TurningFraction(2*k, p.Count).Contour(both).Vertices...)
	}
	c.Closed = true
	return []geom.Contour{c}, nil
}
