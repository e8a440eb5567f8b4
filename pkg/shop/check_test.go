package shop_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"strapwork/pkg/internal/plait"
	"strapwork/pkg/shop"
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

func TestPlaitOfAThousandCrossingsIsCheckedInASecond(t *testing.T) {
	job := plaitJob(24, 22, 20, "guide = \"bushing\"\nrider = 8\nbit = 1.5")
	began := time.Now()
	r := shop.Check("plait.toml", []byte(job), noFiles)
	took := time.Since(began)
	if !r.OK() || r.Reached != shop.Planned {
		t.Fatalf("reached %v with\n%v", r.Reached, r.Findings)
	}
	// 2ab - a - b (see package plait).
	if n, want := len(r.Weave.Crossings), 2*24*22-24-22; n != want {
		t.Errorf("%d crossings, want %d", n, want)
	}
	t.Logf("%v for %d crossings, %d cuts, %d panels", took, len(r.Weave.Crossings), len(r.Cuts), len(r.Set.Panels))
	if took > 3*time.Second { // the aim is 1 s; a busy machine is slower
		t.Errorf("took %v", took)
	}
}

func BenchmarkCheckPlait(b *testing.B) {
	job := []byte(plaitJob(24, 22, 20, "guide = \"bushing\"\nrider = 8\nbit = 1.5"))
	for b.Loop() {
		if r := shop.Check("plait.toml", job, noFiles); !r.OK() {
			b.Fatal(r.Findings)
		}
	}
}
