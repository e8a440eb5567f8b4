package build

import (
	"bytes"
	"os"
	"testing"

	"strapwork/pkg/dryrun"
)

// TestSectionsFromMoves: what is made out from the moves of our own programs is
// what they were written for: each pass's lines lie on its strand, and every
// depth of every strand is there.
func TestSectionsFromMoves(t *testing.T) {
	for _, name := range []string{"hall-table.toml", "looped-triangle.toml"} {
		data, err := os.ReadFile("../../testdata/jobs/" + name)
		if err != nil {
			t.Fatal(err)
		}
		r := Build(name, data, nil, Options{Only: Programs})
		if !r.OK() {
			t.Fatal(r.Findings)
		}
		var steps []dryrun.Step
		for _, f := range r.Files {
			if f.Path == GroovePath {
				dryrun.Judge(bytes.NewReader(f.Data), r.Grooving.dialect(name), r.work(), func(s dryrun.Step) { steps = append(steps, s) })
			}
		}
		type pass struct {
			strand int
			depth  float64
		}
		strandOf, found := map[int]int{}, map[pass]bool{}
		list := r.sections(steps)
		for _, s := range list {
			found[pass{s.Strand, s.Depth}] = true
			for line := s.Line; line <= s.Last; line++ {
				strandOf[line] = s.Strand
			}
		}
		for _, s := range r.Grooving.Sections {
			if !found[pass{s.Strand, s.Depth}] {
				t.Errorf("%s: %s isn't found at a depth of %g mm", name, s.Name, s.Depth)
			}
			for line := s.Line; line <= s.Last; line++ {
				if got, ok := strandOf[line]; !ok || got != s.Strand {
					t.Errorf("%s:%d: on strand %d (%t), and was written for %d", name, line, got, ok, s.Strand)
				}
			}
		}
		if most := len(r.Grooving.Sections); len(list) > most || len(list) < len(found) {
			t.Errorf("%s: %d sections, of %d passes", name, len(list), most)
		}
	}
}
