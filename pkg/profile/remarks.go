package profile

import (
	"math"

	"strapwork/pkg/unit"
)

const (
	// slotSlack in mm is by how much a slot may differ from its bit's nominal
	// diameter: runout widens it and sharpening narrows it by some hundredths
	// (common practice); more is another bit.
	slotSlack = 0.25
	// ratioSlack takes a value that is on the bound as being within it, whatever
	// its last binary digit says.
	ratioSlack = 1e-9
)

// A Use is how a bit is to be used.
type Use struct {
	Feed, Plunge float64    // mm/min
	Speed        float64    // rpm
	Slot         float64    // mm, the width of the slot it cuts, as measured
	MostFeed     float64    // the machine's greatest across, mm/min; 0: not known
	Spindle      [2]float64 // the machine's least and greatest rpm; 0: not known
}

// Subject is what a remark is about.
type Subject int

// The subjects.
const (
	TheCutter Subject = iota
	TheSpeed
	TheFeed
	ThePlunge
)

// A Remark is something about a bit's use that a person should look at.
type Remark struct {
	About      Subject
	Text, Hint unit.Text
	// Key and Value end the remark, written in [program]; Value is nil where none
	// does.
	Key   string
	Value unit.Amount
}

// Check says what is unusual about a bit's use. All of it is advice: what the
// cutter's maker says comes first.
func (b Bit) Check(u Use) []Remark {
	c := checker{b: b, u: u}
	c.slot()
	c.speed()
	c.feed()
	c.plunge()
	return c.list
}

type checker struct {
	b    Bit
	u    Use
	list []Remark
}

// say adds a remark whose hint is to write a value for a key, or, where there is
// none, some words.
func (c *checker) say(about Subject, text unit.Text, key string, value unit.Amount, words unit.Text) {
	const sheet = "; the cutter maker's sheet comes before this table"
	hint := unit.Say("%s"+sheet, words)
	switch {
	case value != nil && words.String() != "":
		hint = unit.Say("write %s = %s, %s"+sheet, key, value, words)
	case value != nil:
		hint = unit.Say("write %s = %s"+sheet, key, value)
	}
	c.list = append(c.list, Remark{About: about, Text: text, Hint: hint, Key: key, Value: value})
}

// name is what the bit is called in a remark.
func (c *checker) name() unit.Text {
	if c.b.Name == "" {
		return unit.Say("a bit of %s", unit.Len(c.b.Diameter))
	}
	return unit.Say("%s", c.b.Name)
}

func (c *checker) slot() {
	if math.Abs(c.u.Slot-c.b.Diameter) <= slotSlack {
		return
	}
	var value unit.Amount
	words := unit.Say("check which bit is in, and name its profile: cutter = ...")
	if name := cutterOf(c.u.Slot); name != "" {
		value, words = unit.Say("%q", name), unit.Say("if that bit is in")
	}
	c.say(TheCutter, unit.Say("a slot of %s isn't what a bit of %s cuts (%s)", unit.Len(c.u.Slot), unit.Len(c.b.Diameter), c.b.Name), "cutter", value, words)
}

// cutterOf is the built-in bit that cuts a slot; empty if there is none.
func cutterOf(slot float64) string {
	best, off := "", slotSlack
	for _, b := range tables() {
		if d := math.Abs(b.Diameter - slot); d < off {
			best, off = b.Name, d
		}
	}
	return best
}

// speed holds the rpm against the bit's table.
func (c *checker) speed() {
	b, n := c.b, c.u.Speed
	v := b.SurfaceSpeed(n)
	least, most := b.Speeds()
	switch {
	case b.MaxSpeed > 0 && n > b.MaxSpeed*(1+ratioSlack):
		c.turns(unit.Say("%.0f rpm is above the %.0f rpm that %s is made for", n, b.MaxSpeed, c.name()), math.Floor(most))
	case b.Surface[1] == 0:
	case v > b.Surface[1]*(1+ratioSlack):
		c.turns(unit.Say("the surface speed of %s is %s, above the usual %s: wood burns and the bit dulls", c.name(), unit.EdgeSpeed(v), unit.EdgeSpeed(b.Surface[1])), most)
	case v < b.Surface[0]*(1-ratioSlack):
		c.turns(unit.Say("the surface speed of %s is %s, below the usual %s: wood tears", c.name(), unit.EdgeSpeed(v), unit.EdgeSpeed(b.Surface[0])), least)
	}
}

