package region

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/geom"
)

// arcBands is the union of n bands along arcs, as dense for every n.
func arcBands(n int) Region {
	rng := rand.New(rand.NewPCG(5, 6))
	size := 1500 * math.Sqrt(float64(n)/2000)
	bands := make([]Region, n)
	for i := range bands {
		bands[i] = randomArcBand(rng, size)
	}
	return Union(bands...)
}

// Cost per edge should hardly grow with the number of edges.
func BenchmarkGrow(b *testing.B) {
	for _, n := range []int{500, 2000, 8000} {
		all := arcBands(n)
		b.Run(fmt.Sprint("arcs=", n), func(b *testing.B) {
			for b.Loop() {
				all.Grow(3)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*all.Len()), "ns/edge")
		})
	}
}

func BenchmarkUnionBands(b *testing.B) {
	for _, n := range []int{1000, 4000} {
		b.Run(fmt.Sprint("bands=", n), func(b *testing.B) {
			for b.Loop() {
				arcBands(n)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n), "ns/band")
		})
	}
}

func sawtooth(teeth int) Region {
	var pts []geom.Point
	for i := range teeth {
		x := float64(i)
		pts = append(pts, geom.Pt(x, 0), geom.Pt(x+0.5, 1))
	}
	n := float64(teeth)
	pts = append(pts, geom.Pt(n, 0), geom.Pt(n, -5), geom.Pt(0, -5))
	c := geom.Polygon(pts...)
	return New(c.Reverse())
}

// A disc far larger than the features: the raw curve crosses itself some
// hundred times for each edge.
func BenchmarkGrowSawtooth(b *testing.B) {
	for _, n := range []int{500, 2000} {
		saw := sawtooth(n)
		b.Run(fmt.Sprint("teeth=", n), func(b *testing.B) {
			for b.Loop() {
				saw.Grow(100)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*saw.Len()), "ns/edge")
		})
	}
}

// smallRegion has ten edges, as a stretch of groove has.
func smallRegion() Region {
	arc := geom.Chain(false, append([]geom.Edge{geom.Line(geom.Pt(0, 0), geom.Pt(30, 0))},
		geom.ArcThrough(geom.Pt(30, 0), geom.Pt(50, 20), geom.Pt(30, 20), true),
		geom.Line(geom.Pt(50, 20), geom.Pt(50, 40)))...)
	return Union(Stroke(arc, 1), New(geom.Rect(geom.Box{Min: geom.Pt(20, -4), Max: geom.Pt(24, 4)})))
}

func BenchmarkSmallClose(b *testing.B) {
	r := smallRegion()
	b.ReportAllocs()
	b.ReportMetric(float64(r.Len()), "edges")
	for b.Loop() {
		r.Close(5)
	}
}

func BenchmarkLocate(b *testing.B) {
	all := arcBands(2000)
	box := all.Bounds()
	rng := rand.New(rand.NewPCG(7, 8))
	pts := samples(rng, box, 1000)
	i := 0
	b.Run("Locate", func(b *testing.B) {
		for b.Loop() {
			all.Locate(pts[i%len(pts)])
			i++
		}
	})
	b.Run("BoundaryDist", func(b *testing.B) {
		for b.Loop() {
			all.BoundaryDist(pts[i%len(pts)])
			i++
		}
	})
}
