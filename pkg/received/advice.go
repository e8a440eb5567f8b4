package received

import (
	"fmt"
	"math"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// Advice is what to do about a track, in a few words; the findings say more.
func (g Groove) Advice() unit.Text {
	short := unit.Len(math.Abs(g.Off))
	switch g.Verdict {
	case Unknown:
		if g.Asked {
			return unit.Say("read it again")
		}
		return unit.Say("measure it, and rider and bit")
	case Good:
		if g.Why.String() != "" {
			return unit.Say("leave it: %s", g.Why)
		}
		return unit.Say("nothing")
	case Tape:
		return g.tapeAdvice()
	case Narrow, NoEntry:
		return unit.Say("too narrow by %s: file the wall", short)
	case Wide:
		return unit.Say("too wide by %s for tape: a new panel", unit.Len(g.Widest-g.Width+g.Off))
	case BitWide:
		return unit.Say("a narrower bit")
	}
	return unit.Say("")
}

// tapeAdvice says which tape goes where: half of it on each wall, as near as the
// usual ones come to that.
func (g Groove) tapeAdvice() unit.Text {
	left, right := g.Tape.Left, g.Tape.Right
	shift := unit.Len(math.Abs(g.Tape.Shift()))
	switch {
	case len(left) == 0:
		return unit.Say("tape of %s on both walls, which no usual tape is close to", unit.Len(g.Off/2))
	case len(right) == 0:
		return unit.Say("tape of %s on the %s wall alone, %s; no layers are thin enough for both, and the groove's middle moves %s away from it",
			unit.Len(g.Off), g.wall(true), nearestLayers(left), shift)
	case math.Abs(g.Tape.Shift()) > rounding:
		return unit.Say("tape of %s on both walls, nearest: %s on the %s one, %s on the other; the groove's middle moves %s towards that",
			unit.Len(g.Off/2), pile(left), g.wall(true), pile(right), shift)
	}
	return unit.Say("tape of %s on both walls, %s", unit.Len(g.Off/2), nearestLayers(left))
}

// nearestLayers names what lies about in workshops and comes near.
func nearestLayers(layers []float64) unit.Text {
	if len(layers) == 1 {
		return unit.Say("nearest layer: %s", pile(layers))
	}
	return unit.Say("nearest layers: %s", pile(layers))
}

// pile is layers on one wall: "0.13 mm + 0.06 mm".
func pile(layers []float64) unit.Text {
	args := make([]any, len(layers))
	for i, l := range layers {
		args[i] = unit.Len(l)
	}
	return unit.Say(strings.TrimSuffix(strings.Repeat("%s + ", len(layers)), " + "), args...)
}

// wall says which wall is the left or the right one along the cut, as it lies on
// the panel's drawing at the place where the track is measured.
func (g Groove) wall(left bool) string {
	switch {
	case g.Curved && left == g.Inner:
		return "inner"
	case g.Curved:
		return "outer"
	}
	to := g.Across
	if !left {
		to = to.Scale(-1)
	}
	return compass(to)
}

// compass says where a vector points on a drawing with y up.
func compass(v geom.Point) string {
	switch across := math.Abs(v.X) > math.Abs(v.Y); {
	case across && v.X > 0:
		return "right"
	case across:
		return "left"
	case v.Y > 0:
		return "upper"
	}
	return "lower"
}

// Footer is what holds for all the tracks that take tape: nothing where none does.
func Footer(grooves []Groove) []unit.Text {
	taped, uneven := false, false
	for _, g := range grooves {
		taped = taped || g.Verdict == Tape
		uneven = uneven || g.Verdict == Tape && math.Abs(g.Tape.Shift()) > rounding
	}
	var lines []unit.Text
	if taped {
		var usual []string
		args := []any{}
		for _, t := range Tapes() {
			usual = append(usual, "%s")
			args = append(args, unit.Len(t))
		}
		lines = append(lines, unit.Say(fmt.Sprintf("The usual tapes are %s thick: measure ten layers of yours and divide by ten. Tape the walls as far as they guide, not the round ends.", strings.Join(usual, ", ")), args...))
	}
	if uneven {
		lines = append(lines, unit.Say("Where one wall gets more it is the left one along the strand, so that cuts that meet are out to the same side."))
	}
	return lines
}
