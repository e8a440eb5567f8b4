package family_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/family"
	"strapwork/pkg/geom"
)

// TestRingPlaits: gcd(leads, bights) strands and bights (leads - 1) crossings (Turk's
// heads: C. Ashley, "The Ashley Book of Knots", 1944, chapter 17, recalled; and derived:
// strands come back to where they began after leads bights).
func TestRingPlaits(t *testing.T) {
	most := 16
	if testing.Short() {
		most = 8
	}
	for l := 2; l <= 8; l++ {
		for b := 3; b <= most; b += 1 + b/10 {
			p := family.RingPlait{Leads: l, Bights: b, Inside: 60}
			what := fmt.Sprintf("%d leads, %d bights", l, b)
			holdRingPlait(t, what, p)
		}
	}
}

// holdRingPlait checks what is known of all ring plaits.
func holdRingPlait(t rapid.TB, what string, p family.RingPlait) {
	drawn := draw(t, what, p)
	want := facts{strands: gcd(p.Leads, p.Bights), crossings: p.Bights * (p.Leads - 1), length: length(drawn), tightest: family.Tightest(drawn)}
	_, w := want.hold(t, what, p)
	if want.crossings <= 40 {
		symmetric(t, what, drawn, geom.TurningFraction(1, p.Bights), geom.MirrorX())
	}
	if nearest := off(drawn, geom.Point{}); math.Abs(nearest-p.Inside) > 1e-9*max(1, p.Inside) {
		t.Errorf("%s: it comes within %v of the middle, want %v", what, nearest, p.Inside)
	}
	// Crossings stand on circles a pitch apart, on each at one angle.
	ray := math.Pi / float64(p.Bights)
	var circles []float64
	for _, c := range w.Crossings {
		at := math.Inf(1)
		for _, r := range circles {
			at = min(at, math.Abs(r-c.At.Norm()))
		}
		if at > 1e-6 {
			circles = append(circles, c.At.Norm())
		}
		if p.Pitch > 0 {
			slope := math.Atan(p.Pitch / (ray * c.At.Norm()))
			if want := min(2*slope, math.Pi-2*slope); math.Abs(c.Angle-want) > 1e-6 {
				t.Errorf("%s: strands cross at %v, want %v", what, c.Angle, want)
			}
		}
	}
	if len(circles) != p.Leads-1 {
		t.Errorf("%s: crossings on circles of %v", what, circles)
	}
}

// TestRingPlaitsOfAnyPitch: over the whole range.
func TestRingPlaitsOfAnyPitch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := family.RingPlait{Leads: rapid.IntRange(2, 8).Draw(t, "leads"), Bights: rapid.OneOf(rapid.IntRange(3, 12), rapid.IntRange(3, 60)).Draw(t, "bights"), Inside: rapid.Float64Range(20, 300).Draw(t, "inside")}
		p.Inside = math.Round(p.Inside*100) / 100
		p.Pitch = math.Round(p.Inside*math.Pi/float64(p.Bights)*rapid.Float64Range(0.5, 3).Draw(t, "pitch")*100) / 100
		holdRingPlait(t, fmt.Sprintf("%+v", p), p)
	})
}

// TestTwoLeads: two leads cross squarely by default, and all their arcs are those of a
// ring guilloche, tangent at every crossing: out and in, chord / (2 sin(45 degrees -+ half
// the angle between crossings)) (derived).
func TestTwoLeads(t *testing.T) {
	for b := 5; b <= 30; b++ {
		p := family.RingPlait{Leads: 2, Bights: b, Inside: 50}
		ray := math.Pi / float64(b)
		drawn := draw(t, "two leads", p)
		_, w := woven(t, "two leads", drawn)
		chord := 2 * w.Crossings[0].At.Norm() * math.Sin(ray)
		if want := chord / (2 * math.Sin(math.Pi/4+ray)); math.Abs(family.Tightest(drawn)-want) > 1e-9 {
			t.Errorf("%d bights: the tightest radius is %v, want %v", b, family.Tightest(drawn), want)
		}
		for _, c := range w.Crossings {
			if math.Abs(c.Angle-math.Pi/2) > 1e-9 {
				t.Errorf("%d bights cross at %v", b, c.Angle)
			}
		}
	}
}
