package inlay

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
)

// All closed forms in this file are derived.

// exact is the rounding of lengths and areas of a few hundred mm.
const exact = 1e-8

func strip(t testing.TB, in Inlay, strand, layer int) Strip {
	t.Helper()
	for _, s := range in.Strips {
		if s.Strand == strand && s.Layer == layer {
			return s
		}
	}
	t.Fatalf("no strip %d of strand %d", layer, strand)
	return Strip{}
}

func areas(in Inlay) (sum float64, all []region.Region) {
	for _, s := range in.Strips {
		for _, p := range s.Pieces {
			sum += p.Area.Area()
			all = append(all, p.Area)
		}
	}
	return sum, all
}

// disjoint checks that no point belongs to two pieces: the area of all of them
// together is the sum of their areas.
func disjoint(t testing.TB, in Inlay) float64 {
	t.Helper()
	sum, all := areas(in)
	near(t, "area of the union of all pieces", region.Union(all...).Area(), sum, 1e-5)
	return sum
}

// A straight strip is length times thickness, square at its ends.
func TestStraight(t *testing.T) {
	in, _ := quiet(t, jobOf(unequal(), 1, polyline(10, 5, 90, 65)))
	for k, thick := range []float64{1, 2, 0.5} {
		s := strip(t, in, 0, k)
		if len(s.Pieces) != 1 {
			t.Fatalf("layer %d: %d pieces, want 1", k, len(s.Pieces))
		}
		p := s.Pieces[0]
		near(t, "area", p.Area.Area(), 100*thick, exact)
		for what, l := range map[string]float64{"length": p.Length, "left": p.Left, "right": p.Right} {
			near(t, what, l, 100, exact)
		}
		for _, e := range p.Ends {
			if e.Kind != EndFree || math.Abs(e.Angle-math.Pi/2) > exact {
				t.Errorf("layer %d: end %v at %g degrees, want flat at 90", k, e.Kind, degrees(e.Angle))
			}
		}
		if len(p.Segments) != 1 || p.Segments[0].Radius != 0 {
			t.Errorf("layer %d: segments %v, want one straight", k, p.Segments)
		}
	}
	near(t, "holly's left side", strip(t, in, 0, 0).Left, 1.75, exact)
	near(t, "walnut's right side", strip(t, in, 0, 2).Right, -1.75, exact)
}

// Left to right is facing along the strand as its first element is drawn, and
// along a copy's own travel: the mirrored copy of a curve that turns left
// turns right, and its left strip is the outer one.
func TestLeftToRight(t *testing.T) {
	tests := []struct {
		name   string
		mirror bool
		line   geom.Contour
		strand int
		left   geom.Point // the middle of the leftmost strip
	}{
		{"to the right", false, polyline(0, 0, 100, 0), 0, geom.Pt(50, 1.25)},
		{"to the left", false, polyline(100, 0, 0, 0), 0, geom.Pt(50, -1.25)},
		{"turning left", true, arc(0, 40, 20, 180, -180).Reverse(), 0, geom.Pt(0, 40+18.75)},
		{"its mirrored copy", true, arc(0, 40, 20, 180, -180).Reverse(), 1, geom.Pt(0, -40-21.25)},
		{"turning right", true, arc(0, 40, 20, 180, -180), 0, geom.Pt(0, 40+21.25)},
		{"its mirrored copy", true, arc(0, 40, 20, 180, -180), 1, geom.Pt(0, -40-18.75)},
	}
	for _, tt := range tests {
		j := jobOf(unequal(), 1, tt.line)
		j.Motif.Mirror = tt.mirror
		in, _ := quiet(t, j)
		if at := strip(t, in, tt.strand, 0).Pieces[0].At; !at.Near(tt.left, exact) {
			t.Errorf("%s: the leftmost strip is at %v, want %v", tt.name, at, tt.left)
		}
	}
	// Joined to the first-listed element, a second one drawn against it is run
	// the other way.
	in, _ := quiet(t, jobOf(unequal(), 1, polyline(0, 0, 50, 0), polyline(50, 40, 50, 0)))
	second := strip(t, in, 0, 0).Pieces[1]
	if want := 50 - 1.25; math.Abs(second.At.X-want) > exact {
		t.Errorf("the second arm's leftmost strip is at %v, want x = %g", second.At, want)
	}
}

