package plan

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
)

// turning are motifs with turns, rings about the origin and off it among them.
func turning(n int) figure {
	return figure{copies: n, paths: []geom.Contour{
		geom.Circle(geom.Pt(0, 0), 150),
		bar(geom.Pt(-40, 120), geom.Pt(90, 190)),
		geom.Circle(geom.Pt(260, 0), 50),
	}}
}

// What every so-many-th turn is said to keep it keeps: split evenly, the stretches
// are images of one another under all of those turns, and each can be cut.
func TestSplitEvenly(t *testing.T) {
	for _, n := range []int{1, 3, 4, 6} {
		r := mustPrepare(t, turning(n).text(9)+inlay+bushing)
		at := cutUp(&r.groove, Symmetry(r.groove.Motif, false), math.Inf(1), true)
		at.relate()
		if at.turns() != n {
			t.Fatalf("%d turns, want %d", at.turns(), n)
		}
		for every := 1; every <= n; every++ {
			if n%every != 0 {
				continue
			}
			chosen := at.splitEvenly(every)
			if chosen == nil {
				t.Errorf("%d-fold, every %d: no splitting", n, every)
				continue
			}
			if len(chosen.positions) != n/every {
				t.Errorf("%d-fold, every %d: %d turns keep it, want %d", n, every, len(chosen.positions), n/every)
			}
			for i := range chosen.line {
				l := chosen.links[chosen.of[i]]
				if c := chosen.cut(heldRun{chosen.of[i], i - l.first, i - l.first + 1}); !r.groove.Follows(c) {
					t.Errorf("%d-fold, every %d: stretch %d can't be followed", n, every, i)
				}
			}
			for _, l := range chosen.links {
				if l.Ring && l.atoms < 2 {
					t.Errorf("%d-fold, every %d: a ring in %d stretches", n, every, l.atoms)
				}
			}
		}
	}
}

// Plans for large motifs are sound, on any motif, and no better than what is proved.
func TestLargePlans(t *testing.T) {
	for _, n := range []int{1, 4, 6} {
		r := mustPrepare(t, turning(n).text(9)+inlay+bushing)
		want := paramsOf(r.job)
		m := maker{g: &r.groove}
		m.large(m.cutUp(positionsFor(want, &r.groove), math.Inf(1), true))
		sol := bestOf(m.found, want.Prefer)
		if sol == nil {
			t.Errorf("%d-fold: no plan", n)
			continue
		}
		p := m.finish(sol)
		m.bound(&p, want.Prefer, len(positionsFor(want, &r.groove)))
		checkPlan(t, &r.groove, p)
		if better(p.count(), r.plan().count(), want.Prefer) {
			t.Errorf("%d-fold: %v is better than the plan that is made", n, p)
		}
	}
}

// The gap between crossings that holds a ring's start is one gap: half-way places of
// both gaps of a ring that a bar crosses (by hand).
func TestCandidatesOfARing(t *testing.T) {
	f := figure{paths: []geom.Contour{geom.Circle(geom.Pt(0, 0), 60), bar(geom.Pt(-100, 30), geom.Pt(100, 30))}}
	r := mustPrepare(t, f.text(9)+inlay+bushing)
	g := &r.groove
	ring := slices.IndexFunc(g.Motif.Strands, func(s motif.Strand) bool { return s.Contour.Closed })
	for parts, want := range map[int][]geom.Point{2: {geom.Pt(0, 60), geom.Pt(0, -60)}, 4: {geom.Polar(60, math.Pi/3), geom.Polar(60, -math.Pi/6), geom.Polar(60, -math.Pi*5/6)}} {
		got := candidates(g, g.Chains(ring)[0], parts)
		for _, p := range want {
			if !slices.ContainsFunc(got, func(s groove.Stop) bool { return s.At.Near(p, 1e-6) }) {
				t.Errorf("%d parts: no candidate at %v among %v", parts, p, got)
			}
		}
		for i, s := range got {
			if i > 0 && s.S-got[i-1].S < groove.PastSplit || s.S < 0 || s.S >= g.Motif.Strands[ring].Length() {
				t.Errorf("%d parts: candidate %d at %g", parts, i, s.S)
			}
		}
	}
}

