package program

import "strapwork/pkg/geom"

// Grooves are the grooves of a coupon as areas, from the scrap's lower left
// corner, the lowest first.
func (c CouponPlan) Grooves() []geom.Box {
	boxes := make([]geom.Box, len(c.Widths))
	y := float64(couponEdge)
	for i, w := range c.Widths {
		boxes[i] = geom.Box{Min: geom.Pt(couponEdge, y), Max: geom.Pt(couponEdge+c.Length, y+w)}
		y += w + couponGap
	}
	return boxes
}
