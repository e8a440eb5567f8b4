package profile

// Speeds and feeds of a bit by the handbook formulas: the surface speed is
// v = pi d n / 1000 (v in m a minute, d in mm, n in turns a minute), the chip
// load c = f / (n z) (f in mm a minute, z teeth).

import (
	"fmt"
	"math"
)

const (
	// maxFlutes is more teeth than bits for grooves have.
	maxFlutes = 12
	// maxBitLength in mm is beyond any bit for a router.
	maxBitLength = 200
	// maxChip in mm a tooth is what large cutters take in soft board.
	maxChip = 2
	// maxSurface in m a minute is beyond carbide in wood.
	maxSurface = 6000
	// slotSlack in mm is by how much a slot may differ from its bit's nominal
	// diameter: runout widens it and sharpening narrows it by some hundredths
	// (common practice); more is another bit.
	slotSlack = 0.25
	// ratioSlack takes a value that is on the bound as being within it, whatever
	// its last binary digit says.
	ratioSlack = 1e-9
)

// A Bit is what is known of a straight bit.
type Bit struct {
	Name     string // of a built-in one, or the path it was read from
	About    string
	Diameter float64    // mm
	Flutes   int        // teeth
	Flute    float64    // cutting length, mm; 0: not known
	Shank    float64    // its diameter, mm; 0: not known
	ChipLoad [2]float64 // mm a tooth, least and greatest; 0: not known
	Surface  [2]float64 // surface speed in m a minute, least and greatest; 0: not known
	MaxSpeed float64    // turns a minute; 0: not known
}

// writtenBit is a bit's profile as TOML has it.
type writtenBit struct {
	Kind     string    `toml:"kind"`
	About    string    `toml:"about"`
	Diameter *float64  `toml:"diameter"`
	Flutes   *int      `toml:"flutes"`
	Flute    *float64  `toml:"flute"`
	Shank    *float64  `toml:"shank"`
	ChipLoad []float64 `toml:"chip_load"`
	Surface  []float64 `toml:"surface"`
	MaxSpeed *float64  `toml:"max_speed"`
}

var bitKeys = []string{"kind", "about", "diameter", "flutes", "flute", "shank", "chip_load", "surface", "max_speed"}

// ParseBit reads a bit's profile; file is where it says its mistakes are. Its
// diameter and number of flutes must be there. The error is a diag.Findings.
func ParseBit(name, file string, data []byte) (Bit, error) {
	p := parser{file: file, data: data, rule: RuleProfile, what: "a bit's profile", keys: bitKeys}
	var w writtenBit
	if !p.open(kindBit, &w) {
		return Bit{}, p.found
	}
	b := Bit{Name: name, About: w.About}
	if w.Diameter == nil {
		p.errorf("", "diameter is missing").Hintf("write the bit's diameter in mm: diameter = 3.175")
	}
	b.Diameter = p.number("diameter", w.Diameter, 0, span{most: maxCutter}, "the bit's diameter in mm: diameter = 3.175")
	switch {
	case w.Flutes == nil:
		p.errorf("", "flutes is missing").Hintf("write how many cutting edges the bit has: flutes = 2")
	case *w.Flutes < 1 || *w.Flutes > maxFlutes:
		p.errorf("flutes", "flutes must be 1 to %d, not %d", maxFlutes, *w.Flutes).Hintf("write how many cutting edges the bit has: flutes = 2")
	default:
		b.Flutes = *w.Flutes
	}
	b.Flute = p.number("flute", w.Flute, 0, span{most: maxBitLength}, "the cutting length in mm: flute = 12")
	b.Shank = p.number("shank", w.Shank, 0, span{most: maxCutter}, "the shank's diameter in mm: shank = 6.35")
	p.rising("chip_load", w.ChipLoad, b.ChipLoad[:], span{most: maxChip}, "[0.015, 0.06], in mm a tooth: least, greatest")
	p.rising("surface", w.Surface, b.Surface[:], span{most: maxSurface}, "[80, 300], in m a minute: least, greatest")
	b.MaxSpeed = p.number("max_speed", w.MaxSpeed, 0, span{most: maxTurns}, "the turns a minute that the cutter's maker allows: max_speed = 30000")
	return b, p.done()
}

