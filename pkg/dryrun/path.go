package dryrun

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
)

// leg is a line or an arc of a move, seen from above, with the tip's height at
// its ends, which changes evenly along it. A leg straight down has equal ends.
type leg struct {
	geom.Edge
	z0, z1 float64
}

// point reports whether the leg stands still in plan.
func (l leg) point() bool { return l.A == l.B }

// lowest is the tip's least height.
func (l leg) lowest() float64 { return math.Min(l.z0, l.z1) }

// below returns the part of the leg where the tip is lower than z.
func (l leg) below(z float64) (leg, bool) {
	switch {
	case l.lowest() >= z:
		return leg{}, false
	case l.z0 <= z && l.z1 <= z:
		return l, true
	case l.point():
		return leg{Edge: l.Edge, z0: l.lowest(), z1: l.lowest()}, true
	}
	t := (z - l.z0) / (l.z1 - l.z0)
	if l.z0 < z {
		return leg{l.Part(0, t), l.z0, z}, true
	}
	return leg{l.Part(t, 1), z, l.z1}, true
}

// legs appends the legs of a move. Where only the end is known, it is a leg
// that stands still there; where not even that is, there is none.
func legs(m *ngc.Move, out []leg) []leg {
	if !m.Kind.Travels() || !m.To.Has(ngc.AxesXYZ) {
		return out
	}
	z0, z1 := m.From.Z, m.To.Z
	to := m.To.Point()
	if !m.From.Has(ngc.AxesXYZ) {
		return append(out, leg{geom.Line(to, to), z1, z1})
	}
	from := m.From.Point()
	if m.Kind != ngc.Arc {
		return append(out, leg{geom.Line(from, to), z0, z1})
	}
	if math.Abs(m.Sweep) <= math.Pi {
		return append(out, leg{geom.Edge{A: from, B: to, Bulge: math.Tan(m.Sweep / 4)}, z0, z1})
	}
	edges := m.Edges()
	for i, e := range edges {
		a, b := float64(i)/float64(len(edges)), float64(i+1)/float64(len(edges))
		out = append(out, leg{e, z0 + (z1-z0)*a, z0 + (z1-z0)*b})
	}
	return out
}

// straightUp reports whether a move only goes up, or nowhere. A full circle ends
// where it began, and isn't one.
func straightUp(m *ngc.Move) bool {
	return m.Kind != ngc.Arc && m.From.Has(ngc.AxesXYZ) && m.To.Has(ngc.AxesXYZ) &&
		m.From.X == m.To.X && m.From.Y == m.To.Y && m.To.Z >= m.From.Z
}

// across reports whether a move names an axis of the plane and moves in it as
// far as is known.
func across(m *ngc.Move) bool {
	if !m.Kind.Travels() || m.Named&ngc.AxesXY == 0 {
		return false
	}
	known := m.From.Has(m.Named&ngc.AxesXY) && m.To.Has(m.Named&ngc.AxesXY)
	return !known || m.Kind == ngc.Arc || m.From.X != m.To.X || m.From.Y != m.To.Y
}
