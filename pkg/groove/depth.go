package groove

import (
	"math"

	"strapwork/pkg/work"
)

// lastPass in mm is a light one that leaves the floor clean (common practice).
const lastPass = 0.25

// Depths returns the depths of the passes from the work's surface, in order,
// the last being the groove's: equal steps no deeper than the bit can take,
// then a last light one.
func Depths(depth, bit float64) []float64 {
	n := int(Passes(depth, bit)) - 1
	depths := make([]float64, 0, n+1)
	for i := 1; i <= n; i++ {
		depths = append(depths, (depth-lastPass)*float64(i)/float64(n))
	}
	return append(depths, depth)
}

// Passes is how many passes Depths returns: for a bit of next to no width more
// than fit into memory, so whoever may get such a bit asks first.
func Passes(depth, bit float64) float64 {
	if depth <= 2*lastPass {
		return 1
	}
	return math.Ceil((depth-lastPass)/work.DepthStep(bit)-1e-9) + 1
}
