package dryrun

// What every single move is held against: how deep, how fast, with the spindle
// on, from where.

import (
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
)

// origins are the names of the coordinate systems.
var origins = func() (names [ngc.OriginG593 + 1]string) {
	for i := range names {
		names[i] = ngc.Origin(i).String()
	}
	return names
}()

// reported is where to report a move: its end, as far as it is known.
func reported(m *ngc.Move, h hit) hit {
	h.at, h.hasAt = m.To.Point(), m.To.Has(ngc.AxesXY)
	return h
}

// cuts holds a move against the simple rules and reports whether it is at fault.
func (j *judge) cuts(m *ngc.Move) bool {
	if !m.Kind.Travels() {
		return false
	}
	fault := j.known(m)
	fault = j.modes(m) || fault
	fault = j.blind(m) || fault
	if m.To.Has(ngc.AxisZ) {
		fault = j.heights(m) || fault
	}
	if cuts(m.Kind) {
		fault = j.feeds(m) || fault
		j.waits(m)
	}
	return fault
}

// known looks for what a program must say first.
func (j *judge) known(m *ngc.Move) bool {
	lost := m.Origin <= ngc.OriginG54 && j.loses(m)
	if m.Kind == ngc.Rapid && across(m) && !m.To.Has(ngc.AxisZ) && !j.heightReported {
		j.heightReported = true // once; a reader's fault later on loses the height too
		j.tally.hit(m, reported(m, hit{rule: unknownHeight}))
	}
	j.heightReported = j.heightReported || m.To.Has(ngc.AxisZ)
	j.liftsBlind(m)
	switch m.Origin {
	case ngc.OriginG54:
	case ngc.OriginUnknown:
		if !j.originReported {
			j.originReported = true
			j.tally.hit(m, hit{rule: unstatedOrigin})
		}
	default:
		j.tally.hit(m, hit{rule: wrongOrigin, which: int(m.Origin)})
		return true
	}
	return lost
}

// modes looks for moves that depend on how the machine was left, and for corners
// that are rounded.
func (j *judge) modes(m *ngc.Move) bool {
	fault := false
	for which, mode := range [2]ngc.Modes{ngc.DistanceMode, ngc.PlaneMode} {
		if m.Unstated.Has(mode) && !j.asked.Has(mode) {
			j.asked |= mode
			j.tally.hit(m, hit{rule: unstatedMode, which: which})
			fault = true
		}
	}
	if !cuts(m.Kind) || !inWood(m) {
		return fault
	}
	if m.Unstated.Has(ngc.PathMode) && !j.asked.Has(ngc.PathMode) && !j.w.Machine.NoPath {
		j.asked |= ngc.PathMode
		j.tally.hit(m, hit{rule: noPathMode})
	}
	if m.Blend > mostBlend*(1+roundSlack) {
		j.tally.hit(m, hit{rule: roundsCorners, amount: m.Blend})
		return true
	}
	return fault
}

// loses reports whether the place was known and isn't any more, because the origin
// was changed: the bit is still where it was, perhaps in the wood, and nothing
// can be said of its next moves. An origin that is reported for the first time, with
// the bit above the wood, is only late.
func (j *judge) loses(m *ngc.Move) bool {
	if j.place.Known&^m.From.Known == 0 {
		return false
	}
	if j.origin == ngc.OriginUnknown && !j.inWood() {
		j.heightReported = false
		return false
	}
	j.tally.hit(m, hit{rule: lostPlace})
	return true
}

// inWood reports whether the last move ended in the wood.
func (j *judge) inWood() bool { return j.place.Has(ngc.AxisZ) && j.place.Z < -surface }

// blind looks for moves whose height is not known and must be: a cut across, at
// its start or its end, and steps up or down from nobody knows where.
func (j *judge) blind(m *ngc.Move) bool {
	step := m.Named&ngc.AxisZ != 0 && !m.To.Has(ngc.AxisZ) && !m.Machine
	cut := cuts(m.Kind) && across(m) && !(m.From.Has(ngc.AxisZ) && m.To.Has(ngc.AxisZ))
	if !step && !cut || m.Origin > ngc.OriginG54 {
		return false
	}
	j.tally.hit(m, reported(m, hit{rule: unknownDepth}))
	return true
}

// start is a start of the spindle that no cut has followed yet.
type start struct {
	pending bool
	move    ngc.Move
	waited  float64 // seconds since
}

