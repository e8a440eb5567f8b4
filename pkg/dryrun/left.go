package dryrun

// What does the program leave? All that the bit can reach within the groove must
// be cut to depth. Wood thicker than leftOver counts: thinner is nothing that a
// maker finds. A place is that thick where a disc of that diameter fits in, so it
// is enough to look whether the target, shrunk by half of leftOver, is covered by
// a bit that is as much larger; then nothing depends on the last digits along a
// wall.

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/geom/region"
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

// newTarget works out what the bit can reach.
func newTarget(w *Work) target {
	radius := w.Bit.Slot / 2
	reach := w.Groove.Open(radius)
	// A groove exactly as wide as the bit has room for the bit's middle on a
	// line only, which is no area: there, a bit a trifle smaller tells.
	tight := region.Subtract(w.Groove.Open(radius-reachSlack), reach).Open(thin)
	if !tight.Empty() {
		reach = region.Union(reach, tight)
	}
	t := target{reach: reach, cut: reach, chisel: region.Subtract(w.Groove, reach)}
	if !w.Done.Empty() {
		t.cut = region.Subtract(reach, w.Done)
		t.chisel = region.Subtract(t.chisel, w.Done)
	}
	return t
}

// left compares what is cut to depth with what has to be.
func (j *judge) left(t target) {
	radius := j.w.Bit.Slot / 2
	edges := j.gouger.table.edgesAt(j.w.Depth-deepOver, j.w.Groove.Bounds().Expand(radius))
	bare := newCover(edges, radius+thin).bare(t.cut.Shrink(thin))
	exact := newCover(edges, radius)
	pieces := joinBare(bare, t.cut)
	for i, piece := range pieces {
		j.report.MissedArea += piece.Area()
		if i < mostPieces {
			j.report.Left = append(j.report.Left, j.missed(piece, exact, i < toldMost))
		}
	}
	j.report.LeftArea = j.report.MissedArea
	j.tellMissed(len(pieces))
	j.chisel(t, exact)
	for _, s := range j.report.Left {
		if s.Amount > j.report.LeftMax.Amount && s.Chisel == j.report.Left[0].Chisel {
			j.report.LeftMax = s
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

// missed measures a piece that is left; what takes long only if it is told.
func (j *judge) missed(piece region.Region, cut *cover, told bool) Spot {
	s := Spot{Area: piece.Area(), Loops: piece.Loops(), Thick: thickness(piece)}
	if told {
		s.Amount, s.At = furthest(piece, cut.away)
		var ok bool
		s.Depth, ok = j.gouger.table.depthOf(piece, j.w.Bit.Slot/2, j.w.Depth)
		s.AtLeast = !ok
	} else {
		s.Amount, s.At = furthestOut(piece, cut.away)
	}
	if len(cut.edges) == 0 {
		s.Amount = s.Thick
	}
	return s
}

// tellMissed makes findings of what is missed, the largest first, as pieces
// come.
func (j *judge) tellMissed(pieces int) {
	pos := diag.Position{File: j.tally.file, Line: max(1, int(j.lastLine))}
	switch {
	case pieces == 0:
		return
	case j.broken:
		j.tellBroken(pos, pieces)
		return
	}
	for i, s := range j.report.Left {
		if i == toldMost {
			j.tellMorePlaces("missed", pieces-i)
			return
		}
		f := diag.New(diag.Error, pos, "missed", "leaves %s mm2 of the groove at %s, %s mm thick, %s",
			decimals(s.Area, 2), place(s.At), mm(s.Thick), depthWords(s))
		f.Hint = "look whether a pass or a depth step is missing, and whether the bit's slot is the one meant" + j.scaleHint()
		f.SetAt(s.At.X, s.At.Y)
		j.report.Findings.Add(f)
	}
}

// tellBroken tells in one warning what a program leaves that could not be read as
// a whole: mostly what the lines that are lost would have cut.
func (j *judge) tellBroken(pos diag.Position, pieces int) {
	f := diag.New(diag.Warning, pos, "missed", "leaves %s mm2 of the groove in %s, perhaps only because of what can't be read",
		decimals(j.report.MissedArea, 2), count(pieces, "piece"))
	f.Hint = "mend the faults in the program's words first, and run it again"
	j.report.Findings.Add(f)
}

func depthWords(s Spot) string {
	switch {
	case s.AtLeast:
		return "among so many cuts that its depth was not looked for"
	case s.Depth <= 0:
		return "in parts or all over not cut at all"
	}
	return "cut only " + mm(s.Depth) + " mm deep"
}

// chisel lists what no bit of this size reaches, unless a faulty path took it.
func (j *judge) chisel(t target, cut *cover) {
	dist := t.reach.Dist
	if t.reach.Empty() {
		dist = t.chisel.BoundaryDist
	}
	for _, piece := range region.Union(cut.bare(t.chisel)...).Pieces() {
		area := piece.Area()
		j.report.LeftArea += area
		d, at := furthestOut(piece, dist)
		if d < leastChip {
			continue
		}
		j.report.Left = append(j.report.Left, Spot{At: at, Amount: d, Area: area, Loops: piece.Loops(), Chisel: true})
	}
}
