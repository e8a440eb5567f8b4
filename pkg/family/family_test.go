package family_test

import (
	"math"
	"testing"

	"strapwork/pkg/family"
	"strapwork/pkg/geom"
)

// TestLeastAndFit: of rings in proportion, whose radius is known: 1.5 R sin(pi/n).
func TestLeastAndFit(t *testing.T) {
	p := family.Rings{Count: 6}
	share := 1.5 * math.Sin(math.Pi/6)
	if got, ok := family.Least(p, 30); !ok || math.Abs(got-30/share) > 1e-9 {
		t.Errorf("least size %v %v, want %v", got, ok, 30/share)
	}
	// 6 rings lie 2 (R + r) wide.
	if got, ok := family.Fit(p, geom.Pt(350, 1000)); !ok || math.Abs(got-175/(1+share)) > 1e-9 {
		t.Errorf("fitted size %v %v, want %v", got, ok, 175/(1+share))
	}
	// A radius that is given doesn't grow with the size.
	p.Radius = 20
	if got, ok := family.Least(p, 30); ok {
		t.Errorf("rings of 20 mm are followed by 30 mm at %v", got)
	}
	// They cross their neighbours alone from 40/sqrt(3) mm on to 40 mm.
	if got, ok := family.Fit(p, geom.Pt(100, 1000)); !ok || math.Abs(got-30) > 1e-9 {
		t.Errorf("fitted size %v %v, want 30", got, ok)
	}
	if got, ok := family.Fit(p, geom.Pt(86, 1000)); ok {
		t.Errorf("rings of 20 mm that cross their neighbours lie within 86 mm at %v", got)
	}
}
