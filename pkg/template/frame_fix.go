package template

// Where a frame is fixed: screw holes and clamps, clear of all that the
// router's base passes over.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
)

// Measures of screws, mm; common practice.
const (
	screwRadius = 2.25 // hole for a screw of 4 mm
	screwClear  = 5.0  // between a hole and the base's sweep, for the screw's head
	screwWood   = 6.0  // round a hole
	screwEnd    = 40.0 // from a side's ends, where there is room
	screwStep   = 4.0  // between places that are tried
)

// baseRadius is half of the router's base: the rider where the base itself
// rides; 0 if it was not told.
func baseRadius(j *job.Job) float64 {
	if j.Router.Guide == job.GuideBase {
		return j.Router.Rider / 2
	}
	return j.Router.Base / 2
}

// baseSweep is all that the router's base passes over in all set-ups.
type baseSweep struct {
	cuts   []groove.Cut
	radius float64 // of the base and the bit's play, mm
}

// clear reports whether a point is at least d from the sweep.
func (s baseSweep) clear(p geom.Point, d float64) bool {
	for _, c := range s.cuts {
		if c.Line.Bounds().Dist(p) >= s.radius+d {
			continue
		}
		if q, _ := c.Line.Nearest(p); q.Dist(p) < s.radius+d {
			return false
		}
	}
	return true
}

// reach is how far the sweep goes in the direction of a unit vector.
func (s baseSweep) reach(u geom.Point) float64 {
	best := math.Inf(-1)
	for _, c := range s.cuts {
		best = math.Max(best, contourReach(c.Line, u)+s.radius)
	}
	return best
}

// clear is the least width of the frame's outer strip that the sweep leaves.
func (f *LocatingFrame) clear(s baseSweep) float64 {
	least := f.Width
	for _, x := range f.Outside.Sides {
		least = math.Min(least, x.Dist-s.reach(x.Out))
	}
	return least
}

// placeScrews puts two screws in each side's part of each bar, as far apart as
// is useful, wherever the sweep, the wood's edges and the bars' joints leave a
// place.
func (f *LocatingFrame) placeScrews(s baseSweep) {
	for _, b := range f.Bars {
		for _, c := range b.cells {
			wood := region.Intersect(b.Wood, region.New(c.outline))
			along := c.outward.Left()
			from, to := -contourReach(c.outline, along.Scale(-1)), contourReach(c.outline, along)
			end := math.Min(screwEnd+f.Width, (to-from)/3)
			for _, want := range []float64{from + end, to - end} {
				if at, ok := f.screwPlace(wood, c, want, s); ok {
					f.Screws = append(f.Screws, at)
				}
			}
		}
	}
}

// screwPlace is the free place in a cell that is nearest to the middle of the
// frame's width at the distance want along the side.
func (f *LocatingFrame) screwPlace(wood region.Region, c cell, want float64, s baseSweep) (geom.Point, bool) {
	along := c.outward.Left()
	reach := contourReach(c.outline, c.outward)
	best, found := geom.Point{}, false
	cost := math.Inf(1)
	for x := -15; x <= 15; x++ {
		for y := 1; float64(y)*screwStep < f.Width; y++ {
			step, in := float64(x)*screwStep, float64(y)*screwStep
			off := math.Abs(step) + math.Abs(in-f.Width/2)
			at := along.Scale(want + step).Add(c.outward.Scale(reach - in))
			if off >= cost-geom.Coincident || !f.screwFits(wood, at, s) {
				continue
			}
			best, cost, found = at, off, true
		}
	}
	return best, found
}

func (f *LocatingFrame) screwFits(wood region.Region, at geom.Point, s baseSweep) bool {
	if !wood.Contains(at) || wood.BoundaryDist(at) < screwRadius+screwWood {
		return false
	}
	for _, q := range f.Screws {
		if q.Dist(at) < screwEnd {
			return false
		}
	}
	return s.clear(at, screwRadius+screwClear)
}
