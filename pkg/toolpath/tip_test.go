package toolpath

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"strapwork/pkg/geom/region"
)

// A sharp corner needs ways aside from its lanes, and no more lanes: a groove
// nearly twice as wide as the bit has two, which meet beside its arms, and leaves
// the mitre's rounded tip alone, (b/2)^2 (cot(t/2) - (pi-t)/2), as any other
// (derived).
func TestTips(t *testing.T) {
	const bit, width = 3.0, 5.9
	ends := 4 * (1 - math.Pi/4) * bit * bit / 4
	for _, degrees := range []float64{16, 25, 40, 60, 75, 90, 110, 130} {
		y, x := math.Sincos(degrees * degree)
		g := drawn(t, width, bit, fmt.Sprintf("M 120 0 L 0 0 L %.12f %.12f", 120*x, 120*y))
		for how, o := range variants() {
			name := fmt.Sprintf("%s, %g degrees", how, degrees)
			p := plan(t, g, o)
			half := degrees / 2 * degree
			left := region.Subtract(g.Area(), cut(p)).Area() - ends
			near(t, name+": left", left, bit*bit/4*(1/math.Tan(half)-(math.Pi/2-half)), 1e-6)
			want := 2 * len(p.Depths)
			if o.Rough > 0 {
				want += 2
			}
			if got := len(p.Runs[0].Passes); got != want {
				t.Errorf("%s: %d passes, want %d", name, got, want)
			}
			// Aside it goes from the inner lane's corner, (k + s) / sin(t/2) from
			// the outer one's at most.
			for _, e := range detours(p) {
				if d := max(e.A.Norm(), e.B.Norm()); d > (width-bit)/math.Sin(half) {
					t.Errorf("%s: led aside %g mm from the corner", name, d)
				}
			}
			if o.Rough == 0 && len(detours(p)) != 2*len(p.Depths) {
				t.Errorf("%s: %d moves aside, want out and back at each depth", name, len(detours(p)))
			}
		}
	}
}

// What would take more moves than anybody waits for is refused before it is
// planned, however small the bit or the step.
func TestTooMuch(t *testing.T) {
	for _, c := range []struct {
		bit, step float64
	}{{1e-300, 0}, {1e-300, 1}, {1e-6, 0}, {b, 1e-300}, {b, 1e-6}, {0.001, 0.001}} {
		g := drawn(t, w, b, "M 0 0 L 100 0 L 100 50", "M 20 -30 A 30 30 0 0 1 20 30")
		g.Size.Bit = c.bit
		o := usual()
		o.Step = c.step
		_, err := Make(&g, o)
		var much *SizeError
		if !errors.As(err, &much) || !(much.Moves > mostMoves) {
			t.Errorf("bit %g, step %g: %v", c.bit, c.step, err)
		}
		from, to := g.Motif.Strands[0].Contour.Start(), g.Motif.Strands[0].Contour.End()
		if r := Straight(from, to, w, c.bit, o); len(r.Passes) > 0 {
			t.Errorf("bit %g, step %g: a straight of %d passes", c.bit, c.step, len(r.Passes))
		}
	}
}
