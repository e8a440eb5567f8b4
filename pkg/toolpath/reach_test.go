package toolpath

import (
	"fmt"
	"math"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
)

// However little play the bit has, the groove comes out as wide as it is drawn,
// on straights, arcs and between corners: the outlines differ by less than a
// micrometre.
func TestSlenderPlay(t *testing.T) {
	for _, play := range []float64{0.002, 0.005, 0.01, 0.03, 0.049, 0.051} {
		for how, o := range variants() {
			name := fmt.Sprintf("%s, play %g", how, play)
			bar := cut(plan(t, drawn(t, b+play, b, "M 0 0 L 100 0"), o)).Bounds()
			near(t, name+": width of a bar", bar.Size().Y, b+play, 1e-9)
			near(t, name+": length of a bar", bar.Size().X, 100, 1e-9)
			ring := cut(plan(t, drawn(t, b+play, b, "M 20 0 A 20 20 0 0 1 -20 0 A 20 20 0 0 1 20 0 Z"), o))
			near(t, name+": area of a ring", ring.Area(), 2*math.Pi*20*(b+play), 1e-4)
			checkPlan(t, name, drawn(t, b+play, b, "M 0 0 L 60 0 L 10 40", "M 30 -30 L 31 30", "M 90 0 L 130 0 L 130 40 Z"), o)
		}
	}
}

// crowdedFigures have places that the bit reaches from a neighbouring groove
// only: what a plan of the lanes alone leaves there is 0.01 to 0.5 mm2.
var crowdedFigures = []struct {
	name       string
	width, bit float64
	paths      []string
}{
	{"an end in a sharp crossing", 5.08, 3.175, []string{"M -40 0 L 40 0", "M -40 -8 L 3 1"}},
	{"two ends across each other", 5, 3, []string{"M -40 0 L 2 0", "M -20 40 L 1 -3"}},
	{"an end in a corner", 5, 3, []string{"M -40 0 L 0 0 L -20 40", "M -40 30 L -1 -1"}},
	{"an end, the bit fills the groove", 5.08, 5.08, []string{"M -40 0 L 40 0", "M -40 -8 L 3 1"}},
	{"a corner across a corner", 5.08, 3.175, []string{"M -40 0 L 0 0 L -40 20", "M 40 5 L -3 4 L 40 -20"}},
}

func TestCrowded(t *testing.T) {
	led := 0
	for _, c := range crowdedFigures {
		g := drawn(t, c.width, c.bit, c.paths...)
		for how, o := range variants() {
			name := c.name + ", " + how
			checkPlan(t, name, g, o)
			p := plan(t, g, o)
			led += checkDetours(t, name, g, p, o)
		}
	}
	if want := len(variants()) * len(crowdedFigures); led < want {
		t.Errorf("the bit is led aside in %d plans only, not in %d", led, want)
	}
}

// A recut of crowded figures makes them what a wider groove would be, no more and
// no less.
func TestCrowdedRecut(t *testing.T) {
	const widen = 0.1
	o := usual()
	o.Widen = widen
	led := 0
	for _, c := range crowdedFigures {
		g, wide := drawn(t, c.width, c.bit, c.paths...), drawn(t, c.width+widen, c.bit, c.paths...).Area()
		p := plan(t, g, o)
		done := g.Area().Shrink(c.bit/2 - onBorder).Grow(c.bit / 2)
		want := region.Subtract(wide.Open(c.bit/2), done)
		if left := region.Subtract(want, cut(p)).Shrink(speck / 2); !left.Empty() {
			t.Errorf("%s: %g mm2 left at %v", c.name, left.Area(), left.Bounds())
		}
		if over := region.Subtract(swept(p), wide.Grow(gouge)); !over.Empty() {
			t.Errorf("%s: %g mm2 cut outside the groove at %v", c.name, over.Area(), over.Bounds())
		}
		led += min(1, len(detours(p)))
	}
	if led == 0 {
		t.Error("the bit is led aside in no recut")
	}
}

// checkDetours checks that the bit is led aside at every depth alike, and that the
// parts of the plan are sound; it returns 1 if the bit is led aside at all.
func checkDetours(t *testing.T, name string, g groove.Groove, p Plan, o Params) int {
	t.Helper()
	whole := g.Area().Grow(gouge)
	length := make([]float64, len(p.Depths))
	for i, d := range p.Depths {
		part := p.AtDepth(i)
		for _, r := range part.Runs {
			if fault := continuity(r, Params{Depth: d, Ramp: o.Ramp}); fault != "" {
				t.Errorf("%s: %s at depth %d: %s", name, r.Name, i, fault)
			}
		}
		for _, e := range detours(part) {
			length[i] += e.Length()
			if over := region.Subtract(region.Stroke(geom.Chain(false, e), p.Bit/2), whole); !over.Empty() {
				t.Errorf("%s: %g mm2 cut outside on the way aside", name, over.Area())
			}
		}
		if (length[i] > 0) != (length[0] > 0) {
			t.Errorf("%s: led aside by %v mm at the depths %v", name, length, p.Depths)
		}
	}
	if length[0] > 0 {
		return 1
	}
	return 0
}

// detours are the ways aside: what is called between in another pass.
func detours(p Plan) (list []geom.Edge) {
	for _, r := range p.Runs {
		for _, pass := range r.Passes {
			for _, m := range pass.Moves {
				if m.Role == Between && pass.Role != Between {
					list = append(list, m.Edge)
				}
			}
		}
	}
	return list
}

// Rings and paths with arms so close that there is no wood between them are one
// wide groove there, which is cut to its walls.
func TestCloseArms(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	single := 0
	for _, c := range []struct {
		width, bit float64
		path       string
	}{
		{4.917, 2.487, "M 20.570479 -6.613804 L 7.707811 -35.71404 L -36.940895 -19.457277 A 42.723874 42.723874 0 0 0 -14.779079 8.624495 A 17.845586 17.845586 0 0 1 -17.718203 32.100394 A 30.3533 30.3533 0 0 1 17.579016 19.003161 Z"},
		{7.206, 3.5, "M 25.258874 29.293163 A 45.262196 45.262196 0 0 1 -13.160659 12.98178 A 33.225535 33.225535 0 0 0 -6.347813 -39.955585 Z"},
		{3.417, 2.249, "M 46.273106 -23.77849 L -6.434923 -22.876508 A 26.955442 26.955442 0 0 1 -44.771033 -4.19606 A 33.581721 33.581721 0 0 1 -17.108419 33.89409 L 35.100892 37.20916 A 87.572225 87.572225 0 0 0 46.273106 -23.77849 Z"},
		{3.391, 1.774, "M 17.490552 1.70709 A 62.721612 62.721612 0 0 0 -24.405384 26.232241 A 24.52274 24.52274 0 0 0 -16.944023 -5.413741 L 22.364128 -34.657243 A 58.688757 58.688757 0 0 1 17.490552 1.70709 Z"},
		{6.913, 1.383, "M 8.734477 24.146143 A 70.230912 70.230912 0 0 0 -52.387273 1.578619 A 86.079797 86.079797 0 0 0 11.45545 -13.737787 A 42.511916 42.511916 0 0 1 8.734477 24.146143 Z"},
	} {
		g := drawn(t, c.width, c.bit, c.path)
		for how, o := range variants() {
			checkPlan(t, fmt.Sprintf("width %g, %s", c.width, how), g, o)
			if followsNoWall(g, 0, o) {
				single++
			}
		}
	}
	if single < 12 {
		t.Errorf("only %d of 20 plans are of arms too close for lanes", single)
	}
}
