package plan

import (
	"testing"

	"strapwork/pkg/groove"
)

// A split under a crossing that is the other way round at another station would be seen
// there: where a plan of the box lid hides one, it no longer does once that is said, and
// with all said it hides none.
func TestShownAtAnotherStation(t *testing.T) {
	r := fromFile(t, "box-lid")
	plain := r.plan()
	if plain.Hidden == 0 {
		t.Fatal("the plan hides no split")
	}
	var hid groove.Stop
	strand := 0
	for _, c := range plain.Cuts() {
		if c.To.Hidden {
			hid, strand = c.To, c.Strand
		}
	}
	show := func(all bool) int {
		n := 0
		w := &r.groove.Weave
		for i := range w.Crossings {
			c := &w.Crossings[i]
			if !all && !c.At.Near(hid.At, 0.001) {
				continue
			}
			n++
			for k := range c.Visits {
				c.Visits[k].Shown = true
				for j, v := range w.Visits[c.Visits[k].Strand] {
					if v.Crossing == i {
						w.Visits[v.Strand][j].Shown = true
					}
				}
			}
		}
		cuts, _ := Split(&r.groove)
		r.cuts = cuts
		return n
	}
	if n := show(false); n != 1 {
		t.Fatalf("%d crossings at the split", n)
	}
	p := r.plan()
	checkPlan(t, &r.groove, p)
	for _, c := range p.Cuts() {
		for _, s := range [2]groove.Stop{c.From, c.To} {
			if c.Strand == strand && s.Kind == groove.StopSplit && s.Hidden && s.At.Near(hid.At, 0.01) {
				t.Errorf("%s ends under the crossing at %v, which is shown elsewhere", c.Name, s.At)
			}
		}
	}
	show(true)
	if p = r.plan(); p.Hidden != 0 || p.Visible <= plain.Visible {
		t.Errorf("%d hidden and %d visible splits where each would be seen somewhere; %d and %d before", p.Hidden, p.Visible, plain.Hidden, plain.Visible)
	}
	checkPlan(t, &r.groove, p)
}
