package template

import (
	"testing"

	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/internal/made"
	"strapwork/pkg/plan"
)

// board is a panel of the given corners with round openings.
func board(min, max geom.Point, openings ...region.Region) (Panel, fixture.Shape) {
	s := fixture.NewShape([]plan.Orientation{{}}, []region.Region{region.New(geom.Rect(geom.Box{Min: min, Max: max}))}, 0)
	p := Panel{ID: "A", Positions: []plan.Orientation{{}}, Outline: s.Polygon()}
	for _, o := range openings {
		p.Openings = append(p.Openings, Opening{Area: o})
	}
	return p, s
}

// Joints by hand. A joint keeps the web of 10 mm from openings, as near to the middle
// as it can on a grid of 2 mm from the edge. Its keys, of two discs of 12 mm whose
// middles are 9.6 mm from it, keep the web from all edges: they are 31.6 mm from the
// outline and the openings, as far apart as can be, and 60 mm at least.
func TestJoints(t *testing.T) {
	disc := func(x float64) region.Region { return region.Disc(geom.Pt(x, 0), 40) }
	for _, c := range []struct {
		name     string
		min, max geom.Point
		openings []region.Region
		bed      [2]float64
		dist     float64
		keys     float64 // how far from the middle of the joint the keys may be
		none     bool
	}{
		{"in the middle", geom.Pt(-200, -100), geom.Pt(200, 100), nil, [2]float64{250, 250}, 0, 68.4, false},
		{"off the origin", geom.Pt(-150, -100), geom.Pt(250, 100), nil, [2]float64{250, 250}, 50, 68.4, false},
		{"left of an opening", geom.Pt(-200, -100), geom.Pt(200, 100), []region.Region{disc(-120), disc(30)}, [2]float64{250, 250}, -20, 68.4, false},
		{"right of an opening", geom.Pt(-200, -100), geom.Pt(200, 100), []region.Region{disc(120), disc(-30)}, [2]float64{250, 250}, 20, 68.4, false},
		{"too narrow for two keys", geom.Pt(-200, -55), geom.Pt(200, 55), nil, [2]float64{250, 250}, 0, 0, true},
		{"just wide enough", geom.Pt(-200, -65), geom.Pt(200, 65), nil, [2]float64{250, 250}, 0, 33.4, false},
		{"the bed is too small for a half", geom.Pt(-200, -100), geom.Pt(200, 100), nil, [2]float64{195, 300}, 0, 0, true},
		{"a half doesn't fit beside the openings", geom.Pt(-200, -100), geom.Pt(200, 100), []region.Region{disc(-120), disc(30)}, [2]float64{210, 210}, 0, 0, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, shape := board(c.min, c.max, c.openings...)
			s := p.split(shape, c.bed, 10, fixture.NewJointKey(wholeWidth, 3))
			if s == nil || c.none {
				if (s == nil) != c.none {
					t.Errorf("the joint is %+v", s)
				}
				return
			}
			if s.Across != geom.Pt(1, 0) || len(s.Joints) != 2 {
				t.Fatalf("across %v, %d keys", s.Across, len(s.Joints))
			}
			made.Near(t, "joint", s.Dist, c.dist, 1e-9)
			for i, way := range []float64{-1, 1} {
				at := s.Joints[i].At
				made.Near(t, "key off the joint", at.X, c.dist, 1e-9)
				// Places are 2 mm apart.
				made.Near(t, "key's place", way*at.Y, c.keys-1, 1+1e-9)
			}
			halves := s.halves(region.New(p.Outline))
			made.Near(t, "first half", halves[0].Area(), (c.dist-c.min.X)*(c.max.Y-c.min.Y), 1e-6)
			made.Near(t, "second half", halves[1].Area(), (c.max.X-c.dist)*(c.max.Y-c.min.Y), 1e-6)
			left, right := geom.Pt(c.dist-1, 0), geom.Pt(c.dist+1, 0)
			if s.Part(left) != 0 || s.Part(right) != 1 || !halves[0].Contains(left) || !halves[1].Contains(right) {
				t.Error("the halves are exchanged")
			}
			if n := (Set{Panels: []Panel{{Split: s}, {}, {Split: s}}}).jointKeys(9); len(n) != 1 || n[0].Quantity != 4 {
				t.Errorf("two panels in two parts have the keys %v", n)
			}
		})
	}
}
