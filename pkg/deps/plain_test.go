package deps

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"
)

// spoken are the places at which a stumble stands rightly: a file, words of it, and the
// reason.
var spoken = []struct{ file, words, why string }{
	{"pkg/arcfit/solve.go", "the foot moves across", "a point of a drawing, and no move of a machine"},
	{"pkg/cli/show.go", "mended", "the name of a rule, which other programs read"},
	{"pkg/groove/follow.go", "Nearer", "a function that compares distances, and no button"},
	{"pkg/preview/page.css", "#told", "the page's line that is read aloud"},
	{"pkg/preview/page.css", "#hand-told", "the page's line that is read aloud"},
	{"pkg/preview/page.html", `"told"`, "the page's line that is read aloud"},
	{"pkg/preview/page.html", `"hand-told"`, "the page's line that is read aloud"},
	{"pkg/preview/50-player.js", `"told"`, "the page's line that is read aloud"},
	{"pkg/preview/80-hand.js", `"hand-told"`, "the page's line that is read aloud"},
	{"pkg/preview/90-main.js", "told: COUNT", "the page's line that is read aloud"},
	{"pkg/report/templates/parts.md.tmpl", "tell the shop", "the maker speaks to the shop"},
	{"pkg/dryrun/rules.go", "untold-origin", "the name of a rule, which other programs read"},
}

// pages are the files besides Go's whose every word a person may read.
var pages = []string{".md", ".tmpl", ".html", ".js", ".css", ".toml", ".txtar"}

// pattern matches any of the stumbles as whole words; a phrase may be broken between
// lines, behind a comment's mark too.
func pattern(list []stumble) *regexp.Regexp {
	var all []string
	for _, s := range list {
		words := strings.Join(strings.Fields(regexp.QuoteMeta(s.words)), `\s+(?:(?://|#|\*|>)\s*)?`)
		if s.words == strings.ToLower(s.words) {
			words = `(?i:` + words + `)`
		}
		all = append(all, words)
	}
	// The longest first, as alternatives are tried in their order.
	slices.SortStableFunc(all, func(a, b string) int { return len(b) - len(a) })
	return regexp.MustCompile(`\b(?:` + strings.Join(all, "|") + `)\b`)
}

// instead is what to write in the place of a match.
func instead(list []stumble, found string) string {
	plain := strings.Join(strings.Fields(strings.NewReplacer("//", " ", "#", " ", "*", " ", ">", " ").Replace(found)), " ")
	for _, s := range list {
		if strings.EqualFold(s.words, plain) {
			return s.write
		}
	}
	return ""
}

// TestStumblesStayOut: what a person meets in strings, comments, names, pages, templates
// and stories is said in the trade's words and not in those of the list.
func TestStumblesStayOut(t *testing.T) {
	used := make([]bool, len(spoken))
	re := pattern(stumbles)
	report := func(name string, line int, text string) {
		for _, at := range re.FindAllStringIndex(text, -1) {
			if !rightly(used, name, text, at) {
				t.Errorf("%s:%d: %q: write %s", name, line+strings.Count(text[:at[0]], "\n"), text[at[0]:at[1]], instead(stumbles, text[at[0]:at[1]]))
			}
		}
	}
	eachFile(t, func(name string, files *token.FileSet, file *ast.File) {
		for pos, text := range said(file) {
			report(name, files.Position(pos).Line, text)
		}
	})
	eachPage(t, func(name, text string) { report(name, 1, text) })
	for i, s := range spoken {
		if !used[i] {
			t.Errorf("%s: %q needs no exemption", s.file, s.words)
		}
	}
}

// rightly reports whether a match is at one of the exempt places, and marks that as used.
func rightly(used []bool, name, text string, at []int) bool {
	for i, s := range spoken {
		from := max(0, at[0]-len(s.words))
		if s.file == name && strings.Contains(text[from:min(len(text), at[1]+len(s.words))], s.words) {
			used[i] = true
			return true
		}
	}
	return false
}

