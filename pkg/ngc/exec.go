package ngc

// One block is carried out in the order of NISTIR 6556, section 3.8, table 8,
// whatever the order of its words: feed mode, feed, speed, tool, spindle,
// coolant, overrides, dwell, plane, units, origin, distance mode, motion, stop.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// state is what holds from block to block.
type state struct {
	at          Place
	units       Units
	origin      Origin
	spindle     Spindle
	motion      int // a motion word; g80 for none
	plane       int // 17, 18 or 19
	incremental bool
	inverseTime bool
	stated      Modes
	blend       float64 // see Move
	feed        float64 // mm/min; 0 for none
	speed       float64
	n           int32
	line        int32
	millis      bool
}

// initial is how the report's interpreter starts (NISTIR 6556, as recalled:
// G17, G90, G94, G80, M5), without its units, place and origin, which depend on
// the machine.
func initial() state { return state{motion: g80, plane: 17} }

// maxMoves is how many moves one block can make: a change of the
// spindle, a dwell, a motion and a stop.
const maxMoves = 4

// moves are the moves of one block.
type moves struct {
	list [maxMoves]Move
	n    int
}

func (m *moves) add(v Move) {
	m.list[m.n] = v
	m.n++
}

// run carries b out on s and adds what it makes to out. After a fault s and out
// are of no use.
func (s *state) run(b *block, out *moves) *fault {
	if f := b.check(s.motion); f != nil {
		return f
	}
	s.n = b.n
	if b.g&^(1<<gMotion) != 0 {
		s.setFeedMode(b)
	}
	if f := s.setFeed(b); f != nil {
		return f
	}
	if s.setSpindle(b) {
		out.add(s.made(b, Turn, s.turnAt(b)))
	}
	if b.nonModal(g4) {
		out.add(s.dwell(b))
	}
	if b.g&^(1<<gMotion) != 0 {
		s.setModes(b)
		if f := s.setPath(b); f != nil {
			return f
		}
	}
	if b.g.has(uint8(gMotion)) {
		s.motion = b.gs[gMotion]
	}
	if b.has&axisWords != 0 {
		if f := s.move(b, out); f != nil {
			return f
		}
	}
	if b.m.has(uint8(mStopping)) {
		out.add(s.stop(b))
	}
	return nil
}

func (s *state) setFeedMode(b *block) {
	if !b.g.has(uint8(gFeedMode)) {
		return
	}
	s.stated |= FeedMode
	inverse := b.gs[gFeedMode] == g93
	if inverse != s.inverseTime {
		s.feed = 0 // a number of the other mode means nothing in this
	}
	s.inverseTime = inverse
}

// setFeed takes an F word in units a minute. In inverse time F belongs to its
// block alone, see pace.
func (s *state) setFeed(b *block) *fault {
	if !b.word('F') || s.inverseTime {
		return nil
	}
	if s.units == UnitsUnstated {
		return unstated(b.place('F'))
	}
	s.feed = b.value('F') * s.units.mm()
	return nil
}

func unstated(at int) *fault {
	return faultf(at, "units", "write G21 (mm) or G20 (inches) on a line before it", "a length before the units are set")
}

// setSpindle reports whether the spindle will turn otherwise than before.
func (s *state) setSpindle(b *block) (changed bool) {
	way, speed := s.spindle, s.speed
	if b.word('S') {
		s.speed = b.value('S')
	}
	if b.m.has(uint8(mSpindle)) {
		switch b.ms[mSpindle] {
		case m3:
			s.spindle = Clockwise
		case m4:
			s.spindle = CounterClockwise
		default:
			s.spindle = SpindleOff
		}
	}
	return s.spindle != way || s.spindle != SpindleOff && s.speed != speed
}

// turnAt is the byte of the word that changes the spindle.
func (s *state) turnAt(b *block) int {
	if b.m.has(uint8(mSpindle)) {
		return b.mAt[mSpindle]
	}
	return b.place('S')
}

func (s *state) setModes(b *block) {
	if b.g.has(uint8(gPlane)) {
		s.stated |= PlaneMode
		s.plane = b.gs[gPlane] / 10
	}
	if b.g.has(uint8(gUnits)) {
		s.setUnits(b.gs[gUnits])
	}
	if b.g.has(uint8(gOrigin)) {
		s.setOrigin(b.gs[gOrigin])
	}
	if b.g.has(uint8(gDistance)) {
		s.stated |= DistanceMode
		s.incremental = b.gs[gDistance] == g91
	}
}

// setUnits forgets a feed that was given in other units: machines differ in
// whether they keep the number or the speed.
func (s *state) setUnits(word int) {
	u := Millimetres
	if word == g20 {
		u = Inches
	}
	if u != s.units {
		s.feed = 0
	}
	s.units = u
}

// setOrigin forgets the place where the origin changes: it is no other place,
// but nobody here knows its new coordinates.
func (s *state) setOrigin(word int) {
	o := OriginG54 + Origin((word-g54)/10)
	if word > g59 {
		o = OriginG59 + Origin(word-g59)
	}
	if o != s.origin {
		s.at = Place{}
	}
	s.origin = o
}

// made is a move of the block b that stands still, from the word at a byte.
func (s *state) made(b *block, k Kind, at int) Move {
	return Move{
		From: s.at, To: s.at, Kind: k, Line: s.line, Col: column(b.line, at), N: b.n,
		Speed: s.speed, Spindle: s.spindle, Origin: s.origin, Units: s.units, Blend: s.blend,
	}
}

