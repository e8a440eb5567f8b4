package region

import (
	"encoding/binary"
	"fmt"
	"math"
	"testing"

	"strapwork/pkg/geom"
)

// Inputs that mean nothing, or next to nothing: no panic, no endless loop.
func TestDegenerate(t *testing.T) {
	p := geom.Pt
	nan, inf := math.NaN(), math.Inf(1)
	hair := geom.Polygon(p(0, 0), p(1000, 0), p(1000, 1e-9), p(0, 1e-9))
	tests := []struct {
		name string
		c    geom.Contour
		area float64
	}{
		{"no vertices", geom.Contour{Closed: true}, 0},
		{"one vertex", geom.Polygon(p(1, 1)), 0},
		{"there and back", geom.Polygon(p(0, 0), p(5, 0)), 0},
		{"one point three times", geom.Polygon(p(2, 2), p(2, 2), p(2, 2)), 0},
		{"out and back along an arc", geom.Chain(true, geom.Edge{A: p(0, 0), B: p(5, 0), Bulge: 1}, geom.Edge{A: p(5, 0), B: p(0, 0), Bulge: -1}), 0},
		{"a hair", hair, 0},
		{"a speck", geom.Circle(p(3, 3), 1e-8), 0},
		{"not a number", geom.Polygon(p(0, 0), p(nan, 0), p(1, 1)), 0},
		{"infinite", geom.Polygon(p(0, 0), p(inf, 0), p(1, 1)), 0},
		{"bulge not a number", geom.Chain(true, geom.Edge{A: p(0, 0), B: p(5, 0), Bulge: nan}, geom.Line(p(5, 0), p(0, 0))), 0},
		{"beyond all reach", geom.Circle(p(1e20, 0), 1e19), 0},
		{"with an edge of no length", geom.Polygon(p(0, 0), p(2, 0), p(2, 0), p(2, 2), p(0, 2)), 4},
		{"twice round", geom.Polygon(p(0, 0), p(2, 0), p(2, 2), p(0, 2), p(0, 0), p(2, 0), p(2, 2), p(0, 2)), 4},
		{"clockwise", geom.Polygon(p(0, 2), p(2, 2), p(2, 0), p(0, 0)), 4},
		{"with a spike", geom.Polygon(p(0, 0), p(2, 0), p(2, 1), p(9, 1), p(2, 1), p(2, 2), p(0, 2)), 4},
		{"figure of eight", geom.Polygon(p(0, 0), p(2, 2), p(2, 0), p(0, 2)), 2},
		{"three quarters of a circle", geom.Chain(true, geom.Edge{A: p(1, 0), B: p(0, -1), Bulge: math.Tan(3 * math.Pi / 8)}, geom.Line(p(0, -1), p(1, 0))), 3*math.Pi/4 + 0.5},
		{"tiny but wide enough", geom.Circle(p(3, 3), 1e-5), math.Pi * 1e-10},
	}
	for _, tt := range tests {
		a := New(tt.c)
		near(t, tt.name, a.Area(), tt.area, 1e-9*tt.area+1e-12)
		if (tt.area == 0) != a.Empty() {
			t.Errorf("%s: empty is %v", tt.name, a.Empty())
		}
		for _, d := range []float64{0, 1e-9, 1, -1, nan, inf, -inf, 1e300} {
			a.Grow(d)
			Stroke(tt.c, d)
		}
		if !a.Grow(nan).Empty() || !a.Shrink(inf).Empty() {
			t.Errorf("%s: something is left by a distance that is none", tt.name)
		}
		Union(a, square(0, 0, 3)).Close(1)
		if a.Locate(p(nan, 0)) != Outside || a.Locate(p(0, inf)) != Outside {
			t.Errorf("%s: holds a point that is nowhere", tt.name)
		}
		a.BoundaryDist(p(nan, 0))
		a.Pieces()
	}
}

// Stroke of a single point's length is a disc; of a circle's both sides a ring.
func TestStroke(t *testing.T) {
	p := geom.Pt
	near(t, "short line", Stroke(geom.Chain(false, geom.Line(p(0, 0), p(1e-8, 0))), 2).Area(), 4*math.Pi, 1e-6)
	near(t, "line", Stroke(geom.Chain(false, geom.Line(p(0, 0), p(10, 0))), 2).Area(), 40+4*math.Pi, 1e-9)
	for _, tt := range []struct {
		d, area float64
		loops   int
	}{
		{1, math.Pi * (36 - 16), 2}, {4.9, math.Pi * (9.9*9.9 - 0.01), 2}, {5, math.Pi * 100, 1}, {7, math.Pi * 144, 1},
	} {
		s := Stroke(geom.Circle(p(1, 2), 5), tt.d)
		near(t, fmt.Sprint("circle, d ", tt.d), s.Area(), tt.area, 1e-6)
		if len(s.Loops()) != tt.loops {
			t.Errorf("circle, d %g: %d loops, want %d", tt.d, len(s.Loops()), tt.loops)
		}
	}
	eight := geom.Chain(true, geom.Arc(p(-5, 0), 5, 0, 2*math.Pi)...)
	eight = geom.Chain(true, append(eight.Edges(), geom.Arc(p(5, 0), 5, math.Pi, -2*math.Pi)...)...)
	// Two rings of radii 5 that touch, less what they share.
	ring := Stroke(geom.Circle(p(-5, 0), 5), 1)
	want := Union(ring, Stroke(geom.Circle(p(5, 0), 5), 1)).Area()
	near(t, "figure of eight", Stroke(eight, 1).Area(), want, 1e-6)
}

// Any bytes as a contour: nothing hangs or panics, and the union with itself
// changes nothing.
func FuzzNew(f *testing.F) {
	f.Add([]byte{0, 0, 0, 9, 0, 64, 9, 9, 0, 0, 9, 128})
	f.Add([]byte{1, 1, 127, 5, 1, 127, 1, 1, 200, 3, 3, 0})
	f.Fuzz(func(t *testing.T, data []byte) {
		var c geom.Contour
		for ; len(data) >= 3 && len(c.Vertices) < 12; data = data[3:] {
			x, y := float64(data[0]%16), float64(data[1]%16)
			if data[0]&0x80 != 0 { // off the grid
				x += float64(int8(data[1])) * 1e-8
			}
			b := float64(int8(data[2])) / 64
			c.Vertices = append(c.Vertices, geom.Vertex{Point: geom.Pt(x, y), Bulge: b})
		}
		a := New(c)
		if s := simple(a); s != "" {
			t.Error(s)
		}
		if u := Union(a, a); math.Abs(u.Area()-a.Area()) > 1e-6 {
			t.Errorf("area %g, with itself %g", a.Area(), u.Area())
		}
		a.Close(float64(binary.BigEndian.Uint16(append(data, 1, 1))) / 65536 * 3)
	})
}
