package family_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/family"
	"strapwork/pkg/geom"
)

// lobesMeasures is what is known of lobes whose arcs go from tip to tip on a ring of 100 mm:
// half of what an arc turns by for radius r, by r sin(phi) = R sin(m pi / n), where its centre
// is, and the angle at a tip, in radians.
func lobesMeasures(n, m int, r float64) (phi, center, tip float64) {
	beta := float64(m) * math.Pi / float64(n)
	phi = math.Asin(min(1, 100*math.Sin(beta)/r))
	if m == 1 {
		return phi, 100*math.Cos(beta) + r*math.Cos(phi), 2 * (phi - (math.Pi/2 - beta))
	}
	return phi, 100*math.Cos(beta) - r*math.Cos(phi), 2 * (phi + math.Pi/2 - beta)
}

// lobesLimits are the radii between which arcs that are bowed to the middle reach from tip to
// tip, and cross again 2 mm from it, on a ring of 100 mm: the centre's distance from the
// middle, (100 + 98) / 2 cos(pi / n), is half of what the crossings' distances add up to, on the way
// to the tip.
func lobesLimits(n int) (least, most float64) {
	half := math.Pi / float64(n)
	center := (100 + 98) / 2 / math.Cos(half)
	return 100 * math.Sin(half), math.Sqrt(math.Pow(100*math.Sin(half), 2) + math.Pow(center-100*math.Cos(half), 2))
}

// steepest is the least radius on a ring of 100 mm, to 0.01 mm, at which all arcs cross at 10
// degrees or more.
func steepest(n, m int) float64 {
	r := 100.0
	for {
		_, center, _ := lobesMeasures(n, m, r)
		if -center*math.Sin(math.Pi/float64(n)) >= r*math.Sin(5*math.Pi/180) {
			return r
		}
		r += 0.01
	}
}

// TestLobes: 3 tips are the study's triquetra (3 crossings and tips of 2 (phi - 30) degrees
// for every phi but 58 to 62); all is derived from two equal arcs that cross on their axis.
func TestLobes(t *testing.T) {
	for n := 3; n <= 12; n++ {
		for m := 1; m <= max(1, n/2); m++ {
			least, most := lobesLimits(n)
			if m > 1 {
				least, most = steepest(n, m), 700
			}
			for i := range 12 {
				r := least + (most-least)*(float64(i)+0.5)/12
				p := family.Lobes{Count: n, Step: m, Ring: 100, Radius: r}
				phi, center, tip := lobesMeasures(n, m, r)
				if middle := math.Abs(math.Abs(center) - r); middle < 2 {
					refused(t, p, "radius")
					continue
				}
				crossings, angles := n*(m-1), []float64(nil)
				for k := 1; k < m; k++ {
					angles = append(angles, times(n, 2*math.Asin(-center*math.Sin(float64(k)*math.Pi/float64(n))/r)*180/math.Pi)...)
				}
				if m == 1 {
					crossings = n
					angles = times(n, 2*math.Asin(center*math.Sin(math.Pi/float64(n))/r)*180/math.Pi)
				}
				want := facts{strands: gcd(n, m), crossings: crossings, length: float64(n) * r * 2 * phi, tightest: r}
				what := fmt.Sprintf("%d lobes by %d of %v", n, m, r)
				for _, c := range want.holds(t, what, p, n, 0, angles) {
					in, on := c.Edge(c.Len()-1).Tangent(1), c.Edge(0).Tangent(0)
					if got := math.Pi - math.Abs(math.Atan2(in.Cross(on), in.Dot(on))); math.Abs(got-tip) > 1e-9 {
						t.Errorf("%s: its tips have %v degrees, want %v", what, got*180/math.Pi, tip*180/math.Pi)
					}
				}
			}
		}
	}
}

