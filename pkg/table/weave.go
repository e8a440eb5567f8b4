package table

import (
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
)

// weave decides over and under.
func (t *Table) weave(found *diag.Findings) {
	w, _ := weave.Build(t.Top, t.Weaving)
	for i := range t.Weave.Crossings {
		if i < len(w.Crossings) {
			t.Weave.Crossings[i].Visits = w.Crossings[i].Visits
		}
	}
	t.Weave = weave.New(len(t.Top.Strands), t.Weave.Crossings, t.Weave.Tees)
	_ = found
}

// OfMotif is the motif's own weave: its crossings as they are at the first station.
func (t Table) OfMotif(m motif.Motif, w weave.Weave) weave.Weave {
	crossings := slices.Clone(w.Crossings)
	for i := range crossings {
		c := &crossings[i]
		at := c.At.Add(t.Stations[0].At)
		for _, top := range t.Weave.Crossings {
			if !top.At.Near(at, likeness) {
				continue
			}
			_, u := m.Strands[c.Visits[0].Strand].Contour.At(c.Visits[0].S)
			_, v := t.Top.Strands[top.Visits[0].Strand].Contour.At(top.Visits[0].S)
			over := top.Visits[0].Over
			if math.Abs(u.Cross(v)) > math.Sin(top.Angle)/2 {
				over = !over
			}
			c.Visits[0].Over, c.Visits[1].Over = over, !over
		}
	}
	return weave.New(len(m.Strands), crossings, w.Tees)
}
