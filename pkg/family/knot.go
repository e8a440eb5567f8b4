package family

// Knots of cells: strands that run at 45 degrees through the middles of the cells' sides,
// as light does, and are thrown back where there is no next cell or where a crossing is
// broken. (After G. Bain, "Celtic Art: The Methods of Construction", 1951, recalled; the
// breaks as P. Wackrill has them, "Celtic Knotwork and Knot Theory", Bridges 2006.)

import (
	"fmt"
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// A Break is a crossing of a knot that is none: its two strands turn back from one another.
type Break struct {
	X, Y int // where, in half cells from the lower left corner
	// Level: the strands pass above and below it; else to the left and the right.
	Level bool
}

// String is the break as the job file has it: "3,2 |".
func (b Break) String() string {
	return fmt.Sprintf("%s %s", b.Where(), map[bool]string{false: "|", true: "-"}[b.Level])
}

// Where is the crossing alone: "3,2".
func (b Break) Where() string { return fmt.Sprintf("%d,%d", b.X, b.Y) }

// A wall is what throws a strand back.
type wall uint8

const (
	none wall = iota
	upright
	level
)

// A node is a place that strands go through, in half cells from the lower left corner.
// The middles of cells' sides are those whose coordinates are odd and even.
type node struct{ x, y int }

// A knot is a rectangle of half cells, with or without a block in its middle.
type knot struct {
	wide, high int
	frame      int    // the half cells from the rim to the block; 0: there is no block
	walls      []wall // of each node, row by row
}

// newKnot is a knot with walls round it, and round its block.
func newKnot(wide, high, frame int) *knot {
	k := &knot{wide: wide, high: high, frame: frame, walls: make([]wall, (wide+1)*(high+1))}
	for y := range high + 1 {
		for x := range wide + 1 {
			if n := (node{x, y}); k.has(n) {
				*k.wall(n) = k.rim(n)
			}
		}
	}
	return k
}

func (k *knot) wall(n node) *wall { return &k.walls[n.y*(k.wide+1)+n.x] }

// has reports whether strands go through a node.
func (k *knot) has(n node) bool {
	if (n.x+n.y)%2 == 0 || n.x < 0 || n.y < 0 || n.x > k.wide || n.y > k.high {
		return false
	}
	return k.frame == 0 || k.deep(n.x, k.wide) <= k.frame || k.deep(n.y, k.high) <= k.frame
}

// deep is how far a coordinate lies from the rim.
func (k *knot) deep(x, of int) int { return min(x, of-x) }

// rim is the wall that a node has as part of the rim or the block.
func (k *knot) rim(n node) wall {
	dx, dy := k.deep(n.x, k.wide), k.deep(n.y, k.high)
	switch {
	case dx == 0 || k.frame > 0 && dx == k.frame && dy > k.frame:
		return upright
	case dy == 0 || k.frame > 0 && dy == k.frame && dx > k.frame:
		return level
	}
	return none
}

// crosses reports whether two strands cross at a node that isn't broken.
func (k *knot) crosses(n node) bool { return k.has(n) && *k.wall(n) == none }

// breakAt breaks a crossing, the i-th that is to be.
func (k *knot) breakAt(i int, b Break) error {
	key, n := fmt.Sprintf("breaks.%d", i+1), node{b.X, b.Y}
	if k.crosses(n) {
		*k.wall(n) = upright
		if b.Level {
			*k.wall(n) = level
		}
		return nil
	}
	why := fault(key, "there is no crossing at %d,%d", b.X, b.Y)
	if k.has(n) && k.rim(n) == none {
		why = fault(key, "the crossing at %d,%d is broken twice", b.X, b.Y)
	}
	near, ok := k.nearest(n)
	if !ok {
		return why.hint("remove it: no crossing is left")
	}
	return why.hint("the nearest is %q, or remove it", Break{near.x, near.y, b.Level}.String())
}

// nearest is the unbroken crossing that is nearest to a node, of those as near the lowest
// and then the leftmost.
func (k *knot) nearest(to node) (at node, ok bool) {
	least := math.Inf(1)
	for y := range k.high + 1 {
		for x := range k.wide + 1 {
			d := math.Hypot(float64(x-to.x), float64(y-to.y))
			if n := (node{x, y}); d < least && k.crosses(n) {
				at, least, ok = n, d, true
			}
		}
	}
	return at, ok
}

// A ray is a strand on its way from a node.
type ray struct {
	node
	dx, dy int // the next node less this
}

// on is the ray at the next node, thrown back if there is a wall, and whether it was.
func (k *knot) on(r ray) (ray, bool) {
	r.x, r.y = r.x+r.dx, r.y+r.dy
	switch *k.wall(r.node) {
	case none:
		return r, false
	case upright:
		r.dx = -r.dx
	case level:
		r.dy = -r.dy
	}
	return r, true
}

// strands are the nodes at which each closed strand is thrown back. The first strand
// is the one that is lowest, of those as low the leftmost, and sets out to the right.
func (k *knot) strands() [][]node {
	type side struct {
		node
		over bool // above or to the right of it
	}
	seen := map[side]bool{}
	sideOf := func(r ray) side {
		return side{r.node, *k.wall(r.node) == level && r.dy > 0 || *k.wall(r.node) == upright && r.dx > 0}
	}
	var all [][]node
	for y := range k.high + 1 {
		for x := range k.wide + 1 {
			for _, first := range [2]ray{{node{x, y}, 1, 1}, {node{x, y}, -1, -1}} {
				if !k.has(first.node) || *k.wall(first.node) == none || seen[sideOf(first)] || !k.leaves(first) {
					continue
				}
				var corners []node
				for r := first; !seen[sideOf(r)]; {
					seen[sideOf(r)] = true
					corners = append(corners, r.node)
					for back := false; !back; {
						r, back = k.on(r)
					}
				}
				all = append(all, corners)
			}
		}
	}
	return all
}

// leaves reports whether a ray from a wall goes into a cell of the knot.
func (k *knot) leaves(r ray) bool {
	to := node{r.x + r.dx, r.y + r.dy}
	cell := node{r.x, r.y} // the middle of the cell on the ray's side, in half cells
	if *k.wall(r.node) == upright {
		cell.x += r.dx
	} else {
		cell.y += r.dy
	}
	inBlock := k.frame > 0 && k.deep(cell.x, k.wide) > k.frame && k.deep(cell.y, k.high) > k.frame
	return k.has(to) && !inBlock
}

// place is where a node lies about the middle of the knot.
func (k *knot) place(n node, cell float64) geom.Point {
	return geom.Pt(float64(2*n.x-k.wide)*cell/4, float64(2*n.y-k.high)*cell/4)
}

// draw is the closed strands, rounded where they are thrown back.
func (k *knot) draw(cell, round float64) []geom.Contour {
	var all []geom.Contour
	for _, corners := range k.strands() {
		c := geom.Contour{Closed: true}
		for _, n := range corners {
			c.Vertices = append(c.Vertices, geom.Vertex{Point: k.place(n, cell)})
		}
		all = append(all, c.Filleted(alike(round, len(corners))))
	}
	return all
}

// alike is n times the same.
func alike(v float64, n int) []float64 {
	all := make([]float64, n)
	for i := range all {
		all[i] = v
	}
	return all
}

// roundSlack in mm is by how much a round may be out that is meant to be the most that
// fits, either way: what it leaves of a line is less than one can draw.
const roundSlack = 0.05

// rounded is the radius at the walls of a knot: the most that fits where none is given.
// In a corner's cell two rounds share a side of a half cell's diagonal, so each has room
// for a radius of half of it.
func rounded(cell, round float64) (float64, error) {
	most := cell / (2 * math.Sqrt2)
	switch {
	case round == 0 || math.Abs(round-most) <= roundSlack:
		return most, nil
	case round > most:
		return 0, fault("round", "a cell of %s has no room for a round of %s", unit.Len(cell), unit.Len(round)).
			hint("at most %s", unit.AtMost(most).Typed())
	}
	return round, nil
}
