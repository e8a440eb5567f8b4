package walljudge

import (
	"math"

	"strapwork/pkg/geom"
)

// A curve is a line or an arc by its formula, from s = 0 to its length.
type curve struct {
	a, dir geom.Point // of a line: where it starts, and its unit direction
	c      geom.Point // of an arc: its centre
	radius float64    // of an arc; 0 for a line
	start  float64    // of an arc: the angle it begins at
	way    float64    // of an arc: +1 counter-clockwise, -1 clockwise
	length float64
}

// lineFrom is the line from a to b.
func lineFrom(a, b geom.Point) curve {
	d := math.Hypot(b.X-a.X, b.Y-a.Y)
	c := curve{a: a, length: d}
	if d > 0 {
		c.dir = geom.Pt((b.X-a.X)/d, (b.Y-a.Y)/d)
	}
	return c
}

// arcFrom is the arc about c that begins at a and turns by sweep.
func arcFrom(a, c geom.Point, sweep float64) curve {
	r := math.Hypot(a.X-c.X, a.Y-c.Y)
	return curve{c: c, radius: r, start: math.Atan2(a.Y-c.Y, a.X-c.X), way: math.Copysign(1, sweep), length: r * math.Abs(sweep)}
}

// bulged is the edge from a to b with a bulge, the tangent of a quarter of its
// angle (DXF Reference, LWPOLYLINE, group 42).
func bulged(a, b geom.Point, bulge float64) curve {
	dx, dy := b.X-a.X, b.Y-a.Y
	if math.Abs(bulge)*math.Hypot(dx, dy) < 1e-9 {
		return lineFrom(a, b)
	}
	f := (1 - bulge*bulge) / (4 * bulge)
	center := geom.Pt((a.X+b.X)/2-f*dy, (a.Y+b.Y)/2+f*dx)
	return arcFrom(a, center, 4*math.Atan(bulge))
}

// at is the point at s, off to the left by off; s may lie outside.
func (c curve) at(s, off float64) geom.Point {
	if c.radius == 0 {
		return geom.Pt(c.a.X+c.dir.X*s-c.dir.Y*off, c.a.Y+c.dir.Y*s+c.dir.X*off)
	}
	angle, r := c.start+c.way*s/c.radius, c.radius-c.way*off
	return geom.Pt(c.c.X+r*math.Cos(angle), c.c.Y+r*math.Sin(angle))
}

// heading is the unit direction at s.
func (c curve) heading(s float64) geom.Point {
	if c.radius == 0 {
		return c.dir
	}
	angle := c.start + c.way*s/c.radius
	return geom.Pt(-c.way*math.Sin(angle), c.way*math.Cos(angle))
}

// foot is where p is beside the curve's whole line or circle: at s, off to the
// left by off. On a circle s is within half a turn of the arc's middle.
func (c curve) foot(p geom.Point) (s, off float64) {
	if c.radius == 0 {
		x, y := p.X-c.a.X, p.Y-c.a.Y
		return x*c.dir.X + y*c.dir.Y, y*c.dir.X - x*c.dir.Y
	}
	middle := c.start + c.way*c.length/2/c.radius
	angle := math.Remainder(math.Atan2(p.Y-c.c.Y, p.X-c.c.X)-middle, 2*math.Pi)
	return c.length/2 + c.way*angle*c.radius, c.way * (c.radius - math.Hypot(p.X-c.c.X, p.Y-c.c.Y))
}

// far is the distance from p to the curve.
func (c curve) far(p geom.Point) float64 {
	if c.length == 0 {
		return apart(p, c.at(0, 0))
	}
	if s, off := c.foot(p); s >= 0 && s <= c.length {
		return math.Abs(off)
	}
	return math.Min(apart(p, c.at(0, 0)), apart(p, c.at(c.length, 0)))
}

