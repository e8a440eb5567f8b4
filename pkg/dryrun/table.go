package dryrun

import (
	"math"

	"strapwork/pkg/geom"
)

// quantum is the grid in mm by which equal paths are known: finer than any
// program's decimals, coarser than the rounding of increments.
const quantum = 1e-5

// stroke is a path that was cut, kept once however often it is cut: level ones
// at their deepest.
type stroke struct {
	leg
	line  int32
	gouge bool
}

// table holds every distinct stroke, in the order of their first cuts.
type table struct {
	strokes []stroke
	byKey   map[uint64]int32
}

// find returns the stroke of a leg, which it adds if it is new.
func (t *table) find(l leg, line int32) (s *stroke, n int, isNew bool) {
	if t.byKey == nil {
		t.byKey = map[uint64]int32{}
	}
	key := keyOf(l)
	i, ok := t.byKey[key]
	if ok && t.strokes[i].same(l) {
		s = &t.strokes[i]
		if s.z0 == s.z1 && l.z0 < s.z0 {
			s.z0, s.z1 = l.z0, l.z0
		}
		return s, int(i), false
	}
	t.strokes = append(t.strokes, stroke{leg: l, line: line})
	i = int32(len(t.strokes) - 1)
	if !ok {
		t.byKey[key] = i
	}
	return &t.strokes[i], int(i), true
}

// same reports whether a leg runs along s, in either direction.
func (s *stroke) same(l leg) bool {
	const near = 2 * quantum
	a, b := s.leg, l
	if !a.A.Near(b.A, near) || !a.B.Near(b.B, near) {
		b = leg{b.Reverse(), b.z1, b.z0}
	}
	if !a.A.Near(b.A, near) || !a.B.Near(b.B, near) || math.Abs(a.Bulge-b.Bulge)*a.Chord() > 2*near {
		return false
	}
	level := a.z0 == a.z1
	return level == (b.z0 == b.z1) && (level || math.Abs(a.z0-b.z0) <= near && math.Abs(a.z1-b.z1) <= near)
}

// keyOf is a number that equal legs share, whichever way they run. The height
// counts only for a leg that changes it.
func keyOf(l leg) uint64 {
	if l.B.X < l.A.X || l.B.X == l.A.X && l.B.Y < l.A.Y {
		l = leg{l.Reverse(), l.z1, l.z0}
	}
	h := mix(0, l.A.X)
	h = mix(h, l.A.Y)
	h = mix(h, l.B.X)
	h = mix(h, l.B.Y)
	if l.Bulge != 0 {
		h = mix(h, l.Bulge*l.Chord())
	}
	if l.z0 != l.z1 {
		h = mix(h, l.z0)
		h = mix(h, l.z1)
	}
	return h
}

// mix stirs a length into a number; the multiplier is the golden ratio's, as in
// Knuth, The Art of Computer Programming 3, 6.4.
func mix(h uint64, mm float64) uint64 {
	h ^= uint64(int64(math.Round(mm / quantum)))
	h *= 0x9e3779b97f4a7c15
	return h ^ h>>29
}

// edgesOf lists the plan of strokes.
func edgesOf(legs []leg) []geom.Edge {
	out := make([]geom.Edge, len(legs))
	for i, l := range legs {
		out[i] = l.Edge
	}
	return out
}
