package family_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/family"
	"strapwork/pkg/geom"
)

// TestStar: {n/m} is gcd(n, m) strands (Coxeter, "Regular Polytopes", recalled) with
// n (m - 1) crossings, n of them at each of i 360 / n degrees, i = 1 .. m - 1 (two chords
// meet at half the sum of the arcs that they cut off: Euclid III.20, derived); the
// sides are chords, 2 R sin(m pi / n) long. A round takes two tangents off the sides and
// gives the arc between them.
func TestStar(t *testing.T) {
	for n := 5; n <= 24; n++ {
		for m := 2; 2*m < n; m++ {
			step := float64(m) * math.Pi / float64(n)
			before := float64(m-1) * math.Pi / float64(n)
			var angles []float64
			for i := 1; i < m; i++ {
				angles = append(angles, times(n, float64(i)*360/float64(n))...)
			}
			p := family.Star{Points: n, Step: m, Radius: 200}
			want := facts{strands: gcd(n, m), crossings: n * (m - 1), length: float64(n) * 400 * math.Sin(step), tightest: math.Inf(1)}
			what := fmt.Sprintf("{%d/%d}", n, m)
			want.holds(t, what, p, n, 0, angles)
			most := p.Radius * math.Cos(step) * (1 - math.Tan(before)/math.Tan(step))
			p.Round = most * (1 - 1e-6)
			want.tightest = p.Round
			want.length -= float64(n) * p.Round * (2*math.Tan(step) - 2*step)
			want.holds(t, what+" rounded", p, 0, 0, slices.Clone(angles))
			p.Round = most * (1 + 1e-6)
			refused(t, p, "round")
		}
	}
	refused(t, family.Star{Points: 8, Step: 4, Radius: 50}, "step")
	refused(t, family.Star{Points: 9, Step: 5, Radius: 50}, "step")
	if top := draw(t, "{7/2}", family.Star{Points: 7, Step: 2, Radius: 50})[0].Vertices[0].Point; top != geom.Pt(0, 50) {
		t.Errorf("the first point is at %v", top)
	}
}

func TestStarTyped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(5, 16).Draw(t, "points")
		p := family.Star{Points: n, Step: rapid.IntRange(2, (n-1)/2).Draw(t, "step"), Radius: rapid.Float64Range(60, 400).Draw(t, "radius")}
		steady(t, "star", draw(t, "star", p))
	})
}
