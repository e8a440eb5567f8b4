package build_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/internal/plait"
)

// noFiles is for jobs that name no file.
func noFiles(path string) ([]byte, error) { return nil, fmt.Errorf("no file %q", path) }

// plaitJob is a job of an a x b plait with the given [router] lines.
func plaitJob(a, b int, pitch float64, router string) string {
	var t strings.Builder
	fmt.Fprintf(&t, "title = \"plait\"\nunits = \"mm\"\n[inlay]\ndepth = 2\nwidth = 2\n[router]\n%s\n[motif]\n", router)
	for _, l := range plait.Lines(a, b, pitch) {
		var pts []string
		for _, v := range l.Vertices {
			pts = append(pts, fmt.Sprintf("[%.6f, %.6f]", v.X, v.Y))
		}
		fmt.Fprintf(&t, "[[motif.line]]\npoints = [%s]\nclosed = true\n", strings.Join(pts, ", "))
	}
	return t.String()
}

const bushing = "guide = \"bushing\"\nrider = 8\nbit = 1.5"

func TestPlaitOfAThousandCrossings(t *testing.T) {
	r := build.Check("plait.toml", []byte(plaitJob(24, 22, 20, bushing)), noFiles, nil)
	if !r.OK() || r.Reached != build.Planned {
		t.Fatalf("reached %v with\n%v", r.Reached, r.Findings)
	}
	// 2ab - a - b (see package plait).
	if n, want := len(r.Weave.Crossings), 2*24*22-24-22; n != want {
		t.Errorf("%d crossings, want %d", n, want)
	}
}

// TestPlaitLeavesTheTipsOfItsMitres: a 3 x 2 plait turns by right angles at 10
// places, and at each the round bit leaves (b/2)^2 (cot(t/2) - (pi-t)/2) of the
// mitre's tip, 0.5408 mm2 for 1/8 in (derived: the square at a circle's
// quarter, less the quarter).
func TestPlaitLeavesTheTipsOfItsMitres(t *testing.T) {
	text := strings.Replace(plaitJob(3, 2, 60, "guide = \"base\"\nrider = 100\nbit = \"1/8 in\""), "width = 2\n", "width = 5.08\n", 1)
	r := built(t, "plait.toml", text, build.Options{})
	const half = 25.4 / 8 / 2
	want := 10 * half * half * (1 - math.Pi/4)
	if d := math.Abs(r.Proof.UncutArea - want); d > 1e-5 || len(r.Proof.Leftovers) != 10 {
		t.Errorf("%.6f mm2 are left in %d places, want %.6f in 10", r.Proof.UncutArea, len(r.Proof.Leftovers), want)
	}
}

// The aim is a second for 1,000 crossings, and at most twice as much for each
// crossing of 10,000.
func BenchmarkCheckPlait(b *testing.B) {
	for _, n := range []int{23, 72} {
		job := []byte(plaitJob(n, n-1, 20, bushing))
		crossings := 2*n*(n-1) - n - (n - 1)
		b.Run(fmt.Sprint("crossings=", crossings), func(b *testing.B) {
			for b.Loop() {
				if r := build.Check("plait.toml", job, noFiles, nil); !r.OK() {
					b.Fatal(r.Findings)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*crossings), "ns/crossing")
		})
	}
}

func BenchmarkBuildHallTable(b *testing.B) {
	job, err := os.ReadFile(filepath.Join("..", "..", "testdata", "jobs", "hall-table.toml"))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if r := build.Build("hall-table.toml", job, noFiles, build.Options{}); !r.OK() {
			b.Fatal(r.Findings)
		}
	}
}
