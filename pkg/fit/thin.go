package fit

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/wood"
)

// thinned takes need off the lay-up, if it can be done, in whole steps of the calipers.
// Wood gives before metal; first what came thicker than planned, down to what was planned,
// and then the thickest. Strips that are alike lose alike, so that lines stay even.
func (f *fitter) thinned(need float64) bool {
	strips := slices.Clone(f.plan.Strips)
	for _, metal := range []bool{false, true} {
		for _, excess := range []bool{true, false} {
			for _, i := range byThickness(strips) {
				s := &strips[i]
				if isMetal(s.Material) == metal {
					need -= s.give(need, excess)
				}
			}
		}
	}
	if need > rounding {
		return false
	}
	f.plan.Strips = strips
	return true
}

// give thins strips for so much of need as they can give, and says how much that is.
// excess: no further than to what was planned.
func (s *Strip) give(need float64, excess bool) float64 {
	if need <= rounding {
		return 0
	}
	room := s.After() - math.Max(leastStrip, (1-mostThin)*s.Most)
	if excess {
		room = math.Min(room, s.After()-s.Planned)
	}
	if excess && s.Planned == 0 {
		return 0
	}
	room = math.Floor((room+rounding)/step) * step
	n := float64(s.Count())
	each := math.Min(math.Max(0, room), roundUp(need/n))
	s.Thin += each
	return n * each
}

// byThickness are strips from the thickest.
func byThickness(strips []Strip) []int {
	order := make([]int, len(strips))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(strips[b].After(), strips[a].After()) })
	return order
}

func isMetal(material string) bool {
	m, ok := wood.Find(material)
	return ok && m.Kind == wood.Metal
}
