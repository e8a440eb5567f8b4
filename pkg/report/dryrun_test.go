package report

import (
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/dryrun"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// Whatever is found or not, and in whichever part, no line of the verdict sounds
// clean beside another that isn't: over all combinations, what each line may say
// is worked out again from the report alone.
func TestVerdictContradictsNothing(t *testing.T) {
	seen := map[string]bool{}
	for bits := range 1 << 9 {
		has := func(i int) bool { return bits>>i&1 == 1 }
		errors, warnings, gouge, missed, chisel := has(0), has(1), has(2), has(3), has(4)
		partial, broken, unseen, cuts := has(5), has(6), has(7), has(8)
		r := dryrun.Report{Blocks: 7, Totals: dryrun.Totals{Seconds: 5, Cut: geom.EmptyBox(), Extents: geom.EmptyBox()}, Partial: partial, Broken: broken, Unseen: unseen}
		if cuts {
			r.Cut = geom.Box{Max: geom.Pt(10, 10)}
		}
		if gouge { // each a fault, and of a program that cuts
			r.GougeMax = dryrun.Deviation{Amount: 0.05, Line: 3}
			errors, r.Cut = true, geom.Box{Max: geom.Pt(10, 10)}
		}
		if missed {
			r.Left = append(r.Left, dryrun.Deviation{Area: 3})
			r.LeftArea, r.MissedArea, errors = 3, 3, true
		}
		if chisel {
			r.Left = append(r.Left, dryrun.Deviation{Area: 2, Chisel: true})
			r.LeftArea += 2
		}
		errors = errors || broken // a line that can't be read is one
		if errors {
			r.Findings.ErrorAt(diag.Position{Line: 3}, "too-deep", "cuts too deep").Hintf("look")
		}
		if warnings {
			r.Findings.WarnAt(diag.Position{Line: 4}, "no-dwell", "no dwell").Hintf("wait")
		}
		text := dryRunText(t, r, unit.MM)
		lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
		for _, l := range lines {
			seen[l] = true
		}
		holds := func(what string, want bool) {
			t.Helper()
			if got := strings.Contains(text, what); got != want {
				t.Errorf("%09b: %q is %v, want %v, in\n%s", bits, what, got, want, text)
			}
		}
		last := lines[len(lines)-1]
		if strings.Contains(last, "do not cut") != errors || strings.Contains(last, "no fault") == errors || strings.Contains(last, "warning") != (warnings && !errors) {
			t.Errorf("%09b: %s", bits, last)
		}
		holds("no overcut", !gouge && !r.Cut.Empty())
		holds("no overcut sideways\n", !gouge && !r.Cut.Empty() && !broken)
		holds("overcut sideways: at most", gouge)
		holds("nothing is cut", r.Cut.Empty())
		holds("nothing of the groove is left uncut", !partial && !missed && !chisel)
		holds("of the groove is left uncut in", !partial && (missed || chisel))
		holds("that is for the chisel", !partial && chisel && !missed)
		holds("the bit could reach", !partial && missed && !broken)
		holds("was not checked", partial)
		holds("and not against all of the spindle's body", unseen)
		for _, clean := range []string{"nothing beyond", "no fault found: "} {
			if strings.Contains(text, clean) && (errors || warnings) {
				t.Errorf("%09b: %q in\n%s", bits, clean, text)
			}
		}
	}
	if len(seen) < 12 {
		t.Errorf("only %d different lines: too few to tell", len(seen))
	}
}

// The summary speaks the program's units where it states some, whatever the job's.
func TestDryRunTextUnits(t *testing.T) {
	r := dryrun.Report{
		Blocks: 7, Units: unit.Inch, HasUnits: true, Left: []dryrun.Deviation{{Area: 645.16}},
		Totals: dryrun.Totals{
			Length: 254, Extents: geom.Box{Max: geom.Pt(25.4, 50.8)}, Lowest: -2.54, Highest: 12.7,
			Cut: geom.Box{Max: geom.Pt(25.4, 50.8)}, LeftArea: 645.16, MissedArea: 645.16,
		},
		GougeMax: dryrun.Deviation{Amount: 1.27, Line: 4},
	}
	for _, u := range []unit.System{unit.MM, unit.Inch} {
		text := dryRunText(t, r, u)
		for _, want := range []string{"from (0, 0) to (1, 2) in, Z from -0.1 to 0.5 in", "at most 0.05 in, at (0, 0) in", "\n1 in² of the groove"} {
			if !strings.Contains(text, want) {
				t.Errorf("no %q in\n%s", want, text)
			}
		}
	}
	r.HasUnits = false
	if text := dryRunText(t, r, unit.MM); !strings.Contains(text, "to (25.4, 50.8) mm") {
		t.Error(text)
	}
}

func dryRunText(t *testing.T, r dryrun.Report, u unit.System) string {
	t.Helper()
	text, err := DryRunText(r, u)
	if err != nil {
		t.Fatal(err)
	}
	return text
}
