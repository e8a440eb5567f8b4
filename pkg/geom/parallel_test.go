package geom_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/geom"
)

func closeTo(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %.12g, want %.12g (tolerance %g)", what, got, want, tol)
	}
}

func samePoints(t *testing.T, what string, c geom.Contour, want ...geom.Point) {
	t.Helper()
	if len(c.Vertices) != len(want) {
		t.Errorf("%s: %d vertices, want %d: %v", what, len(c.Vertices), len(want), c)
		return
	}
	for i, p := range want {
		if !c.Vertices[i].Near(p, 1e-12) {
			t.Errorf("%s: vertex %d is %v, want %v", what, i, c.Vertices[i].Point, p)
		}
	}
}

// ngcExample is the contour of the cutter radius compensation example in
// NISTIR 6556 (Kramer, Proctor, Messina: The NIST RS274/NGC Interpreter,
// version 3), tables 12 and 13.
func ngcExample() geom.Contour {
	p := geom.Pt
	g2 := func(a, b, c geom.Point) geom.Edge { return geom.ArcThrough(a, b, c, false) }
	return geom.Chain(true,
		g2(p(2, 3), p(3, 2), p(2, 2)),
		geom.Line(p(3, 2), p(3, -1)),
		g2(p(3, -1), p(2, -2), p(2, -1)),
		geom.Line(p(2, -2), p(-2, -2)),
		g2(p(-2, -2), p(-2.6, -0.2), p(-2, -1)),
		geom.Line(p(-2.6, -0.2), p(1.4, 2.8)),
		g2(p(1.4, 2.8), p(2, 3), p(2, 2)))
}

// Cutter radius offset, NISTIR 6556, tables 12 and 13: radius 0.5.
func TestParallelNGC(t *testing.T) {
	p := geom.Pt
	got := ngcExample().Parallel(0.5, geom.Mitre)
	samePoints(t, "tool path", got,
		p(2, 3.5), p(3.5, 2), p(3.5, -1), p(2, -2.5), p(-2, -2.5), p(-2.9, 0.2), p(1.1, 3.2))
	for i, c := range map[int]geom.Point{0: p(2, 2), 2: p(2, -1), 4: p(-2, -1), 6: p(2, 2)} {
		if e := got.Edge(i); !e.Center().Near(c, 1e-12) || math.Abs(e.Radius()-1.5) > 1e-12 {
			t.Errorf("edge %d: centre %v, radius %g", i, e.Center(), e.Radius())
		}
	}
}

func box(w, h float64) geom.Contour {
	return geom.Rect(geom.Box{Max: geom.Pt(w, h)})
}

