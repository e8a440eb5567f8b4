package groove

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// sides returns the ends of the stretches parallel to a smooth chain at
// distance h: its band with flat ends as one closed contour.
func bandContour(line geom.Contour, h float64) geom.Contour {
	var edges []geom.Edge
	edges = appendSide(edges, line, h) // the right, forward
	edges = appendSide(edges, line.Reverse(), h)
	if len(edges) > 0 {
		edges = append(edges, geom.Line(edges[len(edges)-1].B, edges[0].A))
	}
	return geom.Chain(true, edges...)
}

// appendSide appends the side of line at distance h to its right, joined to
// what is there by a straight edge, and outside a kink by way of its tip.
func appendSide(edges []geom.Edge, line geom.Contour, h float64) []geom.Edge {
	for i := range line.Len() {
		e := line.Edge(i)
		s := e.Shift(-h)
		if e.Bulge < 0 && e.Radius() <= h {
			s = geom.Line(e.Center(), e.Center()) // no inner side: the band reaches the centre
		}
		if i > 0 {
			if tip, ok := kinkTip(line.Edge(i-1), e, -h); ok {
				edges = append(edges, geom.Line(edges[len(edges)-1].B, tip))
			}
		}
		if n := len(edges); n > 0 && edges[n-1].B != s.A {
			edges = append(edges, geom.Line(edges[n-1].B, s.A))
		}
		if s.A != s.B {
			edges = append(edges, s)
		} else if len(edges) == 0 {
			edges = append(edges, geom.Edge{A: s.A, B: s.A})
		}
	}
	return edges
}

// A smooth strand may still turn a little where two edges meet: a kink. Beside
// it the two edges' bands overlap on the inside and part on the outside. The
// gap there is closed everywhere in one way: to the tip where the walls'
// tangents meet. Two arcs' own sides meet off that tip by (h turn)^2 / 8 R: at
// half a degree and h = R = 5 mm that is 0.00005 mm.

// turning is the angle in [-pi, pi] by which the direction of travel turns from
// the end of e to the start of f, positive to the left.
func turning(e, f geom.Edge) float64 {
	u, v := e.Tangent(1), f.Tangent(0)
	return math.Atan2(u.Cross(v), u.Dot(v))
}

// kinkTip is the tip of the kink between e and f at the distance h to the left,
// or to the right for h < 0; none where that is the inside, or where the sides
// part by nothing.
func kinkTip(e, f geom.Edge, h float64) (geom.Point, bool) {
	turn := turning(e, f)
	if turn*h > -geom.Coincident {
		return geom.Point{}, false
	}
	out := e.Tangent(1).Add(f.Tangent(0)).Unit().Left()
	return f.A.Add(out.Scale(h / math.Cos(turn/2))), true
}

// kinkKite closes the gap between the bands of half-width h of two edges that
// meet in a kink; empty where there is none.
func kinkKite(e, f geom.Edge, h float64) region.Region {
	for _, side := range [2]float64{h, -h} {
		if tip, ok := kinkTip(e, f, side); ok {
			a, b := e.Shift(side), f.Shift(side)
			s, t := lap(e), lap(f)
			return region.New(geom.Polygon(e.At(1-s), a.At(1-s), tip, b.At(t), f.At(t), f.A))
		}
	}
	return region.Region{}
}

// kinkLap is how far in mm a kink's kite laps over the bands beside it: a gap that
// is about as wide as areas can show would else leave a slit between them. The
// chords of the walls are off them by a lap squared over 8 R there, for R of 2 mm
// less than Coincident.
const kinkLap = 0.001

// lap is the fraction of an edge that is kinkLap long, half the edge at most.
func lap(e geom.Edge) float64 { return math.Min(kinkLap/e.Length(), 0.5) }

// band is the area within h of line, sideways only: its ends are flat. line
// is smooth but for kinks.
func band(line geom.Contour, h float64) region.Region {
	if line.Len() == 0 || h <= 0 {
		return region.Region{}
	}
	return region.New(bandContour(line, h))
}

// A Corner is a place where a strand turns sharply: two arms meet at P.
type Corner struct {
	Strand int
	S      float64 // distance along the strand
	P      geom.Point
	In     geom.Edge // the arm that ends at P
	Out    geom.Edge // the arm that begins there
}

// Turn is the angle that the strand turns by, positive to the left.
func (c Corner) Turn() float64 { return turning(c.In, c.Out) }

// Included is the angle between the arms, t: a right angle is pi/2.
func (c Corner) Included() float64 { return math.Pi - math.Abs(c.Turn()) }

// outer is the side of the corner on which the arms' sides part: +1 on the
// left of the strand, -1 on the right.
func (c Corner) outer() float64 {
	if c.Turn() > 0 {
		return -1
	}
	return 1
}

// mitreLimit is the distance from a corner, in groove widths, within which the
// outer sides must meet; 15 degrees between two straights just do.
const mitreLimit = 4

// sharpest is the least angle between two arms that can be mitred.
const sharpest = 15 * math.Pi / 180

// meeting is where the arms' outer sides at distance h meet, if that is
// within limit of the corner: the mitre's point for half the groove's width,
// T for the play. The edges lead along the outer sides from the corner's
// normals to it.
func (c Corner) meeting(h, limit float64) (m geom.Point, in, out geom.Edge, ok bool) {
	if h == 0 {
		return c.P, geom.Line(c.P, c.P), geom.Line(c.P, c.P), true
	}
	side := c.outer() * h
	a, b := extended(c.In.Shift(side), limit), extended(c.Out.Reverse().Shift(-side), limit)
	if turnsOver(c.In, side) || turnsOver(c.Out, side) {
		return m, in, out, false
	}
	for _, x := range geom.Crossings(a, b, geom.Coincident) {
		if x.At.Dist(c.P) <= limit {
			return x.At, a.Part(0, x.E), b.Part(0, x.F), true
		}
	}
	return m, in, out, false
}

// turnsOver reports whether shifting e to the left by d takes an arc past its
// centre.
func turnsOver(e geom.Edge, d float64) bool { return d*e.Bulge > 0 && math.Abs(d) >= e.Radius() }

// extended is the continuation of e past its end for the given length, less
// than half a circle.
func extended(e geom.Edge, length float64) geom.Edge {
	t := length / e.Length()
	if e.Bulge != 0 {
		t = math.Min(t, 0.95*math.Pi/math.Abs(e.Sweep()))
	}
	return e.Part(1, 1+t)
}

// kite is the mitre's outside for a groove of half-width h: the area between
// the arms' flat ends and their outer sides.
func (c Corner) kite(h float64) (region.Region, bool) {
	_, in, out, ok := c.meeting(h, mitreLimit*2*h)
	if !ok {
		return region.Region{}, false
	}
	return region.New(geom.Chain(true, geom.Line(c.P, in.A), in, out.Reverse(), geom.Line(out.A, c.P))), true
}
