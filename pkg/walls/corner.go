package walls

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// A corner is where a strand turns by more than Smooth: from one edge to the
// next at a place.
type corner struct {
	at      geom.Point
	in, out geom.Edge
	turn    float64 // radians, positive to the left
}

// cornerAt is the corner at the beginning of a line's i-th edge, if there is
// one.
func cornerAt(line geom.Contour, i int) (corner, bool) {
	n := line.Len()
	if i == 0 && !line.Closed {
		return corner{}, false
	}
	c := corner{in: line.Edge((i + n - 1) % n), out: line.Edge(i), at: line.Vertices[i].Point}
	u, v := c.in.Tangent(1), c.out.Tangent(0)
	c.turn = math.Atan2(u.Cross(v), u.Dot(v))
	return c, math.Abs(c.turn) > Smooth
}

// reverse is the corner as seen by who comes the other way.
func (c corner) reverse() corner {
	return corner{at: c.at, in: c.out.Reverse(), out: c.in.Reverse(), turn: -c.turn}
}

// join continues a right wall round the corner: by the mitre's tip on the
// outside, by the corner itself on the inside.
func (c corner) join(wall []geom.Edge, h float64) []geom.Edge {
	a, b := side(c.in, h), side(c.out, h)
	if c.turn < 0 {
		return append(wall, geom.Line(a.B, c.at), geom.Line(c.at, b.A))
	}
	if m, ok := c.mitre(h, mitreLimit*h); ok {
		return append(wall, m.in, m.out)
	}
	return wall
}

// A mitre is where the right parallels of a corner's edges meet beyond it.
type mitre struct {
	tip     geom.Point
	in, out geom.Edge // the parallels' ways from beside the corner to the tip, and back
}

// mitre runs the right parallels at distance d on, along their lines or circles,
// to where they meet within some mm of the corner; the nearest such place.
func (c corner) mitre(d, within float64) (m mitre, ok bool) {
	if d == 0 {
		still := geom.Line(c.at, c.at)
		return mitre{c.at, still, still}, true
	}
	a, b := side(c.in, d), side(c.out, d)
	if a.A == a.B || b.A == b.B {
		return m, false
	}
	a, b = runOn(a, within), runOn(b.Reverse(), within)
	best := within
	for _, x := range geom.Crossings(a, b, geom.Coincident) {
		if far := x.At.Dist(c.at); far <= best {
			best, ok = far, true
			m = mitre{x.At, a.Part(0, x.E), b.Part(0, x.F).Reverse()}
			m.in.B, m.out.A = x.At, x.At
		}
	}
	return m, ok
}

// runOn is what follows an edge, for some mm or just under half a circle.
func runOn(e geom.Edge, length float64) geom.Edge {
	const most = 0.95 * math.Pi
	t := length / e.Length()
	if e.Bulge != 0 {
		t = math.Min(t, most/math.Abs(e.Sweep()))
	}
	return e.Part(1, 1+t)
}

// tip is what a bit of radius r leaves in the corner of a groove of half-width
// h: what lies between its two outer walls beyond the disc that touches both.
func (c corner) tip(h, r float64) (region.Region, bool) {
	if c.turn < 0 {
		c = c.reverse()
	}
	m, ok := c.mitre(h, mitreLimit*h)
	disc, okDisc := c.mitre(math.Max(0, h-r), mitreLimit*h)
	if !ok || !okDisc {
		return region.Region{}, false
	}
	a, b := foot(m.in, disc.tip), foot(m.out, disc.tip)
	return region.New(geom.Chain(true,
		m.in.Part(a, 1), m.out.Part(0, b),
		geom.ArcThrough(m.out.At(b), m.in.At(a), disc.tip, false))), true
}

// overhangs are the corners of the arms' flats on the inside of a corner that may
// stick out of the other arm, since that is short. They are right angles, as at a
// free end.
func (c corner) overhangs(h float64) []geom.Point {
	if c.turn < 0 {
		c = c.reverse()
	}
	var out []geom.Point
	if c.in.Length() < 2*h {
		out = append(out, c.out.Shift(h).A)
	}
	if c.out.Length() < 2*h {
		out = append(out, c.in.Shift(h).B)
	}
	return out
}

// foot is the fraction of an edge nearest to p.
func foot(e geom.Edge, p geom.Point) float64 {
	_, t := e.Nearest(p)
	return t
}
