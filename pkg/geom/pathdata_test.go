package geom_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"strapwork/pkg/geom"
)

// show writes contours as "x,y bulge; ..." with the digits that matter.
func show(cs []geom.Contour) string {
	var parts []string
	for _, c := range cs {
		var vs []string
		for i, v := range c.Vertices {
			s := fmt.Sprintf("%.6g,%.6g", v.X, v.Y)
			if v.Bulge != 0 && (c.Closed || i < len(c.Vertices)-1) {
				s += fmt.Sprintf(" (%.6g)", v.Bulge)
			}
			vs = append(vs, s)
		}
		if c.Closed {
			vs = append(vs, "closed")
		}
		parts = append(parts, strings.Join(vs, "; "))
	}
	return strings.Join(parts, " | ")
}

// The grammar's forms: Scalable Vector Graphics 1.1 (Second Edition), W3C
// Recommendation 16 August 2011, sections 8.3.2 to 8.3.9. The bulges are
// tan(quarter of the sweep).
func TestParsePath(t *testing.T) {
	for _, c := range []struct{ name, d, want string }{
		{"empty", " \n", ""},
		{"line", "M 0 0 L 10 5", "0,0; 10,5"},
		{"repeated pairs", "M 0 0 10 0 10 10", "0,0; 10,0; 10,10"},
		{"repeated relative pairs", "m 1 1 10 0 0 10", "1,1; 11,1; 11,11"},
		{"the superfluous left out", "M100 100L200 200", "100,100; 200,200"}, // example of 8.3.1
		{"signs separate", "M100-200L-1-2", "100,-200; -1,-2"},               // 8.3.9
		{"points separate", "M0.6.5L1.5.25", "0.6,0.5; 1.5,0.25"},            // 8.3.9
		{"commas and lines", "M 0,0\n\tL 1 , 2,3\t,4", "0,0; 1,2; 3,4"},
		{"exponents", "M 1e1 0 L 2E+1 1e-1", "10,0; 20,0.1"},
		{"across and up", "M 1 2 H 5 V 7 h -2 v -1", "1,2; 5,2; 5,7; 3,7; 3,6"},
		{"several across", "M 0 0 H 1 2 v 1 1", "0,0; 1,0; 2,0; 2,1; 2,2"},
		{"closed", "M 0 0 L 10 0 L 10 10 Z", "0,0; 10,0; 10,10; closed"},
		{"closed by hand too", "M 0 0 L 10 0 L 10 10 L 0 0 z", "0,0; 10,0; 10,10; closed"},
		{"two subpaths", "M 0 0 L 1 0 M 5 5 L 6 5", "0,0; 1,0 | 5,5; 6,5"},
		{"relative move", "m 5 5 l 1 0 m 2 2 l 1 0", "5,5; 6,5 | 8,7; 9,7"},
		{"a move after closing starts from the start", "M 5 5 h 1 v 1 z m 10 0 h 1", "5,5; 6,5; 6,6; closed | 15,5; 16,5"},
		{"drawing on after closing", "M 5 5 h 1 v 1 z l 0 9", "5,5; 6,5; 6,6; closed | 5,5; 5,14"},
		{"half circle", "M -20 0 A 20 20 0 0 1 20 0 L 20 40", "-20,0 (1); 20,0; 20,40"},
		{"half circle clockwise", "M -20 0 A 20 20 0 1 0 20 0", "-20,0 (-1); 20,0"},
		{"quarter", "M 1 0 A 1 1 0 0 1 0 1", "1,0 (0.414214); 0,1"},
		{"three quarters", "M 1 0 A 1 1 0 1 0 0 1", "1,0 (-0.668179); -0.707107,-0.707107 (-0.668179); 0,1"},
		{"relative arc", "M 5 5 a 1 1 0 0 1 -1 1", "5,5 (0.414214); 4,6"},
		{"packed flags", "M 0 0 a1 1 0 01.5.5", "0,0 (0.182676); 0.5,0.5"},
		{"packed flags, large", "M1 0a1 1 0 10-1 1", "1,0 (-0.668179); -0.707107,-0.707107 (-0.668179); 0,1"},
		{"repeated arcs", "M 1 0 A 1 1 0 0 1 0 1 1 1 0 0 1 -1 0", "1,0 (0.414214); 0,1 (0.414214); -1,0"},
		{"a circle's turn does not matter", "M 1 0 A 1 1 77 0 1 0 1", "1,0 (0.414214); 0,1"},
		{"full circle", "M -5 0 A 5 5 0 0 1 5 0 A 5 5 0 0 1 -5 0 Z", "-5,0 (1); 5,0 (1); closed"},
		{"radius short by rounding", "M 0 0 A 0.707106781 0.707106781 0 0 1 1 1", "0,0 (1); 1,1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := geom.ParsePath(c.d)
			if err != nil {
				t.Fatalf("%q: %v", c.d, err)
			}
			if d := cmp.Diff(c.want, show(got)); d != "" {
				t.Errorf("%q: -want +got\n%s", c.d, d)
			}
		})
	}
}

