package trace

import (
	"math"

	"strapwork/pkg/geom"
)

// measure says how far each element lies from the drawing, and the drawing from the
// elements: samples of one are held against the other, both ways.
func (t *tracer) measure(out *Traced) {
	var drawn [][]geom.Point
	for _, line := range t.reference() {
		drawn = append(drawn, moved(line, t.lay))
	}
	var edges []geom.Edge
	var boxes []geom.Box
	var of []int
	turns := max(1, out.Copies)
	for i, e := range out.Elements {
		for k := range turns {
			turn := about(out.Center, k, turns)
			for _, g := range e.Contour.Edges() {
				g = turn.Edge(g)
				edges, boxes, of = append(edges, g), append(boxes, g.Bounds()), append(of, i)
			}
		}
	}
	index := geom.NewIndex(boxes)
	note := func(i int, off float64, at geom.Point) {
		if e := &out.Elements[i]; off > e.Off {
			e.Off, e.At = off, at
		}
	}
	for _, line := range drawn {
		for _, p := range line {
			near := -1
			best := index.Nearest(p, func(i int) float64 { return edges[i].Dist(p) })
			index.Search(geom.Box{Min: p, Max: p}.Expand(best*(1+1e-9)), func(i int) bool {
				if edges[i].Dist(p) <= best*(1+1e-9) && (near < 0 || of[i] < of[near]) {
					near = i
				}
				return true
			})
			if near >= 0 {
				note(of[near], best, p)
			}
		}
	}
	lines := newPolyline(drawn...)
	for i, e := range edges {
		n := t.looks(e)
		for k := range n + 1 {
			p := e.At(float64(k) / float64(n))
			if off, ok := t.onto(lines, p, e.Tangent(float64(k)/float64(n))); ok {
				note(of[i], off, p)
			}
		}
	}
	t.rep.Exact, t.rep.Off = true, 0
	for i, e := range out.Elements {
		exact := e.Off <= 1.1*t.fine()
		out.Elements[i].Exact, t.rep.Exact = exact, t.rep.Exact && exact
		if e.Off > t.rep.Off {
			t.rep.Off, t.rep.OffAt = e.Off, e.At
		}
	}
}

// about is the k-th of n turns about a point.
func about(c geom.Point, k, n int) geom.Similarity {
	if k == 0 {
		return geom.Identity()
	}
	return geom.Shifting(c.Scale(-1)).Then(geom.TurningFraction(k, n)).Then(geom.Shifting(c))
}

// apart is about how far in mm from one another the places of an edge are that are held
// against the drawing.
const apart = 0.5

func (t *tracer) looks(e geom.Edge) int {
	return int(max(8, min(2000, math.Ceil(e.Length()/apart))))
}

// reference is what the trace is held against: the lines as drawn, or the middles that
// were seen between edges.
func (t *tracer) reference() [][]geom.Point {
	if t.p.Edges {
		return t.seen
	}
	var all [][]geom.Point
	for _, s := range t.strokes {
		all = append(all, s.points)
	}
	return all
}

// onto is how far a place of the trace is out; not ok where the drawing shows nothing: in
// gaps, and between a band's edges where they end at others.
func (t *tracer) onto(lines *polyline, p, way geom.Point) (float64, bool) {
	off := lines.distAlong(p, way)
	if t.p.Edges {
		return off, off <= hiddenFrom*t.p.Tolerance && !t.pastEnd(p, off)
	}
	if off <= hiddenFrom*t.p.Tolerance {
		return off, true
	}
	for _, g := range t.gaps {
		if within := geom.Line(t.lay.Apply(g.a), t.lay.Apply(g.b)); within.Dist(p) < within.Length()/4 {
			return 0, false
		}
	}
	return off, true
}

// hiddenFrom is how many tolerances from all that is drawn a place is that the drawing
// doesn't show.
const hiddenFrom = 4

// pastEnd reports whether the nearest to a place is an end of what was seen: it lies where
// nothing is.
func (t *tracer) pastEnd(p geom.Point, off float64) bool {
	for _, line := range t.seen {
		for _, q := range [2]geom.Point{line[0], line[len(line)-1]} {
			if t.lay.Apply(q).Dist(p) <= off*(1+1e-9) {
				return true
			}
		}
	}
	return false
}
