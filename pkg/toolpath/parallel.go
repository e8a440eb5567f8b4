package toolpath

import (
	"math"

	"strapwork/pkg/geom"
)

// parallel is Contour.Parallel, the curve itself where the distance is nothing.
func parallel(line geom.Contour, offset float64) geom.Contour {
	if offset == 0 {
		return line
	}
	return line.Parallel(offset, geom.Mitre)
}

// carriers calls visit for each edge j of a lane with the edge i of the line
// that it runs beside at distance d. Lanes keep the order of the line's edges.
// It returns the first edge of the lane that runs beside none: a straight one
// that had to join what doesn't meet; -1 if there is none.
func carriers(line, lane geom.Contour, d float64, visit func(i, j int)) int {
	stray, next := -1, 0
	for j := range lane.Len() {
		f := lane.Edge(j)
		i := next
		for i < line.Len() && !carries(line.Edge(i).Shift(d), f) {
			i++
		}
		if i == line.Len() {
			if stray < 0 {
				stray = j
			}
			continue
		}
		// Of neighbours on one circle the one that f lies beside.
		for i+1 < line.Len() && carries(line.Edge(i+1).Shift(d), f) && aside(line.Edge(i+1), f) < aside(line.Edge(i), f) {
			i++
		}
		visit(i, j)
		next = i
	}
	return stray
}

// aside is how far the middle of f is from that of e along e, in lengths of e.
func aside(e, f geom.Edge) float64 { return math.Abs(e.Param(f.Mid()) - 0.5) }

// offCarrier is how far in mm an edge of a lane may be off its line or circle:
// a hundred times Coincident, for the rounding of flat arcs' centres, and far
// less than the edges that join what doesn't meet.
const offCarrier = 100 * geom.Coincident

// carries reports whether f lies on the line or circle of e.
func carries(e, f geom.Edge) bool {
	if e.IsLine() {
		u := e.Tangent(0)
		off := func(p geom.Point) bool { return math.Abs(u.Cross(p.Sub(e.A))) > offCarrier }
		return !off(f.A) && !off(f.B) && !off(f.Mid())
	}
	c, r := e.Center(), e.Radius()
	off := func(p geom.Point) bool { return math.Abs(p.Dist(c)-r) > offCarrier }
	return !off(f.A) && !off(f.B) && !off(f.Mid())
}

// checkLanes reports a place where one of the outermost lanes of an open line
// would leave the groove. A lane follows its line as long as each of its edges
// runs beside one of the line's, and it leaves out no more than what corners
// trim from a short one. Else it is held against the whole groove: between arms
// that hardly part, a lane may be gone because all wood there goes.
func (c course) checkLanes(line geom.Contour) error {
	if c.single {
		return nil
	}
	for _, d := range [2]float64{c.play, -c.play} {
		lane := parallel(line, d)
		kept := make([]bool, line.Len())
		doubtful := carriers(line, lane, d, func(i, _ int) { kept[i] = true }) >= 0
		for i, ok := range kept {
			doubtful = doubtful || (!ok && line.Edge(i).Length() > 2*c.trimmedOff(line, i))
		}
		if !doubtful || lane.Len() == 0 {
			continue
		}
		inside, stops := c.safeAreaIn(line.Bounds()).spans(lane)
		for i, in := range inside {
			if !in && !c.atEnds(lane, stops[i]) {
				at, _ := lane.At(stops[i])
				return &StrandError{c.strand, c.name, at, "its arms run so close to one another that the bit can't follow the wall between them; draw the corner more open"}
			}
		}
	}
	return nil
}

// atEnds reports whether a distance along a lane is so near to an end of it that
// the lane may be trimmed there.
func (c course) atEnds(lane geom.Contour, s float64) bool {
	return !c.line.Closed && min(s, lane.Length()-s) < c.nearEnd()
}

// trimmedOff is how much of edge i corners between straights trim from a lane,
// k cot(t/2) at each.
func (c course) trimmedOff(line geom.Contour, i int) float64 {
	sum := geom.Coincident
	if i > 0 {
		sum += c.play * math.Tan(math.Abs(turn(line.Edge(i-1), line.Edge(i)))/2)
	}
	if i+1 < line.Len() {
		sum += c.play * math.Tan(math.Abs(turn(line.Edge(i), line.Edge(i+1)))/2)
	}
	return sum
}
