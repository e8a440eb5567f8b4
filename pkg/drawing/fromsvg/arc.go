package fromsvg

import (
	"math"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
)

// arcTo is an arc by its ends, the half axes of its ellipse, the angle of the first, and
// the flags that choose one of four: SVG 1.1, appendix F.6. It is nil where the ends are
// one point (F.6.2).
func arcTo(from, to, radii geom.Point, turned float64, large, positive bool) drawing.Segment {
	if from == to {
		return nil
	}
	rx, ry := math.Abs(radii.X), math.Abs(radii.Y) // F.6.6, step 2
	if rx == 0 || ry == 0 {
		return drawing.Line{A: from, B: to} // F.6.2
	}
	sin, cos := math.Sincos(turned)
	// F.6.5.1: half the way between the ends, in the ellipse's own directions.
	half := from.Sub(to).Scale(0.5)
	x := (float64(cos*half.X) + float64(sin*half.Y)) / rx
	y := (float64(cos*half.Y) - float64(sin*half.X)) / ry
	// F.6.5.2 and F.6.6, step 3, for the ellipse as a unit circle: radii that don't reach
	// are scaled up until they do.
	d := math.Hypot(x, y)
	if d == 0 || math.IsInf(d, 0) {
		return drawing.Line{A: from, B: to} // so large or small that it can't be worked out
	}
	off := 0.0 // of the centre from the chord
	if d > 1 {
		rx, ry, x, y = rx*d, ry*d, x/d, y/d
	} else {
		off = math.Sqrt((1 - d) * (1 + d))
	}
	if large == positive {
		off = -off
	}
	n := math.Hypot(x, y)
	cx, cy := off*y/n, -off*x/n
	// F.6.5.5 and F.6.5.6: the angles of both ends, seen from the centre.
	start := math.Atan2(y-cy, x-cx)
	sweep := math.Atan2(-y-cy, -x-cx) - start
	if d >= 1 {
		sweep = math.Copysign(math.Pi, sweep)
	}
	switch {
	case positive && sweep < 0:
		sweep += 2 * math.Pi
	case !positive && sweep > 0:
		sweep -= 2 * math.Pi
	}
	axes := drawing.Affine{A: rx * cos, B: rx * sin, C: -ry * sin, D: ry * cos}
	middle := from.Lerp(to, 0.5)
	return drawing.Ellipse{
		Center: middle.Add(axes.Way(geom.Pt(cx, cy))),
		Major:  geom.Pt(axes.A, axes.B), Minor: geom.Pt(axes.C, axes.D),
		From: start, Sweep: sweep,
	}
}
