package dryrun

// What of an area no path of the bit covers. The area is halved until only a
// few paths pass by each part, and those are taken from it; a part that is gone
// needs no more of them, so the same wood cut a hundred times costs little more
// than cut once.

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// handful is how many paths are taken from a part of the area at a time. More
// make the areas dear, fewer make many parts (measured).
const handful = 16

// crowd is how many paths by one small part are so many that it pays to begin
// with the nearest, though neighbours along a curve are then taken one by one.
const crowd = 8 * handful

// plenty is how many paths are so many that the halves are worth a goroutine each.
const plenty = 32 * handful

// cover holds paths of a round bit.
type cover struct {
	edges  []geom.Prepared
	radius float64
	index  geom.Index // for away; made when it is asked
	ready  bool
}

func newCover(edges []geom.Edge, radius float64) *cover {
	c := &cover{radius: radius}
	for _, e := range edges {
		c.edges = append(c.edges, geom.Prepare(e))
	}
	return c
}

// bare returns the parts of an area that no path covers.
func (c *cover) bare(area region.Region) []region.Region {
	all := make([]int32, len(c.edges))
	for i := range all {
		all[i] = int32(i)
	}
	return c.halve(area, all, nil)
}

func (c *cover) halve(area region.Region, near []int32, out []region.Region) []region.Region {
	if area.Empty() {
		return out
	}
	box := area.Bounds()
	near, gone := c.passing(box, near)
	if gone {
		return out
	}
	size := box.Size()
	if len(near) <= handful || math.Max(size.X, size.Y) < c.radius/2 {
		return c.take(area, near, out)
	}
	a, b := halves(box)
	if len(near) < plenty {
		out = c.halve(area.Clip(a), near, out)
		return c.halve(area.Clip(b), near, out)
	}
	// On another processor; a panic there goes on here, where it can be caught.
	var beside []region.Region
	var broken any
	done := make(chan struct{})
	go func() {
		defer close(done)
		defer func() { broken = recover() }()
		beside = c.halve(area.Clip(b), near, nil)
	}()
	out = c.halve(area.Clip(a), near, out)
	<-done
	if broken != nil {
		panic(broken)
	}
	return append(out, beside...)
}

// passing lists the paths that come within the bit's radius of a box, and
// reports whether one of them takes all of it.
func (c *cover) passing(box geom.Box, from []int32) (near []int32, gone bool) {
	middle, half := box.Center(), box.Size().Norm()/2
	for _, i := range from {
		e := &c.edges[i]
		if !e.Box.Expand(c.radius).Meets(box) {
			continue
		}
		d := e.Dist(middle)
		if d+half < c.radius {
			return nil, true
		}
		if d < c.radius+half {
			near = append(near, i)
		}
	}
	return near, false
}

// take takes paths from an area, a handful at a time, and of many the nearest
// first, since they take most.
func (c *cover) take(area region.Region, near []int32, out []region.Region) []region.Region {
	if len(near) > crowd {
		middle := area.Bounds().Center()
		slices.SortStableFunc(near, func(a, b int32) int {
			return cmp.Compare(c.edges[a].Dist(middle), c.edges[b].Dist(middle))
		})
	}
	for len(near) > 0 && !area.Empty() {
		n := min(handful, len(near))
		area = region.Subtract(area, c.strokes(near[:n])...)
		near = near[n:]
		if len(near) > handful && !area.Empty() {
			var gone bool
			if near, gone = c.passing(area.Bounds(), near); gone {
				return out
			}
		}
	}
	if area.Empty() {
		return out
	}
	return append(out, area)
}

// strokes is the wood that some of the paths take.
func (c *cover) strokes(list []int32) []region.Region {
	edges := make([]geom.Edge, len(list))
	for i, n := range list {
		edges[i] = c.edges[n].Edge
	}
	return strokes(edges, c.radius)
}

// strokes is the wood that a bit of a radius takes along paths, in parts that may lie over one
// another. Paths that follow one another are one curve.
func strokes(paths []geom.Edge, radius float64) []region.Region {
	var parts []region.Region
	for i := 0; i < len(paths); {
		n := i + 1
		for n < len(paths) && paths[n-1].B == paths[n].A {
			n++
		}
		parts = append(parts, stroked(paths[i:n], radius))
		i = n
	}
	return parts
}

// stroked is the wood that a bit of a radius takes along a chain; a chain of no
// length is a plunge.
func stroked(chain []geom.Edge, radius float64) region.Region {
	var long []geom.Edge
	for _, e := range chain {
		if !e.A.Near(e.B, geom.Coincident) {
			long = append(long, e)
		}
	}
	if len(long) != len(chain) || len(long) == 0 {
		parts := []region.Region{region.Disc(chain[0].A, radius)}
		for _, e := range long {
			parts = append(parts, region.Stroke(geom.Chain(false, e), radius))
		}
		return region.Union(parts...)
	}
	return region.Stroke(geom.Chain(false, long...), radius)
}

// away is how far a point is from the middle of the nearest path, less the
// radius of the bit; 0 if there are no paths.
func (c *cover) away(p geom.Point) float64 {
	if !c.ready {
		boxes := make([]geom.Box, len(c.edges))
		for i := range boxes {
			boxes[i] = c.edges[i].Box
		}
		c.index, c.ready = geom.NewIndex(boxes), true
	}
	if len(c.edges) == 0 {
		return 0
	}
	return math.Max(0, c.index.Nearest(p, func(i int) float64 { return c.edges[i].Dist(p) })-c.radius)
}

// halves cuts a box across its longer side.
func halves(b geom.Box) (geom.Box, geom.Box) {
	c := b.Center()
	a := b
	if s := b.Size(); s.X > s.Y {
		a.Max.X, b.Min.X = c.X, c.X
	} else {
		a.Max.Y, b.Min.Y = c.Y, c.Y
	}
	return a, b
}