// A ring of strips: 2 pi R times the thickness for each, R its own middle.
func TestRing(t *testing.T) {
	in, _ := quiet(t, jobOf(tableStrips(), 1, circle(3, 4, 40)))
	total := 0.0
	for _, s := range in.Strips {
		r := 40 - (s.Left+s.Right)/2
		p := s.Pieces[0]
		near(t, "length", p.Length, 2*math.Pi*r, exact)
		near(t, "area", p.Area.Area(), 2*math.Pi*r*s.Thickness, exact)
		if len(p.Segments) != 1 || math.Abs(p.Segments[0].Radius-r) > exact {
			t.Errorf("segments %v, want one bend of radius %g", p.Segments, r)
		}
		if p.Ends[0].Kind != EndSquare || p.Ends[1].Kind != EndSquare {
			t.Errorf("a ring with ends %v", p.Ends)
		}
		total += p.Area.Area()
	}
	near(t, "all strips", total, 2*math.Pi*40*tableStack, exact)
	disjoint(t, in)
}

// A square of mitred strips, run counter-clockwise: the strip between offsets
// l and r to the left has the area (a-2r)^2 - (a-2l)^2, and no gap at the
// mitres, where it is cut at 45 degrees.
func TestSquare(t *testing.T) {
	const a = 60
	in, _ := quiet(t, jobOf(tableStrips(), 1, polygon(0, 0, a, 0, a, a, 0, a)))
	for _, s := range in.Strips {
		want := sq(a-2*s.Right) - sq(a-2*s.Left)
		whole := s.Area()
		near(t, "area", whole.Area(), want, exact)
		if n := len(whole.Loops()); n != 2 || len(s.Pieces) != 4 {
			t.Errorf("layer %d: %d loops of %d pieces, want a ring of 4", s.Layer, n, len(s.Pieces))
		}
		for _, p := range s.Pieces {
			near(t, "length", p.Length, a-(s.Left+s.Right), exact)
			near(t, "left", p.Left, a-2*s.Left, exact)
			near(t, "right", p.Right, a-2*s.Right, exact)
			// Turning left the right side is the longer: the cut leans back to
			// the left at the end and on to the left at the start.
			near(t, "mitre at the start", degrees(p.Ends[0].Angle), 45, exact)
			near(t, "mitre at the end", degrees(p.Ends[1].Angle), 135, exact)
			if p.Ends[0].Kind != EndMitre || p.Ends[1].Kind != EndMitre {
				t.Errorf("ends %v, want mitres", p.Ends)
			}
		}
	}
	disjoint(t, in)
}

func sq(x float64) float64 { return x * x }

// Two straights with the included angle t mitre at t/2 (common practice).
func TestMitreAngles(t *testing.T) {
	for _, included := range []float64{30, 45, 60, 90, 120, 150} {
		turn := 180 - included
		end := geom.Polar(80, turn*deg)
		in, _, found := build(t, jobOf(unequal(), 1, polyline(-80, 0, 0, 0, end.X, end.Y)))
		if want := included < 40; len(found) > 0 != want { // mitres below 20 degrees are reported
			t.Errorf("at %g degrees: %v", included, found)
		}
		for _, s := range in.Strips {
			near(t, "mitre before", degrees(s.Pieces[0].Ends[1].Angle), 180-included/2, exact)
			near(t, "mitre after", degrees(s.Pieces[1].Ends[0].Angle), included/2, exact)
		}
		near(t, "area", disjoint(t, in), 160*3.5, 1e-6)
	}
}

