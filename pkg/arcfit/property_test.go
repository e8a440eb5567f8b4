package arcfit_test

import (
	"flag"
	"math"
	"os"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/arcfit"
	"strapwork/pkg/geom"
)

// TestMain lets properties be tried 30 times, unless asked for more: a fit takes some 20 ms.
func TestMain(m *testing.M) {
	flag.Parse()
	if flag.Lookup("rapid.checks").Value.String() == "100" {
		if err := flag.Set("rapid.checks", "30"); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}

// noisy is how far drawn points are out at most, and tolerance what they are fitted to.
const (
	noisy     = 0.005
	tolerance = 0.02
)

// differ reports whether two pieces beside one another can be distinguished at the tolerance: one that went on
// as the other would be far from it.
func differ(p, q arcfit.Piece) bool {
	length, change := min(p.Length, q.Length), math.Abs(p.Curvature-q.Curvature)
	return change > 0.01 && change*length*length/8 > 1
}

// piece draws an arc of 30 to 170 degrees, or a line.
func piece(t *rapid.T) arcfit.Piece {
	if rapid.IntRange(0, 3).Draw(t, "kind") == 0 {
		return arcfit.Piece{Length: rapid.Float64Range(15, 50).Draw(t, "line")}
	}
	r := rapid.Float64Range(8, 50).Draw(t, "radius")
	p := arcfit.Piece{Curvature: 1 / r, Length: r * rapid.Float64Range(30, 170).Draw(t, "sweep") * degree}
	if rapid.Bool().Draw(t, "right") {
		p.Curvature = -p.Curvature
	}
	return p
}

// pieces draws a row of pieces that can be distinguished.
func pieces(t *rapid.T, most int) []arcfit.Piece {
	var out []arcfit.Piece
	for range rapid.IntRange(1, most).Draw(t, "pieces") {
		p := piece(t)
		if len(out) == 0 || differ(p, out[len(out)-1]) {
			out = append(out, p)
		}
	}
	return out
}

// shaken is points a step apart along a chain, each up to noisy to one side.
func shaken(t *rapid.T, c arcfit.Chain, step float64) arcfit.Section {
	s := arcfit.Section{Closed: c.Closed}
	line, length := c.Contour(), c.Length()
	n := int(length / step)
	count := n + 1
	if c.Closed {
		count = n
	}
	offs := rapid.SliceOfN(rapid.Float64Range(-noisy, noisy), 17, 17).Draw(t, "noise")
	first := rapid.IntRange(0, n-1).Draw(t, "first")
	for i := range count {
		if c.Closed { // begun anywhere
			i += first
		}
		p, way := line.At(math.Mod(length*float64(i)/float64(n), length+1e-9))
		// Two lengths without a common factor: no short pattern that a curve could follow.
		off := (offs[i%17] + offs[i*i%13]) / 2
		s.Points = append(s.Points, p.Add(way.Left().Scale(off)))
	}
	return s
}

// held compares a fitted chain with that it was drawn from; a closed one may begin at another joint.
func held(t *rapid.T, got, want arcfit.Chain, result arcfit.Result, err error) {
	n := len(want.Pieces)
	if err != nil || !result.Met || len(got.Pieces) != n {
		t.Fatalf("%d pieces, want %d: %+v, %v", len(got.Pieces), n, result, err)
	}
	best := math.Inf(1)
	for shift := range n {
		worst := 0.0
		for i, p := range got.Pieces {
			q := want.Pieces[(i+shift)%n]
			// By how far the middle of such an arc is out, in tolerances.
			worst = max(worst, math.Abs(p.Curvature-q.Curvature)*q.Length*q.Length/8/tolerance)
		}
		best = min(best, worst)
		if !want.Closed {
			break
		}
	}
	if best > 1 {
		t.Fatalf("an arc's middle is out by %.2f tolerances:\n%v\n%v", best, got.Pieces, want.Pieces)
	}
}

// TestChainsComeBack draws chains of arcs and lines with noise of a quarter of the tolerance.
func TestChainsComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := arcfit.Chain{Start: geom.Pt(3, -8), Heading: rapid.Float64Range(-3, 3).Draw(t, "heading"), Pieces: pieces(t, 7)}
		s := shaken(t, want, 0.7)
		got, result, err := arcfit.Fit(s, arcfit.Params{Tolerance: tolerance})
		held(t, got, want, result, err)
	})
}