// said is all that a Go file says: its strings, its comments, and the words of the names
// that it declares.
func said(file *ast.File) map[token.Pos]string {
	texts := map[token.Pos]string{}
	for _, g := range file.Comments {
		texts[g.Pos()] = lines(g)
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ImportSpec:
			return false
		case *ast.BasicLit:
			if n.Kind == token.STRING {
				texts[n.Pos()], _ = strconv.Unquote(n.Value) // the parser has read it
			}
		case *ast.FuncDecl:
			texts[n.Name.Pos()] = parts(n.Name.Name)
		case *ast.TypeSpec:
			texts[n.Name.Pos()] = parts(n.Name.Name)
		case *ast.ValueSpec:
			for _, name := range n.Names {
				texts[name.Pos()] = parts(name.Name)
			}
		case *ast.Field:
			for _, name := range n.Names {
				texts[name.Pos()] = parts(name.Name)
			}
		}
		return true
	})
	return texts
}

// lines is a comment as it stands, so that a phrase that is broken between its lines is
// found.
func lines(g *ast.CommentGroup) string {
	var b strings.Builder
	for _, c := range g.List {
		b.WriteString(c.Text + "\n")
	}
	return b.String()
}

// parts is a name as words: "not told" for notTold.
func parts(name string) string {
	var b strings.Builder
	for i, r := range name {
		if i > 0 && unicode.IsUpper(r) {
			b.WriteByte(' ')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}

// eachPage calls f with each page, template and story.
func eachPage(t *testing.T, f func(name, text string)) {
	root := os.DirFS("../..")
	n := 0
	for _, dir := range []string{"README.md", "DEVELOPERS.md", "pkg", "cmd", "profiles", "testdata/script", "testdata/jobs"} {
		err := fs.WalkDir(root, dir, func(name string, entry fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return err
			case entry.IsDir() && entry.Name() == "testdata" && strings.HasPrefix(name, "pkg/"):
				return fs.SkipDir
			case entry.IsDir() || !slices.Contains(pages, path.Ext(name)):
				return nil
			}
			data, err := fs.ReadFile(root, name)
			n++
			f(name, string(data))
			return err
		})
		if err != nil {
			t.Error(err)
		}
	}
	if n < 50 { // some 100 are there
		t.Errorf("only %d pages were read", n)
	}
}

// What is on the list is found, however it is written, and nothing else.
func TestStumblesAreFound(t *testing.T) {
	re := pattern(stumbles)
	for source, want := range map[string]string{
		`var x = "no clamps were told"`:                      "told",
		`var x = "Told twice"`:                               "Told",
		`var x = "a stolid toldo"`:                           "",
		`var x = "16000 turns a minute"`:                     "turns a minute",
		"var x = `16000 turns\na minute`":                    "turns\na minute",
		"// It runs at 16000 turns a\n// minute.\nvar x = 1": "turns a\n// minute",
		"// nothing told\nvar x = 1":                         "told",
		"func reportTold() {}":                               "told",
		"type S struct{ OriginUntold int }":                  "untold",
		"func f(tell int) {}":                                "tell",
		"var x = \"stolen\" // retold, intelligible":         "",
		`var x = "Farther"`:                                  "Farther",
		`var x = "no farther than that"`:                     "",
		`var x = "the area is 5 sq mm"`:                      "sq mm",
		`var x = "the rider that would do"`:                  "the rider that would do",
	} {
		file, err := parser.ParseFile(token.NewFileSet(), "a.go", "package a\n"+source+"\n", parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for _, text := range said(file) {
			if m := re.FindString(text); m != "" {
				got = m
				if instead(stumbles, m) == "" {
					t.Errorf("nothing is said to write for %q", m)
				}
			}
		}
		if got != want {
			t.Errorf("%s: found %q, want %q", source, got, want)
		}
	}
	for _, s := range stumbles {
		if s.write == "" || re.FindString("so "+s.words+" it is") == "" || re.MatchString(s.write) && !strings.Contains(s.write, "told is for speaking") {
			t.Errorf("%q: not found, or %q is no better", s.words, s.write)
		}
	}
}
