package region

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/internal/plait"
)

// star is a star of n straight edges, its points 20 mm high on a circle on
// which they stand 4 mm apart.
func star(n int) Region {
	r := 4 * float64(n/2) / (2 * math.Pi)
	pts := make([]geom.Point, n)
	for i := range pts {
		pts[i] = geom.Polar(r+20*float64(i%2), 2*math.Pi*float64(i)/float64(n))
	}
	return New(geom.Polygon(pts...))
}

// spiral is a band 4 mm wide of n straight edges of about 3 mm, with 10 mm from
// turn to turn.
func spiral(n int) Region {
	var out, in []geom.Point
	a := 0.0
	for range n / 2 {
		r := 20 + 10*a/(2*math.Pi)
		out = append(out, geom.Polar(r+2, a))
		in = append(in, geom.Polar(r-2, a))
		a += 3 / r
	}
	for i := len(in) - 1; i >= 0; i-- {
		out = append(out, in[i])
	}
	return New(geom.Polygon(out...))
}

// plaited is the groove of an a x (a+1) plait.
func plaited(a int) Region {
	var bands []Region
	for _, l := range plait.Lines(a, a+1, 20) {
		bands = append(bands, Stroke(l, 1))
	}
	return Union(bands...)
}

// BenchmarkStraight: cost per edge should hardly grow with the number of edges.
func BenchmarkStraight(b *testing.B) {
	grow := func(name string, r Region, d float64) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				r.Grow(d)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*r.Len()), "ns/edge")
		})
	}
	for _, n := range []int{1000, 10_000, 100_000} {
		s, t := star(n), spiral(n)
		grow(fmt.Sprint("star/grown/", n), s, 3)
		grow(fmt.Sprint("star/shrunk/", n), s, -3)
		grow(fmt.Sprint("spiral/grown/", n), t, 3)
		grow(fmt.Sprint("spiral/shrunk/", n), t, -1.5)
	}
	p := plaited(22)
	grow("plait/grown/967", p, 3)
	grow("plait/shrunk/967", p, -0.75)
}

// TestClipIsIntersectionWithTheBox holds what is clipped to the whole arrangement's answer, and
// what several regions take at once to what they take one by one.
func TestClipIsIntersectionWithTheBox(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 3))
	for i := range 300 {
		r := Subtract(Union(randomRegion(rng), randomRegion(rng)), randomRegion(rng))
		for range 4 {
			r = Subtract(r, Disc(samples(rng, r.Bounds().Expand(1), 1)[0], 0.2+rng.Float64()))
		}
		ends := samples(rng, r.Bounds().Expand(1), 2)
		box := geom.EmptyBox().Include(ends[0]).Include(ends[1])
		got, want := r.Clip(box), Intersect(r, New(geom.Rect(box)))
		if d := Subtract(got, want).Area() + Subtract(want, got).Area(); d > 1e-6 || math.Abs(got.Area()-want.Area()) > 1e-6 {
			t.Fatalf("region %d in %v: %v mm2, want %v, %v apart", i, box, got.Area(), want.Area(), d)
		}
		a, b := randomRegion(rng), randomRegion(rng)
		if d := Subtract(r, a, b).Area() - Subtract(r, Union(a, b)).Area(); math.Abs(d) > 1e-6 {
			t.Fatalf("region %d: %v mm2 more are left of two at once", i, d)
		}
	}
}

// TestStrokeOfOneEdge holds the stroke of a line or an arc to its closed form, the band and a
// disc (Pappus and Guldin), and to the points within reach.
func TestStrokeOfOneEdge(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 4))
	for i := range 400 {
		ab := samples(rng, geom.Box{Max: geom.Pt(40, 30)}, 2)
		e := geom.Edge{A: ab[0], B: ab[1], Bulge: []float64{0, 1, -1, 2*rng.Float64() - 1, 1e-5}[i%5]}
		d := 0.1 + 4*rng.Float64()
		r := Stroke(geom.Chain(false, e), d)
		if e.Radius() > d {
			if want := 2*d*e.Length() + math.Pi*d*d; math.Abs(r.Area()-want) > 1e-6 {
				t.Fatalf("%v by %v: %v mm2, want %v", e, d, r.Area(), want)
			}
		}
		for _, p := range samples(rng, e.Bounds().Expand(2*d), 50) {
			if away := e.Dist(p); math.Abs(away-d) > 1e-6 && r.Contains(p) != (away < d) {
				t.Fatalf("%v by %v: %v is %v away, and contained: %v", e, d, p, away, r.Contains(p))
			}
		}
	}
}
