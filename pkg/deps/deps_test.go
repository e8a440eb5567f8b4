package deps

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
)

// policy has a line for each package: its directory, then what its files (tests
// apart) may import besides the standard library. A package is listed below all
// that it imports, and imports all that its line allows.
const policy = `
pkg/deps            <
pkg/geom            < rtree
pkg/lettering       < pkg/geom
pkg/unit            <
pkg/sat             <
pkg/parity          <
pkg/words           <
pkg/diag            < pkg/unit
pkg/conf            < pkg/unit pkg/diag go-toml
pkg/geom/region     < pkg/geom
pkg/arcfit          < pkg/geom
profiles            <
pkg/drawing         < pkg/geom pkg/diag
pkg/family          < pkg/geom pkg/unit
pkg/dxf/tags        <
pkg/drawing/fromdxf < pkg/drawing pkg/dxf/tags pkg/geom pkg/diag x/text
pkg/drawing/fromsvg < pkg/drawing pkg/geom pkg/diag tdewolff/parse x/image
pkg/drawing/from    < pkg/drawing pkg/drawing/fromsvg pkg/drawing/fromdxf pkg/diag
pkg/measured        < pkg/conf pkg/unit pkg/diag
pkg/work            < pkg/geom pkg/unit pkg/diag
pkg/wood            < pkg/work pkg/diag
pkg/glue            < pkg/wood pkg/work pkg/unit pkg/diag
pkg/season          < pkg/wood pkg/work pkg/geom pkg/unit pkg/diag
pkg/joint           < pkg/season pkg/work pkg/geom pkg/geom/region pkg/unit pkg/diag
pkg/stock           < pkg/wood pkg/work pkg/unit pkg/diag
pkg/profile         < pkg/work pkg/conf pkg/unit pkg/diag profiles
pkg/bend            < pkg/work pkg/profile pkg/unit pkg/diag
pkg/motif           < pkg/work pkg/geom pkg/unit pkg/diag
pkg/weave           < pkg/motif pkg/work pkg/geom pkg/unit pkg/diag
pkg/table           < pkg/parity pkg/weave pkg/motif pkg/work pkg/geom pkg/unit pkg/diag
pkg/trace           < pkg/arcfit pkg/drawing pkg/weave pkg/motif pkg/work pkg/geom pkg/unit pkg/diag
pkg/job             < pkg/wood pkg/family pkg/conf pkg/work pkg/diag pkg/unit pkg/geom
pkg/label           < pkg/geom pkg/geom/region
pkg/sheet           < pkg/geom pkg/geom/region pkg/unit
pkg/numbering       < pkg/label pkg/sheet pkg/work pkg/geom
pkg/nest            < pkg/geom pkg/sheet
pkg/groove          < pkg/weave pkg/motif pkg/work pkg/geom pkg/geom/region pkg/unit pkg/diag
pkg/inlay           < pkg/numbering pkg/label pkg/wood pkg/weave pkg/motif pkg/work pkg/geom pkg/geom/region pkg/sheet pkg/diag pkg/unit
pkg/cutlist         < pkg/inlay pkg/motif pkg/work pkg/geom pkg/geom/region pkg/unit
pkg/laying          < pkg/cutlist pkg/inlay pkg/motif pkg/geom
pkg/plan            < pkg/groove pkg/motif pkg/work pkg/geom pkg/unit pkg/diag pkg/sat x/sync
pkg/walls           < pkg/geom pkg/geom/region
pkg/fixture         < pkg/plan pkg/work pkg/geom pkg/geom/region pkg/sheet pkg/unit pkg/profile pkg/diag
pkg/proof           < pkg/plan pkg/groove pkg/walls pkg/motif pkg/geom pkg/geom/region
pkg/template        < pkg/fixture pkg/plan pkg/groove pkg/motif pkg/work pkg/geom pkg/geom/region pkg/sheet pkg/unit pkg/profile pkg/diag
pkg/marks           < pkg/label pkg/template pkg/fixture pkg/plan pkg/groove pkg/work pkg/geom pkg/geom/region pkg/sheet pkg/lettering pkg/unit pkg/diag
pkg/aids            < pkg/bend pkg/label pkg/template pkg/proof pkg/groove pkg/motif pkg/work pkg/geom pkg/geom/region pkg/sheet pkg/lettering pkg/unit pkg/profile pkg/diag
pkg/heights         < pkg/aids pkg/template pkg/fixture pkg/groove pkg/work pkg/geom pkg/unit pkg/diag
pkg/budget          < pkg/season pkg/unit pkg/template pkg/groove pkg/work pkg/profile
pkg/received        < pkg/measured pkg/conf pkg/plan pkg/budget pkg/profile pkg/template pkg/groove pkg/work pkg/geom pkg/unit pkg/diag
pkg/fit             < pkg/measured pkg/received pkg/wood pkg/proof pkg/conf pkg/plan pkg/template pkg/groove pkg/motif pkg/work pkg/geom pkg/geom/region pkg/unit pkg/diag
pkg/setup           < pkg/wood pkg/label pkg/fixture pkg/plan pkg/template pkg/groove pkg/work pkg/geom pkg/geom/region pkg/sheet pkg/unit
pkg/toolpath        < pkg/groove pkg/geom pkg/geom/region pkg/unit
pkg/dxf             < pkg/dxf/tags pkg/sheet pkg/geom yofu/dxf
pkg/paper           < pkg/label pkg/profile pkg/sheet pkg/geom pkg/unit x/image
pkg/pdf             < pkg/paper pkg/geom canvas x/image
pkg/svg             < pkg/sheet pkg/geom pkg/unit
pkg/sketch          < pkg/numbering pkg/work pkg/label pkg/weave pkg/motif pkg/sheet pkg/geom pkg/unit pkg/diag
pkg/stick           < pkg/paper pkg/table pkg/motif pkg/work pkg/label pkg/lettering pkg/sheet pkg/geom pkg/geom/region pkg/unit
pkg/fullsize        < pkg/cutlist pkg/inlay pkg/motif pkg/paper pkg/sheet pkg/lettering pkg/geom pkg/unit
pkg/ngc             < pkg/geom pkg/unit pkg/diag
pkg/program         < pkg/work pkg/toolpath pkg/ngc pkg/geom pkg/unit
pkg/dryrun          < pkg/work pkg/walls pkg/ngc pkg/geom pkg/geom/region pkg/unit pkg/diag
pkg/preview         < pkg/wood pkg/work pkg/dryrun pkg/label pkg/setup pkg/ngc pkg/geom pkg/unit pkg/diag
pkg/build            < pkg/stick pkg/joint pkg/table pkg/bend pkg/fullsize pkg/stock pkg/glue pkg/season pkg/fit pkg/cutlist pkg/wood pkg/budget pkg/work pkg/nest pkg/setup pkg/job pkg/motif pkg/weave pkg/groove pkg/plan pkg/inlay pkg/fixture pkg/proof pkg/template pkg/marks pkg/aids pkg/heights pkg/toolpath pkg/sheet pkg/lettering pkg/dxf pkg/paper pkg/pdf pkg/svg pkg/ngc pkg/program pkg/walls pkg/dryrun pkg/preview pkg/sketch pkg/profile pkg/geom pkg/geom/region pkg/unit pkg/diag x/sync pkg/drawing/from pkg/trace
pkg/report          < pkg/joint pkg/table pkg/bend pkg/fullsize pkg/stock pkg/laying pkg/glue pkg/season pkg/fit pkg/cutlist pkg/conf pkg/wood pkg/work pkg/build pkg/budget pkg/received pkg/job pkg/motif pkg/weave pkg/groove pkg/plan pkg/inlay pkg/fixture pkg/proof pkg/template pkg/aids pkg/sheet pkg/paper pkg/pdf pkg/dryrun pkg/profile pkg/geom pkg/unit pkg/diag
pkg/watch           < pkg/build pkg/preview pkg/diag fsnotify
pkg/cli             < pkg/fit pkg/watch pkg/measured pkg/work pkg/conf pkg/build pkg/report pkg/received pkg/lettering pkg/job pkg/dxf pkg/profile pkg/words pkg/unit pkg/diag pflag pkg/drawing pkg/drawing/from pkg/trace
cmd/strapwork       < pkg/cli

pkg/internal/witness < chromedp cdproto
pkg/internal/plait   < pkg/geom
pkg/internal/thrown < pkg/geom
pkg/internal/walljudge < pkg/ngc pkg/geom
pkg/internal/made    < pkg/job pkg/motif pkg/weave pkg/groove pkg/plan pkg/proof pkg/sheet pkg/diag pkg/geom/region
pkg/internal/byhand  < pkg/work pkg/job pkg/geom pkg/unit pkg/internal/plait
`

