package report

import (
	"fmt"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/unit"
)

// TestSetupTellsTheProgram: what the sheet says of the program is what the
// program is: each strand can be started at the line that is given, which is its
// comment, right before its units; the places are the program's.
func TestSetupTellsTheProgram(t *testing.T) {
	for name, r := range examples(t) {
		text := fileOf(t, r.withOwn(), MachinePath)
		var lines []string
		for _, f := range r.Files {
			if f.Path == build.GroovePath {
				lines = strings.Split(string(f.Data), "\n")
			}
		}
		if len(lines) == 0 || text == "" {
			t.Fatalf("%s: no program, or nothing is said of it", name)
		}
		w := words{r.Job.Units}
		start := map[int]int{}
		for _, s := range r.Grooving.Sections {
			start[s.Strand] = s.Start
		}
		for i, run := range r.Grooving.Plan.Runs {
			at := start[run.Strand]
			if !strings.HasPrefix(lines[at-1], "("+run.Name+", ") || !strings.HasPrefix(lines[at], "G2") {
				t.Errorf("%s: %s starts at line %d, %q", name, run.Name, at, lines[at-1])
			}
			row := strings.Join(strings.Fields(fmt.Sprintf("| %d | %s | %d | %s |", i+1, plain(run.Name), at, w.place(toXY(r.Grooving.Shift.Point(run.Start))))), " ")
			if !strings.Contains(strings.Join(strings.Fields(text), " "), row) {
				t.Errorf("%s: there is no row %q in\n%s", name, row, text)
			}
		}
		for _, want := range []string{
			"Run time about " + unit.Duration(r.Grooving.Run.Seconds), "program/perimeter.nc", "program/coupon.nc", "in the air", "Stay at the machine", "emergency stop", "Manuals, local rules and trained people come before this sheet",
		} {
			if !strings.Contains(flat(text), want) {
				t.Errorf("%s: the section doesn't say %q", name, want)
			}
		}
	}
}

// TestSetupWithoutProgram: a build without programs says nothing of them.
func TestSetupWithoutProgram(t *testing.T) {
	r := whole(t, loopedTriangle).Result
	var kept []build.File
	for _, f := range r.Files {
		if f.Kind != build.Program {
			kept = append(kept, f)
		}
	}
	r.Files = kept
	if text := reported(t, r).sheet; strings.Contains(text, "machine.md") || strings.Contains(text, "groove.nc") {
		t.Error("the sheet tells of a program that isn't there")
	}
}

// TestSetupTellsTheParts: programs that cut some of the groove are named in the
// order in which they are run, with what must have been run before each.
func TestSetupTellsTheParts(t *testing.T) {
	for more, wants := range map[string][]string{
		`split = "depth"` + "\nstep = 1.2": {
			"one after the other and all from the same zero: `program/depth-1.nc`, `program/depth-2.nc` (starts 1 mm deep: run depth-1.nc before it), " +
				"`program/depth-3.nc` (starts 2 mm deep: run depth-1.nc to depth-2.nc before it).",
		},
		`split = "strand"`: {"in any order: `program/strand-1-s1.nc`."},
	} {
		r := drawn(t, loopedTriangle+"\n[program]\n"+more+"\n")
		text := flat(fileOf(t, r.withOwn(), MachinePath))
		for _, want := range wants {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the section doesn't say %q:\n%s", more, want, text)
			}
		}
	}
}