// The pie of figure arcs01 (SVG 1.1, section 8.3.8): three quarters of a disc
// of radius 150 about 300,200, and a quarter about 275,175. Their sweep flag 0
// turns towards negative angles, which is clockwise with y upwards.
func TestParsePathPie(t *testing.T) {
	for _, c := range []struct {
		d      string
		center geom.Point
		part   float64 // of the disc, negative clockwise
	}{
		{"M300,200 h-150 a150,150 0 1,0 150,-150 z", geom.Pt(300, 200), -0.75},
		{"M275,175 v-150 a150,150 0 0,0 -150,150 z", geom.Pt(275, 175), -0.25},
	} {
		got, err := geom.ParsePath(c.d)
		if err != nil || len(got) != 1 {
			t.Fatalf("%q: %v, %v", c.d, got, err)
		}
		if want := c.part * math.Pi * 150 * 150; math.Abs(got[0].Area()-want) > 1e-9 {
			t.Errorf("%q: area %v, want %v", c.d, got[0].Area(), want)
		}
		for _, e := range got[0].Edges() {
			if !e.IsLine() && !e.Center().Near(c.center, 1e-9) {
				t.Errorf("%q: centre %v, want %v", c.d, e.Center(), c.center)
			}
		}
	}
}

// svgCenter is the conversion from end points to centre of SVG 1.1's
// implementation notes, F.6.5, for rx = ry = r and no turn: the centre, the
// start angle and the swept angle (equations F.6.5.1 to F.6.5.6).
func svgCenter(p1, p2 geom.Point, r float64, large, sweep bool) (c geom.Point, start, delta float64) {
	x1, y1 := (p1.X-p2.X)/2, (p1.Y-p2.Y)/2
	k := math.Sqrt(math.Max(0, r*r*r*r-r*r*y1*y1-r*r*x1*x1) / (r*r*y1*y1 + r*r*x1*x1))
	if large == sweep {
		k = -k
	}
	cx, cy := k*y1, -k*x1
	angle := func(u, v geom.Point) float64 { return math.Atan2(u.Cross(v), u.Dot(v)) }
	u, v := geom.Pt((x1-cx)/r, (y1-cy)/r), geom.Pt((-x1-cx)/r, (-y1-cy)/r)
	start, delta = angle(geom.Pt(1, 0), u), angle(u, v)
	if !sweep && delta > 0 {
		delta -= 2 * math.Pi
	}
	if sweep && delta < 0 {
		delta += 2 * math.Pi
	}
	return geom.Pt(cx+(p1.X+p2.X)/2, cy+(p1.Y+p2.Y)/2), start, delta
}

func TestParsePathArcsAgreeWithSVG(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p1 := geom.Pt(rapid.Float64Range(-500, 500).Draw(t, "x1"), rapid.Float64Range(-500, 500).Draw(t, "y1"))
		chord := rapid.Float64Range(1, 400).Draw(t, "chord")
		p2 := p1.Add(geom.Polar(chord, rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "direction")))
		// A radius well over half the chord: next to it both ways of working
		// lose half their digits, as the square root does.
		r := p1.Dist(p2) / 2 * rapid.Float64Range(1.0001, 20).Draw(t, "ratio")
		large, sweep := rapid.Bool().Draw(t, "large"), rapid.Bool().Draw(t, "sweep")
		bit := map[bool]int{true: 1}
		d := fmt.Sprintf("M %.17g %.17g A %.17g %.17g 0 %d %d %.17g %.17g", p1.X, p1.Y, r, r, bit[large], bit[sweep], p2.X, p2.Y)
		got, err := geom.ParsePath(d)
		if err != nil {
			t.Fatalf("%q: %v", d, err)
		}
		c := got[0]
		center, start, delta := svgCenter(p1, p2, r, large, sweep)
		for i := range 9 {
			f := float64(i) / 8
			want := center.Add(geom.Polar(r, start+f*delta))
			// Near the half circle an error of 1e-16 in the ratio is one of
			// 1e-14 in the angle (1/sqrt(1 - ratio^2) is at most 71 here).
			if p, _ := c.At(f * c.Length()); !p.Near(want, 1e-8) {
				t.Fatalf("%q at %v: %v, want %v", d, f, p, want)
			}
		}
		if want := 1; large {
			want = 2
			if c.Len() != want {
				t.Fatalf("%q: %d edges, want %d", d, c.Len(), want)
			}
		} else if c.Len() != want {
			t.Fatalf("%q: %d edges, want %d", d, c.Len(), want)
		}
	})
}

