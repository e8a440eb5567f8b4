package toolpath

import (
	"math"

	"strapwork/pkg/geom"
)

// A place is a stretch of a ring, by distance along it, where a lap may begin
// and end: away from corners, where all lanes lie side by side.
type place struct{ from, to float64 }

// places returns the stretches of a ring where laps may begin, in order. Where
// there are none it is the middle of the longest edge.
func (c course) places() []place {
	var list []place
	n := c.line.Len()
	longest, middle := 0.0, 0.0
	run := 0.0
	for i := range n {
		e := c.line.Edge(i)
		l := e.Length()
		before, after := c.line.Edge((i+n-1)%n), c.line.Edge((i+1)%n)
		from, to := run+c.cornerRoom(before, e), run+l-c.cornerRoom(e, after)
		if from <= to {
			list = append(list, place{from, to})
		}
		if l > longest {
			longest, middle = l, run+l/2
		}
		run += l
	}
	if list == nil {
		list = []place{{middle, middle}}
	}
	return list
}

// cornerRoom is how far from the corner between e and f the lanes of straights
// lie side by side, k cot(t/2), twice over for arms that bend.
func (c course) cornerRoom(e, f geom.Edge) float64 {
	return 2 * c.play * math.Tan(math.Abs(turn(e, f))/2)
}

// nextPlace is the first distance from s on where a lap may begin.
func nextPlace(places []place, s, length float64) float64 {
	lap := math.Floor(s/length) * length
	for _, p := range places {
		if s-lap <= p.to {
			return lap + max(s-lap, p.from)
		}
	}
	return lap + length + places[0].from
}

// nearestPlace is the distance along the ring of the place nearest to p where
// a lap may begin, and how far from p that is.
func (c course) nearestPlace(places []place, p geom.Point) (s, dist float64) {
	dist = math.Inf(1)
	for _, pl := range places {
		at := pl.from
		if pl.to > pl.from {
			_, t := c.line.Sub(pl.from, pl.to).Nearest(p)
			at += t
		}
		q, _ := c.line.At(at)
		if d := q.Dist(p); d < dist {
			s, dist = at, d
		}
	}
	return s, dist
}

// lane is the stretch of the lane at offset to the left of the ring, from one
// distance along the ring to another.
func (c course) lane(offset, from, to float64) geom.Contour {
	return parallel(c.line.Sub(from, to), offset)
}

// parallel is Contour.Parallel, the curve itself where the distance is nothing.
func parallel(line geom.Contour, offset float64) geom.Contour {
	if offset == 0 {
		return line
	}
	return line.Parallel(offset, geom.Mitre)
}

// foot is the place of a lane beside a distance along the ring.
func (c course) foot(offset, s float64) geom.Point {
	p, u := c.line.At(s)
	return p.Add(u.Left().Scale(offset))
}

// runRing is the run of a ring, from the distance s along it or the next place
// that will do.
func (c course) runRing(o Options, s float64) (Run, error) {
	length := c.line.Length()
	places := c.places()
	s = nextPlace(places, s, length)
	if err := c.checkLaps(s); err != nil {
		return Run{}, err
	}
	var t tracer
	for i, l := range c.layers(o) {
		d := l.offsets[0]
		if i == 0 {
			t.at = c.foot(d, s)
		}
		t.begin(l.depth, c.passRole(l, 0))
		t.across(straight(t.at, c.foot(d, s)))
		if drop := t.z + l.depth; drop > 0 && o.Ramp > 0 {
			var down geom.Contour
			down, s = c.rampOn(places, d, s, drop/math.Tan(o.Ramp))
			t.follow(down, -l.depth, Ramp)
		}
		t.plunge(-l.depth)
		t.follow(c.lane(d, s, s+length), -l.depth, c.passRole(l, 0))
		for j := 1; j < len(l.offsets); j++ {
			d := l.offsets[j]
			lap := c.lane(d, s, s+length)
			if j == len(l.offsets)-1 {
				lap = lap.Reverse() // so that the wall is on the same side
			}
			t.begin(l.depth, c.passRole(l, j))
			t.across(straight(t.at, c.foot(d, s)))
			t.follow(lap, -l.depth, c.passRole(l, j))
		}
	}
	return t.run(c), nil
}

func straight(from, to geom.Point) []geom.Edge { return []geom.Edge{geom.Line(from, to)} }

// rampOn is the stretch of a lane from the distance s along the ring on that is
// at least as long as a ramp needs and ends where a lap may begin; it may go
// round more than once.
func (c course) rampOn(places []place, offset, s, need float64) (geom.Contour, float64) {
	length := c.line.Length()
	ahead := need
	for {
		to := nextPlace(places, s+ahead, length)
		way := c.lane(offset, s, to)
		if l := way.Length(); l >= need {
			return way, math.Mod(to, length)
		} else if l <= 0 {
			ahead += length
		} else {
			ahead = (to - s) * need / l * (1 + wholeStep) // a lane on the inside is shorter
		}
	}
}

// checkLaps reports a ring whose outermost lanes don't pass beside the place
// where a lap begins: its edges are too short between its corners.
func (c course) checkLaps(s float64) error {
	for _, d := range [2]float64{c.play, -c.play} {
		lap, foot := c.lane(d, s, s+c.line.Length()), c.foot(d, s)
		if lap.Len() == 0 || !lap.Start().Near(foot, geom.Coincident) || !lap.End().Near(foot, geom.Coincident) {
			p, _ := c.line.At(s)
			return &StrandError{c.strand, c.name, p, "no stretch between its corners is long enough to begin on"}
		}
	}
	return nil
}
