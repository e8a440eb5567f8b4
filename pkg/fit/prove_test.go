package fit_test

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/fit"
	"strapwork/pkg/received"
	"strapwork/pkg/unit"
)

// checked is a job of testdata as far as its panels.
func checked(t *testing.T, name string) build.Result {
	t.Helper()
	data, err := os.ReadFile("../../testdata/jobs/" + name)
	if err != nil {
		t.Fatal(err)
	}
	r := build.Check(name, data, os.ReadFile, nil)
	if r.Reached != build.Planned {
		t.Fatal(r.Findings)
	}
	return r
}

// measuredAs fills a job's card in: strips thicker than planned by so much each, and each
// groove wider by some of a few amounts.
func measuredAs(r build.Result, strips float64, grooves ...float64) (fit.Plan, error) {
	ways := fit.Ways(r.Set, r.Groove.Size, r.Motif)
	var b strings.Builder
	for _, s := range r.Job.Inlay.Strips {
		fmt.Fprintf(&b, "[[strip]]\nmaterial = %q\nthickness = %v\n", s.Material, s.Thickness+strips)
	}
	for i, w := range ways {
		fmt.Fprintf(&b, "[[groove]]\ncut = %q\nwidth = %v\n", w.ID, r.Job.Inlay.Width+grooves[i%len(grooves)])
	}
	card, found := fit.Read("card.toml", []byte(b.String()), unit.MM, r.Job.Inlay, ways)
	if len(found) > 0 {
		return fit.Plan{}, found
	}
	plan, found := fit.Of(build.FitParams(r.Job), card, ways)
	if found.HasErrors() {
		return plan, found
	}
	return plan, nil
}

// The rider rolled in the walls as they are to be finds what the plan expects, to a
// thousandth of a millimetre: tape even and uneven, a file, thin strips and thick ones. A
// plan that says otherwise is found out.
func TestProve(t *testing.T) {
	for _, name := range []string{"looped-triangle.toml", "box-lid.toml"} {
		r := checked(t, name)
		for _, c := range []struct {
			strips  float64
			grooves []float64
		}{
			{0, []float64{0.12, 0.2, 0.26}},
			{0, []float64{0.06, 0.16, 0}},
			{-0.05, []float64{0, 0.01}},
			{0.02, []float64{0.06, 0.13, -0.2}},
			{0.1, []float64{0.38, 0.46, 0.41}}, // tracks wider all round, whose ends' corners are round
		} {
			plan, err := measuredAs(r, c.strips, c.grooves...)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			check, found := fit.Prove(r.Groove, r.Set, plan)
			if len(found) > 0 || check.Width != plan.Wanted() {
				t.Errorf("%s, %+v: %+v, %v", name, c, check, found)
			}
			most := 0.0
			for _, g := range plan.Grooves {
				most = math.Max(most, math.Abs(g.Tight-plan.Clearance)/2+math.Abs(g.Tape.Shift()))
			}
			if math.Abs(check.Expected-most) > 1e-9 || most > 0.011 && math.Max(check.Overcut, check.Missed) < most-0.002 { // less isn't called missed
				t.Errorf("%s, %+v: %+v, where the worst wall is out by %v", name, c, check, most)
			}
			if c.strips != 0 {
				continue
			}
			// A layer of 0.13 mm that isn't there: the wall is out by as much.
			plan.Grooves[0].Narrow += 0.13
			if check, found = fit.Prove(r.Groove, r.Set, plan); len(found) != 1 || found[0].Rule != "fit-unproved" || check.Overcut < 0.05 {
				t.Errorf("%s: a plan that is wrong passes: %+v, %v", name, check, found)
			}
		}
	}
}

// Every track's cuts lead to it, by number, by name and by its own.
func TestWays(t *testing.T) {
	for _, name := range []string{"looped-triangle.toml", "box-lid.toml"} {
		leads(t, checked(t, name))
	}
}

func leads(t *testing.T, r build.Result) {
	t.Helper()
	ways := fit.Ways(r.Set, r.Groove.Size, r.Motif)
	tracks := received.Openings(r.Set, r.Groove.Size)
	if len(ways) != len(tracks) {
		t.Fatalf("%d ways, %d tracks", len(ways), len(tracks))
	}
	for i, w := range ways {
		var cuts []string
		for _, c := range tracks[i].Cuts {
			cuts = append(cuts, fmt.Sprint(c.Number))
		}
		for _, n := range w.Names {
			cuts = append(cuts, fmt.Sprintf("%q", n))
		}
		for _, cut := range append(cuts, fmt.Sprintf("%q", strings.ToLower(w.ID))) {
			card, found := fit.Read("c", []byte("[[groove]]\ncut = "+cut+"\nwidth = 9\n"), unit.MM, r.Job.Inlay, ways)
			_, judged := fit.Of(build.FitParams(r.Job), card, ways)
			if len(found) > 0 || strings.Contains(judged.Error(), "(track "+w.ID+") is not measured") {
				t.Errorf("cut %s isn't %s: %v", cut, w.ID, found)
			}
		}
	}
}
