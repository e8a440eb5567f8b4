package region

import (
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/geom"
)

func square(x, y, side float64) Region {
	return New(geom.Rect(geom.Box{Min: geom.Pt(x, y), Max: geom.Pt(x+side, y+side)}))
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %.12g, want %.12g (tolerance %g)", what, got, want, tol)
	}
}

// Steiner's formula: area + perimeter r + pi r^2, perimeter + 2 pi r.
func TestSteiner(t *testing.T) {
	g := square(0, 0, 10).Grow(2)
	near(t, "area", g.Area(), 192.56637061435917, 1e-9)
	near(t, "perimeter", g.Perimeter(), 52.56637061435917, 1e-9)
	s := g.Shrink(2)
	near(t, "back area", s.Area(), 100, 1e-9)
	if s.Len() != 4 {
		t.Errorf("%d edges after growing and shrinking back, want 4: %v", s.Len(), s.Loops())
	}
}

func TestLens(t *testing.T) {
	a, b := Disc(geom.Pt(0, 0), 1), Disc(geom.Pt(2, 0), 2)
	near(t, "lens", Intersect(a, b).Area(), 1.403066439686, 1e-11)
	near(t, "union", Union(a, b).Area(), 5*math.Pi-1.403066439686, 1e-11)
}

// The two examples of vanishing loops in the design.
func TestVanishing(t *testing.T) {
	ring := Subtract(Disc(geom.Pt(0, 0), 41), Disc(geom.Pt(0, 0), 39))
	g := ring.Grow(50)
	near(t, "ring grown", g.Area(), math.Pi*91*91, 1e-7)
	if len(g.Loops()) != 1 {
		t.Errorf("%d loops, want 1", len(g.Loops()))
	}
	if s := Disc(geom.Pt(0, 0), 1).Shrink(3); !s.Empty() {
		t.Errorf("shrunk to %v, want nothing", s)
	}
}

func randomArcBand(rng *rand.Rand, size float64) Region {
	c := geom.Pt(rng.Float64()*size, rng.Float64()*size)
	arc := geom.Chain(false, geom.Arc(c, 2+rng.Float64()*20, rng.Float64()*7, 0.3+rng.Float64()*4)...)
	return Stroke(arc, 0.3+rng.Float64()*2)
}

func TestUnionAreas(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for i := range 200 {
		a := Union(randomArcBand(rng, 30), randomArcBand(rng, 30))
		b := Union(randomArcBand(rng, 30), randomArcBand(rng, 30))
		u, x := Union(a, b).Area(), Intersect(a, b).Area()
		if d := u + x - a.Area() - b.Area(); math.Abs(d) > 1e-9*u {
			t.Errorf("%d: union %g + intersection %g differ from the sum by %g", i, u, x, d)
		}
		s := Subtract(a, b).Area()
		if d := s + x - a.Area(); math.Abs(d) > 1e-9*u {
			t.Errorf("%d: difference is out by %g", i, d)
		}
	}
}

func TestGrowDistance(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for i := range 60 {
		a := Union(randomArcBand(rng, 40), randomArcBand(rng, 40), randomArcBand(rng, 40))
		for _, d := range []float64{0.5, 3, 20} {
			g := a.Grow(d)
			for _, c := range g.Loops() {
				for k := range 40 {
					p, _ := c.At(c.Length() * float64(k) / 40)
					if e := math.Abs(a.BoundaryDist(p) - d); e > 1e-9 || a.Contains(p) {
						t.Errorf("%d, d %g: %v is out by %g", i, d, p, e)
					}
				}
			}
			s := a.Shrink(d / 5)
			for _, c := range s.Loops() {
				for k := range 40 {
					p, _ := c.At(c.Length() * float64(k) / 40)
					if e := math.Abs(a.BoundaryDist(p) - d/5); e > 1e-9 || !a.Contains(p) {
						t.Errorf("%d, shrink %g: %v is out by %g", i, d/5, p, e)
					}
				}
			}
		}
	}
}

// TestGrownHasNoSlivers: a band of lines and an arc with slight turns close
// together, grown, is one piece: each piece of what is grown by 30 holds a disc of
// 30 (the definition of a Minkowski sum).
func TestGrownHasNoSlivers(t *testing.T) {
	for _, degrees := range []float64{0.05, 0.08, 0.1, 0.2, 0.3} {
		turn, way, at := degrees*math.Pi/180, 0.3, geom.Pt(0, 0)
		var line []geom.Edge
		for _, leg := range [][2]float64{{60, 0}, {9, 0}, {9, 9.0 / 70}, {0.4, 0}, {90, 0}} {
			length, sweep := leg[0], leg[1]
			e := geom.Line(at, at.Add(geom.Polar(length, way)))
			if sweep > 0 {
				chord := 2 * length / sweep * math.Sin(sweep/2)
				e = geom.Edge{A: at, B: at.Add(geom.Polar(chord, way+sweep/2)), Bulge: math.Tan(sweep / 4)}
			}
			line, at, way = append(line, e), e.B, way+sweep+turn
		}
		var round []geom.Edge
		for _, side := range [2][]geom.Edge{line, reversed(line)} {
			for _, e := range side {
				s := e.Shift(-0.05)
				if n := len(round); n > 0 {
					round = append(round, geom.Line(round[n-1].B, s.A))
				}
				round = append(round, s)
			}
		}
		round = append(round, geom.Line(round[len(round)-1].B, round[0].A))
		if grown := New(geom.Chain(true, round...)).Grow(30); len(grown.Loops()) != 1 {
			t.Errorf("%g degrees: %d loops", degrees, len(grown.Loops()))
		}
	}
}
