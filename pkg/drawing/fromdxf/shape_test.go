package fromdxf_test

import (
	"bytes"
	"fmt"
	"math"
	"testing"

	"strapwork/pkg/drawing"
	"strapwork/pkg/drawing/fromdxf"
	"strapwork/pkg/geom"
)

// near is how far a number of these tests may be off: some last digits.
const near = 1e-12

// TestABlockSqueezedTwice: a circle of radius 1 in a block that is turned by 30 degrees in
// one that is stretched by (3, 1) is an ellipse with axes that aren't square to each other.
// Its points by hand: turned, shifted to the middle of the first, stretched, shifted.
func TestABlockSqueezedTwice(t *testing.T) {
	in := blockOf("IN", "CIRCLE", 10, 5, 20, 2, 40, 1)
	out := tagged("BLOCK", 2, "OUT", 10, 1, 20, 0, "INSERT", 2, "IN", 10, 4, 20, 3, 50, 30, "ENDBLK")
	d := read(t, "", file(blocks(in, out), section("ENTITIES", "INSERT", 2, "OUT", 10, 100, 20, 50, 41, 3)))
	sin, cos := math.Sincos(math.Pi / 6)
	for i := range 13 {
		at := float64(i) / 12
		s, c := math.Sincos(2 * math.Pi * at)
		x, y := 5+c, 2+s
		x, y = 4+cos*x-sin*y, 3+sin*x+cos*y
		if want, got := geom.Pt(100+3*(x-1), 50+y), d.Curves[0].Segments[0].At(at); !got.Near(want, 100*near) {
			t.Errorf("at %v: %v, want %v", at, got, want)
		}
	}
}

// TestBulges: a bulge is the tangent of a quarter of the sweep, positive counter-clockwise
// (DXF Reference, LWPOLYLINE, group 42). Middle points by hand: half a chord times the
// bulge to the right of the way.
func TestBulges(t *testing.T) {
	for _, bulge := range []float64{1, -1, 0.25, -3, 1e-3, 2e-8, 1e-9, 50} {
		s := read(t, "", entities("LWPOLYLINE", 10, 2, 20, 1, 42, bulge, 10, 8, 20, 1, 42, 7)).Curves[0].Segments
		want := geom.Pt(5, 1-3*bulge)
		if len(s) != 1 || !s[0].At(0.5).Near(want, 1e-7) || !s[0].At(0).Near(geom.Pt(2, 1), 1e-7) || !s[0].At(1).Near(geom.Pt(8, 1), 1e-7) {
			t.Errorf("bulge %v: %v, through %v, want %v", bulge, s, s[0].At(0.5), want)
		}
		if e, ok := s[0].(drawing.Ellipse); ok && !e.IsCircle() {
			t.Errorf("bulge %v is no circle: %v", bulge, e)
		}
	}
}

// TestClosed: what is flagged so, and what ends where it began.
func TestClosed(t *testing.T) {
	corners := []any{10, 0, 20, 0, 10, 5, 20, 0, 10, 5, 20, 5}
	for name, tt := range map[string]struct {
		groups   []any
		closed   bool
		segments int
	}{
		"open":            {join([]any{"LWPOLYLINE"}, corners), false, 2},
		"flagged":         {join([]any{"LWPOLYLINE", 70, 129}, corners), true, 3},
		"drawn back":      {join([]any{"LWPOLYLINE"}, corners, []any{10, 0, 20, 1e-12}), true, 3},
		"both":            {join([]any{"LWPOLYLINE", 70, 1}, corners, []any{10, 0, 20, 0}), true, 3},
		"circle":          {[]any{"CIRCLE", 10, 0, 20, 0, 40, 1}, true, 1},
		"arc all round":   {[]any{"ARC", 10, 0, 20, 0, 40, 1, 50, 0, 51, 360}, true, 1},
		"arc":             {[]any{"ARC", 10, 0, 20, 0, 40, 1, 50, 350, 51, 340}, false, 1},
		"ellipse":         {[]any{"ELLIPSE", 10, 0, 20, 0, 11, 2, 21, 0, 40, 0.5, 41, 0, 42, 6.283185307}, true, 1},
		"ellipse, partly": {[]any{"ELLIPSE", 10, 0, 20, 0, 11, 2, 21, 0, 40, 0.5, 41, 1, 42, 6}, false, 1},
		"spline":          {spline(3, 4, 0, 0, 0, 0, 1, 1, 1, 1), false, 1},
		"no SEQEND":       {[]any{"POLYLINE", 70, 1, "VERTEX", 10, 0, 20, 0, "VERTEX", 10, 5, 20, 0, "VERTEX", 10, 5, 20, 5}, true, 3},
	} {
		c := read(t, "", entities(tt.groups...)).Curves[0]
		if c.Closed != tt.closed || len(c.Segments) != tt.segments {
			t.Errorf("%s: closed %v of %d segments", name, c.Closed, len(c.Segments))
		}
		for i, s := range c.Segments {
			if next := c.Segments[(i+1)%len(c.Segments)]; (c.Closed || i+1 < len(c.Segments)) && !s.At(1).Near(next.At(0), 1e-8) {
				t.Errorf("%s: segment %d ends at %v, the next begins at %v", name, i, s.At(1), next.At(0))
			}
		}
	}
}

