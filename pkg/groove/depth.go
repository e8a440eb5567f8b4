package groove

import "math"

// Depth steps (common practice): no deeper than the bit is wide, half of that
// for bits under 2 mm; the last pass a light one that leaves the floor clean.
const (
	slenderBit = 2.0  // mm; thinner bits bend
	lastPass   = 0.25 // mm
)

// Depths returns the depths of the passes from the work's surface, in order,
// the last being the groove's: equal steps no deeper than the bit can take,
// then a last light one.
func Depths(depth, bit float64) []float64 {
	step := bit
	if bit < slenderBit {
		step = bit / 2
	}
	if depth <= 2*lastPass {
		return []float64{depth}
	}
	rough := depth - lastPass
	n := int(math.Ceil(rough/step - 1e-9))
	depths := make([]float64, 0, n+1)
	for i := 1; i <= n; i++ {
		depths = append(depths, rough*float64(i)/float64(n))
	}
	return append(depths, depth)
}
