package received

import (
	"fmt"
	"math"
	"slices"
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
		return g.Taped(g.Off, g.Tape)
	case Narrow, NoEntry:
		return unit.Say("too narrow by %s: file the wall", short)
	case Wide:
		return unit.Say("too wide by %s for tape: a new panel", unit.Len(g.Widest-g.Width+g.Off))
	case BitWide:
		return unit.Say("a narrower bit")
	}
	return unit.Say("")
}

// Taped says which tape goes where for a groove that is off by so many mm: half of it on
// each wall, as near as the usual ones come to that.
func (o Opening) Taped(off float64, t Taping) unit.Text {
	left, right := t.Left, t.Right
	shift := unit.Len(math.Abs(t.Shift()))
	switch {
	case len(left) == 0:
		return unit.Say("tape of %s on both walls, which no usual tape is close to", unit.Len(off/2))
	case len(right) == 0:
		return unit.Say("tape of %s on the %s wall alone, %s; no layers are thin enough for both, and the groove's middle moves %s away from it",
			unit.Len(off), o.wall(true), nearestLayers(left), shift)
	case math.Abs(t.Shift()) > rounding:
		return unit.Say("tape of %s on both walls, nearest: %s on the %s one, %s on the other; the groove's middle moves %s towards that",
			unit.Len(off/2), pile(left), o.wall(true), pile(right), shift)
	}
	return unit.Say("tape of %s on both walls, %s", unit.Len(off/2), nearestLayers(left))
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
func (o Opening) wall(left bool) string {
	switch {
	case o.Curved && left == o.Inner:
		return "inner"
	case o.Curved:
		return "outer"
	}
	to := o.Across
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
func Footer(taped []Taping) []unit.Text {
	var lines []unit.Text
	if len(taped) > 0 {
		var usual []string
		args := []any{}
		for _, t := range Tapes() {
			usual = append(usual, "%s")
			args = append(args, unit.Len(t))
		}
		lines = append(lines, unit.Say(fmt.Sprintf("The usual tapes are %s thick: measure ten layers of yours and divide by ten. Tape the walls as far as they guide, not the round ends.", strings.Join(usual, ", ")), args...))
	}
	if slices.ContainsFunc(taped, func(t Taping) bool { return math.Abs(t.Shift()) > rounding }) {
		lines = append(lines, unit.Say("Where one wall gets more it is the left one along the strand, so that cuts that meet are out to the same side."))
	}
	return lines
}

// Tapings are those of the tracks that take tape.
func Tapings(grooves []Groove) (taped []Taping) {
	for _, g := range grooves {
		if g.Verdict == Tape {
			taped = append(taped, g.Tape)
		}
	}
	return taped
}
