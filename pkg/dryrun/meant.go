package dryrun

// Was the program written in other units, or for another zero? Where what it cuts
// is the groove but for that, the hint says so, and not only that all is wrong.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// meant is a hint, and behind it what the program may be meant to be.
func (j *judge) meant(format string, args ...any) unit.Text {
	hint := unit.Say(format, args...)
	if guess := j.otherwise(); guess.String() != "" {
		return unit.Say("%s; %s", hint, guess)
	}
	return hint
}

// otherwise says what the program may be meant to be; nothing, where it fits as it
// is or not at all.
func (j *judge) otherwise() unit.Text {
	if !j.guessed {
		j.guess, j.guessed = j.scaleHint(), true
	}
	return j.guess
}

// scaleHint tells where the cuts' size is that of the groove in other units.
func (j *judge) scaleHint() unit.Text {
	if j.report.Cut.Empty() || j.w.Groove.Area.Empty() {
		return unit.Text{}
	}
	const (
		inch   = 25.4
		likely = 0.05 // of the size
	)
	bit := geom.Pt(j.w.Bit.Slot, j.w.Bit.Slot)
	cut := j.report.Cut.Size()
	want := j.w.Groove.Area.Bounds().Size()
	alike := func(scale float64) bool {
		s := cut.Scale(scale).Add(bit)
		return math.Abs(s.X-want.X) <= likely*want.X && math.Abs(s.Y-want.Y) <= likely*want.Y
	}
	for _, c := range [2]struct {
		scale       float64
		read, meant string
		word        string
	}{{inch, "mm", "inches", "G20"}, {1 / inch, "inches", "mm", "G21"}} {
		if alike(c.scale) {
			return unit.Say("numbers meant as %s seem to be read as %s: look whether the program needs %s", c.meant, c.read, c.word)
		}
	}
	return unit.Text{}
}
