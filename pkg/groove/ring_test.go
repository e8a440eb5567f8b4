package groove

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// What is decided about a stretch of a ring from its measures is what growing and
// shrinking areas finds.
func TestRingIsFollowedAsItsClosingSays(t *testing.T) {
	rng := rand.New(rand.NewPCG(71, 72))
	reported := map[answer]int{}
	for range 60 {
		radius := 8 + 40*rng.Float64()
		g := sound(t, base, fmt.Sprintf("M %.9f 0 a %.9[1]f %.9[1]f 0 0 1 %.9f 0 a %.9[1]f %.9[1]f 0 0 1 -%.9[2]f 0 Z", radius, 2*radius))
		length := g.Motif.Strands[0].Length()
		for range 12 {
			g.Size.Bit = 2 + rng.Float64()*3
			g.Size.Width = g.Size.Bit
			if rng.IntN(3) > 0 {
				g.Size.Width += 2 * rng.Float64()
			}
			g.Size.RiderRadius = g.Size.Bit/2 + 0.8*radius*rng.Float64()
			g.Size.Web = 6 * rng.Float64()
			from := length * rng.Float64()
			to := from + length*(0.02+1.05*rng.Float64())
			if rng.IntN(2) == 0 { // nearly all round
				to = from + length - (g.Size.Bit+3*g.Size.RiderRadius)*rng.Float64()
			}
			if to <= from+g.Size.Bit {
				continue
			}
			a := g.SplitAt(0, from, false)
			b := a
			b.S = to
			b.At, _ = g.Motif.Strands[0].Contour.At(to)
			c := g.Stretch(0, a, b)
			if c.Line.Len() == 0 {
				continue
			}
			got := g.followsRing(c)
			reported[got]++
			if closes := g.closes(c); got == yes && !closes || got == no && closes {
				t.Errorf("R %g, from %g to %g, %+v: reported %d, closes %t", radius, from, to, g.Size, got, closes)
			}
		}
	}
	if reported[yes] < 100 || reported[no] < 50 || reported[unknown] > 400 {
		t.Errorf("reported %v", reported)
	}
}
