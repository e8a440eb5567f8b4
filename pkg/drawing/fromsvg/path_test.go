package fromsvg_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/drawing"
	"strapwork/pkg/drawing/fromsvg"
	"strapwork/pkg/geom"
)

// spelled is what path data draws: lines as "L", curves as "C" and "Q", arcs as "A" with
// their end, in the file's own coordinates.
func spelled(t *testing.T, d string) string {
	t.Helper()
	got, findings := fromsvg.Read("t.svg", []byte(`<svg><path stroke="#000" d="`+d+`"/></svg>`))
	if findings.HasErrors() {
		return strings.TrimPrefix(findings[0].Message, "t.svg: ")
	}
	var b strings.Builder
	point := func(p geom.Point) { // arcs are out by roundings
		fmt.Fprintf(&b, "%g,%g ", math.Round(p.X*1e9)/1e9+0, 0-math.Round(p.Y*1e9)/1e9)
	}
	for _, c := range got.Curves {
		b.WriteString("M")
		point(drawing.Start(c.Segments[0]))
		for _, s := range c.Segments {
			switch s := s.(type) {
			case drawing.Line:
				b.WriteString("L")
				point(s.B)
			case drawing.Bezier:
				b.WriteString(map[int]string{3: "Q", 4: "C"}[len(s.Points)])
				for _, p := range s.Points[1:] {
					point(p)
				}
			case drawing.Ellipse:
				b.WriteString("A")
				point(drawing.End(s))
			}
		}
		if c.Closed {
			b.WriteString("z")
		}
	}
	return strings.TrimSpace(b.String())
}

// TestPathGrammar: examples of SVG 1.1, chapter 8, and SVG 2, section 9.3, with what they
// draw by the words of the specification.
func TestPathGrammar(t *testing.T) {
	for _, c := range []struct{ d, want string }{
		// SVG 1.1, 8.3.1: superfluous white space and separators, repeated commands.
		{"M 100 100 L 200 200", "M100,100 L200,200"},
		{"M100 100L200 200", "M100,100 L200,200"},
		{"M 100 200 L 200 100 L -100 -200", "M100,200 L200,100 L-100,-200"},
		{"M 100 200 L 200 100 -100 -200", "M100,200 L200,100 L-100,-200"},
		// 8.3.9: the grammar consumes as much as it can: 100, -200 and 0.6, 0.5.
		{"M 100-200 L 0.6.5", "M100,-200 L0.6,0.5"},
		// SVG 2, 9.3.9: the same for M 0.6.5.
		{"M 0.6.5 l 1 1", "M0.6,0.5 L1.6,1.5"},
		// 8.3.2: a relative move at the beginning is absolute, pairs after it are lines.
		{"m 1 2 3 4 5 6", "M1,2 L4,6 L9,12"},
		{"M1 2 3 4M5 6 7 8", "M1,2 L3,4 M5,6 L7,8"},
		// 8.3.3: after Z the next subpath begins where the last one did.
		{"M10 10h10v10zl5 5", "M10,10 L20,10 L20,20 L10,10 zM10,10 L15,15"},
		{"M10 10h10v10zm5 5h1", "M10,10 L20,10 L20,20 L10,10 zM15,15 L16,15"},
		{"M10 10h10v10h-10v-10z", "M10,10 L20,10 L20,20 L10,20 L10,10 z"},
		{"M10 10h10v10h-10v-10", "M10,10 L20,10 L20,20 L10,20 L10,10 z"},
		// 8.3.4: H and V keep the other coordinate.
		{"M1 2H5 6V7 8h1 1v-1-1", "M1,2 L5,2 L6,2 L6,7 L6,8 L7,8 L8,8 L8,7 L8,6"},
		// 8.3.6, 8.3.7: smooth curves mirror the last control point, of their own kind only.
		{"M0 0C1 1 2 2 3 0S5 1 6 0", "M0,0 C1,1 2,2 3,0 C4,-2 5,1 6,0"},
		{"M0 0L3 0S5 1 6 0", "M0,0 L3,0 C3,0 5,1 6,0"},
		{"M0 0Q1 2 2 0T4 0 6 0", "M0,0 Q1,2 2,0 Q3,-2 4,0 Q5,2 6,0"},
		{"M0 0C1 1 2 2 3 0T6 0", "M0,0 C1,1 2,2 3,0 Q3,0 6,0"},
		{"M0 0q1 2 2 0S5 1 6 0", "M0,0 Q1,2 2,0 C2,0 5,1 6,0"},
		{"M1 1c1 1 2 1 3 0 1-1 2-1 3 0", "M1,1 C2,2 3,2 4,1 C5,0 6,0 7,1"},
		// 8.3.8 and F.6.2: arcs; flags need no separators (SVG 2, 9.3.9).
		{"M0 0a1 1 0 01.5.5", "M0,0 A0.5,0.5"},
		{"M0 0a1 1 0 0,1.5.5a1 1 0 101 0", "M0,0 A0.5,0.5 A1.5,0.5"},
		{"M0 0A0 1 0 0 1 5 5", "M0,0 L5,5"},
		{"M0 0A2 2 0 0 1 0 0L1 0", "M0,0 L1,0"},
		// Numbers.
		{"M+1,+2L1e1,2E-1", "M1,2 L10,0.2"},
		{"M1.,2.L.5,.25", "M1,2 L0.5,0.25"},
		{"\tM\n1\r2\r\nL 3 4", "M1,2 L3,4"},
		// What draws nothing, and what isn't a path.
		{"M5 5", ""},
		{"", ""},
		{"none", ""},
		{"M5 5z", ""},
		{"M1 1M2 2L3 3", "M2,2 L3,3"},
		{"M1 1L2 2,", "M1,1 L2,2"},
		{"10 20", `this is not a command of a path, there is "10 20"`},
		{"M1", "a number is missing, the value ends"},
		{"M1 1L2 2 3", "a number is missing, the value ends"},
		{"M1 1,,2 2", `this is not a command of a path, there is ",2 2"`},
		{"M1 1z2 2", `this is not a command of a path, there is "2 2"`},
		{"M1 1L#2 2", `a number is missing, there is "#2 2"`},
		{"M1 1B2 2", `this is not a command of a path, there is "B2 2"`},
		{"M1 1a1 1 0 00", "a number is missing, the value ends"},
		{"M1 1e", `this is not a command of a path, there is "e"`},
		{"M1 1.e2L-", "a number is missing, there is \"-\""},
	} {
		if got := spelled(t, c.d); got != c.want {
			t.Errorf("%q: %s, want %s", c.d, got, c.want)
		}
	}
}

