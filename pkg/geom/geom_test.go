package geom_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/geom"
)

// The bulge is the tangent of a quarter of the included angle, negative if the
// arc goes clockwise from start to end; 0 is a straight segment, 1 a
// semicircle (Autodesk, DXF Reference, LWPOLYLINE, group code 42).
func TestBulge(t *testing.T) {
	p := geom.Pt
	for _, tt := range []struct {
		e             geom.Edge
		sweep, radius float64
		center, mid   geom.Point
	}{
		{geom.Edge{A: p(1, 0), B: p(-1, 0), Bulge: 1}, math.Pi, 1, p(0, 0), p(0, 1)},
		{geom.Edge{A: p(1, 0), B: p(-1, 0), Bulge: -1}, -math.Pi, 1, p(0, 0), p(0, -1)},
		{geom.Edge{A: p(1, 0), B: p(0, 1), Bulge: math.Tan(math.Pi / 8)}, math.Pi / 2, 1, p(0, 0), p(math.Sqrt2/2, math.Sqrt2/2)},
		{geom.Edge{A: p(0, 0), B: p(6, 0), Bulge: 1.0 / 3}, 4 * math.Atan(1.0/3), 5, p(3, 4), p(3, -1)},
		{geom.Edge{A: p(0, 0), B: p(6, 0), Bulge: -1.0 / 3}, -4 * math.Atan(1.0/3), 5, p(3, -4), p(3, 1)},
	} {
		closeTo(t, "sweep", tt.e.Sweep(), tt.sweep, 1e-12)
		closeTo(t, "radius", tt.e.Radius(), tt.radius, 1e-12)
		closeTo(t, "length", tt.e.Length(), tt.radius*math.Abs(tt.sweep), 1e-12)
		closeTo(t, "curvature", tt.e.Curvature(), math.Copysign(1/tt.radius, tt.sweep), 1e-12)
		closeTo(t, "centre off by", tt.e.Center().Dist(tt.center), 0, 1e-12)
		closeTo(t, "middle off by", tt.e.Mid().Dist(tt.mid), 0, 1e-12)
		closeTo(t, "half-way off by", tt.e.At(0.5).Dist(tt.mid), 0, 1e-12)
	}
	if e := geom.Line(p(0, 0), p(3, 4)); e.Sweep() != 0 || e.Length() != 5 || !math.IsInf(e.Radius(), 1) {
		t.Errorf("a straight edge has sweep %g, length %g, radius %g", e.Sweep(), e.Length(), e.Radius())
	}
}

// Length, tangent, box, nearest point and shift of random edges against dense
// sampling.
func TestEdgeSampled(t *testing.T) {
	rng := rand.New(rand.NewPCG(51, 52))
	for i := range 400 {
		e := randomEdge(rng)
		const n = 2000
		var length float64
		box := geom.EmptyBox()
		q := geom.Pt(rng.Float64()*14-2, rng.Float64()*14-2)
		dist := math.Inf(1)
		for k := range n + 1 {
			at := e.At(float64(k) / n)
			box = box.Include(at)
			dist = min(dist, at.Dist(q))
			if k > 0 {
				length += at.Dist(e.At(float64(k-1) / n))
			}
		}
		// A chord is shorter than its arc by sweep^2/(24 n^2) of its length,
		// and the arc's top is at most 1 - cos(sweep/2n) radii above a sample.
		closeTo(t, "length", e.Length(), length, 1e-6*length)
		closeTo(t, "distance", e.Dist(q), dist, length/n)
		top := 0.0
		if !e.IsLine() {
			top = e.Radius() * (1 - math.Cos(e.Sweep()/n/2))
		}
		b := e.Bounds()
		for _, side := range []float64{box.Min.X - b.Min.X, box.Min.Y - b.Min.Y, b.Max.X - box.Max.X, b.Max.Y - box.Max.Y} {
			if side < -1e-9 || side > top+1e-9 {
				t.Errorf("%d: box %v, sampled %v", i, b, box)
			}
		}
		near, u := e.Nearest(q)
		closeTo(t, "nearest point's distance", near.Dist(q), e.Dist(q), 1e-9)
		closeTo(t, "nearest point off its fraction by", e.At(u).Dist(near), 0, 1e-9)
		v := rng.Float64()
		step := e.At(v + 1e-7).Sub(e.At(v - 1e-7)).Unit()
		closeTo(t, "tangent off by", e.Tangent(v).Dist(step), 0, 1e-6)
		closeTo(t, "param", e.Param(e.At(v)), v, 1e-9)
		if d := 2*rng.Float64() - 1; e.IsLine() || math.Abs(d) < e.Radius() {
			want := e.At(v).Add(e.Tangent(v).Left().Scale(d))
			closeTo(t, "shifted point off by", e.Shift(d).At(v).Dist(want), 0, 1e-9)
		}
		part := e.Part(0.2, 0.7)
		closeTo(t, "part's length", part.Length(), e.Length()/2, 1e-9)
		closeTo(t, "part's middle off by", part.At(0.5).Dist(e.At(0.45)), 0, 1e-9)
	}
}

