package deps

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// floors draws the house of a policy: each room stands one floor above the highest
// room that it imports, the ground floor last.
func floors(text string) string {
	rules, _ := parse(text)
	var height func(dir string) int
	height = func(dir string) int {
		top := 0
		for _, name := range rules[dir] {
			if _, own := rules[name]; own {
				top = max(top, height(name)+1)
			}
		}
		return top
	}
	var drawn []string
	for line := range strings.Lines(text) {
		dir := strings.TrimSpace(strings.Split(line, "<")[0])
		if dir == "" || dir == "pkg/deps" || strings.HasPrefix(dir, "pkg/internal/") {
			continue
		}
		h := height(dir)
		for len(drawn) <= h {
			drawn = append(drawn, "")
		}
		drawn[h] += "  " + strings.TrimPrefix(strings.TrimPrefix(dir, "pkg/"), "cmd/")
	}
	slices.Reverse(drawn)
	return strings.Join(drawn, "\n") + "\n"
}

// TestHouseIsDrawnAsItIs holds the drawing in DEVELOPERS.md to the policy.
func TestHouseIsDrawnAsItIs(t *testing.T) {
	page, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	if want := floors(policy); !strings.Contains(string(page), "```\n"+want+"```") {
		t.Errorf("DEVELOPERS.md doesn't draw the house as it is:\n%s", want)
	}
}
