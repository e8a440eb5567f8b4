package received

import (
	"math"
	"slices"
)

// Tapes are the thicknesses in mm of tapes that lie about in workshops (common
// practice: packing tape, masking tape, electrical tape), thickest first. A
// maker measures ten layers of his own and divides.
func Tapes() []float64 { return []float64{0.13, 0.10, 0.06} }

// fine is what a shop must hold in mm for finer steps than a tenth to show anything: where
// it holds no better, a track is out by more than they are.
const fine = 0.05

// Step is the tape in mm by which a trial with one track goes from groove to groove, where
// the shop that cut it holds so much: a layer of the thinnest, or of a tenth.
func Step(holds float64) float64 {
	if holds < fine {
		return 0.06
	}
	return 0.10
}

// mostLayers is how many layers of tape on one wall still make a wall.
const mostLayers = 4

// A Taping is layers of tape on a track's walls. Tape makes the groove as much
// narrower as both walls' layers are thick, and moves its middle by half of what
// one wall has more, away from that wall.
type Taping struct {
	Left  []float64 // thicknesses in mm on the wall to the left along the cut, thickest first
	Right []float64
}

// Total is by how much in mm the groove gets narrower.
func (t Taping) Total() float64 { return total(t.Left) + total(t.Right) }

// Shift is by how much in mm the groove's middle moves to the right.
func (t Taping) Shift() float64 { return (total(t.Left) - total(t.Right)) / 2 }

// Layers are the layers of both walls, thickest first.
func (t Taping) Layers() []float64 {
	list := append(append([]float64{}, t.Left...), t.Right...)
	slices.Sort(list)
	slices.Reverse(list)
	return list
}

// out is how far in mm the groove's worse wall is from its place when a track
// that is too wide by off, evenly at both walls, is taped.
func (t Taping) out(off float64) float64 {
	return math.Abs(t.Shift()) + math.Abs(off-t.Total())/2
}

// TapeFor chooses the tape for a track that is too wide by off: what brings the
// width within Tolerance and both walls of the groove within Tolerance of their
// places with the fewest layers; where no tapes do that, what leaves the walls
// nearest to them. The wall that gets more is the left one. The zero Taping
// where no layers bring the width within Tolerance.
func TapeFor(off float64) Taping {
	var best Taping
	found := false
	for _, left := range piles(Tapes(), mostLayers) {
		for _, right := range piles(Tapes(), mostLayers) {
			t := Taping{Left: left, Right: right}
			if t.Shift() < 0 || t.Total() == 0 || math.Abs(off-t.Total()) > Tolerance+rounding {
				continue
			}
			if !found || t.better(best, off) {
				best, found = t, true
			}
		}
	}
	return best
}

// better reports whether t suits a track that is too wide by off better than o.
func (t Taping) better(o Taping, off float64) bool {
	near, far := t.out(off), o.out(off)
	n, m := len(t.Left)+len(t.Right), len(o.Left)+len(o.Right)
	switch fine, also := near <= Tolerance+rounding, far <= Tolerance+rounding; {
	case fine != also:
		return fine
	case fine && n != m:
		return n < m
	case math.Abs(near-far) > rounding:
		return near < far
	}
	return n < m
}

// piles lists every choice of up to n layers of the tapes, none among them, each
// thickest first.
func piles(tapes []float64, n int) [][]float64 {
	list := [][]float64{nil}
	if n == 0 {
		return list
	}
	for i, t := range tapes {
		// The next is no thicker, so that each choice is met once.
		for _, rest := range piles(tapes[i:], n-1) {
			list = append(list, append([]float64{t}, rest...))
		}
	}
	return list
}

func total(list []float64) float64 {
	sum := 0.0
	for _, t := range list {
		sum += t
	}
	return sum
}
