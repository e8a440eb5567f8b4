package trace_test

import (
	"math"
	"strings"
	"testing"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
	"strapwork/pkg/trace"
)

// polygon is a closed line through places, each out by up to off.
func polygon(off float64, places ...geom.Point) drawing.Curve {
	c := drawing.Curve{Stroked: true, Closed: true}
	for i := range places {
		places[i] = places[i].Add(geom.Polar(off, float64(5*i*i)))
	}
	for i, p := range places {
		c.Segments = append(c.Segments, drawing.Line{A: p, B: places[(i+1)%len(places)]})
	}
	return c
}

// answered is how far the joint of what was traced lies from the others' reflections in a
// line through the middle that is farthest out.
func answered(got trace.Traced, angle float64) (worst float64) {
	var joints []geom.Point
	for k := range got.Copies {
		for _, e := range got.Elements {
			for _, v := range got.Turned(e.Contour, k).Vertices {
				joints = append(joints, v.Point)
			}
		}
	}
	for _, p := range joints {
		other := geom.Polar(p.Norm(), 2*angle-p.Angle())
		near := math.Inf(1)
		for _, q := range joints {
			near = min(near, q.Dist(other))
		}
		worst = max(worst, near)
	}
	return worst
}

// TestReflectionsBecomeExact: a kite with a hook at each side, out by hundredths, is its own
// reflection afterwards, about an axis at any angle; and one whose hooks differ by more than
// the tolerance lets through stays as it was drawn.
func TestReflectionsBecomeExact(t *testing.T) {
	half := []geom.Point{{X: 60}, {X: 20, Y: 30}, {X: -10, Y: 45}, {X: -15, Y: 20}}
	for _, angle := range []float64{0, 0.5 * math.Pi, 0.7} {
		for _, c := range []struct {
			off, more float64
			want      bool
		}{{0.008, 0, true}, {0.008, 0.2, false}} {
			var places []geom.Point
			for _, p := range half {
				places = append(places, p.Turn(angle))
			}
			places = append(places, geom.Pt(-70, 0).Turn(angle))
			for i := len(half) - 1; i > 0; i-- {
				p := geom.Pt(half[i].X, -half[i].Y-c.more)
				places = append(places, p.Turn(angle))
			}
			p := trace.Default()
			got := traced(t, p, polygon(c.off, places...))
			r := got.Report
			if r.Mirrored != c.want || r.Off > p.Tolerance {
				t.Errorf("at %v, %v more: reflected %v, off %v", angle, c.more, r.Mirrored, r.Off)
			}
			if off := answered(got, r.Axis); c.want && (off > 3e-6 || math.Abs(r.Axis-angle) > 5e-4) {
				t.Errorf("at %v: joints are out by %v about an axis at %v", angle, off, r.Axis)
			}
		}
	}
}

// TestReflectionsWithTurns: the panel's strand, whose bows are drawn a little otherwise left
// and right, is alike on all four sides; what only turns is not taken for a reflection.
func TestReflectionsWithTurns(t *testing.T) {
	p := trace.Default()
	p.Size.Width = 180
	got, found := traceFile(t, "testdata/panel-masks.svg", p)
	if r := got.Report; found != "" || !r.Mirrored || r.Axis != 0 || r.Turns != 2 || r.Off > p.Tolerance {
		t.Errorf("%+v %s", r, found)
	}
	if x, y := answered(got, 0), answered(got, math.Pi/2); x > 3e-6 || y > 3e-6 {
		t.Errorf("joints are out by %v about x, by %v about y", x, y)
	}
	// Rings about a middle that lies in all of them go around it almost evenly.
	var rings []drawing.Curve
	for k := range 6 {
		rings = append(rings, arc(36*math.Cos(float64(k)*math.Pi/3), 36*math.Sin(float64(k)*math.Pi/3), 54, 0, 360))
	}
	if r := traced(t, trace.Default(), rings...).Report; !r.Mirrored || r.Axis != 0 || r.Turns != 6 {
		t.Errorf("%+v", r)
	}
	pinwheel := traced(t, trace.Default(), line(10, 0, 50, 20), line(0, 10, -20, 50), line(-10, 0, -50, -20), line(0, -10, 20, -50))
	if r := pinwheel.Report; r.Turns != 4 || r.Mirrored || strings.Contains(pinwheel.TOML("t"), "reflection") {
		t.Errorf("%+v", r)
	}
}
