package family

import "strapwork/pkg/geom"

// A Plait is a straight band of strands that run at 45 degrees, lengthwise along x. Open,
// each strand has two loose ends, which are cut half-way between crossings, where they
// are farthest from one another. Closed, they turn back at both ends: a panel.
type Plait struct {
	Strands int     // side by side
	Length  int     // half cells
	Cell    float64 // mm; the size
	Round   float64 // mm, the radius where a strand turns back; 0: the most that fits
	Closed  bool
}

// Sized is the plait of other cells.
func (p Plait) Sized(size float64) Pattern {
	p.Cell = size
	return p
}

// Draw is a contour for each strand, the lowest at the left end first.
func (p Plait) Draw() ([]geom.Contour, error) {
	if p.Closed {
		for _, m := range []struct {
			key   string
			count int
		}{{"strands", p.Strands}, {"length", p.Length}} {
			if m.count%2 != 0 {
				return nil, fault(m.key, "%d leaves strands that can't turn back at closed ends", m.count).
					hint("%d or %d, or ends = %q", m.count-1, m.count+1, "open")
			}
		}
		return drawKnot(newKnot(p.Length, p.Strands, 0), p.Cell, p.Round, nil)
	}
	round, err := rounded(p.Cell, p.Round)
	if err != nil {
		return nil, err
	}
	k := newKnot(p.Length+1, p.Strands, 0)
	var all []geom.Contour
	for i := range p.Strands {
		// Between columns strands lie evenly, by turns on their way down and up.
		r := ray{node{1, i}, 1, -1}
		if i%2 != 0 {
			r = ray{node{1, i + 1}, 1, 1}
		}
		all = append(all, k.open(r, p.Cell, round))
	}
	return all, nil
}

// open is the strand that comes to the node of a ray from the left, and on to the last
// column but one, with its ends half-way to the columns before and after.
func (k *knot) open(r ray, cell, round float64) geom.Contour {
	var c geom.Contour
	add := func(p geom.Point) { c.Vertices = append(c.Vertices, geom.Vertex{Point: p}) }
	r.x, r.y = r.x-r.dx, r.y-r.dy
	halfway := func() geom.Point {
		return k.place(r.node, cell).Lerp(k.place(node{r.x + r.dx, r.y + r.dy}, cell), 0.5)
	}
	add(halfway())
	for r.x < k.wide-1 {
		var back bool
		if r, back = k.on(r); back {
			add(k.place(r.node, cell))
		}
	}
	add(halfway())
	return c.Filleted(alike(round, len(c.Vertices)))
}
