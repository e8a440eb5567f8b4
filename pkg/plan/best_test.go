package plan

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"testing"

	"strapwork/pkg/groove"
	"strapwork/pkg/work"
)

// prefers are all preferences.
var prefers = []work.Prefer{work.PreferClean, work.PreferSetups, work.PreferPanels}

// A score counts what became of the plans of many motifs.
type score struct {
	sync.Mutex
	plans, ended, proved, beaten int
}

func (a *score) add(ended, proved, beaten bool) {
	a.Lock()
	defer a.Unlock()
	a.plans++
	for is, n := range map[*int]bool{&a.ended: ended, &a.proved: proved, &a.beaten: beaten} {
		if n {
			*is++
		}
	}
}

// How much of a question to the exact search is waited for, in failures.
const exactPatience = 20_000

// allMotifs is the number of motifs that plans are held to the exact search on.
const allMotifs = 200

// Plans of up to 14 cuts, for each preference, are what the exact search finds
// wherever they are said to be the best; where they aren't, the best is between
// the plan and its bounds. By itself it takes motifs here and there; MOTIFS=200
// takes all.
func TestPlanAgainstExactSearch(t *testing.T) {
	n := motifs(t, 40)
	var all score
	t.Run("motif", func(t *testing.T) {
		for i := range n {
			nth := i * allMotifs / n
			t.Run(strconv.Itoa(nth), func(t *testing.T) {
				t.Parallel()
				text, r := exactMotif(t, nth)
				checkAgainstExact(t, &r, &all)
				if t.Failed() {
					keep(t, fmt.Sprintf("motif-%d.toml", nth), text)
				}
			})
		}
	})
	t.Logf("%d plans: %d searched to the end, %d proved, %d not the best", all.plans, all.ended, all.proved, all.beaten)
	if all.ended*100 < 95*all.plans {
		t.Errorf("the exact search ended on %d plans of %d: too few", all.ended, all.plans)
	}
}

// motifs is how many motifs a test takes: n, or as many as the variable MOTIFS
// says, for a long look; -short takes a tenth.
func motifs(t *testing.T, n int) int {
	t.Helper()
	if testing.Short() {
		n /= 10
	}
	if s := os.Getenv("MOTIFS"); s != "" {
		var err error
		if n, err = strconv.Atoi(s); err != nil {
			t.Fatal(err)
		}
	}
	return n
}

// keep writes a file for whoever looks into a failure.
func keep(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(t.ArtifactDir(), name), []byte(text), 0o644); err != nil {
		t.Error(err)
	}
}

// finePlaces are all places at which the planner splits.
func finePlaces(g *groove.Groove, positions []Orientation) *atoms {
	length := 0.0
	for _, s := range g.Motif.Strands {
		length += s.Length()
	}
	return cutUp(g, positions, max(fineStep, length/manyAtoms), false)
}

// checkAgainstExact checks the plans of a motif, for each preference, against the
// best there are.
func checkAgainstExact(t *testing.T, r *ready, all *score) {
	at := finePlaces(&r.groove, positionsFor(paramsOf(r.job), &r.groove))
	x := newExact(t, at, at.positions, exactPatience)
	plans := map[work.Prefer]count{}
	for _, prefer := range prefers {
		r.job.Template.Prefer = prefer
		p := r.plan()
		checkPlan(t, &r.groove, p)
		got := p.count()
		got.openings = 0
		plans[prefer] = got
		if found, known := x.ask(wanted{got.panels, got.setUps, got.visible}); found == nil && known {
			t.Errorf("%v: the exact search knows no such plan as %+v", prefer, got)
		}
		want, ended := x.best(prefer, got)
		all.add(ended, p.Proved(), want != got)
		if want == got && ended {
			continue
		}
		best := want
		x.useAll = true
		want, ended = x.best(prefer, got)
		x.useAll = false
		if best != got {
			t.Logf("%v: the plan %+v is not the best: %+v; %+v if every opening is used wherever its panel is laid", prefer, got, best, want)
		}
		if want != got && p.Proved() {
			t.Errorf("%v: the plan %+v is said to be the best; there is %+v", prefer, got, want)
		}
		least := count{visible: p.LeastVisible, setUps: p.LeastSetUps, panels: p.LeastPanels}
		if ended && beatsBound(want, got, least, prefer) {
			t.Errorf("%v: the bounds %+v of the plan %+v are beaten by %+v", prefer, least, got, want)
		}
	}
	checkAims(t, plans)
}

// beatsBound reports whether a best plan is under the bound of what is preferred
// most of that in which it differs from a plan.
func beatsBound(best, plan, bound count, prefer work.Prefer) bool {
	a, b, c := inOrder(best, prefer), inOrder(plan, prefer), inOrder(bound, prefer)
	for i := range a {
		if a[i] < c[i] {
			return true
		}
		if a[i] != b[i] {
			return false
		}
	}
	return false
}

// inOrder are the numbers of a plan in the order in which they are to be small.
func inOrder(c count, prefer work.Prefer) [3]int {
	switch prefer {
	case work.PreferSetups:
		return [3]int{c.setUps, c.visible, c.panels}
	case work.PreferPanels:
		return [3]int{c.panels, c.visible, c.setUps}
	case work.PreferClean:
	}
	return [3]int{c.visible, c.setUps, c.panels}
}

// checkAims checks that no preference's plan is beaten by another's at its own
// aim, nor, where it is met, at what is preferred next.
func checkAims(t *testing.T, plans map[work.Prefer]count) {
	t.Helper()
	for _, own := range prefers {
		for _, other := range prefers {
			if better(plans[other], plans[own], own) {
				t.Errorf("%v: the plan %+v is beaten by %v: %+v", own, plans[own], other, plans[other])
			}
		}
	}
}