func apart(p, q geom.Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// back is the curve run the other way.
func (c curve) back() curve {
	if c.radius == 0 {
		return lineFrom(c.at(c.length, 0), c.a)
	}
	d := c
	d.start, d.way = c.start+c.way*c.length/c.radius, -c.way
	return d
}

// part is the curve between two of its places.
func (c curve) part(s0, s1 float64) curve {
	d := c
	d.length = s1 - s0
	if c.radius == 0 {
		d.a = c.at(s0, 0)
	} else {
		d.start += c.way * s0 / c.radius
	}
	return d
}

// meet is the place nearest to p at which the parallels of two curves meet, off
// to the left of each by so much.
func meet(a curve, offA float64, b curve, offB float64, p geom.Point) (geom.Point, bool) {
	var found []geom.Point
	switch {
	case a.radius == 0 && b.radius == 0:
		cross := a.dir.X*b.dir.Y - a.dir.Y*b.dir.X
		if cross == 0 {
			return p, false
		}
		u, v := a.at(0, offA), b.at(0, offB)
		t := ((v.X-u.X)*b.dir.Y - (v.Y-u.Y)*b.dir.X) / cross
		found = append(found, geom.Pt(u.X+t*a.dir.X, u.Y+t*a.dir.Y))
	case a.radius == 0:
		found = lineCircle(a.at(0, offA), a.dir, b.c, b.radius-b.way*offB)
	case b.radius == 0:
		found = lineCircle(b.at(0, offB), b.dir, a.c, a.radius-a.way*offA)
	default:
		found = circles(a.c, a.radius-a.way*offA, b.c, b.radius-b.way*offB)
	}
	best, ok := p, false
	for _, q := range found {
		if !ok || apart(q, p) < apart(best, p) {
			best, ok = q, true
		}
	}
	return best, ok
}

// lineCircle are the meetings of a line through u along d, and a circle.
func lineCircle(u, d, c geom.Point, r float64) []geom.Point {
	x, y := c.X-u.X, c.Y-u.Y
	t, off := x*d.X+y*d.Y, y*d.X-x*d.Y
	q := r*r - off*off
	if q < 0 {
		return nil
	}
	w := math.Sqrt(q)
	return []geom.Point{geom.Pt(u.X+(t-w)*d.X, u.Y+(t-w)*d.Y), geom.Pt(u.X+(t+w)*d.X, u.Y+(t+w)*d.Y)}
}

// circles are the meetings of two circles.
func circles(c geom.Point, r float64, e geom.Point, s float64) []geom.Point {
	d := apart(c, e)
	if d == 0 {
		return nil
	}
	t := (d*d + r*r - s*s) / (2 * d)
	q := r*r - t*t
	if q < 0 {
		return nil
	}
	w, u := math.Sqrt(q), geom.Pt((e.X-c.X)/d, (e.Y-c.Y)/d)
	m := geom.Pt(c.X+t*u.X, c.Y+t*u.Y)
	return []geom.Point{geom.Pt(m.X-w*u.Y, m.Y+w*u.X), geom.Pt(m.X+w*u.Y, m.Y-w*u.X)}
}

// A grid finds things by the squares that they come near.
type grid struct {
	side  float64
	cells map[[2]int][]int
}

func newGrid(side float64) grid { return grid{side, map[[2]int][]int{}} }

func (g grid) cell(p geom.Point) [2]int {
	return [2]int{int(math.Floor(p.X / g.side)), int(math.Floor(p.Y / g.side))}
}

// near are the things put near p.
func (g grid) near(p geom.Point) []int { return g.cells[g.cell(p)] }

// put puts a thing where it is within reach of p.
func (g grid) put(p geom.Point, reach float64, thing int) {
	lo, hi := g.cell(geom.Pt(p.X-reach, p.Y-reach)), g.cell(geom.Pt(p.X+reach, p.Y+reach))
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			k := [2]int{x, y}
			if list := g.cells[k]; len(list) == 0 || list[len(list)-1] != thing {
				g.cells[k] = append(list, thing)
			}
		}
	}
}

// putAlong puts a thing where it is within reach of a curve.
func (g grid) putAlong(c curve, reach float64, thing int) {
	n := int(c.length/g.side) + 1
	for i := range n + 1 {
		g.put(c.at(c.length*float64(i)/float64(n), 0), reach+g.side, thing)
	}
}
