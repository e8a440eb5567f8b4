package family

import (
	"math"

	"strapwork/pkg/geom"
)

// A RingPlait is a plait bent to a ring, flat: gcd(Leads, Bights) strands that cross on
// Leads - 1 circles, Bights times on each, and turn back inside and outside them. The
// first inner bight stands on +x. (The counts are those of Turk's heads; common practice.)
type RingPlait struct {
	Leads  int     // strands side by side
	Bights int     // how often they turn back, inside and outside
	Inside float64 // mm, the radius that the inner bights touch; the size
	Pitch  float64 // mm, from one circle of crossings to the next; 0: so that strands cross squarely, all in all
}

// Sized is the plait round another circle.
func (p RingPlait) Sized(size float64) Pattern {
	p.Inside = size
	return p
}

// Crossings lie on rays that are half a bight apart, by turns on every other circle.
// Between two circles strands climb like a spiral of Archimedes, which says at what angle
// they pass each; a bight is one arc from crossing to crossing.
type ringPlait struct {
	RingPlait
	ray   float64 // radians from ray to ray
	first float64 // radius of the innermost circle of crossings, mm
}

// Draw is a contour for each strand.
func (p RingPlait) Draw() ([]geom.Contour, error) {
	q := ringPlait{RingPlait: p, ray: math.Pi / float64(p.Bights)}
	if p.Pitch == 0 {
		share := q.square()
		q.first = p.Inside / q.bight(math.Atan(share/q.ray))
		q.Pitch = share * q.first
	} else {
		q.first = q.solve()
	}
	climb := q.climb()
	fall := make([]geom.Edge, len(climb))
	for i, e := range climb {
		fall[len(climb)-1-i] = geom.MirrorX().Edge(e.Reverse())
	}
	strands := gcd(p.Leads, p.Bights)
	var all []geom.Contour
	for i := range strands {
		var edges []geom.Edge
		ray := 2 * i
		for range p.Bights / strands {
			up := geom.TurningFraction(ray, 2*p.Bights)
			down := geom.TurningFraction(ray+2*p.Leads, 2*p.Bights)
			for _, e := range climb {
				edges = append(edges, up.Edge(e))
			}
			for _, e := range fall {
				edges = append(edges, down.Edge(e))
			}
			ray = (ray + 2*p.Leads) % (2 * p.Bights)
		}
		all = append(all, geom.Chain(true, edges...))
	}
	return all, nil
}

// square is the pitch as a share of the first circle's radius at which strands cross as
// much below 90 degrees on the last circle as above on the first.
func (q ringPlait) square() float64 {
	n := float64(q.Leads - 2)
	return q.ray * (float64(n*q.ray) + math.Sqrt(float64(n*n*q.ray*q.ray)+4)) / 2
}

// circle is the radius of a circle of crossings, counted from 1.
func (q ringPlait) circle(ring int) float64 { return q.first + float64(float64(ring-1)*q.Pitch) }

// slope is the angle at which strands pass a circle of crossings.
func (q ringPlait) slope(radius float64) float64 { return math.Atan(q.Pitch / (q.ray * radius)) }

// bight is how far inside the first circle, as a share of its radius, an arc touches that
// passes it at an angle, and has its crossings on two rays from the middle one; and the
// inverse is how far outside the last one it does.
func (q ringPlait) bight(slope float64) float64 {
	return math.Cos((q.ray+slope)/2) / math.Cos((q.ray-slope)/2)
}

// solve finds the first circle whose bights touch what they are to touch inside.
func (q ringPlait) solve() float64 {
	low, high := q.Inside, 2*q.Inside
	over := func(radius float64) bool { return radius*q.bight(q.slope(radius)) >= q.Inside }
	for !over(high) {
		high *= 2
	}
	return narrow(low, high, over)
}

// climb is a strand from the middle of an inner bight, on +x, to that of an outer one.
func (q ringPlait) climb() []geom.Edge {
	place := func(ring int) geom.Point {
		return geom.Polar(q.circle(ring), float64(ring)*q.ray)
	}
	slope := func(ring int) float64 { return q.slope(q.circle(ring)) }
	last := q.Leads - 1
	in := geom.Pt(q.first*q.bight(slope(1)), 0)
	out := geom.Polar(place(last).Norm()/q.bight(slope(last)), float64(q.Leads)*q.ray)
	edges := []geom.Edge{{A: in, B: place(1), Bulge: math.Tan((q.ray - slope(1)) / 4)}}
	for ring := 1; ring < last; ring++ {
		heading := func(ring int) geom.Point { return geom.Polar(1, math.Pi/2+float64(ring)*q.ray-slope(ring)) }
		edges = append(edges, biarc(place(ring), heading(ring), place(ring+1), heading(ring+1))...)
	}
	return append(edges, geom.Edge{A: place(last), B: out, Bulge: math.Tan((q.ray + slope(last)) / 4)})
}

// biarc is the two arcs that leave a in one direction and come to b in another, with
// tangents of equal length (K. M. Bolton, "Biarc curves", Computer-Aided Design 7, 1975;
// recalled). The directions are units, and near that from a to b.
func biarc(a, leave, b, come geom.Point) []geom.Edge {
	way := b.Sub(a)
	both := way.Dot(leave.Add(come))
	apart := 2 * (1 - leave.Dot(come)) * way.Dot(way)
	tangent := way.Dot(way) / (both + math.Sqrt(float64(both*both)+apart))
	joint := a.Add(leave.Scale(tangent)).Lerp(b.Sub(come.Scale(tangent)), 0.5)
	return []geom.Edge{tangentArc(a, leave, joint), tangentArc(b, come.Scale(-1), joint).Reverse()}
}

// tangentArc is the arc from a to b that leaves a in a direction.
func tangentArc(a, leave, b geom.Point) geom.Edge {
	way := b.Sub(a)
	return geom.Edge{A: a, B: b, Bulge: math.Tan(math.Atan2(leave.Cross(way), leave.Dot(way)) / 2)}
}
