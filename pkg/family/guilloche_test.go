package family_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/family"
)

// TestGuilloche: arcs on chords of a pitch s that rise by a have the radius
// (s^2 / 4 + a^2) / 2a and turn by 4 atan(2a / s), the angle at which two bands cross (the
// study's closed forms; sagitta and inscribed angle, Euclid III.31-35). Of n eyes two bands have
// n - 1 crossings and are one strand if they meet, with a corner at both ends, and n if they
// are loose.
func TestGuilloche(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 30).Draw(t, "eyes")
		s := rapid.Float64Range(60, 200).Draw(t, "pitch")
		a := s * rapid.Float64Range(0.022, 0.458).Draw(t, "rise")
		r, turn := (s*s/4+a*a)/(2*a), 4*math.Atan(2*a/s)
		p := family.Guilloche{Pitch: s, Eyes: n, Bands: 2, Rise: a}
		want := facts{strands: 1, crossings: n - 1, length: 2 * float64(n) * r * turn, tightest: r}
		drawn := want.holds(t, "a guilloche", p, 2, 0, times(n-1, turn*180/math.Pi))
		symmetric(t, "a guilloche", drawn, mirrors...)
		steady(t, "a guilloche", drawn)

		p.Loose = true
		want.strands, want.crossings = 2, n
		symmetric(t, "a loose guilloche", want.holds(t, "a loose guilloche", p, 0, 0, times(n, turn*180/math.Pi)), mirrors...)

		// The same by the angle alone.
		p.Rise, p.Angle = 0, turn/2
		want.holds(t, "a guilloche by its angle", p, 0, 0, times(n, turn*180/math.Pi))
	})
}

// TestGuillocheShanks: with straights of length l at an angle psi and arcs of radius r, half a
// pitch is l cos + r sin and the rise l sin + r (1 - cos).
func TestGuillocheShanks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		psi := rapid.Float64Range(0.15, 1.45).Draw(t, "angle")
		l := rapid.Float64Range(1, 60).Draw(t, "straight")
		r := rapid.Float64Range(5, 100).Draw(t, "radius")
		n := rapid.IntRange(2, 12).Draw(t, "eyes")
		sin, cos := math.Sincos(psi)
		p := family.Guilloche{Pitch: 2 * (l*cos + r*sin), Rise: l*sin + r*(1-cos), Angle: psi, Eyes: n, Bands: 2}
		if _, err := p.Draw(); err != nil {
			refused(t, p, "rise") // too steep or too flat without its straights
			return
		}
		want := facts{strands: 1, crossings: n - 1, length: 4 * float64(n) * (l + r*psi), tightest: r}
		want.holds(t, "a guilloche with straights", p, 2, 0, times(n-1, 2*psi*180/math.Pi))
	})
	p := family.Guilloche{Pitch: 40, Rise: 10, Eyes: 4, Bands: 2}
	for _, deg := range []float64{26.5, 53.2} { // atan(1/2) = 26.57 and 2 atan(1/2) = 53.13
		p.Angle = deg * math.Pi / 180
		refused(t, p, "angle")
		_, err := p.Draw()
		for _, deg := range hinted(t, err) {
			p.Angle = deg * math.Pi / 180
			draw(t, "as hinted", p)
		}
	}
}

// TestGuillocheBands: each pair of bands crosses once a pitch: b (b - 1) / 2 crossings to an
// eye (derived), and where four bands are trimmed to end alike the middle pair lacks one.
func TestGuillocheBands(t *testing.T) {
	for n := 2; n <= 14; n++ {
		for bands, crossings := range map[int]int{2: n, 3: 3 * n, 4: 6*n - 1} {
			for _, angle := range []float64{0, 0.6, 0.9} {
				p := family.Guilloche{Pitch: 60, Eyes: n, Bands: bands, Loose: true, Angle: angle}
				what := fmt.Sprintf("%d bands of %d eyes", bands, n)
				drawn := draw(t, what, p)
				m, w := woven(t, what, drawn)
				if len(m.Strands) != bands || len(w.Crossings) != crossings || kink(drawn) > 1e-9 {
					t.Errorf("%s: %d strands, %d crossings, a kink of %g, want %d crossings", what, len(m.Strands), len(w.Crossings), kink(drawn), crossings)
				}
				steady(t, what, drawn)
			}
		}
	}
	refused(t, family.Guilloche{Pitch: 60, Eyes: 4, Bands: 3}, "bands")
	refused(t, family.Guilloche{Pitch: 60, Count: 8, Bands: 3, Loose: true}, "bands")
}

