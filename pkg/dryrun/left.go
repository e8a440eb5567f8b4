package dryrun

// What does the program leave? All that the bit can reach within the groove must
// be cut to depth. Wood thicker than leftOver counts: thinner is nothing that a
// maker finds. A place is that thick where a disc of that diameter fits in, so it
// is enough to check whether the target, shrunk by half of leftOver, is covered by
// a bit that is as much larger; then nothing depends on the last digits along a
// wall.

import (
	"cmp"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/unit"
)

// thin is half the thickness of wood that counts.
const thin = leftOver/2 + fused

// mostPieces is how many pieces that are left are measured, the largest first; the
// rest only count as area. No one looks at so many.
const mostPieces = 1000

// target is what a program has to do with a groove.
type target struct {
	reach  region.Region // all that the bit reaches
	cut    region.Region // of that, what is to be cut to depth
	chisel region.Region // what no bit of this size reaches
}

// newTarget works out what has to be cut: all of the groove but what no bit of
// this size reaches at its corners and ends; of a section what lies within its outline.
func newTarget(w *Work) target {
	t := target{chisel: region.Union(w.Groove.Tips(w.Bit.Slot)...)}
	t.reach = region.Subtract(w.Groove.Area, t.chisel)
	t.cut = t.reach
	if !w.Done.Empty() {
		t.cut = region.Subtract(t.reach, w.Done)
		t.chisel = region.Subtract(t.chisel, w.Done)
	}
	if s := w.Section; s != nil {
		own := region.New(s.Outline)
		t.cut, t.chisel = region.Intersect(t.cut, own), region.Intersect(t.chisel, own)
	}
	return t
}

// left compares what is cut to depth with what has to be.
func (j *judge) left(t target) {
	// Where the machine may leave its path, only a narrower bit's cut is sure.
	radius := j.w.Bit.Slot/2 - j.gouger.table.blendAt(j.w.Depth-deepOver)
	edges := j.gouger.table.edgesAt(j.w.Depth-deepOver, j.w.Groove.Area.Bounds().Expand(radius))
	bare := newCover(edges, radius+thin).bare(t.cut.Shrink(thin))
	exact := newCover(edges, radius)
	pieces, folds := j.byRoom(joinBare(bare, t.cut))
	for i, piece := range pieces {
		j.report.MissedArea += piece.Area()
		if i < mostPieces {
			j.report.Left = append(j.report.Left, j.missed(piece, exact, i < reportedMost))
		}
	}
	j.report.LeftArea = j.report.MissedArea
	j.reportMissed(len(pieces))
	j.noRoom(folds, exact)
	j.chisel(t, exact)
	for _, s := range j.report.Left {
		if s.Amount > j.report.LeftMax.Amount && s.Chisel == j.report.Left[0].Chisel {
			j.report.LeftMax = s
		}
	}
}

// byRoom parts what is left into what a bit finds room to reach and what it
// doesn't, though no corner or end is there: only where walls fold.
func (j *judge) byRoom(left []region.Region) (reached, folds []region.Region) {
	for i, piece := range left {
		if i >= mostPieces {
			return append(reached, left[i:]...), folds
		}
		fold := region.Subtract(piece, j.w.Groove.Reach(piece.Bounds(), j.w.Bit.Slot)).Open(thin)
		if fold.Empty() {
			reached = append(reached, piece)
			continue
		}
		folds = append(folds, fold.Pieces()...)
		if rest := region.Subtract(piece, fold); !rest.Open(thin).Empty() {
			reached = append(reached, rest.Pieces()...)
		}
	}
	return reached, folds
}

