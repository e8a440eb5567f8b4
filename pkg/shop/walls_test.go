package shop

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/walls"
)

// demonstrations are the jobs of testdata by name.
func demonstrations(t testing.TB) map[string][]byte {
	t.Helper()
	files, err := filepath.Glob("../../testdata/jobs/*.toml")
	if err != nil || len(files) < 5 {
		t.Fatalf("%d jobs, %v", len(files), err)
	}
	list := map[string][]byte{}
	for _, f := range files {
		if list[filepath.Base(f)], err = os.ReadFile(f); err != nil {
			t.Fatal(err)
		}
	}
	return list
}

// grooved takes a job as far as its groove.
func grooved(t testing.TB, name string, data []byte) Result {
	t.Helper()
	r := readJob(name, data, os.ReadFile)
	if r.Job == nil {
		t.Fatal(name, r.Findings)
	}
	r.plane()
	return r
}

// TestWallsAndBands: the two makings of a groove's area, the planner's from bands
// and mitres and the judge's from walls, share no code, and must agree.
func TestWallsAndBands(t *testing.T) {
	for name, data := range demonstrations(t) {
		r := grooved(t, name, data)
		a, b := r.Groove.Area().Transform(geom.Shifting(r.Grooving.Shift)), walls.Of(r.strands(0)...).Area
		const speck = 1e-4 // mm: ten thousandths of what makers work to would show
		if d := region.Subtract(a, b).Open(speck); !d.Empty() {
			t.Errorf("%s: walls leave out %v mm2", name, d.Area())
		}
		if d := region.Subtract(b, a).Open(speck); !d.Empty() {
			t.Errorf("%s: walls add %v mm2", name, d.Area())
		}
		if math.Abs(a.Area()-b.Area()) > 1e-3 {
			t.Errorf("%s: %v mm2 and %v", name, a.Area(), b.Area())
		}
	}
}
