package work

import "strapwork/pkg/unit"

// Guide is what steers the router.
type Guide int

const (
	// GuideBase rides the rim of the router's own base along the wall.
	GuideBase Guide = iota
	// GuideBushing rides a collar round the bit.
	GuideBushing
	// GuideBearing rides a ball bearing on the bit.
	GuideBearing
	// GuidePivot swings the router on a bar about a pin; rings only.
	GuidePivot
	// GuideNone is no guide: no templates are made, and the job is for a machine.
	GuideNone
)

// HasTemplates reports whether anything is made that guides a router by hand.
func (g Guide) HasTemplates() bool { return g != GuideNone }

var guideWords = [...]string{
	GuideBase:    "base",
	GuideBushing: "bushing",
	GuideBearing: "bearing",
	GuidePivot:   "pivot",
	GuideNone:    "none",
}

// String is the guide's word in the job file.
func (g Guide) String() string { return unit.Word(guideWords[:], g, "guide") }

// Router holds the router's measures: diameters, except for the lengths Flute
// and Collar. Flute, ShankDiameter, BaseDiameter, Collar and what is of the Body are 0 when they were not given.
type Router struct {
	Guide          Guide
	RiderDiameter  float64 // diameter of what touches the template; 0 for a pivot, and where there is none
	Bit            float64 // width of the slot that the bit cuts
	Flute          float64 // cutting length
	ShankDiameter  float64 // diameter of the shank above it
	BaseDiameter   float64 // diameter of the router's base
	Collar         float64 // length of a bushing below the base
	OffCenter      float64 // how far the bit is from the base's centre
	OffCenterGiven bool    // it was measured, and not taken for 0
	Body                   // what turns above the bit
	Plunge         bool    // false: a pilot hole is wanted at each start
}