// noRoom says where the groove has no room for the bit, the largest place first.
func (j *judge) noRoom(folds []region.Region, cut *cover) {
	slices.SortStableFunc(folds, func(a, b region.Region) int { return cmp.Compare(b.Area(), a.Area()) })
	pos := diag.Position{File: j.tally.file, Line: max(1, int(j.lastLine))}
	for i, piece := range folds {
		s := Deviation{Area: piece.Area(), Loops: piece.Loops(), Thick: thickness(piece)}
		s.Amount, s.At = furthestOut(piece, cut.away)
		j.report.Left = append(j.report.Left, s)
		j.report.LeftArea += s.Area
		j.report.MissedArea += s.Area
		switch {
		case i < reportedMost:
			f := diag.NewAt(diag.Error, pos, "no-room", "%s of the groove at %s have no room for a bit of %s, though no corner or free end is there: it is too narrow, or its walls fold",
				unit.Area(s.Area), place(s.At), unit.Len(j.w.Bit.Slot))
			f.Hint = "check that the bit's slot is the one meant, and look there in the motif for short elements that turn back"
			f.SetAt(s.At.X, s.At.Y)
			j.report.Findings.Add(f)
		case i == reportedMost:
			j.reportMorePlaces("no-room", len(folds)-i)
		}
	}
}

// joinBare puts the parts of what is bare together, and back to their full size.
func joinBare(bare []region.Region, cut region.Region) []region.Region {
	if len(bare) == 0 {
		return nil
	}
	whole := region.Intersect(region.Union(bare...).Grow(thin), cut)
	return whole.Pieces()
}

// missed measures a piece that is left; what takes long only if it is reported.
func (j *judge) missed(piece region.Region, cut *cover, reported bool) Deviation {
	s := Deviation{Area: piece.Area(), Loops: piece.Loops(), Thick: thickness(piece)}
	if reported {
		s.Amount, s.At = furthest(piece, cut.away)
		var ok bool
		s.Depth, ok = j.gouger.table.depthOf(piece, cut.radius, j.w.Depth)
		s.AtLeast = !ok
	} else {
		s.Amount, s.At = furthestOut(piece, cut.away)
	}
	if len(cut.edges) == 0 {
		s.Amount = s.Thick
	}
	return s
}

// reportMissed makes findings of what is missed, the largest first, as pieces
// come.
func (j *judge) reportMissed(pieces int) {
	pos := diag.Position{File: j.tally.file, Line: max(1, int(j.lastLine))}
	switch {
	case pieces == 0:
		return
	case j.broken:
		j.reportBroken(pos, pieces)
		return
	}
	for i, s := range j.report.Left {
		if i == reportedMost {
			j.reportMorePlaces("missed", pieces-i)
			return
		}
		f := diag.NewAt(diag.Error, pos, "missed", "leaves %s of the groove uncut at %s, %s thick, though the bit could reach it: %s",
			unit.Area(s.Area), place(s.At), unit.Len(s.Thick), depthWords(s))
		f.Hintf("%s", j.meant("check whether a pass or a depth step is missing, and that the bit's slot is the one meant"))
		f.SetAt(s.At.X, s.At.Y)
		j.report.Findings.Add(f)
	}
}

// reportBroken says in one warning what a program leaves that could not be read as
// a whole: mostly what the lines that are lost would have cut.
func (j *judge) reportBroken(pos diag.Position, pieces int) {
	f := diag.NewAt(diag.Warning, pos, "missed", "leaves %s of the groove uncut in %s, perhaps only because of what can't be read",
		unit.Area(j.report.MissedArea), unit.Count(pieces, "piece"))
	f.Hint = "fix the faults in the program's code first, and run it again"
	j.report.Findings.Add(f)
}

func depthWords(s Deviation) unit.Text {
	switch {
	case s.AtLeast:
		return plain("among so many cuts that its depth was not worked out")
	case s.Depth <= 0:
		return plain("some or all of it not cut at all")
	}
	return unit.Say("cut only %s deep", unit.Len(s.Depth))
}

// chisel lists what no bit of this size reaches, unless a faulty path took it.
func (j *judge) chisel(t target, cut *cover) {
	dist := t.reach.Dist
	if t.reach.Empty() {
		dist = t.chisel.BoundaryDist // there is nothing else to be far from
	}
	for _, piece := range region.Union(cut.bare(t.chisel)...).Pieces() {
		area := piece.Area()
		j.report.LeftArea += area
		d, at := furthestOut(piece, dist)
		if d < leastChip {
			continue
		}
		j.report.Left = append(j.report.Left, Deviation{At: at, Amount: d, Area: area, Loops: piece.Loops(), Chisel: true})
	}
}
