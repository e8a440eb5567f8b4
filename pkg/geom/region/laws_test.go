package region

import (
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/geom"
)

func randomRegion(rng *rand.Rand) Region {
	return Union(randomArcBand(rng, 30), randomArcBand(rng, 30))
}

// apart is the area in which a and b differ.
func apart(a, b Region) float64 {
	return Subtract(a, b).Area() + Subtract(b, a).Area()
}

// The laws of sets (de Morgan's with the board for the whole).
func TestSetLaws(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	board := square(-100, -100, 300)
	not := func(r Region) Region { return Subtract(board, r) }
	for i := range 60 {
		a, b, c := randomRegion(rng), randomRegion(rng), randomRegion(rng)
		for _, law := range []struct {
			name string
			x, y Region
		}{
			{"not (a or b) = not a and not b", not(Union(a, b)), Intersect(not(a), not(b))},
			{"not (a and b) = not a or not b", not(Intersect(a, b)), Union(not(a), not(b))},
			{"a less b = a and not b", Subtract(a, b), Intersect(a, not(b))},
			{"a and (b or c) = (a and b) or (a and c)", Intersect(a, Union(b, c)), Union(Intersect(a, b), Intersect(a, c))},
			{"a or (b and c) = (a or b) and (a or c)", Union(a, Intersect(b, c)), Intersect(Union(a, b), Union(a, c))},
			{"not not a = a", not(not(a)), a},
			{"a or (a and b) = a", Union(a, Intersect(a, b)), a},
			{"(a less b) or (a and b) = a", Union(Subtract(a, b), Intersect(a, b)), a},
		} {
			if d := apart(law.x, law.y); d > 1e-6 || math.Abs(law.x.Area()-law.y.Area()) > 1e-8 {
				t.Errorf("%d: %s: they differ in %g mm2, areas by %g", i, law.name, d, law.x.Area()-law.y.Area())
			}
		}
	}
}

// convex is the hull of a few discs: a convex polygon grown.
func convex(rng *rand.Rand) Region {
	n := 3 + rng.IntN(6)
	pts := make([]geom.Point, n)
	for i := range pts {
		pts[i] = geom.Polar(10, 2*math.Pi*(float64(i)+0.8*rng.Float64())/float64(n))
	}
	return New(geom.Polygon(pts...)).Grow(rng.Float64() * 3)
}

// A convex region that is grown and shrunk back is itself.
func TestConvexBack(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 24))
	for i := range 200 {
		a := convex(rng)
		d := []float64{0.1, 1, 7, 300}[i%4]
		c := a.Close(d)
		near(t, "area", c.Area(), a.Area(), 1e-9*a.Area()*(1+d))
		near(t, "Steiner's area", a.Grow(d).Area(), a.Area()+a.Perimeter()*d+math.Pi*d*d, 1e-9*(1+d*d))
		if h := hausdorff(a, c); h > 1e-9*(1+d) {
			t.Errorf("%d, d %g: boundaries are %g apart", i, d, h)
		}
	}
}

// hausdorff is how far sampled boundary points of one region are from the
// other's boundary, both ways.
func hausdorff(a, b Region) float64 {
	worst := 0.0
	for _, pair := range [2][2]Region{{a, b}, {b, a}} {
		for _, c := range pair[0].Loops() {
			for _, e := range c.Edges() {
				for _, u := range []float64{0, 0.2, 0.5, 0.8} {
					worst = max(worst, pair[1].BoundaryDist(e.At(u)))
				}
			}
		}
	}
	return worst
}

// A thousand points of each offset's boundary are at its distance.
func TestOffsetDistance(t *testing.T) {
	rng := rand.New(rand.NewPCG(25, 26))
	for i := range 30 {
		a := Union(randomRegion(rng), randomRegion(rng))
		for _, d := range []float64{-0.3, 0.5, 3, 20} {
			g := a.Grow(d)
			perimeter := g.Perimeter()
			for _, c := range g.Loops() {
				n := int(1000*c.Length()/perimeter) + 1
				for k := range n {
					p, _ := c.At(c.Length() * float64(k) / float64(n))
					if e := math.Abs(a.BoundaryDist(p) - math.Abs(d)); e > 1e-9 {
						t.Errorf("%d, d %g: %v is out by %g", i, d, p, e)
					}
				}
			}
		}
	}
}

