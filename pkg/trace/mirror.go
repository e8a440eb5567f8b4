package trace

// Symmetry in an axis: a drawing that falls on its reflection, but for the tolerance, is the
// mean of itself and its reflection.

import (
	"math"
	"math/cmplx"

	"strapwork/pkg/geom"
)

// An axis is a line in which a drawing is reflected.
type axis struct {
	through geom.Point
	angle   float64 // radians, 0 along x
}

// reflection is the map that an axis makes.
func (a axis) reflection() geom.Similarity {
	flat := geom.Shifting(a.through.Scale(-1)).Then(turning(-a.angle))
	return flat.Then(geom.MirrorX()).Then(turning(a.angle)).Then(geom.Shifting(a.through))
}

// foot is the nearest to a point on an axis.
func (a axis) foot(p geom.Point) geom.Point {
	way := geom.Polar(1, a.angle)
	return a.through.Add(way.Scale(p.Sub(a.through).Dot(way)))
}

const (
	// axisStep is the angle to whose multiples an axis is pulled that is nearly so, in radians.
	axisStep = math.Pi / 24
	// mostWaves bounds the waves around its middle by which a drawing's axes are found: it has
	// up to mostTurns axes, and its first wave has as many, or twice as many.
	mostWaves = 2 * mostTurns
	// flatWave is the share of a wave from which on it says where axes are; samples alone
	// make less.
	flatWave = 1e-4
)

// axes are the lines through its middle in which the figure falls on itself but for a
// slack. Reflecting in a line at an angle a conjugates what a figure's k-th wave is there,
// so that the wave's phase is a k or a k + pi.
func (f figure) axes(slack float64) (all []axis) {
	var whole, reach float64
	var waves [mostWaves + 1]complex128
	for _, p := range f.places {
		d := p.Sub(f.middle)
		whole, reach = whole+d.Norm(), max(reach, d.Norm())
		for k := 1; k <= mostWaves; k++ {
			waves[k] += cmplx.Rect(d.Norm(), float64(k)*d.Angle())
		}
	}
	best := 1
	for k := range waves {
		if cmplx.Abs(waves[k]) > cmplx.Abs(waves[best])*(1+1e-6) {
			best = k
		}
	}
	if cmplx.Abs(waves[best]) < flatWave*whole {
		return nil
	}
	for m := range 2 * best {
		a := axis{f.middle, (cmplx.Phase(waves[best]) + float64(m)*math.Pi) / float64(best)}
		if near := axisStep * math.Round(a.angle/axisStep); math.Abs(near-a.angle)*reach <= slack {
			a.angle = near
		}
		// Lines are the same after half a turn.
		if a.angle > -1e-9 && a.angle < math.Pi-1e-9 && f.onto(a.reflection(), slack) {
			all = append(all, a)
		}
	}
	return all
}

// onto reports whether a map takes the figure onto itself.
func (f figure) onto(move geom.Similarity, slack float64) bool {
	for _, p := range f.places {
		if !f.holds(move.Apply(p), slack) {
			return false
		}
	}
	return true
}

// reflected reports whether what was laid is its own reflection, as it is written.
func (d Traced) reflected(in axis) bool {
	var all []geom.Contour
	for k := range d.Copies {
		for _, e := range d.Elements {
			all = append(all, d.Turned(e.Contour, k))
		}
	}
	return newFigure(all).onto(in.reflection(), written)
}

// written is by how much in mm a place is out where coordinates are rounded.
const written = 3 / places

// mirrored makes contours symmetric in an axis, where their lines and arcs answer one
// another; it prefers an axis that lies flat, and then an upright one.
func (t *tracer) mirrored(cs []geom.Contour) (all []geom.Contour, in axis, ok bool) {
	f := newFigure(cs)
	slack := 2 * t.p.Tolerance // both may be out by it
	axes := f.axes(slack)
	if len(axes) == 0 {
		return nil, in, false
	}
	in = axes[0]
	for _, a := range axes {
		if awry(a.angle+t.p.Size.Turn) < awry(in.angle+t.p.Size.Turn)-1e-9 {
			in = a
		}
	}
	// With its turns: what has n axes has n turns.
	var moves []geom.Similarity
	for k := range axes {
		turn := about(f.middle, k, len(axes))
		moves = append(moves, turn, in.reflection().Then(turn))
	}
	plain := make([]geom.Contour, len(cs))
	for i, c := range cs {
		plain[i] = plainest(c)
	}
	all, ok = evened(plain, moves, slack)
	return all, in, ok
}

