package trace_test

import (
	"math"
	"testing"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
	"strapwork/pkg/trace"
)

// TestNearestParallels: distances and places by hand. Sides of a lens between two
// crossings are no parallels, nor are lines that lean to one another, or end near another.
func TestNearestParallels(t *testing.T) {
	for _, c := range []struct {
		name  string
		drawn []drawing.Curve
		want  float64
		at    geom.Point // in the drawing; NaN where any will do
	}{
		{"lines", []drawing.Curve{line(0, 0, 100, 0), line(20, 7.5, 80, 7.5), line(50, -20, 50, 20)}, 7.5, geom.Pt(math.NaN(), 3.75)},
		{"rings in a ring", []drawing.Curve{arc(0, 0, 40, 0, 360), arc(0, 0, 31, 0, 360)}, 9, geom.Pt(math.NaN(), math.NaN())},
		{"rings beside one another", []drawing.Curve{arc(-50, 0, 30, 0, 360), arc(50, 0, 30, 0, 360)}, 40, geom.Pt(0, 0)},
		{"a ring and a line", []drawing.Curve{arc(0, 0, 30, 0, 360), line(-60, -45, 60, -45)}, 15, geom.Pt(0, -37.5)},
		{"rings that cross", []drawing.Curve{arc(-20, 0, 30, 0, 360), arc(20, 0, 30, 0, 360)}, 0, geom.Point{}},
		{"one ring", []drawing.Curve{arc(0, 0, 30, 0, 360)}, 0, geom.Point{}},
		{"a turn back", []drawing.Curve{line(0, -12, 80, -12), arc(80, 0, 12, -90, 180), line(80, 12, 0, 12)}, 24, geom.Pt(math.NaN(), 0)},
		{"an end near a line", []drawing.Curve{line(0, 0, 100, 0), line(50, 5, 50, 40)}, 0, geom.Point{}},
	} {
		got := traced(t, trace.Default(), c.drawn...)
		r := got.Report
		if math.Abs(r.Beside-c.want) > 1e-5 {
			t.Errorf("%s: %v apart, want %v", c.name, r.Beside, c.want)
			continue
		}
		middle := geom.EmptyBox()
		for _, d := range c.drawn {
			middle = middle.Join(d.Bounds())
		}
		at := r.BesideAt.Add(middle.Center())
		if c.want > 0 && (math.Abs(at.X-c.at.X) > 1e-4 || math.Abs(at.Y-c.at.Y) > 1e-4) {
			t.Errorf("%s: at %v, want %v", c.name, at, c.at)
		}
	}
}
