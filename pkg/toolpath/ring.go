package toolpath

import (
	"math"

	"strapwork/pkg/geom"
)

// A place is a stretch of a ring, by distance along it, where a lap may begin
// and end: away from corners, where all lanes lie side by side, or a joint that
// turns slightly, where each lane begins at the meeting of its edges.
type place struct{ from, to float64 }

// places returns the places of a ring where laps may begin, in order.
func (c course) places() []place {
	var list []place
	c.eachPlace(func(_ int, _ float64, p place) { list = append(list, p) })
	return list
}

// eachPlace calls visit with the places of a ring where laps may begin, in order:
// slight joints, and what the outermost lanes' corners leave of each edge on both
// sides. Each comes with the edge that it is on and the distance of that along the
// ring.
func (c course) eachPlace(visit func(edge int, run float64, p place)) {
	k := c.play
	if c.single {
		k = 0
	}
	left, right := c.beside(k), c.beside(-k)
	run := 0.0
	for i := range c.line.Len() {
		l := c.line.Edge(i).Length()
		from, to := max(left[i].from, right[i].from)*l, min(left[i].to, right[i].to)*l
		if from > 0 {
			from += lapRoom
			if c.joint(i, k) {
				visit(i, run, place{run, run})
			}
		}
		if to < l {
			to -= lapRoom
		}
		if from <= to {
			visit(i, run, place{run + from, run + to})
		}
		run += l
	}
}

// joint reports whether a ring turns slightly at the start of edge i, so that the
// lanes' edges meet beside it and a lap may begin there.
func (c course) joint(i int, k float64) bool {
	e, f := c.line.Edge((i+c.line.Len()-1)%c.line.Len()), c.line.Edge(i)
	if math.Abs(turn(e, f)) > smooth {
		return false
	}
	halves := geom.Chain(false, e.Part(0.5, 1), f.Part(0, 0.5))
	for _, d := range [2]float64{k, -k} {
		lane := parallel(halves, d)
		if lane.Len() != 2 || !c.beginsBeside(lane.Edge(1).A, d, f.A, f.Tangent(0)) || min(lane.Edge(0).Length(), lane.Edge(1).Length()) < lapRoom {
			return false
		}
	}
	return true
}

// beginsBeside reports whether a place of the lane at offset d is beside a point
// of the line, or as far from there as edges at a slight joint meet: d tan(smooth
// / 2), which bent ones double at most.
func (c course) beginsBeside(q geom.Point, d float64, p, direction geom.Point) bool {
	return q.Near(p.Add(direction.Left().Scale(d)), math.Abs(d)*2*smooth+geom.Coincident)
}

// lapRoom is how far in mm from the corner of a lane a lap may begin: what is
// left of the edge there must be something.
const lapRoom = 0.01

// beside says, for each edge of the ring, the part that the lane at offset d
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

// onJoint is the distance in mm along a ring within which a place is a joint:
// rounding, and far less than lapRoom.
const onJoint = 1e-9

// lane is the stretch of the lane at offset to the left of the ring, from one
// distance along the ring to another. At a joint it begins and ends where the
// lane's edges meet.
func (c course) lane(offset, from, to float64) geom.Contour {
	before, after := c.tails(from)[0], c.tails(to)[1]
	lane := parallel(c.line.Sub(from-before, to+after), offset)
	edges := lane.Edges()
	if before > 0 && len(edges) > 0 {
		edges = edges[1:]
	}
	if after > 0 && len(edges) > 0 {
		edges = edges[:len(edges)-1]
	}
	return geom.Chain(false, edges...)
}

// tails are half the lengths of the edges before and after a joint at a distance
// along the ring; nothing where there is no joint.
func (c course) tails(s float64) [2]float64 {
	s = math.Mod(s, c.line.Length())
	if c.line.Length()-s < onJoint {
		s = 0
	}
	run, n := 0.0, c.line.Len()
	for i := range n {
		l := c.line.Edge(i).Length()
		if math.Abs(s-run) < onJoint {
			return [2]float64{c.line.Edge((i+n-1)%n).Length() / 2, l / 2}
		}
		run += l
	}
	return [2]float64{}
}

