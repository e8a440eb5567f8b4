package report

import (
	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/plan"
	"strapwork/pkg/work"
)

// battenFacts is where panels go that no frame locates.
type battenFacts struct {
	Panels []laidFacts  // set-up by set-up
	Alike  bool         // all lie in one place
	Beyond []beyondSide // by how much they reach beyond the board
}

// laidFacts is where a laid panel goes.
type laidFacts struct {
	SetUp  int
	Panel  string
	Size   xy
	Corner xy // the lower left one
}

// beyondSide is how far something reaches beyond a side of the board: "left", "right",
// "lower side", "upper side".
type beyondSide struct {
	By   num
	Side string
}

// newBattens is nil where there is a frame or a rail, or no panel.
func newBattens(r build.Result) *battenFacts {
	setUps := r.Set.Plan.SetUps
	if r.Set.Frame != nil || r.Set.Rail != nil || len(setUps) == 0 {
		return nil
	}
	out := &battenFacts{Alike: true}
	all, first := geom.EmptyBox(), bounds(r, setUps[0])
	for _, s := range setUps {
		box := bounds(r, s)
		all = all.Join(box)
		out.Alike = out.Alike && box.Min.Near(first.Min, motif.Same) && box.Max.Near(first.Max, motif.Same)
		out.Panels = append(out.Panels, laidFacts{s.Number, s.PanelID, toXY(box.Size()), toXY(box.Min)})
	}
	if b := r.Job.Board; b != nil {
		out.Beyond = beyond(all, b)
	}
	return out
}

// bounds is where a set-up's panel lies on the work.
func bounds(r build.Result, s plan.SetUp) geom.Box {
	return s.Position.Similarity().Contour(r.Set.Panels[s.Panel].Outline).Bounds()
}

// beyond lists the sides of the board that a box reaches beyond.
func beyond(box geom.Box, board *work.Board) []beyondSide {
	b := board.Box()
	var sides []beyondSide
	for _, s := range []struct {
		by   float64
		side string
	}{
		{b.Min.X - box.Min.X, "left"},
		{box.Max.X - b.Max.X, "right"},
		{b.Min.Y - box.Min.Y, "lower side"},
		{box.Max.Y - b.Max.Y, "upper side"},
	} {
		if s.by > motif.Same {
			sides = append(sides, beyondSide{num(s.by), s.side})
		}
	}
	return sides
}
