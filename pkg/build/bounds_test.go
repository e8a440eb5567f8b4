package build_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
)

// TestBoundsOfWork gives jobs whose work would have no end: each ends in one
// error.
func TestBoundsOfWork(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	const tail = "[inlay]\ndepth = 2\nwidth = 3\n[router]\nguide = \"base\"\nrider = 90\nbit = 2\n"
	var rings, star strings.Builder
	for i := range 50 {
		fmt.Fprintf(&rings, "[[motif.circle]]\ncenter = [0, 0]\nradius = %d\n", 60+8*i)
	}
	for i := range 1000 {
		y, x := math.Sincos(math.Pi * float64(i) / 1000)
		fmt.Fprintf(&star, "[[motif.line]]\nfrom = [%.4f, %.4f]\nto = [%.4f, %.4f]\n", -400*x, -400*y, 400*x, 400*y)
	}
	for rule, motif := range map[string]string{"plan-crowded": rings.String(), "crossings-many": star.String()} {
		r := build.Check("job.toml", []byte("units = \"mm\"\n[motif]\n"+motif+tail), noFiles, nil)
		if r.Findings.Count(diag.Error) != 1 || !strings.Contains(r.Findings.Error(), "error:") {
			t.Errorf("%s: %d errors", rule, r.Findings.Count(diag.Error))
		}
		for _, f := range r.Findings {
			if f.Severity == diag.Error && f.Rule != rule {
				t.Errorf("%s, want %s", f.Error(), rule)
			}
		}
	}
}

// TestLettersThatLack: a title that can't be printed or engraved as it is is
// reported once, with the letters.
func TestLettersThatLack(t *testing.T) {
	for title, want := range map[string]string{
		"Lid with a hölly rim, 3 × 4": "",
		"棋盘":                          `the patterns' font has no "棋", "盘"`,
		"Stół? - \u00b6 end":          `the patterns' font has no "ł"`,
		"price 3 \u00a4":              `the engraver has no "¤"`,
	} {
		text := "title = \"" + title + "\"\nunits = \"mm\"\n[motif]\n[[motif.circle]]\nname = \"棋\"\ncenter = [0, 0]\nradius = 60\n" +
			"[inlay]\ndepth = 2\nwidth = 3\n[router]\nguide = \"bearing\"\nbit = 2\n"
		if !strings.Contains(want, "棋") {
			text = strings.ReplaceAll(text, "name = \"棋\"\n", "")
		}
		r := build.Check("job.toml", []byte(text), noFiles, nil)
		var said []string
		for _, f := range r.Findings {
			if f.Rule == "letters" {
				said = append(said, f.Error())
			}
		}
		if want == "" && len(said) > 0 || want != "" && (len(said) != 1 || !strings.HasPrefix(said[0], "job.toml:1:9: warning: "+want)) {
			t.Errorf("%s: %q, want %q", title, said, want)
		}
	}
}