// TestSplinesAreCutAtCorners: a spline of lines is its control points (degree 1); one of
// degree 2 or 3 whose knots are as often there as its degree is a chain of Bezier curves
// through every second or third control point (Piegl and Tiller, The NURBS Book, section
// 5.3; recalled), and stays whole where they are less often.
func TestSplinesAreCutAtCorners(t *testing.T) {
	for _, tt := range []struct {
		degree, points int
		knots          []float64
		kind           string
		at             []int // control points that it goes through
	}{
		{1, 4, []float64{0, 0, 1, 2, 3, 3}, "drawing.Line", []int{0, 1, 2, 3}},
		{2, 5, []float64{0, 0, 0, 4, 4, 9, 9, 9}, "drawing.Bezier", []int{0, 2, 4}},
		{3, 7, []float64{0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 2}, "drawing.Bezier", []int{0, 3, 6}},
		{3, 7, []float64{-5, 0, 0, 0, 1, 1, 1, 2, 2, 2, 7}, "drawing.Bezier", []int{0, 3, 6}},
		{3, 7, []float64{0, 1e-10, -1e-10, 0, 1, 1 - 1e-10, 1, 2, 2, 2, 2}, "drawing.Bezier", []int{0, 3, 6}},
		{3, 6, []float64{0, 0, 0, 0, 1, 1, 2, 2, 2, 2}, "drawing.NURBS", []int{0, 5}},
		{4, 5, []float64{0, 0, 0, 0, 0, 1, 1, 1, 1, 1}, "drawing.NURBS", []int{0, 4}},
		{2, 5, []float64{0, 0, 0, 0, 1, 2, 2, 2}, "drawing.NURBS", []int{1, 4}}, // the first point bears on nothing
	} {
		c := read(t, "", entities(spline(tt.degree, tt.points, tt.knots...)...)).Curves[0]
		if len(c.Segments) != len(tt.at)-1 {
			t.Errorf("%v: %d pieces", tt.knots, len(c.Segments))
			continue
		}
		for i, s := range c.Segments {
			from, to := tt.at[i], tt.at[i+1]
			a, b := geom.Pt(float64(from), float64(from%2)), geom.Pt(float64(to), float64(to%2))
			if fmt.Sprintf("%T", s) != tt.kind || !s.At(0).Near(a, near) || !s.At(1).Near(b, near) {
				t.Errorf("%v: piece %d is %T from %v to %v, want %s from %v to %v", tt.knots, i, s, s.At(0), s.At(1), tt.kind, a, b)
			}
		}
	}
}

// TestASplineThatIsCalledClosed warns where its ends lie apart, once.
func TestASplineThatIsCalledClosed(t *testing.T) {
	in := blockOf("B", append(spline(3, 4, 0, 0, 0, 0, 1, 1, 1, 1), 70, 11)...)
	data := file(blocks(in), section("ENTITIES", "INSERT", 2, "B", 10, 0, 20, 0, 70, 3, 44, 9))
	d, found := fromdxf.Read("", data)
	if len(found) != 1 || found.HasErrors() || len(d.Curves) != 3 || d.Curves[0].Closed {
		t.Errorf("%v, of %d curves", found, len(d.Curves))
	}
}

// TestPositions: a curve stands where its entity's word does, whatever its file is written
// like: with a byte order mark, CR LF, comments, groups of other programs.
func TestPositions(t *testing.T) {
	plain := entities("LINE", 5, "2F", 102, "{OTHERS", 10, 99, 40, 1, 102, "}", 8, "A", 10, 0, 20, 0, 11, 3, 21, 4, 1001, "X", 1010, 7, 10, 55)
	want := read(t, "a.dxf", plain).Curves[0]
	if want.ID != "2F" || want.Pos.Line != 6 || want.Segments[0] != (drawing.Line{B: geom.Pt(3, 4)}) {
		t.Errorf("%+v", want)
	}
	foreign := append([]byte("\ufeff999\r\nmade by hand\r\n"), bytes.ReplaceAll(plain, []byte("\n"), []byte("\r\n"))...)
	foreign = append(foreign, "\r\n\r\nand more\r\n"...)
	if got := read(t, "a.dxf", foreign).Curves[0]; got.Pos.Line != 8 || got.Segments[0] != want.Segments[0] || got.Layer != "A" || got.ID != "2F" {
		t.Errorf("%+v", got)
	}
}
