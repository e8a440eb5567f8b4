package fromdxf_test

import (
	"os"
	"path/filepath"
	"testing"

	"strapwork/pkg/drawing"
	"strapwork/pkg/drawing/fromdxf"
)

// read reads a drawing that is in order.
func read(t testing.TB, name string, data []byte) drawing.Drawing {
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
		"polylines.dxf":           {0, 12, 304},
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
