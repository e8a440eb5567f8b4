package toolpath

// Which strand comes next on a tour: the nearest.
//
// Where strands can be entered is in an index by boxes, and a box's distance from
// where the bit stands is a lower bound of the way there: strands are looked at
// from the nearest box on until what is left can't be nearer.

import (
	"math"

	"strapwork/pkg/geom"
)

// A lapRing is a ring with the places where its laps may begin.
type lapRing struct {
	line  geom.Contour
	spots []spot
}

// A spot is a place where a lap may begin, and the curve of it: of no length where
// that is a joint.
type spot struct {
	place
	geom.Edge
}

func newLapRing(c course) lapRing {
	r := lapRing{line: c.line}
	c.eachPlace(func(edge int, run float64, p place) {
		e := c.line.Edge(edge)
		if l := e.Length(); p.to > p.from {
			e = e.Part((p.from-run)/l, min(1, (p.to-run)/l))
		} else {
			e = e.Part((p.from-run)/l, (p.from-run)/l)
		}
		r.spots = append(r.spots, spot{p, e})
	})
	return r
}

// nearest is the distance along the ring of the place nearest to p where a lap
// may begin.
func (r lapRing) nearest(p geom.Point) (s float64) {
	dist := math.Inf(1)
	for _, spot := range r.spots {
		q, t := spot.A, 0.0
		if spot.to > spot.from {
			q, t = spot.Nearest(p)
		}
		if q.Dist(p) > dist+geom.Coincident { // rounding apart
			continue
		}
		at := spot.from + t*spot.Length()
		q, _ = r.line.At(at)
		if d := q.Dist(p); d < dist {
			s, dist = at, d
		}
	}
	return s
}

// boxes are round all places where a lap may begin.
func (r lapRing) boxes() []geom.Box {
	var list []geom.Box
	for _, s := range r.spots {
		list = append(list, s.Bounds())
	}
	return list
}

// A waiting is the strands of a group that are still to be cut.
type waiting struct {
	p      *planner
	pool   geom.Pool     // of boxes round where they may be entered
	strand []int         // each box's
	boxes  map[int][]int // each strand's
}

func (p *planner) newWaiting(group []int) *waiting {
	w := &waiting{p: p, boxes: map[int][]int{}}
	for _, strand := range group {
		own := p.rings[strand].boxes()
		for _, r := range p.open[strand] {
			if r != nil {
				own = append(own, geom.Box{Min: r.Start, Max: r.Start})
			}
		}
		w.pool.Add(own...)
		for range own {
			w.boxes[strand] = append(w.boxes[strand], len(w.strand))
			w.strand = append(w.strand, strand)
		}
	}
	return w
}

// nearest is the strand that is nearest to a place, as a stop after it; the first
// drawn of those that are as near.
func (w *waiting) nearest(from geom.Point) stop {
	best, least := stop{}, math.Inf(1)
	w.pool.Nearby(from, func(i int, atLeast float64) bool {
		if atLeast > least+geom.Coincident { // rounding apart
			return false
		}
		s, d := w.p.stopFrom(w.strand[i], &from)
		if d < least || d == least && s.strand < best.strand {
			best, least = s, d
		}
		return true
	})
	return best
}

// take takes a strand out.
func (w *waiting) take(strand int) {
	for _, i := range w.boxes[strand] {
		w.pool.Remove(i)
	}
}

// nearestNext goes from the point from, or the group's first strand, always to
// the strand that is nearest.
func (p *planner) nearestNext(group []int, from *geom.Point) []stop {
	w := p.newWaiting(group)
	var stops []stop
	for range group {
		var next stop
		if from == nil {
			next, _ = p.stopFrom(group[0], nil)
		} else {
			next = w.nearest(*from)
		}
		w.take(next.strand)
		stops = append(stops, next)
		out := next.gate().out
		from = &out
	}
	return stops
}

// stopFrom is a strand as a stop after a place, entered where that is nearest,
// and how far that is.
func (p *planner) stopFrom(strand int, from *geom.Point) (stop, float64) {
	s := stop{strand: strand}
	if c := p.courses[strand]; c.line.Closed {
		at, _ := c.line.At(p.ringStart(strand, from))
		s.gates = [2]gate{{at, at}, {at, at}}
	} else {
		for k, r := range p.open[strand] {
			s.gates[k] = gate{r.Start, r.End()}
		}
	}
	if from == nil {
		return s, 0
	}
	a, b := from.Dist(s.gates[0].in), from.Dist(s.gates[1].in)
	s.back = b < a
	return s, min(a, b)
}