func TestParsePathErrors(t *testing.T) {
	for _, c := range []struct {
		d         string
		offset    int
		msg, hint string // parts of them
	}{
		{"L 1 1", 0, "must begin with M", "M"},
		{"1 2", 0, "without a command", ""},
		{"M 0 0 C 1 1 2 2 3 3", 6, "C is a Bezier", "A r r 0"},
		{"M 0 0 q 1 1 2 2", 6, "q is a Bezier", "arcs"},
		{"M 0 0 S 1 1 2 2", 6, "S is a Bezier", "arcs"},
		{"M 0 0 T 1 1", 6, "T is a Bezier", "arcs"},
		{"M 0 0 R 1 1", 6, "'R' is not known", "M L H V A Z"},
		{"M 0 0 é", 6, "'é' is not known", ""},
		{"M 0 0", 0, "nothing is drawn", ""},
		{"M 0 0 M 1 1 L 2 2", 0, "nothing is drawn", ""},
		{"M 0 0 L 1", 9, "number is missing at the end", ""},
		{"M 0 0 L 1 x", 10, "number is missing here", "no names"},
		{"M 0 0 L 1 1,", 11, "comma with no number", ""},
		{"M 0 0 L 1 1,,2 2", 11, "comma with no number", ""},
		{"M 0 0 L , 1 1", 8, "number is missing here", ""},
		{"M 0 0 L 0 0", 6, "ends coincide", ""},
		{"M 0 0 L 1 1 1 1", 12, "ends coincide", ""},
		{"M 0 0 h 0", 6, "ends coincide", ""},
		{"M 0 0 Z", 6, "nothing to close", ""},
		{"M 0 0 L 1 0 Z Z", 14, "nothing to close", ""},
		{"M 0 0 L 1e-9 0 Z", 15, "no length", ""},
		{"M 0 0 A 4 5 0 0 1 1 1", 8, "ellipse", "same radius"},
		{"M 0 0 A 0 0 0 0 1 1 1", 8, "more than 0", ""},
		{"M 0 0 A -4 -4 0 0 1 1 1", 8, "more than 0", ""},
		{"M 0 0 A 4 4 0 0 1 10 0", 8, "radius 4 cannot join points 10 apart", "at least half the distance, 5"},
		{"M 0 0 A 4 4 0 0 1 0 0", 8, "ends where it begins", "two half"},
		{"M 0 0 A 4 4 0 2 1 1 1", 14, "large-arc flag must be 0 or 1", ""},
		{"M 0 0 A 4 4 0 0 7 1 1", 16, "sweep flag must be 0 or 1", ""},
		{"M 0 0 L 1e999 0", 8, "too large", ""},
		{"m 1e308 0 l 1e308 0", 10, "too far away", ""},
	} {
		_, err := geom.ParsePath(c.d)
		var e *geom.PathError
		if !errors.As(err, &e) {
			t.Errorf("%q: %v, want a *PathError", c.d, err)
			continue
		}
		if e.Offset != c.offset || !strings.Contains(e.Msg, c.msg) || !strings.Contains(e.Hint, c.hint) {
			t.Errorf("%q: at %d %q, hint %q; want at %d %q, hint %q", c.d, e.Offset, e.Msg, e.Hint, c.offset, c.msg, c.hint)
		}
	}
}

// FuzzParsePath: no data panics; what is read has finite points, no edge over
// a half circle and none without ends apart.
func FuzzParsePath(f *testing.F) {
	for _, d := range []string{
		"", "M 0 0 L 10 0 A 5 5 0 0 1 0 0 Z", "M0 0a1 1 0 01.5.5", "m1,1h2v2zl3 3", "M 0 0 A 4 4 0 1 0 1 1 Z M 5 5 H 6",
		"M1e9-1e-9L.5.5", "M 0 0 C 1 1 2 2 3 3", "M0 0L1 1,", "\xff", "M",
	} {
		f.Add(d)
	}
	f.Fuzz(func(t *testing.T, d string) {
		cs, err := geom.ParsePath(d)
		if err != nil {
			var e *geom.PathError
			if !errors.As(err, &e) || e.Offset < 0 || e.Offset > len(d) {
				t.Fatalf("%q: %#v", d, err)
			}
			return
		}
		for _, c := range cs {
			if c.Len() == 0 {
				t.Fatalf("%q: a contour without edges", d)
			}
			for _, e := range c.Edges() {
				if !e.A.Finite() || !e.B.Finite() || !(math.Abs(e.Bulge) <= 1) {
					t.Fatalf("%q: edge %v", d, e)
				}
			}
		}
	})
}
