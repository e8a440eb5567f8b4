package report

import (
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	"strapwork/pkg/build"
)

// A reporting is a built job and what is reported of it.
type reporting struct {
	build.Result
	facts    *facts
	own      []build.File // made from them
	sheet    string
	manifest []byte
}

// reported is what is reported of a build.
func reported(t *testing.T, r build.Result) reporting {
	t.Helper()
	out := reporting{Result: r}
	var err error
	if out.facts, out.own, err = gather(r); err != nil {
		t.Fatal(err)
	}
	for _, f := range out.own {
		switch f.Path {
		case SetupPath:
			out.sheet = string(f.Data)
		case ManifestPath:
			out.manifest = f.Data
		}
	}
	return out
}

// withOwn is the result with the files that are made from the facts.
func (r reporting) withOwn() build.Result {
	all := r.Result
	all.Files = slices.Concat(all.Files, r.own)
	return all
}

// kept are the reports of jobs by their texts, since many tests ask for the same;
// nobody changes them.
var kept sync.Map

// whole takes a job's text through all stages, as if its file lay in a folder
// of somebody's machine.
func whole(t *testing.T, text string) reporting {
	t.Helper()
	return made(t, text, 0)
}

// drawn is whole without paper and page, for what they don't matter to.
func drawn(t *testing.T, text string) reporting {
	t.Helper()
	return made(t, text, build.Templates|build.Programs)
}

func made(t *testing.T, text string, only build.Want) reporting {
	t.Helper()
	type asked struct {
		text string
		only build.Want
	}
	once, _ := kept.LoadOrStore(asked{text, only}, sync.OnceValue(func() reporting {
		r := build.Build("/somebody/bench/job.toml", []byte(text), os.ReadFile, build.Options{Only: only})
		if r.Reached != build.Proved || !r.OK() {
			t.Fatalf("the job was only %s:\n%v", r.Reached, r.Findings)
		}
		return reported(t, r)
	}))
	return once.(func() reporting)()
}

// examples are the jobs that are shipped as examples, and those below, built side by
// side.
func examples(t *testing.T) map[string]reporting {
	t.Helper()
	texts := map[string]string{"triangle": loopedTriangle, "bars": bars, "inches": inches, "knot": knot, "full": full}
	files, err := filepath.Glob("../../testdata/jobs/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no example jobs: %v", err)
	}
	for _, f := range files {
		if testing.Short() && filepath.Base(f) == "rosette.toml" {
			continue // its plan takes longer than all others
		}
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		texts[filepath.Base(f)] = string(data)
	}
	return wholes(t, texts)
}

// wholes are reports by name, built side by side.
func wholes(t *testing.T, texts map[string]string) map[string]reporting {
	t.Helper()
	var mu sync.Mutex
	var wait sync.WaitGroup
	all := map[string]reporting{}
	for name, text := range texts {
		wait.Go(func() {
			one := whole(t, text)
			mu.Lock()
			defer mu.Unlock()
			all[name] = one
		})
	}
	wait.Wait()
	if len(all) != len(texts) {
		t.FailNow()
	}
	return all
}

// loopedTriangle is a side and a loop, three times round: one closed strand that
// crosses itself three times. The sizes are a games table's.
const loopedTriangle = `
title = "Looped triangle"
units = "mm"
[let]
inner = 40
loop = 66
reach = "sqrt(3) * (inner + loop)"
[motif]
copies = 3
[[motif.line]]
name = "side"
from = ["-reach", "inner"]
to = ["reach", "inner"]
[[motif.arc]]
name = "loop"
center = ["reach", "inner + loop"]
radius = "loop"
start = 270
sweep = 240
[inlay]
depth = 3
strips = [ { material = "holly", thickness = 2.5 }, { material = "bronze", thickness = 2.5 } ]
clearance = 0.08
[router]
guide = "base"
rider = 100
bit = "1/8 in"
`

// bars is two straight bars that cross: four free ends for the chisel.
const bars = `
title = "Crossed bars"
units = "mm"
[motif]
[[motif.line]]
name = "long"
from = [-150, 0]
to = [150, 0]
[[motif.line]]
name = "short"
from = [0, -100]
to = [0, 100]
[inlay]
depth = 3
width = 5.08
[router]
guide = "base"
rider = 100
bit = 3.175
flute = 16
[board]
size = [400, 300]
thickness = 22
origin = [200, 150]
`

// inches is a frame with sharp corners, for a router that doesn't plunge.
const inches = `
title = "Box lid & its _own_ | border"
units = "in"
[motif]
[[motif.line]]
name = "frame"
points = [[-4, -3], [4, -3], [4, 3], [-4, 3]]
closed = true
[[motif.line]]
name = "rail"
from = [-6, 0.5]
to = [6, -0.5]
[inlay]
depth = "1/8"
width = "9/64 in"
[router]
guide = "bushing"
rider = "3/4 in"
bit = "1/8 in"
base = 6
collar = "1/4"
flute = 1
plunge = false
[template]
wall = "1/2"
web = "1/2"
[cutting]
profile = "router-48x32in"
kerf = 0.25
kerf_by = "me"
`

// knot is one path that crosses itself once.
const knot = `
units = "mm"
[motif]
[[motif.path]]
name = "knot"
d = "M -60 -40 L 20 40 A 28.284271247461902 28.284271247461902 0 0 1 -20 40 L 60 -40"
[inlay]
depth = 2
width = 3
[router]
guide = "bearing"
rider = 2
bit = 2
flute = 7
[template]
wall = 9
`

// full is a bit that fills its groove and has no play.
const full = `
title = "A single line"
units = "mm"
[motif]
[[motif.line]]
name = "line"
from = [-50, 0]
to = [50, 0]
[inlay]
depth = 2
width = 3
[router]
guide = "base"
rider = 90
bit = 3
[template]
floor = 0
`

// pearTable has two ends and two leaves, and a knot of three loops on each of its joints.
const pearTable = `
title = "Pear table"
units = "mm"
[[motif.loops]]
name = "t"
count = 3
ring = 60
radius = 45
turn = 90
[inlay]
depth = 3
clearance = 0.08
strips = [ { material = "holly", thickness = 0.9 }, { material = "bronze", thickness = 1.8 }, { material = "holly", thickness = 0.9 } ]
[router]
guide = "bushing"
rider = 16
bit = "1/8 in"
flute = 16
shank = "1/4 in"
base = 150
collar = 5
[table]
width = 900
thickness = 22
[[table.section]]
name = "left"
length = 600
[[table.section]]
name = "leaf"
length = 420
count = 2
loose = true
[[table.section]]
name = "right"
length = 600
`
