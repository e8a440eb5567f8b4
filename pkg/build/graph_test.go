package build

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
	"strapwork/pkg/plan"
	"strapwork/pkg/template"
)

// ringJob is a small job that has everything: a ring and a bar over it.
const ringJob = `title = "ring"
units = "mm"
[[motif.circle]]
name = "ring"
center = [0, 0]
radius = 40
[[motif.line]]
name = "bar"
from = [-60, 10]
to = [60, 10]
[inlay]
depth = 2
width = 3
[router]
guide = "bushing"
rider = 16
bit = 2
flute = 12
collar = 6
[template]
wall = 9
web = 4
[cutting]
profile = "laser-600x400"
kerf = 0.2
kerf_by = "me"
[program]
climb = false
widen = 0.1
split = "depth"
`

// inInches is the same job, or about that, in inches.
var inInches = strings.NewReplacer(`units = "mm"`, `units = "in"`, "radius = 40", "radius = 1.6", "[-60, 10]", "[-2.4, 0.4]", "[60, 10]", "[2.4, 0.4]",
	"depth = 2", "depth = 0.08", "width = 3", "width = 0.12", "rider = 16", "rider = 0.625", "bit = 2", "bit = 0.08", "flute = 12", "flute = 0.5",
	"collar = 6", "collar = 0.25", "wall = 9", "wall = 0.375", "web = 4", "web = 0.16", "kerf = 0.2", "kerf = 0.008", "widen = 0.1", "widen = 0.004").Replace(ringJob)

// TestOnlyWhatChangedIsRunAgain changes one thing in a job and counts which stages
// are run for it, in the graph that has the job as it was. What is of the groove's
// geometry stays where nothing of that changed, and the result is that of a graph
// which kept nothing.
func TestOnlyWhatChangedIsRunAgain(t *testing.T) {
	// Each has the job file's revision on it.
	const drawings = "marks, page, parts, program, set-ups, sheet"
	quick := Options{Only: Templates | Programs | Preview}
	for _, c := range []struct {
		o                   Options
		old, changed, again string
	}{
		{quick, "depth", "depth", ""},
		{Options{}, `title = "ring"`, `title = "bow"`, drawings + ", pattern, pattern of the groove, patterns bound, picture, client's sheet, labels, pieces, sketch, inlay"},
		{quick, "depth = 2", "depth = 2.2", drawings + ", aids, forms, heights, passes, stock, work"},
		{quick, "kerf = 0.2", "kerf = 0.21", drawings + ", aids, forms, proof"},
		{quick, "climb = false", "climb = true", drawings + ", passes, work"},
		{quick, "width = 3", "width = 3.1", drawings + ", aids, cuts, groove, heights, openings, passes, plan, proof, strips, why, work, picture, sketch"},
	} {
		g := NewGraph(os.ReadFile)
		if r := g.Build("job.toml", []byte(ringJob), c.o); !r.OK() {
			t.Fatal(r.Findings)
		}
		g.ran = map[string]int{}
		text := strings.Replace(ringJob, c.old, c.changed, 1)
		r := g.Build("job.toml", []byte(text), c.o)
		var want []string
		if c.again != "" {
			want = append(strings.Split(c.again, ", "), "job")
			slices.Sort(want)
		}
		if got := slices.Sorted(maps.Keys(g.ran)); !slices.Equal(got, want) {
			t.Errorf("%s: run again are %v, want %v", c.changed, got, want)
		}
		same(t, c.changed, r, Build("job.toml", []byte(text), os.ReadFile, c.o))
		g.ran = map[string]int{}
		if g.Check("job.toml", []byte(text), nil); len(g.ran) > 0 {
			t.Errorf("%s: a check after the build runs %v", c.changed, g.ran)
		}
	}
}

// TestTheLastTwoAskingsAreKept: an edit that is undone costs nothing, and what is no
// longer asked for is forgotten.
func TestTheLastTwoAskingsAreKept(t *testing.T) {
	g := NewGraph(os.ReadFile)
	check := func(depth string) int {
		g.ran = map[string]int{}
		if r := g.Check("job.toml", []byte(strings.Replace(ringJob, "depth = 2", "depth = "+depth, 1)), nil); !r.OK() {
			t.Fatal(r.Findings)
		}
		return len(g.ran)
	}
	check("2")
	one := len(g.nodes)
	if check("1.9"); check("2") > 0 {
		t.Errorf("run again: %v", g.ran)
	}
	check("1.8")
	if check("1.9") == 0 {
		t.Error("what was asked for three askings ago is kept")
	}
	if n := len(g.nodes); n > 2*one {
		t.Errorf("%d values are kept, and one job has %d", n, one)
	}
}

// same says where two builds found or made different things.
func same(t *testing.T, name string, a, b Result) {
	t.Helper()
	if a.Reached != b.Reached || !reflect.DeepEqual(a.Findings, b.Findings) {
		t.Errorf("%s: reached %v with\n%v\nand %v with\n%v", name, a.Reached, a.Findings, b.Reached, b.Findings)
	}
	if len(a.Files) != len(b.Files) {
		t.Fatalf("%s: %d files and %d", name, len(a.Files), len(b.Files))
	}
	for i, f := range a.Files {
		if !reflect.DeepEqual(f, b.Files[i]) {
			t.Errorf("%s: %s isn't %s", name, f.Path, b.Files[i].Path)
		}
	}
}

