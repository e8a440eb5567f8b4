package toolpath

// What lanes leave between them at sharp corners.
//
// Along a smooth stretch all that is b/2 from each of two lanes b apart is cut. At
// a corner of included angle t, look along the line that halves it, from the outer
// lane's corner inwards: a point whose distance from the outer lane's arms is x is
// (s - x) / sin(t/2) from the inner lane's corner, s the lanes' distance, and has
// no foot on the inner lane's arms. It is cut when x <= b/2 or s - x <= b/2
// sin(t/2): nothing is left when s <= b/2 (1 + sin(t/2)). Else a wedge is left,
// its point b/2 from the outer arms, no wider than b cos(t/2) (s - b/2) / (b/2).
// From the inner lane's corner the bit runs out along the halving line, on which
// the corners of all lanes between lie, until it cuts the wedge's point, and
// back (derived). Arms that bend are off their tangents by at most s^2 / 2 radius
// within that distance, and lanes meet at other angles than the centre line does.

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
)

// A tip is a way aside from a lane's corner towards the next lane's.
type tip struct {
	at  geom.Point // the corner
	out []geom.Edge
}

// corners calls visit with each corner's two edges.
func (c course) corners(visit func(in, out geom.Edge)) {
	n := c.line.Len()
	for i := range n {
		if i == 0 && !c.line.Closed {
			continue
		}
		if e, f := c.line.Edge((i+n-1)%n), c.line.Edge(i); math.Abs(turn(e, f)) > smooth {
			visit(e, f)
		}
	}
}

// tips are the ways aside that a layer's lanes need.
func (c course) tips(l layer) (list []tip) {
	if l.cleared {
		return nil
	}
	c.corners(func(in, out geom.Edge) {
		some, _ := c.cornerTips(l, in, out)
		list = append(list, some...)
	})
	return list
}

// cornerTips are the ways aside at the corner between two edges. It is false
// where they may not do: lanes' corners that aren't on the corner's arms, or arms
// that bend too much.
func (c course) cornerTips(l layer, in, out geom.Edge) (list []tip, sure bool) {
	sure = true
	for i := 1; i < len(l.offsets); i++ {
		inner, outer := l.offsets[i-1], l.offsets[i]
		if (inner > outer) != (turn(in, out) > 0) {
			inner, outer = outer, inner
		}
		t, needed, ok := c.tip(in, out, inner, outer)
		if sure = sure && ok; needed && ok {
			list = append(list, t)
		}
	}
	return list, sure
}

// sureTips reports whether ways aside cut all that is left between a corner's
// lanes.
func (c course) sureTips(o Params, in, out geom.Edge) bool {
	for _, l := range c.layers(o) {
		if !l.cleared {
			if _, sure := c.cornerTips(l, in, out); !sure {
				return false
			}
		}
	}
	return true
}

// tip is the way aside at the corner between two edges from the lane at an inner
// offset towards the one at an outer offset; whether it is needed, and whether it
// is known to do.
func (c course) tip(in, out geom.Edge, inner, outer float64) (t tip, needed, ok bool) {
	half, gap := c.bit/2, math.Abs(inner-outer)
	sine, bend := 1.0, 0.0
	for _, d := range [3]float64{inner, (inner + outer) / 2, outer} {
		at, ok := meet(in, out, d)
		if !ok {
			return tip{}, true, false
		}
		sine = min(sine, math.Cos(at.turn/2))
		bend = max(bend, at.bend)
	}
	off := gap * gap / 2 * bend
	switch wide := (gap - half) * math.Sqrt(max(0, 1-sine*sine)); { // to either side
	case gap <= half*(1+sine)-off-c.overlap():
		return tip{}, false, true
	case wide+2*off > half:
		return tip{}, true, false
	}
	stop := half + min(half*sine, (gap-half)/2) - c.overlap() // from the outer lane
	from, _ := meet(in, out, inner)
	to := outer + (inner-outer)*stop/gap
	return tip{from.Point, c.halving(in, out, inner, to)}, true, true
}

// A laneCorner is the corner of a lane.
type laneCorner struct {
	geom.Point
	turn float64 // there
	bend float64 // the greater curvature of the lane's edges beside it, 1/mm
}

// meet is the corner of the lane at a distance to the left of two edges; false
// where the lane turns otherwise than in one corner.
func meet(in, out geom.Edge, d float64) (laneCorner, bool) {
	lane := parallel(geom.Chain(false, in, out), d)
	if lane.Len() != 2 {
		return laneCorner{}, false
	}
	e, f := lane.Edge(0), lane.Edge(1)
	return laneCorner{e.B, turn(e, f), max(math.Abs(e.Curvature()), math.Abs(f.Curvature()))}, true
}

// halving is the way through the corners of all lanes from one offset to another,
// off it by no more than part of what its cuts overlap the lanes'.
func (c course) halving(in, out geom.Edge, from, to float64) []geom.Edge {
	a, _ := meet(in, out, from)
	m, _ := meet(in, out, (from+to)/2)
	b, _ := meet(in, out, to)
	whole := geom.Line(a.Point, b.Point)
	if whole.Dist(m.Point) <= c.overlap()/4 || math.Abs(from-to) < c.overlap() {
		return []geom.Edge{whole}
	}
	return append(c.halving(in, out, from, (from+to)/2), c.halving(in, out, (from+to)/2, to)...)
}

// withTips is a run of the course with the ways aside that its lanes need.
func (c course) withTips(r Run, o Params) Run {
	for _, l := range c.layers(o) {
		tips := c.tips(l)
		if len(tips) == 0 {
			continue
		}
		var at []geom.Box
		for _, t := range tips {
			at = append(at, geom.Box{Min: t.at, Max: t.at})
		}
		index := geom.NewIndex(at)
		r.Passes = slices.Clone(r.Passes)
		for i, p := range r.Passes {
			if p.Depth == l.depth && (p.Role == Rough) == (l.role == Rough) {
				r.Passes[i].Moves = p.led(tips, index)
			}
		}
	}
	return r
}

// led are a pass's moves with ways aside where they pass a corner that has one.
func (p Pass) led(tips []tip, index geom.Index) []Move {
	var moves []Move
	z := -p.Depth
	for i, m := range p.Moves {
		moves = append(moves, m)
		if m.Z != z || m.Role != p.Role || i+1 == len(p.Moves) || p.Moves[i+1].Role != p.Role {
			continue
		}
		index.Search(geom.Box{Min: m.Edge.B, Max: m.Edge.B}.Expand(geom.Coincident), func(k int) bool {
			at := m.Edge.B
			way := slices.Concat(tips[k].out, geom.Chain(false, tips[k].out...).Reverse().Edges())
			way[0].A, way[len(way)-1].B = at, at
			for _, e := range way {
				moves = append(moves, Move{e, z, Between})
			}
			return true
		})
	}
	return moves
}
