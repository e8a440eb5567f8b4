package preview

import (
	"maps"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/wood"
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

// luminance is a colour's relative luminance (WCAG 2.2, definitions).
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	if len(hex) == 4 {
		hex = "#" + strings.Repeat(hex[1:2], 2) + strings.Repeat(hex[2:3], 2) + strings.Repeat(hex[3:4], 2)
	}
	v, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil || len(hex) != 7 {
		t.Fatalf("no colour: %q", hex)
	}
	light := func(byte uint64) float64 {
		c := float64(byte) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*light(v>>16) + 0.7152*light(v>>8&255) + 0.0722*light(v&255)
}

// contrast is the contrast ratio of two colours (WCAG 2.2, definitions).
func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	x, y := luminance(t, a), luminance(t, b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// TestContrast: what is drawn can be seen on all that it is drawn on, whatever the wood,
// by day and in the dark: words 4.5 to 1, lines 3 to 1 (WCAG 2.2, 1.4.3 and 1.4.11), or
// their rim is, and they on it.
func TestContrast(t *testing.T) {
	css, err := os.ReadFile("page.css")
	if err != nil {
		t.Fatal(err)
	}
	schemes := regexp.MustCompile(`(?s):root[^{]*{(.*?)}`).FindAllSubmatch(css, -1)
	if len(schemes) < 2 {
		t.Fatal("no two schemes")
	}
	for i, light := range [][2]float64{boardDay, boardDark} {
		ink := map[string]string{}
		for _, m := range regexp.MustCompile(`--([a-z-]+): (#[0-9a-f]{3,6})\b`).FindAllSubmatch(schemes[i][1], -1) {
			ink[string(m[1])] = string(m[2])
		}
		boards := map[string]string{}
		for _, name := range []string{"ebony", "walnut", "padauk", "cherry", "oak", "maple", "holly"} {
			m, ok := wood.Find(name)
			if !ok {
				t.Fatal("no " + name)
			}
			boards[name] = m.Shown().Tint(light[0], light[1], boardChroma).Hex()
		}
		under := func(names ...string) map[string]string {
			on := map[string]string{}
			for _, n := range names {
				if n == "board" {
					maps.Copy(on, boards)
				} else {
					on[n] = ink[n]
				}
			}
			return on
		}
		for _, c := range []struct {
			ink, rim string
			on       map[string]string
			least    float64
		}{
			{"line", "", under("board", "ground", "uncut"), 4.5}, // axes, names, the groove's outline
			{"ink", "", under("paper", "raised", "press"), 4.5},
			{"faint", "", under("paper"), 4.5},
			{"fault-text", "", under("paper"), 4.5},
			{"cut", "", under("shallow"), 3},
			{"shallow", "", under("deep"), 3}, // the way of a deep cut
			{"deep", "", under("uncut", "board"), 3},
			{"edge", "", under("board", "ground"), 3},
			{"rapid", "#fff", under("board", "ground", "uncut", "shallow", "deep"), 3},
			{"bit", "#fff", under("board", "ground", "uncut", "shallow", "deep"), 3},
			{"fault", "#fff", under("board", "ground", "uncut", "shallow", "deep"), 3},
			{"left", "#fff", under("board", "ground"), 3},
		} {
			for _, name := range slices.Sorted(maps.Keys(c.on)) {
				got := contrast(t, ink[c.ink], c.on[name])
				if c.rim != "" {
					got = min(contrast(t, ink[c.ink], c.rim), max(got, contrast(t, c.rim, c.on[name])))
				}
				if got < c.least {
					t.Errorf("scheme %d: %s on %s: %.2f to 1, want %g", i, c.ink, name, got, c.least)
				}
			}
		}
	}
}
