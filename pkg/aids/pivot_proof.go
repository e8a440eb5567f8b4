package aids

// The proof for a pivot bar: what the bit takes away when it is swung about each
// circle's centre at the distances that the bar's holes have in its file.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/proof"
	"strapwork/pkg/sheet"
)

// ProvePivot swings the bit on a bar as read back from its file and compares
// what that takes away with the ideal groove. holes are all of the file's;
// undoKerf is what their radii are smaller than their true size. Nothing of
// the bar as designed is used but which hole is meant for which swing, and
// between what directions arcs are swung. A hole that is wider than its pin, or
// than the bit, lets the bit stray by half of that.
func ProvePivot(g groove.Groove, p Pivot, holes []sheet.Hole, undoKerf float64) proof.Proof {
	bit, ok := nearestHole(holes, geom.Pt(0, 0))
	if !ok {
		return proof.Compare(g, region.Region{}, region.Region{}, 0)
	}
	stray := slack(bit, g.Size.Bit, undoKerf)
	var swept []region.Region
	bounds := centreBounds(g)
	for _, c := range p.Circles {
		for _, i := range c.Holes {
			pin, _ := nearestHole(holes, p.Holes[i].At)
			reach := g.Size.Bit/2 + stray + slack(pin, PivotPin, undoKerf)
			d := pin.Center.Dist(bit.Center)
			for _, s := range c.swings(g.Size, bounds, p.Holes[i].Distance) {
				swept = append(swept, s.swept(c.Center, d, reach))
			}
		}
	}
	cut := region.Union(swept...)
	return proof.Compare(g, cut, cut, 0)
}

func nearestHole(holes []sheet.Hole, p geom.Point) (sheet.Hole, bool) {
	var nearest sheet.Hole
	best := math.Inf(1)
	for _, h := range holes {
		if d := h.Center.Dist(p); d < best {
			nearest, best = h, d
		}
	}
	return nearest, len(holes) > 0
}

// slack is by how much what fits a hole can stray in it, beyond rounding.
func slack(h sheet.Hole, diameter, undoKerf float64) float64 {
	return math.Max(0, h.Radius+undoKerf-diameter/2-geom.Coincident)
}

// A swing is the directions from a circle's centre between which the bar is
// swung; a whole turn has the sweep of 2 pi.
type swing struct{ start, sweep float64 }

// swept is what a bit of the given radius takes away in a swing at distance d.
func (s swing) swept(center geom.Point, d, radius float64) region.Region {
	if s.sweep >= 2*math.Pi {
		return region.Subtract(region.Disc(center, d+radius), region.Disc(center, d-radius))
	}
	return region.Stroke(geom.Chain(false, geom.Arc(center, d, s.start, s.sweep)...), radius)
}

// centreBounds returns, for each strand, the edges that bound where the bit's
// centre may go; its centre lines where the bit fills the groove.
func centreBounds(g groove.Groove) [][]geom.Edge {
	g.Size.RiderRadius = math.Inf(1) // a swing turns no corner
	bounds := make([][]geom.Edge, len(g.Motif.Strands))
	for i := range bounds {
		for _, ch := range g.Chains(i) {
			c := g.Stretch(i, ch.From, ch.To)
			if g.Size.Thin() {
				bounds[i] = append(bounds[i], c.Line.Edges()...)
			}
			for _, l := range c.Centre.Loops() {
				bounds[i] = append(bounds[i], l.Edges()...)
			}
		}
	}
	return bounds
}

// swings are the directions in which the bit's centre, at distance d from the
// centre of c, is on the boundary of where it may go. A swing between the two
// walls' keeps to where both of them are swung.
func (c PivotCircle) swings(s groove.Size, bounds [][]geom.Edge, d float64) []swing {
	if c.Full {
		return []swing{{0, 2 * math.Pi}}
	}
	k := s.Offset()
	inner, outer := c.Radius-k, c.Radius+k
	switch {
	case s.Thin():
		return c.along(bounds, c.Radius)
	case d-inner <= sameDistance:
		return c.along(bounds, inner)
	case outer-d <= sameDistance:
		return c.along(bounds, outer)
	}
	return both(c.along(bounds, inner), c.along(bounds, outer))
}

// along are the directions of the bounds' edges at distance d from the centre.
func (c PivotCircle) along(bounds [][]geom.Edge, d float64) []swing {
	var list []swing
	done := map[int]bool{}
	for _, p := range c.lines {
		if done[p.strand] {
			continue
		}
		done[p.strand] = true
		for _, e := range bounds[p.strand] {
			if !onCircle(e, c.Center, d) {
				continue
			}
			if e.Bulge < 0 {
				e = e.Reverse()
			}
			list = append(list, swing{e.A.Sub(c.Center).Angle(), e.Sweep()})
		}
	}
	return list
}

// onCircle reports whether an edge lies on a circle.
func onCircle(e geom.Edge, center geom.Point, radius float64) bool {
	for _, p := range [3]geom.Point{e.A, e.Mid(), e.B} {
		if math.Abs(p.Dist(center)-radius) > sameDistance {
			return false
		}
	}
	return e.Bulge != 0
}

// both are the directions that are in one of a and in one of b.
func both(a, b []swing) []swing {
	var list []swing
	for _, s := range a {
		for _, t := range b {
			// t begins this far past s, counted from half a turn before it.
			ahead := math.Mod(t.start-s.start+3*math.Pi, 2*math.Pi) - math.Pi
			from, to := math.Max(0, ahead), math.Min(s.sweep, ahead+t.sweep)
			if to > from {
				list = append(list, swing{s.start + from, to - from})
			}
		}
	}
	return list
}
