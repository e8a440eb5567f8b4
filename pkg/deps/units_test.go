package deps

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// byHand is a number with a unit behind it that fmt is to write.
var byHand = regexp.MustCompile(`%[-+# 0-9.]*[defgsvEG]\]? ?(mm2?|sq mm|inch|inches)\b`)

// unitsOwn are the files that may write units themselves, with the reason: whoever
// reads what they say has them in no other.
var unitsOwn = map[string]string{
	"pkg/unit":               "it is what writes them",
	"pkg/profile/parse.go":   "a profile's lengths are mm, whatever the job's are",
	"pkg/profile/printer.go": "an example in mm for a text with its unit",
	"pkg/paper/proof.go":     "the proof page's bars are of mm, and said so",
	"pkg/svg":                "inner errors, of numbers that are none; the scale bar is of mm",
	"pkg/dxf":                "inner errors, of numbers that are none",
	"pkg/pdf":                "inner errors, of numbers that are none",
	"pkg/ngc":                "the program's own units: see there",
	"pkg/program":            "inner errors, of numbers that are none",
	"pkg/report/words.go":    "it writes the set-up sheet's numbers, in the job's units and in mm",
	"pkg/report":             "the set-up sheet says both units, by words.go",
	"pkg/internal":           "for tests",
	"pkg/template/aids.go":   "titles that are engraved on the aids",

	// Not yet: take these lines out with the last of their mm.
	"pkg/dryrun":                 "to be done",
	"pkg/template/heights.go":    "to be done",
	"pkg/template/frame.go":      "to be done",
	"pkg/template/frame_bars.go": "to be done",
	"pkg/template/pivot.go":      "to be done",
	"pkg/template/template.go":   "to be done",
	"pkg/template/work.go":       "to be done",
	"pkg/profile/bit.go":         "to be done",
	"pkg/job":                    "to be done",
}

// exempt reports whether a file may write units itself.
func exempt(name string) bool {
	for ; name != "."; name = path.Dir(name) {
		if _, ok := unitsOwn[name]; ok {
			return true
		}
	}
	return false
}

// TestUnitsAreNotWrittenByHand: what a stage says is in the job's units, or the
// program's. A number that is followed by a unit in a format is in one only: it is
// to be a unit.Amount.
func TestUnitsAreNotWrittenByHand(t *testing.T) {
	if !byHand.MatchString("flutes of %.2f mm are short") || byHand.MatchString("flutes of %s are short") {
		t.Error("the pattern finds nothing, or too much")
	}
	root := os.DirFS("../..")
	err := fs.WalkDir(root, "pkg", func(name string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir():
			return skip(name)
		case !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") || exempt(name):
			return nil
		}
		for _, place := range handWritten(t, root, name) {
			t.Errorf("%s writes a unit by hand", place)
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}

// handWritten lists the places of a file that write a unit behind a number.
func handWritten(t *testing.T, root fs.FS, name string) (places []string) {
	src, err := fs.ReadFile(root, name)
	if err != nil {
		t.Fatal(err)
	}
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, name, src, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(file, func(n ast.Node) bool {
		lit, ok := n.(*ast.BasicLit)
		if !ok || lit.Kind != token.STRING {
			return true
		}
		if text, err := strconv.Unquote(lit.Value); err == nil && byHand.MatchString(text) {
			places = append(places, files.Position(lit.Pos()).String()+": "+lit.Value)
		}
		return true
	})
	return places
}
