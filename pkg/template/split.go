package template

// Panels that are larger than the cutting machine's bed are cut in two: along a
// straight line that keeps clear of all openings, joined by loose keys in the
// wall and by the floor that is glued under both.

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

const (
	splitStep  = 2.0  // mm, between lines and places that are tried
	splitKeys  = 2    // that a joint needs so that it can't turn
	splitApart = 60.0 // mm, least distance between them
	wholeWidth = 1000 // mm across a joint, that makes its keys the largest there are
)

// A Split is a panel's joint, where it is made in two parts.
type Split struct {
	Across geom.Point      // unit normal of the joint's line
	Dist   float64         // of that line from the motif's origin, along Across
	Joints []fixture.Joint // its keys
	key    fixture.JointKey
}

// Part reports on which side of the line a point is: 0 against Across, 1 along.
func (s Split) Part(p geom.Point) int {
	if p.Dot(s.Across) > s.Dist {
		return 1
	}
	return 0
}

// split finds the joint nearest to the middle that leaves two parts that fit
// the bed and web mm of wood round every opening. It is nil if there is none.
func (p Panel) split(s fixture.Shape, bed [2]float64, web float64, key fixture.JointKey) *Split {
	var all []Split
	for _, u := range []geom.Point{s.Sides[0].Out.Left(), s.Sides[0].Out} {
		lo, hi := -fixture.Reach(p.Outline, u.Scale(-1)), fixture.Reach(p.Outline, u)
		for d := lo + splitStep; d < hi; d += splitStep {
			all = append(all, Split{Across: u, Dist: d, key: key})
		}
	}
	mid := s.Centre()
	slices.SortStableFunc(all, func(a, b Split) int {
		return cmp.Compare(math.Abs(a.Dist-mid.Dot(a.Across)), math.Abs(b.Dist-mid.Dot(b.Across)))
	})
	for _, c := range all {
		if !p.splitClear(c, web) {
			continue
		}
		c.Joints = p.splitJoints(c, web)
		if len(c.Joints) < splitKeys {
			continue
		}
		ok := true
		for _, h := range c.halves(region.New(p.Outline)) {
			ok = ok && len(h.Loops()) == 1 && fixture.FitsBed(h.Loops()[0], bed)
		}
		if ok {
			return &c
		}
	}
	return nil
}

// splitClear reports whether no opening comes within web of the line.
func (p Panel) splitClear(s Split, web float64) bool {
	for _, o := range p.Openings {
		for _, l := range o.Area.Loops() {
			above, below := fixture.Reach(l, s.Across), -fixture.Reach(l, s.Across.Scale(-1))
			if above > s.Dist-web && below < s.Dist+web {
				return false
			}
		}
	}
	return true
}

// splitJoints finds the two places for keys on the line that are furthest apart.
func (p Panel) splitJoints(s Split, web float64) []fixture.Joint {
	along := s.Across.Left()
	panel := region.New(p.Outline)
	reach := s.key.Half() + web
	var free []geom.Point
	for t := -fixture.Reach(p.Outline, along.Scale(-1)) + reach; t <= fixture.Reach(p.Outline, along)-reach; t += splitStep {
		at := s.Across.Scale(s.Dist).Add(along.Scale(t))
		if panel.Contains(at) && panel.BoundaryDist(at) >= reach && p.clearOf(at, reach) {
			free = append(free, at)
		}
	}
	if len(free) < 2 || free[0].Dist(free[len(free)-1]) < splitApart {
		return nil
	}
	return []fixture.Joint{{At: free[0], Along: along}, {At: free[len(free)-1], Along: along}}
}

// across is the joint's line, so long that it goes right through a box; along it
// Across is on the right.
func (s Split) across(box geom.Box) geom.Edge {
	long := box.Size().Norm() + math.Abs(s.Dist) + box.Center().Norm()
	along, on := s.Across.Left().Scale(long), s.Across.Scale(s.Dist)
	return geom.Line(on.Sub(along), on.Add(along))
}

// halves cuts an area of the panel along its joint.
func (s Split) halves(area region.Region) [2]region.Region {
	line := s.across(area.Bounds())
	far := s.Across.Scale(line.Length() / 2)
	beyond := region.New(geom.Polygon(line.A, line.B, line.B.Add(far), line.A.Add(far)))
	return [2]region.Region{region.Subtract(area, beyond), region.Intersect(area, beyond)}
}

// recesses is what the keys take from a wall.
func (s Split) recesses() region.Region {
	var all []region.Region
	for _, j := range s.Joints {
		all = append(all, s.key.Recess(j))
	}
	return region.Union(all...)
}

// jointWide is how wide in mm a joint between two parts is taken to be.
const jointWide = 0.2

// Fixings is what is cut into both layers of a panel besides its openings: the
// holes for dowels, and its joint with the recesses for keys.
func (p Panel) Fixings() []region.Region {
	var list []region.Region
	for _, at := range p.Dowels {
		list = append(list, region.Disc(at, dowelRadius))
	}
	if s := p.Split; s != nil {
		line := s.across(p.Outline.Bounds())
		list = append(list, s.recesses(), region.Stroke(geom.Chain(false, line), jointWide/2))
	}
	return list
}
