package preview

import (
	"os"
	"regexp"
	"strconv"
	"testing"
)

// TestNothingCutIsBlueOrGreen: many shops engrave what is blue or green (common
// practice), so the page draws panels' openings and outlines, as their drawings
// do, in inks in which red is strongest: by day, in the dark, and on paper.
func TestNothingCutIsBlueOrGreen(t *testing.T) {
	css, err := os.ReadFile("page.css")
	if err != nil {
		t.Fatal(err)
	}
	for _, ink := range []string{"opening", "part"} {
		found := regexp.MustCompile(`--`+ink+`: #([0-9a-f]{6})`).FindAllSubmatch(css, -1)
		if len(found) != 2 {
			t.Errorf("--%s is set %d times, want once by day and once in the dark", ink, len(found))
		}
		for _, m := range found {
			v, err := strconv.ParseUint(string(m[1]), 16, 32)
			if err != nil {
				t.Fatal(err)
			}
			if red, green, blue := v>>16, v>>8&255, v&255; red <= green+50 || red <= blue {
				t.Errorf("--%s is #%s", ink, m[1])
			}
		}
	}
}
