package geom

// Where two edges meet. The method is elementary (line and circle equations,
// solved about the point where the curves come nearest, so that a tangency
// loses no digits); what matters is that meetings are told apart by what a
// maker must know: a clean crossing, a touch, or running on top of each other.

import (
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
	if !e.Bounds().Expand(tol).Meets(f.Bounds()) {
		return nil
	}
	var ms []Meeting
	switch {
	case e.Bulge == 0 && f.Bulge == 0:
		ms = lineLine(e, f, tol)
	case e.Bulge == 0:
		ms = lineArc(e, f, tol)
	case f.Bulge == 0:
		ms = lineArc(f, e, tol)
		for i := range ms {
			ms[i].E, ms[i].F = ms[i].F, ms[i].E
		}
	default:
		ms = arcArc(e, f, tol)
	}
	slices.SortStableFunc(ms, func(a, b Meeting) int {
		switch {
		case a.E < b.E:
			return -1
		case a.E > b.E:
			return 1
		}
		return 0
	})
	return ms
}

// candidate is a common point of the carrying lines or circles, before it is
// known to lie on both edges.
type candidate struct {
	at   Point
	kind Kind
}

// crossings adds to the meetings at the edges' ends those of the carrying
// curves, where they lie on both edges. An end within tol of the other edge
// is the meeting, not the crossing of the curves a little further on.
func crossings(e, f Edge, tol float64, found []candidate) []Meeting {
	ms := endMeetings(e, f, tol)
	ends := len(ms)
	for _, c := range found {
		if (e.Bulge != 0 && !e.onArcSide(c.at)) || (f.Bulge != 0 && !f.onArcSide(c.at)) {
			continue
		}
		te, tf := e.Param(c.at), f.Param(c.at)
		if te < 0 || te > 1 || tf < 0 || tf > 1 {
			continue
		}
		m := Meeting{c.at, te, tf, c.kind}
		if !slices.ContainsFunc(ms[:ends], func(n Meeting) bool { return sameMeeting(e, f, m, n, tol) }) {
			ms = append(ms, m)
		}
	}
	return ms
}

// sameMeeting reports whether m and n are one place: at most tol apart, or
// joined by a stretch along which the edges are nowhere further apart than
// that.
func sameMeeting(e, f Edge, m, n Meeting, tol float64) bool {
	return m.At.Near(n.At, tol) || coincides(e, f, m.E, n.E, tol)
}

// coincides reports whether e between the fractions t0 and t1 is within tol of f.
func coincides(e, f Edge, t0, t1, tol float64) bool {
	if f.Dist(e.Part(t0, t1).Mid()) > tol {
		return false
	}
	for _, t := range [2]float64{0.25, 0.75} {
		if f.Dist(e.At(t0+(t1-t0)*t)) > tol {
			return false
		}
	}
	return true
}

// endMeetings returns the meetings at which an end of one edge is within tol
// of the other: the common ends of stretches that coincide, and single ends
// that lie on the other edge.
func endMeetings(e, f Edge, tol float64) []Meeting {
	var ms []Meeting
	add := func(m Meeting) {
		for _, n := range ms {
			if m.At.Near(n.At, tol) {
				return
			}
		}
		ms = append(ms, m)
	}
	for i, p := range [2]Point{e.A, e.B} {
		if q, t := f.Nearest(p); p.Near(q, tol) {
			add(Meeting{At: p, E: float64(i), F: t})
		}
	}
	for i, p := range [2]Point{f.A, f.B} {
		if q, t := e.Nearest(p); p.Near(q, tol) {
			add(Meeting{At: p, E: t, F: float64(i)})
		}
	}
	for i := range ms {
		ms[i].Kind = endKind(e, f, ms, i, tol)
	}
	return ms
}

// tangentSine is the sine of the angle, 0.01 degrees, under which two
// directions count as one: the job file's limit for a smooth joint.
const tangentSine = 1.75e-4

func endKind(e, f Edge, ms []Meeting, i int, tol float64) Kind {
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

func lineLine(e, f Edge, tol float64) []Meeting {
	d, g := e.B.Sub(e.A), f.B.Sub(f.A)
	den := d.Cross(g)
	var found []candidate
	if den != 0 {
		if t := f.A.Sub(e.A).Cross(g) / den; t >= 0 && t <= 1 {
			found = append(found, candidate{e.A.Add(d.Scale(t)), Cross})
		}
	}
	return crossings(e, f, tol, found)
}

// lineArc meets the line e with the arc f.
func lineArc(e, f Edge, tol float64) []Meeting {
	return crossings(e, f, tol, lineCircle(e, f.Center(), f.Radius(), tol))
}

// lineCircle returns the common points of the whole line of e and the circle
// about c of radius r.
func lineCircle(e Edge, c Point, r, tol float64) []candidate {
	u := e.B.Sub(e.A).Unit()
	v := c.Sub(e.A)
	foot := e.A.Add(u.Scale(v.Dot(u)))
	h := math.Abs(v.Cross(u))
	switch depth := r - h; { // how far the line reaches into the circle
	case depth < -tol:
		return nil
	case depth <= tol:
		return []candidate{{foot, Touch}}
	default:
		s := u.Scale(math.Sqrt(depth * (r + h)))
		return []candidate{{foot.Sub(s), Cross}, {foot.Add(s), Cross}}
	}
}

func arcArc(e, f Edge, tol float64) []Meeting {
	return crossings(e, f, tol, circleCircle(e.Center(), e.Radius(), f.Center(), f.Radius(), tol))
}

// circleCircle returns the common points of two circles; none if they are the
// same circle within tol.
func circleCircle(c1 Point, r1 float64, c2 Point, r2, tol float64) []candidate {
	d := c1.Dist(c2)
	if d+math.Abs(r1-r2) <= tol {
		return nil
	}
	// The depth of the lens that the circles have in common outside one
	// another, or of the sickle that one leaves of the other inside it:
	// negative when they stay apart.
	depth := math.Min(r1+r2-d, d-math.Abs(r1-r2))
	if depth < -tol {
		return nil
	}
	u := c2.Sub(c1).Scale(1 / d)
	if depth <= tol {
		p := c1.Add(u.Scale(r1))
		if r2 > r1 && d-(r2-r1) <= tol {
			p = c1.Sub(u.Scale(r1)) // the smaller circle touches on the far side
		}
		return []candidate{{p, Touch}}
	}
	a := (d + (r1-r2)*(r1+r2)/d) / 2
	h := math.Sqrt(math.Max(0, (r1-a)*(r1+a)))
	foot, n := c1.Add(u.Scale(a)), u.Left().Scale(h)
	return []candidate{{foot.Add(n), Cross}, {foot.Sub(n), Cross}}
}