// modules gives third-party modules their names in the policy.
var modules = map[string]string{
	"canvas":         "github.com/tdewolff/canvas",
	"cdproto":        "github.com/chromedp/cdproto",
	"chromedp":       "github.com/chromedp/chromedp",
	"fsnotify":       "github.com/fsnotify/fsnotify",
	"go-toml":        "github.com/pelletier/go-toml/v2",
	"pflag":          "github.com/spf13/pflag",
	"rtree":          "github.com/tidwall/rtree",
	"x/image":        "golang.org/x/image",
	"x/sync":         "golang.org/x/sync",
	"x/text":         "golang.org/x/text",
	"yofu/dxf":       "github.com/yofu/dxf",
	"tdewolff/parse": "github.com/tdewolff/parse/v2",
}

// testModules may be imported by any test, and by nothing else unless the policy
// says so.
var testModules = []string{
	"github.com/go-air/gini",
	"github.com/chromedp",
	"github.com/google/go-cmp",
	"github.com/peterstace/simplefeatures",
	"github.com/rogpeppe/go-internal",
	"gonum.org/v1/gonum",
	"pgregory.net/rapid",
}

// topLevel is all that may stand at the top of the repository, besides names that
// begin with a dot and what .gitignore anchors there ("/out/").
var topLevel = []string{
	"DEVELOPERS.md", "Makefile", "README.md", "cmd", "go.mod", "go.sum", "pkg", "profiles", "testdata",
}

