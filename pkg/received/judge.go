package received

import (
	"math"
	"slices"

	"strapwork/pkg/budget"
	"strapwork/pkg/diag"
	"strapwork/pkg/groove"
	"strapwork/pkg/measured"
	"strapwork/pkg/profile"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Work is what tracks are judged by.
type Work struct {
	Inlay  work.Inlay
	Router work.Router
	Kerf   float64      // of the job, mm; 0 where it gives none
	Shop   profile.Shop // who cut them
	// Likely is by how much in mm the width of a groove is likely out for other
	// reasons than its track, which is measured.
	Likely float64
}

// WorkOf is the work of a job.
func WorkOf(in work.Inlay, kerf float64, p budget.Params, size groove.Size, set template.Set, shop profile.Shop) Work {
	rest := budget.Of(p, size, set, shop).Without(budget.Walls).Without(budget.Kerf)
	return Work{Inlay: in, Router: p.Router, Kerf: kerf, Shop: shop, Likely: rest.Sum(budget.Widen).RSS}
}

// Judge reports what every opening will make. Findings with errors say that
// something can't be put right, or is not known; warnings that something should
// be looked at.
func Judge(w Work, c Card, openings []Opening) ([]Groove, diag.Findings) {
	g := judge{Work: w, card: c, wanted: w.Inlay.Width}
	g.tools(openings)
	list := make([]Groove, 0, len(openings))
	for _, o := range openings {
		list = append(list, g.opening(o))
	}
	g.found.Sort()
	return list, g.found
}

type judge struct {
	Work
	card       Card
	wanted     float64
	rider, bit float64 // NaN where they were not measured
	found      diag.Findings
}

// riderRow and bitRow are the card's rows of the tools.
func (g *judge) riderRow() measured.Row {
	return measured.Row{Name: "the rider", Reading: g.card.Rider, Planned: g.Router.RiderDiameter}
}

func (g *judge) bitRow() measured.Row {
	return measured.Row{Name: "the bit", Reading: g.card.Bit, Planned: g.Router.Bit}
}

// tools takes the mean of the rider's and the bit's readings.
func (g *judge) tools(openings []Opening) {
	g.rider, g.bit = g.card.Rider.Mean(), g.card.Bit.Mean()
	if math.IsNaN(g.rider) {
		g.card.Errorf(&g.found, g.card.Rider, measured.RuleUnmeasured, "the rider is not measured").
			Hintf("measure across it in three directions and write rider = [.., .., ..]")
	}
	if math.IsNaN(g.bit) {
		g.card.Errorf(&g.found, g.card.Bit, measured.RuleUnmeasured, "the bit is not measured").
			Hintf("cut a slot in scrap, measure the slot and write bit = ..")
	}
	track := measured.Row{Name: "a track", Planned: nominal(openings)}
	if g.card.Asked(&g.found, g.riderRow(), g.bitRow(), track) {
		g.rider = math.NaN()
	}
	if g.card.Asked(&g.found, g.bitRow(), g.riderRow(), track) {
		g.bit = math.NaN()
	}
	if lo, hi := g.card.Rider.Span(); hi-lo > Tolerance+rounding && !math.IsNaN(g.rider) {
		g.card.Warnf(&g.found, g.card.Rider, "rider-not-round", "the rider's diameters differ by %s", unit.Len(hi-lo)).
			Hintf("a base with flat sides can't ride a template: turn it round, or take another")
	}
	if g.bit > g.wanted+Tolerance {
		slot, wanted := unit.Apart(g.bit, g.wanted)
		g.card.Errorf(&g.found, g.card.Bit, "bit-wide", "the bit cuts a slot of %s, and the groove is to be %s", slot, wanted).
			Hintf("take a bit whose slot is at most %s", unit.AtMost(g.wanted))
	}
}

// rounding in mm is far under a caliper's last digit, and over the noise of
// arithmetic with its readings.
const rounding = 1e-6

// opening judges one track.
func (g *judge) opening(o Opening) Groove {
	out := Groove{Opening: o}
	r := g.card.Tracks[o.ID]
	if len(r.Values) == 0 {
		g.card.Errorf(&g.found, r, measured.RuleUnmeasured, "the track %s is not measured", o.ID).
			Hintf("write %s = its width from wall to wall, below [track]", o.ID)
		return out
	}
	if g.card.Asked(&g.found, measured.Row{Name: "the track " + o.ID, Reading: r, Planned: o.Nominal}, g.riderRow(), g.bitRow()) {
		out.Asked = true
		return out
	}
	out.Track, out.Broad = r.Span()
	if math.IsNaN(g.rider) || math.IsNaN(g.bit) {
		return out
	}
	out.Width, out.Widest = out.Track-g.rider+g.bit, out.Broad-g.rider+g.bit
	out.Off = out.Width - g.wanted
	out.Verdict, out.Why = g.verdict(out)
	if out.Verdict == Tape {
		out.Tape = TapeFor(out.Off)
	}
	g.report(out, r)
	if spread := out.Broad - out.Track; spread > Uneven+rounding && out.Verdict != Wide {
		g.uneven(out, r)
	}
	return out
}

// uneven reports a track whose groove is wider in some places than in others:
// the narrowest place says which tape it takes, the widest how much play the
// strips have there.
func (g *judge) uneven(o Groove, r measured.Reading) {
	left := o.Widest - g.wanted - o.Tape.Total()
	what := unit.Say("its groove comes out from %s to %s wide", unit.Len(o.Width), unit.Len(o.Widest))
	switch {
	case o.Tape.Total() > 0:
		what = unit.Say("%s, and with tape for the narrowest place is still up to %s too wide", what, unit.Len(left))
	case left > 0:
		what = unit.Say("%s, up to %s too wide", what, unit.Len(left))
	}
	g.card.Warnf(&g.found, r, "track-uneven", "the track %s varies by %s in width: %s", o.ID, unit.Len(o.Broad-o.Track), what).
		Hintf("look for a bump or a burr on the walls and measure again, or tape only the wide stretch")
}

// verdict is what becomes of a track, and why one that is out is left alone.
func (g *judge) verdict(o Groove) (v Verdict, why unit.Text) {
	slack := Tolerance + rounding
	switch {
	case g.bit > g.wanted+slack:
		return BitWide, why // reported once, with the bit
	case o.Track < g.rider-rounding && o.Off < -slack:
		return NoEntry, why
	case o.Off < -Small-rounding:
		return Narrow, why
	case o.Off > MostTape, o.Broad-o.Track > MostTape && o.Widest-g.wanted > MostTape:
		return Wide, why
	case math.Abs(o.Off) <= slack:
		return Good, why
	case math.Abs(o.Off) <= Small+rounding:
		return g.smallness(o.Off)
	}
	return Tape, why
}

// smallness judges a groove that is out by a few hundredths: more than makers
// work to, and less than the thinnest tape puts right.
func (g *judge) smallness(off float64) (v Verdict, why unit.Text) {
	play := 0.0
	if len(g.Inlay.Strips) > 0 {
		play = g.Inlay.Clearance
	}
	switch {
	case off < 0 && -off > play/2+rounding:
		return Narrow, why
	case off < 0:
		return Good, unit.Say("the strips still have %s of their %s of play", unit.Len(play+off), unit.Len(play))
	case off <= g.Likely:
		return Good, unit.Say("the groove is likely out by %s for other reasons", unit.Len(g.Likely))
	}
	thin := slices.Min(Tapes())
	return Good, unit.Say("it is %s per side, and the thinnest tape is %s", unit.Len(off/2), unit.Len(thin))
}

// report writes the finding of a track that tape doesn't put right.
func (g *judge) report(o Groove, r measured.Reading) {
	short := unit.Len(-o.Off)
	switch o.Verdict {
	case NoEntry:
		rider, track := unit.Apart(g.rider, o.Track)
		g.card.Errorf(&g.found, r, "no-entry", "the rider of %s doesn't fit into the track %s of %s", rider, o.ID, track).
			Hintf("take %s off the walls with a file and a flat block, or recut the panel%s", short, g.kerf(o))
	case Narrow:
		g.card.Errorf(&g.found, r, "narrow", "the track %s of %s makes a groove that is too narrow by %s", o.ID, unit.Len(o.Track), short).
			Hintf("take %s off a wall with a file and a flat block, or a bit that cuts a slot of %s%s", short, unit.Len(g.bit-o.Off), g.kerf(o))
	case Wide:
		g.card.Errorf(&g.found, r, "wide", "the track %s of %s makes a groove that is too wide by %s, more than tape can fix", o.ID, unit.Len(o.Broad), unit.Len(o.Widest-g.wanted)).
			Hintf("%srecut the panel%s", g.smaller(o), g.kerf(o))
	case Unknown, Good, Tape, BitWide:
	}
}

// smaller is the way out of a wide track with a smaller bit, where there is one.
func (g *judge) smaller(o Groove) unit.Text {
	const much = 0.5 // of the bit: a thinner one is another tool altogether
	if slot := g.bit - o.Off; o.Off > MostTape && slot >= much*g.bit {
		return unit.Say("take a bit that cuts a slot of %s, or ", unit.Len(slot))
	}
	return unit.Say("")
}

// kerf asks whether the width of the cut was allowed for. Where nobody allowed
// for it a track is wider by it, where two did it is narrower. A router's is its
// cutter.
func (g *judge) kerf(o Groove) unit.Text {
	cut, name := g.Kerf, "kerf"
	of := unit.Say("the kerf of %s", unit.Len(cut))
	if g.Shop.Cutter == profile.Router {
		if cut == 0 {
			cut = g.Shop.CutterDiameter
		}
		name, of = "cutter's width, a router's kerf,", unit.Say("the cutter's %s, a router's kerf", unit.Len(cut))
	}
	off := o.Track - o.Nominal
	// A test cut is measured to some hundredths, and a worn cutter is thinner.
	about := cut > 0 && math.Abs(math.Abs(off)-cut) <= math.Max(cut/10, 2*Tolerance)
	switch {
	case about && off > 0:
		return unit.Say("; the track is out by about %s: did nobody allow for it?", of)
	case about:
		return unit.Say("; the track is out by about %s: was it allowed for twice?", of)
	case off > 0:
		return unit.Say("; was the %s allowed for?", name)
	}
	return unit.Say("")
}
