package motif

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/work"
)

// A shape is one element in the frame in which it was drawn, taken apart into
// runs. What is moved, to join ends and to make them tangent, are the shapes;
// the copies are made again afterwards, so that they stay copies.
type shape struct {
	element int // index into the job's elements: of the first of those that groups make of one
	from    work.Element
	contour geom.Contour // as drawn
	runs    []run
	first   int       // the number of its first node
	keeps   []int     // the members of the group that move it onto itself, 0 among them
	turns   []bool    // of each of these: it then runs the other way
	pieces  []int     // of each member of the group: the piece that it moves the shape onto
	back    []bool    // and whether that piece runs the other way
	sweeps  []float64 // of each run, as it is now
	ring    bool      // a full circle, which has no nodes
}

// A run is a line, or an arc of less than a full turn, however many edges it
// was drawn in. It goes from one node to the next.
type run struct {
	cuts  []float64 // fractions of its length at which its edges end, but for the last
	sweep float64   // as drawn; 0 for a line
	edge  int       // its first edge
}

// oneCurve is how far, in mm and in radians, two edges of one line or circle
// may seem to be from being that, for nothing but the rounding of 100 m.
const oneCurve = 1e-9

// fullTurn is the sweep in radians at which an arc has no chord left that would
// say where it lies; such a circle is drawn closed.
const fullTurn = 2*math.Pi - 1e-3

func newShape(element int, from work.Element, c geom.Contour) shape {
	edges := c.Edges()
	s := shape{element: element, from: from, contour: c, ring: c.Closed && isRing(edges)}
	for i := 0; i < len(edges); {
		n, sweep := 1, edges[i].Sweep()
		for i+n < len(edges) && continues(edges[i+n-1], edges[i+n]) && math.Abs(sweep+edges[i+n].Sweep()) < fullTurn {
			sweep += edges[i+n].Sweep()
			n++
		}
		s.runs = append(s.runs, newRun(edges[i:i+n], i, sweep))
		i += n
	}
	for _, r := range s.runs {
		s.sweeps = append(s.sweeps, r.sweep)
	}
	return s
}

func newRun(edges []geom.Edge, first int, sweep float64) run {
	r := run{sweep: sweep, edge: first}
	var total, sum float64
	for _, e := range edges {
		total += e.Length()
	}
	for _, e := range edges[:len(edges)-1] {
		sum += e.Length()
		r.cuts = append(r.cuts, sum/total)
	}
	return r
}

// continues reports whether f goes on along the line or circle of e.
func continues(e, f geom.Edge) bool {
	if e.IsLine() != f.IsLine() || turn(e, f) > oneCurve {
		return false
	}
	return e.IsLine() || e.Bulge*f.Bulge > 0 &&
		e.Center().Near(f.Center(), oneCurve*(1+e.Radius())) && math.Abs(e.Radius()-f.Radius()) <= oneCurve*(1+e.Radius())
}

// isRing reports whether the edges of a closed contour are one full circle.
func isRing(edges []geom.Edge) bool {
	for i, e := range edges {
		if e.IsLine() || !continues(e, edges[(i+1)%len(edges)]) {
			return false
		}
	}
	return true
}

// nodes is the number of places at which its runs begin or end.
func (s *shape) nodes() int {
	switch {
	case s.ring:
		return 0
	case s.contour.Closed:
		return len(s.runs)
	}
	return len(s.runs) + 1
}

// ends are the nodes of a run.
func (s *shape) ends(run int) (from, to int) {
	if s.contour.Closed && run == len(s.runs)-1 {
		return s.first + run, s.first
	}
	return s.first + run, s.first + run + 1
}

// drawn is where the i-th of the shape's nodes was drawn.
func (s *shape) drawn(i int) geom.Point {
	if i == len(s.runs) {
		return s.contour.End()
	}
	return s.contour.Vertices[s.runs[i].edge].Point
}

// end is the node of one of an open shape's two ends.
func (s *shape) end(side int) int {
	if side == 0 {
		return s.first
	}
	return s.first + len(s.runs)
}

// bent is the point at the fraction t of the arc from a to b with a sweep,
// which may be more than a half turn, or of the line for 0 (the inscribed
// angle's theorem: see geom.Edge.At).
func bent(a, b geom.Point, sweep, t float64) geom.Point {
	if sweep == 0 || t == 0 || t == 1 {
		return a.Lerp(b, t)
	}
	half := sweep / 2
	return a.Add(b.Sub(a).Turn(-half * (1 - t)).Scale(math.Sin(half*t) / math.Sin(half)))
}

// edges draws a run from a to b, cut where it was drawn cut; and again where
// an edge would now be more than a half circle.
func (r run) edges(a, b geom.Point, sweep float64) []geom.Edge {
	cuts := []float64{0}
	for _, t := range append(append([]float64(nil), r.cuts...), 1) {
		last := cuts[len(cuts)-1]
		if math.Abs(sweep)*(t-last) > math.Pi {
			cuts = append(cuts, (last+t)/2)
		}
		cuts = append(cuts, t)
	}
	var es []geom.Edge
	for i := range len(cuts) - 1 {
		es = append(es, geom.Edge{
			A: bent(a, b, sweep, cuts[i]), B: bent(a, b, sweep, cuts[i+1]),
			Bulge: math.Tan(sweep * (cuts[i+1] - cuts[i]) / 4),
		})
	}
	return es
}
