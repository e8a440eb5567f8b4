package toolpath

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/internal/thrown"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
)

// build makes the groove of a job file's text, or reports that it has none.
func build(t testing.TB, text string) (groove.Groove, bool) {
	t.Helper()
	j, found := job.Read("test.toml", []byte(text))
	if found.HasErrors() {
		t.Fatal(found)
	}
	m, found := motif.Build(j.Motif)
	if found.HasErrors() {
		return groove.Groove{}, false
	}
	wv, found := weave.Build(m, j.Weave)
	if found.HasErrors() {
		return groove.Groove{}, false
	}
	g, found := groove.Build(groove.SizeOf(j.Inlay, j.Router, j.Template), m, wv)
	return g, !found.HasErrors()
}

// text is a job of paths in the job file's notation.
func text(width, bit float64, paths ...string) string { return thrown.Job(width, bit, paths...) }

// drawn is the groove of paths, which must have one.
func drawn(t testing.TB, width, bit float64, paths ...string) groove.Groove {
	t.Helper()
	g, ok := build(t, text(width, bit, paths...))
	if !ok {
		t.Fatalf("no groove: %v", paths)
	}
	return g
}

func plan(t testing.TB, g groove.Groove, o Params) Plan {
	t.Helper()
	p, err := Make(&g, o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// jobs are the demonstration jobs' grooves by name.
func jobs(t testing.TB) map[string]groove.Groove {
	t.Helper()
	files, err := filepath.Glob("../../testdata/jobs/*.toml")
	if err != nil || len(files) < 5 {
		t.Fatalf("%d jobs, %v", len(files), err)
	}
	list := map[string]groove.Groove{}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		g, ok := build(t, string(data))
		if !ok {
			t.Fatalf("%s has no groove", f)
		}
		list[strings.TrimSuffix(filepath.Base(f), ".toml")] = g
	}
	return list
}

const degree = math.Pi / 180

// usual are options that most plans are made with.
func usual() Params { return Params{Depth: 3, Ramp: 3 * degree} }

// variants are the ways to cut that every motif is tried with.
func variants() map[string]Params {
	rough := usual()
	rough.Rough = 0.15
	climb := rough
	climb.Climb, climb.Step = true, 1
	plunge := usual()
	plunge.Ramp, plunge.Order.Rule = 0, Drawn
	return map[string]Params{"walls": usual(), "rough": rough, "climb": climb, "plunge": plunge}
}

// cut is what a plan's moves take away at the groove's full depth.
func cut(p Plan) region.Region {
	deep := -p.Depths[len(p.Depths)-1]
	return cutAt(p.Runs, p.Bit, deep)
}

// cutAt is what the moves that lie wholly at height z take away.
func cutAt(runs []Run, bit, z float64) region.Region {
	var strokes []region.Region
	for _, r := range runs {
		at := r.Z
		for _, pass := range r.Passes {
			var edges []geom.Edge
			flush := func() {
				if edges != nil {
					strokes = append(strokes, region.Stroke(geom.Chain(false, edges...), bit/2))
					edges = nil
				}
			}
			for _, m := range pass.Moves {
				if m.Z == z && at == z && m.Edge.A != m.Edge.B {
					edges = append(edges, m.Edge)
				} else {
					flush()
				}
				at = m.Z
			}
			flush()
		}
	}
	return region.Union(strokes...)
}

// swept is what a plan's moves take away at any height.
func swept(p Plan) region.Region {
	var strokes []region.Region
	for _, r := range p.Runs {
		for _, pass := range r.Passes {
			var edges []geom.Edge
			for _, m := range pass.Moves {
				if m.Edge.A != m.Edge.B {
					edges = append(edges, m.Edge)
				}
			}
			strokes = append(strokes, region.Stroke(geom.Chain(false, edges...), p.Bit/2))
		}
	}
	return region.Union(strokes...)
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s is %.10g, want %.10g (tolerance %g)", what, got, want, tol)
	}
}
