package geom

// Where two edges meet. The method is elementary (line and circle equations,
// solved about the point where the curves come nearest, so that a tangency
// loses no digits); what matters is that meetings are distinguished by what a
// maker must know: a clean crossing, a touch, or running on top of each other.

import (
	"cmp"
	"math"
	"slices"
)

// Kind says how two edges meet at a point.
type Kind int

const (
	// Cross is a clean crossing: the curves pass through one another.
	Cross Kind = iota
	// Touch is a tangency: the curves meet with one direction, multiplicity
	// two, and each stays on its side (or changes it between two circles only
	// where they coincide).
	Touch
	// Overlap is an end of a common stretch, along which the edges coincide.
	Overlap
)

func (k Kind) String() string {
	switch k {
	case Cross:
		return "cross"
	case Touch:
		return "touch"
	case Overlap:
		return "overlap"
	}
	return "unknown"
}

// A Meeting is one common point of two edges e and f.
type Meeting struct {
	At   Point
	E, F float64 // the fraction of each edge's length, within [0, 1]
	Kind Kind
}

// Multiplicity is 1 for a crossing, 2 for a tangency, and 0 for an end of an
// overlap, where the curves have infinitely many points in common.
func (m Meeting) Multiplicity() int {
	switch m.Kind {
	case Cross:
		return 1
	case Touch:
		return 2
	case Overlap:
		return 0
	}
	return 0
}

// Crossings returns the points that e and f have in common, to within tol, in
// order along e. Curves that run on top of each other within tol yield the two
// ends of each common stretch, as Overlap. Two curves that come within tol of
// one another without crossing (side by side near one point) touch. Ends count:
// an end of one edge on the other is a meeting.
func Crossings(e, f Edge, tol float64) []Meeting {
	p, q := Prepare(e), Prepare(f)
	ms := p.meetings(&q, tol)
	slices.SortStableFunc(ms, func(a, b Meeting) int { return cmp.Compare(a.E, b.E) })
	return ms
}

// candidate is a common point of the carrying lines or circles, before it is
// known to lie on both edges.
type candidate struct {
	at   Point
	kind Kind
}

// Places appends to ms the meetings of e and f in no particular order, for
// those who cut edges up: unlike Crossings it does not look what lies between
// meetings, so all those at an end of one of the edges are of the kind Cross,
// and where edges run on top of each other within tol it may also report where
// they cross there.
func (e *Prepared) Places(f *Prepared, tol float64, ms []Meeting) []Meeting {
	if !e.Box.Expand(tol).Meets(f.Box) {
		return ms
	}
	ms, _ = e.places(f, tol, ms)
	return ms
}

// places is Places, without a look at the boxes. It also returns how many
// meetings there are at ends; they come first.
func (e *Prepared) places(f *Prepared, tol float64, ms []Meeting) (all []Meeting, ends int) {
	first := len(ms)
	ms = endMeetings(e, f, tol, ms)
	atEnds := ms[first:]
	found, n := e.candidates(f, tol)
	for _, c := range found[:n] {
		if (e.Bulge != 0 && !e.onArcSide(c.at)) || (f.Bulge != 0 && !f.onArcSide(c.at)) {
			continue
		}
		te, tf := e.Param(c.at), f.Param(c.at)
		if te < 0 || te > 1 || tf < 0 || tf > 1 {
			continue
		}
		// An end within tol of the other edge is the meeting, not the crossing
		// of the curves a little further on.
		if !slices.ContainsFunc(atEnds, func(n Meeting) bool { return c.at.Near(n.At, tol) }) {
			ms = append(ms, Meeting{c.at, te, tf, c.kind})
		}
	}
	return ms, len(atEnds)
}

// meetings is Crossings, in no particular order.
func (e *Prepared) meetings(f *Prepared, tol float64) []Meeting {
	if !e.Box.Expand(tol).Meets(f.Box) {
		return nil
	}
	ms, n := e.places(f, tol, nil)
	ends := ms[:n]
	for i := range ends {
		ends[i].Kind = endKind(e, f, ends, i, tol)
	}
	// A crossing within tol of an end, or joined to it by a stretch along which
	// the edges are nowhere further apart than that, is that end's meeting.
	kept := ends
	for _, m := range ms[n:] {
		if !slices.ContainsFunc(ends, func(n Meeting) bool { return coincides(e, f, m.E, n.E, tol) }) {
			kept = append(kept, m)
		}
	}
	return kept
}