// Every operation commutes with turning, shifting and mirroring.
func TestCommutes(t *testing.T) {
	rng := rand.New(rand.NewPCG(27, 28))
	ops := []struct {
		name string
		do   func(a, b Region) Region
	}{
		{"union", func(a, b Region) Region { return Union(a, b) }},
		{"subtract", func(a, b Region) Region { return Subtract(a, b) }},
		{"intersect", Intersect},
		{"grow", func(a, b Region) Region { return Union(a, b).Grow(1.5) }},
		{"shrink", func(a, b Region) Region { return Union(a, b).Shrink(0.25) }},
		{"close", func(a, b Region) Region { return Union(a, b).Close(4) }},
		{"open", func(a, b Region) Region { return Union(a, b).Open(0.6) }},
	}
	for i := range 60 {
		a, b := randomRegion(rng), randomRegion(rng)
		if i%3 == 0 { // and in the trade's ordinary cases
			a, b = New(gridShape(rng), gridShape(rng)), New(gridShape(rng))
		}
		move := geom.Turning(rng.Float64() * 7).Then(geom.Shifting(geom.Pt(rng.Float64()*50, rng.Float64()*50)))
		if i%2 == 0 {
			move = geom.MirrorX().Then(move)
		}
		for _, op := range ops {
			x, y := op.do(a, b).Transform(move), op.do(a.Transform(move), b.Transform(move))
			if d := math.Abs(x.Area() - y.Area()); d > 1e-6 {
				t.Errorf("%d: %s: area differs by %g", i, op.name, d)
			}
			if h := hausdorff(x, y); h > 2*geom.Coincident {
				t.Errorf("%d: %s: boundaries are %g apart", i, op.name, h)
			}
		}
	}
}

func TestClosingContains(t *testing.T) {
	rng := rand.New(rand.NewPCG(29, 30))
	for i := range 100 {
		a := randomRegion(rng)
		d := []float64{0.2, 2, 15}[i%3]
		c := a.Close(d)
		if m := Subtract(a, c).Area(); m > 1e-6 {
			t.Errorf("%d: closing by %g lacks %g mm2", i, d, m)
		}
		near(t, "closing twice", c.Close(d).Area(), c.Area(), 1e-6)
		o := a.Open(d)
		if m := Subtract(o, a).Area(); m > 1e-6 {
			t.Errorf("%d: opening by %g has %g mm2 too much", i, d, m)
		}
	}
}

// Where nothing is nearer than twice the distance, the parallel curve with
// round corners bounds the grown or the shrunk region.
func TestParallelBounds(t *testing.T) {
	rng := rand.New(rand.NewPCG(33, 34))
	for i := range 400 {
		a := New(gridShape(rng))
		if i%2 == 0 {
			a = a.Transform(geom.Turning(rng.Float64() * 7))
		}
		for _, d := range []float64{0.1, 0.2, -0.1, -0.2} {
			var area float64
			for _, c := range a.Loops() {
				area += c.Parallel(-d, geom.Round).Area()
			}
			if want := a.Grow(d).Area(); math.Abs(area-want) > 1e-8 {
				t.Errorf("%d, d %g: parallel curve round %.10g, grown %.10g: %v", i, d, area, want, a.Loops())
			}
		}
	}
}

// Gaps between regions against all pairs of their edges.
func TestGap(t *testing.T) {
	rng := rand.New(rand.NewPCG(35, 36))
	for i := range 200 {
		a, b := randomRegion(rng), randomRegion(rng).Transform(geom.Shifting(geom.Pt(float64(i%5)*20, 0)))
		want := math.Inf(1)
		for _, e := range edgesOf(a) {
			for _, f := range edgesOf(b) {
				want = min(want, geom.Gap(e, f))
			}
		}
		if !Intersect(a, b).Empty() {
			want = 0
		}
		near(t, "gap", a.Gap(b), want, 1e-9)
		near(t, "gap from the other side", b.Gap(a), want, 1e-9)
	}
	big := square(0, 0, 10)
	near(t, "one inside the other", big.Gap(square(4, 4, 1)), 0, 0)
	near(t, "in a hole", Subtract(big, square(2, 2, 6)).Gap(square(4, 4, 1)), 2, 1e-12)
	if !math.IsInf(big.Gap(Region{}), 1) {
		t.Error("a gap to nothing")
	}
}

func edgesOf(r Region) []geom.Edge {
	var es []geom.Edge
	for _, c := range r.Loops() {
		es = append(es, c.Edges()...)
	}
	return es
}