// turns remarks on the speed; n is what would be right, if the machine has it.
func (c *checker) turns(text unit.Text, n float64) {
	if !c.has(n) {
		words := unit.Say("take another bit")
		if s := c.u.Spindle; s[1] > 0 {
			words = unit.Say("the machine's spindle runs at %g to %g rpm: take another bit", s[0], s[1])
		}
		c.say(TheSpeed, text, "", nil, words)
		return
	}
	c.say(TheSpeed, text, "speed", unit.Say("%.0f", n), unit.Say(""))
}

// has reports whether the machine's spindle turns at n rpm.
func (c *checker) has(n float64) bool {
	s := c.u.Spindle
	return n > 0 && n <= maxTurns && n >= s[0] && (s[1] == 0 || n <= s[1])
}

// feed holds the feed against the chip load of the bit's table.
func (c *checker) feed() {
	b, u := c.b, c.u
	chip := b.ChipLoadAt(u.Feed, u.Speed)
	teeth := unit.Say("each tooth of %s", c.name())
	words := unit.Say("")
	if b.Name == "" {
		teeth = unit.Say("a bit of %s with one flute", unit.Len(b.Diameter))
		words = unit.Say("or name the bit's profile, which says how many flutes it has: cutter = ...")
		if near := cutterOf(b.Diameter); near != "" {
			words = unit.Say("or name the bit's profile, which says how many flutes it has: cutter = %q", near)
		}
	}
	switch {
	case b.ChipLoad[1] == 0:
	case chip > b.ChipLoad[1]*(1+ratioSlack):
		c.say(TheFeed, unit.Say("%s takes %s at a feed of %s, above the usual %s: the bit may bend or break", teeth, unit.ChipLoad(chip), unit.Rate(u.Feed), unit.ChipLoad(b.ChipLoad[1])),
			"feed", unit.Rate(b.GreatestFeed(u.Speed)).Down().Typed(), words)
	case chip < b.ChipLoad[0]*(1-ratioSlack):
		c.rubs(unit.Say("%s takes %s at a feed of %s, below the usual %s: it rubs, burns and dulls", teeth, unit.ChipLoad(chip), unit.Rate(u.Feed), unit.ChipLoad(b.ChipLoad[0])))
	}
}

// rubs remarks on a feed that is too slow: a faster one cures it, or, where the
// machine has none, a slower spindle.
func (c *checker) rubs(text unit.Text) {
	least := c.b.LeastFeed(c.u.Speed)
	if c.u.MostFeed == 0 || least <= c.u.MostFeed {
		c.say(TheFeed, text, "feed", unit.Rate(least).Up().Typed(), unit.Say(""))
		return
	}
	slow := math.Floor(c.u.Feed/c.b.FeedFor(c.b.ChipLoad[0], 1)/speedStep) * speedStep
	if c.has(slow) {
		c.say(TheFeed, text, "speed", unit.Say("%.0f", slow), unit.Say("since the machine feeds no faster than %s", unit.Rate(c.u.MostFeed)))
		return
	}
	c.say(TheFeed, text, "", nil, unit.Say("the machine is too slow for this bit: take a smaller one"))
}

// plunge holds the feed straight down against the greatest feed.
func (c *checker) plunge() {
	most := c.b.GreatestPlunge(c.u.Speed)
	if most > 0 && c.u.Plunge > most*(1+ratioSlack) {
		c.say(ThePlunge, unit.Say("a plunge feed of %s is fast for %s: the bit may bend or break", unit.Rate(c.u.Plunge), c.name()),
			"plunge", unit.Rate(most).Down().Typed(), unit.Say(""))
	}
}
