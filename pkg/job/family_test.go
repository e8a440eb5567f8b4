package job_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/conf"
	"strapwork/pkg/job"
	"strapwork/pkg/unit"
)

// isFamily reports whether a table of the job is a pattern family's.
func isFamily(path string) bool {
	return slices.ContainsFunc(job.Families(), func(f job.Family) bool { return path == "motif."+f.Name })
}

// familyJob is a job with one pattern, followed by a rider of 16 mm (or 5/8 in).
func familyJob(u unit.System, name, keys string) string {
	rider := map[unit.System]string{unit.MM: "16", unit.Inch: "0.625"}[u]
	return fmt.Sprintf("units = %q\n[motif]\n[[motif.%s]]\n%s\n[inlay]\ndepth = \"3 mm\"\nwidth = \"3.4 mm\"\n[router]\nguide = \"bushing\"\nrider = %s\nbit = \"3.2 mm\"\n",
		u.String(), name, keys, rider)
}

// TestFamilyDefaults: each family is drawn by its name alone, without a warning, and a
// default that is typed changes nothing.
func TestFamilyDefaults(t *testing.T) {
	for _, u := range []unit.System{unit.MM, unit.Inch} {
		for _, f := range job.Families() {
			bare := read(t, familyJob(u, f.Name, ""))
			for _, n := range bare.Notes {
				if n.Rule == "pattern-tight" {
					t.Errorf("%s by default: %v", f.Name, n)
				}
			}
			for _, key := range f.Keys() {
				if key.Default == (conf.Typed{}) {
					continue
				}
				typed := read(t, familyJob(u, f.Name, key.Name+" = "+key.Default.In(u)))
				if diff := cmp.Diff(bare.Motif.Elements, typed.Motif.Elements); diff != "" {
					t.Errorf("%s with %s = %s as by default in %v:\n%s", f.Name, key.Name, key.Default.In(u), u, diff)
				}
			}
		}
	}
}

// TestFamilySizes: a pattern gets the size that is asked for, fits into a box, or is roomy
// for the rider; one that is too tight says which size would do.
func TestFamilySizes(t *testing.T) {
	width := func(keys string) float64 {
		b := read(t, familyJob(unit.MM, "rings", keys)).Motif.Elements[0].Contour.Bounds()
		return b.Size().X / 2
	}
	if r := width("radius = 40\nring = 60"); r != 40 {
		t.Errorf("rings of 40 mm have %v", r)
	}
	// Six rings of 0.75 R lie 3.5 R wide.
	if r := width("size = [350, 400]"); r < 74.999999 || r > 75.000001 {
		t.Errorf("rings in 350 mm have a radius of %v, want 75", r)
	}
	// The rider needs 8 + (3.4 - 3.2) / 2 = 8.1 mm, and 8 mm more are roomy: 16.1 mm of
	// 0.75 times 21.47 mm. But the inner crossings are cos(30) - sqrt(0.75^2 - 0.5^2) = 0.307 R
	// from the middle and from one another, and in a groove of 3.4 mm want 10.2: 33.2 mm, and so 34.
	if r := width(""); r < 25.499999 || r > 25.500001 {
		t.Errorf("rings for a rider of 16 mm have a radius of %v, want 25.5", r)
	}
	_, found := job.Read("job.toml", []byte(familyJob(unit.MM, "rings", "ring = 10")))
	if got := found.Error(); !strings.Contains(got, "radius of 7.5 mm, and a rider of 16 mm needs 8.1 mm") || !strings.Contains(found[0].Hint, "ring = 10.8 or more") {
		t.Errorf("rings that are too small: %v, %v", got, found)
	}
}

// TestFamilyMistakes: what can't be drawn is said at its key.
func TestFamilyMistakes(t *testing.T) {
	for keys, want := range map[string]string{
		"ring = 60\nradius = 70":                "5:10: error: radius: rings of 70 mm",
		"ring = 60\nradius = 20":                "radius: rings of 20 mm don't reach",
		"ring = 60\nsize = [100, 100]":          "ring and size are both given",
		"ring = 3":                              "4:8: error: the whole pattern is 10.5 mm across, and its groove 3.4 mm wide",
		"radius = 20\nsize = [30, 30]":          "with radius as given it is at least",
		"ring = 60\nturn = \"0 mm\"\ncount = 4": "turn",
	} {
		_, found := job.Read("job.toml", []byte(familyJob(unit.MM, "rings", keys)))
		if !found.HasErrors() || !strings.Contains(found.Error(), want) {
			t.Errorf("%q: %v, want %q", keys, found, want)
		}
	}
}
