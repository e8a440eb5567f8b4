package build

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"text/tabwriter"
	"time"

	"strapwork/pkg/diag"
	"strapwork/pkg/job"
)

// familyRouters are what one commonly rides: a router's base, a template bushing, a small
// bearing on the bit (common practice; as in the jobs of testdata).
var familyRouters = []struct{ name, keys string }{
	{"bushing", "guide = \"bushing\"\nrider = 16\nbit = \"1/8 in\"\nflute = 14\nshank = \"1/4 in\"\ncollar = 5\nbase = 90\n"},
	{"base", "guide = \"base\"\nrider = 100\nbit = \"1/8 in\"\nflute = 14\nshank = \"1/4 in\"\n"},
	{"bearing", "guide = \"bearing\"\nrider = \"1/4 in\"\nbit = \"3/32 in\"\nflute = \"1/4 in\"\nshank = \"1/8 in\"\nbase = 90\n"},
}

// mostSetUps is how many a family's default may take: 6, and more where rings all cross one
// another and none may be split in sight.
var mostSetUps = map[string]int{"rings": 12, "rosette": 9, "foil": 8, "lattice": 8}

// TestFamiliesByDefault: each family by its name alone can be made, without a warning, on a
// few panels in a few set-ups. The table at its end (-v) says what sizes they get.
func TestFamiliesByDefault(t *testing.T) {
	var table strings.Builder
	w := tabwriter.NewWriter(&table, 0, 8, 2, ' ', 0)
	defer func() {
		w.Flush()
		t.Logf("\n%s", table.String())
	}()
	routers := familyRouters
	if testing.Short() {
		routers = routers[:1]
	}
	for _, f := range job.Families() {
		for _, router := range routers {
			name := f.Name + "/" + router.name
			text := fmt.Sprintf("title = %q\nunits = \"mm\"\n[motif]\n[[motif.%s]]\n[inlay]\ndepth = 3\nwidth = 3.4\n[router]\n%s", f.Name, f.Name, router.keys)
			start := time.Now()
			r := Check(name, []byte(text), os.ReadFile, nil)
			if r.Reached != Planned || !r.OK() {
				t.Errorf("%s: reached %v: %v", name, r.Reached, failing(r.Findings))
				continue
			}
			for _, found := range r.Findings {
				// Small panels of many sides have no room for a key, whatever is on them.
				if found.Severity == diag.Warning && found.Rule != "key-none" {
					t.Errorf("%s: %s: %v", name, found.Rule, found)
				}
			}
			if panels, setUps := len(r.Set.Plan.Panels), len(r.Set.Plan.SetUps); panels > 4 || setUps > max(6, mostSetUps[f.Name]) {
				t.Errorf("%s: %d panels, %d set-ups", name, panels, setUps)
			}
			size := r.Motif.Bounds().Size()
			fmt.Fprintf(w, "%s\t%s\t%s\t%.0f x %.0f mm\t%d strands\t%d crossings\t%d cuts\t%d panels\t%d set-ups\t%.1f s\n", f.Name, router.name, assumedSize(r.Findings, f.Size),
				size.X, size.Y, len(r.Motif.Strands), len(r.Weave.Crossings), len(r.Cuts), len(r.Set.Plan.Panels), len(r.Set.Plan.SetUps), time.Since(start).Seconds())
		}
	}
}

// assumedSize is the size that a note says was taken.
func assumedSize(found diag.Findings, key string) string {
	i := slices.IndexFunc(found, func(f diag.Finding) bool { return strings.Contains(f.Message, " assumed: "+key+" ") })
	if i < 0 {
		return key + " ?"
	}
	_, size, _ := strings.Cut(found[i].Message, " assumed: ")
	size, _, _ = strings.Cut(size, ",")
	return size
}
