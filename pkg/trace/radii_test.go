package trace_test

import (
	"math"
	"testing"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
	"strapwork/pkg/trace"
)

// shaken is an arc as points, each out by up to off, by a sine that has no period with the arc.
func shaken(x, y, r, from, sweep, off float64) drawing.Curve {
	c := drawing.Curve{Stroked: true}
	var last geom.Point
	for i := range 121 {
		angle := (from + sweep*float64(i)/120) * math.Pi / 180
		p := geom.Pt(x, y).Add(geom.Polar(r+off*math.Sin(float64(7*i)), angle))
		if i > 0 {
			c.Segments = append(c.Segments, drawing.Line{A: last, B: p})
		}
		last = p
	}
	return c
}

// radii are those of the arcs of each element.
func radii(got trace.Traced) (all [][]float64) {
	for _, e := range got.Elements {
		var of []float64
		for _, g := range e.Contour.Edges() {
			if !g.IsLine() {
				of = append(of, g.Radius())
			}
		}
		all = append(all, of)
	}
	return all
}

// TestRadiiOfOneStrandAreTheNexts: a radius that is drawn exactly is taken by what is nearly
// of it, if it's no rounder number; what isn't nearly of it keeps its own.
func TestRadiiOfOneStrandAreTheNexts(t *testing.T) {
	const odd = 41.2371
	p := trace.Default()
	got := traced(t, p, arc(0, 0, odd, 0, 130), shaken(150, 0, odd+0.012, 20, 110, 0.004), shaken(300, 0, odd+0.9, 20, 110, 0.004))
	if got.Report.Off > p.Tolerance {
		t.Errorf("off %v", got.Report.Off)
	}
	for i, of := range radii(got) {
		for _, r := range of {
			if same := math.Abs(r-odd) < 1e-5; same != (i < 2) {
				t.Errorf("element %d has a radius of %v beside %v", i, r, odd)
			}
		}
	}
}

// TestRadiiInInches: who measures in inches gets sixteenths, who measures in mm halves; the
// arc that is drawn lies between the two. 26 sixteenths are 41.275 mm.
func TestRadiiInInches(t *testing.T) {
	for _, c := range []struct {
		inches bool
		want   float64
	}{{true, 41.275}, {false, 41.3}} {
		p := trace.Default()
		p.Inches = c.inches
		got := traced(t, p, shaken(0, 0, 41.288, 0, 90, 0.004))
		if got.Report.Off > p.Tolerance {
			t.Errorf("off %v", got.Report.Off)
		}
		for _, r := range radii(got)[0] {
			if math.Abs(r-c.want) > 1e-5 {
				t.Errorf("inches %v: a radius of %v, want %v", c.inches, r, c.want)
			}
		}
	}
}
