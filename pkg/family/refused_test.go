package family_test

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"

	"pgregory.net/rapid"

	"strapwork/pkg/family"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
)

// holds is facts.hold for patterns whose crossings meet at various angles, given in degrees,
// and that have so many corners and tees.
func (want facts) holds(t rapid.TB, what string, p family.Pattern, corners, tees int, angles []float64) []geom.Contour {
	t.Helper()
	want.corners = corners > 0
	drawn, _ := want.hold(t, what, p)
	m, w := woven(t, what, drawn)
	got := 0
	for _, s := range m.Strands {
		for i, is := range s.Corner {
			if is {
				got++
				continue
			}
			if i == 0 && !s.Contour.Closed || i == s.Contour.Len() {
				continue
			}
			in, on := s.Contour.Edge((i+s.Contour.Len()-1)%s.Contour.Len()).Tangent(1), s.Contour.Edge(i).Tangent(0)
			if turn := math.Abs(math.Atan2(in.Cross(on), in.Dot(on))); turn > 1e-9 {
				t.Errorf("%s: a kink of %v", what, turn)
			}
		}
	}
	if got != corners || len(w.Tees) != tees {
		t.Errorf("%s: %d corners and %d tees, want %d and %d", what, got, len(w.Tees), corners, tees)
	}
	var all []float64
	within := 1e-7
	for _, c := range w.Crossings {
		all = append(all, c.Angle*180/math.Pi)
		for _, s := range m.Strands {
			for _, v := range s.Contour.Vertices {
				if v.Near(c.At, 2*motif.Same) {
					within = 0.1 // a crossing that near to a joint has the joint's directions
				}
			}
		}
	}
	slices.Sort(all)
	slices.Sort(angles)
	for i := range min(len(all), len(angles)) {
		if math.Abs(all[i]-angles[i]) > within {
			t.Errorf("%s: its strands cross at %v degrees, want %v", what, all, angles)
			break
		}
	}
	return drawn
}

// times is a list of n times an angle of crossing lines in degrees, taken as at most 90.
func times(n int, deg float64) []float64 {
	deg = math.Mod(math.Abs(deg), 180)
	return slices.Repeat([]float64{min(deg, 180-deg)}, n)
}

// typed are contours as one writes them: with two decimals, and bulges with six.
func typed(contours []geom.Contour) []geom.Contour {
	var all []geom.Contour
	for _, c := range contours {
		r := geom.Contour{Closed: c.Closed}
		for _, v := range c.Vertices {
			r.Vertices = append(r.Vertices, geom.Vertex{Point: geom.Pt(math.Round(v.X*100)/100, math.Round(v.Y*100)/100), Bulge: math.Round(v.Bulge*1e6) / 1e6})
		}
		all = append(all, r)
	}
	return all
}

// steady holds that a pattern has as many strands, crossings and tees when it is written
// with two decimals.
func steady(t rapid.TB, what string, drawn []geom.Contour) {
	t.Helper()
	m, w := woven(t, what, drawn)
	n, v := woven(t, what+" with two decimals", typed(drawn))
	count := func(m motif.Motif, w weave.Weave) [3]int {
		return [3]int{len(m.Strands), len(w.Crossings), len(w.Tees)}
	}
	if a, b := count(m, w), count(n, v); a != b {
		t.Errorf("%s: %v strands, crossings and tees, with two decimals %v", what, a, b)
	}
}

// refused holds that a pattern is refused for a measure, and what would do is said.
func refused(t rapid.TB, p family.Pattern, key string) {
	t.Helper()
	_, err := p.Draw()
	var f *family.Fault
	if !errors.As(err, &f) || f.Key != key || f.Hint.String() == "" {
		t.Errorf("%+v: %v, want it refused for its %s, with a hint", p, err, key)
	}
}

// hinted are the numbers in what a refusal says would do, in order.
func hinted(t rapid.TB, err error) (all []float64) {
	t.Helper()
	var f *family.Fault
	if !errors.As(err, &f) {
		t.Fatalf("%v is no fault", err)
	}
	for _, word := range strings.FieldsFunc(f.Hint.String(), func(r rune) bool { return r == ' ' || r == ',' || r == ';' }) {
		if v, err := strconv.ParseFloat(word, 64); err == nil {
			all = append(all, v)
		}
	}
	if len(all) == 0 {
		t.Fatalf("%q names no value", f.Hint)
	}
	return all
}

// mirrors reflect in both axes.
var mirrors = []geom.Similarity{geom.MirrorX(), geom.MirrorY()}