// TestCoresMakeNoDifference builds jobs on one processor and on sixteen: the same
// bytes, and the same findings in the same order.
func TestCoresMakeNoDifference(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for name, c := range map[string]struct {
		text string
		o    Options
		ok   bool
	}{
		"a job":               {ringJob, Options{}, true},
		"in inches, nested":   {inInches, Options{Nest: true}, true},
		"swings on a pivot":   {strings.Replace(pivotJob, "rings", "hoops", 1), Options{}, true},
		"a groove too narrow": {strings.Replace(ringJob, "width = 3", "width = 1", 1), Options{}, false},
		"several errors":      {strings.NewReplacer("flute = 12", "flute = 1", "[60, 10]", "[39.8, 10]", "laser-600x400", "laser-6x4").Replace(ringJob), Options{}, false},
		"what can't be swung": {strings.Replace(ringJob, `guide = "bushing"`, `guide = "pivot"`, 1), Options{}, false},
	} {
		var all [2]Result
		for i, n := range []int{1, 16} {
			runtime.GOMAXPROCS(n)
			all[i] = Build("job.toml", []byte(c.text), os.ReadFile, c.o)
		}
		if all[0].OK() != c.ok || Inner(all[0].Findings) {
			t.Errorf("%s: %v", name, all[0].Findings)
		}
		same(t, name, all[0], all[1])
	}
}

// pivotJob swings two rings.
const pivotJob = `title = "rings"
units = "mm"
[[motif.circle]]
center = [0, 0]
radius = 40
[[motif.circle]]
center = [0, 0]
radius = 60
[inlay]
depth = 2
width = 3
[router]
guide = "pivot"
bit = 2
flute = 12
[template]
wall = 9
`

func breakPlan(int) (struct{}, diag.Findings) {
	plan.Make(plan.Params{}, nil, nil)
	return struct{}{}, nil
}

func breakTemplate(int) (struct{}, diag.Findings) {
	template.Covers(motif.Motif{}, groove.Cut{})
	return struct{}{}, nil
}

// TestFaultsAreFindings has stages panic side by side: whichever is first in time, the
// first in order is the finding, and the graph can be asked again.
func TestFaultsAreFindings(t *testing.T) {
	for range 20 {
		g := NewGraph(os.ReadFile)
		r := g.answer("lid.toml", func() Result {
			together(
				func() {},
				func() { ask(g, "a", 1, breakPlan) },
				func() { ask(g, "b", 2, breakTemplate) },
			)
			return Result{}
		})
		if len(r.Findings) != 1 || !Inner(r.Findings) || !strings.HasPrefix(r.Findings[0].Error(), "lid.toml: error: an inner error in plan: ") {
			t.Fatal(r.Findings)
		}
		if len(g.nodes) > 0 {
			t.Error("a fault is kept")
		}
	}
}

// TestDigests: values that differ anywhere have other names, equal ones the same.
func TestDigests(t *testing.T) {
	type inner struct {
		list []float64
		p    *int
	}
	type outer struct {
		inner
		names map[string]bool
		any   any
		made  made[[]int]
	}
	one, two, alsoOne := 1, 2, 1
	base := func() outer {
		return outer{inner{[]float64{1, 2}, &one}, map[string]bool{"a": true, "b": false}, 1, made[[]int]{Value: []int{1}}}
	}
	want := digestOf("stage", base())
	for name, c := range map[string]struct {
		change func(*outer)
		same   bool
	}{
		"nothing":             {func(*outer) {}, true},
		"another pointer":     {func(o *outer) { o.p = &alsoOne }, true},
		"what is pointed to":  {func(o *outer) { o.p = &two }, false},
		"no pointer":          {func(o *outer) { o.p = nil }, false},
		"a number":            {func(o *outer) { o.list[1] = 3 }, false},
		"a shorter list":      {func(o *outer) { o.list = o.list[:1] }, false},
		"a map's value":       {func(o *outer) { o.names["b"] = true }, false},
		"a map's key":         {func(o *outer) { delete(o.names, "b"); o.names["c"] = false }, false},
		"another type":        {func(o *outer) { o.any = int64(1) }, false},
		"what a stage made":   {func(o *outer) { o.made.Value = nil }, true},
		"of another input":    {func(o *outer) { o.made.key[0] = 1 }, false},
		"what a stage found":  {func(o *outer) { o.made.Found.Notef("", "", "") }, true},
		"not a number, twice": {func(o *outer) { o.list[0] = math.NaN() }, false},
	} {
		o := base()
		c.change(&o)
		if got := digestOf("stage", o); (got == want) != c.same || got != digestOf("stage", o) {
			t.Errorf("%s: the same name: %t", name, got == want)
		}
	}
	if digestOf("another", base()) == want {
		t.Error("two stages have one name for an input")
	}
	if catch(func() { digestOf("stage", func() {}) }) == nil {
		t.Error("a function is an input")
	}
}

// TestStagesAreFunctionsWithNames: what ask runs sees its input and nothing about it.
func TestStagesAreFunctionsWithNames(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	asked := 0
	for _, name := range files {
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || !slices.Contains([]string{"ask", "askUntil", "askShown"}, fmt.Sprint(call.Fun)) {
				return true
			}
			asked++
			run := call.Args[len(call.Args)-1]
			if sel, ok := run.(*ast.SelectorExpr); ok {
				run = sel.Sel
				if x, ok := sel.X.(*ast.Ident); !ok || x.Name != "motif" {
					t.Errorf("%s: a method is run", name)
				}
			}
			if _, ok := run.(*ast.Ident); !ok {
				t.Errorf("%s: a function without a name is run", name)
			}
			return true
		})
	}
	const least = 20
	if asked < least {
		t.Errorf("only %d stages are asked", asked)
	}
}
