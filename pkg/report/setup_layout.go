package report

import (
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/plan"
	"strapwork/pkg/work"
)

// layOut writes where the panels go on the work, and what locates them.
func (b *bench) layOut() {
	b.heading("Lay out the work")
	b.tick("Draw the two axes on the work, crossing at the motif's origin, and mark the upper edge.%s", b.originOnBoard())
	if f := b.frame(); f != nil {
		b.layOutFrame(f)
		return
	}
	b.layOutBattens()
}

// packing is what lies under whatever has no board under it.
const packing = "Pack under whatever overhangs the board with stock as thick as the board, so that nothing can tip"

// layOutBattens writes how panels are located without a frame.
func (b *bench) layOutBattens() {
	if box, same := b.outline(); same {
		b.tick("Every panel has the same outline, %s. Its lower left corner goes to %s from the origin: draw its left and lower edge.", b.by(box.Size()), b.place(box.Min))
		b.tick("Fix two straight battens along these edges, outside them, no thicker than the panels. They locate each panel in turn; they stay where they are until the last groove is done.")
	} else {
		b.tick("The panels differ in outline. Draw the left and lower edge of each from the table, and fix straight battens along them, outside them, no thicker than the panels.")
		b.gap()
		var rows [][]string
		for _, s := range b.order {
			box := b.bounds(s)
			rows = append(rows, []string{fixed(float64(s.Number), 0), s.PanelID, b.by(box.Size()), b.place(box.Min)})
		}
		b.table([]string{"set-up", "panel", "outline", "lower left corner"}, rows)
	}
	b.overhang()
	b.tick("Fix the work and the battens so that neither can move against the other between set-ups.")
	b.gap()
	b.para("Push every panel into the corner of the battens in the same way, each time: what play there is then shifts all cuts alike, and they still meet.")
}

// bounds is where a set-up's panel lies on the work.
func (b *bench) bounds(s plan.SetUp) geom.Box {
	return s.Position.Similarity().Contour(b.r.Set.Panels[s.Panel].Outline).Bounds()
}

// outline is the place of all panels, if they have the same.
func (b *bench) outline() (geom.Box, bool) {
	box := b.bounds(b.order[0])
	for _, s := range b.order[1:] {
		if c := b.bounds(s); !c.Min.Near(box.Min, motif.Same) || !c.Max.Near(box.Max, motif.Same) {
			return box, false
		}
	}
	return box, true
}

func (b *bench) originOnBoard() string {
	if b.j.Board == nil {
		return ""
	}
	return " The origin is at " + b.place(b.j.Board.Origin) + " from the board's lower left corner."
}

// overhang tells of panels that reach beyond the board.
func (b *bench) overhang() {
	const pack = packing + ", and fix the battens there"
	board := b.j.Board
	if board == nil {
		b.tick("%s.", pack)
		return
	}
	box := geom.EmptyBox()
	for _, s := range b.order {
		box = box.Join(b.bounds(s))
	}
	lo, hi := board.Origin.Scale(-1), board.Size.Sub(board.Origin)
	var sides []string
	for _, side := range []struct {
		name string
		by   float64
	}{{"left", lo.X - box.Min.X}, {"right", box.Max.X - hi.X}, {"lower side", lo.Y - box.Min.Y}, {"upper side", box.Max.Y - hi.Y}} {
		if side.by > motif.Same {
			sides = append(sides, b.rough(side.by)+" on the "+side.name)
		}
	}
	if len(sides) > 0 {
		b.tick("The panels reach beyond the board: %s. %s.", list(sides), pack)
	}
}

// layText says how a panel is laid for a set-up.
func (b *bench) layText(s plan.SetUp) string {
	var t strings.Builder
	t.WriteString("Lay panel " + s.PanelID)
	face := " with its upper face up"
	if s.Position.Flip {
		face = " **turned over**, its upper face down"
	} else if b.marked() {
		face = " with its letter up"
	}
	t.WriteString(face + " and the ")
	number, panel := "", b.r.Set.Panels[s.Panel]
	if len(panel.Marks) > 0 {
		number = ", where the arrow marked " + fixed(float64(s.Number), 0) + " is,"
	}
	switch edge := s.Position.EdgeUp(); {
	case edge != "":
		t.WriteString(edge + " edge of its picture" + number + " towards the upper edge of the work")
	case number != "":
		t.WriteString("arrow marked " + fixed(float64(s.Number), 0) + " towards the upper edge of the work, the picture turned " + degrees(s.Position.TurnDeg) + " counter-clockwise from upright")
	default:
		t.WriteString("picture turned " + degrees(s.Position.TurnDeg) + " counter-clockwise from upright")
	}
	if len(panel.Positions) > 1 {
		t.WriteString(" (position " + fixed(float64(s.Place), 0) + " of " + fixed(float64(len(panel.Positions)), 0) + ")")
	}
	if b.floored(s.PanelID) {
		t.WriteString(", its floor on the work")
	}
	return t.String() + "."
}

// standsOn says what the router's base stands on.
func (b *bench) standsOn() string {
	switch heightsOf(b.j).on {
	case "floor":
		return "the floor in the track"
	case "work":
		return "the work in the track"
	}
	return "the template"
}

// inTrack says how the rider goes into the track.
func (b *bench) inTrack() string {
	switch b.j.Router.Guide {
	case work.GuideBase:
		return "set the base down flat on " + b.standsOn()
	case work.GuideBushing:
		return "set the router down flat on the template with the collar in the track"
	case work.GuideBearing, work.GuidePivot, work.GuideNone:
	}
	return "set the router down flat on the template with the bit over the middle of the track, touching neither wall"
}