// Areas of parallel curves in closed form: a convex polygon with corner turns
// u_i grows to A + P d + d^2 sum tan(u_i/2) mitred, A + P d + pi d^2 round
// (Steiner); derived.
func TestParallelAreas(t *testing.T) {
	p := geom.Pt
	chamfered := geom.Polygon(p(0, 0), p(10, 0), p(10, 9), p(9, 10), p(0, 10))
	filleted := geom.Chain(true, geom.Line(p(0, 0), p(10, 0)), geom.Line(p(10, 0), p(10, 9)),
		geom.ArcThrough(p(10, 9), p(9, 10), p(9, 9), true), geom.Line(p(9, 10), p(0, 10)), geom.Line(p(0, 10), p(0, 0)))
	dee := geom.Chain(true, geom.Line(p(-3, 0), p(3, 0)), geom.ArcThrough(p(3, 0), p(-3, 0), p(0, 0), true))
	stepped := geom.Polygon(p(0, 0), p(10, 0), p(10, 5), p(9.5, 5), p(9.5, 10), p(0, 10))
	notched := geom.Polygon(p(0, 0), p(20, 0), p(20, 10), p(11, 10), p(11, 9), p(9, 9), p(9, 10), p(0, 10))
	needle := geom.Polygon(p(0, 0), geom.Polar(100, -0.1), geom.Polar(100, 0.1))
	tests := []struct {
		name string
		c    geom.Contour
		d    float64 // to the left, inside
		join geom.Join
		area float64
		n    int
	}{
		{"square in", box(10, 10), 2, geom.Mitre, 36, 4},
		{"square out", box(10, 10), -2, geom.Mitre, 196, 4},
		{"square out, round", box(10, 10), -2, geom.Round, 180 + 4*math.Pi, 8},
		{"square to its middle", box(10, 10), 5, geom.Mitre, 0, 0},
		{"square past its middle", box(10, 10), 7, geom.Mitre, 0, 0},
		{"bar past its middle", box(100, 2), 1.5, geom.Mitre, 0, 0},
		{"chamfer left", chamfered, 1, geom.Mitre, 64 - 0.5*sq(1-(2-math.Sqrt2)), 5},
		{"chamfer gone", chamfered, 2, geom.Mitre, 36, 4},
		{"fillet at its radius", filleted, 1, geom.Mitre, 64, 4},
		{"fillet gone", filleted, 2, geom.Round, 36, 4},
		{"fillet out", filleted, -1, geom.Mitre, 144 - (4 - math.Pi), 5},
		{"circle in", geom.Circle(p(3, 4), 5), 2, geom.Mitre, 9 * math.Pi, 2},
		{"circle out", geom.Circle(p(3, 4), 5), -2, geom.Round, 49 * math.Pi, 2},
		{"circle gone", geom.Circle(p(3, 4), 5), 5, geom.Round, 0, 0},
		{"half disc in", dee, 1, geom.Mitre, segment(2, 1), 2},
		{"half disc gone", dee, 1.6, geom.Mitre, 0, 0},
		{"half disc out", dee, -1, geom.Mitre, 16*math.Pi - segment(4, 1), 3},
		{"step stays", stepped, 2, geom.Mitre, 36 - 0.5*5, 6},
		{"step out", stepped, -2, geom.Mitre, 196 - 0.5*5, 6},
		{"step out, gone into the round corner", stepped, -2, geom.Round, steppedRound(), 10},
		{"notch gone", notched, -2, geom.Mitre, 24 * 14, 5},
		{"needle cut off", needle, -1, geom.Mitre, needleOut(), 4},
	}
	for _, tt := range tests {
		got := tt.c.Parallel(tt.d, tt.join)
		closeTo(t, tt.name, got.Area(), tt.area, 1e-9)
		if got.Len() != tt.n {
			t.Errorf("%s: %d edges, want %d: %v", tt.name, got.Len(), tt.n, got)
		}
		// The other way round, to the other side, is the same curve.
		back := tt.c.Reverse().Parallel(-tt.d, tt.join)
		closeTo(t, tt.name+" reversed", back.Area(), -tt.area, 1e-9)
	}
}

func sq(x float64) float64 { return x * x }

// segment is the area of a disc of radius r beyond a chord at distance h.
func segment(r, h float64) float64 {
	return r*r*math.Acos(h/r) - h*math.Sqrt(r*r-h*h)
}

// steppedRound is the outline of the stepped square grown by 2 with round
// corners, where the step of 0.5 is shorter than 2: the upper wall x = 11.5
// meets the arc about (10, 5) at height 5 + sqrt(4 - 1.5^2).
func steppedRound() float64 {
	h := math.Sqrt(4 - 1.5*1.5)
	// Right of x = 11.5 there is the lower wall's strip, 0.5 wide up to y = 5,
	// and a piece of the disc of radius 2.
	upper := 9.5*10 + 2*(9.5+10+9.5+10) + 4*math.Pi // the square of 9.5 by 10 grown
	lower := 0.5*5 + 0.5*2                          // beyond it: the wall, and its share below y = 0
	disc := (2*2*math.Asin(h/2) - h*1.5) / 2
	return upper + lower + disc
}

// needleOut is the triangle with sides 100, 100 and an angle of 0.2 between
// them grown by 1: mitred at the base, cut off at the tip.
func needleOut() float64 {
	base := 200 * math.Sin(0.1)
	area := 100 * 100 * math.Sin(0.2) / 2
	u := math.Pi/2 + 0.1 // the turn at each base corner
	tip := math.Sin(math.Pi-0.2) / 2
	return area + 200 + base + 2*math.Tan(u/2) + tip
}

