package build

import (
	"fmt"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/job"
	"strapwork/pkg/work"
)

// edging is a plait 1.4 m long, of two waves that meet at both ends.
func edging(template, profile string) []byte {
	const radius = 43.02777777777778 // through 70 mm and a rise of 18: (35² + 18²) / 36
	var wave strings.Builder
	for i := range 20 {
		fmt.Fprintf(&wave, " a %v %v 0 0 %d 70 0", radius, radius, i%2)
	}
	return []byte("title = \"a table's edge\"\nunits = \"mm\"\n[motif]\nmirror = true\n[[motif.path]]\nname = \"wave\"\nd = \"M -700 0" + wave.String() + "\"\n" +
		"[inlay]\ndepth = 2.5\nwidth = 4.98\n[router]\nguide = \"bushing\"\nrider = 17\nbit = 4\ncollar = 6\n[template]\n" + template +
		"\n[board]\nsize = [1600, 400]\nthickness = 22\n[cutting]\nprofile = \"" + profile + "\"\nkerf_by = \"shop\"\n")
}

// Panels of three repeats are stepped along, and at every station the rider keeps within the
// groove. A step that the pattern has no room for is refused with the most that it has.
func TestSteps(t *testing.T) {
	r := Build("edging.toml", edging("step = 3", "router-2440x1220"), nil, Options{Only: Templates})
	if !r.OK() || !r.Proof.Holds() || r.Set.Plan.Step.Repeats != 3 || r.Set.Plan.Step.Pitch != geom.Pt(70, 0) {
		t.Fatalf("%+v, overcut %g: %v", r.Set.Plan.Step, r.Proof.OvercutMax, r.Findings)
	}
	if r.Proof.UncutMax > 1.2 || len(r.Set.Plan.SetUps) < 12 { // but for the tips at both ends nothing is left
		t.Errorf("%g mm are left in %d set-ups", r.Proof.UncutMax, len(r.Set.Plan.SetUps))
	}
	for _, s := range r.Set.Plan.SetUps {
		if n := s.Position.Shift.X / 210; s.Position.TurnDeg == 0 && geom.Pt(n, 0).Dist(geom.Pt(float64(int(n+0.5)), 0)) > 1e-9 {
			t.Errorf("set-up %d is shifted by %v", s.Number, s.Position.Shift)
		}
	}
	r = Check("edging.toml", edging("step = 9", "router-2440x1220"), nil, nil)
	if !hasRule(r.Findings, "step-long") {
		t.Errorf("steps of 9 repeats are planned: %v", r.Findings)
	}
	for _, f := range r.Findings {
		if f.Rule == "step-long" && (len(f.Cures) != 1 || f.Cures[0].Value != "8") {
			t.Errorf("the cures are %v", f.Cures)
		}
	}
}

// A bed too short for panels of the whole pattern has them stepped, as long as it takes, and
// whole: joints of panels come only where step = 0 says so.
func TestStepsForTheBed(t *testing.T) {
	r := Build("edging.toml", edging("", "laser-600x400"), nil, Options{Only: Templates})
	if !r.OK() || !r.Proof.Holds() || !hasRule(r.Findings, "plan-step") || r.Set.Plan.Step.Repeats < 3 {
		t.Fatalf("%+v, overcut %g: %v", r.Set.Plan.Step, r.Proof.OvercutMax, r.Findings)
	}
	longest := 0.0
	for _, p := range r.Set.Panels {
		longest = max(longest, p.Outline.Bounds().Size().X)
		if p.Division != nil {
			t.Errorf("panel %s is in parts", p.ID)
		}
	}
	if pitch := r.Set.Plan.Step.Pitch.X; longest > 600 || longest < 600-3*pitch {
		t.Errorf("the longest panel is %g mm on a bed of 600", longest)
	}
	if r = Check("edging.toml", edging("step = 0", "laser-600x400"), nil, nil); r.Set.Plan.Step.Repeats != 0 {
		t.Errorf("step = 0 steps by %d", r.Set.Plan.Step.Repeats)
	}
}

// The job's step is the plan's; what is left out isn't one until a bed asks for it.
func TestStepParams(t *testing.T) {
	for step, want := range map[string]int{"": 0, "step = 0": 0, "step = 4": 4} {
		j, found := job.Read("edging.toml", edging(step, "router-2440x1220"))
		if found.HasErrors() {
			t.Fatal(found)
		}
		if got := PlanParams(j).Step; got != want {
			t.Errorf("%q: %d", step, got)
		}
		if left := j.Template.Step == work.Stepped; left != (step == "") {
			t.Errorf("%q: left out is %v", step, left)
		}
	}
}
