package template

import (
	"strings"
	"testing"

	"strapwork/pkg/diag"
)

// Each fault in the third dimension is found, with what would cure it; the
// limits are common practice.
func TestHeights(t *testing.T) {
	const (
		bushing = "[router]\nguide = \"bushing\"\nrider = 12\nbit = 3\nflute = 14\ncollar = 7\nbase = 120\n"
		bearing = "[router]\nguide = \"bearing\"\nbit = 3\nflute = 6\nbase = 120\n"
		wide    = "[template]\nmargin = 80\n"
	)
	for _, c := range []struct {
		name, text, rule, hint string
		severity               diag.Severity
	}{
		{"base fits", base, "", "", 0},
		{"flute too short for floor and depth, shank too wide", with(base, "flute = 16", "flute = 5\nshank = 8"), "flute-short", "at least 6.00 mm, or a floor of at most 2.00 mm", diag.Error},
		{"shank passes the slot", with(base, "flute = 16", "flute = 5\nshank = 6"), "", "", 0},
		{"shank just too wide for the slot", with(base, "flute = 16", "flute = 5\nshank = 6.2"), "flute-short", "", diag.Error},
		{"shank not told", with(base, "flute = 16", "flute = 5"), "flute-short", "add shank", diag.Error},
		{"no floor", with(base, "flute = 16", "flute = 5\nshank = 8") + "[template]\nfloor = 0\n", "", "", 0},
		{"shank rubs in the groove", with(base, "flute = 16", "flute = 2\nshank = 8") + "[template]\nfloor = 0\n", "flute-short", "flutes of at least 3.00 mm", diag.Error},
		{"flute not told", with(base, "flute = 16\n", ""), "flute-unknown", "add flute", diag.Note},
		{"bushing fits", bushing + wide, "", "", 0},
		{"collar bottoms out", with(bushing, "collar = 7", "collar = 9") + wide, "collar-long", "at most 8.50 mm, or make the template at least 9.50 mm", diag.Error},
		{"collar just short enough", with(bushing, "collar = 7", "collar = 8.5") + wide, "", "", 0},
		{"collar has no hold", with(bushing, "collar = 7", "collar = 1") + wide, "collar-short", "at least 2.00 mm", diag.Error},
		{"collar as narrow as the bit", with(bushing, "rider = 12", "rider = 3") + wide, "collar-thin", "outside", diag.Error},
		{"collar not told", with(bushing, "collar = 7\n", "") + wide, "collar-unknown", "add collar", diag.Note},
		{"base tips", bushing + "[template]\nframe = 0\n", "base-tips", "margin at least 54.0 mm", diag.Warning},
		{"base held by the frame", bushing + "[template]\nframe = 30\n", "", "", 0},
		{"base tips over the frame", bushing + "[template]\nframe = 20\n", "base-tips", "margin at least 34.0 mm", diag.Warning},
		{"base not told", with(bushing, "base = 120\n", "") + wide, "base-unknown", "add base", diag.Note},
		{"bearing fits", bearing + wide, "", "", 0},
		{"bearing above the wall", with(bearing, "flute = 6", "flute = 12") + wide, "bearing-high", "flutes of at most 9.75 mm, or a template of at least 11.25 mm", diag.Error},
		{"bearing lands on the work", with(bearing, "flute = 6", "flute = 2.8") + wide, "flute-short", "at least 3.00 mm", diag.Error},
		{"margin under the web", base + "[template]\nmargin = 5\n", "margin-thin", "margin at least 8.00 mm", diag.Warning},
		{"board too thin", base + "[board]\nsize = [600, 600]\nthickness = 5\n", "board-thin", "at most 2.00 mm deep", diag.Warning},
		{"off the board", base + "[board]\nsize = [600, 600]\nthickness = 20\norigin = [100, 300]\n", "off-board", "move board.origin", diag.Error},
		{"near the edge", base + "[board]\nsize = [302, 600]\nthickness = 20\n", "near-edge", "at least 3 mm", diag.Warning},
	} {
		t.Run(c.name, func(t *testing.T) {
			j, g := read(t, cross+inlay+c.text)
			var told diag.Findings
			for _, f := range CheckHeights(j, g) {
				if f.Rule != "board-unknown" {
					told = append(told, f)
				}
			}
			if c.rule == "" {
				if len(told) > 0 {
					t.Errorf("found %v, want nothing", told)
				}
				return
			}
			if len(told) == 0 || told[0].Rule != c.rule || told[0].Severity != c.severity || !strings.Contains(told[0].Hint, c.hint) {
				t.Errorf("found %v (%+v), want a %s %q with hint %q", told, told, c.severity, c.rule, c.hint)
			}
		})
	}
}

func with(text, old, new string) string { return strings.Replace(text, old, new, 1) }
