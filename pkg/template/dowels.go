package template

// Dowels hold a panel's floor and wall together, the right way round.

import (
	"math"
	"slices"

	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// Measures of dowels, mm (common practice for sheet of 3 to 12 mm).
const (
	dowelRadius = 2.0
	dowelStep   = 5.0 // of the grid of places that are tried
	dowelApart  = 3 * dowelRadius
	dowels      = 3
)

// placeDowels finds three places for the dowels that hold wall and floor
// together, web mm clear of everything else, and so that no turn and no
// turning over of the floor lays all its holes on the wall's. There are fewer
// where no such places are.
func (p Panel) placeDowels(s fixture.Shape, web float64) []geom.Point {
	free := p.dowelPlaces(web + dowelRadius)
	if len(free) < dowels {
		return nil
	}
	turns := s.Placements(dowelRadius)
	found := []geom.Point{furthestFrom(free, []geom.Point{s.Centre()})}
	found = append(found, furthestFrom(free, found))
	slices.SortStableFunc(free, func(a, b geom.Point) int {
		return -compareDist(a, b, found)
	})
	for _, c := range free {
		three := append(slices.Clone(found), c)
		if nearestOf(c, found) >= dowelApart && oneWay(three, turns) {
			return three
		}
	}
	return nil
}

// dowelPlaces are the points of a grid that are at least clear mm from the
// panel's edge, openings and joints.
func (p Panel) dowelPlaces(clear float64) []geom.Point {
	panel := region.New(p.Outline)
	box := panel.Bounds().Expand(-clear)
	step := math.Max(dowelStep, math.Max(box.Size().X, box.Size().Y)/60) // 3600 places are choice enough
	var free []geom.Point
	for y := box.Min.Y; y <= box.Max.Y; y += step {
		for x := box.Min.X; x <= box.Max.X; x += step {
			at := geom.Pt(x, y)
			if panel.Contains(at) && panel.BoundaryDist(at) >= clear && p.clearOf(at, clear) && (p.Division == nil || p.Division.clear(at, clear)) {
				free = append(free, at)
			}
		}
	}
	return free
}

// clearOf reports whether all the panel's openings are at least d from a point.
func (p Panel) clearOf(at geom.Point, d float64) bool {
	for _, o := range p.Openings {
		if o.Area.Bounds().Dist(at) < d && o.Area.Dist(at) < d {
			return false
		}
	}
	return true
}

// oneWay reports whether only the first of some placements, which changes
// nothing, lays every hole on a hole.
func oneWay(holes []geom.Point, turns []geom.Similarity) bool {
	for _, t := range turns[1:] {
		worst := 0.0
		for _, h := range holes {
			worst = math.Max(worst, nearestOf(t.Apply(h), holes))
		}
		if worst < 2*dowelRadius {
			return false
		}
	}
	return true
}

func nearestOf(p geom.Point, others []geom.Point) float64 {
	best := math.Inf(1)
	for _, q := range others {
		best = math.Min(best, p.Dist(q))
	}
	return best
}

func furthestFrom(places, from []geom.Point) geom.Point {
	return slices.MaxFunc(places, func(a, b geom.Point) int { return compareDist(a, b, from) })
}

// compareDist orders points by their distance from the nearest of others; those
// that differ by rounding only keep their order.
func compareDist(a, b geom.Point, others []geom.Point) int {
	switch d := nearestOf(a, others) - nearestOf(b, others); {
	case d > geom.Coincident:
		return 1
	case d < -geom.Coincident:
		return -1
	}
	return 0
}
