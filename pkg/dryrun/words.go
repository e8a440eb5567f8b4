package dryrun

import (
	"fmt"
	"strconv"
	"strings"

	"strapwork/pkg/geom"
)

// mm is a length for a message, to a thousandth, without idle noughts.
func mm(v float64) string { return decimals(v, 3) }

func decimals(v float64, n int) string {
	s := strconv.FormatFloat(v, 'f', n, 64)
	if strings.ContainsRune(s, '.') {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// place is a place for a message.
func place(p geom.Point) string {
	return fmt.Sprintf("x %s y %s mm", decimals(p.X, 2), decimals(p.Y, 2))
}

// words are what a group tells, and what to do about it.
func (j *judge) words(g *group) (text, hint string) {
	w := &j.w
	switch g.rule {
	case tooDeep:
		return fmt.Sprintf("cuts %s mm too deep at %s: %s mm where the groove is %s mm", mm(g.amount), place(g.at), mm(g.amount+w.Depth), mm(w.Depth)),
			"look at the Z words, and whether the depth of the job is the one meant" + j.scaleHint()
	case throughBoard:
		return fmt.Sprintf("cuts through the board at %s: %s mm deep in %s mm of wood", place(g.at), mm(g.value), mm(w.Board.Thickness)),
			"look at the Z words and at the board's thickness" + j.scaleHint()
	case rapidInStock:
		return fmt.Sprintf("a rapid in the wood at %s, %s mm below its top", place(g.at), mm(g.amount)),
			"lift the bit straight up with G0 Z before moving across, or cut there with G1 and a feed"
	case rapidDown:
		return fmt.Sprintf("a rapid straight down into the wood at %s, to %s mm below its top", place(g.at), mm(g.amount)),
			"go down to just above the wood with G0, and into it with G1 at the plunge feed"
	case plungeFast:
		return fmt.Sprintf("goes down at %s mm a minute at %s, where %s is the most", mm(g.amount), place(g.at), mm(g.value)),
			fmt.Sprintf("write F%s for it, or ramp in more gently", mm(g.value))
	case feedFast:
		return fmt.Sprintf("feeds %s at %s mm a minute, where the machine does %s at most", axisWays[g.which], mm(g.amount), mm(g.value)),
			"write a lower F"
	}
	return j.moreWords(g)
}

var axisWays = [2]string{"across", "up or down"}

func (j *judge) moreWords(g *group) (text, hint string) {
	w := &j.w
	switch g.rule {
	case noFeed:
		return fmt.Sprintf("cuts at %s at a feed that isn't known", place(g.at)), "write G94 and F with the cut"
	case spindleOff:
		return fmt.Sprintf("cuts at %s with the spindle standing still", place(g.at)),
			"write S and M3, and a dwell (G4) for it to come to speed, before the first cut"
	case spindleWay:
		return fmt.Sprintf("cuts at %s with the spindle turning counter-clockwise", place(g.at)),
			"write M3; only a left-hand bit, which is rare, cuts with M4"
	case spindleSpeed:
		return j.speedWords(g)
	case outOfTravel:
		return j.travelWords(g)
	case hitsClamp:
		c := w.Clamps[g.which]
		return fmt.Sprintf("comes %s mm too near to clamp %d at %s, at z %s mm (the clamp is %s mm high)",
				mm(g.amount), g.which+1, place(g.at), mm(g.value), mm(c.Height)),
			"move the clamp, raise the height for moving across, or give a smaller clearance"
	case beyondReach:
		if w.Bit.Shank > 0 {
			return fmt.Sprintf("cuts %s mm deep at %s with edges of %s mm: the shank of %s mm rubs in a slot of %s mm",
				mm(g.amount), place(g.at), mm(w.Bit.Flute), mm(w.Bit.Shank), mm(w.Bit.Slot)), "take a bit with longer edges"
		}
		return fmt.Sprintf("cuts %s mm deep at %s with edges of %s mm", mm(g.amount), place(g.at), mm(w.Bit.Flute)),
			"take a bit with longer edges, or give the shank's diameter if it is no thicker than the slot"
	case wrongOrigin:
		return fmt.Sprintf("moves from another origin (%s) than the job's", origins[g.which]),
			"write G54, and set the zero there; where another origin lies isn't known"
	case untoldOrigin:
		return "doesn't say from which origin it moves", "write G54 before the first move"
	}
	return j.unknownWords(g)
}

func (j *judge) unknownWords(g *group) (text, hint string) {
	switch g.rule {
	case unknownHeight:
		return "moves across before the program has said at which height", "write G0 with Z alone as the first move"
	case unknownDepth:
		return "cuts, or goes up or down by a step, at a height that isn't known", "write G90 and G0 with Z alone as the first move"
	case lostPlace:
		return "moves after a change of the origin, from a place that isn't known any more",
			"keep to G54 from the first move to the last"
	case blindClamp:
		return fmt.Sprintf("moves across over clamp %d at %s, at a height that isn't known", g.which+1, place(g.at)),
			"write G0 with Z alone as the first move"
	case spindleStart:
		return fmt.Sprintf("starts the spindle at %s with the bit %s mm in the wood", place(g.at), mm(g.amount)),
			"lift the bit with G0 Z before M3"
	case endsLow:
		return fmt.Sprintf("ends at %s with the bit %s mm in the wood", place(g.at), mm(g.amount)), "lift the bit with G0 Z before the end"
	case unknownPlace:
		return fmt.Sprintf("cuts, %s mm below the top of the work, from a place that isn't known", mm(g.amount)),
			"write G0 with X and Y, at a safe height, before the first cut"
	case lowTravel:
		return fmt.Sprintf("moves across at %s, %s mm lower than the safe height of %s mm", place(g.at), mm(g.amount), mm(j.w.Safe)),
			"lift the bit with G0 Z first"
	}
	return g.rule.String(), ""
}
