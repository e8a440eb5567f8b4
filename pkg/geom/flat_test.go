package geom

import (
	"math"
	"testing"
)

// TestNearlyFlatArcs: to an arc so flat that its centre lies beyond any work, the distance
// is that to its chord but for its height, half the chord times the bulge.
func TestNearlyFlatArcs(t *testing.T) {
	for _, chord := range []float64{1, 100, 3000} {
		for e := -3.0; e > -18; e -= 0.5 {
			for _, side := range []float64{1, -1} {
				bulge := side * math.Pow(10, e)
				arc := Edge{A: Pt(3, 7), B: Pt(3, 7).Add(Polar(chord, 0.3)), Bulge: bulge}
				flat := Line(arc.A, arc.B)
				height := chord / 2 * math.Abs(bulge)
				for i := range 9 {
					for _, off := range []float64{-5, -1e-3, 0, 1e-3, 5} {
						p := flat.At(float64(i+1) / 10).Add(Polar(off, 0.3+math.Pi/2))
						q, s := arc.Nearest(p)
						if d := arc.Dist(p); math.Abs(d-math.Abs(off)) > height*1.01+2e-9 || math.Abs(p.Dist(q)-d) > 1e-9 {
							t.Errorf("chord %v bulge %.1e: %v from its chord it is %v, and %v from the nearest place", chord, bulge, off, d, p.Dist(q))
						}
						if math.Abs(s-float64(i+1)/10) > 1e-2*math.Abs(bulge)*10+1e-9+10*math.Abs(bulge) {
							t.Errorf("chord %v bulge %.1e: nearest at %v, want %v", chord, bulge, s, float64(i+1)/10)
						}
					}
				}
			}
		}
	}
}
