package fromdxf_test

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"strapwork/pkg/drawing"
	"strapwork/pkg/drawing/fromdxf"
)

// read reads a drawing that is in order.
func read(t interface {
	Helper()
	Fatal(args ...any)
}, name string, data []byte,
) drawing.Drawing {
	t.Helper()
	d, found := fromdxf.Read(name, data)
	if len(found) != 0 {
		t.Fatal(found)
	}
	return d
}

// others are the drawings of others, see testdata/others/SOURCES.tsv.
func others(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("testdata/others/*.dxf")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	return files
}

// TestDrawingsOfOthers: all are read, each with as many curves and segments as can be
// counted in it, and with the unit that it states.
func TestDrawingsOfOthers(t *testing.T) {
	type counts struct {
		unit             float64
		curves, segments int
	}
	want := map[string]counts{
		"arcs-as-splines.dxf":     {0, 3, 9}, // two circles of four arcs, and an arc
		"array-rotated.dxf":       {25.4, 6, 6},
		"blocks1.dxf":             {1, 10, 10}, // twice a block of four lines and a circle
		"circlesellipsesarcs.dxf": {1, 5, 5},
		"ellipticalarcs.dxf":      {1, 9, 9},
		"lwpolylines.dxf":         {1, 2, 10},
		"polylines.dxf":           {0, 4, 108}, // outlines of an a and a b
		"splines.dxf":             {1, 2, 2},
	}
	for _, file := range others(t) {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		d := read(t, file, data)
		got := counts{unit: d.Unit, curves: len(d.Curves)}
		for _, c := range d.Curves {
			got.segments += len(c.Segments)
		}
		if w := want[filepath.Base(file)]; got != w || len(d.Passed) != 0 {
			t.Errorf("%s: %+v, want %+v; passed over %v", file, got, w, d.Passed)
		}
	}
}

// TestArcsAsSplines: the splines of the file are parts of circles. Four points of one say
// which, and all others must lie on it; each piece has the weights 1, cos of half its
// sweep, 1, but for a factor (Piegl and Tiller, The NURBS Book, section 7.3; recalled).
func TestArcsAsSplines(t *testing.T) {
	data, err := os.ReadFile("testdata/others/" + splinesInR12)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range read(t, splinesInR12, data).Curves {
		for _, s := range c.Segments {
			n, ok := s.(drawing.NURBS)
			if !ok || len(n.Points) != 3 || len(n.Weights) != 3 {
				t.Fatalf("%v: a piece is %+v, want a rational arc", c.Pos, s)
			}
			// Its tangents at the ends are the sides of its control points' triangle, and the
			// centre lies square to them.
			a, b, e := n.Points[0], n.Points[1], n.Points[2]
			half := math.Abs(b.Sub(a).Unit().Cross(e.Sub(a).Unit())) // sine of half the sweep
			center := b.Add(a.Lerp(e, 0.5).Sub(b).Unit().Scale(b.Dist(a) / half))
			radius := center.Dist(a)
			for i := range 33 {
				if d := math.Abs(n.At(float64(i)/32).Dist(center) - radius); d > 1e-9*radius {
					t.Errorf("%v: a point is %g off the circle of radius %g", c.Pos, d, radius)
				}
			}
			if w := n.Weights[1] / n.Weights[0]; math.Abs(w-math.Sqrt(1-half*half)) > 1e-9 || n.Weights[0] != n.Weights[2] {
				t.Errorf("%v: weights %v at a half sweep of %v", c.Pos, n.Weights, math.Asin(half))
			}
		}
	}
}
