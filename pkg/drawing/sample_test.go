package drawing_test

import (
	"math"
	"testing"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
)

// TestChordsKeepWithin: no point of a segment is further from the chords than asked for,
// the ends are its own, and there are about as few as there may be: a chord over the
// length s of a curve with curvature k leaves it by k s²/8 (sagitta; closed form).
func TestChordsKeepWithin(t *testing.T) {
	for name, s := range segments() {
		for _, tol := range []float64{0.5, 0.01, 1e-4} {
			at, points := drawing.Places(s, tol), drawing.Sample(s, tol)
			last := len(points) - 1
			if points[0] != drawing.Start(s) || points[last] != drawing.End(s) || at[0] != 0 || at[last] != 1 {
				t.Errorf("%s: ends at %v and %v", name, points[0], points[last])
			}
			for i := range last {
				for j := range 9 {
					p := s.At(at[i] + (at[i+1]-at[i])*float64(j)/8)
					if d := geom.Line(points[i], points[i+1]).Dist(p); d > 1.05*tol {
						t.Errorf("%s: %v is %v from its chord, of %v", name, p, d, tol)
					}
				}
			}
		}
	}
	// 170 degrees of radius 100 at 0.01: chords of acos(1 - 0.0001) twice.
	arc := drawing.Circle(geom.Pt(3, 4), 100, 1, 170*math.Pi/180)
	if want, got := math.Ceil(arc.Sweep/(2*math.Acos(1-0.0001))), len(drawing.Sample(arc, 0.01))-1; got < int(want) || got > int(want)+1 {
		t.Errorf("%d chords of an arc, want %v", got, want)
	}
}

// TestSamplesAreBounded: a tolerance near nothing, a curve that jumps (a knot as often as
// its degree and once more) and coordinates as large as they may be end soon.
func TestSamplesAreBounded(t *testing.T) {
	far := drawing.Farthest
	jumps := drawing.NURBS{
		Degree: 2, Knots: []float64{0, 0, 0, 1, 1, 1, 2, 2, 2},
		Points: []geom.Point{geom.Pt(0, 0), geom.Pt(1, 0), geom.Pt(2, 1), geom.Pt(far, far), geom.Pt(-far, 0), geom.Pt(far, 1)},
	}
	for name, s := range map[string]drawing.Segment{
		"circle": drawing.Circle(geom.Pt(0, 0), far, 0, 6), "jump": jumps, "wave": wave,
		"none": drawing.Bezier{Points: make([]geom.Point, 4)},
	} {
		for _, tol := range []float64{1e-300, 1e-9, 1} {
			if n := len(drawing.Sample(s, tol)); n > drawing.MaxPlaces+64*15 {
				t.Errorf("%s within %v: %d points", name, tol, n)
			}
		}
	}
}
