package received

import (
	"math"
	"slices"
)

// Tapes are the thicknesses in mm of tapes that lie about in workshops (common
// practice: packing tape, masking tape, electrical tape), thickest first. A
// maker measures ten layers of his own and divides.
func Tapes() []float64 { return []float64{0.13, 0.10, 0.06} }

// mostLayers is how many layers of tape still make a wall.
const mostLayers = 4

// layers returns the fewest layers of the usual tapes that come within
// Tolerance of a thickness, and of as many the nearest; nil where none do.
func layers(thickness float64) []float64 {
	for n := 1; n <= mostLayers; n++ {
		if best := nearest(thickness, n, Tapes()); math.Abs(thickness-total(best)) <= Tolerance+rounding {
			return best
		}
	}
	return nil
}

// nearest returns n layers of the tapes, thickest first, whose total is
// nearest to a thickness.
func nearest(thickness float64, n int, tapes []float64) []float64 {
	if n == 0 {
		return nil
	}
	var best []float64
	for i, t := range tapes {
		// The next is no thicker, so that each choice is met once.
		list := append([]float64{t}, nearest(thickness-t, n-1, tapes[i:])...)
		if best == nil || math.Abs(thickness-total(list)) < math.Abs(thickness-total(best))-rounding {
			best = slices.Clone(list)
		}
	}
	return best
}

func total(list []float64) float64 {
	sum := 0.0
	for _, t := range list {
		sum += t
	}
	return sum
}
