package family_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/family"
)

// foilLimits are the radii at which foils in a ring of 100 mm touch their neighbours, and
// the next but one: R s / (1 + s) with s = sin(pi / n) and sin(2 pi / n). Three meet in the
// middle where each goes through it.
func foilLimits(n int) (touch, most float64) {
	share := func(a float64) float64 { return 100 * math.Sin(a) / (1 + math.Sin(a)) }
	touch, most = share(math.Pi/float64(n)), share(2*math.Pi/float64(n))
	if n == 3 {
		most = 50
	}
	return touch, most
}

// TestFoil: whole rings cross 2 n times; foils that end on one another make 2 n tees and an
// outline n corners. Two circles of radius r whose centres are d apart meet where
// cos = d / 2 r, seen from a centre, which gives each arc's length and a cusp's angle (all
// derived).
func TestFoil(t *testing.T) {
	for n := 3; n <= 12; n++ {
		touch, most := foilLimits(n)
		for _, share := range []float64{0.1, 0.5, 0.9} {
			r := touch + (most-touch)*share
			half := math.Pi / float64(n)
			d := 2 * (100 - r) * math.Sin(half)
			lens := math.Acos(d / (2 * r)) // half of what a foil has within the next
			all := 2 * math.Pi * r
			what := fmt.Sprintf("%d foils of %v", n, r)

			p := family.Foil{Count: n, Ring: 100, Radius: r}
			facts{strands: n, crossings: 2 * n, length: float64(n) * all, tightest: r}.
				holds(t, what, p, 0, 0, times(2*n, between(d, r)))

			p.Cusp = family.CuspTee
			facts{strands: n, length: float64(n) * (all - 2*lens*r), tightest: r}.
				holds(t, what+" on one another", p, 0, 2*n, nil)

			// Of the outline's arc, half is what is left of half a turn less the lens and less the
			// angle between the axis to the next centre and the outside.
			p.Cusp = family.CuspPoint
			arc := 2 * r * (math.Pi/2 + half - lens)
			drawn := facts{strands: 1, length: float64(n) * arc, tightest: r}.holds(t, what+" as an outline", p, n, 0, nil)
			in, on := drawn[0].Edge(drawn[0].Len()-1).Tangent(1), drawn[0].Edge(0).Tangent(0)
			if cusp := math.Pi - math.Abs(math.Atan2(in.Cross(on), in.Dot(on))); math.Abs(cusp-2*lens) > 1e-9 {
				t.Errorf("%s: its cusps have %v degrees, want %v", what, cusp*180/math.Pi, 2*lens*180/math.Pi)
			}

			// A cusp's round touches both foils: its centre and theirs are r + round apart.
			p.Round = 0.4 * r
			apart := math.Acos(d / 2 / (r + p.Round))
			length := float64(n) * (2*r*(math.Pi/2+half-apart) + p.Round*(math.Pi-2*apart))
			facts{strands: 1, length: length, tightest: p.Round}.holds(t, what+" with rounded cusps", p, 0, 0, nil)
		}
		// The study's radii of foils that touch: 0.4641, 0.4142, 1/3, 0.2768.
		if want, ok := map[int]float64{3: 46.41, 4: 41.42, 6: 33.33, 8: 27.68}[n]; ok && math.Abs(touch-want) > 0.005 {
			t.Errorf("%d foils touch at %v, want %v", n, touch, want)
		}
		for _, cusp := range []family.Cusp{family.CuspCross, family.CuspTee, family.CuspPoint} {
			refused(t, family.Foil{Count: n, Ring: 100, Radius: touch, Cusp: cusp}, "radius")
			refused(t, family.Foil{Count: n, Ring: 100, Radius: 100, Cusp: cusp}, "radius")
			if cusp != family.CuspPoint {
				refused(t, family.Foil{Count: n, Ring: 100, Radius: most, Cusp: cusp}, "radius")
				refused(t, family.Foil{Count: n, Ring: 100, Cusp: cusp, Round: 5}, "round")
			}
			steady(t, "foils", draw(t, "foils", family.Foil{Count: n, Ring: 100, Cusp: cusp}))
		}
	}
}

// TestFoilRefused: what a refusal names is drawn.
func TestFoilRefused(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 12).Draw(t, "count")
		p := family.Foil{Count: n, Ring: 100, Cusp: family.Cusp(rapid.IntRange(0, 2).Draw(t, "cusp"))}
		p.Radius = rapid.Float64Range(1, 150).Draw(t, "radius")
		if _, err := p.Draw(); err != nil {
			for _, r := range hinted(t, err) {
				p.Radius = r
				draw(t, "as hinted", p)
			}
		}
	})
}
