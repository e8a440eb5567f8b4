package geom

import "math"

// A Vertex is a corner of a contour and the bulge of the edge that leaves it
// (DXF Reference, LWPOLYLINE, groups 10, 20 and 42). The bulge of an open
// contour's last vertex means nothing.
type Vertex struct {
	Point
	Bulge float64
}

// A Contour is a chain of lines and arcs, open or closed. A closed contour
// has an edge from its last vertex back to its first; a full circle is two
// vertices with bulge 1. A closed contour that runs counter-clockwise has its
// inside on the left and a positive area.
type Contour struct {
	Vertices []Vertex
	Closed   bool
}

// Chain joins edges, each beginning where the last one ended, into an open
// contour, or a closed one if closed is set (then the last edge must end where
// the first begins).
func Chain(closed bool, edges ...Edge) Contour {
	c := Contour{Closed: closed, Vertices: make([]Vertex, 0, len(edges)+1)}
	for _, e := range edges {
		c.Vertices = append(c.Vertices, Vertex{e.A, e.Bulge})
	}
	if !closed && len(edges) > 0 {
		c.Vertices = append(c.Vertices, Vertex{Point: edges[len(edges)-1].B})
	}
	return c
}

// Polygon is the closed contour of straight edges through pts.
func Polygon(pts ...Point) Contour {
	c := Contour{Closed: true}
	for _, p := range pts {
		c.Vertices = append(c.Vertices, Vertex{Point: p})
	}
	return c
}

// Circle is the counter-clockwise circle as a closed contour of two half
// circles, beginning at angle 0.
func Circle(center Point, radius float64) Contour {
	return Contour{Closed: true, Vertices: []Vertex{
		{center.Add(Point{radius, 0}), 1}, {center.Sub(Point{radius, 0}), 1},
	}}
}

// Rect is the counter-clockwise rectangle with the corners of b.
func Rect(b Box) Contour {
	return Polygon(b.Min, Point{b.Max.X, b.Min.Y}, b.Max, Point{b.Min.X, b.Max.Y})
}

// Len is the number of edges.
func (c Contour) Len() int {
	if n := len(c.Vertices); c.Closed || n == 0 {
		return n
	}
	return len(c.Vertices) - 1
}

// Edge returns the i-th edge, 0 <= i < c.Len().
func (c Contour) Edge(i int) Edge {
	v, w := c.Vertices[i], c.Vertices[(i+1)%len(c.Vertices)]
	return Edge{v.Point, w.Point, v.Bulge}
}

// Edges returns all edges in order.
func (c Contour) Edges() []Edge {
	es := make([]Edge, c.Len())
	for i := range es {
		es[i] = c.Edge(i)
	}
	return es
}

// Start and End are the first and the last point; on a closed contour they
// are the same.
func (c Contour) Start() Point { return c.Vertices[0].Point }

// End is where the last edge ends.
func (c Contour) End() Point {
	if c.Closed {
		return c.Vertices[0].Point
	}
	return c.Vertices[len(c.Vertices)-1].Point
}

// Length is the distance travelled along c.
func (c Contour) Length() float64 {
	var sum float64
	for i := range c.Len() {
		sum += c.Edge(i).Length()
	}
	return sum
}

// Area is the signed area of a closed contour: positive when it runs
// counter-clockwise. Parts that it winds round several times count as often.
func (c Contour) Area() float64 {
	if len(c.Vertices) == 0 {
		return 0
	}
	// About the first vertex rather than the origin: less cancellation.
	o := c.Vertices[0].Point
	var sum float64
	for i := range c.Len() {
		e := c.Edge(i)
		sum += Edge{e.A.Sub(o), e.B.Sub(o), e.Bulge}.areaTerm()
	}
	return sum
}

// Bounds is the smallest box that holds c.
func (c Contour) Bounds() Box {
	b := EmptyBox()
	for _, v := range c.Vertices {
		b = b.Include(v.Point)
	}
	for i := range c.Len() {
		if e := c.Edge(i); e.Bulge != 0 {
			b = b.Join(e.Bounds())
		}
	}
	return b
}

// Reverse returns c travelled the other way. A closed contour keeps its first
// vertex.
func (c Contour) Reverse() Contour {
	n := len(c.Vertices)
	r := Contour{Closed: c.Closed, Vertices: make([]Vertex, n)}
	for i := range n {
		var j, k int // vertex i of the result is vertex j; its bulge that of the edge leaving k
		if c.Closed {
			j = (n - i) % n
			k = (j + n - 1) % n
		} else {
			j = n - 1 - i
			k = j - 1
		}
		r.Vertices[i].Point = c.Vertices[j].Point
		if k >= 0 {
			r.Vertices[i].Bulge = -c.Vertices[k].Bulge
		}
	}
	return r
}

// Rotate returns a closed contour that begins at its i-th vertex instead.
func (c Contour) Rotate(i int) Contour {
	n := len(c.Vertices)
	vs := make([]Vertex, 0, n)
	vs = append(vs, c.Vertices[i:]...)
	vs = append(vs, c.Vertices[:i]...)
	return Contour{vs, c.Closed}
}

// At returns the point at distance s along c from its start and the unit
// direction of travel there. On a closed contour s wraps round; on an open one
// it is held within [0, Length].
func (c Contour) At(s float64) (p, tangent Point) {
	if c.Len() == 0 {
		if len(c.Vertices) > 0 {
			return c.Vertices[0].Point, Point{1, 0}
		}
		return Point{}, Point{1, 0}
	}
	if c.Closed {
		l := c.Length()
		s = math.Mod(s, l)
		if s < 0 {
			s += l
		}
	}
	for i := range c.Len() {
		e := c.Edge(i)
		l := e.Length()
		if s <= l || i == c.Len()-1 {
			t := math.Max(0, math.Min(1, s/l))
			return e.At(t), e.Tangent(t)
		}
		s -= l
	}
	panic("unreachable")
}

