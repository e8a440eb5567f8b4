package family_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/family"
)

// TestLoops: one strand with n crossings at 360 / n degrees, and its length, all derived from
// the polygon about a circle of radius R, whose half side is R tan(pi / n); n = 3, R = 40,
// r = 66 is the looped triangle of testdata.
func TestLoops(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 12).Draw(t, "count")
		ring := rapid.Float64Range(40, 300).Draw(t, "ring")
		tan := math.Tan(math.Pi / float64(n))
		most := 4 * ring // loops of triangles and squares stay apart however large
		if n > 4 {
			most = ring * tan / (1 - tan)
		}
		r := rapid.Float64Range(5, 0.99*most).Draw(t, "radius")
		p := family.Loops{Count: n, Ring: ring, Radius: r}
		turns := 2 * math.Pi / float64(n)
		want := facts{strands: 1, crossings: n, length: float64(n) * (2*ring*tan + 2*r*tan + r*(2*math.Pi-turns)), tightest: r}
		// From 5 mm on two decimals turn a joint by less than what is a corner.
		steady(t, "loops", want.holds(t, "loops", p, 0, 0, times(n, 360/float64(n))))
	})
	for n := 3; n <= 12; n++ {
		tan := math.Tan(math.Pi / float64(n))
		p := family.Loops{Count: n, Ring: 100}
		if _, w := woven(t, fmt.Sprintf("%d loops", n), draw(t, "loops", p)); len(w.Crossings) != n {
			t.Errorf("%d loops have %d crossings", n, len(w.Crossings))
		}
		if n > 4 {
			p.Radius = 100 * tan / (1 - tan) * (1 - 1e-9)
			draw(t, "loops that hardly stay apart", p)
			p.Radius *= 1 + 2e-9
			refused(t, p, "radius")
		}
	}
}
