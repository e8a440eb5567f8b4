package report

// What locates the panels: the frame, its key and its wedges.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// frame is the locating frame; nil where the job has none.
func (b *bench) frame() *fixture.Frame { return b.r.Set.Frame }

// layOutFrame writes where the frame goes, and how it is fixed. What lies under
// it comes first, then the axes, then the frame.
func (b *bench) layOutFrame(f *fixture.Frame) {
	b.packUnder(f)
	if n := len(f.Bars); n > 1 {
		b.tick("Put the frame together on a flat surface: %s, joined with loose keys (%s) and glue. Lay a panel in it with its wedges while the glue sets.", plural(n, "bar"), b.pieceOf(fixture.JointKeyName))
	}
	b.tick("Lay the frame on the work, its upper face up, with the tips of its %s on the pencilled axes: %s.", plural(len(f.Axes), "notch"), b.notches(f))
	b.tick("Fix it firmly: it must not move until the last groove is cut. %s", b.fixing(f))
	if f.Key.Radius > 0 {
		b.tick("Push the key (%s) into its recess in the frame's %s side. It does not locate the panel; it only stops you putting it in the wrong way: a panel laid the wrong way round or upside down rides up on the key. Never take it out to make a panel go in.", b.pieceOf(fixture.KeyName), sideWord(f.Inside.Sides[0].Out))
	}
	b.tick("Lay the wedges ready (%s), %s: two and two, thin end beside thick, so that their outer faces stay parallel.", b.pieceOf(fixture.WedgeName), b.pairs(f))
	b.gap()
	b.para("Every panel is pressed into the same corner, against the %s, by the wedges opposite. All the clearance is on the wedge side, so it can't shift the panel.", b.sidesOf(f, f.Reference[:]))
}

// packUnder writes what lies under the frame where the board doesn't, and how the
// axes get there.
func (b *bench) packUnder(f *fixture.Frame) {
	over := f.Overhang.Sides()
	if b.j.Board == nil {
		b.tick("%s.", packing)
		return
	}
	if len(over) == 0 {
		return
	}
	thick := b.size(b.j.Board.Thickness)
	reaches := unit.List(over).In(b.u)
	if f.Support == fixture.RoundBoard {
		b.tick("**The frame lies round the board, not on it.** On a flat bench, lay packing as thick as the board (%s) close against its edges all round, at least as wide as the frame reaches beyond it: %s. Clamp packing and board to one another and to the bench, clear of the frame and of the router's way, so that they are one surface and neither can move. Only then comes the frame.", thick, reaches)
	} else {
		b.tick("The frame overhangs the board by %s. Pack under it there with stock as thick as the board (%s), close against the board's edge, and fix that so that it can't move: the frame must not tip or bend.", reaches, thick)
	}
	if beyond := b.notchesBeyond(f); len(beyond) > 0 {
		b.tick("Carry the axes on over the packing with a straightedge, as far as the frame's notches will lie: %s.", list(beyond))
	}
}

// notches says which notch goes on which axis.
func (b *bench) notches(f *fixture.Frame) string {
	var level, upright []string
	for _, p := range f.Axes {
		if math.Abs(p.X) > math.Abs(p.Y) {
			level = append(level, sideWord(p))
		} else {
			upright = append(upright, sideWord(p))
		}
	}
	var parts []string
	for _, on := range []struct {
		axis    string
		notches []string
	}{{"level", level}, {"upright", upright}} {
		switch len(on.notches) {
		case 0:
		case 1:
			parts = append(parts, "the "+on.notches[0]+" one on the "+on.axis+" axis")
		default:
			parts = append(parts, "the "+list(on.notches)+" ones on the "+on.axis+" axis")
		}
	}
	return strings.Join(parts, ", ")
}

// notchesBeyond are the notches that lie beside the board, each with its place.
func (b *bench) notchesBeyond(f *fixture.Frame) []string {
	box := fixture.BoardBox(b.j.Board)
	var beyond []string
	for _, p := range f.Axes {
		if !box.Holds(p) {
			beyond = append(beyond, fmt.Sprintf("the %s one, %s from the origin", sideWord(p), b.size(p.Norm())))
		}
	}
	return beyond
}

// pairs says how many pairs of wedges go to each side, and where.
func (b *bench) pairs(f *fixture.Frame) string {
	var sides []string
	for _, i := range f.Wedged {
		var at []string
		for _, w := range f.Wedges {
			if w.Side == i {
				at = append(at, b.rough(w.At.Sub(f.Inside.Corner(i)).Dot(w.Along)))
			}
		}
		where := "in its middle"
		if len(at) > 1 {
			where = list(at) + " from its " + sideWord(f.Inside.Corner(i)) + " end"
		}
		sides = append(sides, fmt.Sprintf("%s for the %s side (%s)", plural(len(at), "pair"), sideWord(f.Inside.Sides[i].Out), where))
	}
	return list(sides)
}

