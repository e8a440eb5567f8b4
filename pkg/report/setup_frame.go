package report

// What locates the panels: the frame, its key and its wedges.

import (
	"fmt"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/sheet"
	"strapwork/pkg/template"
)

// frame is the locating frame; nil where the job has none.
func (b *bench) frame() *template.LocatingFrame { return b.r.Set.Frame }

// layOutFrame writes where the frame goes, and how it is fixed.
func (b *bench) layOutFrame(f *template.LocatingFrame) {
	if n := len(f.Bars); n > 1 {
		b.tick("Put the frame together on a flat surface: %s, joined with loose keys (%s) and glue. Lay a panel in it with its wedges while the glue sets.", plural(n, "bar"), b.pieceOf(template.JointKeyName))
	}
	b.tick("Lay the frame on the work, its upper face up, with the tips of its %s on the pencilled axes.", plural(len(f.Axes), "notch"))
	b.tick("Fix it so that it can't move until the last groove is done: %s.", b.fixing(f))
	b.frameOverhang(f)
	if f.Key.Radius > 0 {
		b.tick("Push the key (%s) into its recess in the frame's %s side. It locates nothing: it only forbids. A panel that is laid in a position of another, or turned over, stays lying on it. Never take it out to make a panel go in.", b.pieceOf(template.KeyName), sideWord(f.Inside.Sides[0].Out))
	}
	b.tick("Lay the wedges ready (%s), for the %s of the frame: two and two, thin end beside thick, so that their outer faces stay parallel.", b.pieceOf(template.WedgeName), b.sidesOf(f, f.Wedged))
	b.gap()
	b.para("Every panel is pressed into the same corner, against the %s, by the wedges opposite. The frame's play lies where the wedges are and moves nothing.", b.sidesOf(f, f.Reference[:]))
}

// fixing says how a frame is held.
func (b *bench) fixing(f *template.LocatingFrame) string {
	clamps := "no clamp may stand on it, since the router's base passes over it"
	if clear := math.Floor(f.Clear); clear > 0 {
		clamps = fmt.Sprintf("clamps may stand on its outer %s", b.rough(clear))
		if b.j.Router.Base > 0 || b.j.Router.Guide == job.GuideBase {
			clamps += ", which the router's base never passes"
		}
	}
	if len(f.Screws) == 0 {
		return clamps
	}
	return fmt.Sprintf("screws of 4 mm through its %s, into packing or into wood that is cut off or covered later, their heads sunk; %s", plural(len(f.Screws), "hole"), clamps)
}

// frameOverhang tells what of the frame reaches beyond the board.
func (b *bench) frameOverhang(f *template.LocatingFrame) {
	if b.j.Board == nil {
		b.tick("%s.", packing)
		return
	}
	o := f.Overhang
	var sides []string
	for _, side := range []struct {
		name string
		by   float64
	}{{"left", o.Left}, {"right", o.Right}, {"lower side", o.Below}, {"upper side", o.Above}} {
		if side.by > motif.Same {
			sides = append(sides, b.rough(side.by)+" on the "+side.name)
		}
	}
	if len(sides) > 0 {
		b.tick("The frame reaches beyond the board: %s. %s.", list(sides), packing)
	}
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
func (b *bench) sidesOf(f *template.LocatingFrame, sides []int) string {
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
		text += " It must lie flat: one that stays lying on the key is laid wrongly."
	}
	return text
}

// facingMark is what the router's mark keeps to.
func (b *bench) facingMark() string {
	if b.frame() == nil {
		return "the upper edge of the work"
	}
	if slices.ContainsFunc(b.r.Parts, func(p template.Part) bool {
		return p.Layer == template.Frame && slices.ContainsFunc(p.Sheet.Lines, func(l sheet.Line) bool { return l.Role == sheet.Mark })
	}) {
		return "the mark on the frame"
	}
	return "the upper side of the frame, which doesn't turn with the panels"
}
