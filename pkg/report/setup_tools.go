package report

import (
	"fmt"

	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

const blank = "______"

// tools writes the measures that the templates were made for, how they are
// taken, and how the groove's width is tuned.
func (b *bench) tools() {
	b.heading("Tools and measures")
	b.para("The router rides on %s.", b.guideWords())
	r := b.j.Router
	rows := [][]string{
		{b.rider() + ", diameter", b.size(r.Rider), blank},
		{"bit: width of the slot it cuts", b.size(r.Bit), blank},
		{"track, wall to wall on a straight run", b.size(2 * b.gs.Reach()), blank},
		{"groove: width", b.size(b.j.Inlay.Width), blank},
		{"groove: depth", b.size(b.j.Inlay.Depth), blank},
		{"play of the bit's centre, each side", b.size(b.gs.Offset()), ""},
	}
	if r.OffCenter > 0 {
		rows = append(rows, []string{"bit off the base's centre", b.size(r.OffCenter), ""})
	}
	b.table([]string{"what", "in this job", "measured"}, rows)
	b.tick("Bit: cut a slot in scrap in one go along a straight fence, and measure the slot, not the bit.")
	b.tick("%s", b.measureRider())
	b.tick("Compare with the table. If something is off by more than %s before the templates are cut, write what you measured into the job file (`rider`, `bit`) and build again.", b.hundredths())
	b.gap()
	b.tuning()
	b.facing()
}

func (b *bench) measureRider() string {
	const three = "measure across it in three directions, a sixth of a turn apart"
	switch b.j.Router.Guide {
	case work.GuideBase:
		return "Base: " + three + ". A base with flats is no rider, nor is one whose diameters differ by more than " + b.hundredths() + "."
	case work.GuideBushing:
		return "Collar: " + three + ", and check that it is screwed home and square."
	case work.GuideBearing, work.GuidePivot, work.GuideNone:
	}
	return "Bearing: " + three + ", and check that it spins freely and sits tight on the bit."
}

// hundredths is what makers work to: two hundredths of a millimetre, a
// thousandth of an inch.
func (b *bench) hundredths() string {
	if b.u == unit.Inch {
		return "0.001 in"
	}
	return "0.02 mm"
}

func (b *bench) tuning() {
	r := b.j.Router
	b.subheading("Tuning the width")
	b.item("Groove = bit + track - %s = %s + %s - %s = %s.", b.rider(), b.number(r.Bit), b.number(2*b.gs.Reach()), b.number(r.Rider), b.size(b.j.Inlay.Width))
	if b.gs.Thin() {
		b.item("The bit is as wide as the groove and has no play in the track: the width can't be tuned with tape. A groove of another width wants another bit.")
		b.gap()
		return
	}
	b.item("A wider bit or track makes every groove wider by as much; a larger %s makes it narrower by as much.", b.rider())
	b.item("Tape makes the groove as much narrower as it is thick. Put half of what is needed on each wall: then the groove's middle stays where it is. Tape of thickness t on one wall alone moves it by t/2 away from that wall. Measure ten layers of your tape and divide by ten. Put it along the whole of the wall, without wrinkles or overlaps.")
	b.item("Tape can't make a groove wider. If it comes out too narrow, look for chips and for a bit that is worn; otherwise it wants a smaller %s or new templates.", b.rider())
	b.gap()
}

func (b *bench) number(mm float64) string { return unit.Number(mm, b.u) }

// facing says why the router mustn't turn as it goes round.
func (b *bench) facing() {
	r := b.j.Router
	if r.Guide == work.GuideBearing {
		return // it runs true with its bit
	}
	b.subheading("One mark always faces the same way")
	off := "commonly by 0.1 to 0.5 mm"
	if r.OffCenter > 0 {
		off = fmt.Sprintf("here by %s", b.size(r.OffCenter))
	}
	b.para("A %s is never quite central to the bit (%s). If the router turns as it goes round, the groove wanders by that much to either side; if it doesn't turn, the whole pattern is shifted by it, everywhere alike, and everything fits.", b.rider(), off)
	b.tick("Put a mark on the router. Keep it facing %s in every cut of every set-up.", b.facingMark())
	b.gap()
	b.subBase()
}
