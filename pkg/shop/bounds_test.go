package shop_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"strapwork/pkg/diag"
	"strapwork/pkg/shop"
)

// TestBoundsOfWork gives jobs whose work would have no end: each ends in one
// error.
func TestBoundsOfWork(t *testing.T) {
	const tail = "[inlay]\ndepth = 2\nwidth = 3\n[router]\nguide = \"base\"\nrider = 90\nbit = 2\n"
	var rings, star strings.Builder
	for i := range 50 {
		fmt.Fprintf(&rings, "[[motif.circle]]\ncenter = [0, 0]\nradius = %d\n", 60+8*i)
	}
	for i := range 1000 {
		y, x := math.Sincos(math.Pi * float64(i) / 1000)
		fmt.Fprintf(&star, "[[motif.line]]\nfrom = [%.4f, %.4f]\nto = [%.4f, %.4f]\n", -400*x, -400*y, 400*x, 400*y)
	}
	for rule, motif := range map[string]string{"plan-crowded": rings.String(), "crossings-many": star.String()} {
		began := time.Now()
		r := shop.Check("job.toml", []byte("units = \"mm\"\n[motif]\n"+motif+tail), noFiles, nil)
		if took := time.Since(began); took > 30*time.Second { // 3 s on an idle machine
			t.Errorf("%s took %v", rule, took)
		}
		if r.Findings.Count(diag.Error) != 1 || !strings.Contains(r.Findings.Error(), "error:") {
			t.Errorf("%s: %d errors", rule, r.Findings.Count(diag.Error))
		}
		for _, f := range r.Findings {
			if f.Severity == diag.Error && f.Rule != rule {
				t.Errorf("%s, want %s", f.Error(), rule)
			}
		}
	}
}
