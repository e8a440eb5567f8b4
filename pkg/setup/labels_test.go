package setup

import (
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/geom"
)

// TestNumbersHideNothing: no number covers another, an arrow drawn before it, or an end
// of another cut; nor, in the first two jobs, which have room, a groove of another strand.
func TestNumbersHideNothing(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	for _, name := range []string{"hall-table.toml", "looped-triangle.toml", "box-lid.toml", "rosette.toml"} {
		d := pictures(t, name)
		roomy := slices.Contains([]string{"hall-table.toml", "looped-triangle.toml"}, name)
		for i, p := range d.list {
			made, n := d.set.Plan.SetUps[i].Made(), 0
			var arrows, numbers []geom.Point
			for _, f := range p.Fills {
				box := geom.EmptyBox()
				for _, c := range f.Loops {
					box = box.Join(c.Bounds())
				}
				middle, radius := box.Center(), box.Size().X/2
				switch {
				case f.Label == "way of travel":
					for _, v := range f.Loops[0].Vertices {
						arrows = append(arrows, v.Point)
					}
				case strings.HasPrefix(f.Label, "cut number ") && n < len(made):
					hides := func(q geom.Point, wide float64) bool { return middle.Dist(q) < radius+wide }
					if slices.ContainsFunc(arrows, func(q geom.Point) bool { return hides(q, 0) }) {
						t.Errorf("%s, set-up %d: %s covers an arrow", name, i+1, f.Label)
					}
					if slices.ContainsFunc(numbers, func(q geom.Point) bool { return hides(q, radius) }) {
						t.Errorf("%s, set-up %d: %s covers another number", name, i+1, f.Label)
					}
					for k, track := range made {
						if k != n && (hides(track.Start(), startRadius*radius/discRadius) || hides(track.End(), startRadius*radius/discRadius)) {
							t.Errorf("%s, set-up %d: %s covers an end of cut %d", name, i+1, f.Label, k+1)
						}
					}
					for k, s := range d.groove.Motif.Strands {
						if near, _ := s.Contour.Nearest(middle); roomy && k != made[n].Cut.Strand && hides(near, d.groove.Size.Width/2) {
							t.Errorf("%s, set-up %d: %s covers %s", name, i+1, f.Label, s.ID)
						}
					}
					numbers, n = append(numbers, middle), n+1
				}
			}
			if n != len(made) {
				t.Errorf("%s, set-up %d: %d numbers of %d cuts", name, i+1, n, len(made))
			}
		}
	}
}
