// Package plait makes rectangular plaitwork, for tests and benchmarks: strands
// that run on the diagonals of a rectangle of squares and bounce at its border.
//
// Known of an a x b plait: it has gcd(a, b) strands (G. Fisher and B. Mellor,
// "On the Topology of Celtic Knot Designs", Bridges 2004) and 2ab - a - b
// crossings, one at the middle of every inner side of the a x b squares
// (derived: a(b-1) sides of one direction and b(a-1) of the other).
package plait

import "strapwork/pkg/geom"

// Lines returns the strands of an a x b plait of squares with sides of pitch
// mm, centred on the origin, as closed polylines that turn sharply at the
// border. Each starts on the lower border, leftmost first, and runs up to the
// right; strands that touch no lower border do not exist.
func Lines(a, b int, pitch float64) []geom.Contour {
	// Counted in half squares the rectangle is 2a x 2b, and strands meet its
	// border at odd numbers only: never in a corner.
	half := pitch / 2
	place := func(x, y int) geom.Point {
		return geom.Pt(float64(x-a)*half, float64(y-b)*half)
	}
	var strands []geom.Contour
	seen := make([]bool, 2*a)
	for start := 1; start < 2*a; start += 2 {
		if seen[start] {
			continue
		}
		var pts []geom.Point
		x, y, dx, dy := start, 0, 1, 1
		for {
			if y == 0 {
				seen[x] = true
			}
			pts = append(pts, place(x, y))
			x, y, dx, dy = bounce(x, y, dx, dy, 2*a, 2*b)
			if x == start && y == 0 {
				break
			}
		}
		strands = append(strands, geom.Polygon(pts...))
	}
	return strands
}

// bounce runs from (x, y) in the direction (dx, dy), both 1 or -1, to the
// border of the rectangle w x h, and returns the place and the new direction.
func bounce(x, y, dx, dy, w, h int) (nx, ny, ndx, ndy int) {
	toX, toY := x, y
	if dx > 0 {
		toX = w - x
	}
	if dy > 0 {
		toY = h - y
	}
	n := min(toX, toY)
	if n == toX {
		return x + n*dx, y + n*dy, -dx, dy
	}
	return x + n*dx, y + n*dy, dx, -dy
}