// awry is 0 for an axis that lies flat, least for an upright one, and more for others.
func awry(angle float64) float64 {
	flat := math.Abs(math.Sin(angle))
	if flat > 1-1e-12 {
		return 1e-6
	}
	return flat
}

// evened is each contour as the mean of all that moves lay on it, where those are made of
// lines and arcs that answer one another. The moves are a group: each two one after the
// other are one of them.
func evened(cs []geom.Contour, moves []geom.Similarity, slack float64) (all []geom.Contour, ok bool) {
	for _, c := range cs {
		var same []geom.Contour
		for _, move := range moves {
			for _, other := range cs {
				laid := move.Contour(other)
				if !alike(laid, c, 2*slack) {
					continue
				}
				if laid, ok = aligned(c, laid, slides*slack); !ok {
					return nil, false
				}
				same = append(same, laid)
				break
			}
		}
		if len(same) < len(moves) {
			return nil, false
		}
		all = append(all, mean(same))
	}
	return all, true
}

// slides is how many slacks the joints of smooth lines and arcs may lie apart that answer
// one another.
const slides = 10

// aligned is a contour b that nearly is another and is made of as many lines and arcs, the
// same way round and from the same start.
func aligned(a, b geom.Contour, far float64) (best geom.Contour, ok bool) {
	n := len(a.Vertices)
	if circle(a) && circle(b) {
		return geom.Circle(b.Edge(0).Center(), b.Edge(0).Radius()), true
	}
	if len(b.Vertices) != n || a.Closed != b.Closed {
		return best, false
	}
	starts := 1
	if a.Closed {
		starts = n
	}
	least := math.Inf(1)
	for _, c := range [2]geom.Contour{b, b.Reverse()} {
		for k := range starts {
			if a.Closed {
				c = c.Rotate(min(1, k))
			}
			if off, near := asunder(a, c, far); near && off < least {
				least, best = off, c
			}
		}
	}
	return best, least < math.Inf(1)
}

// circle reports whether a plainest contour is a circle.
func circle(c geom.Contour) bool {
	return c.Closed && c.Len() == 2 && math.Abs(math.Abs(c.Vertices[0].Bulge)-1) < 1e-9 && math.Abs(c.Vertices[0].Bulge-c.Vertices[1].Bulge) < 1e-9
}

// asunder is how far all in all the vertices of two contours lie apart; not near where any
// lies farther, or an edge is bent otherwise.
func asunder(a, b geom.Contour, far float64) (off float64, near bool) {
	const bent = 0.05 // more than joints slide, less than another edge's
	for i, v := range a.Vertices {
		w := b.Vertices[i]
		d := v.Dist(w.Point)
		if d > far || math.Abs(v.Bulge-w.Bulge) > bent {
			return 0, false
		}
		off += d
	}
	return off, true
}

// mean is that of contours that are made of as many lines and arcs.
func mean(cs []geom.Contour) geom.Contour {
	out := geom.Contour{Closed: cs[0].Closed, Vertices: make([]geom.Vertex, len(cs[0].Vertices))}
	share := 1 / float64(len(cs))
	for i := range out.Vertices {
		v := &out.Vertices[i]
		for _, c := range cs {
			v.Point = v.Point.Add(c.Vertices[i].Scale(share))
			v.Bulge += float64(c.Vertices[i].Bulge * share)
		}
	}
	return out
}

// plainest is a contour in as few lines and arcs as say it, arcs of more than half a turn
// in equal parts: two that are alike are made of as many.
func plainest(c geom.Contour) geom.Contour {
	c = begun(geom.Chain(c.Closed, united(c.Edges(), c.Closed, exactOff)...))
	steps := runs(c)
	if c.Closed && len(steps) == 1 {
		return c
	}
	var edges []geom.Edge
	for i, s := range steps {
		to := c.End()
		if i+1 < len(steps) {
			to = steps[i+1].from
		} else if c.Closed {
			to = steps[0].from
		}
		if math.Abs(s.sweep) <= math.Pi {
			edges = append(edges, geom.Edge{A: s.from, B: to, Bulge: math.Tan(s.sweep / 4)})
			continue
		}
		arcs := geom.Arc(s.center(), s.radius, s.from.Sub(s.center()).Angle(), s.sweep)
		arcs[0].A, arcs[len(arcs)-1].B = s.from, to
		edges = append(edges, arcs...)
	}
	return geom.Chain(c.Closed, edges...)
}