// stands holds a move that goes nowhere against the rules, with the bit where the
// last one left it.
func (j *judge) stands(m *ngc.Move) bool {
	h := hit{at: j.place.Point(), hasAt: j.place.Has(ngc.AxesXY), amount: -j.place.Z}
	switch m.Kind {
	case ngc.Rapid, ngc.Line, ngc.Arc:
		return false
	case ngc.Turn:
		starts := m.Spindle != ngc.SpindleOff && m.Spindle != j.spin
		if starts || m.Spindle == ngc.SpindleOff {
			j.start = start{pending: starts, move: *m}
		}
		if !starts {
			return false
		}
		h.rule = spindleStart
	case ngc.Dwell:
		j.start.waited += m.Seconds
		if m.Seconds > longWait {
			j.tally.hit(m, hit{rule: longDwell, amount: m.Seconds})
		}
		return false
	case ngc.Stop:
		j.start.pending = false // whoever starts it again has looked
		h.rule = pauseLow
	case ngc.OptionalStop:
		h.rule = pauseLow
	case ngc.End:
		j.ended = true
		h.rule = endsLow
	}
	if lost := !m.From.Has(ngc.AxisZ) && m.Origin == j.origin; lost || !j.inWood() {
		return false // lost behind a line that can't be read, which may have lifted the bit
	}
	j.tally.hit(m, h)
	return h.rule.severity() == diag.Error
}

// waits looks, at the first cut after a start of the spindle, how long that was
// given to come to speed.
func (j *judge) waits(m *ngc.Move) {
	if !j.start.pending || !inWood(m) {
		return
	}
	j.start.pending = false
	switch waited, needs := j.start.waited, j.w.Machine.SpinUp; {
	case waited <= 0:
		j.tally.hit(&j.start.move, hit{rule: noDwell})
	case waited < needs*(1-paceOver):
		j.tally.hit(&j.start.move, hit{rule: noDwell, which: 1, amount: waited, value: needs})
	}
}

// inWood reports whether a move is in the wood at one of its ends.
func inWood(m *ngc.Move) bool {
	return m.To.Has(ngc.AxisZ) && m.To.Z < -surface || m.From.Has(ngc.AxisZ) && m.From.Z < -surface
}

// heights are the rules about how low a move goes.
func (j *judge) heights(m *ngc.Move) bool {
	low := m.To.Z
	if m.From.Has(ngc.AxisZ) {
		low = math.Min(low, m.From.Z)
	}
	if m.Kind == ngc.Rapid {
		return j.rapid(m, low)
	}
	if low >= -surface {
		return false
	}
	fault := j.spindle(m)
	if across(m) && !m.From.Has(ngc.AxesXY) || !m.To.Has(ngc.AxesXY) {
		j.tally.hit(m, hit{rule: unknownPlace, amount: -low})
		fault = true
	}
	return j.deep(m, low) || fault
}

// rapid are the rules for rapids. What goes along the very top of the work drags
// over it, and what stops on it may go into it.
func (j *judge) rapid(m *ngc.Move, low float64) bool {
	if low > surface {
		if s := j.w.Safe; s > 0 && across(m) && low < s-deepOver {
			j.tally.hit(m, reported(m, hit{rule: lowTravel, amount: s - low}))
		}
		return false
	}
	if straightUp(m) || m.Named == ngc.AxisZ && m.From.Has(ngc.AxisZ) && m.To.Z >= m.From.Z {
		return false
	}
	h := reported(m, hit{rule: rapidInStock, amount: -low})
	if !across(m) {
		h.rule = rapidDown
		if low >= -surface {
			h.rule = rapidToTop
		}
	}
	j.tally.hit(m, h)
	if low < -surface {
		j.deep(m, low)
	}
	return h.rule.severity() == diag.Error
}

// deep are the rules about depth.
func (j *judge) deep(m *ngc.Move, low float64) bool {
	fault := false
	report := func(r rule, amount, value float64) {
		h := hit{rule: r, amount: amount, value: value, at: m.To.Point(), hasAt: m.To.Has(ngc.AxesXY)}
		if m.From.Has(ngc.AxesXYZ) && m.From.Z < m.To.Z {
			h.at, h.hasAt = m.From.Point(), true
		}
		j.tally.hit(m, h)
		fault = true
	}
	w := &j.w
	if over := -low - w.Depth; over > deepOver {
		report(tooDeep, over, 0)
	}
	if w.Thickness > 0 && -low > w.Thickness+surface {
		report(throughBoard, -low-w.Thickness, -low)
	}
	if w.Bit.Flute > 0 && -low > w.Bit.Flute+written && (w.Bit.ShankDiameter <= 0 || w.Bit.ShankDiameter > w.Bit.Slot) {
		report(beyondReach, -low, 0)
	}
	return fault
}

// spindle are the rules about the spindle while it cuts.
func (j *judge) spindle(m *ngc.Move) bool {
	switch m.Spindle {
	case ngc.SpindleOff:
		j.tally.hit(m, reported(m, hit{rule: spindleOff}))
		return true
	case ngc.CounterClockwise:
		j.tally.hit(m, reported(m, hit{rule: spindleWay}))
		return true
	case ngc.Clockwise:
	}
	limits := j.w.Machine.Spindle
	slow := m.Speed <= 0 || limits[0] > 0 && m.Speed < limits[0]*(1-paceOver)
	fast := limits[1] > 0 && m.Speed > limits[1]*(1+paceOver)
	if !slow && !fast {
		if m.Speed < j.w.Speed*slowPart*(1-paceOver) {
			j.tally.hit(m, reported(m, hit{rule: spindleSlow, amount: j.w.Speed - m.Speed, value: m.Speed}))
		}
		return false
	}
	h := hit{rule: spindleSpeed, amount: m.Speed, value: m.Speed}
	if fast {
		h.which = 1
	}
	j.tally.hit(m, reported(m, h))
	return true
}