// leastOverlap and mostOverlap in mm are how far a finishing pass round a ring
// runs on over its own start: where a bit begins to cut and stops it stands in the
// wood for a moment, and leaves a mark on the wall unless it passes there again
// (common practice).
const leastOverlap, mostOverlap = 1.0, 2.0

// A way is a ring that is run round in one of its two directions.
type way struct {
	course
	places []place
}

// over is how a pass along a lane that began at the distance s along the ring runs
// on over its start, and to which distance. Where no lap may begin so soon, home is
// the way back to s.
func (w way) over(offset, s float64) (over geom.Contour, to float64, home []geom.Edge) {
	round := w.lane(offset, s, s+w.line.Length())
	need := min(leastOverlap, round.Length())
	if over, to := w.rampOn(w.places, offset, s, need); over.Length() <= mostOverlap {
		return over, to, nil
	}
	over = round.Sub(0, min((leastOverlap+mostOverlap)/2, round.Length()))
	return over, s, over.Reverse().Edges()
}

// A ringer runs round a ring, lane after lane.
type ringer struct {
	tracer
	ways [2]way      // the ring's own, and the other
	s    float64     // where along the ring the next lap begins
	home []geom.Edge // the way back to there
}

// start goes to where the lane at an offset begins.
func (r *ringer) start(offset float64) {
	c := r.ways[0].course
	begin := c.lane(offset, r.s, r.s+c.line.Length()).Start()
	if len(r.passes) == 1 && len(r.passes[0].Moves) == 0 {
		r.at = begin // the bit is set down there
	}
	r.across(append(r.home, geom.Line(r.at, begin)))
	r.home = nil
}

// descend goes down to z along the lane at an offset.
func (r *ringer) descend(offset, z, ramp float64) {
	if drop := r.z - z; drop > 0 && ramp > 0 {
		var down geom.Contour
		down, r.s = r.ways[0].rampOn(r.ways[0].places, offset, r.s, drop/math.Tan(ramp))
		r.follow(down, z, Ramp)
	}
	r.plunge(z)
}

// round runs once round along the lane at an offset, in the ring's own direction or
// back; along a wall it runs on over its start.
func (r *ringer) round(offset, z float64, role Role, back, wall bool) {
	w, s, length := r.ways[0], r.s, r.ways[0].line.Length()
	if back {
		w, s, offset = r.ways[1], length-s, -offset
	}
	r.follow(w.lane(offset, s, s+length), z, role)
	if !wall {
		return
	}
	over, to, home := w.over(offset, s)
	r.follow(over, z, role)
	if back {
		to = length - to
	}
	r.s, r.home = to, home
}

// runRing is the run of a ring, from the distance s along it or the next place
// that will do. The last lane is run back, so that the wall is on the same side of
// the bit as along the first.
func (c course) runRing(o Params, s float64) (Run, error) {
	places := c.places()
	if len(places) == 0 {
		return Run{}, c.noStart(0)
	}
	s = nextPlace(places, s, c.line.Length())
	if err := c.checkLap(s); err != nil {
		return Run{}, err
	}
	other := c.reverse()
	r := ringer{ways: [2]way{{c, places}, {other, other.places()}}, s: s}
	for _, l := range c.layers(o) {
		for j, d := range l.offsets {
			last := j == len(l.offsets)-1
			r.begin(l.depth, c.passRole(l, j))
			r.start(d)
			if j == 0 {
				r.descend(d, -l.depth, o.Ramp)
			}
			r.round(d, -l.depth, c.passRole(l, j), j > 0 && last, l.role == Forward && (j == 0 || last))
		}
	}
	return r.run(c), nil
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
	at, direction := c.line.At(s)
	for _, d := range [2]float64{c.play, -c.play} {
		lap := c.lane(d, s, s+c.line.Length())
		if lap.Len() == 0 || !lap.Start().Near(lap.End(), geom.Coincident) || !c.beginsBeside(lap.Start(), d, at, direction) {
			return c.noStart(s)
		}
	}
	return c.checkLanes(c.line.Sub(s, s+c.line.Length()))
}

// noStart is the error of a ring on which no lap can begin.
func (c course) noStart(s float64) error {
	at, _ := c.line.At(s)
	return &StrandError{c.strand, c.name, at, "no stretch between its corners is long enough to begin on; take a narrower groove, or a wider bit"}
}
