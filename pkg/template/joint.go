package template

// Panels that are larger than the cutting machine's bed are made in parts, which
// butt on straight joints. Loose keys in the wall join them, and the floor, which
// is cut along the same lines, is glued under all.

import (
	"math"
	"slices"

	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// A Division is how a panel is made in parts.
type Division struct {
	Parts  []geom.Contour // the parts' places, convex and counter-clockwise: together the panel without its notches
	Joints []Joint        // in the order in which they are glued: each joins what is whole by then
	key    fixture.JointKey
}

// A Joint is one straight joint, right across what it divides.
type Joint struct {
	Line  geom.Edge
	Keys  []fixture.Joint
	Sides [2][]int // the parts to the left of the line and to its right, by their places in Division.Parts
}

// Keys is the number of keys of all joints.
func (d Division) Keys() int {
	n := 0
	for _, j := range d.Joints {
		n += len(j.Keys)
	}
	return n
}

// Part is the part that a point is in: of its place in Parts. A point on a joint is in
// either.
func (d Division) Part(p geom.Point) int {
	best, most := 0, math.Inf(-1)
	for i, c := range d.Parts {
		if in := inside(c, p); in > most {
			best, most = i, in
		}
	}
	return best
}

// inside is how far a point is within a convex polygon, from the side that it is
// nearest to; negative outside.
func inside(c geom.Contour, p geom.Point) float64 {
	least := math.Inf(1)
	for _, e := range c.Edges() {
		least = min(least, e.Tangent(0).Cross(p.Sub(e.A)))
	}
	return least
}

// add puts the parts and joints of a panel that is cut up into the division, and
// returns which parts these are.
func (d *Division) add(p piece) []int {
	if p.cut == nil {
		d.Parts = append(d.Parts, p.area)
		return []int{len(d.Parts) - 1}
	}
	joint := Joint{Line: p.cut.line, Keys: p.cut.keys}
	joint.Sides[0] = d.add(p.cut.sides[0])
	joint.Sides[1] = d.add(p.cut.sides[1])
	d.Joints = append(d.Joints, joint)
	return slices.Concat(joint.Sides[:]...)
}

// recesses is what the keys take from a wall.
func (d Division) recesses() region.Region {
	var all []region.Region
	for _, j := range d.Joints {
		for _, k := range j.Keys {
			all = append(all, d.key.Recess(k))
		}
	}
	return region.Union(all...)
}

// clear reports whether a point is at least far mm from all joints and keys.
func (d Division) clear(p geom.Point, far float64) bool {
	for _, j := range d.Joints {
		if q, _ := j.Line.Nearest(p); q.Dist(p) < far {
			return false
		}
		for _, k := range j.Keys {
			if k.At.Dist(p) < d.key.Half()+far {
				return false
			}
		}
	}
	return true
}

// jointWide is how wide in mm a joint between two parts is taken to be.
const jointWide = 0.2

// Fixings is what is cut into both layers of a panel besides its openings: the
// holes for dowels, and its joints with the recesses for keys.
func (p Panel) Fixings() []region.Region {
	var list []region.Region
	for _, at := range p.Dowels {
		list = append(list, region.Disc(at, dowelRadius))
	}
	for _, q := range p.Plates {
		list = append(list, region.New(q.Outline()))
	}
	if p.Division == nil {
		return list
	}
	list = append(list, p.Division.recesses())
	for _, j := range p.Division.Joints {
		list = append(list, region.Stroke(geom.Chain(false, j.Line), jointWide/2))
	}
	return list
}