// TestArcs: four arcs join (300, 200) and (450, 200) on ellipses of half axes 100 and 50
// (the figure of SVG 1.1, section 8.3.8, in small); each has its ends, half axes, and the
// side that its flags say. Radii that don't reach are scaled up to a half ellipse (F.6.6).
func TestArcs(t *testing.T) {
	for _, c := range []struct {
		flags string
		sweep float64 // of the circle of which this is an affine picture; sin(half) = 0.75
		below bool    // its middle, as seen in the file: greater y
	}{
		{"0 0", -2 * math.Asin(0.75), true},
		{"0 1", 2 * math.Asin(0.75), false},
		{"1 0", 2*math.Asin(0.75) - 2*math.Pi, true},
		{"1 1", 2*math.Pi - 2*math.Asin(0.75), false},
	} {
		d, findings := fromsvg.Read("t.svg", []byte(`<svg><path stroke="#000" d="M300 200A100 50 0 `+c.flags+` 450 200"/></svg>`))
		if len(findings) > 0 || len(d.Curves) != 1 {
			t.Fatal(findings)
		}
		e, ok := d.Curves[0].Segments[0].(drawing.Ellipse)
		middle := e.At(0.5)
		switch {
		case !ok || e.IsCircle(), !e.At(0).Near(geom.Pt(300, -200), 1e-9), !e.At(1).Near(geom.Pt(450, -200), 1e-9):
			t.Errorf("%s: %v", c.flags, e)
		case math.Abs(e.Major.Norm()-100) > 1e-9, math.Abs(e.Minor.Norm()-50) > 1e-9, math.Abs(e.Sweep-c.sweep) > 1e-12:
			t.Errorf("%s: half axes %v and %v, sweep %v", c.flags, e.Major, e.Minor, e.Sweep)
		case (-middle.Y > 200) != c.below:
			t.Errorf("%s: the middle is %v", c.flags, middle)
		}
	}
	d, _ := fromsvg.Read("t.svg", []byte(`<svg><path stroke="#000" d="M0 0A1 1 77 0 1 0 10A1 2 0 0 0 0 30"/></svg>`))
	half, tall := d.Curves[0].Segments[0].(drawing.Ellipse), d.Curves[0].Segments[1].(drawing.Ellipse)
	if !half.Center.Near(geom.Pt(0, -5), 1e-12) || !half.IsCircle() || math.Abs(half.Major.Norm()-5) > 1e-12 || math.Abs(half.Sweep) != math.Pi {
		t.Errorf("a half circle of radius 5: %v", half)
	}
	if !tall.Center.Near(geom.Pt(0, -20), 1e-12) || math.Abs(tall.Major.Norm()-5) > 1e-12 || math.Abs(tall.Minor.Norm()-10) > 1e-12 {
		t.Errorf("a half ellipse of half axes 5 and 10: %v", tall)
	}
}

