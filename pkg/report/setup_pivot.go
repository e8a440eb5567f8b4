package report

// What the set-up sheet says in place of panels and set-ups where the router
// swings on a bar about a pin.

import (
	"fmt"

	"strapwork/pkg/aids"
	"strapwork/pkg/work"
)

// swung reports whether the router swings on a bar.
func (b *bench) swung() bool { return b.j.Router.Guide == work.GuidePivot }

func (b *bench) pivot() {
	b.heading("The pivot bar")
	b.tick("Measure the bit by a slot in scrap: this bar is for a slot of %s. Measure the pin: %s.", b.size(b.j.Router.Bit), b.size(aids.PivotPin))
	b.tick("With the plug pulled, put the bit through the hole of its own size at the bar's broad end, and screw the bar to the router's base with the bit turning free in it: so the bar is true to the spindle.")
	b.tick("Stick the pin, square and firm, in a hole as deep as the work allows. It must end below the bar's upper face where the base passes over it.")
	b.gap()
	var rows [][]string
	for _, h := range b.r.Pivot.Holes {
		rows = append(rows, []string{h.Label, b.size(h.Distance), blank})
	}
	b.table([]string{"hole, from the bit outwards", "from the bit's centre", "measured"}, rows)
	b.heading("The circles")
	b.para("The pin's hole marks the work. Drill it only where that wood is cut away or covered later, as within a rosette's sound hole; else glue on a block of scrap with tape, and drill that.")
	rows = nil
	for _, c := range b.r.Pivot.Circles {
		rows = append(rows, []string{plain(list(c.Elements)), b.place(c.Center), b.size(c.Radius), swingWord(c), b.holesOf(c), "[ ]"})
	}
	b.table([]string{"what", "pin at", "radius of the middle", "swing", "pin in holes, inner wall first", "done"}, rows)
	b.heading("How every cut is made")
	b.para("Each hole is swung in %s, set with the plug pulled. To set a depth, lay the bar on shims as thick as that depth, over a flat surface, and let the bit down to it.", passWord(len(b.steps)))
	b.passes()
	b.tick("Try every circle in scrap first, and measure width and radius of the grooves.")
	b.tick("Seen from above, swing clockwise in the hole of the outer wall, counter-clockwise in that of the inner: the wall that is cut lies on the left of travel.")
	b.tick("The motor off and the bit at rest before the bar is lifted off the pin. Clear the chips after each swing.")
	b.gap()
}

func swingWord(c aids.PivotCircle) string {
	if c.Full {
		return "a whole turn"
	}
	return "from end to end"
}

func (b *bench) holesOf(c aids.PivotCircle) string {
	names := make([]string, 0, len(c.Holes))
	for _, i := range c.Holes {
		h := b.r.Pivot.Holes[i]
		names = append(names, fmt.Sprintf("%s (%s)", h.Label, b.size(h.Distance)))
	}
	return list(names)
}
