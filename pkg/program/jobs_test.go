package program_test

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/ngc"
	"strapwork/pkg/program"
	"strapwork/pkg/toolpath"
	"strapwork/pkg/weave"
)

// planOf is the plan of a job's groove.
func planOf(t *testing.T, file string, o toolpath.Params) toolpath.Plan {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	j, found := job.Read(filepath.Base(file), data)
	if j == nil {
		t.Fatal(found)
	}
	m, found := motif.Build(j.Motif)
	if found.HasErrors() {
		t.Fatal(found)
	}
	w, found := weave.Build(m, j.Weave)
	if found.HasErrors() {
		t.Fatal(found)
	}
	g, found := groove.Build(groove.SizeOf(j.Inlay, j.Router, j.Template), m, w)
	if found.HasErrors() {
		t.Fatal(found)
	}
	o.Depth = j.Inlay.Depth
	p, err := toolpath.Make(&g, o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Every job that comes with strapwork becomes a safe program on every machine,
// whole and strand by strand and depth by depth, and what it cuts is as long as
// the plan.
func TestEveryJob(t *testing.T) {
	files, _ := filepath.Glob("../../testdata/jobs/*.toml")
	if len(files) < 5 {
		t.Fatalf("jobs: %v", files)
	}
	for _, f := range files {
		t.Run(strings.TrimSuffix(filepath.Base(f), ".toml"), func(t *testing.T) {
			p := planOf(t, f, toolpath.Params{Rough: 0.15, Ramp: 3 * math.Pi / 180})
			if len(p.Runs) == 0 {
				t.Fatal("no strands")
			}
			eachDialect(t, func(t *testing.T, o ngc.Options) {
				parts := []toolpath.Plan{p, p.Only(p.Runs[0].Strand)}
				for i := range p.Depths {
					parts = append(parts, p.AtDepth(i))
				}
				for _, part := range parts {
					checkJob(t, part, setting(o))
				}
			})
		})
	}
}

func checkJob(t *testing.T, p toolpath.Plan, s program.Params) {
	t.Helper()
	text, sections := written(t, p, s)
	checkText(t, text, s.NGC)
	moves := readBack(t, text, s.NGC)
	checkMoves(t, moves, s)
	var want, got float64
	n := 0
	for _, r := range p.Runs {
		z := r.Z
		for _, pass := range r.Passes {
			for _, m := range pass.Moves {
				want += math.Hypot(m.Edge.Length(), m.Z-z)
				z = m.Z
				n++
			}
		}
	}
	cut := 0
	for _, m := range moves {
		for _, sec := range sections {
			if int(m.Line) >= sec.Line && int(m.Line) <= sec.Last {
				l, _ := m.Length()
				got += l
				cut++
			}
		}
	}
	// Each end of a block is out by a step at most in each axis; lines that
	// leave arcs by s are shorter by the part 2 s / (3 r), under a thousandth
	// for the jobs' arcs.
	tolerance := 3*slack(s)*float64(cut) + 1e-3*want
	if math.Abs(got-want) > tolerance || cut == 0 {
		t.Errorf("%v mm are cut in %d blocks, %v mm planned in %d moves", got, cut, want, n)
	}
}
