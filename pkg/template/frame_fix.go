package template

// Where a frame is fixed: screw holes and clamps, clear of all that the
// router's base passes over.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/work"
)

// ScrewHole is the diameter in mm of a frame's hole for a screw of 4 mm (common
// practice).
const ScrewHole = 4.5

// Measures of screws, mm; common practice.
const (
	screwRadius = ScrewHole / 2
	screwClear  = 5.0  // between a hole and the base's sweep, for the screw's head
	screwWood   = 6.0  // round a hole
	screwEnd    = 40.0 // from a side's ends, where there is room; and between two
	screwPitch  = 225  // between screws, so that one that gives way to something is still within 250 of the next
	screwEdge   = 10.0 // between a screw's middle and the board's edge: nearer, it splits the board or misses both
	screwStep   = 4.0  // between places that are tried along a side
	screwAcross = 2.0  // and across it
)

// A Screw is a hole for a screw that fixes the frame.
type Screw struct {
	At      geom.Point
	Side    int  // of the frame
	OnBoard bool // it meets the board; else packing, or nothing is known of the board
}

// baseRadius is half of the router's base: the rider where the base itself
// rides; 0 if it was not told.
func baseRadius(j Params) float64 {
	if j.Router.Guide == work.GuideBase {
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

// placeScrews shares screws out along each side's part of each bar, two at least,
// wherever the sweep, the wood's edges, the board's and the bars' joints leave a
// place.
func (f *LocatingFrame) placeScrews(s baseSweep, board *work.Board) {
	for _, b := range f.Bars {
		for _, c := range b.cells {
			wood := region.Intersect(b.Wood, region.New(c.outline))
			along := c.outward.Left()
			from, to := -contourReach(c.outline, along.Scale(-1)), contourReach(c.outline, along)
			end := math.Min(screwEnd+f.Width, (to-from)/3)
			from, to = from+end, to-end
			n := max(1, int(math.Ceil((to-from)/screwPitch-geom.Coincident)))
			f.wanted += n + 1
			for i := range n + 1 {
				if at, ok := f.screwPlace(wood, c, from+(to-from)*float64(i)/float64(n), s, board); ok {
					f.Screws = append(f.Screws, Screw{at, c.side, board != nil && BoardBox(board).Holds(at)})
				}
			}
		}
	}
}

// screwPlace is the free place in a cell that is nearest to the middle of the
// frame's width at the distance want along the side; rather beside the board than
// in it, where a hole would be seen.
func (f *LocatingFrame) screwPlace(wood region.Region, c cell, want float64, s baseSweep, board *work.Board) (geom.Point, bool) {
	along := c.outward.Left()
	reach := contourReach(c.outline, c.outward)
	best, found := geom.Point{}, false
	cost := math.Inf(1)
	for x := -15; x <= 15; x++ {
		for y := 1; float64(y)*screwAcross < f.Width; y++ {
			step, in := float64(x)*screwStep, float64(y)*screwAcross
			off := math.Abs(step) + math.Abs(in-f.Width/2)
			at := along.Scale(want + step).Add(c.outward.Scale(reach - in))
			if board != nil && BoardBox(board).Holds(at) {
				off += f.Width / 2
			}
			if off >= cost-geom.Coincident || board != nil && onEdge(board, at) || !f.screwFits(wood, at, s) {
				continue
			}
			best, cost, found = at, off, true
		}
	}
	return best, found
}

// onEdge reports whether a screw would meet the board's edge.
func onEdge(b *work.Board, at geom.Point) bool {
	box := BoardBox(b)
	return box.Expand(screwEdge).Holds(at) && !box.Expand(-screwEdge).Holds(at)
}

func (f *LocatingFrame) screwFits(wood region.Region, at geom.Point, s baseSweep) bool {
	if !wood.Contains(at) || wood.BoundaryDist(at) < screwRadius+screwWood {
		return false
	}
	for _, q := range f.Screws {
		if q.At.Dist(at) < screwEnd {
			return false
		}
	}
	return s.clear(at, screwRadius+screwClear)
}
