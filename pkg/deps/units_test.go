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
	"pkg/paper/proof.go": "the proof page's bars are of mm, and said so",
	"pkg/svg":            "inner errors, of numbers that are none; the scale bar is of mm",
	"pkg/pdf":            "inner errors, of numbers that are none",
	"pkg/ngc":            "the program's own units: see there",
	"pkg/internal":       "for tests",
}

// exemption is the entry of a list, of files or folders, that a file falls under;
// empty if there is none.
func exemption(list map[string]string, name string) string {
	for ; name != "."; name = path.Dir(name) {
		if _, ok := list[name]; ok {
			return name
		}
	}
	return ""
}

// TestUnitsAreNotWrittenByHand: what a stage says is in the job's units, or the
// program's. A number that is followed by a unit in a format is in one only: it is
// to be a unit.Amount.
func TestUnitsAreNotWrittenByHand(t *testing.T) {
	if !byHand.MatchString("flutes of %.2f mm are short") || byHand.MatchString("flutes of %s are short") {
		t.Error("the pattern finds nothing, or too much")
	}
	used := map[string]bool{}
	eachFile(t, func(name string, files *token.FileSet, file *ast.File) {
		own := exemption(unitsOwn, name)
		for _, place := range handWritten(files, file) {
			if used[own] = true; own == "" {
				t.Errorf("%s writes a unit by hand", place)
			}
		}
	})
	for name := range unitsOwn {
		if !used[name] {
			t.Errorf("%s writes no units: it needs no exemption", name)
		}
	}
}

// eachFile calls f with each Go file of pkg that is no test.
func eachFile(t *testing.T, f func(name string, files *token.FileSet, file *ast.File)) {
	root := os.DirFS("../..")
	err := fs.WalkDir(root, "pkg", func(name string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir():
			return skip(name)
		case !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go"):
			return nil
		}
		src, err := fs.ReadFile(root, name)
		if err != nil {
			return err
		}
		files := token.NewFileSet()
		file, err := parser.ParseFile(files, name, src, parser.ParseComments|parser.SkipObjectResolution)
		if err == nil {
			f(name, files, file)
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
}

// handWritten lists the places of a file that write a unit behind a number.
func handWritten(files *token.FileSet, file *ast.File) (places []string) {
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
