package words_test

import (
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/words"
)

// The table is in order, says each word once, and each meaning is one or two short
// sentences.
func TestTable(t *testing.T) {
	seen := map[string]bool{}
	last := ""
	for _, w := range words.All() {
		if w.Word <= last {
			t.Errorf("%s stands after %s", w.Word, last)
		}
		last = w.Word
		for _, form := range append([]string{w.Word}, w.Also...) {
			if seen[form] || form != strings.ToLower(form) {
				t.Errorf("%s: %q is there twice, or isn't in lower case", w.Word, form)
			}
			seen[form] = true
		}
		if n := strings.Count(w.Means+" ", ". "); n < 1 || n > 2 || len(w.Means) > 200 || !strings.HasSuffix(w.Means, ".") {
			t.Errorf("%s: %d sentences, %d bytes: %s", w.Word, n, len(w.Means), w.Means)
		}
	}
}

func TestFind(t *testing.T) {
	for name, want := range map[string]string{
		"kerf": "kerf", "Mitres": "mitre", "depth-pass": "depth pass", "cut numbers": "cut number", "set up": "set-up", "setup": "", "": "",
	} {
		if w, ok := words.Find(name); w.Word != want || ok != (want != "") {
			t.Errorf("%q: %q, want %q", name, w.Word, want)
		}
	}
}

func TestIn(t *testing.T) {
	for text, want := range map[string]string{
		"Diameter of what touches the template":    "",
		"webs between tracks, and a WEB":           "track, web",
		"each depth pass; the cut number":          "cut number, depth pass",
		"cut numbers of each cut":                  "cut, cut number",
		"kerf_by and kerfs are no word, nor lay":   "",
		"set-ups of a panel's tracks, over-plunge": "panel, set-up, track",
		"die Wandstärke: wallé, wall":              "wall",
		"":                                         "",
	} {
		var got []string
		for _, w := range words.In(text) {
			got = append(got, w.Word)
		}
		if s := strings.Join(got, ", "); s != want {
			t.Errorf("%q: %q, want %q", text, s, want)
		}
	}
}

// The words that everything rests on are explained, and some are ours.
func TestWordsThatMustBeThere(t *testing.T) {
	ours := []string{"rider", "web", "station", "set-up", "track", "panel", "cut number", "depth pass"}
	trade := []string{
		"kerf", "stringing", "banding", "purfling", "mitre", "proud", "template slot", "tee", "climb",
		"story stick", "coupon", "butt", "cope", "lay-up", "plunge", "traverse",
	}
	page := words.Markdown()
	for _, name := range slices.Concat(ours, trade) {
		if w, ok := words.Find(name); !ok || w.Ours != slices.Contains(ours, name) || !strings.Contains(page, "- **"+name+"**") {
			t.Errorf("%s: %v", name, w)
		}
	}
}
