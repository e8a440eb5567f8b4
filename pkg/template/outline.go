package template

// The outline that all panels of a set share: a convex polygon that every
// position in which a panel is laid takes to itself, so that any panel, in any
// of its positions, fills the same place.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/plan"
)

// A Side is one side of a Shape.
type Side struct {
	Out  geom.Point // unit normal, outwards
	Dist float64    // from the motif's origin to the side's line, along Out, mm
}

// A Shape is a convex polygon by its sides, counter-clockwise. Panels that are
// not turned, or only half round, have a rectangle, whose side 0 is the lower
// one; quarter turns make it a square, n turns a regular polygon of n sides.
// Three turns have six sides and not three: a triangle round the same openings
// is 1.7 times as far across, and the keys forbid the turns that a hexagon has
// besides. Where panels are turned over, the shape has that mirror too.
type Shape struct {
	Sides []Side
}

// mostSides bounds the search for a polygon. No symmetry that is looked for
// has more turns (see plan.Symmetry).
const mostSides = 36

// sameTurn is in degrees how far turns that are the same may differ: they are
// k/n of a full turn, rounded.
const sameTurn = 1e-6

// symmetry is the least group of turns, and turnings over, that holds all the
// positions of some panels.
type symmetry struct {
	turns int     // by 360 degrees over this
	flips bool    // also turned over
	axis  float64 // the turn in degrees after one turning over, if flips
}

func symmetryOf(panels []plan.Panel) symmetry {
	var s symmetry
	var turns []float64
	for _, p := range panels {
		for _, pos := range p.Positions {
			switch {
			case !pos.Flip:
				turns = append(turns, pos.TurnDeg)
			case !s.flips:
				s.flips, s.axis = true, pos.TurnDeg
			default:
				turns = append(turns, pos.TurnDeg-s.axis)
			}
		}
	}
	for s.turns = 1; s.turns < mostSides && !allMultiples(turns, 360/float64(s.turns)); s.turns++ {
	}
	return s
}

func allMultiples(turns []float64, step float64) bool {
	for _, t := range turns {
		if math.Abs(t-step*math.Round(t/step)) > sameTurn {
			return false
		}
	}
	return true
}

// positions are all members of the group.
func (s symmetry) positions() []Orientation {
	var all []Orientation
	for k := range s.turns {
		turn := 360 * float64(k) / float64(s.turns)
		all = append(all, Orientation{TurnDeg: turn})
		if s.flips {
			all = append(all, Orientation{TurnDeg: s.axis + turn, Flip: true})
		}
	}
	return all
}

// sides is the number of sides of the polygon with this symmetry.
func (s symmetry) sides() int {
	switch s.turns {
	case 1, 2:
		return 4
	case 3:
		return 6
	}
	return s.turns
}

// lie is the angle in radians that the polygon is turned by from lying on its
// side 0. A turning over followed by a turn of t mirrors in the line at
// 90 degrees + t/2, which must be one of the polygon's own axes.
func (s symmetry) lie() float64 {
	if !s.flips {
		return 0
	}
	between := 180 / float64(s.sides()) // a regular polygon's axes
	if s.turns <= 2 {
		between = 90 // a rectangle's
	}
	turn := math.Mod(s.axis/2, between)
	if turn < 0 {
		turn += between
	}
	if between-turn < sameTurn {
		turn = 0
	}
	return turn * math.Pi / 180
}

// newShape is the polygon for panels with some symmetry that keeps margin from
// all openings in all the symmetry's positions.
func newShape(s symmetry, openings []region.Region, margin float64) Shape {
	n := s.sides()
	var shape Shape
	most := 0.0
	for i := range n {
		out := geom.TurningFraction(i, n).Then(geom.Turning(s.lie())).Apply(geom.Pt(0, -1))
		side := Side{Out: out, Dist: math.Inf(-1)}
		for _, pos := range s.boxed() {
			// The reach of a turned panel to one side is its own to the side turned back.
			side.Dist = math.Max(side.Dist, reach(openings, backBy(pos, out)))
		}
		side.Dist += margin
		most = math.Max(most, side.Dist)
		shape.Sides = append(shape.Sides, side)
	}
	if s.turns > 2 {
		for i := range shape.Sides {
			shape.Sides[i].Dist = most
		}
	}
	return shape
}

// boxed are the positions that a side's distance has to be found for: a
// regular polygon's turns only exchange its sides.
func (s symmetry) boxed() []Orientation {
	if s.turns > 2 {
		return []Orientation{{}}
	}
	return s.positions()
}

