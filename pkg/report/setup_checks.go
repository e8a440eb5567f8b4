package report

import (
	"fmt"

	"strapwork/pkg/diag"
	"strapwork/pkg/groove"
	"strapwork/pkg/profile"
	"strapwork/pkg/template"
	"strapwork/pkg/work"
)

// checks writes what was proved and what was not.
func (b *bench) checks() {
	b.heading("What was checked")
	p := b.r.Proof
	how := "The " + b.rider() + " was rolled through every opening as it was read back from the exported files."
	if b.swung() {
		how = "The bit was swung about every hole of the bar as it was read back from the exported file."
	}
	b.item("**The exported outlines let the router cut at most %s beyond the groove**; %s counts as nothing. %s",
		b.fine(p.OvercutMax), b.fine(groove.Overcut), how)
	b.item("This is a proof of geometry, for a bit and a %s that are as measured. A cutting shop holds perhaps %s, and %s come on top. Only the trial in scrap tells what comes of it.", b.rider(), b.size(b.tolerance()), b.onTop())
	if len(p.Leftovers) > 0 {
		b.item("The bit leaves %s of the groove standing, nowhere more than %s from its reach: that is for the chisel.%s", b.area(p.UncutArea), b.fine(p.UncutMax), b.missed())
	} else {
		b.item("The bit leaves nothing of the groove standing (at most %s).", b.fine(p.UncutMax))
	}
	if !b.swung() {
		b.fewest()
	}
	b.gap()
	b.subheading("Heights")
	for _, line := range b.heights() {
		b.item("%s", line)
	}
	b.gap()
}

// missed says what of the rest the bit could reach.
func (b *bench) missed() string {
	p := b.r.Proof
	if p.MissedMax == 0 {
		return " All of it is out of the bit's reach."
	}
	return fmt.Sprintf(" %s of that the bit could reach, up to %s from what is cut (furthest at %s), but no template leads it there: %s. That is the chisel's too.",
		b.area(p.MissedArea), b.fine(p.MissedMax), b.place(p.MissedAt), b.r.WhyMissed().In(b.u))
}

// areNeeded is "1 panel is" or "2 panels are".
func areNeeded(n int, one string) string {
	if n == 1 {
		return plural(n, one) + " is"
	}
	return plural(n, one) + " are"
}

// onTop is what no proof of outlines knows of.
func (b *bench) onTop() string {
	if b.swung() {
		return "the pin's play and chips"
	}
	return "the panels' places, chips and tape"
}

// fewest says what is known of plans that are better.
func (b *bench) fewest() {
	p := b.r.Set.Plan
	have := fmt.Sprintf("%s, %s", plural(len(p.Panels), "panel"), plural(len(p.SetUps), "set-up"))
	switch {
	case p.Proved():
		b.item("The plan has %s; with no more visible splits, fewer are not possible.", have)
	case p.Visible > p.LeastVisible:
		b.item("The plan has %s and %s, the best that the search found; at least %s needed.", have, plural(p.Visible, "visible split"), areNeeded(p.LeastVisible, "visible split"))
	case len(p.SetUps) == p.LeastSetUps:
		b.item("The plan has %s; no fewer set-ups are possible. At least %s needed.", have, areNeeded(p.LeastPanels, "panel"))
	default:
		b.item("The plan has %s, the best that the search found; at least %s needed.", have, areNeeded(p.LeastSetUps, "set-up"))
	}
}

func (b *bench) tolerance() float64 {
	if b.r.Shop.Tolerance > 0 {
		return b.r.Shop.Tolerance
	}
	return profile.Plain().Tolerance
}

// heights says what was compared, with what outcome. A job whose heights are
// wrong is not built, so what is told of here holds; what the job didn't tell
// is left for the maker to measure.
func (b *bench) heights() []string {
	h := heightsOf(b.j)
	r, t, depth := b.j.Router, b.j.Template, b.j.Inlay.Depth
	lines := []string{fmt.Sprintf("The bit reaches %s below the base at the last pass: %s in the work, and %s from the work up to what the base stands on (%s).",
		b.size(h.above+depth), b.size(depth), b.size(h.above), h.on)}
	lines = append(lines, b.fluteLine(h))
	if line := b.shankLine(); line != "" {
		lines = append(lines, line)
	}
	switch r.Guide {
	case work.GuideBushing:
		if r.Collar > 0 {
			lines = append(lines, fmt.Sprintf("The collar, %s long, stays clear of the work through the template of %s.", b.size(r.Collar), b.size(t.Wall)))
		} else {
			lines = append(lines, fmt.Sprintf("The collar's length is not stated in the job. **Measure it:** it must be less than the template's %s.", b.size(t.Wall)))
		}
	case work.GuideBearing:
		if r.Flute > 0 {
			first := b.steps[0]
			lines = append(lines, fmt.Sprintf("At the first pass the bearing begins %s above the work, below the top of the template of %s.", b.size(r.Flute-first), b.size(t.Wall)))
		}
	case work.GuideBase, work.GuidePivot, work.GuideNone:
	}
	if r.Guide == work.GuideBushing || r.Guide == work.GuideBearing {
		lines = append(lines, b.rimLine())
	}
	return append(lines, b.boardLine())
}

