package family

import (
	"math"

	"strapwork/pkg/geom"
)

// Tiling is a tiling of the plane by regular polygons, called by those round a corner.
type Tiling int

const (
	// Squares is 4.4.4.4.
	Squares Tiling = iota
	// Octagons is 4.8.8: octagons, with squares between them.
	Octagons
	// Dodecagons is 3.12.12: dodecagons, with triangles between them.
	Dodecagons
	// Hexagons is 6.6.6.
	Hexagons
)

// Tilings are all of them.
var Tilings = [...]Tiling{Squares, Octagons, Dodecagons, Hexagons}

// sides of its large polygons.
func (t Tiling) sides() int { return [...]int{Squares: 4, Octagons: 8, Dodecagons: 12, Hexagons: 6}[t] }

// Lattice is a lattice of stars as Islamic strapwork has them: polygons in contact. Of a
// tiling Rows x Columns of its largest polygons are taken, every second row shifted by half
// of one if they are dodecagons or hexagons, and between them the small ones that touch all
// their neighbours. From the middle of each side two straights go into the polygon at Theta to
// the side, and meet those of the next sides. Strands cross in the middles of all inner sides,
// at 2 Theta, and are thrown back by the outer ones.
// (C. S. Kaplan, "Islamic star patterns from polygons in contact", Graphics Interface 2005;
// E. H. Hankin, "The Drawing of Geometric Patterns in Saracenic Art", 1925: both recalled.)
type Lattice struct {
	Tiling        Tiling
	Rows, Columns int
	Edge          float64 // of the polygons, mm; the size
	Theta         float64 // radians, more than 0 and less than a right angle; 0: as suits the tiling
}

// usualThetas in radians are those at which the stars of the large polygons come out as they
// are known: the sides of the star {8/3}, and of its like (common practice).
var usualThetas = [...]float64{
	Squares: 67.5 * math.Pi / 180, Octagons: 67.5 * math.Pi / 180, Dodecagons: 60 * math.Pi / 180, Hexagons: 60 * math.Pi / 180,
}

// Sized is the lattice of polygons with another edge.
func (p Lattice) Sized(size float64) Pattern {
	p.Edge = size
	return p
}

// Tracks is the distance of the middles of two next sides of the smallest polygons, between
// which strands run; of hexagons that of the corners of the stars in them.
func (p Lattice) Tracks() float64 {
	return p.Edge * [...]float64{Squares: math.Sqrt2 / 2, Octagons: math.Sqrt2 / 2, Dodecagons: 0.5, Hexagons: 0.5}[p.Tiling]
}

// Draw is a closed strand for each. Its middle is that of the polygons.
func (p Lattice) Draw() ([]geom.Contour, error) {
	if p.Theta == 0 {
		p.Theta = usualThetas[p.Tiling]
	}
	tiles := p.tiles()
	b := geom.EmptyBox()
	for _, t := range tiles {
		b = b.Join(geom.Circle(t.center, t.apothem()).Bounds())
	}
	at := b.Center()
	strands := contacts(tiles, p.Edge).strands(p.Theta)
	for i, c := range strands {
		strands[i] = geom.Shifting(geom.Pt(-at.X, -at.Y)).Contour(c)
	}
	return strands, nil
}

// A tile is a regular polygon.
type tile struct {
	center geom.Point
	sides  int
	first  float64 // the direction from its centre to the middle of its first side, radians
	edge   float64 // mm
}

// apothem is the distance from the centre to the sides.
func (t tile) apothem() float64 { return t.edge / 2 / math.Tan(math.Pi/float64(t.sides)) }

// toward is the direction to the middle of the i-th side, counter-clockwise from the first; half
// a side on, to a corner.
func (t tile) toward(i float64) float64 { return t.first + 2*math.Pi*i/float64(t.sides) }

func (t tile) middle(i int) geom.Point {
	return t.center.Add(geom.Polar(t.apothem(), t.toward(float64(i))))
}