// exits are the functions that end the process, which only cmd may.
var exits = map[string][]string{
	"os":      {"Exit"},
	"log":     {"Fatal", "Fatalf", "Fatalln"},
	"syscall": {"Exit"},
}

const modulePath = "strapwork"

// TestPolicy holds the repository itself to the policy.
func TestPolicy(t *testing.T) {
	for _, fault := range check(os.DirFS("../.."), policy) {
		t.Error(fault)
	}
}

// check returns every breach of the policy in a repository.
func check(root fs.FS, text string) []string {
	rules, faults := parse(text)
	faults = append(faults, checkTop(root)...)
	used := map[string]map[string]bool{} // by package, what it may import and does
	err := fs.WalkDir(root, ".", func(name string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir():
			return skip(name)
		case !strings.HasSuffix(name, ".go"):
			return nil
		}
		found, err := checkFile(root, name, rules, used)
		faults = append(faults, found...)
		return err
	})
	if err != nil {
		faults = append(faults, err.Error())
	}
	return append(faults, unused(rules, used)...)
}

// knowJob are those who may know the job file: who reads it, the build, which turns
// it into what the stages take, and what stands above the build.
var knowJob = []string{"pkg/job", "pkg/build", "pkg/report", "pkg/cli", "pkg/internal/"}

// TestStagesKnowNoJob holds the policy itself to that.
func TestStagesKnowNoJob(t *testing.T) {
	rules, _ := parse(policy)
	for dir, allowed := range rules {
		may := slices.ContainsFunc(knowJob, func(name string) bool { return strings.HasPrefix(dir, name) })
		if !may && slices.Contains(allowed, "pkg/job") {
			t.Errorf("%s is below the build and may import pkg/job", dir)
		}
	}
}

// unused tells permissions that no file makes use of, and packages that aren't there.
func unused(rules map[string][]string, used map[string]map[string]bool) []string {
	var faults []string
	for _, dir := range slices.Sorted(maps.Keys(rules)) {
		if used[dir] == nil {
			faults = append(faults, fmt.Sprintf("policy: there is no package %s", dir))
			continue
		}
		for _, name := range rules[dir] {
			if !used[dir][name] {
				faults = append(faults, fmt.Sprintf("policy: %s may import %s and doesn't", dir, name))
			}
		}
	}
	return faults
}

// skip leaves out the directories that the go command leaves out, and what make
// builds.
func skip(dir string) error {
	base := path.Base(dir)
	hidden := dir != "." && (base[0] == '.' || base[0] == '_')
	if hidden || base == "testdata" || dir == "bin" || dir == "out" {
		return fs.SkipDir
	}
	return nil
}

