package drawing

import (
	"math"

	"strapwork/pkg/geom"
)

// MaxPlaces is at about how many places one segment is sampled at most, however small the
// tolerance.
const MaxPlaces = 1 << 14

// Places are parameters from 0 to 1 between which the segment's chords lie within tol of
// it; tol is in the drawing's units and above 0. A segment with more than MaxPlaces of
// them is further off.
func Places(s Segment, tol float64) []float64 {
	switch s := s.(type) {
	case Line:
		return []float64{0, 1}
	case Ellipse:
		return even(s.chords(tol))
	case NURBS:
		return split(s, s.breaks(), s.Degree, tol)
	case Bezier:
		return split(s, []float64{0, 1}, len(s.Points)-1, tol)
	}
	return split(s, []float64{0, 1}, 3, tol)
}

// Sample is the points at a segment's Places: from its start to its end, with chords
// within tol of it.
func Sample(s Segment, tol float64) []geom.Point {
	at := Places(s, tol)
	points := make([]geom.Point, len(at))
	for i, t := range at {
		points[i] = s.At(t)
	}
	return points
}

// chords is how many chords keep within tol of the arc: a chord over the angle h leaves it
// by at most h²/8 times the largest second derivative, which is the longer half axis.
func (e Ellipse) chords(tol float64) int {
	// The larger singular value of the matrix (Major, Minor).
	sum := e.Major.Dot(e.Major) + e.Minor.Dot(e.Minor)
	det := e.Major.Cross(e.Minor)
	long := math.Sqrt((sum + math.Sqrt(max(0, sum*sum-4*det*det))) / 2)
	n := math.Ceil(math.Abs(e.Sweep) * math.Sqrt(long/(8*tol)))
	return int(max(1, min(n, MaxPlaces))) // of NaN and infinities too
}

// even is n+1 places at even distances.
func even(n int) []float64 {
	at := make([]float64, n+1)
	for i := range at {
		at[i] = float64(i) / float64(n)
	}
	return at
}

// breaks are the places of the knots within the curve: between them it is smooth.
func (n NURBS) breaks() []float64 {
	from, to := n.domain()
	at := []float64{0}
	for _, k := range n.Knots[n.Degree:len(n.Points)] {
		if t := (k - from) / (to - from); t > at[len(at)-1] && t < 1 {
			at = append(at, t)
		}
	}
	return append(at, 1)
}

// deepest is how often a stretch is halved at most: that is far finer than any drawing,
// and is met where the curve jumps.
const deepest = 14

// split halves the stretches between the given places until the chords lie within tol;
// first each is cut into as many parts as the curve's degree, since a wavy stretch may
// look straight at a few places.
func split(s Segment, between []float64, degree int, tol float64) []float64 {
	h := halver{s: s, tol: tol, at: []float64{0}}
	for i := 1; i < len(between); i++ {
		for j := range degree {
			from := between[i-1] + (between[i]-between[i-1])*float64(j)/float64(degree)
			to := between[i-1] + (between[i]-between[i-1])*float64(j+1)/float64(degree)
			if j == degree-1 {
				to = between[i]
			}
			h.halve(from, to, s.At(from), s.At(to), deepest)
		}
	}
	return h.at
}

// A halver gathers places of a segment.
type halver struct {
	s   Segment
	tol float64
	at  []float64
}

// halve adds the places after from, up to to; a and b are the points there.
func (h *halver) halve(from, to float64, a, b geom.Point, deep int) {
	mid := from + (to-from)/2
	m := h.s.At(mid)
	if deep > 0 && len(h.at) < MaxPlaces && !h.straight(from, to, a, m, b) {
		h.halve(from, mid, a, m, deep-1)
		h.halve(mid, to, m, b, deep-1)
		return
	}
	h.at = append(h.at, to)
}

// straight reports whether the middle and the two quarters lie within the tolerance of
// the chord.
func (h *halver) straight(from, to float64, a, m, b geom.Point) bool {
	chord := geom.Line(a, b)
	return chord.Dist(m) <= h.tol &&
		chord.Dist(h.s.At(from+(to-from)/4)) <= h.tol && chord.Dist(h.s.At(from+(to-from)*3/4)) <= h.tol
}
