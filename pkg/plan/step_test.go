package plan

import (
	"fmt"
	"math"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// stepped plans a job with steps of so many repeats.
func stepped(r *ready, repeats int, turn bool) Plan {
	want := paramsOf(r.job)
	want.Step, want.Turn = repeats, turn
	return Make(want, &r.groove, r.cuts)
}

// repeating are motifs that repeat: their text, and how many openings must cross in every
// repeat (a clique by hand: strands that cross one another).
var repeating = []struct {
	name, text string
	clique     int
}{
	{"waves", waves(20, 70, 18, 0, 9), 2},
	{"rounded waves", waves(20, 70, 18, 0.004, 2), 2},
	{"plait of three", "[motif]\n[[motif.plait]]\nstrands = 3\nlength = 32\ncell = 40\n", 2},
	{"closed plait", "[motif]\n[[motif.plait]]\nstrands = 4\nlength = 32\ncell = 40\nends = \"closed\"\n", 2},
	{"guilloche", "[motif]\n[[motif.guilloche]]\neyes = 16\npitch = 60\n", 2},
	{"fret", "[motif]\n[[motif.fret]]\nacross = 11\ncell = 25\n", 2},
	{"rings", "[motif]\n[[motif.circle]]\nname = \"ring\"\ncenter = [10, 20]\nradius = 42\n[[motif.group]]\nof = [\"ring\"]\nrepeat = [14, 70, 0]\n", 2},
	{"lines and rungs", "[motif]\n[[motif.line]]\nname = \"a\"\nfrom = [0, -40]\nto = [1200, -40]\n[[motif.line]]\nname = \"b\"\nfrom = [0, 40]\nto = [1200, 40]\n" +
		"[[motif.line]]\nname = \"rung\"\nfrom = [15, -70]\nto = [25, 70]\n[[motif.group]]\nof = [\"rung\"]\nrepeat = [30, 40, 0]\n", 2},
	{"plain lines and rings", "[motif]\n[[motif.line]]\nname = \"a\"\nfrom = [0, -60]\nto = [1200, -60]\n[[motif.line]]\nname = \"b\"\nfrom = [0, 60]\nto = [1200, 60]\n" +
		"[[motif.circle]]\nname = \"ring\"\ncenter = [50, 0]\nradius = 30\n[[motif.group]]\nof = [\"ring\"]\nrepeat = [12, 100, 0]\n", 1},
	{"slanting", "[motif]\n[[motif.plait]]\nstrands = 3\nlength = 32\ncell = 40\nturn = 30\ncenter = [100, 50]\n", 2},
}

// Plans with steps are plans like others; every panel is laid at equal steps, or at an end.
func TestSteppedPlans(t *testing.T) {
	for _, c := range repeating {
		r := mustPrepare(t, c.text+collars)
		for _, turn := range []bool{false, true} {
			p := stepped(&r, 3, turn)
			if len(p.Panels) == 0 {
				t.Errorf("%s: no plan", c.name)
				continue
			}
			checkPlan(t, &r.groove, p)
			stations := checkStations(t, p)
			if stations < leastStations || len(p.SetUps) < c.clique*stations {
				t.Errorf("%s: %d set-ups at %d stations", c.name, len(p.SetUps), stations)
			}
			if p.LeastSetUps < c.clique*stations {
				t.Errorf("%s: at least %d set-ups at %d stations, where %d cuts cross at each", c.name, p.LeastSetUps, stations, c.clique)
			}
		}
	}
}

// checkStations checks that panels are laid by whole steps, and counts the most stations of one.
func checkStations(t *testing.T, p Plan) int {
	t.Helper()
	most := 0
	for _, q := range p.Panels {
		ways := map[Orientation]int{}
		for _, pos := range q.Positions {
			way := Orientation{TurnDeg: pos.TurnDeg, Flip: pos.Flip}
			ways[way]++
			most = max(most, ways[way])
			if way == (Orientation{}) {
				n := pos.Shift.Dot(p.Step.Shift()) / p.Step.Shift().Dot(p.Step.Shift())
				if math.Abs(n-math.Round(n)) > 1e-9 || pos.Shift.Dist(p.Step.Shift().Scale(math.Round(n))) > 1e-9 {
					t.Errorf("panel %s is shifted by %v, which is no whole step of %v", q.ID, pos.Shift, p.Step.Shift())
				}
			}
		}
	}
	return most
}

// A plait of two waves takes two set-ups a station, since the waves cross at each, and two
// at either end, all splits under crossings. Of h half waves the rows of atoms reach h - 1
// repeats, less what the first begins later in its repeat than the last ends, and what a
// panel holds may be a repeat longer than a step: floor((h - 2.75) / n) stations (worked by
// hand). Numbers rounded to 0.01 mm change nothing.
func TestStationsOfWaves(t *testing.T) {
	for _, halves := range []int{13, 20, 35} {
		exact := mustPrepare(t, waves(halves, 70, 18, 0, 9)+collars)
		rounded := mustPrepare(t, waves(halves, 70, 18, 0.004, 2)+collars)
		for _, n := range []int{3, 5} {
			stations := int(math.Floor((float64(halves) - 2.75) / float64(n)))
			for _, r := range []*ready{&exact, &rounded} {
				p := stepped(r, n, false)
				if got := checkStations(t, p); got != stations || len(p.SetUps) != 2*stations+4 || p.Visible != 0 {
					t.Errorf("%d half waves by %d: %d stations, %v; want %d and %d set-ups", halves, n, got, p, stations, 2*stations+4)
				}
				if p.Step.Pitch.Dist(geom.Pt(70, 0)) > evenPitch/5 || p.Step.Repeats != n {
					t.Errorf("%d half waves by %d: %+v", halves, n, p.Step)
				}
			}
		}
	}
}

// What panels of three repeats let the bit reach, at all their stations and at the ends, is
// what panels of the whole 1.4 m plait do, to 0.01 mm.
func TestStepsReachTheWhole(t *testing.T) {
	r := mustPrepare(t, waves(20, 70, 18, 0, 9)+collars)
	reach := func(p Plan) region.Region {
		var all []region.Region
		for _, u := range p.SetUps {
			for _, c := range p.Panels[u.Panel].Cuts {
				all = append(all, r.groove.Size.Swept(r.groove.Opening(c), 0).Transform(u.Position.Similarity()))
			}
		}
		return region.Union(all...)
	}
	const near = 0.01
	whole, steps := reach(r.plan()), reach(stepped(&r, 3, true))
	for name, off := range map[string]region.Region{
		"beyond": region.Subtract(steps, whole.Grow(near)),
		"left":   region.Subtract(whole, steps.Grow(near)),
	} {
		if a := off.Area(); a > 0 {
			t.Errorf("%s: %.6f mm²", name, a)
		}
	}
	if a, b := whole.Area(), steps.Area(); math.Abs(a-b) > near || a < 10_000 {
		t.Errorf("they reach %.4f and %.4f mm²", a, b)
	}
}

// A motif without a pitch has no stepped plan, and one that is too short for a step neither;
// the most that there is room for is planned.
func TestStepsThatAreRefused(t *testing.T) {
	knot := fromFile(t, "knot-lid")
	if p := stepped(&knot, 1, true); len(p.Panels) > 0 || MostRepeats(Params{}, &knot.groove) != 0 {
		t.Errorf("a knot has panels that are stepped: %v", p)
	}
	r := mustPrepare(t, waves(20, 70, 18, 0, 9)+collars)
	most := MostRepeats(Params{}, &r.groove)
	if most != 8 { // two stations: floor((20 - 2.75) / 2)
		t.Errorf("the most repeats are %d", most)
	}
	if p := stepped(&r, most, true); len(p.Panels) == 0 {
		t.Errorf("steps of %d have no plan", most)
	}
	if p := stepped(&r, most+1, true); len(p.Panels) > 0 {
		t.Errorf("steps of %d have a plan: %v", most+1, p)
	}
}

// A motif shifted by its pitch is off itself by rounding, whatever its ends do; shifted by
// a little more, by as much.
func TestOffAShift(t *testing.T) {
	r := mustPrepare(t, waves(20, 70, 18, 0, 9)+collars)
	for shift, want := range map[float64]float64{140: 0, 140.005: 0.005} {
		if got := Off(r.groove.Motif, Orientation{Shift: geom.Pt(shift, 0)}); math.Abs(got-want) > 1e-6 {
			t.Errorf("shifted by %g it is off by %g, want %g", shift, got, want)
		}
	}
}

// Positions one after another do what they do one after another.
func TestThen(t *testing.T) {
	all := []Orientation{{}, {TurnDeg: 180, Shift: geom.Pt(10, 4)}, {TurnDeg: 60, Flip: true, Shift: geom.Pt(-3, 2)}, {Flip: true}, {TurnDeg: 90}}
	p := geom.Pt(5, -7)
	for _, a := range all {
		for _, b := range all {
			if got, want := a.then(b).Similarity().Apply(p), b.Similarity().Apply(a.Similarity().Apply(p)); !got.Near(want, 1e-9) {
				t.Errorf("%v then %v takes %v to %v, want %v", a, b, p, got, want)
			}
		}
	}
}

// BenchmarkSteps plans a 2.4 m plait with steps. Besides the time it says the set-ups and
// their bound.
func BenchmarkSteps(b *testing.B) {
	r := mustPrepare(b, "[motif]\n[[motif.plait]]\nstrands = 4\nlength = 136\ncell = 35\nends = \"closed\"\n"+collars)
	for _, n := range []int{3, 19} {
		b.Run(fmt.Sprintf("repeats=%d", n), func(b *testing.B) {
			var p Plan
			for b.Loop() {
				p = stepped(&r, n, true)
			}
			b.ReportMetric(float64(len(p.SetUps)), "setups")
			b.ReportMetric(float64(p.LeastSetUps), "bound")
			b.ReportMetric(float64(len(p.Panels)), "panels")
		})
	}
}