// Two straights cross at an angle f: the upper strips run through whole, the
// lower ones are cut at f, on the left of the upper strand and on its right,
// (h -+ d cos f)/sin f from the crossing for a strip at offset d.
func TestCrossing(t *testing.T) {
	for _, f := range []float64{20, 35, 90, 120} {
		const h = 1.75
		a, b := geom.Polar(-50, f*deg), geom.Polar(70, f*deg)
		in, w := quiet(t, jobOf(unequal(), 1, polyline(-60, 0, 60, 0), polyline(a.X, a.Y, b.X, b.Y)))
		up, low := w.Crossings[0].Upper().Strand, w.Crossings[0].Lower().Strand
		if up != 0 || low != 1 {
			t.Fatalf("strand %d is over %d", up, low)
		}
		sin, cos := math.Sincos(f * deg)
		for k := range 3 {
			s := strip(t, in, up, k)
			if len(s.Pieces) != 1 {
				t.Fatalf("%g degrees: the upper strip is in %d pieces", f, len(s.Pieces))
			}
			near(t, "upper", s.Pieces[0].Area.Area(), 120*s.Thickness, exact)
			s = strip(t, in, low, k)
			if len(s.Pieces) != 2 {
				t.Fatalf("%g degrees: the lower strip is in %d pieces", f, len(s.Pieces))
			}
			d := (s.Left + s.Right) / 2
			near(t, "before", s.Pieces[0].Length, 50-(h+d*cos)/sin, exact)
			near(t, "after", s.Pieces[1].Length, 70-(h-d*cos)/sin, exact)
			for i, e := range [2]End{s.Pieces[0].Ends[1], s.Pieces[1].Ends[0]} {
				if e.Kind != EndButt {
					t.Errorf("piece %d ends %v, want butt", i, e.Kind)
				}
				near(t, "butt", degrees(e.Angle), 180-f, exact)
			}
		}
		near(t, "all", disjoint(t, in), 240*2*h-sq(2*h)/sin, 1e-6)
	}
}

// A strand ends on a straight or an arc, from outside or inside: its strips
// butt on the near side.
func TestTee(t *testing.T) {
	const h = 1.75
	tests := []struct {
		name   string
		host   geom.Contour
		end    geom.Contour
		length func(d float64) float64 // of the strip at offset d
		bend   float64
	}{
		{"square", polyline(-50, 0, 50, 0), polyline(5, 40, 5, 0), func(float64) float64 { return 40 - h }, 0},
		{"from the other side, drawn away", polyline(-50, 0, 50, 0), polyline(5, 0, 5, -40), func(float64) float64 { return 40 - h }, 0},
		{
			"slanted at 45 degrees", polyline(-50, 0, 50, 0), polyline(30, 30, 0, 0),
			func(d float64) float64 { return 30*math.Sqrt2 - h*math.Sqrt2 - d }, 0,
		},
		{
			"on a circle, from outside", circle(0, 0, 30), polyline(0, 80, 0, 30),
			func(d float64) float64 { return 80 - math.Sqrt(sq(30+h)-d*d) }, 30 + h,
		},
		{
			"on a circle, from inside", circle(0, 0, 30), polyline(0, 0, 30, 0),
			func(d float64) float64 { return math.Sqrt(sq(30-h) - d*d) }, 30 - h,
		},
	}
	for _, tt := range tests {
		in, w := quiet(t, jobOf(unequal(), 1, tt.host, tt.end))
		if len(w.Tees) != 1 || w.Tees[0].Host != 0 {
			t.Fatalf("%s: tees %v", tt.name, w.Tees)
		}
		at := 0
		if w.Tees[0].AtEnd {
			at = 1
		}
		for k := range 3 {
			if n := len(strip(t, in, 0, k).Pieces); n != 1 {
				t.Errorf("%s: the host's strip is in %d pieces", tt.name, n)
			}
			s := strip(t, in, 1, k)
			p := s.Pieces[0]
			near(t, tt.name+": length", p.Length, tt.length((s.Left+s.Right)/2), exact)
			near(t, tt.name+": bend", p.Ends[at].Radius, tt.bend, exact)
			if p.Ends[at].Kind != EndButt || !p.Ends[at].Tee || p.Ends[1-at].Kind != EndFree || len(s.Pieces) != 1 {
				t.Errorf("%s: %d pieces, ends %v", tt.name, len(s.Pieces), p.Ends)
			}
		}
		disjoint(t, in)
	}
}

// The looped triangle is one smooth closed strand that crosses itself three times
// at 60 degrees: stack times length, less three rhombs of the stack. Each strip is
// in three pieces, one straight, bend, straight each.
func TestLoopedTriangle(t *testing.T) {
	in, _ := quiet(t, loopedTriangle())
	across := tableStack / math.Sin(math.Pi/3) // of the upper stack, along the lower strand
	length := 3 * (2*loopedReach + 4*math.Pi/3*66)
	near(t, "all strips", disjoint(t, in), tableStack*length-3*tableStack*across, 1e-5)
	for _, s := range in.Strips {
		if len(s.Pieces) != 3 {
			t.Fatalf("layer %d: %d pieces, want 3", s.Layer, len(s.Pieces))
		}
		// The side runs to the loop turning left, so the strip's bend has the
		// radius 66 - offset. Between two places where the strand goes under
		// lies a side's length in all, less half of the upper stack at each end:
		// what a slanting end adds to a strip at one, it takes away at the other.
		d := (s.Left + s.Right) / 2
		for _, p := range s.Pieces {
			near(t, "piece", p.Length, 2*loopedReach-across+4*math.Pi/3*(66-d), 1e-6)
			if len(p.Segments) != 3 || math.Abs(p.Segments[1].Radius-(66-d)) > exact || p.Segments[0].Radius != 0 {
				t.Errorf("layer %d: segments %v", s.Layer, p.Segments)
			}
		}
	}
}

