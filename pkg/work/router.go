package work

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

// BaseRadius is half of the router's base in mm, which where the base itself rides is
// the rider; 0 where it was not given.
func (r Router) BaseRadius() float64 {
	if r.Guide.RidesBase() {
		return r.RiderDiameter / 2
	}
	return r.BaseDiameter / 2
}