// OpenBit finds a bit's profile, as OpenMachine a machine's.
func OpenBit(name string, readFile func(path string) ([]byte, error)) (Bit, error) {
	data, file, err := open(kindBit, name, readFile)
	if err != nil {
		return Bit{}, err
	}
	return ParseBit(name, file, data)
}

// Bits is all built-in bits, by name.
func Bits() []Bit {
	var list []Bit
	for _, n := range namesOf(kindBit) {
		if b, err := OpenBit(n, nil); err == nil { // a test reads every one of them
			list = append(list, b)
		}
	}
	return list
}

// SurfaceSpeed is how fast the cutting edges go at rpm turns a minute, in m a
// minute: pi d n / 1000.
func (b Bit) SurfaceSpeed(rpm float64) float64 { return math.Pi * b.Diameter * rpm / 1000 }

// SpeedFor is the turns a minute that give a surface speed in m a minute:
// 1000 v / (pi d).
func (b Bit) SpeedFor(surface float64) float64 { return 1000 * surface / (math.Pi * b.Diameter) }

// ChipLoadAt is the thickness in mm that each tooth takes off at a feed in mm a
// minute and rpm turns a minute: f / (n z). It is infinite at no turns.
func (b Bit) ChipLoadAt(feed, rpm float64) float64 { return feed / (rpm * float64(b.Flutes)) }

// FeedFor is the feed in mm a minute that gives a chip load in mm: n z c.
func (b Bit) FeedFor(chip, rpm float64) float64 { return rpm * float64(b.Flutes) * chip }

// A Remark is something about a bit's use that a person should look at.
type Remark struct{ Text, Hint string }

// sheet ends the hints: whoever made the cutter knows best.
const sheet = "; the cutter maker's sheet comes before this table"

// Check says what is unusual about cutting with the bit at a feed in mm a
// minute and rpm turns a minute, when the slot it cuts was measured at slot mm.
// All of it is advice: what the cutter's maker says comes first.
func (b Bit) Check(feed, rpm, slot float64) []Remark {
	var list []Remark
	say := func(hint, format string, args ...any) {
		list = append(list, Remark{Text: fmt.Sprintf(format, args...), Hint: hint + sheet})
	}
	if math.Abs(slot-b.Diameter) > slotSlack {
		say("look which bit is in, and name its profile: cutter = ...", "the slot of %.3g mm isn't that of a bit of %.4g mm (%s)", slot, b.Diameter, b.Name)
	}
	if b.MaxSpeed > 0 && rpm > b.MaxSpeed*(1+ratioSlack) {
		say(fmt.Sprintf("write speed = %.0f", b.MaxSpeed), "%.0f turns a minute are more than the %.0f that %s is for", rpm, b.MaxSpeed, b.Name)
	}
	if v := b.SurfaceSpeed(rpm); b.Surface[1] > 0 {
		least, most := b.SpeedFor(b.Surface[0]), b.SpeedFor(b.Surface[1])
		switch {
		case v > b.Surface[1]*(1+ratioSlack):
			say(speedHint(math.Floor(most/100)*100), "the edges of %s go at %.0f m a minute, above the usual %g: wood burns and the bit dulls", b.Name, v, b.Surface[1])
		case v < b.Surface[0]*(1-ratioSlack):
			say(speedHint(math.Ceil(least/100)*100), "the edges of %s go at %.0f m a minute, under the usual %g: wood tears", b.Name, v, b.Surface[0])
		}
	}
	if c := b.ChipLoadAt(feed, rpm); b.ChipLoad[1] > 0 {
		least, most := b.FeedFor(b.ChipLoad[0], rpm), b.FeedFor(b.ChipLoad[1], rpm)
		switch {
		case c > b.ChipLoad[1]*(1+ratioSlack):
			say(feedHint(math.Floor(most)), "each tooth of %s takes %.2g mm, above the usual %g: the bit may bend or break", b.Name, c, b.ChipLoad[1])
		case c < b.ChipLoad[0]*(1-ratioSlack):
			say(feedHint(math.Ceil(least)), "each tooth of %s takes %.2g mm, under the usual %g: it rubs, burns and dulls", b.Name, c, b.ChipLoad[0])
		}
	}
	return list
}

func speedHint(rpm float64) string { return fmt.Sprintf("write speed = %.0f", rpm) }

func feedHint(mm float64) string {
	return fmt.Sprintf("write feed = \"%.0f mm\", a minute", mm)
}
