package job_test

import (
	"math"
	"strings"
	"testing"

	"strapwork/pkg/job"
	"strapwork/pkg/work"
)

// TestJoiningKeys reads how elements meet others.
func TestJoiningKeys(t *testing.T) {
	src := strings.Replace(table, "[inlay]", `[[motif.line]]
from = [0, 0]
to = [5, 5]
open = true
smooth = "start"
[[motif.path]]
d = "M 10 0 L 20 0 M 30 0 L 40 0"
smooth = "both"
fit = true
[inlay]`, 1)
	j, found := job.Read("t.toml", []byte(src))
	if found.HasErrors() {
		t.Fatal(found)
	}
	type keys struct {
		open, fit bool
		smooth    work.Smooth
	}
	want := []keys{{}, {}, {open: true, smooth: work.SmoothStart}, {fit: true, smooth: work.SmoothBoth}, {fit: true, smooth: work.SmoothBoth}}
	for i, e := range j.Motif.Elements {
		if got := (keys{e.Open, e.Fit, e.Smooth}); got != want[i] {
			t.Errorf("%s: %+v, want %+v", e.Name, got, want[i])
		}
	}
	for key, says := range map[string]string{
		`smooth = "strat"`: `did you mean "start"?`,
		`fit = "yes"`:      "without quotes",
		`opne = true`:      "did you mean open?",
	} {
		_, found := job.Read("t.toml", []byte(strings.Replace(src, `smooth = "start"`, key, 1)))
		if !found.HasErrors() || !strings.Contains(found[0].Hint, says) {
			t.Errorf("%s: %v", key, found)
		}
	}
}

// TestRadiusScaled scales a radius that is too small by up to 0.05 mm to half
// the distance of its ends (SVG 1.1, F.6.6), whatever the units, and says so.
func TestRadiusScaled(t *testing.T) {
	for _, c := range []struct {
		units, radius string
		ok            bool
	}{
		{"mm", "4.96", true},
		{"mm", "4.94", false},
		{"in", "4.999", true},
		{"in", "4.99", false},
	} {
		src := strings.Replace(table, "[inlay]", "[[motif.path]]\nd = 'M 0 0 A "+c.radius+" "+c.radius+" 0 0 1 10 0'\n[inlay]", 1)
		src = strings.Replace(src, `units = "mm"`, `units = "`+c.units+`"`, 1)
		src = strings.Replace(src, "depth = 3\n", "depth = \"3 mm\"\n", 1) // 3 in would be too many passes
		j, found := job.Read("t.toml", []byte(src))
		if c.ok != !strings.Contains(found.Error(), "cannot join points") {
			t.Errorf("%s %s: %v", c.radius, c.units, found)
			continue
		}
		if !c.ok {
			continue
		}
		if j == nil {
			t.Fatalf("%s %s: %v", c.radius, c.units, found)
		}
		e := j.Motif.Elements[2].Contour.Edge(0)
		scaled := 0
		for _, f := range j.Notes {
			if f.Rule == "radius-scaled" && f.Pos.Line == 19 && f.Pos.Col == 14 && strings.Contains(f.Message, "taken as 5") {
				scaled++
			}
		}
		if math.Abs(e.Bulge-1) > 1e-12 || scaled != 1 {
			t.Errorf("%s %s: bulge %v, %v", c.radius, c.units, e.Bulge, j.Notes)
		}
	}
}