func (s *state) dwell(b *block) Move {
	m := s.made(b, Dwell, b.gAt[gNonModal])
	m.Seconds = b.value('P')
	if s.millis {
		m.Seconds /= 1000
	}
	return m
}

func (s *state) stop(b *block) Move {
	k := End
	switch b.ms[mStopping] {
	case m0:
		k = Stop
	case m1:
		k = OptionalStop
	}
	return s.made(b, k, b.mAt[mStopping])
}

// move carries out the motion in force.
func (s *state) move(b *block, out *moves) *fault {
	if s.units == UnitsUnstated {
		return unstated(b.first(axisWords))
	}
	motion, at := b.motionFor(s.motion)
	m := s.made(b, Rapid, at)
	if b.nonModal(g53) {
		if f := s.toMachine(b, &m); f != nil {
			return f
		}
	} else {
		m.To, m.Named = s.target(b)
	}
	m.Unstated = needs(motion, m.Machine) &^ s.stated
	if isArc(motion) {
		m.Kind = Arc
		if f := s.arc(b, &m, motion == g3, at); f != nil {
			return f
		}
	}
	if motion == g1 {
		m.Kind = Line
	}
	if m.Kind != Rapid {
		if f := s.pace(b, &m, at); f != nil {
			return f
		}
	}
	s.at = m.To
	out.add(m)
	return nil
}

// target is where the axis words lead. An axis that is moved by an increment
// from an unknown place stays unknown.
func (s *state) target(b *block) (to Place, named Axes) {
	to = s.at
	scale := s.units.mm()
	for i, c := range [3]byte{'X', 'Y', 'Z'} {
		if !b.word(c) {
			continue
		}
		axis := Axes(1) << i
		named |= axis
		v := b.value(c) * scale
		switch {
		case !s.incremental:
			to.set(i, v)
		case to.Has(axis):
			to.set(i, to.coord(i)+v)
		}
	}
	return to, named
}

// pace finds the feed of a cut: the modal feed, or in inverse time the path's
// length over the time of the block's own F (NISTIR 6556, 3.5.17 and 2.1.2.5).
func (s *state) pace(b *block, m *Move, at int) *fault {
	if !s.inverseTime {
		if s.feed <= 0 {
			return faultf(at, "no-feed", "write F with it, such as F1200", "a cut without a feed since the program, its units or its feed mode began")
		}
		m.Feed = s.feed
		return nil
	}
	if !b.word('F') || b.value('F') <= 0 {
		return faultf(at, "no-feed", "write F with every cut, or G94", "a cut in inverse time (G93) without its own F of more than 0")
	}
	minutes := 1 / b.value('F')
	m.Seconds = 60 * minutes
	if length, ok := m.Length(); ok {
		m.Feed = length / minutes
	}
	return nil
}

// arc finds an arc's centre and sweep and holds it against the rules of NISTIR
// 6556, 3.5.3.
func (s *state) arc(b *block, m *Move, ccw bool, at int) *fault {
	if s.plane != 17 {
		return faultf(at, "plane", "write G17", "an arc in a plane other than XY (G%d is in force)", s.plane)
	}
	if !m.From.Has(AxesXY) || !m.To.Has(AxesXY) {
		return faultf(at, "unknown-start", "write G0 with X and Y before it", "an arc from a place that isn't known")
	}
	from, to, rule := m.From.Point(), m.To.Point(), arcRule(s.units)
	if b.word('R') {
		return radiusArc(b, m, s.units.mm()*b.value('R'), rule, ccw)
	}
	offset := geom.Point{}
	if b.word('I') {
		offset.X = b.value('I') * s.units.mm()
	}
	if b.word('J') {
		offset.Y = b.value('J') * s.units.mm()
	}
	r := offset.Norm()
	if r <= samePlace {
		return faultf(b.first(centerWords), "arc-radius", "write the centre as seen from the start", "an arc with a radius of 0")
	}
	m.Center = from.Add(offset)
	if d := math.Abs(to.Dist(m.Center) - r); d > rule+ruleSlack {
		off, allowed := unit.Apart(d, rule)
		return faultf(b.first(axisWords|centerWords), "arc-rule", "work the centre out again, with more decimals",
			"an arc whose end is %s closer to the centre or further from it than its start; %s is allowed", off, allowed)
	}
	m.Sweep = sweepOf(from, to, m.Center, ccw)
	return nil
}

func radiusArc(b *block, m *Move, r, rule float64, ccw bool) *fault {
	from, to, at := m.From.Point(), m.To.Point(), b.place('R')
	switch {
	case math.Abs(r) <= samePlace:
		return faultf(at, "arc-radius", "write how large it is", "an arc with a radius of 0")
	case from.Near(to, samePlace):
		return faultf(at, "arc-radius", "write a full circle with I and J", "an arc by its radius that ends where it starts")
	}
	var ok bool
	m.Center, m.Sweep, ok = radiusCenter(from, to, r, rule, ccw)
	if !ok {
		radius, half := unit.Apart(math.Abs(r), from.Dist(to)/2)
		return faultf(at, "arc-radius", "write a radius of at least half the distance",
			"an arc whose radius of %s is less than half the distance of its ends, %s", radius, half)
	}
	return nil
}