func TestParallelOpen(t *testing.T) {
	p := geom.Pt
	ell := geom.Chain(false, geom.Line(p(0, 0), p(10, 0)), geom.Line(p(10, 0), p(10, 10)))
	samePoints(t, "inside", ell.Parallel(1, geom.Round), p(0, 1), p(9, 1), p(9, 10))
	samePoints(t, "outside", ell.Parallel(-1, geom.Mitre), p(0, -1), p(11, -1), p(11, 10))
	samePoints(t, "round outside", ell.Parallel(-1, geom.Round), p(0, -1), p(10, -1), p(11, 0), p(11, 10))
	hook := geom.Chain(false, geom.Line(p(-10, 0), p(0, 0)), geom.ArcThrough(p(0, 0), p(5, 5), p(5, 0), false))
	samePoints(t, "line to arc, trimmed", hook.Parallel(1, geom.Mitre), p(-10, 1), p(5-math.Sqrt(35), 1), p(5, 6))
	samePoints(t, "line to arc, mitred", hook.Parallel(-1, geom.Mitre), p(-10, -1), p(5-math.Sqrt(15), -1), p(5, 4))
	spike := geom.Chain(false, geom.Line(p(0, 0), p(10, 0)), geom.Line(p(10, 0), p(0, 0)))
	samePoints(t, "there and back", spike.Parallel(1, geom.Mitre), p(0, 1), p(10, 1), p(10, -1), p(0, -1))
	round := spike.Parallel(1, geom.Round)
	closeTo(t, "there and back, round", round.Length(), 20+math.Pi, 1e-12)
	samePoints(t, "none", geom.Contour{}.Parallel(1, geom.Mitre))
	samePoints(t, "not finite", ell.Parallel(math.NaN(), geom.Mitre))
	samePoints(t, "infinite", geom.Chain(false, geom.Line(p(0, 0), p(math.Inf(1), 0))).Parallel(1, geom.Mitre))
}

// A curve of smooth joints keeps them, its edges in their order, and its
// length changes by d times the turning; it may cross itself.
func TestParallelSmooth(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for i := range 200 {
		c, turning := smoothCurve(rng, 12)
		for _, d := range []float64{0.7, -0.7} {
			got := c.Parallel(d, geom.Join(i%2))
			if got.Len() != c.Len() {
				t.Fatalf("%d: %d edges, want %d", i, got.Len(), c.Len())
			}
			closeTo(t, fmt.Sprint("length of ", i), got.Length(), c.Length()-d*turning, 1e-9)
			for k := range c.Len() {
				e, g := c.Edge(k), got.Edge(k)
				for _, u := range []float64{0, 0.3, 1} {
					if want := e.At(u).Add(e.Tangent(u).Left().Scale(d)); !g.At(u).Near(want, 1e-9) {
						t.Errorf("%d, edge %d at %g: %v, want %v", i, k, u, g.At(u), want)
					}
				}
			}
		}
	}
}

// smoothCurve is an open curve of n lines and arcs of radius 1 or more, and
// the angle that it turns by.
func smoothCurve(rng *rand.Rand, n int) (c geom.Contour, turning float64) {
	at, heading := geom.Pt(0, 0), rng.Float64()*6
	var edges []geom.Edge
	for range n {
		e := geom.Line(at, at.Add(geom.Polar(1+9*rng.Float64(), heading)))
		if rng.IntN(2) == 0 {
			sweep := (0.2 + 2.8*rng.Float64()) * float64(1-2*rng.IntN(2))
			r := 1 + 9*rng.Float64()
			to := at.Add(geom.Polar(2*r*math.Abs(math.Sin(sweep/2)), heading+sweep/2))
			e = geom.Edge{A: at, B: to, Bulge: math.Tan(sweep / 4)}
			heading += sweep
			turning += sweep
		}
		edges = append(edges, e)
		at = e.B
	}
	return geom.Chain(false, edges...), turning
}

// Any contour at any distance: an answer in ordinary numbers, with arcs of at
// most half circles, and the same from the other direction.
func TestParallelAny(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	for i := range 3000 {
		c := randomContour(rng, i%2 == 0)
		d := (rng.Float64() - 0.5) * []float64{0.2, 2, 20}[i%3]
		join := geom.Join(i / 2 % 2)
		got := c.Parallel(d, join)
		for _, v := range got.Vertices {
			if !v.Finite() || !(math.Abs(v.Bulge) <= 1+1e-9) {
				t.Fatalf("%d: vertex %v of %v at %g", i, v, c, d)
			}
			// A mitre's tip, or two edges extended from d away.
			if q, _ := c.Nearest(v.Point); q.Dist(v.Point) > (geom.MitreLimit+1)*math.Abs(d)+1e-9 {
				t.Errorf("%d: vertex %v is %g from %v, d %g", i, v, q.Dist(v.Point), c, d)
			}
		}
		back := c.Reverse().Parallel(-d, join)
		closeTo(t, fmt.Sprint("length reversed of ", i), back.Length(), got.Length(), 1e-6*(1+got.Length()))
	}
}
