package dryrun

// How long a program takes: every move speeds up and brakes at a constant
// acceleration (a trapezoid of speed over time, a triangle where it is too short
// to come to speed), and where feed moves go on smoothly the speed carries
// through. Textbook kinematics; how far a machine rounds corners is its own
// affair, so at a corner it is taken to stop.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
)

const (
	// smooth is the angle in radians up to which two feed moves meet without a
	// stop: 10 degrees. An arc of radius 2 mm, about the smallest that a
	// groove's path has, written as lines that leave it by 0.005 mm turns by 8
	// degrees from line to line.
	smooth = 10 * math.Pi / 180

	// lookahead is how many moves are held back for what comes after them. Half
	// of it in moves as short as 0.02 mm is 41 mm, in which even 200 mm/s is
	// braked at 500 mm/s2.
	lookahead = 4096

	// anyRapid is the rapid's speed in mm/min of a machine whose limits
	// aren't known: that of slow hobby machines, so that the time is not too short
	// (common practice).
	anyRapid = 3000

	perMinute = 60.0
)

// Trapezoid is the time in seconds for a straight stretch of a distance in mm
// at vmax mm/s at most, from speed vIn to speed vOut, with accel and brake in
// mm/s2. An accel or brake of 0 means that the speed is there at once. Speeds
// that can't be reached within the distance are held to those that can.
func Trapezoid(distance, vmax, accel, brake, vIn, vOut float64) float64 {
	if distance <= 0 || vmax <= 0 {
		return 0
	}
	vIn, vOut = math.Min(vIn, vmax), math.Min(vOut, vmax)
	accel, brake = orAtOnce(accel), orAtOnce(brake)
	if math.IsInf(accel, 1) && math.IsInf(brake, 1) {
		return distance / vmax
	}
	// The speed v at which speeding up and braking alone fill the distance:
	// (v^2 - vIn^2)/2a + (v^2 - vOut^2)/2b = d.
	top := math.Sqrt((2*distance + vIn*vIn/accel + vOut*vOut/brake) / (1/accel + 1/brake))
	top = math.Max(math.Min(top, vmax), math.Max(vIn, vOut))
	up, down := (top-vIn)/accel, (top-vOut)/brake
	level := distance - (top+vIn)/2*up - (top+vOut)/2*down
	return up + down + math.Max(0, level)/top
}

func orAtOnce(a float64) float64 {
	if a <= 0 {
		return math.Inf(1)
	}
	return a
}

// stretch is a move as the clock sees it.
type stretch struct {
	step         Step
	length       float64
	speed        float64 // mm/s at most
	accel, brake float64
	from, to     vec     // directions of travel at its ends
	meet         float64 // the most at which it may be entered
	into         float64 // at which it is entered
}

// vec is a direction in space.
type vec struct{ x, y, z float64 }

func (a vec) dot(b vec) float64 { return a.x*b.x + a.y*b.y + a.z*b.z }

// clock adds up the time, moves in order.
type clock struct {
	m      Machine
	report *Report
	trace  func(Step)
	queue  []stretch
}

func newClock(m Machine, r *Report, trace func(Step)) clock {
	for i, b := range m.Brake {
		if b <= 0 {
			m.Brake[i] = m.Accel[i]
		}
	}
	return clock{m: m, report: r, trace: trace}
}

// add takes the next move.
func (c *clock) add(m *ngc.Move, fault bool) {
	s := c.stretch(m)
	s.step.Fault = fault
	if len(c.queue) > 0 {
		s.meet = meetSpeed(&c.queue[len(c.queue)-1], &s)
	}
	if s.meet == 0 {
		c.flush()
	}
	c.queue = append(c.queue, s)
	if len(c.queue) >= lookahead {
		c.run(lookahead / 2)
	}
}

// flush lets the machine come to a stop.
func (c *clock) flush() { c.run(len(c.queue)) }

// run times the first n moves held back, on the assumption that the last one of
// all ends at rest.
func (c *clock) run(n int) {
	q := c.queue
	out := 0.0
	for i := len(q) - 1; i > 0; i-- {
		out = math.Min(q[i].meet, reach(out, orAtOnce(q[i].brake), q[i].length))
		q[i].into = out
	}
	for i := range n {
		out = 0
		if i+1 < len(q) {
			q[i+1].into = math.Min(q[i+1].into, reach(q[i].into, orAtOnce(q[i].accel), q[i].length))
			out = q[i+1].into
		}
		c.emit(&q[i], out)
	}
	rest := copy(q, q[n:])
	c.queue = q[:rest]
}

