package inlay

// Crossings out of which some line of the lower strand has no plain way: a corner
// or an end lies within them. What the upper strand covers there is found as an
// area: what both stacks have in common, in one piece with the crossing. Where two
// crossings of the same strands run into one another, each has what is nearer to
// it: no place is left with two strands, or with none.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// wider is how much in mm the lower stack is taken wider, so that no hairline stays along
// its sides: far below what is cut, far above what areas are worked out to.
const wider = 0.001

// grown is the area in square mm by which an overlap that has been found whole may differ
// from the next one tried: the rounding of areas.
const grown = 1e-6

// overlap finds what c covers as an area. The stretches of both strands are lengthened,
// from the given one on, until it grows no more.
func (b *builder) overlap(t *track, c *under, crossing int, first float64) {
	most, mostLower := b.most(t, c, -1, 0)
	last := -1.0
	for reach := first; ; reach *= 2 {
		upper, lower := math.Min(reach, most), math.Min(reach, mostLower)
		common := region.Intersect(b.stack(t, c.s, lower, wider), b.stack(c.upper, c.u, upper, 0))
		area := pieceAt(common, c.at)
		if size := area.Area(); size > last+grown {
			c.area, c.half, c.reach, last = area, upper, [2]float64{lower, lower}, size
		} else {
			break
		}
		if reach > most && reach > mostLower {
			break
		}
	}
	if c.tee {
		c.reach[c.over()] = 0
	}
	var joined []geom.Point
	for _, at := range b.others(t, c, crossing) {
		if c.area.Dist(at) < wider {
			joined = append(joined, at)
		}
	}
	for _, at := range joined {
		c.area = pieceAt(region.Intersect(c.area, nearer(c.at, at, c.area.Bounds())), c.at)
	}
}

// stack is the area of a strand's stack, wider on both sides by so much, within reach of
// a station.
func (b *builder) stack(t *track, s, reach, wider float64) region.Region {
	l, r := b.lines.left(), b.lines.right()
	left := t.between(l, b.lines.at[l]+wider, s-reach, s+reach)
	right := t.between(r, b.lines.at[r]-wider, s-reach, s+reach)
	return enclosed(append(right, reversed(left)...))
}

// others are the other crossings of the two strands of c.
func (b *builder) others(t *track, c *under, crossing int) (at []geom.Point) {
	for i, x := range b.weave.Crossings {
		v, w := x.Visits[0].Strand, x.Visits[1].Strand
		if i != crossing && (v == t.strand && w == c.upper.strand || w == t.strand && v == c.upper.strand) {
			at = append(at, x.At)
		}
	}
	return at
}

// pieceAt is the piece of an area that is at p, or else the nearest.
func pieceAt(area region.Region, p geom.Point) (best region.Region) {
	least := math.Inf(1)
	for _, r := range area.Pieces() {
		if d := r.Dist(p); d < least {
			best, least = r, d
		}
	}
	return best
}

// nearer is what lies nearer to p than to q, as far as it lies in a box.
func nearer(p, q geom.Point, box geom.Box) region.Region {
	far := box.Min.Dist(box.Max) + p.Dist(q)
	mid, u := p.Lerp(q, 0.5), p.Sub(q).Unit()
	a, c := mid.Add(u.Left().Scale(far)), mid.Sub(u.Left().Scale(far))
	away := u.Scale(2 * far)
	return region.New(geom.Polygon(a, c, c.Add(away), a.Add(away)))
}
