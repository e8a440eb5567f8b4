package drawing

import (
	"math"
	"sort"

	"strapwork/pkg/geom"
)

// A Segment is one curve of a chain, run from 0 to 1.
type Segment interface {
	// At is the point at t of 0 to 1, in the drawing's units.
	At(t float64) geom.Point
	// Speed is the derivative there by t: its direction is the curve's.
	Speed(t float64) geom.Point
	// Moved is the segment under an affine map.
	Moved(m Affine) Segment
	// Reversed is the segment run the other way.
	Reversed() Segment
	// Bounds is a box that holds the segment: the smallest one for lines and ellipses,
	// near it for the others.
	Bounds() geom.Box
}

// Start and End are where a segment begins and ends.
func Start(s Segment) geom.Point { return s.At(0) }

// End is where a segment ends.
func End(s Segment) geom.Point { return s.At(1) }

// gauss are the nodes and weights of Gauss's quadrature of five points over -1 to 1
// (Abramowitz and Stegun, table 25.4).
var gauss = [5][2]float64{
	{-0.906179845938664, 0.236926885056189},
	{-0.538469310105683, 0.478628670499366},
	{0, 0.568888888888889},
	{0.538469310105683, 0.478628670499366},
	{0.906179845938664, 0.236926885056189},
}

// Length is the length of a segment, in the drawing's units: that of a line exactly, of
// others by quadrature over 16 parts for each span of knots.
func Length(s Segment) float64 {
	parts := 16
	switch s := s.(type) {
	case Line:
		return s.A.Dist(s.B)
	case NURBS:
		parts *= len(s.Points)
	}
	var sum float64
	for i := range parts {
		for _, g := range gauss {
			t := (float64(i) + (g[0]+1)/2) / float64(parts)
			sum += float64(g[1] * s.Speed(t).Norm())
		}
	}
	return sum / float64(2*parts)
}

// A Line is straight.
type Line struct{ A, B geom.Point }

// At is the point at t.
func (l Line) At(t float64) geom.Point {
	switch t {
	case 0:
		return l.A
	case 1:
		return l.B
	}
	return l.A.Lerp(l.B, t)
}

// Speed is the way from one end to the other.
func (l Line) Speed(float64) geom.Point { return l.B.Sub(l.A) }

// Moved is the line under a map.
func (l Line) Moved(m Affine) Segment { return Line{m.Apply(l.A), m.Apply(l.B)} }

// Reversed is the line run the other way.
func (l Line) Reversed() Segment { return Line{l.B, l.A} }

// Bounds is the box of the ends.
func (l Line) Bounds() geom.Box { return geom.EmptyBox().Include(l.A).Include(l.B) }

// An Ellipse is an arc of an ellipse, or of a circle: the points Center + cos u Major +
// sin u Minor for u from From, over Sweep. Major and Minor are conjugate half axes, as
// an affine map leaves them; they need not be square to each other.
type Ellipse struct {
	Center, Major, Minor geom.Point
	From, Sweep          float64 // radians of u; at most a full turn either way
}

// Circle is the arc about center that starts in the direction from and goes round by
// sweep radians, counter-clockwise positive.
func Circle(center geom.Point, radius, from, sweep float64) Ellipse {
	return Ellipse{Center: center, Major: geom.Pt(radius, 0), Minor: geom.Pt(0, radius), From: from, Sweep: sweep}
}

// At is the point at t.
func (e Ellipse) At(t float64) geom.Point {
	sin, cos := math.Sincos(e.From + t*e.Sweep)
	return e.Center.Add(e.Major.Scale(cos)).Add(e.Minor.Scale(sin))
}

// Speed is the derivative by t.
func (e Ellipse) Speed(t float64) geom.Point {
	sin, cos := math.Sincos(e.From + t*e.Sweep)
	return e.Minor.Scale(cos * e.Sweep).Sub(e.Major.Scale(sin * e.Sweep))
}

// Moved is the arc under a map.
func (e Ellipse) Moved(m Affine) Segment {
	e.Center, e.Major, e.Minor = m.Apply(e.Center), m.Way(e.Major), m.Way(e.Minor)
	return e
}

// Reversed is the arc run the other way.
func (e Ellipse) Reversed() Segment {
	e.From, e.Sweep = e.From+e.Sweep, -e.Sweep
	return e
}

// IsCircle reports whether the ellipse is a circle, but for what six digits leave out.
func (e Ellipse) IsCircle() bool {
	return Affine{A: e.Major.X, B: e.Major.Y, C: e.Minor.X, D: e.Minor.Y}.Similar()
}

// Bounds is the arc's smallest box.
func (e Ellipse) Bounds() geom.Box {
	b := geom.EmptyBox().Include(e.At(0)).Include(e.At(1))
	for _, u := range [2]float64{math.Atan2(e.Minor.X, e.Major.X), math.Atan2(e.Minor.Y, e.Major.Y)} {
		for k := range 2 {
			t := math.Mod((u+float64(k)*math.Pi-e.From)/e.Sweep, 2*math.Pi/math.Abs(e.Sweep))
			if t < 0 {
				t += 2 * math.Pi / math.Abs(e.Sweep)
			}
			if t > 0 && t < 1 {
				b = b.Include(e.At(t))
			}
		}
	}
	return b
}

