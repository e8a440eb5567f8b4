package job_test

import (
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/job"
	"strapwork/pkg/unit"
)

// TestPanelKeys: a panel as the job has it, its strands named one after the other.
func TestPanelKeys(t *testing.T) {
	j := read(t, familyJob(unit.MM, "panel", "name = \"middle\"\nacross = 6\nup = 4\ncell = 24\nround = \"cell / 3\"\nbreaks = [\"6,3 |\", \" 5 , 4 - \"]\n[let]\ncell = 24"))
	names := ""
	b := geom.EmptyBox()
	for _, e := range j.Motif.Elements {
		names += e.Name + ";"
		b = b.Join(e.Contour.Bounds())
	}
	if names != "middle;middle-2;" {
		t.Errorf("its strands are %s", names)
	}
	if by := b.Size(); by.X < 130 || by.X > 144 || by.Y < 82 || by.Y > 96 {
		t.Errorf("6 x 4 cells of 24 mm are %v", by)
	}
}

// TestBreakMistakes: each is reported at its own place in the list.
func TestBreakMistakes(t *testing.T) {
	for keys, want := range map[string]string{
		`breaks = ["3,2 |", "4,4 -"]`:         `4:20: error: breaks: there is no crossing at 4,4`,
		`breaks = ["3,2 |", "2,3 -", "3,2-"]`: `4:29: error: breaks: the crossing at 3,2 is broken twice`,
		`breaks = ["3,2 |", "3;2 |"]`:         `4:20: error: breaks: "3;2 |" is not a crossing with how it is broken`,
		`breaks = ["3,2"]`:                    `4:11: error: breaks: "3,2" is not a crossing with how it is broken`,
		`breaks = ["3,2 |-"]`:                 `is not a crossing with how it is broken`,
		`breaks = [3]`:                        `a break must be text`,
		`breaks = "3,2 |"`:                    `breaks`,
		"cell = 20\nround = 8":                `round: a cell of 20 mm has no room for a round of 8 mm`,
	} {
		_, found := job.Read("job.toml", []byte(familyJob(unit.MM, "panel", keys)))
		if !found.HasErrors() || !strings.Contains(found.Error(), want) {
			t.Errorf("%q: %v, want %q", keys, found, want)
		}
	}
}

// TestTightRound: a round that the rider can't follow is reported with one that it can.
func TestTightRound(t *testing.T) {
	_, found := job.Read("job.toml", []byte(familyJob(unit.MM, "panel", "cell = 40\nround = 6")))
	if len(found) != 1 || !strings.Contains(found[0].Hint, "write round = 8.1 or more, or leave it out") {
		t.Errorf("a round of 6 mm for a rider of 16 mm: %v", found)
	}
	for _, cured := range []string{"cell = 40\nround = 8.1", "cell = 40"} {
		read(t, familyJob(unit.MM, "panel", cured))
	}
}
