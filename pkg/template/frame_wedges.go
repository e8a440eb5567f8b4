package template

// Folding wedges: two tapers that slide on one another. A pair goes to each 300 mm
// or so of the sides that don't locate.

import (
	"math"

	"strapwork/pkg/geom"
)

// Measures of wedges, mm; common practice.
const (
	wedgeLong  = 60.0  // length of a wedge
	wedgeTaper = 0.05  // 1 in 20 holds by friction and comes out at a tap
	wedgeThin  = 2.0   // thin end
	wedgePitch = 300.0 // of a side's length for each pair: a longer panel bends between them
	wedgeStep  = 5.0   // between places that are tried
)

// A WedgePair is where a pair of wedges goes.
type WedgePair struct {
	Side  int        // of the frame
	At    geom.Point // the pair's middle, between panel and frame
	Along geom.Point // unit direction of the side
}

// Outline is the pair as it fills a frame's gap.
func (w WedgePair) Outline(gap float64) geom.Contour {
	long, half := w.Along.Scale(wedgeLong/2), w.Along.Left().Scale(gap/2)
	return geom.Polygon(w.At.Sub(long).Sub(half), w.At.Add(long).Sub(half), w.At.Add(long).Add(half), w.At.Sub(long).Add(half))
}

// placeWedges shares pairs out evenly along each wedged side, and moves those
// aside that would press on a panel's notch.
func (f *LocatingFrame) placeWedges() {
	for _, i := range f.Wedged {
		a, b := f.Inside.Corner(i), f.Inside.Corner(i+1)
		along, long := b.Sub(a).Unit(), a.Dist(b)
		n := max(1, int(math.Ceil(long/wedgePitch-geom.Coincident)))
		for k := range n {
			at := f.besideNotches(long, (float64(k)+0.5)/float64(n)*long, long/float64(4*n))
			f.Wedges = append(f.Wedges, WedgePair{i, a.Add(along.Scale(at)).Sub(f.Inside.Sides[i].Out.Scale(f.Gap / 2)), along})
		}
	}
}

// besideNotches is the place along a side of a given length that is nearest to
// want, towards the side's nearer end before its middle, where a pair of wedges
// meets no notch, within room of it; want where there is none. Panels' notches
// are at a quarter of their sides, from either end.
func (f *LocatingFrame) besideNotches(long, want, room float64) float64 {
	out := -1.0
	if want > long/2 {
		out = 1
	}
	for step := 0.0; step <= room; step += wedgeStep {
		for _, at := range [2]float64{want + out*step, want - out*step} {
			if min(at, long-at) >= wedgeLong/2+f.Gap && f.Key.Radius > 0 &&
				min(math.Abs(at-long/4), math.Abs(at-3*long/4)) >= f.Key.Notch+wedgeLong/2 {
				return at
			}
		}
	}
	return want
}

// WedgeOutline is one of the four-sided wedges, with its straight side on the
// x axis. Two of them lie head to tail on their slanting sides; slid 20 mm
// apart they are 6 mm wide together.
func WedgeOutline() geom.Contour {
	return geom.Polygon(geom.Pt(0, 0), geom.Pt(wedgeLong, 0), geom.Pt(wedgeLong, wedgeThin+wedgeLong*wedgeTaper), geom.Pt(0, wedgeThin))
}

// WedgesWide is how wide a pair of wedges is between its outer sides when it
// is slid apart by d mm.
func WedgesWide(d float64) float64 { return 2*wedgeThin + (wedgeLong-d)*wedgeTaper }