// Answers from the index are those from the loops, also asked by many at once.
func TestQuestions(t *testing.T) {
	a := arcBands(60)
	bare := Region{loops: a.Loops()} // never indexed
	rng := rand.New(rand.NewPCG(37, 38))
	pts := samples(rng, a.Bounds().Expand(10), 400)
	for _, c := range a.Loops() {
		p, _ := c.At(c.Length() / 3)
		pts = append(pts, p, c.Start())
	}
	done := make(chan bool)
	for range 4 {
		go func() {
			defer func() { done <- true }()
			for _, p := range pts {
				if got, want := a.Locate(p), bare.Locate(p); got != want {
					t.Errorf("%v is %v, want %v", p, got, want)
				}
				if got, want := a.BoundaryDist(p), bare.BoundaryDist(p); got != want {
					t.Errorf("%v is %g from the boundary, want %g", p, got, want)
				}
			}
		}()
	}
	for range 4 {
		<-done
	}
}

// Pieces keep their holes, and add up.
func TestPieces(t *testing.T) {
	rng := rand.New(rand.NewPCG(39, 40))
	for i := range 100 {
		a := Union(randomRegion(rng), randomRegion(rng), randomRegion(rng))
		if i%2 == 0 {
			a = New(gridShape(rng), gridShape(rng), gridShape(rng)).Shrink(0.25)
		}
		var area float64
		loops := 0
		for _, p := range a.Pieces() {
			area += p.Area()
			loops += len(p.Loops())
			if outers, _ := p.split(); len(outers) != 1 {
				t.Errorf("%d: a piece has %d outer loops", i, len(outers))
			}
		}
		near(t, "areas of the pieces", area, a.Area(), 1e-9)
		if loops != len(a.Loops()) {
			t.Errorf("%d: pieces have %d loops, the region %d", i, loops, len(a.Loops()))
		}
	}
}

// Inside a convex outline the parallel curve is the shrunk region's boundary
// at every distance, however many edges vanish.
func TestParallelConvex(t *testing.T) {
	rng := rand.New(rand.NewPCG(45, 46))
	for i := range 400 {
		a := convex(rng)
		if i%2 == 0 { // cut off some
			a = Intersect(a, convex(rng).Transform(geom.Shifting(geom.Pt(rng.Float64()*6, 2))))
		}
		for k := 1; k <= 12; k++ {
			d := float64(k)
			got := a.Loops()[0].Parallel(d, geom.Join(i%2))
			want := a.Shrink(d)
			if math.Abs(got.Area()-want.Area()) > 1e-6 {
				t.Errorf("%d, d %g: parallel curve round %.10g, shrunk %.10g: %v", i, d, got.Area(), want.Area(), a.Loops())
			}
		}
	}
}

// Many rings round one centre: every box meets every other, though nothing
// crosses. Growing must not take that for a tangle that smaller steps undo.
func TestGrowRings(t *testing.T) {
	var rings []geom.Contour
	for i := range 120 {
		rings = append(rings, geom.Circle(geom.Pt(0, 0), 240-2*float64(i)))
	}
	a := Region{}
	for i := 0; i < len(rings); i += 2 {
		a = Union(a, Subtract(New(rings[i]), New(rings[i+1])))
	}
	var want, area float64
	for i := 1; i <= 60; i++ {
		outer := float64(4 * i)
		area += math.Pi * (sq(outer) - sq(outer-2))
		want += math.Pi * (sq(outer+0.5) - sq(outer-2.5))
	}
	near(t, "rings", a.Area(), area, 1e-6)
	near(t, "rings grown", a.Grow(0.5).Area(), want, 1e-6)
	near(t, "rings grown together", a.Grow(3).Area(), math.Pi*sq(243), 1e-6)
}

// Many strokes across each other, in one curve.
func TestStrokeZigzag(t *testing.T) {
	var pts []geom.Edge
	rng := rand.New(rand.NewPCG(47, 48))
	at := geom.Pt(0, 0)
	for i := range 150 {
		to := geom.Pt(float64(100*(1-i%2)), rng.Float64()*100)
		pts = append(pts, geom.Line(at, to))
		at = to
	}
	c := geom.Chain(false, pts...)
	got := Stroke(c, 0.05)
	for _, p := range samples(rng, c.Bounds(), 3000) {
		q, _ := c.Nearest(p)
		if d := q.Dist(p); math.Abs(d-0.05) > 1e-6 && (got.Locate(p) == Inside) != (d < 0.05) {
			t.Errorf("%v, %g from the curve, is %v", p, d, got.Locate(p))
		}
	}
}
