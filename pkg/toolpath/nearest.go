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

// A lapRing is a ring and the stretches of it on which laps may begin.
type lapRing struct {
	line   geom.Contour
	places []place
	along  []geom.Contour // each place's stretch; of no edges where that is a joint
}

func newLapRing(c course) lapRing {
	r := lapRing{line: c.line, places: c.places()}
	for _, p := range r.places {
		var way geom.Contour
		if p.to > p.from {
			way = c.line.Sub(p.from, p.to)
		}
		r.along = append(r.along, way)
	}
	return r
}

// nearest is the distance along the ring of the place nearest to p where a lap
// may begin.
func (r lapRing) nearest(p geom.Point) (s float64) {
	dist := math.Inf(1)
	for i, place := range r.places {
		at := place.from
		if place.to > place.from {
			q, t := r.along[i].Nearest(p)
			if q.Dist(p) > dist+geom.Coincident {
				continue
			}
			at += t
		}
		q, _ := r.line.At(at)
		if d := q.Dist(p); d < dist {
			s, dist = at, d
		}
	}
	return s
}

// boxes are round all places where a lap may begin.
func (r lapRing) boxes() []geom.Box {
	var list []geom.Box
	for i, place := range r.places {
		if place.to > place.from {
			list = append(list, r.along[i].Bounds())
			continue
		}
		p, _ := r.line.At(place.from)
		list = append(list, geom.Box{Min: p, Max: p})
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