// reach is the speed after a distance from speed v at acceleration a.
func reach(v, a, distance float64) float64 { return math.Sqrt(v*v + 2*a*distance) }

func (c *clock) emit(s *stretch, out float64) {
	m := &s.step.Move
	t := 0.0
	switch {
	case m.Kind == ngc.Dwell:
		t = m.Seconds
		c.report.Dwells += t
	case !m.Kind.Travels():
	case m.Kind == ngc.Rapid:
		t = Trapezoid(s.length, s.speed, s.accel, s.brake, 0, 0)
		c.report.Rapids += t
		c.report.RapidLength += s.length
	default:
		t = Trapezoid(s.length, s.speed, s.accel, s.brake, s.into, out)
		c.report.Length += s.length
		if s.from.z == -1 {
			c.report.Plunging += t
		} else {
			c.report.Cutting += t
		}
	}
	s.step.Seconds = t
	c.report.Seconds += t
	if c.trace != nil {
		c.trace(s.step)
	}
}

// stretch works out what the clock needs of a move.
func (c *clock) stretch(m *ngc.Move) stretch {
	s := stretch{step: Step{Move: *m}}
	length, known := m.Length()
	if !known || length <= 0 {
		return s
	}
	s.length = length
	s.from, s.to = directions(m, length)
	across, down := math.Hypot(s.from.x, s.from.y), math.Abs(s.from.z)
	s.accel = slowest(across, down, c.m.Accel)
	s.brake = slowest(across, down, c.m.Brake)
	if m.Kind == ngc.Rapid {
		// Each axis on its own: x and y have one limit each.
		widest := math.Max(math.Abs(s.from.x), math.Abs(s.from.y))
		s.accel, s.brake = slowest(widest, down, c.m.Accel), slowest(widest, down, c.m.Brake)
		s.speed = slowest(widest, down, c.rapid()) / perMinute
		return s
	}
	s.speed = m.Feed / perMinute
	if limit := slowest(across, down, c.m.Feed); limit > 0 {
		s.speed = math.Min(s.speed, limit/perMinute)
	}
	if m.Kind == ngc.Arc && c.m.Accel[0] > 0 && across > 0 {
		// On a circle of radius r at speed v the acceleration is v^2/r.
		s.speed = math.Min(s.speed, math.Sqrt(c.m.Accel[0]*m.Radius())/across)
	}
	return s
}

// rapid is the machine's rapid, or what stands in for it.
func (c *clock) rapid() [2]float64 {
	out := c.m.Rapid
	for i := range out {
		if out[i] <= 0 {
			out[i] = c.m.Feed[i]
		}
		if out[i] <= 0 {
			out[i] = anyRapid
		}
	}
	return out
}

// slowest is the limit along a direction of which the parts across and down
// have limits of their own; 0 if neither is known.
func slowest(across, down float64, limits [2]float64) float64 {
	best := math.Inf(1)
	if across > 0 && limits[0] > 0 {
		best = limits[0] / across
	}
	if down > 0 && limits[1] > 0 {
		best = math.Min(best, limits[1]/down)
	}
	if math.IsInf(best, 1) {
		return 0
	}
	return best
}

// directions are the directions of travel at a move's ends.
func directions(m *ngc.Move, length float64) (from, to vec) {
	var d vec
	if m.Named&ngc.AxisZ != 0 {
		d.z = (m.To.Z - m.From.Z) / length
	}
	if m.Kind == ngc.Arc {
		across := m.Radius() * m.Sweep / length
		turn := func(p geom.Point) vec {
			t := p.Sub(m.Center).Unit().Left().Scale(across)
			return vec{t.X, t.Y, d.z}
		}
		return turn(m.From.Point()), turn(m.To.Point())
	}
	if m.Named&ngc.AxisX != 0 {
		d.x = (m.To.X - m.From.X) / length
	}
	if m.Named&ngc.AxisY != 0 {
		d.y = (m.To.Y - m.From.Y) / length
	}
	return d, d
}

// meetSpeed is the speed at which one move may go over into the next; 0 where
// the machine must stop.
func meetSpeed(a, b *stretch) float64 {
	if !cuts(a.step.Move.Kind) || !cuts(b.step.Move.Kind) || a.length == 0 || b.length == 0 {
		return 0
	}
	if a.to.dot(b.from) < math.Cos(smooth) {
		return 0
	}
	return math.Min(a.speed, b.speed)
}

// cuts reports whether a move of a kind goes at a feed.
func cuts(k ngc.Kind) bool { return k == ngc.Line || k == ngc.Arc }
