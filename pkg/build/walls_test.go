package build

import (
	"os"
	"path/filepath"
	"testing"

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
	a, r := underway(t, name, string(data))
	a.plane(&r)
	return r
}

// TestWallsAndBands: the two makings of a groove's area, the planner's from bands
// and mitres and the judge's from walls, share no code, and must agree. So must
// what a bit leaves by the discs at corners and ends with what an opening of the
// whole area leaves, which no other place of these jobs shapes.
func TestWallsAndBands(t *testing.T) {
	const speck = 1e-4 // mm: ten thousandths of what makers work to would show
	same := func(name string, a, b region.Region) {
		t.Helper()
		for what, d := range map[string]region.Region{"leave out": region.Subtract(a, b), "add": region.Subtract(b, a)} {
			if d = d.Open(speck); !d.Empty() {
				t.Errorf("%s: walls %s %v mm2 at %v", name, what, d.Area(), d.Bounds())
			}
		}
	}
	for name, data := range demonstrations(t) {
		r := grooved(t, name, data)
		w, bit := walls.Of(r.strands()...), r.Job.Router.Bit
		same(name, r.Groove.Area().Transform(r.Grooving.Shift.Similarity()), w.Area)
		same(name+", reach", w.Area.Open(bit/2), region.Subtract(w.Area, region.Union(w.Tips(bit)...)))
	}
}
