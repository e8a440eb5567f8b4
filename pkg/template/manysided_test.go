package template

import (
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/profile"
	"strapwork/pkg/sheet"
)

// TestFramesOfManySides draws a frame, and the panels' outline, for every number
// of turns that is looked for, round openings of many sizes: sheets that a machine
// can cut, or a finding where a frame's gap would take whole sides.
func TestFramesOfManySides(t *testing.T) {
	j, g := read(t, cross+inlay+base)
	for turns := 1; turns <= mostSides; turns++ {
		for _, reach := range []float64{15, 40, 120} {
			for _, frame := range []float64{8, 20, 60} {
				j.Template.Frame = frame
				shape := newShape(symmetry{turns: turns}, []region.Region{region.Disc(geom.Pt(0, 0), reach)}, 12)
				try := Set{Shape: shape}
				if !try.frameFits(j) {
					if turns < 12 || len(try.Found) != 1 || try.Found[0].Hint == "" {
						t.Errorf("%d turns, openings of %g mm: no frame, %v", turns, reach, try.Found)
					}
					continue
				}
				f := newFrame(j, g.Size, shape, nil, profile.Plain())
				p := Panel{ID: "A", Positions: symmetry{turns: turns}.positions()}
				p.Outline = f.Key.notched(shape, p.Positions)
				set := Set{Panels: []Panel{p}, Shape: shape, Frame: f}
				for _, part := range set.Parts(j, g.Size, 0) {
					if faults := sheet.Check(part.Sheet); len(faults) > 0 && !f.found.HasErrors() {
						t.Errorf("%d turns, openings of %g mm, frame %g: %s: %v", turns, reach, frame, part.Sheet.Name, faults)
					}
				}
			}
		}
	}
}