// TestLobesRound: rounded tips leave strands, crossings and their angles as they are, up to
// the radius that a refusal names.
func TestLobesRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 12).Draw(t, "count")
		m := rapid.IntRange(1, max(1, n/2)).Draw(t, "step")
		p := family.Lobes{Count: n, Step: m, Ring: 100, Radius: rapid.Float64Range(0, 1).Draw(t, "radius")}
		if least, most := lobesLimits(n); m > 1 {
			p.Radius = steepest(n, m) + 200*p.Radius
		} else {
			p.Radius = least + (most-least)*p.Radius
		}
		if _, err := p.Draw(); err != nil {
			return // in the middle
		}
		sharp, w := woven(t, "sharp", draw(t, "sharp", p))
		p.Round = 1000
		_, err := p.Draw()
		if err == nil {
			t.Fatalf("tips of 1000 mm on a ring of 100 mm")
		}
		most := hinted(t, err)[0]
		if most < 0.5 {
			return // tips too near a crossing to be rounded
		}
		p.Round = most * rapid.Float64Range(0.1, 1).Draw(t, "round")
		rounded := draw(t, "rounded", p)
		if k := kink(rounded); k > 1e-9 {
			t.Errorf("a kink of %g", k)
		}
		near, v := woven(t, "rounded", rounded)
		if len(near.Strands) != len(sharp.Strands) || len(v.Crossings) != len(w.Crossings) {
			t.Fatalf("%+v: %d strands and %d crossings, sharp %d and %d", p, len(near.Strands), len(v.Crossings), len(sharp.Strands), len(w.Crossings))
		}
		for _, c := range v.Crossings {
			found := false
			for _, b := range w.Crossings {
				found = found || b.At.Near(c.At, 0.005) && math.Abs(b.Angle-c.Angle) < 1e-3
			}
			if !found {
				t.Errorf("%+v: a crossing at %v moved", p, c.At)
			}
		}
		if got := family.Tightest(rounded); math.Abs(got-min(p.Round, p.Radius)) > 1e-9 {
			t.Errorf("tightest %v, want %v", got, p.Round)
		}
		p.Round = most + 0.02
		refused(t, p, "round")
	})
}

// TestLobesRefused: each refusal names radii that do, and no worse ones than need be.
func TestLobesRefused(t *testing.T) {
	for _, c := range []struct {
		n, m    int
		r       float64
		wanting string
	}{
		{3, 1, 50, "at least"},
		{3, 1, 99, "at most"}, // phi = 61
		{3, 1, 101, "at least"},
		{3, 1, 172, "at most"}, // 100 tan(60) = 173.2 is where they cross in the tips
		{4, 1, 70.72, "at least"},
		{4, 2, 4000, "at most"},
		{5, 2, 99, "at least"},
		{5, 1, 73, "at most"}, // 100 tan(36) = 72.65
	} {
		p := family.Lobes{Count: c.n, Step: c.m, Ring: 100, Radius: c.r}
		_, err := p.Draw()
		if err == nil || !strings.Contains(err.(*family.Fault).Hint.String(), c.wanting) {
			t.Errorf("%+v: %v, want %s", p, err, c.wanting)
			continue
		}
		for _, r := range hinted(t, err) {
			p.Radius = r
			draw(t, "as hinted", p)
		}
	}
	// The study's bounds: r = 0.866 R / sin(phi), for phi of 58 and 62.
	for phi, ok := range map[float64]bool{57.9: true, 58.2: false, 61.8: false, 62.1: true} {
		_, err := family.Lobes{Count: 3, Ring: 100, Radius: 100 * math.Sin(math.Pi/3) / math.Sin(phi*math.Pi/180)}.Draw()
		if (err == nil) != ok {
			t.Errorf("phi = %v: %v", phi, err)
		}
	}
	refused(t, family.Lobes{Count: 5, Step: 3, Ring: 100}, "step")
}

// TestLobesUsual: by default three tips are the triquetra of the study, r = 0.934 R and phi = 68,
// and any number of tips is drawn, tips on the ring and the first on top.
func TestLobesUsual(t *testing.T) {
	if r := family.Tightest(draw(t, "triquetra", family.Lobes{Count: 3, Ring: 100})); math.Abs(r-93.4) > 0.05 {
		t.Errorf("a triquetra of radius %v, want 93.4", r)
	}
	for n := 3; n <= 12; n++ {
		for m := 0; m <= max(1, n/2); m++ {
			drawn := draw(t, "lobes", family.Lobes{Count: n, Step: m, Ring: 100})
			steady(t, fmt.Sprintf("%d lobes by %d", n, m), drawn)
			if top := drawn[0].Vertices[0].Point; top != geom.Pt(0, 100) {
				t.Errorf("the first tip is at %v", top)
			}
		}
	}
}
