package groove

import (
	"math"

	"strapwork/pkg/job"
)

// lastPass in mm is a light one that leaves the floor clean (common practice).
const lastPass = 0.25

// Depths returns the depths of the passes from the work's surface, in order,
// the last being the groove's: equal steps no deeper than the bit can take,
// then a last light one.
func Depths(depth, bit float64) []float64 {
	step := job.DepthStep(bit)
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