// feeds are the rules about how fast a feed move goes.
func (j *judge) feeds(m *ngc.Move) bool {
	wood := inWood(m)
	if m.Feed <= 0 {
		if wood {
			j.tally.hit(m, reported(m, hit{rule: noFeed}))
		}
		return wood
	}
	plan, rise := shares(m)
	h := reported(m, hit{write: math.Inf(1)})
	// over counts a move whose feed along one way is more than a limit.
	over := func(r rule, which int, share, limit float64) bool {
		v := m.Feed * share
		if limit <= 0 || v <= limit*(1+paceOver) {
			return false
		}
		h.rule, h.which, h.amount, h.value, h.write = r, which, v, limit, j.mostFeed(m, plan, rise, wood)
		if m.Seconds > 0 {
			h.write, h.inverse = h.write/(m.Feed*m.Seconds/perMinute), true // of its length
		}
		j.tally.hit(m, h)
		return true
	}
	limits := j.w.Machine.Feed
	fast := over(feedFast, 0, plan, limits[0])
	down := m.To.Z < -surface && over(plungeFast, 0, -rise, j.plunge())
	fault := down || over(feedFast, 1, math.Abs(rise), limits[1]) || fast
	if wood && !fast {
		job, chip := j.w.Feed, j.chipFeed(m)
		if chip > 0 && (chip < job || job <= 0) {
			over(feedHigh, 1, plan, chip)
		} else {
			over(feedHigh, 0, plan, job)
		}
	}
	return fault
}

// chipFeed is the greatest feed that the bit's table has for a move, or the job for
// as many turns, where that is more; 0 if it isn't known. A speed that is a finding
// of its own is taken as repaired: a feed for one turn a minute is of no use.
func (j *judge) chipFeed(m *ngc.Move) float64 {
	speed, chip := m.Speed, j.w.Bit.Chip
	if speed < j.w.Speed*slowPart*(1-paceOver) {
		speed = j.w.Speed
	}
	if chip > 0 && j.w.Speed > 0 {
		chip = math.Max(chip, j.w.Feed/j.w.Speed)
	}
	return chip * math.Max(speed, j.w.Machine.Spindle[0])
}

// plunge is the greatest feed straight down; 0 if it isn't known.
func (j *judge) plunge() float64 {
	if p := j.w.Machine.Plunge; p > 0 {
		return p
	}
	return j.w.Machine.Feed[1]
}

// mostFeed is the greatest feed along a move that keeps to all that is known of
// machine, job and bit.
func (j *judge) mostFeed(m *ngc.Move, plan, rise float64, wood bool) float64 {
	most := math.Inf(1)
	keep := func(limit, share float64) {
		if limit > 0 && share > 0 {
			most = math.Min(most, limit/share)
		}
	}
	keep(j.w.Machine.Feed[0], plan)
	keep(j.w.Machine.Feed[1], math.Abs(rise))
	if wood {
		keep(j.plunge(), -rise)
		keep(j.w.Feed, plan)
		keep(j.chipFeed(m), plan)
	}
	return most
}

// shares are the parts of a move's length across and upwards. A move whose
// length isn't known goes straight along the axes that it names.
func shares(m *ngc.Move) (plan, rise float64) {
	length, known := m.Length()
	if !known || length <= 0 {
		if m.Named&ngc.AxisZ != 0 && !across(m) {
			return 0, -1 // from an unknown height: the worst case is down
		}
		return 1, 0
	}
	if m.Named&ngc.AxisZ == 0 {
		return 1, 0
	}
	rise = (m.To.Z - m.From.Z) / length
	return math.Sqrt(math.Max(0, 1-rise*rise)), rise
}

// extents takes the move into the program's extents.
func (j *judge) extents(m *ngc.Move) {
	if !m.Kind.Travels() {
		return
	}
	r := &j.report
	if m.To.Has(ngc.AxisZ) {
		if !j.anyHeight {
			r.Lowest, r.Highest, j.anyHeight = m.To.Z, m.To.Z, true
		}
		r.Lowest, r.Highest = math.Min(r.Lowest, m.To.Z), math.Max(r.Highest, m.To.Z)
	}
	if !m.To.Has(ngc.AxesXY) {
		return
	}
	r.Extents = r.Extents.Join(planBox(m))
}

// planBox is the box of a move seen from above; of its end alone, where its
// start isn't known.
func planBox(m *ngc.Move) geom.Box {
	to := m.To.Point()
	box := geom.Box{Min: to, Max: to}
	if !m.From.Has(ngc.AxesXY) {
		return box
	}
	box = box.Include(m.From.Point())
	if m.Kind == ngc.Arc {
		for _, e := range m.Edges() {
			box = box.Join(e.Bounds())
		}
	}
	return box
}