// A plait of right-angled corners has stack times length, less a square for
// each of its 2ab - a - b crossings.
func TestPlait(t *testing.T) {
	for _, size := range [][2]int{{1, 1}, {2, 2}, {3, 2}, {4, 5}} {
		j := plaitJob(size[0], size[1], 30)
		in, w := quiet(t, j)
		length := 0.0
		for _, e := range j.Motif.Elements {
			length += e.Contour.Length()
		}
		crossings := 2*size[0]*size[1] - size[0] - size[1]
		if len(w.Crossings) != crossings {
			t.Fatalf("%v: %d crossings", size, len(w.Crossings))
		}
		near(t, "all strips", disjoint(t, in), tableStack*length-tableStack*tableStack*float64(crossings), 1e-5)
	}
}

// Where the stack has no clearance its strips fill the groove, whatever meets
// in a crossing.
func TestFill(t *testing.T) {
	tests := []struct {
		name   string
		copies int
		lines  []geom.Contour
	}{
		{"an arc meets a straight", 1, []geom.Contour{polyline(-60, 0, 0, 0), arc(-20, -15, 25, math.Atan2(15, 20)/deg, -100)}},
		{"an arc meets a straight on its other side", 1, []geom.Contour{polyline(-60, 0, 0, 0), arc(20, -15, 25, 180-math.Atan2(15, 20)/deg, 100)}},
		{"arcs meet at corners", 3, []geom.Contour{arc(20, 0, 40, -60, 120)}},
		{"the lower strand turns in the crossing", 1, []geom.Contour{polyline(-50, 0, 50, 0), polyline(-30, -30, 1, 0.5, 35, 30)}},
		{"the upper strand turns in the crossing", 1, []geom.Contour{polyline(-50, -20, 0, 0.4, 50, -10), polyline(1, -50, 1, 50)}},
		{"two uppers side by side", 1, []geom.Contour{polyline(-50, 0, 50, 0), polyline(-2, -30, -2, 30), polyline(2, -30, 2, 30)}},
		{"a ring over itself", 1, []geom.Contour{circle(0, 0, 30), circle(20, 0, 30), circle(10, 15, 30)}},
		{"a ring cut once", 1, []geom.Contour{circle(0, 0, 30), polyline(0, 0, 60, 5)}},
		{"two arcs cross at a shallow angle", 1, []geom.Contour{circle(0, 0, 40), polyline(-60, 36, 60, 36)}},
		{"a tee on a strand's own side", 1, []geom.Contour{polyline(0, 0, 60, 0, 60, 40, 30, 40, 30, 0)}},
		{"a loop", 1, []geom.Contour{polyline(-60, 0, 0, 0), arc(0, 12, 12, -90, 270), polyline(-12, 12, -12, -50)}},
	}
	for _, tt := range tests {
		j := jobOf(unequal(), tt.copies, tt.lines...)
		j.Inlay.Clearance, j.Inlay.Width = 0, 3.5
		in, _, found := build(t, j)
		if found.HasErrors() {
			t.Errorf("%s: %v", tt.name, found)
		}
		sum := disjoint(t, in)
		near(t, tt.name+": what the strips leave of the groove", in.Grooves().Area()-sum, 0, leastPiece) // a splinter or two
	}
}

// Another part of the upper strand that lies near cuts nothing: a hairpin
// passes over a straight and back under it, and a second strand runs over the
// hairpin's bend alone.
func TestOnlyTheUpperAtTheCrossing(t *testing.T) {
	in, w := quiet(t, jobOf(unequal(), 1, polyline(-50, 0, 50, 0),
		geom.Chain(false, append(append([]geom.Edge{geom.Line(geom.Pt(-4, -40), geom.Pt(-4, 20))},
			geom.Arc(geom.Pt(0, 20), 4, math.Pi, -math.Pi)...), geom.Line(geom.Pt(4, 20), geom.Pt(4, -40)))...)))
	if len(w.Crossings) != 2 || w.Crossings[0].Upper().Strand == w.Crossings[1].Upper().Strand {
		t.Fatalf("crossings %v", w.Crossings)
	}
	for strand := range 2 {
		if n := len(strip(t, in, strand, 1).Pieces); n != 2 {
			t.Errorf("strand %d: %d pieces, want 2", strand, n)
		}
	}
	near(t, "all", disjoint(t, in), 3.5*(100+120+4*math.Pi)-2*sq(3.5), 1e-6)
}

