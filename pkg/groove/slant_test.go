package groove

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/diag"
)

// slanted is the one finding on slanting crossings, and the slants measured.
func slanted(t *testing.T, paths ...string) (diag.Findings, []slant) {
	t.Helper()
	g, found := read(t, bearing, paths...)
	var list []slant
	for _, c := range g.Weave.Crossings {
		list = append(list, g.slant(c))
	}
	for _, f := range found {
		if f.Rule != "crossing-slant" {
			t.Fatal(found)
		}
	}
	return found, list
}

// bar is a straight strand through (x, 0), half long each way, at an angle.
func bar(x, degrees, half float64) string {
	s, c := math.Sincos(degrees * math.Pi / 180)
	return fmt.Sprintf("M %.12f %.12f L %.12f %.12f", x-half*c, -half*s, x+half*c, half*s)
}

// TestSlantOfStraightStrands: two grooves share a rhombus of side w / sin(angle)
// (closed form: its height is w).
func TestSlantOfStraightStrands(t *testing.T) {
	for _, c := range []struct {
		degrees float64
		warned  bool
	}{{90, false}, {45, false}, {10.001, false}, {9.999, true}, {5, true}, {1, true}} {
		found, list := slanted(t, bar(0, 0, 400), bar(0, c.degrees, 400))
		want := w / math.Sin(c.degrees*math.Pi/180)
		near(t, "length", list[0].length, want, 1e-6)
		if list[0].stop != nil || found.HasErrors() || (len(found) == 1) != c.warned {
			t.Errorf("%g degrees: %v, stop %v", c.degrees, found, list[0].stop)
		}
		if c.warned && !strings.Contains(found[0].Message, fmt.Sprintf("the crossing is %.1f mm long where the groove is 5.08 mm wide", want)) {
			t.Errorf("%g degrees: %q lacks %.1f mm", c.degrees, found[0].Message, want)
		}
	}
}

// TestSlantOfALineAndACircle: a line that crosses a circle of radius R at the
// angle a passes its centre at R cos a. Along the line the groove of the circle
// ends where the distance from the centre is R +- w/2; along the circle that of
// the line does where the distance from the line is w/2 (closed forms).
func TestSlantOfALineAndACircle(t *testing.T) {
	const R, a = 2000.0, 8 * math.Pi / 180
	d, h := R*math.Cos(a), w/2
	alongLine := math.Sqrt((R+h)*(R+h)-d*d) - math.Sqrt((R-h)*(R-h)-d*d)
	alongCircle := R * (math.Acos((d-h)/R) - math.Acos((d+h)/R))
	circle := fmt.Sprintf("M %g 0 A %[1]g %[1]g 0 0 1 -%[1]g 0 A %[1]g %[1]g 0 0 1 %[1]g 0 Z", R)
	found, list := slanted(t, fmt.Sprintf("M -2500 %.12f L 2500 %.12[1]f", d), circle)
	if len(list) != 2 || len(found) != 1 || found.HasErrors() || !strings.HasSuffix(found[0].Message, "; 2 such places") {
		t.Fatalf("%d crossings, %v", len(list), found)
	}
	for _, s := range list {
		near(t, "angle", s.Angle, a, 1e-9)
		near(t, "length", s.length, max(alongLine, alongCircle), 1e-6)
	}
	// A line that stays within the circle's groove from one crossing to the other.
	if _, list := slanted(t, fmt.Sprintf("M -2500 %.12f L 2500 %.12[1]f", R-w/4), circle); list[0].stop == nil || list[0].stop.what != "the next crossing" {
		t.Errorf("a line that never leaves the circle's groove: %+v", list[0])
	}
}

// TestSlantReaches: half of w / sin(angle) each way is just free, or not, of
// what else is on one of the strands.
func TestSlantReaches(t *testing.T) {
	const degrees = 6
	half := w / 2 / math.Sin(degrees*math.Pi/180)
	long := bar(0, 0, 400)
	for name, strand := range map[string]func(x float64) []string{
		"a free end": func(x float64) []string { return []string{long, bar(0, degrees, x)} },
		"a corner": func(x float64) []string {
			s, c := math.Sincos(degrees * math.Pi / 180)
			return []string{long, fmt.Sprintf("M %.12f %.12f L %.12f %.12f l 0 200", -400*c, -400*s, x*c, x*s)}
		},
		"the next crossing": func(x float64) []string {
			return []string{long, bar(0, degrees, 400), fmt.Sprintf("M %g -100 V 100", x)}
		},
		"the end of another strand": func(x float64) []string { return []string{long, bar(0, degrees, 400), fmt.Sprintf("M %g 0 V -100", x)} },
		"the strand's end on another": func(x float64) []string {
			return []string{bar(0, degrees, 400), fmt.Sprintf("M -400 0 H %g", x), fmt.Sprintf("M %g -100 V 100", x)}
		},
	} {
		if _, list := slanted(t, strand(half+0.01)...); list[0].stop != nil {
			t.Errorf("%s, clear by 0.01 mm: it reaches %+v", name, list[0].stop)
		}
		found, list := slanted(t, strand(half-0.01)...)
		if list[0].stop == nil || list[0].stop.what != name || !found.HasErrors() {
			t.Errorf("%s, short by 0.01 mm: %+v, %v", name, list[0].stop, found)
			continue
		}
		near(t, name, list[0].stop.away, half-0.01, 1e-6)
	}
}

// TestSlantOfALoop: a strand that crosses itself aslant has two passages like
// any other crossing, and its own way between them is none of the crossing's.
func TestSlantOfALoop(t *testing.T) {
	const degrees = 8
	s, c := math.Sincos(degrees / 2 * math.Pi / 180)
	x, y := 800*c, 800*s
	loop := fmt.Sprintf("M %.12f %.12f L %.12f %.12f A %.12f %.12[5]f 0 1 0 %.12[3]f -%.12[4]f L %.12[1]f %.12[6]f", -x, -y, x, y, 800*math.Tan(degrees/2*math.Pi/180), y)
	_, list := slanted(t, loop)
	if len(list) != 1 || list[0].stop != nil {
		t.Fatalf("%+v", list)
	}
	near(t, "length", list[0].length, w/math.Sin(degrees*math.Pi/180), 1e-6)
}
