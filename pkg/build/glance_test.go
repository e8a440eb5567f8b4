package build_test

import (
	"bytes"
	"os"
	"strings"
	"sync/atomic"
	"testing"

	"strapwork/pkg/build"
)

// TestGlance: what is seen at once is what a drawing and the inlay's picture are made of
// one by one, without a plan; and where there is an error, the motif alone.
func TestGlance(t *testing.T) {
	data, err := os.ReadFile("../../testdata/jobs/looped-triangle.toml")
	if err != nil {
		t.Fatal(err)
	}
	good := string(data)
	const alone = "a motif alone, of which a drawing asks for no more"
	for _, c := range []struct {
		name, text   string
		motif, inlay bool
	}{
		{"good", good, true, true},
		{"a rider that follows no arc, which only a plan would find", strings.Replace(good, "rider = 90", "rider = 400", 1), true, true},
		{"grooves that run into one another", strings.Replace(good, "[inlay]", "[[motif.line]]\nfrom = [-50, 41]\nto = [50, 41]\n[inlay]", 1), true, false},
		{alone, good[:strings.Index(good, "[inlay]")], true, false},
		{"half a file", good[:100] + "\n[[", false, false},
		{"nothing", "", false, false},
	} {
		var seen build.Sketch
		n := 0
		inlay, found := build.NewGraph(os.ReadFile).Glance("job.toml", []byte(c.text), func(s build.Sketch) { seen, n = s, n+1 })
		if n != 1 || (seen.Picture != nil) != c.motif || (inlay != nil) != c.inlay || len(seen.Set.Panels) > 0 {
			t.Errorf("%s: %d motifs, of %d bytes, an inlay of %d, with %d panels: %v", c.name, n, len(seen.Picture), len(inlay), len(seen.Set.Panels), found)
		}
		if c.motif != c.inlay && c.name != alone && !found.HasErrors() || !c.motif && !seen.Findings.HasErrors() {
			t.Errorf("%s: found %v, and before the inlay %v", c.name, found, seen.Findings)
		}
	}
	inlay, _ := build.NewGraph(os.ReadFile).Glance("job.toml", data, func(build.Sketch) {})
	if by, _ := build.NewGraph(os.ReadFile).Inlay("job.toml", data); !bytes.Equal(by, inlay) {
		t.Error("the inlay isn't the one that is asked for by itself")
	}
}

// TestBuildDrawn: it is Build's result, and the picture has in its place what it found.
func TestBuildDrawn(t *testing.T) {
	data, err := os.ReadFile("../../testdata/jobs/looped-triangle.toml")
	if err != nil {
		t.Fatal(err)
	}
	o := build.Options{Only: build.Preview}
	g := build.NewGraph(os.ReadFile)
	drawn, built := g.BuildDrawn("job.toml", data, o), g.Build("job.toml", data, o)
	if !drawn.OK() || len(drawn.Files) != len(built.Files) || drawn.Findings.Error() != built.Findings.Error() || len(drawn.Picture) == 0 {
		t.Errorf("drawn it is %d files with %v, and %d with %v", len(drawn.Files), drawn.Findings, len(built.Files), built.Findings)
	}
	tight := bytes.Replace(data, []byte("rider = 90"), []byte("rider = 400"), 1)
	if bad := g.BuildDrawn("job.toml", tight, o); bad.OK() || bad.Marked == 0 || !strings.Contains(string(bad.Picture), "<title>error 1</title>") {
		t.Errorf("the picture has %d marks of %v", bad.Marked, bad.Findings)
	}
}

// TestDropped: a build that nobody waits for ends at the next step, in the middle of a
// plan too, with nothing but that; and the graph answers as before.
func TestDropped(t *testing.T) {
	data, err := os.ReadFile("../../testdata/jobs/looped-triangle.toml")
	if err != nil {
		t.Fatal(err)
	}
	g := build.NewGraph(os.ReadFile)
	const planning = "sharing out the cuts over panels"
	var planned atomic.Bool
	steps := 0
	r := g.Build("job.toml", data, build.Options{
		Step: func(what string) {
			steps++
			planned.Store(planned.Load() || what == planning)
		},
		Dropped: planned.Load,
	})
	if !r.Dropped || len(r.Findings)+len(r.Files) > 0 || !planned.Load() {
		t.Errorf("dropped while it plans: %v, with %d files and %v", r.Dropped, len(r.Files), r.Findings)
	}
	if r := g.Check("job.toml", data, nil); r.Dropped || !r.OK() || len(r.Set.Panels) == 0 {
		t.Errorf("after that it has %d panels and finds %v", len(r.Set.Panels), r.Findings)
	}
}
