package build

// Feeds, speed and step that fit the bit: what the job doesn't say is worked out
// from the bit's table by the handbook's formula for the chip load, c = f / (n z),
// and what it says is held against the same table.

import (
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// ruleWorked is the rule of the note that says what was worked out and from what.
const ruleWorked = "feed-worked-out"

// speed is the spindle's as the job has it, or the usual one within what the bit
// and, before that, the machine allow.
func (r *Result) speed(g *Grooving) {
	least, most := g.Machine.Spindle[0], g.Machine.Spindle[1]
	within := func(n float64) float64 {
		if n > most && most > 0 {
			return most
		}
		return math.Max(n, least)
	}
	g.Speed = g.Wanted.Speed
	switch {
	case g.Speed == 0:
		g.Speed = within(g.Bit.UsualSpeed())
	case g.Speed != within(g.Speed):
		near := within(g.Bit.Within(g.Speed))
		r.Findings.Errorf("program.speed", ruleFeed, "the machine's spindle doesn't turn at %g turns a minute", g.Speed).
			Hintf("it has %g to %g: write speed = %g", least, most, near).Propose("program.speed", unit.Say("%g", near))
	}
}

// feeds are the feeds and the step as the job has them, or as fit the bit.
func (r *Result) feeds(g *Grooving) {
	w, most := g.Wanted, g.Machine.Feed
	g.Feed = r.limited("feed", w.Feed, g.Bit.UsualFeed(g.Speed), g.Bit.GreatestFeed(g.Speed), most[0])
	g.Plunge = r.limited("plunge", w.Plunge, profile.UsualPlunge(math.Min(g.Feed, g.Bit.GreatestFeed(g.Speed))), g.Bit.GreatestPlunge(g.Speed), most[1])
	if g.Step = w.Step; g.Step == 0 {
		g.Step = work.DepthStep(r.Job.Router.Bit)
	}
}

// limited is a feed as asked for, or the usual one as far as the machine can. The bit
// stands greatest; most is the machine's greatest, 0 if that isn't known.
func (r *Result) limited(key string, asked, usual, greatest, most float64) float64 {
	switch {
	case asked == 0 && most > 0:
		return r.round(math.Min(usual, most))
	case asked == 0:
		return r.round(usual)
	case most > 0 && asked > most:
		value := unit.Rate(math.Min(most, greatest)).Down().Typed()
		r.Findings.Errorf(diag.Key("program."+key), ruleFeed, "a %s of %s is more than the machine's %s", key, unit.Rate(asked), unit.Rate(most)).
			Hintf("write %s = %s", key, value).Propose(diag.Key("program."+key), value)
	}
	return asked
}

// round is a feed that was worked out, down to a whole millimetre or a tenth of an
// inch a minute: what is shown is then what is written.
func (r *Result) round(feed float64) float64 {
	step := 1.0
	if r.Job.Units == unit.Inch {
		step = unit.MMPerInch / 10
	}
	if down := math.Floor(feed/step) * step; down > 0 {
		return down
	}
	return feed
}

// MostPlunge is the feed straight down in mm a minute beyond which a program isn't
// what the job asks for: its own, or else what the bit stands at its speed.
func (g Grooving) MostPlunge() float64 {
	if g.Wanted.Plunge > 0 {
		return g.Wanted.Plunge
	}
	return math.Max(g.Plunge, g.Bit.GreatestPlunge(g.Speed))
}

// checkBit holds the feeds and the speed against the bit's table, but for what is
// beyond the machine.
func (r *Result) checkBit() {
	g := r.Grooving
	u := profile.Use{
		Feed: g.Feed, Plunge: g.Plunge, Speed: g.Speed, Slot: r.Job.Router.Bit, MostFeed: g.Machine.Feed[0], Spindle: g.Machine.Spindle,
	}
	for _, remark := range g.Bit.Check(u) {
		if r.beyondMachine(remark.About) {
			continue
		}
		f := r.Findings.Warnf(keyOf(remark.About), ruleCutter, "%s", remark.Text).Hintf("%s", remark.Hint)
		if remark.Value != nil {
			f.Propose(diag.Key("program."+remark.Key), remark.Value)
		}
	}
}

// beyondMachine reports whether what is asked for is more or less than the machine
// can, which is told already.
func (r *Result) beyondMachine(s profile.Subject) bool {
	return slices.ContainsFunc(r.Findings, func(f diag.Finding) bool {
		return f.Rule == ruleFeed && f.Key == keyOf(s)
	})
}

// keyOf is the key of the job that a remark is about.
func keyOf(s profile.Subject) diag.Key {
	switch s {
	case profile.TheCutter:
		return "program.cutter"
	case profile.TheSpeed:
		return "program.speed"
	case profile.TheFeed:
		return "program.feed"
	case profile.ThePlunge:
		return "program.plunge"
	}
	return "program"
}

// tellFeeds notes what was worked out, where a program is asked for.
func (r *Result) tellFeeds() {
	p := r.Job.Program
	if p == nil {
		return
	}
	g := r.Grooving
	var list []unit.Text
	add := func(given float64, text unit.Text) {
		if given == 0 {
			list = append(list, text)
		}
	}
	add(p.Speed, unit.Say("speed %.0f turns a minute", g.Speed))
	add(p.Feed, unit.Say("feed %s", g.FeedReason()))
	add(p.Plunge, unit.Say("plunge %s", unit.Rate(g.Plunge)))
	add(p.Step, unit.Say("step %s", r.StepReason()))
	if len(list) > 0 {
		r.Findings.Notef("program", ruleWorked, "worked out for [program]: %s", joined(list))
	}
}

// joined is texts with semicolons between them.
func joined(list []unit.Text) unit.Text {
	out := list[0]
	for _, t := range list[1:] {
		out = unit.Say("%s; %s", out, t)
	}
	return out
}

// FeedReason is the feed and, if it was worked out, from what.
func (g Grooving) FeedReason() unit.Text {
	if g.Wanted.Feed > 0 {
		return unit.Say("%s, as the job has it", unit.Rate(g.Feed))
	}
	if most := g.Machine.Feed[0]; most > 0 && g.Bit.UsualFeed(g.Speed) > most {
		return unit.Say("%s, the machine's greatest", unit.Rate(g.Feed))
	}
	flutes := unit.Say("%d flutes", g.Bit.Flutes)
	switch {
	case g.Cutter == nil:
		flutes = unit.Say("one flute, since no cutter is named,")
	case g.Bit.Flutes == 1:
		flutes = unit.Say("one flute")
	}
	return unit.Say("%s: %s at %.0f turns a minute, %s a tooth, %s", unit.Rate(g.Feed), flutes, g.Speed, unit.ChipLoad(g.Bit.UsualChip()), g.Bit.Source())
}

// StepReason is the deepest step and, if the job has none, the rule that it is by.
func (r *Result) StepReason() unit.Text {
	g := r.Grooving
	if g.Wanted.Step > 0 {
		return unit.Say("%s, as the job has it", unit.Len(g.Step))
	}
	return unit.Say("%s, %s the bit's width", unit.Len(g.Step), work.DepthPart(r.Job.Router.Bit))
}
