package plan

// The symmetry of a motif, found from its curves, whatever the job says of
// copies: the turns, and the turnings over, that lay it on itself.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
)

// mostTurns is the finest turning that is looked for. A round of more equal
// parts exists, but no frame has that many sides.
const mostTurns = 36

// ringTurns is the turning of a motif that has every turn: concentric rings.
const ringTurns = 12

// Symmetry returns the positions in which the motif lies on itself to within
// motif.Same, the unturned one first, then by angle, turned-over ones last.
// flips says whether turning over counts.
func Symmetry(m motif.Motif, flips bool) []Orientation {
	c := newCurves(m)
	n := c.turns()
	var all []Orientation
	for k := range n {
		all = append(all, Orientation{TurnDeg: 360 * float64(k) / float64(n)})
	}
	if !flips {
		return all
	}
	if axis, ok := c.mirror(n); ok {
		for k := range n {
			all = append(all, Orientation{TurnDeg: normalDegrees(axis + 360*float64(k)/float64(n)), Flip: true})
		}
	}
	return all
}

// normalDegrees brings an angle into [0, 360).
func normalDegrees(d float64) float64 {
	d = math.Mod(d, 360)
	if d < 0 {
		d += 360
	}
	return d
}

// curves are the centre lines of a motif with an index.
type curves struct {
	edges []geom.Edge
	index geom.Index
	rings bool // every edge lies on a full circle about the origin
}

func newCurves(m motif.Motif) curves {
	c := curves{rings: true}
	var boxes []geom.Box
	for _, s := range m.Strands {
		for i := range s.Contour.Len() {
			e := s.Contour.Edge(i)
			c.edges = append(c.edges, e)
			boxes = append(boxes, e.Bounds())
		}
		c.rings = c.rings && isRing(s.Contour)
	}
	c.index = geom.NewIndex(boxes)
	return c
}

// isRing reports whether c is a circle about the origin.
func isRing(c geom.Contour) bool {
	if !c.Closed {
		return false
	}
	r := c.Start().Norm()
	for i := range c.Len() {
		e := c.Edge(i)
		if e.IsLine() || e.Center().Norm() > motif.Same || math.Abs(e.Radius()-r) > motif.Same {
			return false
		}
	}
	return true
}

// holds reports whether p is on one of the curves.
func (c curves) holds(p geom.Point) bool {
	on := false
	c.index.Search(geom.Box{Min: p, Max: p}.Expand(motif.Same), func(i int) bool {
		on = c.edges[i].Dist(p) <= motif.Same
		return !on
	})
	return on
}

// Off is how far in mm the motif, laid in a position that is a symmetry of it,
// is off itself at most: 0 but for rounding where its copies are exact. What a shift takes
// beyond the motif's ends is on nothing, and counts for nothing.
func Off(m motif.Motif, p Orientation) float64 {
	c, most, same := newCurves(m), 0.0, motif.Same
	if p.Shifted() {
		same = samePitch
	}
	for _, e := range c.edges {
		for _, f := range tried {
			at, least := p.Similarity().Apply(e.At(f)), same
			c.index.Search(geom.Box{Min: at, Max: at}.Expand(same), func(i int) bool {
				least = math.Min(least, c.edges[i].Dist(at))
				return true
			})
			if least < same || !p.Shifted() {
				most = math.Max(most, least)
			}
		}
	}
	return most
}

// tried are the places of a curve that are tried for whether it lies on another.
var tried = [7]float64{0, 0.09, 0.31, 0.5, 0.69, 0.91, 1}

// symmetric reports whether t lays every curve on the motif. Seven points of
// each are tried: a line or circle has at most two in common with another, and
// no three others meet it in so many evenly spaced points by chance.
func (c curves) symmetric(t geom.Similarity) bool {
	for _, e := range c.edges {
		for _, f := range tried {
			if !c.holds(t.Apply(e.At(f))) {
				return false
			}
		}
	}
	return true
}

// turns is the number of turns, of 360 degrees over it, that lay the motif on
// itself.
func (c curves) turns() int {
	if c.rings {
		return ringTurns
	}
	for n := mostTurns; n > 1; n-- {
		if c.symmetricTurns(n) {
			return n
		}
	}
	return 1
}

// symmetricTurns reports whether every n-th of a turn lays the motif on itself:
// where one does nearly, what it is off adds up.
func (c curves) symmetricTurns(n int) bool {
	for k := 1; k < n; k++ {
		if !c.symmetric(geom.TurningFraction(k, n)) {
			return false
		}
	}
	return true
}

// mirror returns the turn in degrees that, after turning over in the y axis,
// lays the motif on itself; the others follow by the n turns.
func (c curves) mirror(n int) (float64, bool) {
	if c.rings {
		return 0, true
	}
	// Some point furthest from the origin must come to lie on another such
	// point; circles about the origin have no such points.
	var far []geom.Point
	most := 0.0
	for _, e := range c.edges {
		p := furthestFromOrigin(e)
		switch d := p.Norm(); {
		case !e.IsLine() && e.Center().Norm() <= motif.Same:
		case d > most+motif.Same:
			far, most = []geom.Point{p}, d
		case d > most-motif.Same:
			far = append(far, p)
		}
	}
	if len(far) == 0 {
		return 0, c.symmetric(geom.MirrorY())
	}
	flipped := geom.MirrorY().Apply(far[0])
	for _, p := range far {
		turn := normalDegrees((p.Angle() - flipped.Angle()) * 180 / math.Pi)
		turn = snapped(turn, n)
		if c.symmetric(Orientation{TurnDeg: turn, Flip: true}.Similarity()) {
			return turn, true
		}
	}
	return 0, false
}

// snapped is the angle, or the multiple of half a turn of the motif that is
// next to it if it differs by rounding only.
func snapped(degrees float64, n int) float64 {
	half := 180 / float64(n)
	if k := math.Round(degrees / half); math.Abs(degrees-k*half) < 1e-7 {
		return normalDegrees(k * half)
	}
	return degrees
}

// furthestFromOrigin is the point of e with the greatest distance from the origin.
func furthestFromOrigin(e geom.Edge) geom.Point {
	best := e.A
	if e.B.Norm() > best.Norm() {
		best = e.B
	}
	if e.IsLine() || e.Center().Norm() == 0 {
		return best
	}
	p := e.Center().Add(e.Center().Unit().Scale(e.Radius()))
	if t := e.Param(p); t > 0 && t < 1 && p.Norm() > best.Norm() {
		best = p
	}
	return best
}
