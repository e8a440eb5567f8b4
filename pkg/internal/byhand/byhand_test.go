package byhand

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/job"
	"strapwork/pkg/work"
)

// TestOfAndBack: a job taken apart and written exactly is the same motif.
func TestOfAndBack(t *testing.T) {
	jobs, err := filepath.Glob("../../../testdata/jobs/*.toml")
	if err != nil || len(jobs) == 0 {
		t.Fatal("no jobs: ", err)
	}
	for _, path := range jobs {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		d, err := Of(string(data))
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		was, now := read(t, string(data)), read(t, d.Write(Hand{}))
		if was.Motif.Copies != now.Motif.Copies || was.Motif.Mirror != now.Motif.Mirror || was.Inlay.Width != now.Inlay.Width || was.Router != now.Router {
			t.Errorf("%s: %+v became %+v", path, was, now)
		}
		next := 0
		for _, e := range was.Motif.Elements {
			if e.Kind == work.KindPattern { // is written line by line and arc by arc
				for k, edge := range e.Contour.Edges() {
					f := now.Motif.Elements[next].Contour.Edges()
					if next++; len(f) != 1 || !f[0].A.Near(edge.A, 1e-9) || !f[0].B.Near(edge.B, 1e-9) || math.Abs(f[0].Bulge-edge.Bulge) > 1e-9 {
						t.Errorf("%s: %s-%d: %v became %v", path, e.Name, k+1, edge, f)
					}
				}
				continue
			}
			f := now.Motif.Elements[next]
			if next++; e.Name != f.Name || e.Kind != f.Kind || !alike(e.Contour, f.Contour, 1e-9) {
				t.Errorf("%s: %+v became %+v", path, e, f)
			}
		}
	}
}

func read(t *testing.T, text string) *job.Job {
	t.Helper()
	j, found := job.Read("job.toml", []byte(text))
	if found.HasErrors() {
		t.Fatalf("%v\n%s", found, text)
	}
	return j
}

func alike(a, b geom.Contour, tol float64) bool {
	if a.Closed != b.Closed || len(a.Vertices) != len(b.Vertices) {
		return false
	}
	for i, v := range a.Vertices {
		if w := b.Vertices[i]; !v.Near(w.Point, tol) || math.Abs(v.Bulge-w.Bulge) > tol {
			return false
		}
	}
	return true
}

// TestSeededStaysWithinItsHand: rounded or shaken, no element of a motif moves
// by more than the hand says, and an exact one not at all.
func TestSeededStaysWithinItsHand(t *testing.T) {
	for seed := range 2 * len(kinds) {
		_, d := Seeded(seed)
		full := d.InFull()
		want := read(t, d.InFull().Write(Hand{}))
		for _, h := range []Hand{{}, {Decimals: 5}, {Decimals: 2}, {Shake: 1e-3}} {
			h.Rand = rand.New(rand.NewPCG(1, uint64(seed)))
			got := read(t, full.Write(h))
			// Centre, radius, start and sweep are each shaken.
			most := h.Moves(full) + 6*h.Shake + 1e-9
			for i, e := range want.Motif.Elements {
				f := got.Motif.Elements[i].Contour
				if !e.Contour.Start().Near(f.Start(), most) || !e.Contour.End().Near(f.End(), most) {
					t.Errorf("seed %d, %+v: %s moved by more than %g", seed, h, e.Name, most)
				}
			}
		}
	}
}

// TestInFull: copies of what they turn into itself are written once.
func TestInFull(t *testing.T) {
	d := Drawing{Copies: 4, Mirror: true, Elements: []Element{
		{Kind: Circle, Name: "ring", Radius: 10},
		{Kind: Line, Name: "bar", Points: []geom.Point{{X: -5}, {X: 5}}},
		{Kind: Arc, Name: "bow", Center: geom.Pt(20, 3), Radius: 5, Start: 1, Sweep: 2},
		{Kind: Line, Name: "box", Closed: true, Points: []geom.Point{{X: -5, Y: -5}, {X: 5, Y: -5}, {X: 5, Y: 5}, {X: -5, Y: 5}}},
	}}
	var names []string
	for _, e := range d.InFull().Elements {
		names = append(names, e.Name)
	}
	want := "ring-1 bar-1 bar-2 bow-1 bow-2 bow-3 bow-4 bow-5 bow-6 bow-7 bow-8 box-1"
	if got := strings.Join(names, " "); got != want {
		t.Errorf("%s, want %s", got, want)
	}
	// The mirrored bow, turned by a quarter: (20, 3) goes to (20, -3) and to (3, 20).
	if e := d.InFull().Elements[8]; !e.Center.Near(geom.Pt(3, 20), 1e-9) || e.Sweep != -2 || math.Abs(e.Start-(math.Pi/2-1)) > 1e-9 {
		t.Errorf("%+v", e)
	}
}
