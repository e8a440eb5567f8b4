package report

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/build"
)

// sevenBows is a ring whose one panel, laid three times, would cut two of its
// seven bows twice.
const sevenBows = `
title = "Seven bows"
units = "mm"
[motif]
copies = 7
[[motif.arc]]
name = "bow"
center = [0, -35.098204]
radius = 117.027753
start = 71.76268
sweep = 36.47464
[inlay]
depth = 1.5
width = 6
[router]
guide = "bushing"
bit = 3
rider = 12.7
[template]
web = 9
frame = 0
`

// plait is two mirrored waves between the same two ends, so that both have
// their middle at one place.
const plait = `
title = "Plait"
units = "mm"
[motif]
mirror = true
[[motif.path]]
name = "wave"
d = "M -140 0 a 43.0278 43.0278 0 0 0 70 0 a 43.0278 43.0278 0 0 1 70 0 a 43.0278 43.0278 0 0 0 70 0 a 43.0278 43.0278 0 0 1 70 0"
[inlay]
depth = 2.5
width = 5
[router]
guide = "bushing"
rider = 17
bit = 4
[template]
web = 9
`

// fileOf is the text of one of a result's files.
func fileOf(t *testing.T, r build.Result, path string) string {
	t.Helper()
	for _, f := range r.Files {
		if f.Path == path {
			return string(f.Data)
		}
	}
	t.Fatalf("there is no %s", path)
	return ""
}

// namesIn are the first groups of a pattern's matches.
func namesIn(pattern, text string) []string {
	var list []string
	for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(text, -1) {
		list = append(list, m[1])
	}
	return list
}

// TestOneListOfCuts: sheet, pictures, page and manifest name the same cuts for
// each set-up, in the same order, and every cut once.
func TestOneListOfCuts(t *testing.T) {
	jobs := wholes(t, map[string]string{"seven bows": sevenBows, "plait": plait})
	for name, r := range examples(t) {
		jobs[name] = r
	}
	for name, r := range jobs {
		if len(r.Set.Plan.SetUps) == 0 {
			continue
		}
		m := r.facts
		work := sections(t, r.sheet)["The set-ups"]
		var onSheet []string
		for _, row := range cutRows(work) {
			onSheet = append(onSheet, row[0]+" "+row[1])
		}
		_, head, _ := strings.Cut(fileOf(t, r.Result, build.PreviewPath), `<script type="application/json" id="head">`)
		head, _, _ = strings.Cut(head, "</script>")
		var page struct {
			SetUps []struct {
				Tracks []struct {
					Name  string
					Spare bool
				}
			}
		}
		if err := json.Unmarshal([]byte(head), &page); err != nil {
			t.Fatal(err)
		}
		if len(page.SetUps) != len(m.SetUps) {
			t.Fatalf("%s: %d set-ups on the page, %d in the manifest", name, len(page.SetUps), len(m.SetUps))
		}
		var all, numbered []string
		for i, c := range m.Cuts {
			if c.Number != i+1 {
				t.Errorf("%s: cut %d of the manifest is numbered %d", name, i+1, c.Number)
			}
			numbered = append(numbered, fmt.Sprintf("%d %s", c.Number, c.Track))
		}
		if d := cmp.Diff(numbered, onSheet); d != "" {
			t.Errorf("%s: the sheet differs (-manifest +sheet):\n%s", name, d)
		}
		for i, s := range m.SetUps {
			all = append(all, s.Cuts...)
			picture := fileOf(t, r.Result, fmt.Sprintf("templates/set-up-%d.svg", s.Number))
			if d := cmp.Diff(s.Cuts, namesIn(`<title>cut ([^<n][^<]*|n[^<u][^<]*)</title>`, picture)); d != "" {
				t.Errorf("%s, set-up %d: the picture differs (-manifest +picture):\n%s", name, s.Number, d)
			}
			var ridden []string
			for _, k := range page.SetUps[i].Tracks {
				if !k.Spare {
					ridden = append(ridden, k.Name)
				}
			}
			if d := cmp.Diff(s.Cuts, ridden); d != "" {
				t.Errorf("%s, set-up %d: the page differs (-manifest +page):\n%s", name, s.Number, d)
			}
			for _, k := range s.Spare {
				if !strings.Contains(flat(work), fmt.Sprintf("Leave track %s alone in set-up %d", k.Track, s.Number)) || !strings.Contains(picture, "leave track "+k.Track+" alone (crossed out)") {
					t.Errorf("%s, set-up %d: sheet or picture doesn't say that track %s is left alone", name, s.Number, k.Track)
				}
			}
		}
		var listed []string
		for _, c := range m.Cuts {
			listed = append(listed, c.Name)
		}
		if d := cmp.Diff(listed, all); d != "" {
			t.Errorf("%s: the list of cuts differs from the set-ups' (-cuts +set-ups):\n%s", name, d)
		}
		slices.Sort(all)
		if n := len(slices.Compact(all)); n != len(listed) {
			t.Errorf("%s: %d cuts have %d names", name, len(listed), n)
		}
	}
	if n := len(jobs["seven bows"].facts.SetUps[2].Spare); n != 2 {
		t.Errorf("the seven bows' last set-up leaves %d tracks alone, want 2", n)
	}
	if s := jobs["plait"].facts.SetUps; len(s) != 2 || cmp.Equal(s[0].Cuts, s[1].Cuts) {
		t.Errorf("the plait's set-ups make %+v", s)
	}
}
