package report

import (
	"strapwork/pkg/geom"
	"strapwork/pkg/job"
	"strapwork/pkg/sheet"
	"strapwork/pkg/template"
)

// parts writes what is to be cut from sheet, of what, and who allows for the
// width of the cut.
func (b *bench) parts() {
	b.heading("Have the parts cut")
	var rows, aids [][]string
	for _, p := range b.r.Parts {
		if p.Layer == template.Aid {
			aids = append(aids, []string{b.drawing(p), b.size(p.Thickness), b.by(b.finished(p))})
			continue
		}
		rows = append(rows, []string{
			b.drawing(p), b.size(p.Thickness), b.by(b.finished(p)), holes(p),
		})
	}
	b.table([]string{"part", "sheet", "outline", "openings"}, rows)
	if len(aids) > 0 {
		b.table([]string{"shop aid", "sheet", "outline"}, aids)
	}
	b.item("Material: flat MDF or good plywood of even thickness is common practice. The edges of the tracks must be smooth, since every bump is copied into the groove.")
	b.kerf()
	if b.has("templates/" + b.r.Parts[0].Sheet.Name + ".dxf") {
		b.item("The machine's drawing lies beside each part's picture under the same name, ending in .dxf. It shows the part as it lies on the work, seen from above.")
	}
	b.gap()
	if b.marked() {
		b.tick("Check each part against its picture: its letter, and the number of openings.")
	} else {
		b.tick("The parts carry no lettering. Write each part's name on its upper face, and an arrow to the upper edge of its picture, before the parts get mixed up.")
	}
	b.gap()
}

// finished is the size of a part once it is cut; its drawing may be larger, by
// the width of the cut.
func (b *bench) finished(p template.Part) geom.Point {
	for _, panel := range b.r.Set.Panels {
		if panel.ID == p.Panel {
			return panel.Outline.Bounds().Size()
		}
	}
	return p.Sheet.BoundsOf(sheet.Edge).Size()
}

// drawing is a part's name, with a link to its picture if there is one.
func (b *bench) drawing(p template.Part) string {
	path := "templates/" + p.Sheet.Name + ".svg"
	if !b.has(path) {
		return p.Sheet.Name
	}
	return "[" + p.Sheet.Name + "](" + path + ")"
}

func holes(p template.Part) string {
	n := 0
	for _, l := range p.Sheet.Lines {
		if l.Role == sheet.Opening {
			n++
		}
	}
	if n == 0 {
		return plural(len(p.Sheet.Holes), "hole")
	}
	if p.Layer == template.Floor {
		return plural(n, "slot")
	}
	return plural(n, "track")
}

// kerf says once who allows for the width of the cut: never both, never
// neither.
func (b *bench) kerf() {
	c := b.j.Cutting
	switch {
	case c == nil || c.KerfBy == job.KerfByUnknown:
		b.item("Kerf: the outlines are drawn at **true size**. The job doesn't say who cuts them: whoever does must allow for the width of the cut. Agree on it beforehand.")
	case c.KerfBy == job.KerfByMe:
		b.item("Kerf: the drawings **allow for a cut of %s already** (openings smaller and outlines larger by half of it). The shop must not allow for it again.", b.size(c.Kerf))
	case c.KerfGiven:
		b.item("Kerf: the outlines are drawn at **true size**. The shop allows for its cut of %s: tell it so.", b.size(c.Kerf))
	default:
		b.item("Kerf: the outlines are drawn at **true size**. The shop allows for the width of its cut: tell it so.")
	}
	if s := b.r.Shop; s.Name != "" {
		b.item("Shop: %s; by its profile it holds %s.", plain(s.About), b.size(s.Tolerance))
	}
}

// joinLayers says which floor goes under which wall.
func (b *bench) joinLayers() {
	room := (template.SlotWidth(b.gs) - b.gs.Width) / 2
	for _, p := range b.r.Set.Panels {
		if b.floored(p.ID) {
			b.tick("Fix %s-floor under %s-wall, both with the upper face up and the upper edge up, edges flush all round. Glue it, or use screws with sunk heads clear of every track.", p.ID, p.ID)
		}
	}
	if b.anyFloor() {
		b.tick("Check that every slot runs along the middle of its track: there is %s of room on either side of the bit's way, so half a millimetre off does no harm. Then take off any glue that has run into a track.", b.size(room))
	}
}
