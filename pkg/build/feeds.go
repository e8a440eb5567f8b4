package build

// Feeds, speed and step that fit the bit: what the job doesn't say is worked out
// from the bit's table by the handbook's formula for the chip load, c = f / (n z),
// and what it says is held against the same table.

import (
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/job"
	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// ruleWorked is the rule of the note that says what was worked out and from what.
const ruleWorked = "feed-worked-out"

// setSpeed takes the spindle's speed as the job has it, or the usual one within what the bit
// and, before that, the machine allow.
func (g *Grooving) setSpeed(found *diag.Findings) {
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
		found.Errorf("program.speed", ruleFeed, "the machine's spindle doesn't run at %g rpm", g.Speed).
			Hintf("it runs at %g to %g rpm: write speed = %g", least, most, near).Propose("program.speed", unit.Say("%g", near))
	}
}

// setFeeds takes the feeds and the step as the job has them, or as fit the bit.
func (g *Grooving) setFeeds(j *job.Job, found *diag.Findings) {
	w, most := g.Wanted, g.Machine.Feed
	limited := func(key string, asked, usual, greatest, most float64) float64 {
		if asked == 0 {
			return rounded(usable(usual, most), j.Units)
		}
		reportLimit(key, asked, greatest, most, found)
		return asked
	}
	g.Feed = limited("feed", w.Feed, g.Bit.UsualFeed(g.Speed), g.Bit.GreatestFeed(g.Speed), most[0])
	g.Plunge = limited("plunge", w.Plunge, profile.UsualPlunge(math.Min(g.Feed, g.Bit.GreatestFeed(g.Speed))), g.Bit.GreatestPlunge(g.Speed), most[1])
	if g.Step = w.Step; g.Step == 0 {
		g.Step = work.DepthStep(j.Router.Bit)
	}
}

// usable is the usual feed as far as the machine can; most is 0 if its greatest isn't
// known.
func usable(usual, most float64) float64 {
	if most > 0 {
		return math.Min(usual, most)
	}
	return usual
}

// reportLimit reports a feed that is more than the machine's greatest. The bit stands
// greatest.
func reportLimit(key string, asked, greatest, most float64, found *diag.Findings) {
	if most <= 0 || asked <= most {
		return
	}
	value := unit.Rate(math.Min(most, greatest)).Down().Typed()
	found.Errorf(diag.Key("program."+key), ruleFeed, "a %s of %s is above the machine's limit of %s", key, unit.Rate(asked), unit.Rate(most)).
		Hintf("write %s = %s", key, value).Propose(diag.Key("program."+key), value)
}

// rounded is a feed that was worked out, down to a whole millimetre or a tenth of an
// inch a minute: what is shown is then what is written.
func rounded(feed float64, units unit.System) float64 {
	step := 1.0
	if units == unit.Inch {
		step = unit.MMPerInch / 10
	}
	if down := math.Floor(feed/step) * step; down > 0 {
		return down
	}
	return feed
}

// MostPlunge is the feed straight down in mm/min beyond which a program isn't
// what the job asks for: its own, or else what the bit stands at its speed.
func (g Grooving) MostPlunge() float64 {
	if g.Wanted.Plunge > 0 {
		return g.Wanted.Plunge
	}
	return math.Max(g.Plunge, g.Bit.GreatestPlunge(g.Speed))
}

// checkBit holds the feeds and the speed against the bit's table, but for what is
// beyond the machine.
func (g Grooving) checkBit(slot float64, found *diag.Findings) {
	u := profile.Use{
		Feed: g.Feed, Plunge: g.Plunge, Speed: g.Speed, Slot: slot, MostFeed: g.Machine.Feed[0], Spindle: g.Machine.Spindle,
	}
	for _, remark := range g.Bit.Check(u) {
		if beyondMachine(remark.About, *found) {
			continue
		}
		f := found.Warnf(keyOf(remark.About), ruleCutter, "%s", remark.Text).Hintf("%s", remark.Hint)
		if remark.Value != nil {
			f.Propose(diag.Key("program."+remark.Key), remark.Value)
		}
	}
}

// beyondMachine reports whether what is asked for is more or less than the machine
// can, which is reported already.
func beyondMachine(s profile.Subject, found diag.Findings) bool {
	return slices.ContainsFunc(found, func(f diag.Finding) bool {
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

// reportFeeds notes what was worked out, where a program is asked for.
func (g Grooving) reportFeeds(bit float64, found *diag.Findings) {
	p := g.Wanted
	var list []unit.Text
	add := func(given float64, text unit.Text) {
		if given == 0 {
			list = append(list, text)
		}
	}
	add(p.Speed, unit.Say("speed %.0f rpm", g.Speed))
	add(p.Feed, unit.Say("feed %s", g.FeedReason()))
	add(p.Plunge, unit.Say("plunge %s", unit.Rate(g.Plunge)))
	add(p.Step, unit.Say("step %s", g.stepReason(bit)))
	if len(list) > 0 {
		found.Notef("program", ruleWorked, "worked out for [program]: %s", joined(list))
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
		return unit.Say("%s, the machine's limit", unit.Rate(g.Feed))
	}
	flutes := unit.Say("%d flutes", g.Bit.Flutes)
	switch {
	case g.Cutter == nil:
		flutes = unit.Say("one flute, since no cutter is named,")
	case g.Bit.Flutes == 1:
		flutes = unit.Say("one flute")
	}
	return unit.Say("%s: %s at %.0f rpm, %s/tooth, %s", unit.Rate(g.Feed), flutes, g.Speed, unit.ChipLoad(g.Bit.UsualChip()), g.Bit.Source())
}

// StepReason is the deepest step and, if the job has none, the rule that it is by.
func (r Result) StepReason() unit.Text { return r.Grooving.stepReason(r.Job.Router.Bit) }

func (g Grooving) stepReason(bit float64) unit.Text {
	if g.Wanted.Step > 0 {
		return unit.Say("%s, as the job has it", unit.Len(g.Step))
	}
	return unit.Say("%s, %s the bit's width", unit.Len(g.Step), work.DepthPart(bit))
}