func (b *bench) fluteLine(h stand) string {
	r, depth := b.j.Router, b.j.Inlay.Depth
	switch {
	case r.Flute == 0 && r.Guide == work.GuideBase && h.above > 0:
		return fmt.Sprintf("The flutes' length is not stated in the job. **Measure it:** it must be at least %s, floor and depth together, or the shank must pass the floor's slot of %s; and at least the depth of %s, or the shank narrower than the groove.",
			b.size(h.above+depth), b.size(template.SlotWidth(b.gs)), b.size(depth))
	case r.Flute == 0:
		return fmt.Sprintf("The flutes' length is not stated in the job. **Measure it:** it must be at least the groove's depth of %s.", b.size(depth))
	case r.Guide == work.GuideBase && r.Flute < h.above+depth:
		return fmt.Sprintf("The flutes, %s, are shorter than floor and depth together, but the shank of %s passes the floor's slot of %s.",
			b.size(r.Flute), b.size(r.Shank), b.size(template.SlotWidth(b.gs)))
	case r.Flute < depth:
		return fmt.Sprintf("The flutes, %s, are shorter than the groove is deep, but the shank of %s is no wider than the groove.", b.size(r.Flute), b.size(r.Shank))
	case r.Guide == work.GuideBase:
		return fmt.Sprintf("The flutes, %s, are long enough for %s.", b.size(r.Flute), b.size(h.above+depth))
	}
	return fmt.Sprintf("The flutes, %s, are long enough for the groove's depth of %s.", b.size(r.Flute), b.size(depth))
}

// shankLine says whether the shank goes into what it turns in above the work.
func (b *bench) shankLine() string {
	r := b.j.Router
	inCollar := r.Guide == work.GuideBushing && r.Flute > 0 && r.Flute < b.j.Template.Wall+b.j.Inlay.Depth
	switch {
	case r.Guide == work.GuideBearing && r.Shank == 0:
		return fmt.Sprintf("The shank's size is not stated in the job. **Measure it:** the bearing of %s sits on it and must be larger, or the shank rides the wall.", b.size(r.Rider))
	case r.Guide == work.GuideBearing:
		return fmt.Sprintf("The bearing of %s is larger than the shank of %s that it sits on.", b.size(r.Rider), b.size(r.Shank))
	case inCollar && r.Shank == 0:
		return fmt.Sprintf("The shank's size is not stated in the job. **Measure it:** at the last pass it stands in the collar of %s and must turn free in it.", b.size(r.Rider))
	case inCollar:
		return fmt.Sprintf("At the last pass the shank of %s stands in the collar of %s: it must turn free in it.", b.size(r.Shank), b.size(r.Rider))
	}
	return ""
}

func (b *bench) rimLine() string {
	base, held := b.j.Router.Base, b.gs.RiderRadius+b.j.Template.Margin
	switch {
	case base == 0:
		return fmt.Sprintf("The base's diameter is not stated in the job. **Measure it:** beyond a radius of %s it hangs over the panel's rim and may tip.", b.rough(held))
	case b.frame() != nil && base/2 > held && base/2 <= held+b.frame().Gap+b.frame().Width:
		return fmt.Sprintf("The base of %s reaches beyond the panel's rim by up to %s, on to the frame, which is flush with it. It passes over a gap of %s: keep the router level there.", b.size(base), b.rough(base/2-held), b.size(b.frame().Gap))
	case base/2 > held:
		return fmt.Sprintf("**The base of %s hangs over the panel's rim by up to %s.** Lay packing of the template's thickness flush round the panel.", b.size(base), b.rough(base/2-held))
	}
	return fmt.Sprintf("The base of %s stands on the panel everywhere.", b.size(base))
}

func (b *bench) boardLine() string {
	board := b.j.Board
	if board == nil {
		return fmt.Sprintf("The board is not stated in the job. **Measure it:** it must be thicker than the groove's %s by a good margin, and the motif must lie within it.", b.size(b.j.Inlay.Depth))
	}
	return fmt.Sprintf("Of the board's %s, %s are left under the groove.", b.size(board.Thickness), b.size(board.Thickness-b.j.Inlay.Depth))
}

// findings ends the sheet with what was assumed and what to look at.
func (b *bench) findings() {
	b.heading("Warnings and notes")
	if len(b.r.Findings) == 0 {
		b.para("None.")
		return
	}
	for _, s := range []diag.Severity{diag.Error, diag.Warning, diag.Note} {
		for _, f := range b.r.Findings {
			if f.Severity == s {
				b.item("%s", b.findingText(f))
			}
		}
	}
}

func (b *bench) findingText(f diag.Finding) string {
	where := ""
	if f.Pos.Line > 0 {
		where = fmt.Sprintf(" (line %d of %s)", f.Pos.Line, plain(baseName(f.Pos.File)))
	}
	text := fmt.Sprintf("**%s:** %s%s.", f.Severity, plain(f.Message), where)
	if f.Hint != "" {
		text += " Hint: " + plain(f.Hint) + "."
	}
	return text
}
