package weave

import (
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/motif"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// asDrawn puts on top what drawings show on top. A connected piece of which most shows
// the opposite of what was woven is exchanged as a whole: which of the two ways it
// alternates is not asked of a drawing that shows it. What then still differs doesn't
// alternate, and is as drawn.
func (w *Weave) asDrawn(m motif.Motif, drawn []work.Over, found *diag.Findings) {
	want := map[int]int{} // of a crossing: the passage on top
	var order []int
	var by diag.Key
	for _, o := range drawn {
		i, d := w.nearest(o.At)
		if d > FlipReach {
			continue // that crossing is in error, or another element took the strand's place
		}
		if _, twice := want[i]; !twice {
			order = append(order, i)
		}
		by, want[i] = o.Key, w.passageAlong(m, i, o)
	}
	if len(want) == 0 {
		return
	}
	piece := w.connected()
	votes := map[int]int{}
	for _, i := range order {
		if w.Crossings[i].Visits[want[i]].Over {
			votes[piece[i]]++
		} else {
			votes[piece[i]]--
		}
	}
	for i := range w.Crossings {
		if votes[piece[i]] < 0 {
			w.setOver(i, w.passage(w.Crossings[i].Lower()))
		}
	}
	differ := 0
	for _, i := range order {
		if w.Crossings[i].Visits[want[i]].Over {
			continue
		}
		differ++
		w.setOver(i, want[i])
	}
	ReportDrawn(by, differ, found)
}

// ReportDrawn notes how many crossings are as drawings show them and don't alternate.
func ReportDrawn(by diag.Key, differ int, found *diag.Findings) {
	if differ > 0 {
		found.Notef(by, "weave-drawn", "%s as drawn, where over and under would alternate otherwise", unit.Count(differ, "crossing is", "crossings are")).
			Hintf(`weave = "alternate" takes no notice of the drawing`)
	}
}

// passageAlong is the passage of a crossing that runs along a direction.
func (w *Weave) passageAlong(m motif.Motif, crossing int, o work.Over) int {
	along := func(k int) float64 {
		v := w.Crossings[crossing].Visits[k]
		_, u := m.Strands[v.Strand].Contour.At(v.S)
		return math.Abs(u.Dot(o.Along))
	}
	if along(1) > along(0) {
		return 1
	}
	return 0
}

// connected numbers the connected pieces: of each crossing, the lowest that strands lead
// to from it.
func (w *Weave) connected() []int {
	group := make([]int, len(w.Crossings))
	for i := range group {
		group[i] = i
	}
	for _, vs := range w.Visits {
		for k := 1; k < len(vs); k++ {
			unite(group, vs[k-1].Crossing, vs[k].Crossing)
		}
	}
	for i := range group {
		group[i] = root(group, i)
	}
	return group
}
