package report

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/geom"
	"strapwork/pkg/plan"
)

func names(s plan.SetUp) []string {
	var list []string
	for _, c := range s.Made() {
		list = append(list, c.Cut.Name)
	}
	slices.Sort(list)
	return list
}

// The looped triangle is the same after a third of a turn, so one panel laid in
// three positions makes all three cuts, each once.
func TestOrderOfWorkTurns(t *testing.T) {
	r := whole(t, loopedTriangle)
	want := []string{}
	for _, c := range r.Cuts {
		want = append(want, c.Name)
	}
	slices.Sort(want)
	order := r.Set.Plan.SetUps
	var got []string
	for i, s := range order {
		got = append(got, names(s)...)
		if s.Number != i+1 || s.Place != i+1 || len(s.Made()) != 1 {
			t.Errorf("set-up %d is numbered %d, position %d, with %d cuts", i+1, s.Number, s.Place, len(s.Made()))
		}
	}
	slices.Sort(got)
	if d := cmp.Diff(want, got); d != "" || len(want) != 3 {
		t.Errorf("with one panel turned (-want +got):\n%s", d)
	}
	text := r.sheet
	for _, w := range []string{
		"| 2: turned 120° | [ ] 2 A1 |", "(or the arrow with the set-up's number) toward the work's upper edge (turned: to the left)",
	} {
		if !strings.Contains(flat(text), w) {
			t.Errorf("the sheet lacks %q", w)
		}
	}
	if strings.Contains(text, "with no panel turned") {
		t.Error("the sheet speaks of plans without turning")
	}
	for _, c := range r.facts.Cuts {
		if c.Panel != "A" || c.SetUp < 1 || c.SetUp > 3 {
			t.Errorf("%s is made by panel %q in set-up %d", c.Name, c.Panel, c.SetUp)
		}
	}
}

// A panel that is laid at a quarter turn is laid by its picture's edge, and one that is
// shifted by as much as the job's units say.
func TestLayTextNamesTheEdge(t *testing.T) {
	r := whole(t, loopedTriangle).Result
	r.Set.Plan.SetUps = slices.Clone(r.Set.Plan.SetUps)
	r.Set.Plan.SetUps[1].Position.TurnDeg = 90
	r.Set.Plan.SetUps[2].Position = plan.Orientation{Shift: geom.Pt(360, 0)}
	text := flat(reported(t, r).sheet)
	for _, want := range []string{"| 2: right", "| 3: upper, shifted 360 mm to the right"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q lacks %q", text, want)
		}
	}
}

func TestPilotStaysInTheGroove(t *testing.T) {
	r := whole(t, inches)
	for _, s := range r.Set.Plan.SetUps {
		for _, c := range s.Made() {
			hole := geom.Polar(r.Groove.Size.Width/2, 0)
			for i := range 64 { // the widest hole that the sheet allows
				p := c.Pilot.Add(hole.Turn(float64(i)))
				if d := r.Groove.Area().Dist(p); d > geom.Coincident*10 {
					t.Fatalf("%s: a pilot hole at %v breaks out of the groove by %v mm", c.Cut.Name, c.Pilot, d)
				}
			}
		}
	}
}

func TestSplits(t *testing.T) {
	for name, r := range examples(t) {
		ends := 0
		for _, c := range r.Cuts {
			for _, s := range []fmt.Stringer{c.From.Kind, c.To.Kind} {
				if s.String() == "split" {
					ends++
				}
			}
		}
		all := r.facts.Splits
		if 2*len(all) != ends {
			t.Errorf("%s: %d splits of %d cuts' ends", name, len(all), ends)
		}
		for _, s := range all {
			if len(s.Cuts) < 1 || s.Hidden != (s.Under != "") {
				t.Errorf("%s: the split at %v joins %v, hidden %v under %q", name, s.At, s.Cuts, s.Hidden, s.Under)
			}
		}
	}
}

func TestWithoutLines(t *testing.T) {
	for in, want := range map[string]string{
		"corner of bar.1 (line 12) and bar.2 (line 3)": "corner of bar.1 and bar.2",
		"end of a (line )":             "end of a (line )",
		"end of a (line 1b) (line 22)": "end of a (line 1b)",
		"":                             "",
	} {
		if got := withoutLines(in); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}
