package build

import (
	"strapwork/pkg/cutlist"
	"strapwork/pkg/geom"
	"strapwork/pkg/season"
)

// Seasons is how a board moves as its moisture changes, and under which pieces too far.
type Seasons struct {
	Change season.Change
	Over   []season.Moved // pieces beyond what metal, or wood, puts up with; metal first
}

// judgeSeasons works out what the board's wood goes through.
func (r *Result) judgeSeasons() {
	if t := r.Job.Table; t != nil && t.Stable {
		return
	}
	c, ok, found := season.Judge(r.Job.Wood, r.Job.Seasons, r.Job.Board)
	r.Findings.Add(found...)
	if ok {
		r.Seasons = &Seasons{Change: c}
	}
}

// moveSeasons finds the pieces that can't go along.
func (r *Result) moveSeasons() {
	if s := r.Seasons; s != nil {
		s.Over = season.Move(s.Change, r.Job.Board.Grain, r.runs())
		found := season.Report(s.Change, s.Over)
		for i := range found {
			found[i].HasAt = found[i].HasAt && r.Table == nil // a place in a section is none of the motif's
		}
		r.Findings.Add(found...)
	}
}

// runs are the pieces as lines on the board, or on a table in the coordinates of their sections.
func (r *Result) runs() []season.Run {
	off := map[int]float64{} // of each strip's middle, to the left
	for _, s := range r.Inlay.Laid {
		off[s.Layer] = (s.Left + s.Right) / 2
	}
	var runs []season.Run
	for _, p := range r.List.Pieces {
		if p.To <= p.From {
			continue // a tip between two mitres
		}
		line := r.Laid().Strands[p.Strand].Contour.Sub(p.From, p.To)
		run := season.Run{
			Number: p.Number, Strand: p.Where(), Strip: p.Strip, Materials: materials(r.List, p),
			Joint: p.AtJoint(), Line: make([]geom.Edge, line.Len()),
		}
		to := geom.Shifting(r.sectionAt(p.At).Scale(-1))
		for i, e := range line.Edges() {
			run.Line[i] = to.Edge(e.Shift(off[max(0, p.Strip-1)]))
		}
		runs = append(runs, run)
	}
	return runs
}

// materials are what a piece is of: of a sandwich, what its strips are.
func materials(l cutlist.List, p cutlist.Piece) (all []string) {
	if p.Strip > 0 {
		return []string{p.Material}
	}
	for _, s := range l.Layup {
		all = append(all, s.Material)
	}
	return all
}