// parse reads a policy into what each directory may import, and tells lines that
// import something not listed above them.
func parse(text string) (rules map[string][]string, faults []string) {
	rules = map[string][]string{}
	for line := range strings.Lines(text) {
		dir, allowed, ok := strings.Cut(line, "<")
		dir = strings.TrimSpace(dir)
		if !ok {
			if dir != "" {
				faults = append(faults, fmt.Sprintf("policy: no < in %q", dir))
			}
			continue
		}
		for _, name := range strings.Fields(allowed) {
			if module, ok := modules[name]; ok {
				name = module
			} else if _, above := rules[name]; !above {
				faults = append(faults, fmt.Sprintf("policy: %s may import %s, which is not listed above it", dir, name))
			}
			rules[dir] = append(rules[dir], name)
		}
		if rules[dir] == nil {
			rules[dir] = []string{}
		}
	}
	return rules, faults
}

// checkTop tells names that don't belong at the top level.
func checkTop(root fs.FS) []string {
	entries, err := fs.ReadDir(root, ".")
	if err != nil {
		return []string{err.Error()}
	}
	// Without a .gitignore nothing is ignored.
	ignored, _ := fs.ReadFile(root, ".gitignore")
	lines := strings.Split(string(ignored), "\n")
	var faults []string
	for _, entry := range entries {
		name := entry.Name()
		if name[0] == '.' || slices.Contains(topLevel, name) || slices.Contains(lines, "/"+name+"/") {
			continue
		}
		faults = append(faults, name+": does not belong at the top level")
	}
	return faults
}

// checkFile tells what one Go file imports or calls against the policy.
func checkFile(root fs.FS, name string, rules map[string][]string, used map[string]map[string]bool) ([]string, error) {
	source, err := fs.ReadFile(root, name)
	if err != nil {
		return nil, err
	}
	file, err := parser.ParseFile(token.NewFileSet(), name, source, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	dir, isTest := path.Dir(name), strings.HasSuffix(name, "_test.go")
	allowed, listed := rules[dir]
	if !listed {
		return []string{fmt.Sprintf("%s: package %s is not in the policy (pkg/deps/deps_test.go)", name, dir)}, nil
	}
	if used[dir] == nil {
		used[dir] = map[string]bool{}
	}
	var faults []string
	for _, spec := range file.Imports {
		imported, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			return nil, err
		}
		if i := slices.IndexFunc(allowed, func(name string) bool { return within(imported, name) }); i >= 0 && !isTest {
			used[dir][allowed[i]] = true
		}
		if !mayImport(imported, allowed, isTest) {
			faults = append(faults, fmt.Sprintf("%s: may not import %s (pkg/deps/deps_test.go)", name, imported))
		}
	}
	if !isTest && !strings.HasPrefix(dir, "cmd/") {
		faults = append(faults, exitCalls(file, name)...)
	}
	return faults, nil
}

// mayImport says whether an import is allowed. Tests may import all of the house and
// the modules for tests; other modules only where the package itself may.
func mayImport(imported string, allowed []string, isTest bool) bool {
	if imported == "C" {
		return false
	}
	if strings.HasPrefix(imported, modulePath+"/") && isTest {
		return true
	}
	first, _, _ := strings.Cut(imported, "/")
	if !strings.Contains(first, ".") && first != modulePath {
		return true // the standard library
	}
	is := func(name string) bool { return within(imported, name) }
	return slices.ContainsFunc(allowed, is) || isTest && slices.ContainsFunc(testModules, is)
}

// within reports whether an import is a package of our own by its directory, or
// lies in a module.
func within(imported, name string) bool {
	if own, ok := strings.CutPrefix(imported, modulePath+"/"); ok {
		return own == name
	}
	return imported == name || strings.HasPrefix(imported, name+"/")
}

// exitCalls tells where a file names a function that ends the process.
func exitCalls(file *ast.File, name string) []string {
	local := map[string]string{}
	for _, spec := range file.Imports {
		imported := strings.Trim(spec.Path.Value, `"`)
		local[path.Base(imported)] = imported
		if spec.Name != nil {
			local[spec.Name.Name] = imported
		}
	}
	var faults []string
	ast.Inspect(file, func(node ast.Node) bool {
		selector, ok := node.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		x, ok := selector.X.(*ast.Ident)
		if ok && slices.Contains(exits[local[x.Name]], selector.Sel.Name) {
			faults = append(faults, fmt.Sprintf("%s: %s.%s outside cmd", name, x.Name, selector.Sel.Name))
		}
		return true
	})
	return faults
}

