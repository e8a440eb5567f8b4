package template

// Whether the frame lies on the board. Where the board is hardly larger than the
// motif the frame's opening is as large as the board, and the frame lies round
// it: screws would miss the board. Then packing as thick as the board is fixed
// to it first, and the frame to both.

import (
	"fmt"
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// What makes a frame lie on a board (common practice).
const (
	leastBearing = 10.0    // mm of board under a side's inner part
	bearingPart  = 1.0 / 3 // of a side's length that lies on it
	bearingSides = 2       // that lie on it: one alone is a hinge
)

// Support says what a frame lies on.
type Support int

const (
	// SupportUnknown is that of a job without a board.
	SupportUnknown Support = iota
	// OnBoard is a frame that lies on the board with all of its width.
	OnBoard
	// OverBoard overhangs the board and still bears on it with two sides at least.
	OverBoard
	// RoundBoard is a frame whose opening is so large that it lies round the board.
	RoundBoard
)

// String is the word in the manifest.
func (s Support) String() string {
	switch s {
	case SupportUnknown:
		return "unknown"
	case OnBoard:
		return "on"
	case OverBoard:
		return "over"
	case RoundBoard:
		return "round"
	}
	return fmt.Sprintf("support(%d)", int(s))
}

// Overhang is by how much something stands out beyond the board, in mm, on each
// side; 0 where it doesn't.
type Overhang struct{ Left, Right, Below, Above float64 }

// Any reports whether something stands out at all.
func (o Overhang) Any() bool { return o != Overhang{} }

// Sides are the sides on which something stands out, in words, each with by how
// much.
func (o Overhang) Sides() []unit.Text {
	var list []unit.Text
	for _, side := range []struct {
		where string
		by    float64
	}{{"on the left", o.Left}, {"on the right", o.Right}, {"below", o.Below}, {"above", o.Above}} {
		if side.by > geom.Coincident {
			list = append(list, unit.Say("%s %s", unit.Len(math.Ceil(side.by*10)/10), side.where))
		}
	}
	return list
}

// BoardBox is the board in the motif's coordinates.
func BoardBox(b *work.Board) geom.Box {
	return geom.Box{Min: b.Origin.Scale(-1), Max: b.Size.Sub(b.Origin)}
}

// overhang is that of an area over the board.
func overhang(b *work.Board, box geom.Box) Overhang {
	board := BoardBox(b)
	return Overhang{
		Left: math.Max(0, board.Min.X-box.Min.X), Right: math.Max(0, box.Max.X-board.Max.X),
		Below: math.Max(0, board.Min.Y-box.Min.Y), Above: math.Max(0, box.Max.Y-board.Max.Y),
	}
}

// lieOn finds what of the frame lies on the board.
func (f *LocatingFrame) lieOn(b *work.Board) {
	if b == nil {
		return
	}
	f.Overhang = overhang(b, f.Outside.Polygon().Bounds())
	f.Bearing, f.Support = bearingOf(f.Inside, f.Outside, b)
	if !f.Overhang.Any() {
		f.Support = OnBoard
	}
}

// bearingOf says of each side of a frame whether it lies on the board, and of the
// whole whether enough of them do.
func bearingOf(inside, outside Shape, b *work.Board) ([]bool, Support) {
	board := region.New(geom.Rect(BoardBox(b)))
	bearing := make([]bool, inside.Len())
	n := 0
	for i, side := range inside.Sides {
		strip := region.New(geom.Polygon(inside.Corner(i), outside.Corner(i), outside.Corner(i+1), inside.Corner(i+1)))
		along := side.Out.Left()
		for _, c := range region.Intersect(strip, board).Shrink(leastBearing / 2).Loops() {
			long := contourReach(c, along) + contourReach(c, along.Scale(-1)) + leastBearing
			bearing[i] = bearing[i] || long >= bearingPart*inside.Length(i)
		}
		if bearing[i] {
			n++
		}
	}
	if n < bearingSides {
		return bearing, RoundBoard
	}
	return bearing, OverBoard
}

// tellSupport tells of a frame that doesn't lie on the board with all of its width.
func (s *Set) tellSupport(j Params, areas []region.Region) {
	f := s.Frame
	const key = "template.frame"
	switch f.Support {
	case SupportUnknown, OnBoard:
	case OverBoard:
		s.Found.Notef(key, "frame-overhang", "the frame overhangs the board by %s", unit.List(f.Overhang.Sides())).
			Hintf("pack under it there with stock as thick as the board, %s", unit.Len(j.Board.Thickness))
	case RoundBoard:
		opening := f.Inside.Polygon().Bounds().Size()
		s.tellRound(j, s.Found.Warnf(key, "frame-round", "the frame lies round the board and not on it: its opening of %s x %s is too large for the board of %s x %s, and screws would miss the board",
			unit.Len(opening.X).Rough(), unit.Len(opening.Y).Rough(), unit.Len(j.Board.Size.X), unit.Len(j.Board.Size.Y)), areas)
	}
}

// tellRound gives a frame that lies round the board its hint.
func (s *Set) tellRound(j Params, f *diag.Finding, areas []region.Region) {
	pack := unit.Say("clamp packing as thick as the board, %s, to it on all sides first, so that they are one surface, carry the axes over it, and fix the frame to the packing, as setup.md has it", unit.Len(j.Board.Thickness))
	margin, ok := s.marginOnBoard(j, areas)
	if !ok {
		f.Hintf("%s", pack)
		return
	}
	f.Hintf("make margin at most %s, so that the frame lies on the board; or %s", unit.AtMost(margin), pack).Propose("template.margin", unit.AtMost(margin))
}

// marginStep is the grid in mm on which a margin is looked for.
const marginStep = 0.5

// marginOnBoard is the widest margin with which the frame would lie on the board,
// if there is one that keeps the web and the key's notches, and a base that
// stands on the panel from tipping.
func (s *Set) marginOnBoard(j Params, areas []region.Region) (float64, bool) {
	least := max(j.Template.Web, leastMargin(j))
	if j.Router.Guide != work.GuideBase {
		least = max(least, j.Router.Base/2-j.Router.Rider/2-j.Template.Frame)
	}
	fits := func(margin float64) bool {
		shape := newShape(symmetryOf(s.Plan.Panels), areas, margin)
		if insideFor(shape, referenceOf(shape), frameGap(j)).shortest() < leastSide {
			return false
		}
		inside := insideFor(shape, referenceOf(shape), frameGap(j))
		_, support := bearingOf(inside, inside.grown(func(int) float64 { return j.Template.Frame }), j.Board)
		return support != RoundBoard
	}
	most := int((drawnMargin(j) - least) / marginStep)
	if most < 1 || !fits(least) {
		return 0, false
	}
	// The wider the margin, the less of the frame is on the board.
	lo, hi := 0, most+1
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; fits(least + float64(mid)*marginStep) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return least + float64(lo)*marginStep, true
}