// TestKnownMotifs: what the drawings of ../testdata were made from comes back (its README
// has the figures; coordinates of three decimals are out by 0.0005 each).
func TestKnownMotifs(t *testing.T) {
	radii := func(file string, want map[float64]int, within float64) {
		t.Helper()
		got := map[float64]int{}
		for _, c := range load(t, "../testdata/"+file).Curves {
			for _, s := range c.Segments {
				e, ok := s.(drawing.Ellipse)
				if !ok || !e.IsCircle() {
					continue
				}
				r := e.Major.Norm()
				for w := range want {
					if math.Abs(r-w) < within {
						r = w
					}
				}
				got[r]++
			}
		}
		if fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("%s: arcs of radii %v, want %v", file, got, want)
		}
	}
	radii("ring-guilloche-rounded.svg", map[float64]int{20.06273623: 8, 41.43850370: 8}, 0.001)
	radii("rosette-dashes.svg", map[float64]int{60: 12}, 1e-9)
	radii("panel-masks.svg", map[float64]int{20 / math.Sqrt(8): 6}, 0.001)
	radii("looped-triangle-pt.svg", map[float64]int{8: 3}, 1e-9)
	radii("triquetra-bands.svg", map[float64]int{93.4038 + 7: 6, 93.4038 - 7: 6, 93.4038 + 12: 3, 93.4038 - 12: 3}, 0.001)
}

// TestGapsOfDashes: each ring of the rosette goes under where its gaps lie: five times,
// where another ring crosses it (crossings of equal circles in closed form).
func TestGapsOfDashes(t *testing.T) {
	d := load(t, "../testdata/rosette-dashes.svg")
	for i, c := range d.Curves {
		at, gaps := 0.0, 0
		for k, length := range c.Dashes {
			if k%2 == 1 && length > 0 {
				gaps++
				p := atLength(c, at+length/2)
				if !onAnother(d, i, p) {
					t.Errorf("ring %d: the gap at %v crosses nothing", i, p)
				}
			}
			at += length
		}
		if gaps != 5 || math.Abs(at-c.Length()) > 0.01 {
			t.Errorf("ring %d: %d gaps in %v of %v", i, gaps, at, c.Length())
		}
	}
}

// atLength is the point of a chain of half circles at a length.
func atLength(c drawing.Curve, at float64) geom.Point {
	for _, s := range c.Segments {
		length := drawing.Length(s)
		if at <= length {
			return s.At(at / length)
		}
		at -= length
	}
	return drawing.End(c.Segments[len(c.Segments)-1])
}

// onAnother reports whether a point of ring i lies on another, to three decimals.
func onAnother(d drawing.Drawing, i int, p geom.Point) bool {
	for k, c := range d.Curves {
		if k != i && math.Abs(p.Dist(c.Segments[0].(drawing.Ellipse).Center)-60) < 0.005 {
			return true
		}
	}
	return false
}