// tiles are the lattice's polygons, row by row from below, the small ones after the large.
func (p Lattice) tiles() []tile {
	n := p.Tiling.sides()
	wide := 2 * tile{sides: n, edge: p.Edge}.apothem()
	high, shift := wide, 0.0
	if p.Tiling == Dodecagons || p.Tiling == Hexagons {
		high, shift = wide*math.Sqrt(3)/2, wide/2
	}
	at := func(row, column int) geom.Point {
		return geom.Pt(float64(column)*wide+float64(row%2)*shift, float64(row)*high)
	}
	var large, small []tile
	for row := range p.Rows {
		for column := range p.Columns {
			large = append(large, tile{at(row, column), n, 0, p.Edge})
		}
	}
	for row := range p.Rows - 1 {
		for column := range p.Columns - 1 {
			left, right := at(row, column), at(row, column+1)
			above, beside := at(row+1, column), at(row+1, column+1)
			switch p.Tiling {
			case Squares, Hexagons:
			case Octagons:
				small = append(small, tile{left.Lerp(beside, 0.5), 4, math.Pi / 4, p.Edge})
			case Dodecagons:
				// The one above lies between the two below, or the one below between the two above.
				if row%2 == 0 {
					small = append(small, between(left, right, above, p.Edge), between(above, beside, right, p.Edge))
				} else {
					small = append(small, between(left, right, beside, p.Edge), between(above, beside, left, p.Edge))
				}
			}
		}
	}
	return append(large, small...)
}

// between is the triangle between three large polygons, with a side to each.
func between(a, b, c geom.Point, edge float64) tile {
	center := a.Add(b).Add(c).Scale(1.0 / 3)
	return tile{center, 3, c.Sub(center).Angle(), edge}
}

// A side is one of a tile's.
type side struct{ tile, i int }

// A contact is tiles whose sides lie on one another.
type contact struct {
	tiles []tile
	next  map[side]side // the other tile's side; none at the rim
}

// contacts finds the sides that lie on one another. Middles of sides are whole parts of the
// edge apart or further, and found in a grid that is much finer than that.
func contacts(tiles []tile, edge float64) contact {
	const grid = 1000
	c := contact{tiles, map[side]side{}}
	seen := map[[2]int]side{}
	for k, t := range tiles {
		for i := range t.sides {
			m := t.middle(i).Scale(grid / edge)
			key := [2]int{int(math.Round(m.X)), int(math.Round(m.Y))}
			s := side{k, i}
			if other, ok := seen[key]; ok {
				c.next[s], c.next[other] = other, s
			}
			seen[key] = s
		}
	}
	return c
}

// strands follow the straights from tile to tile. Within one they go from side to side, and
// turn where those of neighbouring sides meet; through a side that two tiles share they go
// straight on, and so turn the other way in the next; at the rim they stay in their tile.
func (c contact) strands(theta float64) (all []geom.Contour) {
	seen := map[side]bool{} // by the side from which a tile's turn goes counter-clockwise
	for k, t := range c.tiles {
		for i := range t.sides {
			if !seen[side{k, i}] {
				all = append(all, c.strand(side{k, i}, theta, seen))
			}
		}
	}
	return all
}

// strand is the one that goes counter-clockwise from a side.
func (c contact) strand(first side, theta float64, seen map[side]bool) geom.Contour {
	var points []geom.Point
	at, turn := first, 1
	for {
		t := c.tiles[at.tile]
		from := at
		if turn < 0 {
			from.i = (at.i + t.sides - 1) % t.sides
		}
		if seen[from] {
			return geom.Polygon(points...)
		}
		seen[from] = true
		half := math.Pi / float64(t.sides)
		reach := t.apothem() * math.Cos(theta) / math.Cos(theta-half)
		if math.Abs(theta-half) > exact { // else they are one straight
			points = append(points, t.center.Add(geom.Polar(reach, t.toward(float64(from.i)+0.5))))
		}
		at.i = (at.i + t.sides + turn) % t.sides
		if other, ok := c.next[at]; ok {
			at, turn = other, -turn
		} else {
			points = append(points, t.middle(at.i))
		}
	}
}
