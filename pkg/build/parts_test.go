package build_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/ngc"
	"strapwork/pkg/program"
)

// TestPartsByDepth: each depth's program says in its own units what must have been
// run before it; and where that wasn't, it still goes into the wood no faster than
// straight down, and not in a rapid.
func TestPartsByDepth(t *testing.T) {
	for units, heads := range map[string][]string{
		"mm": {
			"(depth 1 of 3 alone, to 0.667 mm deep)\n(job ",
			"(depth 2 of 3 alone, to 1.333 mm deep)\n(run depth-1.nc before it: it starts 0.667 mm deep)\n",
			"(depth 3 of 3 alone, to 2 mm deep)\n(run depth-1.nc to depth-2.nc before it: it starts 1.333 mm deep)\n",
		},
		"in": {
			"(depth 1 of 3 alone, to 0.0262 in deep)\n(job ",
			"(depth 2 of 3 alone, to 0.0525 in deep)\n(run depth-1.nc before it: it starts 0.0262 in deep)\n",
			"(depth 3 of 3 alone, to 0.0787 in deep)\n(run depth-1.nc to depth-2.nc before it: it starts 0.0525 in deep)\n",
		},
	} {
		files := func(string) ([]byte, error) {
			return []byte(strings.Replace(crossMachine, `units = "mm"`, fmt.Sprintf("units = %q", units), 1)), nil
		}
		job := strings.Replace(crossJob, "[program]", "[program]\nstep = 0.7\nsplit = \"depth\"", 1)
		r := build.Build("cross.toml", []byte(job), files, build.Options{Only: build.Programs})
		if !r.OK() {
			t.Fatal(r.Findings)
		}
		n := 0
		for _, f := range r.Files {
			if f.Role != "depth" {
				continue
			}
			if want := fmt.Sprintf("program/depth-%d.nc", n+1); f.Path != want || !bytes.Contains(f.Data, []byte(heads[n])) {
				t.Errorf("%s for %s, without %q:\n%.400s", f.Path, want, heads[n], f.Data)
			}
			moves, err := ngc.ReadAll(bytes.NewReader(f.Data))
			if err != nil {
				t.Fatal(err)
			}
			for _, m := range moves {
				if m.Kind == ngc.Rapid && m.Named == ngc.AxisZ && m.To.Z < program.Clearance-1e-9 {
					t.Errorf("%s:%d: a rapid down to %v", f.Path, m.Line, m.To.Z)
				}
				if m.Kind == ngc.Line && m.Named == ngc.AxisZ && m.Feed > r.Grooving.Plunge {
					t.Errorf("%s:%d: straight down at %v", f.Path, m.Line, m.Feed)
				}
			}
			n++
		}
		if n != len(heads) {
			t.Errorf("%d programs", n)
		}
	}
}
