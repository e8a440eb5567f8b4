package plan

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/geom"
)

// separate are n rings that don't meet, in a grid and each a little out of it, so
// that no turn lays them on themselves.
func separate(n int, pitch float64) figure {
	rng := rand.New(rand.NewPCG(91, 92))
	wide := int(math.Ceil(math.Sqrt(float64(n))))
	var f figure
	for i := range n {
		at := geom.Pt(pitch*float64(i%wide)+rng.Float64(), pitch*float64(i/wide)+rng.Float64())
		f.paths = append(f.paths, geom.Circle(at, 45))
	}
	return f
}

// Rings further apart than openings must be take two set-ups and two panels,
// however many there are: each is cut in two stretches, which no panel holds
// both, since what is inside would fall out. Every split of theirs is seen.
func TestSeparateRings(t *testing.T) {
	for _, n := range []int{20, 500} {
		r := mustPrepare(t, separate(n, 160).text(9)+inlay+bushing)
		p := r.plan()
		if n < 100 { // looking at every pair of openings takes half a minute else
			checkPlan(t, &r.groove, p)
		}
		if len(p.SetUps) != 2 || len(p.Panels) != 2 || p.Visible != 2*n || len(p.Cuts()) != 2*n {
			t.Errorf("%d rings: %v, %d cuts", n, p, len(p.Cuts()))
		}
	}
}

// BenchmarkSeparateRings plans more and more rings that don't meet, far apart and
// so near that openings are in one another's way.
func BenchmarkSeparateRings(b *testing.B) {
	for _, pitch := range []float64{160, 120} {
		for _, n := range []int{100, 200, 400, 800, 1600} {
			b.Run(fmt.Sprintf("pitch=%g/n=%d", pitch, n), func(b *testing.B) {
				r := mustPrepare(b, separate(n, pitch).text(9)+inlay+bushing)
				for b.Loop() {
					r.plan()
				}
			})
		}
	}
}
