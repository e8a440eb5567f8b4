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
	blend float32 // mm: the most by which the machine may leave it
	gouge int32   // its number among the gouges, from 1; 0 if it is none
}

// chunk is how many strokes the table takes room for at a time: 256 kB, so that
// it never has to be copied to grow.
const chunk = 1 << 12

// table holds every distinct stroke, in the order of their first cuts.
type table struct {
	chunks [][]stroke
	n      int
	keys   keys
}

// at is the i-th stroke.
func (t *table) at(i int) *stroke { return &t.chunks[i/chunk][i%chunk] }

// find returns the number of a leg's stroke, and how deep that was cut before; 0 if
// it had to be added.
func (t *table) find(l leg) (number int, before float64) {
	key := keyOf(l)
	t.keys.room()
	slot := t.keys.first(key)
	for ; t.keys.number[slot] != 0; slot = t.keys.next(slot) {
		i := int(t.keys.number[slot] - 1)
		if t.keys.key[slot] != key {
			continue
		}
		if s := t.at(i); s.same(l) {
			before = -s.lowest()
			if s.z0 == s.z1 && l.z0 < s.z0 {
				s.z0, s.z1 = l.z0, l.z0
			}
			return i, before
		}
	}
	if t.n%chunk == 0 {
		t.chunks = append(t.chunks, make([]stroke, 0, chunk))
	}
	last := &t.chunks[len(t.chunks)-1]
	*last = append(*last, stroke{leg: l})
	t.n++
	t.keys.put(slot, key, int32(t.n))
	return t.n - 1, 0
}

// keys finds strokes by their key: an open table in which a key that finds its
// slot taken goes to the next (linear probing; Knuth, The Art of Computer
// Programming 3, 6.4). Go's own map takes twice the time here (measured).
type keys struct {
	key    []uint64
	number []int32 // of the stroke, from 1; 0 is an empty slot
	used   int
}

// room keeps at least half of the slots empty.
func (k *keys) room() {
	if 2*k.used < len(k.key) {
		return
	}
	old := *k
	size := max(1024, 2*len(old.key))
	*k = keys{key: make([]uint64, size), number: make([]int32, size)}
	for i, n := range old.number {
		if n == 0 {
			continue
		}
		slot := k.first(old.key[i])
		for k.number[slot] != 0 {
			slot = k.next(slot)
		}
		k.put(slot, old.key[i], n)
	}
}

func (k *keys) put(slot int, key uint64, n int32) {
	k.key[slot], k.number[slot] = key, n
	k.used++
}

func (k *keys) first(key uint64) int { return int(key & uint64(len(k.key)-1)) }

func (k *keys) next(slot int) int { return (slot + 1) & (len(k.key) - 1) }

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
	return h ^ h>>32
}

// blendAt is the most by which the machine may leave a path that is cut at a depth
// or deeper.
func (t *table) blendAt(depth float64) float64 {
	most := float32(0)
	for i := range t.n {
		if s := t.at(i); s.blend > most && s.lowest() < -depth {
			most = s.blend
		}
	}
	return float64(most)
}

// edgesAt lists, fused, the paths that are cut at a depth or deeper and whose
// boxes meet a box.
func (t *table) edgesAt(depth float64, within geom.Box) []geom.Edge {
	var f fuser
	for i := range t.n {
		if l, ok := t.at(i).below(-depth); ok && l.Bounds().Meets(within) {
			f.add(l.Edge)
		}
	}
	f.flush()
	return f.out
}
