package marks

// Feed arrows, and where the walls of an opening are.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/lettering"
	"strapwork/pkg/sheet"
	"strapwork/pkg/template"
)

// Measures of feed arrows, mm (choices that look right beside letters of 4 to
// 6 mm).
const (
	feedHead  = 4.0   // at most, and
	feedPart  = 0.35  // of the shaft
	feedEvery = 160.0 // of a wall's length, one arrow
)

// Lengths of feed arrows and their distances from the opening's edge, mm,
// tried in turn.
var (
	feedLengths = []float64{24, 16, 10, 7}
	feedAways   = []float64{markEdge, 4, 3}
)

// feedBend is the most that a feed arrow may turn by, in radians: what bends
// further doesn't show a direction.
const feedBend = 1.7

// stations are the places along a stretch where marks are tried, in parts of
// its length: the middle first.
var stations = []float64{0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9, 0.04, 0.96}

// markFeed draws an arrow, or several on long ones, along both walls of each
// opening, the way that the router is fed there: the wall on the left of
// travel, which is clockwise round the opening. It reports what found no room.
func (r *room) markFeed(p template.Panel) []string {
	var missing []string
	for i := range p.Openings {
		for _, side := range []float64{1, -1} {
			if !r.markWall(p, i, side) {
				missing = append(missing, "a feed arrow along "+trackID(p, i))
			}
		}
	}
	return missing
}

// markWall draws the arrows along the wall left of the cut's line (side 1) or
// right of it (side -1), and reports whether there is one.
func (r *room) markWall(p template.Panel, own int, side float64) bool {
	length := p.Openings[own].Cut.Length()
	n := max(1, math.Round(length/feedEvery))
	drawn := false
	for i := range int(n) {
		run := func() bool { return r.markRun(p, own, side, length*float64(i)/n, length/n) }
		drawn = r.best(run) || drawn
	}
	return drawn
}

// markRun draws one arrow along the part of a cut that begins at the distance
// from and is so long. It is nearer to its own opening than to any other.
func (r *room) markRun(p template.Panel, own int, side, from, length float64) bool {
	for _, long := range feedLengths {
		for _, away := range feedAways {
			for _, part := range stations {
				shaft, ok := feedShaft(p.Openings[own], side, from+part*length, long, away)
				head := min(feedHead, feedPart*shaft.Length())
				if ok && isBeside(p, own, shaft) && r.place(arrowMark(lettering.ArrowAlong(shaft, head))) {
					return true
				}
			}
		}
	}
	return false
}

// isBeside reports whether a shaft is nearer to one opening than to any other, at its
// ends and in its middle.
func isBeside(p template.Panel, own int, shaft geom.Contour) bool {
	for _, part := range []float64{0, 0.5, 1} {
		if at, _ := shaft.At(part * shaft.Length()); nearest(p, at) != own {
			return false
		}
	}
	return true
}

// feedShaft is an arrow's shaft beside the wall: the wall's own curve, away
// from it, in the direction of feed. Not ok where there is no such wall, or
// where it bends too much.
func feedShaft(o template.Opening, side, at, long, away float64) (geom.Contour, bool) {
	wall, ok := wallBeside(o, side, at)
	if !ok {
		return geom.Contour{}, false
	}
	_, s := wall.loop.Nearest(wall.at)
	if s < long/2 {
		s += wall.loop.Length()
	}
	if long > wall.loop.Length() {
		return geom.Contour{}, false
	}
	// The loop has the opening on its left. Run backwards it is clockwise, with
	// the wood on the left.
	stretch := wall.loop.Sub(s-long/2, s+long/2).Reverse()
	shaft := stretch.Parallel(away, geom.Mitre)
	if shaft.Len() == 0 || shaft.Length() < long*feedShrink {
		return geom.Contour{}, false
	}
	return shaft, runsAlong(shaft, wall.way.Scale(side))
}

// feedShrink is the least that is left of a shaft's length beside a wall that
// bends in towards it.
const feedShrink = 0.5

// runsAlong reports whether a shaft keeps within its bend of a direction, and
// bends one way only.
func runsAlong(shaft geom.Contour, way geom.Point) bool {
	least, left, right := math.Cos(feedBend/2), false, false
	for _, e := range shaft.Edges() {
		if e.Tangent(0).Dot(way) < least || e.Tangent(1).Dot(way) < least {
			return false
		}
		left, right = left || e.Bulge > 0, right || e.Bulge < 0
	}
	return !(left && right)
}

// A wallPlace is a place of an opening's edge beside its cut's line.
type wallPlace struct {
	loop    geom.Contour // the edge that it is on
	at, out geom.Point   // the place, and the unit direction out of the opening
	way     geom.Point   // along the edge, as the line runs
}

// wallOff is the distance in mm from a wall at which it is judged to be one.
const wallOff = 1.0

// edgeFrom is where an opening's edge is first met going from a point within it
// in a direction, and how far off that is: infinitely if never.
func edgeFrom(o template.Opening, p, out geom.Point) (w wallPlace, dist float64) {
	w, dist = wallPlace{out: out}, math.Inf(1)
	size := o.Area.Bounds().Size()
	ray := geom.Line(p, p.Add(out.Scale(size.X+size.Y)))
	for _, c := range o.Area.Loops() {
		for _, e := range c.Edges() {
			for _, m := range geom.Crossings(ray, e, geom.Coincident) {
				if d := m.At.Dist(p); d < dist {
					dist, w.loop, w.at = d, c, m.At
				}
			}
		}
	}
	return w, dist
}

// wallBeside is the wall on the left (side 1) or right of a place of the cut's
// line, given by its distance along it. Not ok where no wall is square beside
// the line: at a corner, or where the inner wall is gone.
func wallBeside(o template.Opening, side, at float64) (wallPlace, bool) {
	if o.Cut.Line.Len() == 0 {
		return wallPlace{}, false
	}
	p, way := o.Cut.Line.At(at)
	w, dist := edgeFrom(o, p, way.Left().Scale(side))
	if math.IsInf(dist, 1) {
		return wallPlace{}, false
	}
	w.way = way
	return w, math.Abs(o.Area.Dist(w.at.Add(w.out.Scale(wallOff)))-wallOff) < sheet.Speck
}

// besides are the places along both walls of an opening, and before its ends,
// where a name is tried.
func besides(o template.Opening) []wallPlace {
	var list []wallPlace
	if o.Cut.Line.Len() == 0 {
		return nil
	}
	for _, part := range stations {
		for _, side := range []float64{1, -1} {
			if w, ok := wallBeside(o, side, part*o.Cut.Length()); ok {
				list = append(list, w)
			}
		}
	}
	for _, at := range []float64{0, o.Cut.Length()} {
		p, way := o.Cut.Line.At(at)
		if at == 0 {
			way = way.Scale(-1)
		}
		if w, dist := edgeFrom(o, p, way); !math.IsInf(dist, 1) {
			w.way = way.Left()
			list = append(list, w)
		}
	}
	return list
}
