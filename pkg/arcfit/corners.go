package arcfit

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
)

// A Corner is a vertex of a drawn polyline at which its direction turns by more than the tolerance
// explains.
type Corner struct {
	Index int     // of the vertex
	Angle float64 // radians, positive to the left
}

// KinkMost is the angle under which a corner is a kink: neither plainly smooth nor plainly meant.
const KinkMost = 7 * math.Pi / 180

// Kink reports whether the drawing may have meant to be smooth here.
func (c Corner) Kink() bool { return math.Abs(c.Angle) < KinkMost }

// Figures of the search for corners.
const (
	// unsure is by how many residuals, over the window's length, the direction at the end of a circle that was
	// fitted may be out, on both sides together: 12 for each on a curve whose curvature changes evenly
	// (Legendre's cubic), where both err alike and cancel, 8 for three points each out by the residual.
	unsure = 16.0
	// smallest is the radius in mm of an arc that may lie between both sides unseen: where it begins within one
	// of them, that one's direction is out by sqrt(2 residual/radius).
	smallest = 3.0
	// fewPoints is from how many points on their residuals say how much they shake; with less the tolerance does.
	fewPoints = 8
	// longChord is how many times as long as the other chord at a vertex one must be to give a direction by itself.
	longChord = 8.0
	// sights is how many points are looked at on each side.
	sights = 64
)

// Corners finds the corners of a drawn polyline, in order. A vertex between chords that
// no curve within the tolerance could follow is one; where chords are short, what lies before and what lies after must
// each be an arc within the tolerance, and their directions at the vertex differ by more than these leave open. So
// the vertices of a coarse or a shaking arc are none, as long as some curve lies within the
// tolerance of its chords.
func Corners(points []geom.Point, closed bool, tolerance float64) []Corner {
	p := polyline{tolerance: tolerance, closed: closed}
	for i, q := range points {
		if len(p.points) == 0 || !q.Near(p.points[len(p.points)-1], geom.Coincident) {
			p.points, p.index = append(p.points, q), append(p.index, i)
		}
	}
	for closed && len(p.points) > 1 && p.points[0].Near(p.points[len(p.points)-1], geom.Coincident) {
		p.points = p.points[:len(p.points)-1]
	}
	if len(p.points) < 3 {
		return nil
	}
	p.measure()
	p.angles()
	var found []sharp
	for i := range p.points {
		if !closed && (i == 0 || i == len(p.points)-1) {
			continue
		}
		if s, ok := p.sharp(i); ok {
			found = append(found, s)
		}
	}
	return p.keep(found)
}

// A polyline is one without repeated points.
type polyline struct {
	points    []geom.Point
	index     []int
	at        []float64 // length to each point, and to the end
	closed    bool
	tolerance float64
	stride    int
	plain     []bool    // vertices that are corners by their two chords alone
	turn      []float64 // from chord to chord at each vertex
}

// A sharp is a vertex that may be a corner.
type sharp struct {
	vertex int
	angle  float64
	score  float64 // by how many times the angle is more than what is left open
	reach  float64 // length of the shorter of both sides that were looked at
}

func (p *polyline) measure() {
	n := len(p.points)
	p.at = make([]float64, n+1)
	for i := range n {
		p.at[i+1] = p.at[i] + p.points[i].Dist(p.points[(i+1)%n])
	}
	// Points much closer together than the tolerance say little; some are then passed over.
	const apart = 5
	p.stride = max(1, int(apart*p.tolerance*float64(n)/p.at[n]))
}

// vertex is the index of a vertex counted on round a closed polyline.
func (p *polyline) vertex(i int) int {
	n := len(p.points)
	return (i%n + n) % n
}

// get is the point that many steps from another, and the length of the way there.
func (p *polyline) get(i, steps int) (geom.Point, bool) {
	j := i + steps
	if p.closed {
		n := len(p.points)
		if steps >= n || steps <= -n {
			return geom.Point{}, false
		}
		return p.points[(j+n)%n], true
	}
	if j < 0 || j >= len(p.points) {
		return geom.Point{}, false
	}
	return p.points[j], true
}

// angles finds the vertices that are corners by their two chords alone: a curve between the middles of the
// chords passes the vertex at length/2 tan(angle/4), and may lie a tolerance on either side.
func (p *polyline) angles() {
	p.plain, p.turn = make([]bool, len(p.points)), make([]float64, len(p.points))
	for i, at := range p.points {
		before, ok := p.get(i, -1)
		after, ok2 := p.get(i, 1)
		if !ok || !ok2 {
			continue
		}
		in, out := at.Sub(before), after.Sub(at)
		p.turn[i] = math.Atan2(in.Cross(out), in.Dot(out))
		p.plain[i] = min(in.Norm(), out.Norm())/2*math.Tan(math.Abs(p.turn[i])/4) > 2*p.tolerance
	}
}

