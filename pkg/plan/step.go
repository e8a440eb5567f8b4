package plan

// Plans whose panels are stepped along a motif that repeats.
//
// The chains are cut up into atoms, and shifted by a step atoms come to lie on atoms, but
// at the motif's ends. A panel is laid at every station, a step from the one before, so
// that of the atoms that a step takes to one another one is enough to be held: they are
// folded into one, and what lies within one step and a repeat is planned like any motif
// (fold.go). So chains are split between the stations wherever that is best, under
// crossings if there are any. What no panel reaches without one of its openings lying
// beyond the pattern is left at both ends, and is planned as motifs of their own: no
// opening ever lies over wood that is to stay. Where the motif lies on itself turned end
// for end, the panels of one end cut the other too, and those between may be turned.

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/work"
)

// A stepper plans a motif whose panels are stepped.
type stepper struct {
	g        *groove.Groove
	want     Params
	pause    func()
	step     Step
	by       geom.Point // from one station to the next
	u        geom.Point // the unit vector that way
	stations int
	loose    float64    // by how much more than a step what a panel holds may be longer, mm
	middle   geom.Point // of the motif
	full     *atoms
	known    []knownEnds
	shifted  [][]int // by station, each atom's image, or noAtom
	inner    []bool  // by atom: it is one of a row of copies, each a pitch from the last
	row      []int   // by atom, the first of its row
	lo, hi   float64 // between which, along u, every row has its copies
}

// stepPatience bounds the search for a preference, in steps of the solver: for each of the
// motif's three parts.
const stepPatience = 12_000_000

// leastStations is the least number of stations for which it is worth making a rail.
const leastStations = 2

// MostRepeats is the most repeats of a motif that its panels can be shifted by; 0 where it
// has no pitch, or too few repeats.
func MostRepeats(want Params, g *groove.Groove) int {
	want.Step = 1
	s, ok := newStepper(want, g, nil)
	if !ok {
		return 0
	}
	return s.most()
}

// most is the most repeats that leave leastStations.
func (s *stepper) most() int {
	pitch := s.step.Pitch.Norm()
	return int(math.Floor((s.hi - s.lo - pitch + samePitch) / (leastStations * pitch)))
}

// mostLoose is by how many repeats more than a step what a panel holds may be longer. One
// lets all its cuts begin where that is best in a repeat; a strand may pass under another
// in every second only.
const mostLoose = 2

// newStepper looks at a motif; not ok where it has no pitch.
func newStepper(want Params, g *groove.Groove, pause func()) (*stepper, bool) {
	pitch, ok := PitchOf(g)
	if !ok {
		return nil, false
	}
	s := &stepper{g: g, want: want, pause: pause, step: Step{pitch, want.Step}, u: pitch.Unit()}
	s.by = s.step.Shift()
	s.cutUp()
	s.rows()
	if !slices.Contains(s.inner, true) || s.hi-s.lo < pitch.Norm() {
		return nil, false
	}
	return s, true
}

// cutUp makes the motif's atoms. A line that runs along the pattern with nothing to cut
// it up is cut up by the pitch.
func (s *stepper) cutUp() {
	r := repeats{curves: newCurves(s.g.Motif), box: geom.EmptyBox()}
	for _, e := range r.edges {
		r.box = r.box.Join(e.Bounds())
	}
	s.middle = r.box.Min.Lerp(r.box.Max, 0.5)
	at := &atoms{g: s.g, pause: s.pause, positions: s.positions(r)}
	marks := at.marks()
	for i := range s.g.Motif.Strands {
		for _, ch := range s.g.Chains(i) {
			at.addLink(ch, slices.Concat(marks[i], s.even(ch, at.within(ch, marks[i]))), math.Inf(1))
		}
	}
	at.mapImages()
	s.full = at
}

// positions are those in which the motif lies on itself, turned about its middle, and still
// runs the same way or turned end for end.
func (s *stepper) positions(r repeats) []Orientation {
	all := []Orientation{{}}
	if !s.want.Turn {
		return all
	}
	axis := s.u.Angle() * 180 / math.Pi
	list := []Orientation{{TurnDeg: 180}}
	if s.want.Flip {
		list = append(list, Orientation{TurnDeg: normalDegrees(2*axis - 180), Flip: true}, Orientation{TurnDeg: normalDegrees(2 * axis), Flip: true})
	}
	for _, pos := range list {
		pos.Shift = s.middle.Sub(pos.Similarity().Apply(s.middle))
		t := pos.Similarity()
		lies := func(e geom.Edge) bool {
			return !slices.ContainsFunc(tried[:], func(f float64) bool { return !r.near(t.Apply(e.At(f)), samePitch) })
		}
		if !slices.ContainsFunc(r.edges, func(e geom.Edge) bool { return !lies(e) }) {
			all = append(all, pos)
		}
	}
	return all
}

