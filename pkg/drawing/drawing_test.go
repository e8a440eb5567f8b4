package drawing_test

import (
	"math"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
)

// quarter is a quarter of a circle of radius 10 as a rational quadratic, with weights 1,
// cos 45, 1 (Piegl and Tiller, The NURBS Book, section 7.3; recalled).
var quarter = drawing.NURBS{
	Degree: 2, Knots: []float64{0, 0, 0, 1, 1, 1},
	Points:  []geom.Point{geom.Pt(10, 0), geom.Pt(10, 10), geom.Pt(0, 10)},
	Weights: []float64{1, math.Sqrt2 / 2, 1},
}

// wave is a cubic of two spans with a knot inside.
var wave = drawing.NURBS{
	Degree: 3, Knots: []float64{0, 0, 0, 0, 2, 5, 5, 5, 5},
	Points: []geom.Point{geom.Pt(0, 0), geom.Pt(5, 9), geom.Pt(11, -4), geom.Pt(20, 3), geom.Pt(22, 0)},
}

func segments() map[string]drawing.Segment {
	return map[string]drawing.Segment{
		"line":    drawing.Line{A: geom.Pt(1, 2), B: geom.Pt(-3, 7)},
		"circle":  drawing.Circle(geom.Pt(4, -2), 7, 1, -5),
		"ellipse": drawing.Ellipse{Center: geom.Pt(1, 1), Major: geom.Pt(5, 1), Minor: geom.Pt(-1, 2), From: -0.3, Sweep: 4},
		"bezier":  drawing.Bezier{Points: []geom.Point{geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(-10, 50), geom.Pt(70, 50)}},
		"nurbs":   quarter, "knots": wave,
	}
}

// TestARationalQuarterIsRound: every point of it is 10 from the centre, and its speed is
// square to the radius.
func TestARationalQuarterIsRound(t *testing.T) {
	for i := range 101 {
		at := float64(i) / 100
		p := quarter.At(at)
		if d := math.Abs(p.Norm() - 10); d > 1e-12 {
			t.Errorf("at %v it is %v off the circle", at, d)
		}
		if d := p.Dot(quarter.Speed(at)); math.Abs(d) > 1e-9 {
			t.Errorf("at %v its speed and its radius make %v", at, d)
		}
	}
}

// TestSegments: speed is the limit of differences, a map of the segment is the segment of
// mapped points, the other way round is the same curve, and bounds hold it.
func TestSegments(t *testing.T) {
	m := drawing.Stretch(2, -3).Then(drawing.Turn(0.7)).Then(drawing.Shift(geom.Pt(5, 8)))
	for name, s := range segments() {
		box, moved, back := s.Bounds().Expand(0.02), s.Moved(m), s.Reversed()
		for i := range 41 {
			at := float64(i) / 40
			p := s.At(at)
			if !moved.At(at).Near(m.Apply(p), 1e-9) || !back.At(1-at).Near(p, 1e-9) {
				t.Errorf("%s at %v: %v, moved %v, back %v", name, at, p, moved.At(at), back.At(1-at))
			}
			if !box.Holds(p) {
				t.Errorf("%s at %v: %v is outside %v", name, at, p, box)
			}
			const h = 1e-6
			lo, hi := max(0, at-h), min(1, at+h)
			if d := s.At(hi).Sub(s.At(lo)).Scale(1 / (hi - lo)); !d.Near(s.Speed(at), 2e-3) {
				t.Errorf("%s at %v: speed %v, by differences %v", name, at, s.Speed(at), d)
			}
		}
	}
}

// TestBoundsOfAnArc: those of a circle from 30 to 200 degrees, by hand.
func TestBoundsOfAnArc(t *testing.T) {
	got := drawing.Circle(geom.Pt(0, 0), 10, math.Pi/6, 170*math.Pi/180).Bounds()
	want := geom.Box{Min: geom.Pt(-10, 10*math.Sin(200*math.Pi/180)), Max: geom.Pt(10*math.Cos(math.Pi/6), 10)}
	if !got.Min.Near(want.Min, 1e-12) || !got.Max.Near(want.Max, 1e-12) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// TestLengths: a line, a circle and a parabola have lengths in closed form (that of
// y = x^2 from 0 to 1 is (2 root 5 + asinh 2) / 4), and a rational quarter is a circle's.
func TestLengths(t *testing.T) {
	for name, c := range map[string]struct {
		s    drawing.Segment
		want float64
	}{
		"line":     {drawing.Line{A: geom.Pt(1, 1), B: geom.Pt(4, 5)}, 5},
		"circle":   {drawing.Circle(geom.Pt(3, 3), 10, 1, -2), 20},
		"parabola": {drawing.Bezier{Points: []geom.Point{geom.Pt(0, 0), geom.Pt(0.5, 0), geom.Pt(1, 1)}}, (2*math.Sqrt(5) + math.Asinh(2)) / 4},
		"quarter":  {quarter, 5 * math.Pi},
	} {
		if got := drawing.Length(c.s); math.Abs(got-c.want) > 1e-9*c.want {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// TestDashesAreMoved: they grow as the curve does, and aren't known under a map that
// doesn't keep shapes.
func TestDashesAreMoved(t *testing.T) {
	c := drawing.Curve{Width: 1, Dashed: true, Dashes: []float64{3, 2}, DashStart: 1}
	if m := c.Moved(drawing.Stretch(2, -2)); m.Width != 2 || m.DashStart != 2 || len(m.Dashes) != 2 || m.Dashes[0] != 6 {
		t.Errorf("twice as large: %v", m)
	}
	if m := c.Moved(drawing.Stretch(2, 3)); m.Dashes != nil || !m.Dashed {
		t.Errorf("stretched: %v", m)
	}
}

// TestMaps: what keeps circles round is known, and a turn by a quarter is exact.
func TestMaps(t *testing.T) {
	if m := drawing.Turn(math.Pi / 2); m.Apply(geom.Pt(3, 4)) != geom.Pt(-4, 3) {
		t.Errorf("a quarter turn takes (3, 4) to %v", m.Apply(geom.Pt(3, 4)))
	}
	for m, want := range map[drawing.Affine]bool{
		drawing.Turn(1).Then(drawing.Stretch(3, 3)): true, drawing.Stretch(2, -2): true,
		drawing.Stretch(2, 2.001): false, {A: 1, C: 0.01, D: 1}: false,
	} {
		if m.Similar() != want {
			t.Errorf("%v keeps shapes: %v", m, m.Similar())
		}
	}
}

// TestPassCounts: one line for each kind of thing, with the place of the first.
func TestPassCounts(t *testing.T) {
	var d drawing.Drawing
	for _, what := range []string{"text", "mask", "text"} {
		d.Pass(what, diag.Position{})
	}
	if len(d.Passed) != 2 || d.Passed[0].Count != 2 || d.Passed[1].What != "mask" {
		t.Errorf("passed over: %v", d.Passed)
	}
}