// A Bezier is a Bezier curve of two to four points: its degree is one less.
type Bezier struct{ Points []geom.Point }

// At is the point at t, by de Casteljau's construction.
func (b Bezier) At(t float64) geom.Point {
	p := append([]geom.Point(nil), b.Points...)
	for n := len(p) - 1; n > 0; n-- {
		for i := range n {
			p[i] = Line{p[i], p[i+1]}.At(t)
		}
	}
	return p[0]
}

// Speed is the derivative by t.
func (b Bezier) Speed(t float64) geom.Point {
	n := len(b.Points) - 1
	d := make([]geom.Point, n)
	for i := range d {
		d[i] = b.Points[i+1].Sub(b.Points[i]).Scale(float64(n))
	}
	return Bezier{d}.At(t)
}

// Moved is the curve under a map.
func (b Bezier) Moved(m Affine) Segment { return Bezier{movedAll(b.Points, m)} }

// Reversed is the curve run the other way.
func (b Bezier) Reversed() Segment { return Bezier{backwards(b.Points)} }

// Bounds is the box of the curve at many places: near its smallest.
func (b Bezier) Bounds() geom.Box { return sampled(b, 8*len(b.Points)) }

// A NURBS is a rational B-spline, clamped or not (L. Piegl, W. Tiller, The NURBS Book,
// 2nd ed. 1997, chapters 3 and 4; recalled). It runs over the knots from Knots[Degree]
// to Knots[len(Points)].
type NURBS struct {
	Degree  int
	Knots   []float64 // len(Points) + Degree + 1 of them, never falling
	Points  []geom.Point
	Weights []float64 // one for each point, positive; none: all 1
}

// domain is the stretch of knots that the curve runs over.
func (n NURBS) domain() (from, to float64) { return n.Knots[n.Degree], n.Knots[len(n.Points)] }

// At is the point at t, by de Boor's construction.
func (n NURBS) At(t float64) geom.Point {
	p, _ := n.both(t)
	return p
}

// Speed is the derivative by t.
func (n NURBS) Speed(t float64) geom.Point {
	_, d := n.both(t)
	return d
}

// homogeneous is a point times its weight, and the weight.
type homogeneous struct {
	p geom.Point
	w float64
}

func (a homogeneous) lerp(b homogeneous, t float64) homogeneous {
	return homogeneous{a.p.Scale(1 - t).Add(b.p.Scale(t)), a.w*(1-t) + b.w*t}
}

// both is the point at t and the derivative there.
func (n NURBS) both(t float64) (at, speed geom.Point) {
	from, to := n.domain()
	u := from + t*(to-from)
	// The span that holds u: the last that begins at or before it and has a length.
	inner := n.Knots[n.Degree+1 : len(n.Points)]
	k := n.Degree + sort.Search(len(inner), func(i int) bool { return inner[i] > u })
	for k > n.Degree && n.Knots[k] >= n.Knots[k+1] {
		k--
	}
	h := make([]homogeneous, n.Degree+1)
	for j := range h {
		i := k - n.Degree + j
		w := 1.0
		if n.Weights != nil {
			w = n.Weights[i]
		}
		h[j] = homogeneous{n.Points[i].Scale(w), w}
	}
	var d homogeneous // by u
	for r := 1; r <= n.Degree; r++ {
		if r == n.Degree {
			lo, hi := n.Knots[k], n.Knots[k+1]
			by := float64(n.Degree) / (hi - lo)
			d = homogeneous{h[n.Degree].p.Sub(h[n.Degree-1].p).Scale(by), (h[n.Degree].w - h[n.Degree-1].w) * by}
		}
		for j := n.Degree; j >= r; j-- {
			i := k - n.Degree + j
			lo, hi := n.Knots[i], n.Knots[i+n.Degree+1-r]
			h[j] = h[j-1].lerp(h[j], (u-lo)/(hi-lo))
		}
	}
	last := h[n.Degree]
	at = last.p.Scale(1 / last.w)
	return at, d.p.Sub(at.Scale(d.w)).Scale((to - from) / last.w)
}

// Moved is the curve under a map.
func (n NURBS) Moved(m Affine) Segment {
	n.Points = movedAll(n.Points, m)
	return n
}

// Reversed is the curve run the other way.
func (n NURBS) Reversed() Segment {
	r := NURBS{Degree: n.Degree, Points: backwards(n.Points), Weights: backwards(n.Weights), Knots: backwards(n.Knots)}
	for i, k := range r.Knots {
		r.Knots[i] = -k
	}
	return r
}

// Bounds is the box of the curve at many places: near its smallest.
func (n NURBS) Bounds() geom.Box { return sampled(n, 8*len(n.Points)) }

func movedAll(points []geom.Point, m Affine) []geom.Point {
	moved := make([]geom.Point, len(points))
	for i, p := range points {
		moved[i] = m.Apply(p)
	}
	return moved
}

func backwards[T any](list []T) []T {
	var back []T
	for i := range list {
		back = append(back, list[len(list)-1-i])
	}
	return back
}

// sampled is the box of a segment at n places and its end.
func sampled(s Segment, n int) geom.Box {
	b := geom.EmptyBox()
	for i := range n + 1 {
		b = b.Include(s.At(float64(i) / float64(n)))
	}
	return b
}
