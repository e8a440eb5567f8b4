package drawing

import (
	"math"

	"strapwork/pkg/geom"
)

// An Affine map takes (x, y) to (A x + C y + E, B x + D y + F): the order in which SVG's
// matrix() has them.
type Affine struct{ A, B, C, D, E, F float64 }

// Identity moves nothing.
func Identity() Affine { return Affine{A: 1, D: 1} }

// Shift moves by d.
func Shift(d geom.Point) Affine { return Affine{A: 1, D: 1, E: d.X, F: d.Y} }

// Stretch scales along x and y.
func Stretch(x, y float64) Affine { return Affine{A: x, D: y} }

// Turn turns counter-clockwise about the origin, by radians; quarter turns are exact.
func Turn(angle float64) Affine {
	if quarters := angle / (math.Pi / 2); quarters == math.Round(quarters) {
		return quarterTurns[(int(math.Mod(quarters, 4))+4)%4]
	}
	sin, cos := math.Sincos(angle)
	return Affine{A: cos, B: sin, C: -sin, D: cos}
}

var quarterTurns = [4]Affine{{A: 1, D: 1}, {B: 1, C: -1}, {A: -1, D: -1}, {B: -1, C: 1}}

// Then is m, and after it n.
func (m Affine) Then(n Affine) Affine {
	return Affine{
		A: n.A*m.A + n.C*m.B, B: n.B*m.A + n.D*m.B,
		C: n.A*m.C + n.C*m.D, D: n.B*m.C + n.D*m.D,
		E: n.A*m.E + n.C*m.F + n.E, F: n.B*m.E + n.D*m.F + n.F,
	}
}

// Apply is where p goes.
func (m Affine) Apply(p geom.Point) geom.Point {
	return geom.Pt(m.A*p.X+m.C*p.Y+m.E, m.B*p.X+m.D*p.Y+m.F)
}

// Way is what becomes of a direction or a difference of points.
func (m Affine) Way(v geom.Point) geom.Point {
	return geom.Pt(m.A*v.X+m.C*v.Y, m.B*v.X+m.D*v.Y)
}

// Det is by what areas grow; negative where the map turns over.
func (m Affine) Det() float64 { return m.A*m.D - m.B*m.C }

// Inverse is the map that undoes m, if one does.
func (m Affine) Inverse() (Affine, bool) {
	d := m.Det()
	n := Affine{A: m.D / d, B: -m.B / d, C: -m.C / d, D: m.A / d}
	n.E, n.F = -n.A*m.E-n.C*m.F, -n.B*m.E-n.D*m.F
	return n, d != 0 && n.Finite()
}

// Scale is the root of what areas grow by.
func (m Affine) Scale() float64 { return math.Sqrt(math.Abs(m.Det())) }

// Finite reports whether the map has neither NaN nor infinities.
func (m Affine) Finite() bool {
	return !math.IsNaN(m.A*0 + m.B*0 + m.C*0 + m.D*0 + m.E*0 + m.F*0)
}

// similar is how far a map may be from keeping shapes, as a share, and circles still be
// taken for circles: what is written with six digits is out by that much.
const similar = 1e-6

// Similar reports whether the map keeps shapes: circles stay circles.
func (m Affine) Similar() bool {
	k := math.Hypot(m.A, m.B) + math.Hypot(m.C, m.D)
	return math.Hypot(m.A-m.D, m.B+m.C) <= similar*k || math.Hypot(m.A+m.D, m.B-m.C) <= similar*k
}
