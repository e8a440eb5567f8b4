package build_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"strapwork/pkg/build"
)

// The README's pictures are what a build draws today. To renew them, build the
// looped triangle and copy them from its output.
func TestPicturesOfTheReadmeAreFresh(t *testing.T) {
	text := jobs(t)["looped-triangle.toml"]
	r := build.Kept(text).Build("looped-triangle.toml", []byte(text), build.Options{})
	for picture, path := range map[string]string{
		"looped-triangle-inlay.svg":    "inlay.svg",
		"looped-triangle-template.svg": "templates/A-wall.svg",
		"looped-triangle-set-up.svg":   "templates/set-up-1.svg",
	} {
		want, err := os.ReadFile(filepath.Join("..", "..", "testdata", "pictures", picture))
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, f := range r.Files {
			if f.Path == path {
				found = true
				if !bytes.Equal(f.Data, want) {
					t.Errorf("testdata/pictures/%s is not what a build draws as %s", picture, path)
				}
			}
		}
		if !found {
			t.Errorf("a build draws no %s", path)
		}
	}
}
