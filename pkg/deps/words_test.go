package deps

import (
	"go/ast"
	"go/parser"
	"go/token"
	"regexp"
	"strconv"
	"testing"
)

// pluralByHand is a format that hangs an s or es on a word.
var pluralByHand = regexp.MustCompile(`%(\[\d+\])?s(s|es)\b`)

// wordsOwn are the files that may write plurals or decimals themselves, with the
// reason.
var wordsOwn = map[string]string{
	"pkg/unit":             "Count, Plural and Decimal are here",
	"pkg/conf/values.go":   "numbers as they stand in the file, in digits that count and not in decimals",
	"pkg/dxf/dxf.go":       "the format's numbers, as a reader will have them",
	"pkg/geom/pathdata.go": "numbers as they stand in path data, in digits that count and not in decimals",
	"pkg/job/motif.go":     "numbers as they stand in the job, in digits that count and not in decimals",
	"pkg/internal/byhand":  "jobs as hands write them, for tests",
	"pkg/ngc/block.go":     "words of a program as they stand in it",
	"pkg/measured/slip.go": "digits as they were typed, with the point elsewhere",
	"pkg/report/json.go":   "the numbers of its JSON",
	"pkg/report/words.go":  "distances with all their decimals",
}

// TestWordsAreNotMadeByHand: plurals are unit.Count's and numbers without units
// unit.Decimal's, so that all rooms speak alike.
func TestWordsAreNotMadeByHand(t *testing.T) {
	used := map[string]bool{}
	eachFile(t, func(name string, files *token.FileSet, file *ast.File) {
		own := exemption(wordsOwn, name)
		for pos, what := range madeByHand(file) {
			if used[own] = true; own == "" {
				t.Errorf("%s: %s", files.Position(pos), what)
			}
		}
	})
	for name := range wordsOwn {
		if !used[name] {
			t.Errorf("%s writes no words: it needs no exemption", name)
		}
	}
}

// madeByHand finds in a file what makes plurals or decimals: a format or a sum with
// an s at its end, strconv.FormatFloat, and strings.TrimRight of noughts.
func madeByHand(file *ast.File) map[token.Pos]string {
	found := map[token.Pos]string{}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.BasicLit:
			if pluralByHand.MatchString(text(n)) {
				found[n.Pos()] = "a plural by hand: see unit.Count"
			}
		case *ast.BinaryExpr:
			if end := text(n.Y); n.Op == token.ADD && (end == "s" || end == "es") {
				found[n.Pos()] = "a plural by hand: see unit.Count"
			}
		case *ast.CallExpr:
			f, _ := n.Fun.(*ast.SelectorExpr)
			switch {
			case f == nil:
			case f.Sel.Name == "FormatFloat", f.Sel.Name == "TrimRight" && len(n.Args) == 2 && text(n.Args[1]) == "0":
				found[n.Pos()] = "decimals by hand: see unit.Decimal"
			}
		}
		return true
	})
	return found
}

// text is a string literal's; empty for anything else.
func text(x ast.Expr) string {
	lit, ok := x.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return ""
	}
	s, _ := strconv.Unquote(lit.Value) // the parser has read it
	return s
}

// What is looked for is found, and no more.
func TestWordsByHandAreFound(t *testing.T) {
	for source, want := range map[string]int{
		`fmt.Sprintf("%d %ss", n, one)`:                     1,
		`fmt.Sprintf("%[2]ses: %[1]d", n, one)`:             1,
		`one + "s"`:                                         1,
		`"s" + one`:                                         0,
		`fmt.Sprintf("%s side, %s", a, b)`:                  0,
		`strings.TrimRight(strings.TrimRight(s, "0"), ".")`: 1,
		`strconv.FormatFloat(v, 'f', 3, 64)`:                1,
		`unit.Count(n, "cut") + unit.Decimal(v, 3)`:         0,
	} {
		file, err := parser.ParseFile(token.NewFileSet(), "a.go", "package a\nvar x = "+source, 0)
		if err != nil {
			t.Fatal(err)
		}
		if got := madeByHand(file); len(got) != want {
			t.Errorf("%s: found %v, want %d", source, got, want)
		}
	}
}