// Of candidates that stand nearly at one place a hidden one is kept, then one at a
// kink, then the first.
func TestTidy(t *testing.T) {
	end := geom.Pt(100, 0).Add(geom.Polar(100, 0.45*math.Pi/180))
	f := figure{paths: []geom.Contour{geom.Chain(false, geom.Line(geom.Pt(0, 0), geom.Pt(100, 0)), geom.Line(geom.Pt(100, 0), end))}}
	r := mustPrepare(t, f.text(12)+inlay+base)
	kink := r.groove.SplitAt(0, 100, false)
	if !kink.AtKink() {
		t.Fatal("no kink")
	}
	plain := func(s float64) groove.Stop { return groove.Stop{S: s} }
	hidden := func(s float64) groove.Stop { return groove.Stop{S: s, Hidden: true} }
	for _, c := range []struct {
		stops []groove.Stop
		want  []float64
	}{
		{[]groove.Stop{plain(99), plain(20)}, []float64{20, 99}},
		{[]groove.Stop{plain(20), plain(20.4)}, []float64{20}},
		{[]groove.Stop{plain(20), plain(20.6)}, []float64{20, 20.6}},
		{[]groove.Stop{plain(20), hidden(20.4)}, []float64{20.4}},
		{[]groove.Stop{hidden(20), plain(20.4)}, []float64{20}},
		{[]groove.Stop{plain(99.8), kink}, []float64{100}},
		{[]groove.Stop{kink, plain(100.2)}, []float64{100}},
		{[]groove.Stop{hidden(99.8), kink}, []float64{99.8}},
		{[]groove.Stop{kink, hidden(100.2)}, []float64{100.2}},
	} {
		var got []float64
		for _, s := range tidy(c.stops) {
			got = append(got, s.S)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%v: kept %v, want %v", c.stops, got, c.want)
		}
	}
}

// Runs that are too long are one atom more than what is reached, and on a ring never
// more than all of it; the image of a run that runs the other way is from its other
// end (by hand).
func TestTooLongAndTurned(t *testing.T) {
	for _, c := range []struct {
		far  []int
		ring bool
		want string
	}{
		{[]int{2, 2, 1}, false, "[[0 1 2]]"},
		{[]int{3, 2, 1}, false, "[]"},
		{[]int{1, 1, 1}, false, "[[0 1] [1 2]]"},
		{[]int{1, 1, 1}, true, "[[0 1] [1 2] [2 0]]"},
		{[]int{3, 3, 3}, true, "[[0 1 2] [1 2 0] [2 0 1]]"},
	} {
		at := &atoms{links: []link{{atoms: 3, far: c.far}}}
		at.links[0].Ring = c.ring
		at.addTooLong(0)
		if got := fmt.Sprint(at.tooLong); got != c.want {
			t.Errorf("%v, ring %t: too long are %s, want %s", c.far, c.ring, got, c.want)
		}
	}
	at := &atoms{
		of: []int{0, 0, 0, 0}, links: []link{{atoms: 4}},
		image: [][]int{{0, 1, 2, 3}, {3, 2, 1, 0}},
	}
	for _, c := range []struct {
		run      heldRun
		position int
		want     heldRun
	}{
		{heldRun{0, 1, 3}, 0, heldRun{0, 1, 3}},
		{heldRun{0, 0, 3}, 1, heldRun{0, 1, 4}},
		{heldRun{0, 0, 1}, 1, heldRun{0, 3, 4}},
	} {
		if got := at.turned(c.run, c.position); got != c.want {
			t.Errorf("%v in position %d: %v, want %v", c.run, c.position, got, c.want)
		}
	}
}
