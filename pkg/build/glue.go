package build

import "strapwork/pkg/glue"

// Voids is the volume in mm³ of what glue has to fill in the grooves.
func (r Result) Voids() float64 {
	laid := 0.0
	for _, p := range r.List.Pieces {
		laid += p.Area.Area()
	}
	return glue.Voids(r.Inlay.Grooves().Area(), laid, r.Job.Inlay.Depth)
}
