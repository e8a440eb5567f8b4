package family

import "strapwork/pkg/geom"

// A Counted pattern has crossings that can be broken, each named by its half cells.
type Counted interface {
	Pattern
	// Places is every crossing that there is or was before it was broken, row by row
	// from the lower left corner.
	Places() []Place
	// Counts is where each column and each row of half cells is counted: along the lower
	// rim, and then along the left one.
	Counts() []Count
}

// A Place is a crossing of a knot; Level of its Break means nothing unless it is broken.
type Place struct {
	Break
	At     geom.Point
	Broken bool
	Wall   geom.Point // of a broken one: from At a part of the way to the next crossing, along what breaks it; else At
}

// A Count is a column of a knot, or a row, at the rim.
type Count struct {
	N  int        // in half cells from the lower left corner
	At geom.Point // on the rim
	To geom.Point // on the rim across
}

// Places is the panel's.
func (p Panel) Places() []Place { return p.knot().places(p.Cell, p.Breaks) }

// Counts is the panel's.
func (p Panel) Counts() []Count { return p.knot().counts(p.Cell) }

// Places is the border's.
func (p Border) Places() []Place { return p.knot().places(p.Cell, p.Breaks) }

// Counts is the border's.
func (p Border) Counts() []Count { return p.knot().counts(p.Cell) }

// wallShare is how far a wall is shown from its crossing, as a share of a cell: short of
// the half at which the next crossings are.
const wallShare = 0.25

// places is the crossings of a knot that isn't broken yet, and how they will be.
func (k *knot) places(cell float64, breaks []Break) (all []Place) {
	broken := map[node]Break{}
	for _, b := range breaks {
		broken[node{b.X, b.Y}] = b
	}
	for y := range k.high + 1 {
		for x := range k.wide + 1 {
			n := node{x, y}
			if !k.crosses(n) {
				continue
			}
			p := Place{Break: Break{X: x, Y: y}, At: k.place(n, cell)}
			p.Wall = p.At
			if b, ok := broken[n]; ok {
				p.Break, p.Broken = b, true
				along := geom.Pt(0, wallShare*cell)
				if b.Level {
					along = geom.Pt(wallShare*cell, 0)
				}
				p.Wall = p.At.Add(along)
			}
			all = append(all, p)
		}
	}
	return all
}

// counts is the columns and rows that have crossings, each in its turn.
func (k *knot) counts(cell float64) (all []Count) {
	for x := 1; x < k.wide; x++ {
		all = append(all, Count{x, k.place(node{x, 0}, cell), k.place(node{x, k.high}, cell)})
	}
	for y := 1; y < k.high; y++ {
		all = append(all, Count{y, k.place(node{0, y}, cell), k.place(node{k.wide, y}, cell)})
	}
	return all
}
