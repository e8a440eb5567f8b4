package groove

import (
	"math"

	"strapwork/pkg/geom"
)

// A Mitre is a corner of the finished groove as its two outer walls make it. A
// bit can't reach its tip; a chisel has to.
type Mitre struct {
	Tip  geom.Point // where the walls meet
	In   geom.Edge  // the wall that leads to the tip
	Out  geom.Edge  // the wall that leads away from it
	Side float64    // of the walls on which the groove lies: +1 left, -1 right
}

// Mitre returns a corner's mitre. The walls are as long as the corner's arms,
// so that their lines or circles meet at the tip and not always they
// themselves. It is false where the walls don't meet near the corner, which
// Build has reported as an error.
func (g *Groove) Mitre(c Corner) (Mitre, bool) {
	h := g.Size.Width / 2
	tip, _, _, ok := c.meeting(h, mitreLimit*g.Size.Width)
	side := c.outer()
	return Mitre{Tip: tip, In: c.In.Shift(side * h), Out: c.Out.Shift(side * h), Side: -side}, ok
}

// EndMitres returns the two corners of the groove's flat at a strand's free
// end: right angles, between the end and a wall that is straight or curved as
// the strand is there. atEnd distinguishes the strand's last end from its first.
func (g *Groove) EndMitres(strand int, atEnd bool) [2]Mitre {
	e := g.endEdge(strand, atEnd)
	if !atEnd {
		e = e.Reverse()
	}
	h := g.Size.Width / 2
	left, right := e.Shift(h), e.Shift(-h)
	flat := geom.Line(left.B, right.B)
	return [2]Mitre{
		{Tip: left.B, In: left, Out: flat, Side: -1},
		{Tip: right.B, In: flat, Out: right.Reverse(), Side: -1},
	}
}

// directions are the walls' directions of travel at the tip.
func (m Mitre) directions() (in, out geom.Point) {
	return m.In.Tangent(m.In.Param(m.Tip)), m.Out.Tangent(m.Out.Param(m.Tip))
}

// Angle is the angle of the groove between its walls at the tip. At a corner
// of curved arms it differs from the arms' own.
func (m Mitre) Angle() float64 {
	u, v := m.directions()
	return math.Pi - math.Abs(math.Atan2(u.Cross(v), u.Dot(v)))
}

// Outward is the unit direction at the tip that halves the angle of the wood
// outside the groove.
func (m Mitre) Outward() geom.Point {
	u, v := m.directions()
	return u.Sub(v).Unit()
}

// Curvatures are the curvatures of the walls, positive for a wall that bends round
// the groove, negative for one that bends away from it, 0 for a straight one;
// the lesser first, so that a mitre and its mirror image have the same.
func (m Mitre) Curvatures() [2]float64 {
	a, b := m.In.Curvature()*m.Side, m.Out.Curvature()*m.Side
	return [2]float64{math.Min(a, b), math.Max(a, b)}
}
