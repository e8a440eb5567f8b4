package family_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/family"
)

// between is the angle in degrees at which circles of radius r cross whose centres are d apart,
// by the law of cosines: cos = 1 - d^2 / 2 r^2.
func between(d, r float64) float64 { return math.Acos(1-d*d/(2*r*r)) * 180 / math.Pi }

// TestRosette: n circles with n (n - 1) crossings, each pair twice (derived).
func TestRosette(t *testing.T) {
	for n := 3; n <= 24; n++ {
		for _, r := range []float64{102, 130, 150, 210} {
			if n > 16 && r != 150 {
				continue
			}
			var angles []float64
			for j := range n {
				for k := range j {
					angles = append(angles, times(2, between(200*math.Sin(float64(j-k)*math.Pi/float64(n)), r))...)
				}
			}
			p := family.Rosette{Count: n, Ring: 100, Radius: r}
			what := fmt.Sprintf("%d circles of %v", n, r)
			want := facts{strands: n, crossings: n * (n - 1), length: 2 * math.Pi * r * float64(n), tightest: r}
			want.holds(t, what, p, 0, 0, angles)
		}
		p := family.Rosette{Count: n, Ring: 100, Radius: 101}
		refused(t, p, "radius")
		p.Radius = 100 * math.Sin(float64(n/2)*math.Pi/float64(n)) * (1 - 1e-9)
		refused(t, p, "radius")
		draw(t, "a rosette", family.Rosette{Count: n, Ring: 100})
	}
	// Odd numbers of circles may keep clear of the middle, and all meet: 3 from 86.6 mm on.
	for n, r := range map[int]float64{3: 88, 5: 96, 7: 97.8} {
		p := family.Rosette{Count: n, Ring: 100, Radius: r}
		if _, w := woven(t, "a rosette", draw(t, "a rosette", p)); len(w.Crossings) != n*(n-1) {
			t.Errorf("%+v: %d crossings", p, len(w.Crossings))
		}
	}
	for n, want := range map[int]int{3: 2, 4: 1, 5: 2, 7: 2, 9: 1} {
		p := family.Rosette{Count: n, Ring: 100, Radius: 99}
		_, err := p.Draw()
		radii := hinted(t, err)
		if len(radii) != want {
			t.Errorf("%+v: %v", p, err)
		}
		for _, p.Radius = range radii {
			draw(t, "as hinted", p)
		}
	}
}

func TestRosetteTyped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := family.Rosette{Count: rapid.IntRange(3, 12).Draw(t, "count"), Ring: rapid.Float64Range(30, 200).Draw(t, "ring")}
		p.Radius = p.Ring * rapid.Float64Range(1.02, 2).Draw(t, "radius")
		steady(t, "a rosette", draw(t, "a rosette", p))
	})
}

// TestRings: on a ring 2 n crossings, in a row 2 (n - 1), at the angle of two circles.
func TestRings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 60).Draw(t, "count")
		ring := rapid.Float64Range(40, 200).Draw(t, "ring")
		next, over := 2*ring*math.Sin(math.Pi/float64(n)), 2*ring*math.Sin(2*math.Pi/float64(n))
		most := next
		if n > 3 {
			most = min(next, over/2)
		}
		share := rapid.Float64Range(0.02, 0.98).Draw(t, "radius")
		p := family.Rings{Count: n, Ring: ring, Radius: next/2 + (most-next/2)*share}
		want := facts{strands: n, crossings: 2 * n, length: 2 * math.Pi * p.Radius * float64(n), tightest: p.Radius}
		if n == 3 && math.Abs(p.Radius-ring) < 0.02*ring {
			refused(t, p, "radius")
		} else {
			want.holds(t, "rings", p, 0, 0, times(2*n, between(next, p.Radius)))
		}
		p = family.Rings{Count: n, Pitch: next, Radius: next/2 + next/2*share}
		want = facts{strands: n, crossings: 2 * (n - 1), length: 2 * math.Pi * p.Radius * float64(n), tightest: p.Radius}
		want.holds(t, "a row of rings", p, 0, 0, times(2*(n-1), between(next, p.Radius)))
	})
	for _, r := range []float64{25, 50} {
		refused(t, family.Rings{Count: 5, Pitch: 50, Radius: r}, "radius")
	}
	if size := family.Rings.Sized(family.Rings{Count: 4, Pitch: 1}, 60); size != (family.Rings{Count: 4, Pitch: 60}) {
		t.Errorf("a row is sized as %+v", size)
	}
	if b := box(draw(t, "a row", family.Rings{Count: 4, Pitch: 60, Radius: 40})); math.Abs(b.Min.X+130) > 1e-9 || math.Abs(b.Max.X-130) > 1e-9 {
		t.Errorf("a row of 4 rings lies in %v", b)
	}
	refused(t, family.Rings{Count: 3, Ring: 100, Radius: 101.9}, "radius")
	refused(t, family.Rings{Count: 3, Ring: 100, Radius: 98.1}, "radius")
}
