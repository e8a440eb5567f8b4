package work

// Depth steps, by hand as by machine (common practice): half the bit's width, and a
// third where the bit is so thin that it bends.
const (
	slenderBit  = 1.5 // mm; thinner bits bend
	usualPart   = 1.0 / 2
	slenderPart = 1.0 / 3
)

// DepthStep is the deepest step in mm that is usual for a bit whose slot is so wide.
func DepthStep(bit float64) float64 {
	if bit < slenderBit {
		return bit * slenderPart
	}
	return bit * usualPart
}

// DepthPart says which part of the bit's width DepthStep is: "half" or "a third of".
func DepthPart(bit float64) string {
	if bit < slenderBit {
		return "a third of"
	}
	return "half"
}