// Areas: circle, circular segment, and random contours against their chords.
func TestContourArea(t *testing.T) {
	p := geom.Pt
	closeTo(t, "circle", geom.Circle(p(1000, -2000), 3).Area(), 9*math.Pi, 1e-9)
	closeTo(t, "clockwise", geom.Circle(p(5, 6), 3).Reverse().Area(), -9*math.Pi, 1e-12)
	seg := geom.Chain(true, geom.Edge{A: p(3, -4), B: p(3, 4), Bulge: math.Tan(math.Atan2(4, 3) / 2)}, geom.Line(p(3, 4), p(3, -4)))
	closeTo(t, "segment", seg.Area(), 25*math.Atan2(4, 3)-12, 1e-12)
	flat := geom.Chain(true, geom.Edge{A: p(0, 0), B: p(10, 0), Bulge: -1e-5}, geom.Line(p(10, 0), p(0, 0)))
	// Height 5e-5 over a chord of 10: two thirds of the product.
	closeTo(t, "flat segment", flat.Area(), -2.0/3*10*5e-5, 1e-12)
	rng := rand.New(rand.NewPCG(53, 54))
	for range 100 {
		c := randomContour(rng, true)
		var pts []geom.Point
		for _, e := range c.Edges() {
			for k := range 2000 {
				pts = append(pts, e.At(float64(k)/2000))
			}
		}
		var area float64
		for k, a := range pts {
			area += a.Cross(pts[(k+1)%len(pts)]) / 2
		}
		closeTo(t, "area", c.Area(), area, 1e-4)
	}
}

func randomContour(rng *rand.Rand, closed bool) geom.Contour {
	c := geom.Contour{Closed: closed}
	for range 2 + rng.IntN(6) {
		v := geom.Vertex{Point: geom.Pt(rng.Float64()*10, rng.Float64()*10)}
		if rng.IntN(2) == 0 {
			v.Bulge = 2*rng.Float64() - 1
		}
		c.Vertices = append(c.Vertices, v)
	}
	return c
}

// At, Nearest, Sub and Reverse agree with each other.
func TestContourRoundTrips(t *testing.T) {
	rng := rand.New(rand.NewPCG(55, 56))
	for i := range 300 {
		c := randomContour(rng, i%2 == 0)
		l := c.Length()
		back := c.Reverse()
		closeTo(t, "length reversed", back.Length(), l, 1e-9)
		closeTo(t, "there and back: start off by", back.Reverse().Start().Dist(c.Start()), 0, 0)
		s := rng.Float64() * l
		at, tangent := c.At(s)
		rat, rtangent := back.At(l - s)
		closeTo(t, "reversed place off by", rat.Dist(at), 0, 1e-9)
		closeTo(t, "reversed tangent off by", rtangent.Add(tangent).Norm(), 0, 1e-6)
		near, run := c.Nearest(at)
		closeTo(t, "nearest to itself off by", near.Dist(at), 0, 1e-9)
		again, _ := c.At(run)
		closeTo(t, "nearest place off by", again.Dist(at), 0, 1e-9)
		s0, s1 := rng.Float64()*l, rng.Float64()*l
		if s0 > s1 {
			s0, s1 = s1, s0
		}
		if c.Closed && i%3 == 0 {
			s0, s1 = s1, s0+l // past the start
		}
		checkSub(t, c, s0, s1)
		turn := geom.Turning(1).Then(geom.MirrorX())
		closeTo(t, "mirrored area", turn.Contour(c).Area(), -c.Area(), 1e-9)
		closeTo(t, "mirrored length", turn.Contour(c).Length(), l, 1e-9)
		if c.Closed {
			closeTo(t, "rotated area", c.Rotate(1).Area(), c.Area(), 1e-9)
		}
	}
}