// rings draw a row of pieces that close when they are run several times, as a motif's copies do.
var rings = rapid.Custom(func(t *rapid.T) arcfit.Chain {
	row := pieces(t, 3)
	var turn float64
	for _, p := range row {
		turn += p.Sweep()
	}
	copies := rapid.IntRange(2, 5).Draw(t, "copies")
	r := rapid.Float64Range(8, 40).Draw(t, "last radius")
	last := arcfit.Piece{Length: r * math.Abs(2*math.Pi/float64(copies)-turn)}
	last.Curvature = (2*math.Pi/float64(copies) - turn) / last.Length
	row = append(row, last)
	c := arcfit.Chain{Closed: true}
	for range copies {
		c.Pieces = append(c.Pieces, row...)
	}
	return c
}).Filter(func(c arcfit.Chain) bool {
	for i, p := range c.Pieces {
		if sweep := math.Abs(p.Sweep()); sweep > 5 || !differ(p, c.Pieces[(i+1)%len(c.Pieces)]) {
			return false
		}
	}
	return true
})

// TestRingsComeBack is that for closed chains, begun anywhere.
func TestRingsComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := rings.Draw(t, "ring")
		s := shaken(t, want, 1)
		got, result, err := arcfit.Fit(s, arcfit.Params{Tolerance: tolerance})
		held(t, got, want, result, err)
	})
}

// asked is how many pieces a curve through points asks for by the theory of the package comment: the integral of the cube
// root of k' along it, times the cube root of sqrt(3)/216/tolerance.
func asked(points []geom.Point, tol float64) float64 {
	var sum, last, lastLength float64
	for i := 1; i+1 < len(points); i++ {
		in, out := points[i].Sub(points[i-1]), points[i+1].Sub(points[i])
		length := (in.Norm() + out.Norm()) / 2
		k := math.Atan2(in.Cross(out), in.Dot(out)) / length
		if i > 1 {
			step := (length + lastLength) / 2
			sum += math.Cbrt(math.Abs(k-last)/step) * step
		}
		last, lastLength = k, length
	}
	return sum * math.Cbrt(math.Sqrt(3)/216/tol)
}

// smooth draws a cubic whose radius is nowhere under 4 mm.
var smooth = rapid.Custom(func(t *rapid.T) []geom.Point {
	var p [4]geom.Point
	for i := range p {
		p[i] = geom.Pt(rapid.Float64Range(-60, 60).Draw(t, "x"), rapid.Float64Range(-60, 60).Draw(t, "y"))
	}
	return bezier(400, p[:]...).Points
}).Filter(func(points []geom.Point) bool {
	for i := 1; i+1 < len(points); i++ {
		in, out := points[i].Sub(points[i-1]), points[i+1].Sub(points[i])
		if in.Dot(out) <= 0 || math.Abs(in.Cross(out)/in.Dot(out)) > (in.Norm()+out.Norm())/2/4 {
			return false
		}
	}
	return true
})

// TestTheory holds counts on smooth curves to the theory: at most a quarter more and four.
func TestTheory(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := smooth.Draw(t, "curve")
		tol := rapid.SampledFrom([]float64{0.01, 0.02, 0.05, 0.1}).Draw(t, "tolerance")
		got, result, err := arcfit.Fit(arcfit.Section{Points: points}, arcfit.Params{Tolerance: tol})
		if most := 1.25*asked(points, tol) + 4; err != nil || !result.Met || float64(len(got.Pieces)) > most {
			t.Fatalf("%d pieces, want at most %.1f: %+v, %v", len(got.Pieces), most, result, err)
		}
		if result.Least > len(got.Pieces) {
			t.Fatalf("%d pieces, and %d are the least", len(got.Pieces), result.Least)
		}
	})
}

// TestSmoothHasNoCorners: neither curves nor chains with noise have any.
func TestSmoothHasNoCorners(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points, tol := smooth.Draw(t, "curve"), 0.02
		if rapid.Bool().Draw(t, "arcs") {
			c := arcfit.Chain{Pieces: pieces(t, 5)}
			points, tol = shaken(t, c, rapid.Float64Range(0.2, 0.8).Draw(t, "step")).Points, tolerance
		}
		if got := arcfit.Corners(points, false, tol); len(got) > 0 {
			t.Fatalf("corners %v among %d points", got, len(points))
		}
	})
}

// TestCornersAreFound bends a row of arcs by 20 degrees or more.
func TestCornersAreFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		step := rapid.Float64Range(0.2, 0.8).Draw(t, "step")
		before := arcfit.Chain{Pieces: []arcfit.Piece{piece(t)}}
		bend := rapid.Float64Range(20, 150).Draw(t, "bend") * degree
		if rapid.Bool().Draw(t, "right") {
			bend = -bend
		}
		after := arcfit.Chain{Start: before.End(), Heading: before.Turned() + bend, Pieces: []arcfit.Piece{piece(t)}}
		points := shaken(t, before, step).Points
		corner := len(points) - 1
		points = append(points, shaken(t, after, step).Points[1:]...)
		got := arcfit.Corners(points, false, tolerance)
		if len(got) != 1 || got[0].Index < corner-1 || got[0].Index > corner+1 || math.Abs(got[0].Angle-bend) > 4*degree {
			t.Fatalf("%v, want %d turning %.3f", got, corner, bend)
		}
	})
}
