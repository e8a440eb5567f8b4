package job_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/job"
)

// TestReadForDrawing: what can be read of a motif is there, whatever else is missing or
// wrong; what is wrong is found as ever, and what a drawing doesn't need isn't asked for.
func TestReadForDrawing(t *testing.T) {
	const bar = "[[motif.line]]\nname = \"bar\"\nfrom = [0, 0]\nto = [\"long\", 0]\n"
	const ring = "[[motif.circle]]\nname = \"ring\"\ncenter = [0, 0]\nradius = 30\n"
	const inlay = "[inlay]\ndepth = 3\nwidth = 4\n"
	for name, c := range map[string]struct {
		text  string
		drawn string // the elements' names
		width float64
		found []string // parts of the findings
	}{
		"the motif alone":        {"[motif]\n" + bar + ring, "bar ring", 0, nil},
		"with the strips":        {"[motif]\n" + bar + inlay, "bar", 4, nil},
		"strips with a mistake":  {"[motif]\n" + bar + "[inlay]\ndepth = 3\nwidth = \"four\"\n", "bar", 0, []string{`"four"`}},
		"router with a mistake":  {"[motif]\n" + bar + inlay + "[router]\nguide = \"hand\"\n", "bar", 4, []string{"guide", "bit is missing"}},
		"half an element":        {"[motif]\n" + bar + "[[motif.circle]]\ncenter = [0, 0]\n", "bar", 0, []string{"radius is missing"}},
		"a name that isn't":      {"[motif]\n" + strings.Replace(bar, `"long"`, `"lang"`, 1) + ring, "ring", 0, []string{`"lang" is not defined`}},
		"a key that isn't":       {"[motif]\n" + bar + "colour = 3\n", "bar", 0, []string{"colour"}},
		"beyond all bounds":      {"[motif]\n" + bar + ring[:len(ring)-3] + "99_000\n[[motif.line]]\nfrom = [0, 0]\nto = [1e9, 0]\n", "bar ring", 0, []string{"to"}},
		"too many copies":        {"[motif]\ncopies = 1000\n" + bar, "bar", 0, []string{"copies"}},
		"a table of another job": {"[motif]\n" + bar + "[cutting]\nkerf = \"much\"\n", "bar", 0, nil},
		"nothing drawn":          {"[motif]\n", "", 0, []string{"the motif is empty"}},
		"no motif":               {inlay, "", 4, []string{"[motif] is missing"}},
	} {
		t.Run(name, func(t *testing.T) {
			j, found := job.ReadForDrawing("job.toml", []byte("units = \"mm\"\n[let]\nlong = 80\n"+c.text), nil)
			if j == nil {
				t.Fatalf("no job: %v", found)
			}
			var names []string
			for _, e := range j.Motif.Elements {
				names = append(names, e.Name)
			}
			if got := strings.Join(names, " "); got != c.drawn || j.Inlay.Width != c.width {
				t.Errorf("drawn are %q in %g mm, want %q in %g", got, j.Inlay.Width, c.drawn, c.width)
			}
			if len(found) != len(c.found) || slices.ContainsFunc(c.found, func(part string) bool { return !strings.Contains(fmt.Sprint(found), part) }) {
				t.Errorf("found\n%v\nwant %q", found, c.found)
			}
		})
	}
	if j, found := job.ReadForDrawing("job.toml", []byte("units = \"mm"), nil); j != nil || !job.Unreadable(found) {
		t.Errorf("of no TOML there is %v, %v", j, found)
	}
}
