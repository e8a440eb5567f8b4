package dryrun

// How deep is a piece cut that is not cut to full depth? The deeper a layer, the
// less of the board it covers, so the deepest that covers the whole piece is found
// by halving the list of depths.

import (
	"maps"
	"math"
	"slices"
	"sort"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// sameDepth is how near in mm two depths are one layer: a machine's step.
const sameDepth = 0.001

// mostLayered bounds the paths among which the depth of a piece is looked for: a
// hundred steps down along a piece with hundreds of moves each.
const mostLayered = 50_000

// depthOf is the greatest depth to which all of a piece is cut, 0 if parts of it
// are not cut at all. Depths from full on are not looked at. It is not worked out
// where more than mostLayered paths pass by.
func (t *table) depthOf(piece region.Region, radius, full float64) (depth float64, ok bool) {
	inner := piece.Shrink(thin)
	box := inner.Bounds().Expand(radius + thin)
	depths, paths := t.depthsIn(box, full)
	if paths > mostLayered {
		return 0, false
	}
	n := sort.Search(len(depths), func(i int) bool {
		return len(newCover(t.edgesAt(depths[i]-sameDepth, box), radius+thin).bare(inner)) > 0
	})
	if n == 0 {
		return 0, true
	}
	return depths[n-1], true
}

// depthsIn lists the depths short of full that paths have within a box, least
// first, and counts the paths. One that goes down along its way has the depths of
// its ends.
func (t *table) depthsIn(box geom.Box, full float64) (depths []float64, paths int) {
	seen := map[float64]bool{}
	for i := range t.n {
		l := t.at(i)
		if !l.Bounds().Meets(box) {
			continue
		}
		paths++
		for _, z := range [2]float64{l.z0, l.z1} {
			if d := math.Round(-z/sameDepth) * sameDepth; d > 0 && d < full-deepOver {
				seen[d] = true
			}
		}
	}
	return slices.Sorted(maps.Keys(seen)), paths
}
