package job_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/job"
)

// One mistake in a table is said once, with a hint.
func TestOneMistakeInTable(t *testing.T) {
	text, err := os.ReadFile("../../testdata/tables/extending-table.toml")
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ old, new, says string }{
		"pins nowhere":       {"at = [120, 780]\n", "", "at is missing"},
		"no pins":            {"at = [120, 780]", "at = []", "at is empty"},
		"stations twice":     {"width = 900", "width = 900\nstations = [{ x = 600, y = 450 }, { x = 1020, y = 450 }, { x = 600, y = 450 }]", "stations 1 and 3 are at one place"},
		"half a station":     {"width = 900", "width = 900\nstations = [{ x = 600 }]", "y is missing"},
		"no stations":        {"width = 900", "width = 900\nstations = []", "stations is empty"},
		"stations by a word": {"width = 900", "width = 900\nstations = \"joint\"", "joint"},
		"gap of nothing":     {"width = 900", "width = 900\ngroove = \"gap\"", "needs the gap"},
		"across beyond":      {"width = 900", "width = 900\nacross = 901", "across is beyond"},
	} {
		changed := strings.Replace(string(text), c.old, c.new, 1)
		if changed == string(text) {
			t.Fatalf("%s: nothing is changed", name)
		}
		_, found := job.Read("table.toml", []byte(changed))
		found = slices.DeleteFunc(found, func(f diag.Finding) bool { return f.Severity != diag.Error })
		if len(found) != 1 || !strings.Contains(found[0].Message, c.says) || found[0].Hint == "" || found[0].Pos.Line == 0 {
			t.Errorf("%s: %v", name, found)
		}
	}
}
