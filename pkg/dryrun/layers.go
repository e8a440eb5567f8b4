package dryrun

// How deep is a piece cut that is not cut to full depth? The deeper a layer, the
// less of the board it covers, so the deepest that covers the whole piece is found
// by halving the list of depths.

import (
	"math"
	"slices"
	"sort"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// sameDepth is how near in mm two depths are one layer: a machine's step.
const sameDepth = 0.001

// depthOf is the greatest depth to which all of a piece is cut, 0 if parts of it
// are not cut at all. Depths from full on are not looked at.
func (t *table) depthOf(piece region.Region, radius, full float64) float64 {
	inner := piece.Shrink(thin)
	box := inner.Bounds().Expand(radius + thin)
	var near []leg
	var depths []float64
	for i := range t.strokes {
		l := t.strokes[i].leg
		if !l.Bounds().Meets(box) {
			continue
		}
		near = append(near, l)
		for _, z := range [2]float64{l.z0, l.z1} {
			if d := -z; d > 0 && d < full-deepOver {
				depths = append(depths, math.Round(d/sameDepth)*sameDepth)
			}
		}
	}
	slices.Sort(depths)
	depths = slices.Compact(depths)
	n := sort.Search(len(depths), func(i int) bool {
		return len(newCover(edgesAt(near, depths[i]), radius+thin).bare(inner)) > 0
	})
	if n == 0 {
		return 0
	}
	return depths[n-1]
}

// edgesAt lists the paths cut at a depth or deeper.
func edgesAt(legs []leg, depth float64) []geom.Edge {
	var out []leg
	for _, l := range legs {
		if low, ok := l.below(-depth + sameDepth); ok {
			out = append(out, low)
		}
	}
	return fuse(edgesOf(out))
}