// fixing says how a frame is held.
func (b *bench) fixing(f *fixture.Frame) string {
	clamps := "no clamp may stand on it, since the router's base passes over it"
	if clear := math.Floor(f.Clear); clear > 0 {
		clamps = fmt.Sprintf("clamps may stand on its outer %s", b.rough(clear))
		if b.j.Router.Base > 0 || b.j.Router.Guide == work.GuideBase {
			clamps += ", which the router's base never passes"
		}
	}
	if len(f.Screws) == 0 {
		return capitalized(clamps) + "."
	}
	return fmt.Sprintf("Screws of 4 mm, their heads sunk, go through its %s: %s. %s.", plural(len(f.Screws), "hole"), b.screwsIn(f), capitalized(clamps))
}

// screwsIn says what the screws meet.
func (b *bench) screwsIn(f *fixture.Frame) string {
	const inBoard = "into the board only where its wood is cut off or covered later; leave those empty otherwise, and clamp there"
	var packed, board [][]int
	n, m := 0, 0
	for i := range f.Inside.Sides {
		count := [2]int{}
		for _, s := range f.Screws {
			if s.Side == i {
				if s.OnBoard {
					count[1]++
				} else {
					count[0]++
				}
			}
		}
		if count[0] > 0 {
			packed, n = append(packed, []int{i, count[0]}), n+count[0]
		}
		if count[1] > 0 {
			board, m = append(board, []int{i, count[1]}), m+count[1]
		}
	}
	switch {
	case b.j.Board == nil:
		return "into packing, or " + inBoard
	case m == 0:
		return "all of them go into the packing"
	case n == 0:
		return "all of them are over the board, so " + inBoard
	}
	return fmt.Sprintf("%d into the packing (%s); %d are over the board (%s), and go %s", n, b.bySide(f, packed), m, b.bySide(f, board), inBoard)
}

// bySide is how many there are at each side: "lower 2, right 3".
func (b *bench) bySide(f *fixture.Frame, counts [][]int) string {
	parts := make([]string, len(counts))
	for i, c := range counts {
		parts[i] = fmt.Sprintf("%s %d", sideWord(f.Inside.Sides[c[0]].Out), c[1])
	}
	return strings.Join(parts, ", ")
}

// pieceOf is how many of a part there are, with a link: "4 of [wedge](...)".
func (b *bench) pieceOf(name string) string {
	for _, p := range b.r.Parts {
		if p.Sheet.Name == name && p.Quantity == 1 {
			return b.drawing(p)
		}
		if p.Sheet.Name == name {
			return fixed(float64(p.Quantity), 0) + " of " + b.drawing(p)
		}
	}
	return name
}

// sidesOf names sides of the frame: "left and lower side".
func (b *bench) sidesOf(f *fixture.Frame, sides []int) string {
	var names []string
	for _, i := range sides {
		names = append(names, sideWord(f.Inside.Sides[i].Out))
	}
	slices.Sort(names)
	names = slices.Compact(names)
	if len(names) == 1 {
		return names[0] + " side"
	}
	return list(names) + " sides"
}

// sideWord says in which of eight directions a place lies from the middle.
func sideWord(p geom.Point) string {
	words := [8]string{"right", "upper right", "upper", "upper left", "left", "lower left", "lower", "lower right"}
	eighth := int(math.Round(p.Angle() / (math.Pi / 4)))
	return words[(eighth%8+8)%8]
}

// press says how a panel is pressed into its place.
func (b *bench) press() string {
	f := b.frame()
	if f == nil {
		return "Push it into the corner of the battens and clamp it, the clamps clear of the tracks and of the router all the way round."
	}
	text := fmt.Sprintf("Push it against the %s of the frame, and tap the wedges home at the %s, lightly, in the same order each time.", b.sidesOf(f, f.Reference[:]), b.sidesOf(f, f.Wedged))
	if f.Key.Radius > 0 {
		text += " It must lie flat: if it rocks on the key it is the wrong way round."
	}
	return text
}

// facingMark is what the router's mark keeps to.
func (b *bench) facingMark() string {
	if b.frame() == nil {
		return "the upper edge of the work"
	}
	if slices.ContainsFunc(b.r.Parts, func(p sheet.Part) bool {
		return p.Ply == sheet.Frame && slices.ContainsFunc(p.Sheet.Lines, func(l sheet.Line) bool { return l.Role == sheet.Mark })
	}) {
		return "the mark on the frame"
	}
	return "the upper side of the frame, which doesn't turn with the panels"
}