// even are marks on what runs along the pattern for more than a repeat with none.
func (s *stepper) even(ch groove.Chain, ds []float64) []float64 {
	st, pitch, middle := s.g.Motif.Strands[ch.Strand], s.step.Pitch.Norm(), s.middle.Dot(s.u)
	ds = slices.Concat([]float64{ch.From.S}, ds, []float64{ch.To.S})
	var list []float64
	for i := 1; i < len(ds); i++ {
		p, along := st.Contour.At(ds[i-1])
		q, _ := st.Contour.At(ds[i])
		a, b := p.Dot(s.u), q.Dot(s.u)
		if math.Abs(b-a) <= pitch+samePitch || math.Abs(math.Abs(b-a)-(ds[i]-ds[i-1])) > samePitch {
			continue
		}
		way := math.Copysign(1, along.Dot(s.u))
		for k := math.Ceil((min(a, b) - middle) / pitch); middle+k*pitch < max(a, b); k++ {
			list = append(list, ds[i-1]+way*(middle+k*pitch-a))
		}
	}
	return list
}

// rows finds what comes to lie on what when it is shifted by a pitch, and where.
func (s *stepper) rows() {
	n := len(s.full.line)
	mids, index := s.full.mids()
	next := s.full.partImage(geom.Shifting(s.step.Pitch), mids, index)
	before := slices.Repeat([]int{noAtom}, n)
	for a, b := range next {
		if b != noAtom {
			before[b] = a
		}
	}
	s.inner, s.row = make([]bool, n), newUnion(n)
	s.lo, s.hi = math.Inf(-1), math.Inf(1)
	pitch, middle := s.step.Pitch.Norm(), s.middle.Dot(s.u)
	for a := range n {
		// Every row has one copy within half a pitch of the middle.
		if d := mids[a].Dot(s.u) - middle; d < -pitch/2-samePitch || d >= pitch/2+samePitch {
			continue
		}
		first, last := a, a
		for before[first] != noAtom {
			first = before[first]
		}
		for next[last] != noAtom {
			last = next[last]
		}
		for b := first; b != noAtom; b = next[b] {
			s.inner[b], s.row[b] = true, first
		}
		s.lo, s.hi = max(s.lo, mids[first].Dot(s.u)), min(s.hi, mids[last].Dot(s.u))
	}
}

// plan plans with the steps that are wanted; not ok where the pattern is too short for them,
// or nothing is found.
func (s *stepper) plan() (Plan, bool) {
	var plans []Plan
	for loose := 1.0; loose <= mostLoose; loose++ {
		plans = append(plans, s.plansWith(loose*s.step.Pitch.Norm())...)
	}
	return s.best(plans)
}

// plansWith are plans of which what a panel holds is no longer than a step and some mm.
func (s *stepper) plansWith(loose float64) []Plan {
	s.loose, s.shifted = loose, nil
	if s.stations = int(math.Floor((s.hi - s.lo - loose + samePitch) / s.by.Norm())); s.stations < leastStations {
		return nil
	}
	mids, index := s.full.mids()
	for k := range s.stations {
		s.shifted = append(s.shifted, s.full.partImage(geom.Shifting(s.by.Scale(float64(k))), mids, index))
	}
	var plans []Plan
	for _, turned := range [2]bool{true, false} {
		if turned && len(s.full.positions) == 1 {
			continue
		}
		if w, ok := s.window(turned); ok {
			plans = append(plans, s.plans(w)...)
		}
	}
	return plans
}

// plans are plans for all preferences, given what is to be held between the ends.
func (s *stepper) plans(w *piece) []Plan {
	var plans []Plan
	var seen []*solution
	for _, o := range w.search(w.fold.back == nil) {
		if o.sol == nil || slices.Contains(seen, o.sol) {
			continue
		}
		seen = append(seen, o.sol)
		plans = append(plans, s.withEnds(w, o)...)
	}
	return plans
}

// best is the plan that is wanted, with what others would take.
func (s *stepper) best(plans []Plan) (Plan, bool) {
	of := func(prefer work.Prefer) Plan {
		best := plans[0]
		for _, p := range plans[1:] {
			if better(p.count(), best.count(), prefer) {
				best = p
			}
		}
		return best
	}
	if len(plans) == 0 {
		return Plan{}, false
	}
	p := of(s.want.Prefer)
	for _, other := range aims {
		if q := of(other); other != s.want.Prefer && q.count().key(other)[0] < p.count().key(other)[0] {
			p.Price = append(p.Price, Price{other, q.Visible, len(q.SetUps), len(q.Panels)})
		}
	}
	return p, true
}
