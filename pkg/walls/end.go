package walls

import (
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// endTips is what a bit of radius r leaves in the two corners of the groove's
// flat start: each lies between the flat and one wall, beyond the disc that touches
// both. It is false where a corner comes before that disc does, so that other
// walls have a say.
func (s Strand) endTips(r float64) (tips []region.Region, ok bool) {
	for _, mirrored := range [2]bool{false, true} {
		line := s.Line
		if mirrored {
			line = geom.MirrorX().Contour(line)
		}
		tip, ok := startTip(line, s.half(), r)
		if !ok {
			return nil, false
		}
		if mirrored {
			tip = tip.Transform(geom.MirrorX())
		}
		tips = append(tips, tip)
	}
	return tips, true
}

// startTip is the one on the right of an open line's start. The disc's middle is
// as far from the centre line as the bit may go, and r from the flat: it is looked
// for from the end on.
func startTip(line geom.Contour, h, r float64) (region.Region, bool) {
	const ahead = 2 // how far sideways the line r from the flat is looked along, in half-widths
	start, along := line.Start(), line.Edge(0).Tangent(0)
	middle, across := start.Add(along.Scale(r)), along.Left().Scale(ahead*h)
	level := geom.Line(middle.Add(across), middle.Sub(across))
	var outline []geom.Edge
	for i := range line.Len() {
		if _, sharp := cornerAt(line, i); sharp {
			return region.Region{}, false
		}
		e := line.Edge(i)
		wall := side(e, h)
		if way := side(e, max(0, h-r)); way.A != way.B {
			if met := geom.Crossings(way, level, geom.Coincident); len(met) > 0 {
				at := met[0].At
				end := geom.Line(wall.A, wall.A)
				if wall.A != wall.B {
					end = wall.Part(0, foot(wall, at))
				}
				flat := at.Sub(along.Scale(r))
				outline = append(outline, end, geom.ArcThrough(end.B, flat, at, false))
				return region.New(closed(outline)), true
			}
		}
		outline = append(outline, wall)
	}
	return region.Region{}, false
}
