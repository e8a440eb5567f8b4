package build

import (
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
)

// TestRidersNamedBuild takes riders too large for an arc or a ring, and then the
// one that the finding names, less up to ten micrometres: it builds.
func TestRidersNamedBuild(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	for seed := range uint64(8) {
		rnd := rand.New(rand.NewPCG(seed, 5))
		radius := 15 + 40*rnd.Float64()
		shape := fmt.Sprintf("[[motif.circle]]\ncenter = [0, 0]\nradius = %.4f", radius)
		if seed%2 == 0 {
			shape = fmt.Sprintf("[[motif.arc]]\ncenter = [0, 0]\nradius = %.4f\nstart = %.2f\nsweep = %.2f", radius, 360*rnd.Float64(), 70+200*rnd.Float64())
		}
		build := func(rider float64) Result {
			text := fmt.Sprintf("title = \"ring\"\nunits = \"mm\"\n%s\n[inlay]\ndepth = 2\nwidth = 3\n[router]\nguide = \"bushing\"\nrider = %.4f\nbit = 2\n[template]\nweb = 4\n", shape, rider)
			return Build("ring.toml", []byte(text), os.ReadFile, Options{Only: Templates})
		}
		var named float64
		for _, f := range build(2*radius + 5).Findings {
			if i := strings.Index(f.Hint, "the largest rider that can is "); i >= 0 {
				fmt.Sscanf(f.Hint[i:], "the largest rider that can is %f mm", &named)
			}
		}
		if named < 2*radius-1.1 {
			t.Fatalf("seed %d: R %g: no rider is named but %g", seed, radius, named)
		}
		for _, less := range []float64{0, 0.001, 0.003, 0.01 * rnd.Float64()} {
			if r := build(named - less); !r.OK() || r.Reached != Proved {
				t.Errorf("seed %d: R %.4f, rider %.4f less %.4f: %v", seed, radius, named, less, failing(r.Findings))
			}
		}
	}
}
