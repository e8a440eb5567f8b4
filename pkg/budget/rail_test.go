package budget_test

import (
	"math"
	"testing"

	"strapwork/pkg/budget"
	"strapwork/pkg/fixture"
	"strapwork/pkg/template"
)

// stepped is a set of two set-ups along a rail of two pieces.
func stepped() template.Set {
	s := two()
	s.Rail = &fixture.Rail{
		Pin: 8, Rows: []float64{14}, Joints: []float64{900, 1800},
		Holes: []fixture.RailHole{{SetUp: 1, At: 40}, {SetUp: 2, At: 1400, Passes: 1}, {SetUp: 3, At: 2440, Passes: 2}},
	}
	return s
}

// Along the rail, by hand: a pin of 0.05 mm of play is off the middle by half of that in
// its hole and in its slot; at each joint in either piece; and 0.1 % of 2.44 m is 2.44 mm.
// A tape of class II measures 2.44 m to 0.3 + 3 x 0.2 = 0.9 mm.
func TestStations(t *testing.T) {
	want := []struct{ pins, joints, scale, worst, measured float64 }{
		{0.05, 0, 0.04, 0.09, 0.09},
		{0.05, 0.05, 1.4, 1.5, 0.8},
		{0.05, 0.1, 2.44, 2.59, 1.05},
	}
	got := budget.Stations(stepped())
	if len(got) != len(want) {
		t.Fatalf("%d stations", len(got))
	}
	for i, w := range want {
		g := got[i]
		for _, c := range [][2]float64{{g.Pins, w.pins}, {g.Joints, w.joints}, {g.Scale, w.scale}, {g.Worst(), w.worst}, {g.Measured(), w.measured}} {
			if math.Abs(c[0]-c[1]) > 1e-9 {
				t.Errorf("set-up %d: %g, want %g", g.SetUp, c[0], c[1])
			}
		}
	}
	if budget.Stations(two()) != nil {
		t.Error("stations without a rail")
	}
}

// Between two panels of one rail: a seat, one edge of each, four places where a pin has
// play, and two in a splice.
func TestTermsAlongRail(t *testing.T) {
	b := of(t, "guide = \"base\"\nrider = 100\noff_center = 0", "", stepped())
	want := []budget.Term{
		{Source: budget.Bearing, From: 0.05, Assumed: true, Times: 1, Wander: 0.05},
		{Source: budget.Outline, From: 0.1, Times: 1, Wander: 0.1},
		{Source: budget.Index, From: 0.05, Assumed: true, Times: 4, Wander: 0.025},
		{Source: budget.Splices, From: 0.05, Assumed: true, Times: 2, Wander: 0.025},
		{Source: budget.Walls, From: 0.1, Times: 2, Wander: 0.05, Widen: 0.1},
	}
	for i, w := range want {
		if g := b.Terms[i]; g != w {
			t.Errorf("got  %+v\nwant %+v", g, w)
		}
	}
}
