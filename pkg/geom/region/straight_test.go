package region

import (
	"fmt"
	"math"
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
