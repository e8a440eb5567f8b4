package job_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/job"
	"strapwork/pkg/unit"
)

// TestNumbersAreBreaks: every number that is shown can be typed as a break, and no other
// pair of half cells can; one that is broken is called as it was typed.
func TestNumbersAreBreaks(t *testing.T) {
	for _, p := range []struct {
		family, keys  string
		across, up, n int
	}{
		{"panel", "across = 4\nup = 3\ncell = 24", 4, 3, 2*4*3 - 4 - 3}, // Fisher and Mellor, Bridges 2004
		// A cell shares a side with the next on its way round: one crossing each (derived).
		{"border", "across = 5\nup = 4\ncell = 24\nturn = 30", 5, 4, 2 * (5 + 4 - 2)},
	} {
		shown := map[string]bool{}
		numbers := read(t, familyJob(unit.MM, p.family, p.keys)).Motif.Numbers
		for _, n := range numbers[0].Places {
			shown[n.Text] = true
		}
		if len(numbers) != 1 || len(shown) != p.n {
			t.Errorf("%s: %d patterns, %d crossings are numbered, want %d", p.family, len(numbers), len(shown), p.n)
		}
		for y := -1; y <= 2*p.up+1; y++ {
			for x := -1; x <= 2*p.across+1; x++ {
				at := fmt.Sprintf("%d,%d", x, y)
				j, found := job.Read("job.toml", []byte(familyJob(unit.MM, p.family, p.keys+fmt.Sprintf("\nbreaks = [\"%s -\"]", at))))
				if accepted := j != nil; accepted != shown[at] {
					t.Errorf("%s: %s is numbered: %v, and accepted: %v (%v)", p.family, at, shown[at], accepted, found)
				} else if !accepted {
					continue
				}
				broken := 0
				for _, n := range j.Motif.Numbers[0].Places {
					if n.Text == at+" -" && n.To != n.At {
						broken++
					}
				}
				if broken != 1 || len(j.Motif.Numbers[0].Places) != p.n {
					t.Errorf("%s: %s - is shown %d times as broken", p.family, at, broken)
				}
			}
		}
	}
}

// TestNumbersLieOnCrossings: wherever a pattern is placed, turned and copied, its strands
// as drawn cross where its numbers are.
func TestNumbersLieOnCrossings(t *testing.T) {
	text := strings.Replace(familyJob(unit.MM, "panel", "name = \"knot\"\nacross = 3\nup = 2\ncell = 30\nturn = 30\ncenter = [200, 10]"),
		"[inlay]", "[[motif.group]]\nof = [\"knot\"]\nat = [40, -70]\nturn = 20\nscale = 1.5\ncopies = 2\n[inlay]", 1)
	m := read(t, text).Motif
	var edges []geom.Edge
	for _, e := range m.Elements {
		edges = append(edges, e.Contour.Edges()...)
	}
	if len(m.Numbers) != 1 || len(m.Numbers[0].Places) != 7 {
		t.Fatalf("numbers: %v", m.Numbers)
	}
	for _, n := range m.Numbers[0].Places {
		through := 0
		for _, e := range edges {
			if e.Dist(n.At) < 1e-9 {
				through++
			}
		}
		if through != 2 {
			t.Errorf("%d lines go through %s at %v, want 2", through, n.Text, n.At)
		}
	}
	// 3 x 2 cells have 5 columns and 3 rows within the rim, and span their sides.
	if len(m.Numbers[0].Rims) != 8 {
		t.Errorf("columns and rows: %v", m.Numbers[0].Rims)
	}
	for i, n := range m.Numbers[0].Rims {
		want := 2 * 45.0
		if i >= 5 {
			want = 3 * 45
		}
		if far := n.At.Dist(n.To); math.Abs(far-want) > 1e-9 {
			t.Errorf("%s is %g mm long, want %g", n.Text, far, want)
		}
	}
}