// inverse returns the similarity that undoes a position's.
func inverse(p Orientation) geom.Similarity {
	if p.Flip {
		return p.Similarity() // a reflection undoes itself
	}
	return Orientation{TurnDeg: -p.TurnDeg}.Similarity()
}

func backBy(p Orientation, v geom.Point) geom.Point { return inverse(p).Apply(v) }

// reach is the greatest distance of the regions' points from the origin in the
// direction of the unit vector u.
func reach(regions []region.Region, u geom.Point) float64 {
	best := math.Inf(-1)
	for _, r := range regions {
		for _, c := range r.Loops() {
			best = math.Max(best, contourReach(c, u))
		}
	}
	return best
}

func contourReach(c geom.Contour, u geom.Point) float64 {
	// Turned so that u is +x; quarter turns are exact.
	angle := -u.Angle()
	turn := geom.Turning(angle)
	if q := math.Round(angle * 2 / math.Pi); math.Abs(angle-q*math.Pi/2) < 1e-15 {
		turn = geom.TurningFraction(int(q), 4)
	}
	return turn.Contour(c).Bounds().Max.X
}

// Len is the number of sides.
func (s Shape) Len() int { return len(s.Sides) }

// Corner is where side i-1 meets side i; i counts round.
func (s Shape) Corner(i int) geom.Point {
	n := len(s.Sides)
	a, b := s.Sides[(i+n-1)%n], s.Sides[(i+n)%n]
	// Both lines hold the point: p . Out = Dist.
	d := a.Out.Cross(b.Out)
	return geom.Pt((a.Dist*b.Out.Y-b.Dist*a.Out.Y)/d, (b.Dist*a.Out.X-a.Dist*b.Out.X)/d)
}

// Polygon is the outline, counter-clockwise, which begins where side 0 does.
func (s Shape) Polygon() geom.Contour {
	pts := make([]geom.Point, len(s.Sides))
	for i := range pts {
		pts[i] = s.Corner(i)
	}
	return geom.Polygon(pts...)
}

// Middle is the middle of side i.
func (s Shape) Middle(i int) geom.Point { return s.Corner(i).Lerp(s.Corner(i+1), 0.5) }

// Length is the length of side i in mm.
func (s Shape) Length(i int) float64 { return s.Corner(i).Dist(s.Corner(i + 1)) }

// shortest is the length of the shortest side in mm, negative where its
// neighbours leave a side less than none.
func (s Shape) shortest() float64 {
	least := math.Inf(1)
	for i, x := range s.Sides {
		least = math.Min(least, s.Corner(i+1).Sub(s.Corner(i)).Dot(x.Out.Left()))
	}
	return least
}

// Centre is the middle of the shape: the origin unless panels are neither
// turned nor turned over.
func (s Shape) Centre() geom.Point {
	c := geom.Point{}
	for i := range s.Sides {
		c = c.Add(s.Corner(i))
	}
	return c.Scale(1 / float64(len(s.Sides)))
}

// grown is the shape with its sides set outwards; by says how far each, in mm.
func (s Shape) grown(by func(side int) float64) Shape {
	t := Shape{Sides: make([]Side, len(s.Sides))}
	for i, x := range s.Sides {
		t.Sides[i] = Side{x.Out, x.Dist + by(i)}
	}
	return t
}

// Placements are the ways of laying a panel of this shape that could be
// mistaken for one another: every turn about the shape's middle, the panel
// turned over or not, that keeps it within slack mm of the shape. The first
// leaves it as it is.
func (s Shape) Placements(slack float64) []geom.Similarity {
	c := s.Centre()
	room := s.grown(func(int) float64 { return slack })
	var all []geom.Similarity
	for _, over := range []bool{false, true} {
		for i := range s.Sides {
			t := geom.Shifting(c.Scale(-1))
			from := s.Sides[0].Out.Angle()
			if over {
				t = t.Then(geom.MirrorY())
				from = math.Pi - from
			}
			t = t.Then(geom.Turning(s.Sides[i].Out.Angle() - from)).Then(geom.Shifting(c))
			if room.holds(t.Contour(s.Polygon())) {
				all = append(all, t)
			}
		}
	}
	return all
}

// holds reports whether a polygon's corners are within the shape.
func (s Shape) holds(c geom.Contour) bool {
	for _, v := range c.Vertices {
		for _, x := range s.Sides {
			if v.Dot(x.Out) > x.Dist+geom.Coincident {
				return false
			}
		}
	}
	return true
}
