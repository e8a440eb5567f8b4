package toolpath

import (
	"math"

	"strapwork/pkg/geom"
)

// A place is a stretch of a ring, by distance along it, where a lap may begin
// and end: away from corners, where all lanes lie side by side.
type place struct{ from, to float64 }

// places returns the stretches of a ring where laps may begin, in order: what
// the outermost lanes' corners leave of each edge on both sides.
func (c course) places() []place {
	k := c.play
	if c.single {
		k = 0
	}
	left, right := c.beside(k), c.beside(-k)
	var list []place
	run := 0.0
	for i := range c.line.Len() {
		l := c.line.Edge(i).Length()
		from, to := max(left[i].from, right[i].from)*l, min(left[i].to, right[i].to)*l
		if from > 0 {
			from += lapRoom
		}
		if to < l {
			to -= lapRoom
		}
		if from <= to {
			list = append(list, place{run + from, run + to})
		}
		run += l
	}
	return list
}

// lapRoom is how far in mm from the corner of a lane a lap may begin: what is
// left of the edge there must be something.
const lapRoom = 0.01

// beside tells, for each edge of the ring, the part that the lane at offset d
// runs beside, in fractions of the edge's length; from > to where there is none.
func (c course) beside(d float64) []place {
	parts := make([]place, c.line.Len())
	for i := range parts {
		parts[i] = place{1, 0}
	}
	lane := parallel(c.line, d)
	carriers(c.line, lane, d, func(i, j int) {
		e, f := c.line.Edge(i), lane.Edge(j)
		parts[i].from = max(0, min(parts[i].from, e.Param(f.A)))
		parts[i].to = min(1, max(parts[i].to, e.Param(f.B)))
	})
	return parts
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
	if len(places) == 0 {
		return Run{}, c.noStart(0)
	}
	s = nextPlace(places, s, length)
	if err := c.checkLap(s); err != nil {
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

// checkLap reports a ring whose lanes can't follow it, or don't pass the place
// where a lap begins.
func (c course) checkLap(s float64) error {
	if c.single {
		return nil
	}
	line := c.line.Sub(s, s+c.line.Length())
	for _, d := range [2]float64{c.play, -c.play} {
		lap, foot := parallel(line, d), c.foot(d, s)
		if lap.Len() == 0 || !lap.Start().Near(foot, geom.Coincident) || !lap.End().Near(foot, geom.Coincident) {
			return c.noStart(s)
		}
	}
	return c.checkLanes(line)
}

// noStart is the error of a ring on which no lap can begin.
func (c course) noStart(s float64) error {
	at, _ := c.line.At(s)
	return &StrandError{c.strand, c.name, at, "no stretch between its corners is long enough to begin on; take a narrower groove, or a wider bit"}
}
