package build_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strapwork/pkg/build"
)

var update = flag.Bool("update", false, "renew the README's pictures")

// The README's pictures are what is drawn today of the jobs of testdata that they are named
// after: inlays without the details that a build adds. -update renews them.
func TestPicturesOfTheReadmeAreFresh(t *testing.T) {
	drawn := map[string][]byte{}
	for _, name := range []string{"knot-lid", "games-table", "guitar-rosette", "star-tray"} {
		text := everyJob(t)[name+".toml"]
		picture, found := build.NewGraph(os.ReadFile).Inlay(name+".toml", []byte(text))
		if found.HasErrors() {
			t.Fatal(found)
		}
		drawn[name+".svg"] = picture
	}
	text := everyJob(t)["knot-lid.toml"]
	for _, f := range build.Kept(text).Build("knot-lid.toml", []byte(text), build.Options{}).Files {
		switch f.Path {
		case "inlay.svg":
			holdsInlay(t, f.Data, drawn["knot-lid.svg"])
		case "templates/A-wall.svg":
			drawn["knot-lid-template.svg"] = f.Data
		case "templates/set-up-1.svg":
			drawn["knot-lid-set-up.svg"] = f.Data
		}
	}
	kept, err := filepath.Glob("../../testdata/pictures/*.svg")
	if err != nil || len(kept) != len(drawn) {
		t.Fatalf("%d pictures are kept, %d drawn: %v", len(kept), len(drawn), err)
	}
	for _, path := range kept {
		if *update {
			if err := os.WriteFile(path, drawn[filepath.Base(path)], 0o644); err != nil {
				t.Fatal(err)
			}
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(data, drawn[filepath.Base(path)]) {
			t.Errorf("%s is not what is drawn today", path)
		}
	}
}

// holdsInlay holds that a build's picture has all that is in one of the inlay alone.
func holdsInlay(t *testing.T, built, alone []byte) {
	t.Helper()
	lines := map[string]bool{}
	for l := range strings.Lines(string(built)) {
		lines[l] = true
	}
	n := 0
	for l := range strings.Lines(string(alone)) {
		if strings.Contains(l, "<title>") && strings.HasPrefix(l, "<path") {
			n++
			if !lines[l] {
				t.Errorf("inlay.svg lacks %.80s", l)
			}
		}
	}
	if n < 10 {
		t.Errorf("the inlay alone has %d paths", n)
	}
}
