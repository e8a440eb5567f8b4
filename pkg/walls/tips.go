package walls

import (
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// An arm is one edge of a strand, and how far its part of the groove reaches from
// it, with the mitres at its ends.
type arm struct {
	strand, edge int
	line         geom.Prepared
	reach        float64
}

// arm is the strand's k-th edge.
func (s Strand) arm(strand, k int) arm {
	h, n := s.half(), s.Line.Len()
	a := arm{strand: strand, edge: k, line: geom.Prepare(s.Line.Edge(k)), reach: h}
	for _, i := range [2]int{k, (k + 1) % n} {
		if k == n-1 && i == 0 && !s.Line.Closed {
			continue
		}
		if c, ok := cornerAt(s.Line, i); ok {
			if c.turn < 0 {
				c = c.reverse()
			}
			if m, ok := c.mitre(h, mitreLimit*h); ok {
				a.reach = max(a.reach, m.tip.Dist(c.at))
			}
		}
	}
	return a
}

// visitNear visits the arms that may reach into a box, until visit returns false.
// Their own boxes would not do: that of a long sloping one holds half the motif.
func (g Groove) visitNear(box geom.Box, visit func(a *arm) bool) {
	middle, half := box.Center(), box.Size().Norm()/2
	g.index.Search(box, func(i int) bool {
		a := &g.arms[i]
		return a.line.Dist(middle) > a.reach+half || visit(a)
	})
}

// fills is how much smaller in mm a bit's radius is taken where it exactly fills
// the groove and its middle has no area to go in. What it reaches in a corner of
// 15 degrees is then 0.0067 mm more, less than what counts as left.
const fills = 0.001

// Tips are the places of the groove that no bit of a diameter reaches: at
// corners and free ends, each no more than what lies beyond the disc of that size
// that touches the two walls there, and less where another groove lets the bit in.
func (g Groove) Tips(bit float64) []region.Region {
	var tips []region.Region
	add := func(tip region.Region, strand int, edges ...int) {
		if !tip.Empty() {
			tip = g.shut(tip, bit, strand, edges)
		}
		if !tip.Empty() {
			tips = append(tips, tip)
		}
	}
	for i, s := range g.strands {
		n := s.Line.Len()
		for k := range n {
			if c, ok := cornerAt(s.Line, k); ok {
				tip, _ := c.tip(s.half(), bit/2)
				add(tip, i, (k+n-1)%n, k)
				for _, p := range c.overhangs(s.half()) {
					tips = append(tips, g.shutNear(p, bit/2, bit)...)
				}
			}
		}
		if s.Line.Closed || n == 0 {
			continue
		}
		for _, tip := range g.startTips(s, bit) {
			add(tip, i, 0)
		}
		back := Strand{s.Line.Reverse(), s.Width}
		for _, tip := range g.startTips(back, bit) {
			add(tip, i, n-1)
		}
	}
	return tips
}

// startTips are the tips at an open strand's start. Where a corner is so near that
// it shapes them they are what is out of reach there as a whole.
func (g Groove) startTips(s Strand, bit float64) []region.Region {
	if tips, ok := s.endTips(bit / 2); ok {
		return tips
	}
	return g.shutNear(s.Line.Start(), s.half()+bit/2, bit)
}

// shutNear is what of the groove is within some mm of a place and out of a bit's
// reach.
func (g Groove) shutNear(p geom.Point, within, bit float64) []region.Region {
	near := region.Disc(p, within)
	reach := g.Reach(near.Bounds(), bit)
	return region.Subtract(region.Intersect(near, g.around(near.Bounds())), reach).Pieces()
}

// shut is what of a tip no other part of the groove lets the bit into. The tip's
// own edges are known not to.
func (g Groove) shut(tip region.Region, bit float64, strand int, edges []int) region.Region {
	box := tip.Bounds()
	alone := true
	g.visitNear(box.Expand(bit), func(a *arm) bool {
		own := false
		for _, k := range edges {
			own = own || a.strand == strand && a.edge == k
		}
		alone = own
		return alone
	})
	if alone {
		return tip
	}
	return region.Subtract(tip, g.Reach(box, bit))
}

// Reach is all that a bit of a diameter reaches in a box when it stays within the
// groove: of a larger area than the box, but right only there.
func (g Groove) Reach(box geom.Box, bit float64) region.Region {
	area := region.Intersect(g.around(box.Expand(bit)), region.New(geom.Rect(box.Expand(bit+fills))))
	reach := area.Open(bit / 2)
	narrow := region.Subtract(area.Open(bit/2-fills), reach).Open(2 * fills)
	if narrow.Empty() {
		return reach
	}
	return region.Union(reach, narrow)
}

// around is the groove where it comes into a box; outside the box parts of it
// may lack.
func (g Groove) around(box geom.Box) region.Region {
	if len(g.strands) == 0 {
		return g.Area
	}
	in := make([][]bool, len(g.strands))
	g.visitNear(box, func(a *arm) bool {
		if in[a.strand] == nil {
			in[a.strand] = make([]bool, g.strands[a.strand].Line.Len())
		}
		in[a.strand][a.edge] = true
		return true
	})
	var outline []geom.Contour
	for i, list := range in {
		if list == nil {
			continue
		}
		for _, line := range stretches(g.strands[i].Line, list) {
			outline = append(outline, Strand{line, g.strands[i].Width}.outline()...)
		}
	}
	return region.New(outline...)
}

// stretches are the parts of a line that the edges in a list make up.
func stretches(line geom.Contour, in []bool) []geom.Contour {
	n := len(in)
	first := 0
	for first < n && in[first] {
		first++
	}
	if first == n {
		return []geom.Contour{line}
	}
	if !line.Closed {
		first = n - 1 // no stretch runs past the last edge
	}
	var out []geom.Contour
	var run []geom.Edge
	for i := range n {
		k := (first + 1 + i) % n
		if in[k] {
			run = append(run, line.Edge(k))
		}
		if len(run) > 0 && (!in[k] || i == n-1) {
			out, run = append(out, geom.Chain(false, run...)), nil
		}
	}
	return out
}
