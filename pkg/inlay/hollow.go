package inlay

// Three strands that cross close together may lie over one another in a ring:
// the first on the second, the second on the third, the third on the first.
// Where all three stacks overlap each is cut away for another one, and the
// groove is left hollow.

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/unit"

	"strapwork/pkg/geom/region"
)

// leastHollow is the area in square mm of a hollow that shows: a tenth of a
// millimetre, the smallest gap that the eye sees, each way.
const leastHollow = 0.1 * 0.1

// findHollows warns of every such place.
func (b *builder) findHollows() {
	for _, t := range b.tracks {
		for _, c := range t.unders {
			c.upper.near(c.u, c.half, func(d *under) {
				d.upper.near(d.u, d.half, func(e *under) {
					// A ring is found from each of its crossings, and reported once.
					if e.upper == t && c.order < d.order && c.order < e.order && t.apart(e.u, c.s) < e.half+c.most() {
						b.reportHollow(t, c, d, e)
					}
				})
			})
		}
	}
}

// most is how far the upper stack reaches along the lower strand.
func (c *under) most() float64 { return math.Max(c.reach[0], c.reach[1]) }

// near calls visit with the unders of t whose upper stacks may come within
// reach of station s.
func (t *track) near(s, reach float64, visit func(*under)) {
	n := len(t.unders)
	at, _ := slices.BinarySearchFunc(t.unders, s, func(c *under, s float64) int { return cmp.Compare(c.s, s) })
	left := n
	for _, dir := range [2]int{1, -1} {
		for i := at + (dir-1)/2; left > 0 && (t.closed || (i >= 0 && i < n)); i += dir {
			c := t.unders[(i+n)%n]
			d := t.apart(c.s, s)
			if d > reach+t.far {
				break
			}
			left--
			if d < reach+c.most() {
				visit(c)
			}
		}
	}
}

func (b *builder) reportHollow(t *track, c, d, e *under) {
	hollow := region.Intersect(region.Intersect(c.stack(), d.stack()), e.stack())
	if hollow.Area() < leastHollow {
		return
	}
	st := b.motif.Strands[t.strand]
	src := b.motif.Sources[st.Source(c.s)]
	p := hollow.Bounds().Center()
	place(b.found.Warnf(src.Key, "strip-hollow", "three strands pass over one another in a ring near %s: where all three meet, %s of the groove stays empty",
		said(b.tops, p), unit.Area(hollow.Area())), b.tops, p).
		Hintf("flip one of the three crossings, at %s, %s or %s, or draw them further apart",
			said(b.tops, c.at), said(b.tops, d.at), said(b.tops, e.at))
}
