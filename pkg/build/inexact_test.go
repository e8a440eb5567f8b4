package build

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestInexact checks the jobs of testdata/inexact: motifs drawn a little out,
// each as its name says. A rule is the finding that must come of it; the
// strands and crossings are those of the motif as it was meant.
func TestInexact(t *testing.T) {
	want := map[string]struct {
		strands, crossings int
		rule               string
		ok                 bool
	}{
		"loops-half-a-micrometre-off":             {1, 4, "joined", true},
		"loops-a-tenth-of-a-micrometre-off":       {1, 4, "joined", true},
		"three-loops-3-decimals":                  {1, 3, "joined", true},
		"five-loops-3-decimals":                   {1, 5, "joined", true},
		"six-loops-3-decimals":                    {1, 18, "joined", true},
		"knot-2-decimals":                         {1, 8, "joined", true},
		"arc-half-a-degree-off":                   {1, 0, "nearly-smooth", true},
		"path-3-decimals":                         {1, 0, "joined", true},
		"straight-bent-5-thousandths-of-a-degree": {2, 2, "joined", true},
		"tee-on-a-seam-a-nanometre-short":         {2, 0, "", true},
		"twist-of-arcs":                           {1, 2, "", true},
		"twist-of-paths":                          {1, 2, "", true},
		"rings-a-tenth-apart":                     {2, 2, "crossing-slant", false},
		"circle-of-180-lines":                     {1, 0, "many-legs", false},
		"circle-of-500-lines-in-a-path":           {1, 0, "many-legs", false},
	}
	files, err := filepath.Glob("../../testdata/inexact/*.toml")
	if err != nil || len(files) != len(want) {
		t.Fatalf("%d files, want %d: %v", len(files), len(want), err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".toml")
		t.Run(name, func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			r, w := Check(file, data, os.ReadFile, nil), want[name]
			if len(r.Motif.Strands) != w.strands || len(r.Weave.Crossings) != w.crossings || r.OK() != w.ok {
				t.Errorf("%d strands, %d crossings, want %d and %d: %v", len(r.Motif.Strands), len(r.Weave.Crossings), w.strands, w.crossings, r.Findings)
			}
			reported := w.rule == ""
			for _, f := range r.Findings {
				reported = reported || f.Rule == w.rule
			}
			if !reported {
				t.Errorf("no finding %s: %v", w.rule, r.Findings)
			}
		})
	}
}