// With a width alone there is one fill of the groove's width.
func TestWidthOnly(t *testing.T) {
	j := jobOf(nil, 1, polyline(0, 0, 100, 0))
	j.Inlay.Width, j.Inlay.Clearance = 4, 0
	in, _ := quiet(t, j)
	if len(in.Strips) != 1 || in.Strips[0].Material != "" || in.Strips[0].Thickness != 4 {
		t.Fatalf("strips %v", in.Strips)
	}
	near(t, "fill", in.Strips[0].Area().Area(), 400, exact)
}

// Clearance is split on both sides of the stack.
func TestClearance(t *testing.T) {
	j := jobOf(unequal(), 1, polyline(0, 0, 100, 0))
	j.Inlay.Clearance, j.Inlay.Width = 0.4, 3.9
	in, _ := quiet(t, j)
	g := in.Grooves().Bounds()
	near(t, "groove above the stack", g.Max.Y-strip(t, in, 0, 0).Left, 0.2, exact)
	near(t, "groove below the stack", strip(t, in, 0, 2).Right-g.Min.Y, 0.2, exact)
}

func TestFindings(t *testing.T) {
	tests := []struct {
		name  string
		lines []geom.Contour
		rule  string
		line  int
	}{
		{"an arc too tight", []geom.Contour{polyline(0, 0, 50, 0), arc(0, 30, 1.5, 0, 180)}, "strip-tight", 12},
		{"a corner too sharp", []geom.Contour{polyline(0, 0, 100, 0, 0, 5)}, "strip-mitre", 11},
		{"an arm too short", []geom.Contour{polyline(0, 0, 40, 0, 40, 2, 0, 2.5)}, "strip-short", 11},
		{"a ring of three", []geom.Contour{polyline(-30, 0, 30, 0), polyline(-12, -25, 20, 30), polyline(12, -25, -20, 30)}, "strip-hollow", 13},
		{"a sharp crossing", []geom.Contour{polyline(-50, 0, 50, 0), polyline(-50, -10, 50, 10)}, "strip-sharp", 12},
	}
	for _, tt := range tests {
		_, _, found := build(t, jobOf(unequal(), 1, tt.lines...))
		ok := false
		for _, f := range found {
			ok = ok || (f.Rule == tt.rule && f.Key == diag.Key(fmt.Sprintf("e%d", tt.line-10)) && f.HasAt)
		}
		if !ok {
			t.Errorf("%s: found %v, want %s at line %d", tt.name, found, tt.rule, tt.line)
		}
	}
}

// Every odd motif is survived: nothing at all, a strand that is left out and
// is crossed, no strips.
func TestDegenerate(t *testing.T) {
	in, found := Build(Params{Width: 3}, motif.Motif{}, weave.Weave{})
	if len(in.Strips) != 0 || len(found) != 0 || !in.Grooves().Empty() {
		t.Errorf("an empty motif gives %v, %v", in, found)
	}
	in, _, found = build(t, jobOf(unequal(), 1, arc(0, 0, 1.2, 0, 300), polyline(0, -20, 0, 20)))
	if !found.HasErrors() {
		t.Error("an arc of radius 1.2 in a groove of 3.58 is no error")
	}
	if n := len(strip(t, in, 0, 0).Pieces); n != 0 {
		t.Errorf("the tight strand has %d pieces", n)
	}
	if n := len(strip(t, in, 1, 0).Pieces); n != 1 {
		t.Errorf("the strand that crosses it has %d pieces", n)
	}
}

func TestEndKinds(t *testing.T) {
	var words []string
	for k := EndSquare; k <= EndJoint+1; k++ {
		words = append(words, k.String())
	}
	if got, want := strings.Join(words, " "), "square free mitre butt cope joint end(6)"; got != want {
		t.Errorf("the kinds are %q, want %q", got, want)
	}
}
