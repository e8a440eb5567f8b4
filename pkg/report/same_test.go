package report

// What the house made before its walls were moved, it makes after: of every job in
// testdata and of a hundred seeded motifs a hash is kept of what is cut. Wording,
// marks and notes are free to change.
//
// By itself it takes every fourth motif, of each kind two or three, and -short a few; SAME=all
// takes all. SAME=record writes the table anew, which is right only where a change of what
// is cut was meant.

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/internal/byhand"
	"strapwork/pkg/sheet"
)

const (
	sameTable  = "testdata/same.tsv"
	sameMotifs = 100
	sameEvery  = 4  // of the motifs when not all are asked for; no factor of the nine kinds
	sameShort  = 34 // with -short
)

// cutsOf are the three hashes of a build: the lines of the parts that a machine
// cuts, the programs' moves, and who cuts what in which position.
func cutsOf(t *testing.T, r build.Result) [3]string {
	t.Helper()
	var lines, moves, plan bytes.Buffer
	for _, p := range r.Parts {
		if p.Ply == sheet.Form || p.Ply == sheet.Holder {
			continue // they are for the strips, and cut no groove
		}
		fmt.Fprintln(&lines, p.Sheet.Name)
		for _, l := range p.Sheet.Lines {
			if l.Role != sheet.Opening && l.Role != sheet.Edge && l.Role != sheet.Pin {
				continue
			}
			fmt.Fprintln(&lines, l.Role, l.Contour.Closed)
			for _, v := range l.Contour.Vertices {
				fmt.Fprintf(&lines, "%.9f %.9f %.12f\n", v.X+0, v.Y+0, v.Bulge+0)
			}
		}
	}
	comment := regexp.MustCompile(`\([^)]*\)`)
	for _, f := range r.Files {
		if f.Kind == build.Program {
			fmt.Fprintf(&moves, "%s\n%s", f.Path, comment.ReplaceAll(f.Data, nil))
		}
	}
	m := newManifest(r)
	for _, p := range m.Panels {
		type turned struct {
			TurnDeg num
			Flip    bool
		}
		fmt.Fprintln(&plan, p.ID, p.Cuts, each(p.Positions, func(p positionJSON) turned { return turned{p.TurnDeg, p.Flip} }))
		for _, q := range p.Positions {
			if q.Shift != nil {
				fmt.Fprintln(&plan, *q.Shift)
			}
		}
	}
	for i := range m.Cuts {
		m.Cuts[i].Number = 0 // which follows from their order
	}
	for _, v := range []any{m.Cuts, m.SetUps} {
		data, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		plan.Write(data)
	}
	var out [3]string
	for i, b := range []bytes.Buffer{lines, moves, plan} {
		sum := sha256.Sum256(b.Bytes())
		out[i] = hex.EncodeToString(sum[:6])
	}
	return out
}

// sameJobs are the texts by their names in the table: every job's, and every so many motifs'.
func sameJobs(t *testing.T, every int) map[string]string {
	t.Helper()
	list := map[string]string{}
	paths, err := filepath.Glob("../../testdata/jobs/*.toml")
	if err != nil || len(paths) == 0 {
		t.Fatal("no jobs: ", err)
	}
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		list[strings.TrimSuffix(filepath.Base(path), ".toml")] = string(text)
	}
	for seed := 0; seed < sameMotifs; seed += every {
		kind, d := byhand.Seeded(seed)
		list[fmt.Sprintf("seed-%03d-%s", seed, strings.ReplaceAll(kind, " ", "-"))] = d.Write(byhand.Hand{})
	}
	return list
}

func TestCutsAreAsTheyWere(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Logf("the hashes were taken on amd64; elsewhere a product and a sum may be rounded as one")
	}
	every := 1
	switch os.Getenv("SAME") {
	case "":
		every = sameEvery
		if testing.Short() {
			every = sameShort
		}
	case "all", "record":
	default:
		t.Fatalf("SAME=%s is neither all nor record", os.Getenv("SAME"))
	}
	data, err := os.ReadFile(sameTable)
	if err != nil && os.Getenv("SAME") != "record" {
		t.Fatal(err)
	}
	kept := map[string][3]string{}
	for line := range strings.Lines(string(data)) {
		if f := strings.Fields(line); len(f) == 4 {
			kept[f[0]] = [3]string{f[1], f[2], f[3]}
		}
	}
	var mu sync.Mutex
	got := map[string][3]string{}
	t.Run("jobs", func(t *testing.T) {
		for name, text := range sameJobs(t, every) {
			t.Run(name, func(t *testing.T) {
				t.Parallel()
				hashes := cutsOf(t, buildOf(t, name, text))
				mu.Lock()
				got[name] = hashes
				mu.Unlock()
				for i, what := range []string{"the lines that are cut", "the programs' moves", "the panels' cuts and positions"} {
					if want := kept[name][i]; hashes[i] != want && os.Getenv("SAME") != "record" && runtime.GOARCH == "amd64" {
						t.Errorf("%s are others: %s, were %s", what, hashes[i], want)
					}
				}
			})
		}
	})
	if os.Getenv("SAME") == "record" && !t.Failed() {
		recordSame(t, got)
	}
}

// buildOf is a job's build; the examples', which other tests ask for too, is theirs.
func buildOf(t *testing.T, name, text string) build.Result {
	t.Helper()
	if !strings.HasPrefix(name, "seed-") {
		return whole(t, text).Result
	}
	r := build.Build("job.toml", []byte(text), os.ReadFile, build.Options{Only: build.Templates | build.Programs})
	if !r.OK() {
		t.Fatal(r.Findings.Err())
	}
	return r
}

func recordSame(t *testing.T, got map[string][3]string) {
	t.Helper()
	var b strings.Builder
	names := slices.SortedFunc(maps.Keys(got), cmp.Compare[string])
	for _, name := range names {
		h := got[name]
		fmt.Fprintf(&b, "%s\t%s\t%s\t%s\n", name, h[0], h[1], h[2])
	}
	if err := os.WriteFile(sameTable, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}
