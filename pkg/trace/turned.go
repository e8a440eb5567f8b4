package trace

import "strapwork/pkg/geom"

// Turned is the k-th copy of an element's contour, 0 <= k < Copies.
func (d Traced) Turned(c geom.Contour, k int) geom.Contour {
	if k == 0 {
		return c
	}
	return rounded(about(d.Center, k, max(1, d.Copies)).Contour(c))
}