// Nearest returns the point of c that is nearest to p and its distance along
// c from the start.
func (c Contour) Nearest(p Point) (q Point, s float64) {
	best := math.Inf(1)
	var run float64
	for i := range c.Len() {
		e := c.Edge(i)
		n, t := e.Nearest(p)
		l := e.Length()
		if d := p.Dist(n); d < best {
			best, q, s = d, n, run+t*l
		}
		run += l
	}
	return q, s
}

// Sub returns the open stretch of c from distance s0 to distance s1 along it,
// s0 < s1. On a closed contour the distances may run past the start; on an
// open one the first and the last edge are extended along their lines or
// circles where the distances lie outside.
func (c Contour) Sub(s0, s1 float64) Contour {
	var edges []Edge
	n := c.Len()
	run, i := 0.0, 0
	if c.Closed {
		l := c.Length()
		laps := math.Floor(s0 / l)
		s0, s1 = s0-laps*l, s1-laps*l
	}
	for {
		if !c.Closed && i >= n {
			break
		}
		e := c.Edge(i % n)
		l := e.Length()
		t0, t1 := (s0-run)/l, (s1-run)/l
		first, last := len(edges) == 0, t1 <= 1 || (!c.Closed && i == n-1)
		if t0 < 1 || (!c.Closed && i == n-1) {
			if !first || (t0 < 0 && (c.Closed || i > 0)) {
				t0 = 0
			}
			if !last {
				t1 = 1
			}
			if (t1-t0)*l > 1e-9 { // nothing but rounding otherwise
				edges = append(edges, cut(e, t0, t1)...)
			}
		}
		if last {
			break
		}
		run += l
		i++
	}
	return Chain(false, edges...)
}

// cut is e.Part(t0, t1) in pieces of at most a half circle.
func cut(e Edge, t0, t1 float64) []Edge {
	n := int(math.Ceil(math.Abs(e.Sweep()*(t1-t0))/math.Pi - 1e-9))
	if n <= 1 {
		return []Edge{e.Part(t0, t1)}
	}
	parts := make([]Edge, n)
	for i := range parts {
		parts[i] = e.Part(t0+(t1-t0)*float64(i)/float64(n), t0+(t1-t0)*float64(i+1)/float64(n))
	}
	return parts
}

// A Similarity turns, mirrors, stretches and shifts the plane, in that order
// of reading: it takes p to Shift + Scale * turn(mirror(p)).
type Similarity struct {
	cos, sin float64 // of the turn, times the scale
	mirror   bool    // y to -y, first
	shift    Point
}

// Identity leaves every point where it is.
func Identity() Similarity { return Similarity{cos: 1} }

// Turning turns about the origin by angle, counter-clockwise.
func Turning(angle float64) Similarity {
	s, c := math.Sincos(angle)
	return Similarity{cos: c, sin: s}
}

// TurningFraction turns about the origin by k/n of a full turn. Quarter turns
// are exact: no coordinate changes in its last digit.
func TurningFraction(k, n int) Similarity {
	k = ((k % n) + n) % n
	switch {
	case k == 0:
		return Identity()
	case 4*k == n:
		return Similarity{sin: 1}
	case 2*k == n:
		return Similarity{cos: -1}
	case 4*k == 3*n:
		return Similarity{sin: -1}
	}
	return Turning(2 * math.Pi * float64(k) / float64(n))
}

// Shifting moves every point by d.
func Shifting(d Point) Similarity { return Similarity{cos: 1, shift: d} }

// Scaling stretches from the origin by k > 0.
func Scaling(k float64) Similarity { return Similarity{cos: k} }

// MirrorX reflects in the x axis: y to -y.
func MirrorX() Similarity { return Similarity{cos: 1, mirror: true} }

// MirrorY reflects in the y axis: x to -x.
func MirrorY() Similarity { return Similarity{cos: -1, mirror: true} }

// Mirrors reports whether t turns left into right.
func (t Similarity) Mirrors() bool { return t.mirror }

// Apply returns the image of p.
func (t Similarity) Apply(p Point) Point {
	y := p.Y
	if t.mirror {
		y = -y
	}
	return Point{t.cos*p.X - t.sin*y + t.shift.X, t.sin*p.X + t.cos*y + t.shift.Y}
}

// Then returns the similarity that does t first and u after it.
func (t Similarity) Then(u Similarity) Similarity {
	o := u.Apply(t.shift)
	s := t.sin
	if u.mirror {
		s = -s
	}
	return Similarity{
		cos:    u.cos*t.cos - u.sin*s,
		sin:    u.sin*t.cos + u.cos*s,
		mirror: t.mirror != u.mirror,
		shift:  o,
	}
}

// Edge returns the image of e.
func (t Similarity) Edge(e Edge) Edge {
	b := e.Bulge
	if t.mirror {
		b = -b
	}
	return Edge{t.Apply(e.A), t.Apply(e.B), b}
}

// Contour returns the image of c, travelled in the same order. A mirrored
// closed contour therefore runs the other way round.
func (t Similarity) Contour(c Contour) Contour {
	r := Contour{Closed: c.Closed, Vertices: make([]Vertex, len(c.Vertices))}
	for i, v := range c.Vertices {
		if t.mirror {
			v.Bulge = -v.Bulge
		}
		r.Vertices[i] = Vertex{t.Apply(v.Point), v.Bulge}
	}
	return r
}
