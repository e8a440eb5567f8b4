package fit

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/wood"
	"strapwork/pkg/work"
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
				if s.metal() == metal {
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
	if s.Sandwich {
		room = s.room - s.Thin
	}
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

// sandwich is a lay-up that is glued first and measured as one. Only the strips at its faces
// can be thinned: wood, where either is.
func sandwich(lay []work.Strip) Strip {
	s := Strip{Material: sandwiched, Sandwich: true}
	for n, strip := range lay {
		s.Numbers = append(s.Numbers, n+1)
		s.Planned += strip.Thickness
	}
	ends := []int{0, len(lay) - 1}
	if isMetal(lay[0].Material) != isMetal(lay[len(lay)-1].Material) {
		ends = slices.DeleteFunc(ends, func(n int) bool { return isMetal(lay[n].Material) })
	}
	least := math.Inf(1) // each gives alike
	for _, n := range ends {
		s.Faces = append(s.Faces, n+1)
		t := lay[n].Thickness
		least = math.Min(least, math.Max(0, t-math.Max(leastStrip, (1-mostThin)*t)))
	}
	s.room, s.hard = float64(len(ends))*least, isMetal(lay[ends[0]].Material)
	return s
}

// metal reports whether thinning the strips is thinning metal: of a sandwich, its faces.
func (s Strip) metal() bool { return s.hard || isMetal(s.Material) }

func isMetal(material string) bool {
	m, ok := wood.Find(material)
	return ok && m.Kind == wood.Metal
}
