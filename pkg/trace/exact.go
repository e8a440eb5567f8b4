package trace

import (
	"math"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
)

// exactOff is how far in mm a curve may be from a line or an arc and still be drawn as one:
// what is written with six digits of a table top is out by as much.
const exactOff = 1e-4

// exact is a segment as lines and arcs, if that is what it is.
func exact(s drawing.Segment) ([]geom.Edge, bool) {
	switch s := s.(type) {
	case drawing.Line:
		return []geom.Edge{geom.Line(s.A, s.B)}, true
	case drawing.Ellipse:
		if s.IsCircle() {
			return round(s), true
		}
	case drawing.Bezier:
		if len(s.Points) == 2 {
			return []geom.Edge{geom.Line(s.Points[0], s.Points[1])}, true
		}
	case drawing.NURBS:
	}
	a, b := s.At(0), s.At(1)
	if forward(s, b.Sub(a)) && throughout(s, func(p geom.Point) float64 { return geom.Line(a, b).Dist(p) }) {
		return []geom.Edge{geom.Line(a, b)}, true
	}
	return rational(s)
}

// looks is at how many places a segment is compared with what it may be.
const looks = 24

func throughout(s drawing.Segment, off func(geom.Point) float64) bool {
	for i := range looks + 1 {
		if off(s.At(float64(i)/looks)) > exactOff {
			return false
		}
	}
	return true
}

// forward reports whether a segment never goes back against a direction.
func forward(s drawing.Segment, way geom.Point) bool {
	last := s.At(0).Dot(way)
	for i := range looks {
		next := s.At(float64(i+1) / looks).Dot(way)
		if next < last {
			return false
		}
		last = next
	}
	return true
}

// round is an arc of a circle, drawn as an ellipse that is one.
func round(e drawing.Ellipse) []geom.Edge {
	radius := math.Sqrt(math.Abs(e.Major.Cross(e.Minor)))
	start, sweep := e.Major.Angle()+e.From, e.Sweep
	if e.Major.Cross(e.Minor) < 0 {
		start, sweep = e.Major.Angle()-e.From, -e.Sweep
	}
	return geom.Arc(e.Center, radius, start, sweep)
}

// rational is an arc that is drawn as a rational curve, span by span of its knots.
func rational(s drawing.Segment) ([]geom.Edge, bool) {
	n, ok := s.(drawing.NURBS)
	if !ok || n.Weights == nil {
		return nil, false
	}
	c, r, ok := circleThrough(s.At(0), s.At(0.37), s.At(0.71))
	if !ok || !throughout(s, func(p geom.Point) float64 { return math.Abs(p.Dist(c) - r) }) {
		return nil, false
	}
	var sweep float64
	for i := range looks {
		u, v := s.At(float64(i)/looks).Sub(c), s.At(float64(i+1)/looks).Sub(c)
		sweep += turnOf(u, v)
	}
	if full := 2 * math.Pi; math.Abs(math.Abs(sweep)-full)*r <= exactOff {
		sweep = math.Copysign(full, sweep)
	}
	if sweep == 0 || math.Abs(sweep) > 2*math.Pi {
		return nil, false
	}
	return geom.Arc(c, r, s.At(0).Sub(c).Angle(), sweep), true
}

// circleThrough is the circle through three points.
func circleThrough(a, b, c geom.Point) (center geom.Point, radius float64, ok bool) {
	u, v := b.Sub(a), c.Sub(a)
	d := 2 * u.Cross(v)
	if math.Abs(d) < 1e-12*(u.Dot(u)+v.Dot(v)) {
		return center, 0, false
	}
	uu, vv := u.Dot(u), v.Dot(v)
	out := geom.Pt((v.Y*uu-u.Y*vv)/d, (u.X*vv-v.X*uu)/d)
	return a.Add(out), out.Norm(), true
}
