package budget

// What a panel may be out along the rail that it is stepped along.

import (
	"math"

	"strapwork/pkg/template"
)

const (
	// ShopScale is by how much, as a share, what a cutting shop's machine calls a length
	// may differ from it: 0.1 %, 2.4 mm in 2.4 m.
	ShopScale = 0.001
	// tapeFixed and tapePerMetre are the errors in mm of a measuring tape of class II, the
	// usual one: 0.3 mm, and 0.2 mm for every metre begun (Directive 2014/32/EU on
	// measuring instruments, annex X, material measures of length, table 1).
	tapeFixed    = 0.3
	tapePerMetre = 0.2
)

// Tape is by how much in mm a length may be out that is measured with a tape of class II.
func Tape(length float64) float64 { return tapeFixed + tapePerMetre*math.Ceil(length/1000) }

// A Station is by how much in mm the panel of a set-up may be out along the rail, from the
// rail's zero end.
type Station struct {
	SetUp  int
	At     float64 // of its hole from the rail's zero end
	Passes int     // joints of the rail before it
	Pins   float64 // the pin's play in its hole and in the plate's slot
	Joints float64 // that of the pins in the splices passed
	Scale  float64 // the shop's error of scale, all along
}

// Worst is all of it the same way.
func (s Station) Worst() float64 { return s.Pins + s.Joints + s.Scale }

// Measured is Worst where the rail was measured with a tape, and what it was out is
// allowed for.
func (s Station) Measured() float64 { return s.Pins + s.Joints + math.Min(s.Scale, Tape(s.At)) }

// Stations are those of a set's rail, in the order of set-ups; none without a rail. A pin
// may be off the middle of its hole by half of its play: in the rail and in the slot; and
// at a joint in either piece.
func Stations(set template.Set) []Station {
	if set.Rail == nil {
		return nil
	}
	var list []Station
	for _, h := range set.Rail.Holes {
		list = append(list, Station{
			SetUp: h.SetUp, At: h.At, Passes: h.Passes,
			Pins: 2 * PinSlack / 2, Joints: float64(h.Passes) * 2 * PinSlack / 2, Scale: ShopScale * h.At,
		})
	}
	return list
}

// alongRail adds what comes of panels that are stepped along a rail, among one another.
// What shifts all stations alike is no error, and nor is scale, as long as panels and rail
// are of one machine: the whole pattern grows, and all still meets.
func (m *maker) alongRail() {
	m.add(Term{Source: Bearing, From: SeatRepeat, Assumed: true, Wander: SeatRepeat})
	// One edge bears on the rail: another panel's, or the other one of the same.
	m.add(Term{Source: Outline, From: m.holds, Assumed: m.plain, Wander: m.holds})
	// Of two stations that meet each has a pin in a hole and in a slot.
	m.add(Term{Source: Index, From: PinSlack, Assumed: true, Times: 4, Wander: PinSlack / 2})
	if len(m.set.Rail.Joints) > 0 {
		m.add(Term{Source: Splices, From: PinSlack, Assumed: true, Times: 2, Wander: PinSlack / 2})
	}
}
