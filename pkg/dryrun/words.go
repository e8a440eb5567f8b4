package dryrun

import (
	"fmt"
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// place is a place for a message.
func place(p geom.Point) unit.Place { return unit.Place{X: p.X, Y: p.Y} }

// place is where a group is reported, for a message.
func (g *group) place() unit.Amount {
	if !g.hasAt {
		return plain("a place that isn't known")
	}
	return place(g.at)
}

// rpm is a spindle's speed for a message.
func rpm(speed float64) string { return unit.Decimal(speed, 0) + " rpm" }

// say is what a group says, and what to do about it.
type say struct{ text, hint unit.Text }

func plain(hint string) unit.Text { return unit.Say("%s", hint) }

// words are what a group says.
func (j *judge) words(g *group) say {
	w := &j.w
	at, amount := g.place(), unit.Len(g.amount)
	switch g.rule {
	case tooDeep:
		deep, groove := unit.Apart(g.amount+w.Depth, w.Depth)
		return say{
			unit.Say("cuts %s too deep at %s: %s in a groove of %s", amount, at, deep, groove),
			j.meant("check the Z words, and that the depth in the job is the one meant"),
		}
	case throughBoard:
		deep, board := unit.Apart(g.value, w.Thickness)
		return say{
			unit.Say("cuts through the board at %s: %s deep in wood of %s", at, deep, board),
			j.meant("check the Z words and the board's thickness"),
		}
	case deepAtOnce:
		deep, step := unit.Apart(g.amount, w.Step)
		return say{
			unit.Say("takes %s of depth at once at %s; the job's step is %s", deep, at, step),
			unit.Say("go down in steps of at most %s", unit.AtMost(w.Step)),
		}
	case rapidInStock:
		hint := plain("lift the bit straight up with G0 Z before it traverses, or cut there with G1 and a feed")
		if g.amount <= surface {
			return say{unit.Say("a rapid across at the very top of the work, at %s", at), hint}
		}
		return say{unit.Say("a rapid across in the wood at %s, %s below its top", at, amount), hint}
	case rapidDown:
		return say{
			unit.Say("a rapid straight down into the wood at %s, to %s below its top", at, amount),
			plain("go down to just above the wood with G0, and into it with G1 at the plunge feed"),
		}
	case rapidToTop:
		return say{
			unit.Say("a rapid straight down to the very top of the work at %s: the bit strikes it if the board is a hair thicker", at),
			unit.Say("write G0 Z%s, and go on down with G1 at the plunge feed", unit.Len(justAbove).Up().Typed()),
		}
	case plungeFast:
		return say{
			unit.Say("plunges at %s at %s; the limit is %s", unit.Rate(g.amount), at, unit.Rate(g.value).Down()),
			unit.Say("write %s for it, or ramp in more gently", g.feed()),
		}
	case feedFast:
		return say{
			unit.Say("feeds %s at %s at %s; the machine's limit is %s", axisWays[g.which], unit.Rate(g.amount), at, unit.Rate(g.value).Down()),
			unit.Say("write %s or less", g.feed()),
		}
	case feedHigh:
		return say{
			unit.Say("feeds at %s at %s; %s", unit.Rate(g.amount), at, unit.Say(feedWays[g.which], unit.Rate(g.value).Down())),
			unit.Say("write %s or less, or make sure that bit and wood take more", g.feed()),
		}
	case noFeed:
		return say{unit.Say("cuts at %s at a feed that isn't known", at), plain("write G94 and F with the cut")}
	}
	return j.machineWords(g)
}

var (
	axisWays = [2]string{"across", "up or down"}
	feedWays = [2]string{"the job's feed is %s", "the table of chip loads has %s at most for this bit and speed"}
)

// feed is what is written to keep to the limit: an F word.
func (g *group) feed() unit.Text {
	if g.inverse {
		return unit.Say("F%s", unit.Decimal(math.Floor(g.write*inverseSteps)/inverseSteps, 2))
	}
	return unit.Say("F%s", unit.Rate(g.write).Down().Typed())
}

// inverseSteps is how finely an F word in inverse time is proposed: two
// decimals.
const inverseSteps = 100

// machineWords are about the spindle, the machine and the clamps.
func (j *judge) machineWords(g *group) say {
	w := &j.w
	at, amount := g.place(), unit.Len(g.amount)
	switch g.rule {
	case spindleOff:
		return say{
			unit.Say("cuts at %s with the spindle stopped", at),
			plain("write S and M3, and a dwell (G4) for it to come to speed, before the first cut"),
		}
	case spindleWay:
		return say{
			unit.Say("cuts at %s with the spindle turning counter-clockwise", at),
			plain("write M3; only a left-hand bit, which is rare, cuts with M4"),
		}
	case spindleSpeed:
		return j.speedWords(g)
	case spindleSlow:
		return say{unit.Say("cuts at %s at %s; the job's speed is %s", rpm(g.value), at, rpm(w.Speed)), unit.Say("write S%s", unit.Decimal(math.Ceil(w.Speed), 0))}
	case noDwell:
		return j.dwellWords(g)
	case outOfTravel:
		return j.travelWords(g)
	case hitsClamp:
		return j.clampWords(g)
	case beyondReach:
		flute, deep := unit.Apart(w.Bit.Flute, g.amount)
		if w.Bit.ShankDiameter > 0 {
			return say{unit.Say("cuts %s deep at %s, and the flutes are only %s long: the shank of %s rubs in a slot of %s",
				deep, at, flute, unit.Len(w.Bit.ShankDiameter), unit.Len(w.Bit.Slot)), unit.Say("take a bit with flutes of at least %s", unit.AtLeast(g.amount))}
		}
		return say{
			unit.Say("cuts %s deep at %s, and the flutes are only %s long", deep, at, flute),
			unit.Say("take a bit with flutes of at least %s, or give the shank's diameter if it is no thicker than the slot", unit.AtLeast(g.amount)),
		}
	case wrongOrigin:
		return say{
			unit.Say("uses another origin (%s) than the job's", origins[g.which]),
			plain("write G54, and set the zero there; where another origin is isn't known"),
		}
	case unstatedOrigin:
		return say{plain("doesn't say which origin it uses"), plain("write G54 before the first move")}
	case unstatedMode, noPathMode, roundsCorners:
		return modeWords(g)
	case spindleStart:
		return say{unit.Say("starts the spindle at %s with the bit %s in the wood", at, amount), plain("lift the bit with G0 Z before M3")}
	case longDwell:
		if j.millis {
			return say{unit.Say("waits for %s s", unit.Decimal(g.amount, 1)), unit.Say("write a P of at most %d", longWait*1000)}
		}
		return say{unit.Say("waits for %s s: are milliseconds meant?", unit.Decimal(g.amount, 1)), j.dwellHint(g.amount / 1000)}
	}
	return j.unknownWords(g)
}

// modeWords are about modes that the program doesn't state, or states too loosely.
func modeWords(g *group) say {
	switch g.rule {
	case unstatedMode:
		if g.which == 0 {
			return say{plain("moves, and the program hasn't said whether its numbers are absolute (G90) or incremental (G91)"), plain("write G90 on a line before it")}
		}
		return say{plain("an arc, and the program hasn't said in which plane"), plain("write G17 on a line before it")}
	case noPathMode:
		return say{
			plain("cuts, and the program hasn't said whether corners may be rounded: the machine keeps whichever path mode it was left in"),
			plain(`write G61 on a line before it; for a machine without path modes write path = "none" in its profile`),
		}
	case roundsCorners:
		hint := unit.Say("write G61, or G64 P%s at most", unit.Len(mostBlend).Down().Typed())
		if math.IsInf(g.amount, 1) {
			return say{plain("G64 without P lets the machine round every corner as far as it likes"), hint}
		}
		leave, most := unit.Apart(g.amount, mostBlend)
		return say{unit.Say("G64 lets the machine leave its path by %s; %s is the most for a groove", leave, most), hint}
	}
	return say{text: plain(g.rule.String())}
}

// unknownWords are about what isn't known, and where moves lead.
func (j *judge) unknownWords(g *group) say {
	at, amount := g.place(), unit.Len(g.amount)
	zAlone := plain("write G0 with Z alone as the first move")
	switch g.rule {
	case unknownHeight:
		if g.which == 1 {
			return j.liftWords(g)
		}
		return say{plain("traverses, and Z is not set yet"), zAlone}
	case unknownDepth:
		return say{plain("cuts, or goes up or down by a step, and Z is not set yet"), plain("write G90 and G0 with Z alone as the first move")}
	case lostPlace:
		return say{
			plain("moves after a change of the origin, from a place that isn't known any more"),
			plain("keep to G54 from the first move to the last"),
		}
	case blindClamp:
		return say{unit.Say("traverses over clamp %d at %s, and Z is not set yet", g.which+1, at), zAlone}
	case blindStart:
		return say{
			unit.Say("moves at z %s from a place that isn't known, and clamp %d is %s high: the bit may hit it on the way", unit.Len(g.value), g.which+1, unit.Len(j.w.Clamps[g.which].Height)),
			unit.Say("write G0 Z%s alone as the first move, or start the machine from a place with a clear path", unit.AtLeast(g.amount).Typed()),
		}
	case endsLow:
		return say{unit.Say("ends at %s with the bit %s in the wood", at, amount), plain("lift the bit with G0 Z before the end")}
	case pauseLow:
		return say{unit.Say("pauses at %s with the bit %s in the wood", at, amount), plain("lift the bit with G0 Z before the pause")}
	case unknownPlace:
		return say{
			unit.Say("cuts, %s below the top of the work, from a place that isn't known", amount),
			plain("write G0 with X and Y, at a safe height, before the first cut"),
		}
	case lowTravel:
		low, safe := unit.Apart(j.w.Safe-g.amount, j.w.Safe)
		return say{unit.Say("traverses at z %s to %s; the clearance height is %s", low, at, safe), plain("lift the bit with G0 Z first")}
	}
	return say{text: plain(g.rule.String())}
}

// dwellWords are about the wait for the spindle.
func (j *judge) dwellWords(g *group) say {
	if g.which == 0 {
		return say{plain("starts the spindle and cuts without a wait for it to come to speed"), j.dwellHint(j.w.Machine.SpinUp)}
	}
	return say{unit.Say("waits %s s for the spindle; the machine's takes %s s to come to speed", unit.Decimal(g.amount, 2), unit.Decimal(g.value, 2)), j.dwellHint(g.value)}
}

// dwellHint is the dwell to write for a wait in seconds; of 0, whatever the
// spindle needs.
func (j *judge) dwellHint(seconds float64) unit.Text {
	switch {
	case seconds <= 0 && j.millis:
		return plain("write G4 P with the milliseconds that it needs after M3")
	case seconds <= 0:
		return plain("write G4 P with the seconds that it needs after M3")
	case j.millis:
		return unit.Say("write G4 P%s: P is in milliseconds on this machine", unit.Decimal(math.Ceil(seconds*1000), 0))
	}
	return unit.Say("write G4 P%s: P is in seconds on this machine", unit.Decimal(seconds, 3))
}

func (j *judge) speedWords(g *group) say {
	limits := j.w.Machine.Spindle
	switch {
	case g.which == 1:
		return say{unit.Say("cuts at %s; the spindle does %s at most", rpm(g.value), rpm(limits[1])), unit.Say("write S%s or less", unit.Decimal(math.Floor(limits[1]), 0))}
	case limits[0] > 0:
		least := math.Max(limits[0], math.Min(j.w.Speed, limits[1])) // the job's own speed, where that can be
		return say{unit.Say("cuts at %s; the spindle does %s at least", rpm(g.value), rpm(limits[0])), unit.Say("write S%s", unit.Decimal(math.Ceil(least), 0))}
	}
	return say{plain("cuts with a spindle speed that isn't known"), plain("write S with M3")}
}

// atLeast is put before an amount that may be more.
func atLeast(yes bool) string {
	if yes {
		return "at least "
	}
	return ""
}

func andMore(moves int) string {
	if moves <= 1 {
		return ""
	}
	return fmt.Sprintf(" (and %s more)", unit.Count(moves-1, "move"))
}
