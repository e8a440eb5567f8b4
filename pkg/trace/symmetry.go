package trace

// Symmetry of the whole: a drawing that falls on itself when it is turned, but for the
// tolerance, is one part and its exact turns.

import (
	"math"

	"strapwork/pkg/geom"
)

// mostTurns bounds the turns that are tried: more are drawn with copies.
const mostTurns = 24

// A symmetric drawing is one part and its turns about a centre.
type symmetric struct {
	center geom.Point
	turns  int
	part   []geom.Contour
	in     *axis // in which it is its own reflection as well; nil where it isn't
}

// symmetries are what the drawing may be taken for, the most regular first.
func (t *tracer) symmetries(cs []geom.Contour) (all []symmetric) {
	if !t.p.Snap || len(cs) == 0 {
		return nil
	}
	if even, in, ok := t.mirrored(cs); ok {
		s, turns := t.symmetry(even)
		if !turns {
			// The middle of the drawing's width and height was laid to 0.
			s = symmetric{center: in.foot(geom.Point{}), turns: 1, part: even}
		}
		s.in = &in
		all = append(all, s)
	}
	if s, ok := t.symmetry(cs); ok {
		all = append(all, s)
	}
	return all
}

// A figure answers how far places are from some contours.
type figure struct {
	edges  []geom.Edge
	index  geom.Index
	places []geom.Point // along them, evenly
	middle geom.Point   // of the places
}

// placesOf is how many places are looked at, all in all.
const placesOf = 1500

func newFigure(cs []geom.Contour) figure {
	var f figure
	var boxes []geom.Box
	var total float64
	for _, c := range cs {
		total += c.Length()
		for _, e := range c.Edges() {
			f.edges, boxes = append(f.edges, e), append(boxes, e.Bounds())
		}
	}
	f.index = geom.NewIndex(boxes)
	var sum geom.Point
	var weight float64
	for _, e := range f.edges {
		n := int(math.Ceil(placesOf * e.Length() / total))
		for k := range n {
			p := e.At((float64(k) + 0.5) / float64(n))
			f.places = append(f.places, p)
			w := e.Length() / float64(n)
			sum, weight = sum.Add(p.Scale(w)), weight+w
		}
	}
	f.middle = sum.Scale(1 / weight)
	return f
}

func (f figure) holds(p geom.Point, slack float64) bool {
	hit := false
	f.index.Search(geom.Box{Min: p, Max: p}.Expand(slack), func(i int) bool {
		hit = f.edges[i].Dist(p) <= slack
		return !hit
	})
	return hit
}

// turned reports whether a turn by 1/n takes the figure onto itself.
func (f figure) turned(n int, slack float64) bool {
	return f.onto(about(f.middle, 1, n), slack)
}

// symmetry finds the turns of a drawing, and its part.
func (t *tracer) symmetry(cs []geom.Contour) (symmetric, bool) {
	f := newFigure(cs)
	slack := 2 * t.p.Tolerance // both may be out by it
	for n := mostTurns; n > 1; n-- {
		if f.turned(n, slack) {
			return symmetric{center: f.middle, turns: n, part: partOf(cs, f.middle, n, slack)}, true
		}
	}
	return symmetric{}, false
}

// partOf is what of the contours makes all of them by its turns.
func partOf(cs []geom.Contour, center geom.Point, n int, slack float64) (part []geom.Contour) {
	done := make([]bool, len(cs))
	for i, c := range cs {
		if done[i] {
			continue
		}
		own := 1 // turns that take the contour onto itself, the one by nothing counted
		for k := 1; k < n; k++ {
			turned := about(center, k, n).Contour(c)
			for j := i; j < len(cs); j++ {
				if !done[j] && alike(turned, cs[j], slack) {
					if j == i {
						own++
					} else {
						done[j] = true
					}
					break
				}
			}
		}
		part = append(part, share(c, center, own, slack))
	}
	return part
}

// alike reports whether two contours are the same curve.
func alike(a, b geom.Contour, slack float64) bool {
	if math.Abs(a.Length()-b.Length()) > 4*slack*math.Sqrt(float64(1+a.Len())) || a.Closed != b.Closed {
		return false
	}
	p, q := a.Bounds(), b.Bounds()
	if !p.Min.Near(q.Min, 2*slack) || !p.Max.Near(q.Max, 2*slack) {
		return false
	}
	f := newFigure([]geom.Contour{b})
	for _, e := range a.Edges() {
		for _, u := range [5]float64{0.02, 0.31, 0.5, 0.69, 0.98} {
			if !f.holds(e.At(u), slack) {
				return false
			}
		}
	}
	return true
}

// share is the n-th of a contour that its turns by 1/n make the whole of; the whole, where
// that can't be.
func share(c geom.Contour, center geom.Point, n int, slack float64) geom.Contour {
	if n == 1 {
		return c
	}
	c = begun(c)
	if len(runs(c)) == 1 && c.Closed && !c.Edge(0).IsLine() {
		return geom.Circle(center, c.Edge(0).Radius())
	}
	length := c.Length()
	want := length / float64(n)
	if !c.Closed {
		if half, _ := c.At(want); n == 2 && half.Near(center, slack) {
			return ending(c.Sub(0, want), center)
		}
		return c
	}
	start, way := c.At(0)
	at, then := c.At(want)
	for k := 1; k < n; k++ {
		turn := about(center, k, n)
		end := turn.Apply(start)
		if ahead := turn.Apply(start.Add(way)).Sub(end); !at.Near(end, 4*slack) || ahead.Dot(then) < 0.9 && !vertexNear(c, end, 4*slack) {
			continue
		}
		return meant(c, center, k, n, slack, end)
	}
	return c
}

// meant is the share of a closed contour as the mean of all its shares, where they are made
// of as many edges; else the first. The share runs on in its k-th turn.
func meant(c geom.Contour, center geom.Point, k, n int, slack float64, end geom.Point) geom.Contour {
	want := c.Length() / float64(n)
	first := ending(c.Sub(0, sNear(c, want, 4*slack)), end)
	mean := geom.Contour{Vertices: make([]geom.Vertex, len(first.Vertices))}
	for i := range n {
		from, to := sNear(c, float64(i)*want, 4*slack), sNear(c, float64(i+1)*want, 4*slack)
		part := about(center, ((n-k)*i)%n, n).Contour(c.Sub(from, to))
		if len(part.Vertices) != len(first.Vertices) {
			return first
		}
		for j, v := range part.Vertices {
			if !v.Near(first.Vertices[j].Point, 4*slack) {
				return first
			}
			m := &mean.Vertices[j]
			m.Point, m.Bulge = m.Point.Add(v.Scale(1/float64(n))), m.Bulge+v.Bulge/float64(n)
		}
	}
	return ending(mean, about(center, k, n).Apply(mean.Start()))
}

// vertexNear reports whether a contour has a vertex near a place: it may turn there.
func vertexNear(c geom.Contour, p geom.Point, slack float64) bool {
	for _, v := range c.Vertices {
		if v.Near(p, slack) {
			return true
		}
	}
	return false
}

// sNear is the distance along a contour of a vertex near to a distance, else that.
func sNear(c geom.Contour, s, slack float64) float64 {
	var run float64
	for _, e := range c.Edges() {
		run += e.Length()
		if math.Abs(run-s) <= slack {
			return run
		}
	}
	return s
}

// ending is an open contour whose last point is moved a little.
func ending(c geom.Contour, end geom.Point) geom.Contour {
	vs := append([]geom.Vertex(nil), c.Vertices...)
	vs[len(vs)-1].Point = end
	return geom.Contour{Vertices: vs}
}