// TestBreachesAreFound gives check small repositories, each with one fault or none.
func TestBreachesAreFound(t *testing.T) {
	const small = `
pkg/geom < rtree
pkg/job < pkg/geom go-toml
cmd/strapwork < pkg/job
`
	whole := fstest.MapFS{
		"pkg/geom/geom.go":      {Data: []byte(`package geom; import _ "github.com/tidwall/rtree"`)},
		"pkg/job/job.go":        {Data: []byte(`package job; import (_ "strapwork/pkg/geom"; _ "github.com/pelletier/go-toml/v2")`)},
		"cmd/strapwork/main.go": {Data: []byte(`package main; import _ "strapwork/pkg/job"`)},
	}
	cases := []struct {
		name, file, source, policy string
		want                       string // "" for none
	}{
		{"allowed", "pkg/job/a.go", `package job; import (_ "strapwork/pkg/geom"; _ "github.com/pelletier/go-toml/v2/unstable"; _ "go/ast")`, small, ""},
		{"upwards", "pkg/geom/a.go", `package geom; import _ "strapwork/pkg/job"`, small, "may not import strapwork/pkg/job"},
		{"upwards in a test", "pkg/geom/a_test.go", `package geom; import _ "strapwork/pkg/job"`, small, ""},
		{"another's module", "pkg/job/a.go", `package job; import _ "github.com/tidwall/rtree"`, small, "may not import github.com/tidwall/rtree"},
		{"another's module in a test", "pkg/job/a_test.go", `package job; import _ "github.com/tidwall/rtree"`, small, "may not import github.com/tidwall/rtree"},
		{"like a module by name", "pkg/geom/a.go", `package geom; import _ "github.com/tidwall/rtree2"`, small, "may not import github.com/tidwall/rtree2"},
		{"unknown module", "pkg/job/a.go", `package job; import _ "example.org/x"`, small, "may not import example.org/x"},
		{"module for tests", "pkg/job/a_test.go", `package job; import _ "github.com/google/go-cmp/cmp"`, small, ""},
		{"module for tests elsewhere", "pkg/job/a.go", `package job; import _ "github.com/google/go-cmp/cmp"`, small, "may not import github.com/google/go-cmp/cmp"},
		{"cgo", "pkg/job/a_test.go", `package job; import "C"`, small, "may not import C"},
		{"unlisted package", "pkg/util/a.go", `package util`, small, "package pkg/util is not in the policy"},
		{"unlisted, in testdata", "pkg/job/testdata/a.go", `package util`, small, ""},
		{"exit", "pkg/job/a.go", `package job; import "os"; func f() { os.Exit(1) }`, small, "os.Exit outside cmd"},
		{"exit renamed", "pkg/job/a.go", `package job; import l "log"; func f() { l.Fatalf("") }`, small, "l.Fatalf outside cmd"},
		{"exit in cmd", "cmd/strapwork/exit.go", `package main; import "os"; func main() { os.Exit(1) }`, small, ""},
		{"another's Exit", "pkg/job/a.go", `package job; func f(os interface{ Exit(int) }) { os.Exit(1) }`, small, ""},
		{"top level", "util/a.txt", ``, small, "util: does not belong"},
		{"top level, ignored", "out/a.go", `package out`, small, ""},
		{"top level, dot", ".ci/run", ``, small, ""},
		{"a permission unused", "pkg/geom/geom.go", `package geom`, small, "pkg/geom may import github.com/tidwall/rtree and doesn't"},
		{"a package that is gone", "pkg/geom/geom.go", `package geom; import _ "github.com/tidwall/rtree"`, small + "pkg/util <\n", "there is no package pkg/util"},
		{"policy upwards", "pkg/job/a.go", `package job; import _ "strapwork/pkg/job"`, "pkg/job < pkg/job\n", "pkg/job, which is not listed above"},
		{"policy without sign", "pkg/job/a.go", `package job`, small + "pkg/util\n", "no < in"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			files := fstest.MapFS{".gitignore": {Data: []byte("/out/\n")}}
			if strings.HasPrefix(c.policy, small) {
				maps.Copy(files, whole)
			}
			files[c.file] = &fstest.MapFile{Data: []byte(c.source)}
			faults := check(files, c.policy)
			if c.want == "" && len(faults) == 0 {
				return
			}
			if c.want == "" || len(faults) != 1 || !strings.Contains(faults[0], c.want) {
				t.Errorf("got %q, want %q", faults, c.want)
			}
		})
	}
}
