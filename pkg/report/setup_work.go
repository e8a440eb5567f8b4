package report

import (
	"fmt"
	"strings"

	"strapwork/pkg/build"
	"strapwork/pkg/plan"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// test writes the trial in scrap, with blanks for what is measured.
func (b *bench) test() {
	b.heading("First the whole set in scrap")
	b.para("No figure on this sheet takes the place of a trial. The set is tried and tuned in scrap before a bit is near the work.")
	b.tick("%s", b.traceOnPaper())
	b.tick("In flat scrap: every cut of every set-up, laid out and made as in the next sections, to the full depth.")
	b.tick("Measure every groove near its start, at the middle and near its end, and write it down.")
	if b.gs.Thin() {
		b.tick("Compare the widths: they can't be tuned, so a groove that is off wants a look at its track, the bit and the chips.")
	} else {
		b.tick("Even the widths out with tape, and write down where each strip of tape is. Try again.")
	}
	b.tick("Try the strips dry, at the crossings too.")
	b.gap()
	wanted := b.number(b.j.Inlay.Width) + " " + b.u.String()
	var rows [][]string
	for _, s := range b.order {
		for _, t := range s.Made() {
			rows = append(rows, []string{fixed(float64(s.Number), 0), plain(t.Cut.Name), wanted, "", "", "", ""})
		}
	}
	b.table([]string{"set-up", "cut", "width wanted", "start ", "middle", "end   ", "tape  "}, rows)
}

// everyCut writes the sequence that all cuts have in common, once, and the
// depths of its passes.
func (b *bench) everyCut() {
	b.heading("How every cut is made")
	h := heightsOf(b.j)
	b.para("The router stands on %s. Each cut is made in %s:", b.standsOn(), passWord(len(b.steps)))
	b.passes()
	if h.above > 0 {
		b.para("The second figure supposes a sheet of %s under the base: measure yours, and set the depth from the work's surface.%s", b.size(h.above), b.depthGauge())
	}
	if !b.j.Router.Plunge {
		b.para("The router doesn't plunge: every cut wants a **pilot hole** at its start, at the place that is given with it. Drill it %s, square to the work, as deep as the groove and no deeper. For each pass set the depth with the plug pulled.", b.pilot())
	}
	for i, s := range b.sequence() {
		b.step(i+1, "%s", s)
	}
	b.gap()
	b.para("Chips in a corner or under the base change the width and the depth. Never go round the other way: with the wall on the right of travel the bit pulls the router off its wall and into the wood.")
}

// passes writes the depths.
func (b *bench) passes() {
	var rows [][]string
	for i, d := range b.steps {
		rows = append(rows, []string{fixed(float64(i+1), 0), b.size(d), b.size(heightsOf(b.j).above + d)})
	}
	b.table([]string{"pass", "depth in the work", "bit below the router's base"}, rows)
}

func passWord(n int) string {
	if n == 1 {
		return "one pass"
	}
	return plural(n, "pass")
}

// pilot says how wide a pilot hole may be: the bit must turn free in it, and
// it must stay within the groove.
func (b *bench) pilot() string {
	r := b.j.Router
	if b.gs.Thin() {
		return fmt.Sprintf("as wide as the bit, %s", b.size(r.Bit))
	}
	return fmt.Sprintf("wider than the bit's %s and no wider than the groove's %s", b.size(r.Bit), b.size(b.j.Inlay.Width))
}

// sequence is the entry, the way round and the exit, in order.
func (b *bench) sequence() []string {
	steps := []string{
		"**Bit up**, the motor off.",
		"**Rider in** at the cut's start: " + b.inTrack() + ", the mark facing the upper edge.",
		"**Motor on**: let it come to speed.",
		"**Plunge** to the pass's depth and lock." + b.plungeCaution(),
	}
	if !b.j.Router.Plunge {
		steps = []string{
			"**Bit set** to the pass's depth, the plug pulled. Plug in again with the switch off.",
			"**Rider in** at the cut's start, the bit in the pilot hole and free of its sides: " + b.inTrack() + ", the mark facing the upper edge.",
			"**Motor on**: hold the router still and let it come to speed.",
		}
	}
	if b.j.Router.Guide == work.GuideBearing {
		for i, s := range steps {
			steps[i] = strings.TrimSuffix(s, ", the mark facing the upper edge.")
			if steps[i] != s {
				steps[i] += "."
			}
		}
	}
	out := "**Wall on the left**: feed to the cut's end, the " + b.rider() + " held against the wall on the left of travel."
	if b.marked() {
		out += " The arrows along the walls point that way."
	}
	back := "**Round**: there move over to the opposite wall, which is on the left for the way back, and feed to the start. From above, the track is gone round clockwise."
	if b.gs.Thin() {
		back = "**Back** to the start by the same track: the bit has no play, and both walls guide."
	}
	steps = append(steps, out, back)
	if b.j.Router.Plunge {
		steps = append(steps, "**Retract** the bit.")
	}
	return append(steps,
		"**Stop** the motor and wait until the bit stands still.",
		"**Lift** the router. Clear the chips from groove and track after each leg and before the next pass.",
	)
}

func (b *bench) plungeCaution() string {
	if b.j.Router.Guide == work.GuideBearing {
		return " Until the bearing is level with the wall nothing guides: keep to the middle of the track, or the bit cuts the template."
	}
	return ""
}

// grooving writes the set-ups in order.
func (b *bench) grooving() {
	b.heading("The set-ups")
	b.para("Each cut is given by the end of the track where it starts, the bit's place there, the end that it goes to, and how far that is along the middle. Tick each pass.")
	for _, s := range b.order {
		b.setUp(s)
	}
}

func (b *bench) setUp(s plan.SetUp) {
	b.subheading(fmt.Sprintf("Set-up %d of %d: panel %s", s.Number, len(b.order), s.PanelID))
	b.tick("%s", b.layText(s))
	b.tick("%s %s", b.press(), b.pictureOf(s))
	for _, t := range s.Made() {
		b.tick("%s", b.cutText(t))
	}
	for _, t := range s.Spare() {
		b.tick("%s", spareText(t))
	}
	b.tick("With the panel still in place: clear the chips, measure the width and depth of each groove, and go round again where chips have held the router off.")
	if b.frame() != nil {
		b.tick("Loosen the wedges and lift the panel.")
	} else {
		b.tick("Unclamp and lift the panel.")
	}
}

// pictureOf is the picture that a set-up is held against: of the panel as it is
// laid, or else of its wall.
func (b *bench) pictureOf(s plan.SetUp) string {
	const why = "a panel that lies wrongly spoils the work."
	if laid := fmt.Sprintf("templates/set-up-%d.svg", s.Number); b.has(laid) {
		return "Hold [the picture of this set-up](" + laid + ") beside it, with the base's sweep: " + why
	}
	for _, p := range b.r.Parts {
		if path, ok := partFile(b.r, p, build.SVG); ok && p.Panel == s.PanelID && p.Ply == sheet.Wall {
			return "Hold [its picture](" + path + ") beside it: " + why
		}
	}
	return "Hold its picture beside it: " + why
}

func (b *bench) cutText(c plan.Track) string {
	start, end := c.Start(), c.End()
	from, to := compass(end, start), compass(start, end)
	t := fmt.Sprintf("**%s**%s, track %s: start in the %s end at %s, to the %s end at %s, %s.", plain(c.Cut.Name), along(c), c.ID,
		from, b.place(start), to, b.place(end), b.rough(c.Line.Length()))
	if !b.j.Router.Plunge {
		t += " Pilot hole at " + b.place(c.Pilot) + "."
	}
	if len(c.Elsewhere) > 0 {
		t += " **Cut again:** " + b.overlapsText(c.Elsewhere) + " There nothing is left to cut; going round once more " + widens + "."
	}
	for _, d := range b.steps {
		t += " [ ] " + unit.Number(d, b.u)
	}
	return t
}

// widens is what cutting a groove a second time does to it.
const widens = "can widen the groove by as much as the panel lies off the first one's place"

// overlapsText says which earlier cuts lie along a cut.
func (b *bench) overlapsText(all []plan.Overlap) string {
	parts := make([]string, len(all))
	for i, o := range all {
		parts[i] = fmt.Sprintf("%s of it along %s, made in set-up %d", b.rough(o.Length), plain(o.Cut), o.SetUp)
	}
	return list(parts) + "."
}

// spareText says why a track is left alone.
func spareText(t plan.Track) string {
	parts := make([]string, len(t.Elsewhere))
	for i, o := range t.Elsewhere {
		parts[i] = fmt.Sprintf("%s, made in set-up %d", plain(o.Cut), o.SetUp)
	}
	return fmt.Sprintf("**Leave track %s alone** (it made %s as the panel first lay): the groove under it is %s. Going round it once more %s.",
		t.ID, plain(t.Own), list(parts), widens)
}

// alongMost is how many elements a cut's way is told by; the rest are counted.
const alongMost = 4

func along(c plan.Track) string {
	names := make([]string, 0, len(c.Along))
	for i, n := range c.Along {
		if i == alongMost {
			names = append(names, plural(len(c.Along)-alongMost, "other"))
			break
		}
		names = append(names, plain(n))
	}
	if len(names) == 0 || len(names) == 1 && names[0] == plain(c.Cut.Name) {
		return ""
	}
	return " along " + list(names)
}