func checkSub(t *testing.T, c geom.Contour, s0, s1 float64) {
	t.Helper()
	sub := c.Sub(s0, s1)
	closeTo(t, "stretch's length", sub.Length(), s1-s0, 1e-6)
	for _, u := range []float64{0, 0.3, 1} {
		want, _ := c.At(s0 + u*(s1-s0))
		if u == 1 && !c.Closed {
			want, _ = c.At(s1)
		}
		got, _ := sub.At(u * sub.Length())
		closeTo(t, "stretch's place off by", got.Dist(want), 0, 1e-6)
	}
}

// On an open curve a stretch runs on along its first and last edges.
func TestSubExtends(t *testing.T) {
	p := geom.Pt
	c := geom.Chain(false, geom.Line(p(0, 0), p(10, 0)), geom.ArcThrough(p(10, 0), p(15, 5), p(10, 5), true))
	long := c.Sub(-2, c.Length()+5*math.Pi/2)
	closeTo(t, "start off by", long.Start().Dist(p(-2, 0)), 0, 1e-9)
	closeTo(t, "end off by", long.End().Dist(p(10, 10)), 0, 1e-9)
	closeTo(t, "length", long.Length(), c.Length()+2+5*math.Pi/2, 1e-9)
	for _, e := range long.Edges() {
		if math.Abs(e.Bulge) > 1 {
			t.Errorf("an arc of more than a half circle: %v", e)
		}
	}
}

// A similarity done after another is both in turn; quarter turns are exact.
func TestSimilarity(t *testing.T) {
	rng := rand.New(rand.NewPCG(57, 58))
	one := func() geom.Similarity {
		return []geom.Similarity{
			geom.Turning(rng.Float64() * 7), geom.Shifting(geom.Pt(rng.Float64(), rng.Float64())),
			geom.Scaling(0.5 + rng.Float64()), geom.MirrorX(), geom.MirrorY(), geom.TurningFraction(rng.IntN(9), 5),
		}[rng.IntN(6)]
	}
	for range 300 {
		a, b, c := one(), one(), one()
		p := geom.Pt(rng.Float64()*9, rng.Float64()*9)
		all := a.Then(b).Then(c)
		closeTo(t, "in turn off by", all.Apply(p).Dist(c.Apply(b.Apply(a.Apply(p)))), 0, 1e-12)
		closeTo(t, "other grouping off by", all.Apply(p).Dist(a.Then(b.Then(c)).Apply(p)), 0, 1e-12)
		if all.Mirrors() != (a.Mirrors() != b.Mirrors() != c.Mirrors()) {
			t.Error("two mirrors do not cancel")
		}
		e := randomEdge(rng)
		closeTo(t, "edge's image off by", all.Edge(e).At(0.3).Dist(all.Apply(e.At(0.3))), 0, 1e-9)
	}
	p := geom.Pt(0.1, 0.7)
	for k, want := range []geom.Point{p, geom.Pt(-0.7, 0.1), geom.Pt(-0.1, -0.7), geom.Pt(0.7, -0.1), p} {
		if got := geom.TurningFraction(k, 4).Apply(p); got != want {
			t.Errorf("%d quarter turns take %v to %v, want %v exactly", k, p, got, want)
		}
		if got := geom.TurningFraction(2*k, 8).Apply(p); got != want {
			t.Errorf("%d eighths take %v to %v, want %v exactly", 2*k, p, got, want)
		}
	}
}

func TestArcThrough(t *testing.T) {
	p := geom.Pt
	e := geom.ArcThrough(p(5, 0), p(0, 5), p(0, 0), true)
	closeTo(t, "counter-clockwise sweep", e.Sweep(), math.Pi/2, 1e-12)
	e = geom.ArcThrough(p(0, 5), p(5, 0), p(0, 0), false)
	closeTo(t, "clockwise sweep", e.Sweep(), -math.Pi/2, 1e-12)
	for _, sweep := range []float64{0.5, 3, math.Pi, 4, 2 * math.Pi, -5} {
		var sum float64
		edges := geom.Arc(p(1, 2), 3, 0.4, sweep)
		for _, e := range edges {
			sum += e.Sweep()
			closeTo(t, "radius", e.Radius(), 3, 1e-12)
			closeTo(t, "centre off by", e.Center().Dist(p(1, 2)), 0, 1e-12)
		}
		closeTo(t, "sweep", sum, sweep, 1e-12)
	}
}
