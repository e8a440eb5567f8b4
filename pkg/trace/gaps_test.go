package trace_test

import (
	"math"
	"testing"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
	"strapwork/pkg/trace"
)

func line(x1, y1, x2, y2 float64) drawing.Curve {
	return drawing.Curve{Stroked: true, Segments: []drawing.Segment{drawing.Line{A: geom.Pt(x1, y1), B: geom.Pt(x2, y2)}}}
}

func arc(x, y, r, from, sweep float64) drawing.Curve {
	return drawing.Curve{Stroked: true, Segments: []drawing.Segment{drawing.Circle(geom.Pt(x, y), r, from*math.Pi/180, sweep*math.Pi/180)}}
}

// traced traces curves at a unit of 1 mm.
func traced(t *testing.T, p trace.Params, curves ...drawing.Curve) trace.Traced {
	t.Helper()
	p.Size.Unit = 1
	got, found := trace.Trace(drawing.Drawing{Curves: curves}, p)
	if found.HasErrors() {
		t.Fatal(found)
	}
	return got
}

// TestGapsGoUnder: a strand that stops before another and goes on behind it is one, and
// lies under. A gap with nothing in it stays one.
func TestGapsGoUnder(t *testing.T) {
	got := traced(t, trace.Default(), line(-50, 0, -4, 0), line(4, 0, 50, 0), line(0, -40, 0, 40), line(60, 0, 80, 0))
	r := got.Report
	if r.Strands != 3 || r.Crossings != 1 || r.Joined != 1 || r.Shown != 1 {
		t.Fatalf("%+v", r)
	}
	if o := got.Over[0]; math.Abs(o.Along.X) > 1e-9 {
		t.Errorf("what runs along %v is on top, want the upright", o.Along)
	}
	// Two linked rings, each cut where it goes under: from 5 degrees beside the crossing.
	// Circles of 50 whose centres are 50 apart cross at 60 and -60 degrees.
	got = traced(t, trace.Default(), arc(0, 0, 50, 65, 350), arc(50, 0, 50, -115, 350))
	if r := got.Report; r.Strands != 2 || r.Crossings != 2 || r.Shown != 2 || !r.Exact {
		t.Errorf("linked rings: %+v", r)
	}
	for _, e := range got.Elements {
		if !e.Contour.Closed || e.Contour.Len() != 2 || math.Abs(e.Contour.Edge(0).Radius()-50) > 1e-6 {
			t.Errorf("ring %v", e.Contour)
		}
	}
}
