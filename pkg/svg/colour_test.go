package svg_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/svg"
)

// TestNothingCutIsBlueOrGreen: many shops engrave what is blue or green (common
// practice), so in each layer that is cut red outweighs green, and blue unless the
// two make a magenta, in which blue still stays behind.
func TestNothingCutIsBlueOrGreen(t *testing.T) {
	text := string(write(t, part(), svg.Options{}))
	seen := map[string]string{}
	for _, m := range regexp.MustCompile(`<g class="(\w+)"[^>]* stroke="(#[0-9a-f]{6})"`).FindAllStringSubmatch(text, -1) {
		seen[m[1]] = m[2]
	}
	for _, layer := range []string{"opening", "pin", "edge"} {
		v, err := strconv.ParseUint(strings.TrimPrefix(seen[layer], "#"), 16, 32)
		if err != nil {
			t.Fatalf("%s is drawn in %q: %v", layer, seen[layer], err)
		}
		if red, green, blue := v>>16, v>>8&255, v&255; red <= green+50 || red <= blue {
			t.Errorf("%s is drawn in %s", layer, seen[layer])
		}
	}
	if seen["opening"] != seen["pin"] || seen["edge"] == seen["opening"] || seen["mark"] == seen["opening"] || seen["mark"] == seen["edge"] {
		t.Errorf("layers are drawn in %v", seen)
	}
}