// candidates returns the common points of the lines or circles of e and f,
// and their number.
func (e *Prepared) candidates(f *Prepared, tol float64) (found [2]candidate, n int) {
	switch {
	case e.Bulge == 0 && f.Bulge == 0:
		d, g := e.B.Sub(e.A), f.B.Sub(f.A)
		if den := d.Cross(g); den != 0 {
			if t := f.A.Sub(e.A).Cross(g) / den; t >= 0 && t <= 1 {
				found[0], n = candidate{e.A.Add(d.Scale(t)), Cross}, 1
			}
		}
	case e.Bulge == 0:
		return lineCircle(e.Edge, f.center, f.radius, tol)
	case f.Bulge == 0:
		return lineCircle(f.Edge, e.center, e.radius, tol)
	default:
		return circleCircle(e.center, e.radius, f.center, f.radius, tol)
	}
	return found, n
}

// coincides reports whether e between the fractions t0 and t1 is within tol of f.
func coincides(e, f *Prepared, t0, t1, tol float64) bool {
	for _, t := range [3]float64{0.5, 0.25, 0.75} {
		if f.Dist(e.At(t0+(t1-t0)*t)) > tol {
			return false
		}
	}
	return true
}

// endMeetings appends to ms the meetings at which an end of one edge is within
// tol of the other: the common ends of stretches that coincide, and single
// ends that lie on the other edge.
func endMeetings(e, f *Prepared, tol float64, ms []Meeting) []Meeting {
	first := len(ms)
	add := func(m Meeting) {
		for _, n := range ms[first:] {
			if m.At.Near(n.At, tol) {
				return
			}
		}
		ms = append(ms, m)
	}
	if t, ok := f.Passes(e.A, tol); ok {
		add(Meeting{At: e.A, E: 0, F: t})
	}
	if t, ok := f.Passes(e.B, tol); ok {
		add(Meeting{At: e.B, E: 1, F: t})
	}
	if t, ok := e.Passes(f.A, tol); ok {
		add(Meeting{At: f.A, E: t, F: 0})
	}
	if t, ok := e.Passes(f.B, tol); ok {
		add(Meeting{At: f.B, E: t, F: 1})
	}
	return ms
}

// tangentSine is the sine of the angle, 0.01 degrees, under which two
// directions count as one at a common end: it is far above what ends rounded to
// Coincident turn an edge of a millimetre by.
const tangentSine = 1.75e-4

func endKind(e, f *Prepared, ms []Meeting, i int, tol float64) Kind {
	for j := range ms {
		if j != i && coincides(e, f, ms[i].E, ms[j].E, tol) {
			return Overlap
		}
	}
	if math.Abs(e.Tangent(ms[i].E).Cross(f.Tangent(ms[i].F))) < tangentSine {
		return Touch
	}
	return Cross
}

// lineCircle returns the common points of the whole line of e and the circle
// about c of radius r, and their number.
func lineCircle(e Edge, c Point, r, tol float64) (found [2]candidate, n int) {
	u := e.B.Sub(e.A).Unit()
	v := c.Sub(e.A)
	foot := e.A.Add(u.Scale(v.Dot(u)))
	h := math.Abs(v.Cross(u))
	switch depth := r - h; { // how far the line reaches into the circle
	case depth < -tol:
		return found, 0
	case depth <= tol:
		found[0] = candidate{foot, Touch}
		return found, 1
	default:
		s := u.Scale(math.Sqrt(depth * (r + h)))
		return [2]candidate{{foot.Sub(s), Cross}, {foot.Add(s), Cross}}, 2
	}
}

// circleCircle returns the common points of two circles and their number; none
// if they are the same circle within tol.
func circleCircle(c1 Point, r1 float64, c2 Point, r2, tol float64) (found [2]candidate, n int) {
	if r1 > r2 {
		// From the smaller circle's centre: where nearly straight arcs have
		// theirs far away, that is where the digits are.
		c1, r1, c2, r2 = c2, r2, c1, r1
	}
	d := c1.Dist(c2)
	if d+r2-r1 <= tol {
		return found, 0
	}
	// The depth of the lens that the circles have in common outside one
	// another, or of the sickle that one leaves of the other inside it:
	// negative when they stay apart.
	depth := min(r1+r2-d, d-(r2-r1))
	if depth < -tol {
		return found, 0
	}
	u := c2.Sub(c1).Scale(1 / d)
	if depth <= tol {
		if d < r2 { // inside, the circles touch on the far side
			u = u.Scale(-1)
		}
		found[0] = candidate{c1.Add(u.Scale(r1)), Touch}
		return found, 1
	}
	a := ((d-r2)*(d+r2)/d + r1*r1/d) / 2
	h := math.Sqrt(max(0, (r1-a)*(r1+a)))
	foot, side := c1.Add(u.Scale(a)), u.Left().Scale(h)
	return [2]candidate{{foot.Add(side), Cross}, {foot.Sub(side), Cross}}, 2
}
