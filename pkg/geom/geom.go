// Package geom is the exact geometry of straight lines and circular arcs in
// the plane: points, edges, contours with bulges, their lengths, crossings and
// parallel curves. Nothing is ever flattened to chords.
//
// Lengths are millimetres and angles radians. The plane is right-handed: x to
// the right, y up, angles counter-clockwise from +x. All types are values and
// are immutable once built; functions that take a Contour never change its
// vertices.
package geom

import "math"

// Coincident is the distance in millimetres under which two curves are the
// same curve and two points the same point. Coordinates of a table top are up
// to some 10^4 mm and a float64 holds them to 10^-12; a few dozen operations
// lose three or four digits of that, and a file with nine decimals is exact to
// 5e-10. A ten-millionth is well above both and a thousand times finer than
// anything that a cutter can follow.
const Coincident = 1e-7

// A Point is a place in the plane, or a vector, in millimetres.
type Point struct{ X, Y float64 }

// Pt is the point (x, y).
func Pt(x, y float64) Point { return Point{x, y} }

// Polar is the point at the given distance from the origin in the direction
// of angle.
func Polar(distance, angle float64) Point {
	s, c := math.Sincos(angle)
	return Point{distance * c, distance * s}
}

// Add returns p + q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub returns p - q, the vector from q to p.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Scale returns p stretched by k.
func (p Point) Scale(k float64) Point { return Point{p.X * k, p.Y * k} }

// Dot is the scalar product of p and q.
func (p Point) Dot(q Point) float64 { return p.X*q.X + p.Y*q.Y }

// Cross is the z component of p x q: positive when q points to the left of p.
func (p Point) Cross(q Point) float64 { return p.X*q.Y - p.Y*q.X }

// Norm is the length of p.
// (Not math.Hypot, which is slower and only differs outside 10^-150 to 10^150.)
func (p Point) Norm() float64 { return math.Sqrt(p.X*p.X + p.Y*p.Y) }

// Dist is the distance from p to q.
func (p Point) Dist(q Point) float64 { return p.Sub(q).Norm() }

// Near reports whether p and q are at most tol apart.
func (p Point) Near(q Point, tol float64) bool { return p.Dist(q) <= tol }

// Unit returns p at length 1; the zero vector stays zero.
func (p Point) Unit() Point {
	n := p.Norm()
	if n == 0 {
		return Point{}
	}
	return Point{p.X / n, p.Y / n}
}

// Left returns p turned a quarter counter-clockwise: the normal on the left of
// a direction of travel.
func (p Point) Left() Point { return Point{-p.Y, p.X} }

// Turn returns p turned about the origin by angle, counter-clockwise.
func (p Point) Turn(angle float64) Point {
	s, c := math.Sincos(angle)
	return Point{c*p.X - s*p.Y, s*p.X + c*p.Y}
}

// Angle is the direction of p from the origin, in (-pi, pi].
func (p Point) Angle() float64 { return math.Atan2(p.Y, p.X) }

// Lerp returns the point at the fraction t of the way from p to q.
func (p Point) Lerp(q Point, t float64) Point {
	return Point{p.X + t*(q.X-p.X), p.Y + t*(q.Y-p.Y)}
}

// Finite reports whether both coordinates are ordinary numbers.
func (p Point) Finite() bool {
	return !math.IsNaN(p.X) && !math.IsNaN(p.Y) && !math.IsInf(p.X, 0) && !math.IsInf(p.Y, 0)
}

// A Box is a rectangle with sides along the axes. The zero Box is the single
// point at the origin; EmptyBox holds nothing.
type Box struct{ Min, Max Point }

// EmptyBox holds no point; adding a point to it gives that point's box.
func EmptyBox() Box {
	inf := math.Inf(1)
	return Box{Point{inf, inf}, Point{-inf, -inf}}
}

// Empty reports whether b holds no point.
func (b Box) Empty() bool { return b.Min.X > b.Max.X || b.Min.Y > b.Max.Y }

// Include returns the smallest box that holds b and p.
func (b Box) Include(p Point) Box {
	return Box{
		Point{min(b.Min.X, p.X), min(b.Min.Y, p.Y)},
		Point{max(b.Max.X, p.X), max(b.Max.Y, p.Y)},
	}
}

// Join returns the smallest box that holds b and c.
func (b Box) Join(c Box) Box {
	if c.Empty() {
		return b
	}
	return b.Include(c.Min).Include(c.Max)
}

// Expand returns b with every side moved outwards by d.
func (b Box) Expand(d float64) Box {
	return Box{Point{b.Min.X - d, b.Min.Y - d}, Point{b.Max.X + d, b.Max.Y + d}}
}

// Meets reports whether b and c have a point in common.
func (b Box) Meets(c Box) bool {
	return b.Min.X <= c.Max.X && c.Min.X <= b.Max.X && b.Min.Y <= c.Max.Y && c.Min.Y <= b.Max.Y
}

// Holds reports whether p is in b, its sides included.
func (b Box) Holds(p Point) bool {
	return b.Min.X <= p.X && p.X <= b.Max.X && b.Min.Y <= p.Y && p.Y <= b.Max.Y
}

// Size is the width and height of b.
func (b Box) Size() Point { return b.Max.Sub(b.Min) }

// Center is the middle of b.
func (b Box) Center() Point { return b.Min.Lerp(b.Max, 0.5) }

// Dist is the distance from p to the nearest point of b, 0 inside.
func (b Box) Dist(p Point) float64 {
	dx := max(0, max(b.Min.X-p.X, p.X-b.Max.X))
	dy := max(0, max(b.Min.Y-p.Y, p.Y-b.Max.Y))
	return math.Sqrt(dx*dx + dy*dy)
}
