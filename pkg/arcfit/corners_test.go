package arcfit_test

import (
	"math"
	"math/rand"
	"testing"

	"strapwork/pkg/arcfit"
	"strapwork/pkg/geom"
)

const degree = math.Pi / 180

// walk is a polyline of points a step apart along arcs and lines, with a corner before each but the first.
func walk(step, noise float64, r *rand.Rand, legs ...[3]float64) (points []geom.Point, corners []int) {
	at, heading := geom.Point{}, 0.3
	points = append(points, at)
	for i, leg := range legs { // turn before, curvature, length
		if i > 0 {
			corners = append(corners, len(points)-1)
			heading += leg[0]
		}
		c := arcfit.Chain{Start: at, Heading: heading, Pieces: []arcfit.Piece{{Curvature: leg[1], Length: leg[2]}}}
		line := c.Contour()
		n := max(1, math.Round(leg[2]/step))
		for j := range int(n) {
			p, _ := line.At(leg[2] * float64(j+1) / n)
			points = append(points, p)
		}
		at, heading = c.End(), c.Turned()
	}
	for i := range points {
		points[i] = points[i].Add(geom.Pt(r.NormFloat64()*noise, r.NormFloat64()*noise))
	}
	return points, corners
}

func TestCorners(t *testing.T) {
	legs := func(turns ...float64) [][3]float64 {
		out := [][3]float64{{0, 1. / 30, 20}}
		for i, turn := range turns {
			out = append(out, [3]float64{turn * degree, []float64{0, -1. / 20, 1. / 12}[i%3], 15})
		}
		return out
	}
	cases := []struct {
		name        string
		step, noise float64
		legs        [][3]float64
	}{
		{"sharp", 0.3, 0, legs(90, -45, 20)},
		{"sharp, shaking", 0.3, 0.004, legs(90, -45, 20, -20)},
		{"coarse", 1, 0, legs(120, -20, 20)},
		{"dense", 0.02, 0.002, legs(20, -20, 60)},
		{"kinks", 0.3, 0, legs(3, -5, 1.5)},
		{"kinks, shaking", 0.3, 0.0005, legs(6, -5)},
		{"smooth", 0.3, 0.005, legs(0, 0, 0, 0)},
		{"smooth, clean", 0.3, 0, legs(0, 0, 0, 0)},
		{"smooth, coarse", 1.1, 0, legs(0, 0, 0)},
		{"lines", 100, 0, [][3]float64{{0, 0, 20}, {20 * degree, 0, 20}, {-2 * degree, 0, 30}}},
	}
	for _, c := range cases {
		for seed := range int64(5) {
			points, want := walk(c.step, c.noise, rand.New(rand.NewSource(seed)), c.legs...)
			turns := c.legs[1:]
			if turns[0][0] == 0 {
				want = nil
			}
			got := arcfit.Corners(points, false, 0.02)
			if len(got) != len(want) {
				t.Errorf("%s, seed %d: %v, want %v", c.name, seed, got, want)
				continue
			}
			for i, g := range got {
				turn := turns[i][0]
				if d := g.Index - want[i]; d < -1 || d > 1 || math.Abs(g.Angle-turn) > 1.5*degree+0.1*math.Abs(turn) {
					t.Errorf("%s, seed %d: %v, want %d turning %.2f", c.name, seed, g, want[i], turn)
				}
				if g.Kink() != (math.Abs(turn) < 7*degree) {
					t.Errorf("%s, seed %d: %v: a kink?", c.name, seed, g)
				}
			}
		}
	}
}

// TestPolygonsAsCircles: chords of n corners of a circle lie within twice the tolerance of it or they don't
// (their rise is r (1 - cos(pi/n))): then a circle half-way explains them.
func TestPolygonsAsCircles(t *testing.T) {
	for _, c := range []struct {
		n            int
		r, tolerance float64
		want         int
	}{{36, 20, 0.05, 0}, {36, 20, 0.02, 36}, {36, 5, 0.02, 0}, {8, 20, 0.02, 8}, {90, 20, 0.02, 0}, {4, 20, 0.1, 4}, {360, 50, 0.02, 0}} {
		got := arcfit.Corners(ellipse(c.r, c.r, c.n).Points, true, c.tolerance)
		if len(got) != c.want {
			t.Errorf("%d corners on a circle of %g at %g: %d, want %d", c.n, c.r, c.tolerance, len(got), c.want)
		}
	}
	if got := arcfit.Corners(ellipse(50, 30, 400).Points, true, 0.02); len(got) > 0 {
		t.Errorf("an ellipse has corners: %v", got)
	}
	if got := arcfit.Corners(letterS().Points, false, 0.02); len(got) > 0 {
		t.Errorf("an S has corners: %v", got)
	}
}
