package work

import "strapwork/pkg/geom"

// A Shift takes places from the motif's coordinates, in which everything is planned,
// to those of a program, whose zero may lie elsewhere: it is what is added to x and
// y. Nothing turns.
type Shift geom.Point

// Point is p in the program's coordinates.
func (s Shift) Point(p geom.Point) geom.Point { return p.Add(geom.Point(s)) }

// Back is a place of the program in the motif's coordinates.
func (s Shift) Back(p geom.Point) geom.Point { return p.Sub(geom.Point(s)) }

// Box is b in the program's coordinates.
func (s Shift) Box(b geom.Box) geom.Box {
	return geom.Box{Min: s.Point(b.Min), Max: s.Point(b.Max)}
}

// Similarity takes the motif's coordinates to the program's.
func (s Shift) Similarity() geom.Similarity { return geom.Shifting(geom.Point(s)) }

// Contours are contours in the program's coordinates.
func (s Shift) Contours(list []geom.Contour) []geom.Contour {
	out := make([]geom.Contour, len(list))
	for i, c := range list {
		out[i] = s.Similarity().Contour(c)
	}
	return out
}

// Board is b, which may be nil, in the program's coordinates.
func (s Shift) Board(b *Board) *Board {
	if b == nil {
		return nil
	}
	moved := *b
	moved.Origin = s.Back(b.Origin)
	return &moved
}

// Clamps are clamps in the program's coordinates.
func (s Shift) Clamps(list []Clamp) []Clamp {
	out := make([]Clamp, len(list))
	for i, c := range list {
		c.Box = s.Box(c.Box)
		out[i] = c
	}
	return out
}