// sharp looks at one vertex.
func (p *polyline) sharp(i int) (sharp, bool) {
	var best sharp
	if !p.plain[i] && p.quiet(i) {
		return best, false
	}
	for level := p.tolerance; level > p.tolerance/100; level /= 4 {
		left, ok := p.side(i, -1, level)
		if !ok {
			continue
		}
		right, ok := p.side(i, 1, level)
		if !ok {
			continue
		}
		turn := math.Atan2(left.way.Cross(right.way), left.way.Dot(right.way))
		reach := min(left.length, right.length)
		off := max(left.off, right.off, p.tolerance/1000)
		bends := math.Abs(left.curvature) + math.Abs(right.curvature) + 1/smallest
		open := max(unsure*off/reach, 2*math.Sqrt(2*off*bends))
		if score := math.Abs(turn) / open; score > best.score {
			best = sharp{i, turn, score, reach}
		}
	}
	if p.plain[i] {
		if best.score == 0 { // nothing but its two chords
			best.angle = p.turn[i]
		}
		return sharp{i, best.angle, math.Inf(1), 0}, true
	}
	return best, best.score > 1 && math.Abs(best.angle) > slightest
}

// quiet reports whether one arc follows the points on both sides of a vertex so well that no corner can be
// found there: one that turns by an angle is angle/8 of the length of a side away from every arc. Of
// what the points are out by, an eighth squared is taken for what each side may be out by itself.
func (p *polyline) quiet(i int) bool {
	m := moments{origin: p.points[i]}
	var look [2*fewPoints + 1]geom.Point
	for j := range look {
		q, ok := p.get(i, (j-fewPoints)*p.stride)
		if !ok || p.plain[p.vertex(i+(j-fewPoints)*p.stride)] {
			return false
		}
		look[j] = q
		m.add(q, 1)
	}
	c := m.fit(look[2*fewPoints].Sub(look[0]))
	off := 0.0
	for _, q := range look {
		off = max(off, math.Abs(c.off(q)))
	}
	side := min(p.points[i].Dist(look[0]), p.points[i].Dist(look[2*fewPoints]))
	return off <= p.tolerance && 8*off < side*max(slightest, 2*math.Sqrt(2*off/(64*smallest)))
}

// slightest is the least angle that is a corner: half a degree, which is what a smooth joint
// may turn by elsewhere in the house.
const slightest = math.Pi / 360

// A side is the direction of travel at a vertex, as an arc to one side of it says.
type side struct {
	way       geom.Point
	curvature float64
	length    float64
	off       float64 // by how much the arc's points are out
}

// side fits an arc to as many points on one side of a vertex as lie within level of it.
func (p *polyline) side(i, step int, level float64) (side, bool) {
	at := p.points[i]
	beside, _ := p.get(i, step)
	other, _ := p.get(i, -step)
	if long := at.Dist(beside); long > longChord*at.Dist(other) {
		return side{way: beside.Sub(at).Unit().Scale(float64(step)), length: long}, true
	}
	m := moments{origin: at}
	m.add(at, 1)
	var best side
	found := false
	look := make([]geom.Point, 1, sights+1)
	look[0] = at
	next := 2 // count of points at which to look
	for count := 1; count <= sights; count++ {
		q, ok := p.get(i, step*count*p.stride)
		if !ok || q.Dist(look[len(look)-1]) > longChord*at.Dist(beside)*float64(p.stride) {
			break
		}
		look = append(look, q)
		m.add(q, 1)
		last := p.plain[p.vertex(i+step*count*p.stride)]
		if count >= 2 && (last || count == next) {
			s, within := p.arc(m, look, step, level)
			if !within {
				break
			}
			best, found = s, s.length > 0
			next = count + (count+1)/2
		}
		if last {
			break
		}
	}
	return best, found
}

// arc is the side that the points looked at give, if they lie within level of an arc and are enough to say so.
func (p *polyline) arc(m moments, look []geom.Point, step int, level float64) (side, bool) {
	at, end := look[0], look[len(look)-1]
	c := m.fit(end.Sub(at).Scale(float64(step)))
	off := 0.0
	for _, q := range look {
		off = max(off, math.Abs(c.off(q)))
	}
	if off > level {
		return side{}, false
	}
	if len(look) <= fewPoints {
		if level < p.tolerance { // they say nothing yet
			return side{}, true
		}
		off = p.tolerance
	}
	heading := c.headingAt(at)
	return side{newFrame(at, heading).way, c.curvature, at.Dist(end), off}, true
}

// keep takes the clearest corners, and not their neighbours that only see the same.
func (p *polyline) keep(found []sharp) []Corner {
	order := slices.Clone(found)
	slices.SortStableFunc(order, func(a, b sharp) int { return cmp.Compare(b.score, a.score) })
	var kept []sharp
	for _, s := range order {
		if !slices.ContainsFunc(kept, func(k sharp) bool { return p.same(k, s) }) {
			kept = append(kept, s)
		}
	}
	slices.SortFunc(kept, func(a, b sharp) int { return cmp.Compare(a.vertex, b.vertex) })
	var out []Corner
	for _, s := range kept {
		out = append(out, Corner{p.index[s.vertex], s.angle})
	}
	return out
}

// same reports whether a vertex sees the corner that a clearer one is.
func (p *polyline) same(clear, s sharp) bool {
	if math.IsInf(s.score, 1) {
		return false
	}
	way := math.Abs(p.at[clear.vertex] - p.at[s.vertex])
	if p.closed {
		way = min(way, p.at[len(p.points)]-way)
	}
	return way < s.reach
}
