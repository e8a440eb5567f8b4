package report

import (
	"slices"
	"strings"

	"strapwork/pkg/build"
	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
	"strapwork/pkg/template"
	"strapwork/pkg/work"
)

// parts writes what is to be cut from sheet, of what, and who allows for the
// width of the cut.
func (b *bench) parts() {
	b.heading("Have the parts cut")
	var rows, aids [][]string
	for _, p := range b.r.Parts {
		row := []string{b.drawing(p), fixed(float64(p.Quantity), 0), b.number(p.Thickness), b.across(b.finished(p)), partWord(p)}
		if p.Ply == sheet.Aid {
			aids = append(aids, row)
		} else {
			rows = append(rows, row)
		}
	}
	head := []string{"part", "pieces", "sheet, " + b.u.String(), "outline, " + b.u.String(), "what"}
	b.table(head, rows)
	if len(aids) > 0 {
		head[0] = "shop aid"
		b.table(head, aids)
	}
	if f := b.frame(); f != nil && len(f.Screws) > 0 {
		b.item("For the frame: %s of 4 mm with sunk heads, longer than the frame is thick (%s) by %s or more, and too short to come through what they go into; and %s of folding wedges, counted above.", plural(len(f.Screws), "screw"), b.size(b.j.Template.Wall), b.rough(screwGrip), plural(len(f.Wedges), "pair"))
	}
	b.stock()
	b.item("Material: flat MDF or good plywood of even thickness is common practice. The edges of the tracks must be smooth, since every bump is copied into the groove.")
	b.kerf()
	if _, ok := partFile(b.r, b.r.Parts[0], build.DXF); ok {
		b.item("The machine's drawing lies beside each part's picture under the same name, ending in .dxf. It shows the part as it lies on the work, seen from above.")
	}
	if i := slices.IndexFunc(b.r.Files, func(f build.File) bool { return f.Kind == build.PDF && f.Role == "groove" }); i >= 0 {
		b.item("Without a machine: every part is in the folder paper at full size, and so is [the groove](%s). Print at actual size, and measure page one before anything is glued or sawn.", b.r.Files[i].Path)
	}
	b.gap()
	if b.swung() {
		return // one part, which can't be mistaken
	}
	if b.marked() {
		b.tick("Check each panel against its picture: its letter, and the number of openings.")
	} else {
		b.tick("The parts carry no lettering. Write each part's name on its upper face, and an arrow to the upper edge of its picture, before the parts get mixed up.")
	}
	b.gap()
}

// screwGrip is what a screw of 4 mm should go in by at least, in mm: three times
// its diameter (common practice).
const screwGrip = 12.0

// finished is the size of a part once it is cut; its drawing may be larger, by
// the width of the cut.
func (b *bench) finished(p sheet.Part) geom.Point {
	return p.Sheet.BoundsOf(sheet.Edge).Size().Sub(geom.Pt(b.r.Kerf(), b.r.Kerf()))
}

// drawing is a part's name, with a link to its picture if there is one.
func (b *bench) drawing(p sheet.Part) string {
	path, ok := partFile(b.r, p, build.SVG)
	if !ok {
		return p.Sheet.Name
	}
	return "[" + p.Sheet.Name + "](" + path + ")"
}

// partWord says what a part is, in a few words.
func partWord(p sheet.Part) string {
	n := 0
	for _, l := range p.Sheet.Lines {
		if l.Role == sheet.Opening {
			n++
		}
	}
	switch p.Ply {
	case sheet.Wall:
		return "wall with " + plural(n, "track")
	case sheet.Floor:
		return "floor with " + plural(n, "slot")
	case sheet.Frame, sheet.Wedge, sheet.Key, sheet.Aid, sheet.PivotBar:
	}
	// A title goes on to say how or where the part is used.
	word, _, _ := strings.Cut(p.Sheet.Title, ":")
	word, _, _ = strings.Cut(word, " for ")
	if p.Ply == sheet.Aid {
		word, _, _ = strings.Cut(word, ",")
	}
	return word
}

// kerf says once who allows for the width of the cut: never both, never
// neither.
func (b *bench) kerf() {
	c := b.j.Cutting
	switch {
	case c == nil || c.KerfBy == work.KerfByUnknown:
		b.item("Kerf: the outlines are drawn at **true size**. The job doesn't say who cuts them: whoever does must allow for the width of the cut. Agree on it beforehand.")
	case c.KerfBy == work.KerfByMe:
		b.item("Kerf: the drawings **allow for a cut of %s already** (openings smaller and outlines larger by half of it). The shop must not allow for it again.", b.size(c.Kerf))
	case c.KerfGiven:
		b.item("Kerf: the outlines are drawn at **true size**. The shop allows for its cut of %s: tell it so.", b.size(c.Kerf))
	default:
		b.item("Kerf: the outlines are drawn at **true size**. The shop allows for the width of its cut: tell it so.")
	}
	if list := b.r.Set.Drilled(b.r.Kerf()); len(list) > 0 {
		sizes := make([]string, len(list))
		for i, d := range list {
			sizes[i] = b.size(d)
		}
		b.item("Holes of %s are too small for that cutter: they are drawn as **crosses**. Drill them yourself, square to the sheet.", strings.Join(sizes, " and of "))
	}
	if s := b.r.Shop; s.Name != "" {
		b.item("Shop: %s; by its profile it holds %s.", plain(s.About), b.size(s.Tolerance))
	}
}

// joinLayers says which floor goes under which wall, and how parts are joined
// that the machine's bed couldn't take whole.
func (b *bench) joinLayers() {
	room := (template.SlotWidth(b.gs) - b.gs.Width) / 2
	for _, p := range b.r.Set.Panels {
		if p.Split != nil {
			b.tick("%s", b.joinHalves(p))
		}
		if b.floored(p.ID) {
			b.tick("Fix %s-floor under %s-wall, both with the upper face up and the upper edge up, edges flush all round. %s", p.ID, p.ID, register(p))
		}
	}
	if b.anyFloor() {
		b.tick("Check that every slot runs along the middle of its track: there is %s of room on either side of the bit's way, so %s off does no harm. Then take off any glue that has run into a track.", b.size(room), b.size(looseFit))
	}
}

// register says what holds a floor under its wall.
func register(p template.Panel) string {
	if len(p.Dowels) == 0 {
		return "Glue it, or use screws with sunk heads clear of every track."
	}
	return "Glue it, with " + plural(len(p.Dowels), "dowel") + " of 4 mm through both; laid otherwise, the holes don't meet. Cut the dowels flush."
}

// joinHalves says how a panel in two parts becomes one.
func (b *bench) joinHalves(p template.Panel) string {
	keys := fixed(float64(len(p.Split.Joints)), 0) + " of " + b.pieceOf("panel-"+fixture.JointKeyName)
	return "Panel " + p.ID + " comes in two parts: on a flat surface join " + p.ID + "-wall-1 and " + p.ID + "-wall-2 with " + keys +
		" and glue, and lay a rule along both sides of the joint: they must be straight through."
}
