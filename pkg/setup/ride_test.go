package setup

import (
	"math"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// TestRidesCutTheGroove: the bit that follows all the rides cuts nothing outside
// the groove, and leaves what no bit reaches and no more. Each ride goes clockwise
// round its track, as the trade has it (the wall on the left), begins near the
// cut's first place, and keeps the rider's radius from the walls.
func TestRidesCutTheGroove(t *testing.T) {
	for _, name := range append(jobs, "rosette.toml") {
		t.Run(name, func(t *testing.T) {
			d := pictures(t, name)
			rides := Rides(d.groove, d.set, geom.Identity())
			if len(rides) != len(d.list) {
				t.Fatalf("%d rides of %d set-ups", len(rides), len(d.list))
			}
			size := d.groove.Size
			ideal := d.groove.Area()
			var cut []region.Region
			for i, r := range rides {
				if r.Number != i+1 || r.Outline.Area() <= 0 {
					t.Errorf("ride %d is numbered %d, its outline has the area %g", i+1, r.Number, r.Outline.Area())
				}
				for i, way := range r.Ways {
					track := r.Tracks[i].Cut
					opening := region.New(way.Opening)
					if way.Path.Area() > 1e-9 {
						t.Errorf("%s is ridden counter-clockwise", track.Name)
					}
					for _, e := range way.Path.Edges() {
						if d := opening.BoundaryDist(e.Mid()); math.Abs(d-size.RiderRadius) > 1e-6 || !opening.Contains(e.Mid()) {
							t.Errorf("%s: the rider's centre is %g mm from the wall, not %g", track.Name, d, size.RiderRadius)
						}
					}
					cut = append(cut, region.Stroke(way.Path, size.Bit/2))
				}
			}
			all := region.Union(cut...)
			// Between the walls a bit under half the groove's width leaves a ridge;
			// no job here has one.
			if over := region.Subtract(all, ideal.Grow(1e-6)); !over.Empty() {
				t.Errorf("%g mm2 outside the groove", over.Area())
			}
			if left := region.Subtract(ideal.Open(size.Bit/2), all.Grow(1e-3)); !left.Empty() {
				t.Errorf("%g mm2 are left that the bit reaches", left.Area())
			}
		})
	}
}

// TestRideBeginsAtTheCut: a ride starts where its cut does, give or take the play.
func TestRideBeginsAtTheCut(t *testing.T) {
	d := pictures(t, "looped-triangle.toml")
	for _, r := range Rides(d.groove, d.set, geom.Identity()) {
		for i, track := range r.Tracks {
			line := r.Position.Similarity().Contour(d.set.Panels[0].Openings[i].Cut.Line)
			if gap := r.Ways[i].Path.Start().Dist(line.Start()); gap > 2*d.groove.Size.Offset()+geom.Coincident {
				t.Errorf("set-up %d, %s begins %g mm from its cut's first place", r.Number, track.Cut.Name, gap)
			}
		}
	}
}