// TestRoundGuilloche: n crossings at twice psi, on a circle of R, 2 strands if n is even and
// else one, of arcs of c / 2 sin(psi + pi / n) and c / 2 sin(psi - pi / n) that turn by twice
// those angles, c = 2 R sin(pi / n) (the study's closed forms; inscribed angles).
func TestRoundGuilloche(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(4, 96).Draw(t, "count")
		f := math.Pi / float64(n)
		least, most := max(f+1e-3, 5*math.Pi/180), 85*math.Pi/180
		psi := least + (most-least)*rapid.Float64Range(0, 1).Draw(t, "angle")
		ring := rapid.Float64Range(30, 300).Draw(t, "ring")
		c := 2 * ring * math.Sin(f)
		out, in := c/(2*math.Sin(psi+f)), c/(2*math.Sin(psi-f))
		p := family.Guilloche{Count: n, Ring: ring, Angle: psi, Bands: 2}
		want := facts{strands: 2 - n%2, crossings: n, length: 2 * float64(n) * (out*(psi+f) + in*(psi-f)), tightest: min(out, in)}
		drawn := want.holds(t, "a round guilloche", p, 0, 0, times(n, 2*psi*180/math.Pi))
		_, w := woven(t, "a round guilloche", drawn)
		for _, x := range w.Crossings {
			if math.Abs(x.At.Norm()-ring) > 1e-6 {
				t.Errorf("a crossing %v from the middle, want %v", x.At.Norm(), ring)
			}
		}
		p.Ring, p.Pitch = 0, c
		want.holds(t, "a round guilloche by its pitch", p, 0, 0, nil)
	})
	for _, deg := range []float64{20, 22.5, 86} {
		p := family.Guilloche{Count: 8, Ring: 100, Bands: 2, Angle: deg * math.Pi / 180}
		refused(t, p, "angle")
		_, err := p.Draw()
		for _, deg := range hinted(t, err) {
			p.Angle = deg * math.Pi / 180
			draw(t, "as hinted", p)
		}
	}
	for n := 4; n <= 96; n += 7 {
		steady(t, "a round guilloche", draw(t, "a round guilloche", family.Guilloche{Count: n, Ring: 60 + 5*float64(n), Bands: 2}))
	}
}

// TestGuillocheFlat: under 0.088 pitches bands cross at less than 40 degrees, which is said.
func TestGuillocheFlat(t *testing.T) {
	for rise, wary := range map[float64]bool{8.7: true, 8.9: false, 34.9: false, 35.1: true} {
		p := family.Guilloche{Pitch: 100, Rise: rise, Eyes: 4, Bands: 2}
		if got := p.Wary(); (got != nil) != wary || wary && got.Key != "rise" {
			t.Errorf("a rise of %v: %v", rise, got)
		}
	}
	if got := (family.Guilloche{Pitch: 100, Angle: 0.3, Count: 20, Bands: 2}).Wary(); got == nil || got.Key != "angle" {
		t.Errorf("an angle of 17 degrees: %v", got)
	}
	for _, rise := range []float64{2, 46, 60} {
		p := family.Guilloche{Pitch: 100, Rise: rise, Eyes: 4, Bands: 2}
		refused(t, p, "rise")
		_, err := p.Draw()
		for _, p.Rise = range hinted(t, err) {
			draw(t, "as hinted", p)
		}
	}
	refused(t, family.Guilloche{Pitch: 100, Angle: 0.05, Eyes: 4, Bands: 2}, "angle")
}
