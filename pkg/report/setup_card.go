package report

// The receiving card: what is measured when the parts come from the shop.

import (
	"math"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/received"
	"strapwork/pkg/sheet"
	"strapwork/pkg/template"
)

// card writes the section.
func (b *bench) card() {
	b.heading("Receive the parts")
	b.para("Measure every part before anything is glued or taped, with calipers, and write it down here. Take the burr off first.")
	b.trackCard(received.Openings(b.r.Set, b.gs))
	b.partCard()
	b.askBack()
	b.tick("Ease the edges of the faces with fine paper, but leave the walls themselves alone: they are the measure.")
	b.joinLayers()
	b.gap()
}

// trackCard lists the tracks.
func (b *bench) trackCard(tracks []received.Opening) {
	b.para("**Every track is to be %s from wall to wall**, at the place that is given and at two more. Tape brings a track that is a little too wide back to size, half of it on each wall; one that is too narrow needs a file. Places are on the panel's drawing; the calipers lie across the track, on an arc towards its centre.", b.size(tracks[0].Nominal))
	var rows [][]string
	for _, t := range tracks {
		rows = append(rows, []string{t.ID, plain(t.Cut), b.place(t.At), calipers(t), blank, b.digits(t.EndToEnd, roughMM, roughIn), blank})
	}
	b.table([]string{"track", "cuts", "measure at", "calipers", "width", "end to end, " + b.u.String(), "measured"}, rows)
}

// calipers says how they lie across a track, on the drawing.
func calipers(t received.Opening) string {
	const square = 1e-6 // far under what a hand can turn, and over rounding
	switch {
	case t.Curved:
		return "radial"
	case math.Abs(t.Across.X) < square:
		return "upright"
	case math.Abs(t.Across.Y) < square:
		return "level"
	}
	return "slanting"
}

// partCard lists what else is measured, part by part.
func (b *bench) partCard() {
	b.para("The parts themselves:")
	var rows [][]string
	add := func(part, what, wanted, within string) {
		rows = append(rows, []string{part, what, wanted, within, blank})
	}
	holds := b.size(b.tolerance())
	for _, p := range b.r.Parts {
		switch p.Ply {
		case sheet.Wall, sheet.Floor, sheet.Frame:
			add(p.Sheet.Name, "outline", b.across(b.finished(p))+" "+b.u.String(), holds)
		case sheet.Key, sheet.Wedge, sheet.Aid, sheet.PivotBar: // they fit, or are made to
		}
		if p.Ply == sheet.Floor {
			add(p.Sheet.Name, "width of slots", b.size(template.SlotWidth(b.gs)), b.size(looseFit))
		}
	}
	if f := b.frame(); f != nil {
		add("frame", "opening", b.across(f.Inside.Polygon().Bounds().Size())+" "+b.u.String(), b.size(looseFit))
		add("frame", "gap beside a panel", b.size(f.Gap), "the wedges fit")
	}
	for _, s := range b.sheets() {
		add("all of that sheet", "thickness", b.size(s), "write it down")
	}
	b.table([]string{"part", "what", "wanted", "within", "measured"}, rows)
	if len(b.r.Set.Panels) > 1 || b.r.Set.SetUps() > 1 {
		b.para("That the panels are alike, and their corners square, matters more than their exact size: lay them on one another, turned as in the set-ups, and feel the edges.")
	}
}

// sheets lists the thicknesses of sheet that the parts are cut from, in the
// order in which they first occur.
func (b *bench) sheets() []float64 {
	var list []float64
	seen := map[float64]bool{}
	for _, p := range b.r.Parts {
		if !seen[p.Thickness] {
			seen[p.Thickness] = true
			list = append(list, p.Thickness)
		}
	}
	return list
}

// askBack says how to have the card judged.
func (b *bench) askBack() {
	name := "`" + CardPath + "`"
	if b.has(CardPath) {
		name = "[" + CardPath + "](" + CardPath + ")"
	}
	b.tick("Copy %s, put in what you measured of %s, bit and tracks, and type `strapwork received %s CARD.toml`. It reports what width each track will make, and what tape brings it back to size: groove = track - %s + bit.",
		name, b.rider(), diag.Typed(jobName(b.r.File)), b.rider())
}

// cardFile is the empty card to copy; a job without tracks has none.
func cardFile(r build.Result) (build.File, bool) {
	tracks := received.Openings(r.Set, r.Groove.Size)
	if len(tracks) == 0 || r.Job == nil {
		return build.File{}, false
	}
	return build.File{Path: CardPath, Kind: build.TOML, Role: cardRole, Data: received.Blank(r.Job.Units, r.Job.Router, jobName(r.File), tracks)}, true
}
