package build_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"strapwork/pkg/build"
)

// The README's pictures are what a build draws today. To renew them, build the jobs of
// testdata that they are named after and copy them from the output.
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
			if !bytes.Equal(f.Data, drawn["knot-lid.svg"]) {
				t.Error("a build draws another inlay than who asks for the inlay alone")
			}
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
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(data, drawn[filepath.Base(path)]) {
			t.Errorf("%s is not what is drawn today", path)
		}
	}
}
