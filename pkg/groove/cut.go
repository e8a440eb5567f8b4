package groove

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// StopKind says why a cut ends where it does.
type StopKind int

const (
	// StopFree is the strand's own end.
	StopFree StopKind = iota
	// StopCorner is a sharp corner of the strand.
	StopCorner
	// StopTee is the strand's end on another strand.
	StopTee
	// StopSplit is a split of a smooth chain.
	StopSplit
)

// String is the kind's word in reports.
func (k StopKind) String() string {
	switch k {
	case StopFree:
		return "free end"
	case StopCorner:
		return "corner"
	case StopTee:
		return "tee"
	case StopSplit:
		return "split"
	}
	return "unknown"
}

// A Stop is an end of a cut.
type Stop struct {
	Kind   StopKind
	S      float64 // distance along the strand
	At     geom.Point
	Hidden bool // a split under another strand, whose strips hide the step
	corner int  // index of the corner in the strand's list
}

// A Cut is a stretch of a strand that is made in one go: down, forward along
// one wall, back along the other, up.
type Cut struct {
	Name     string // the element's when the cut is one whole element, else strand and number
	Strand   int
	From, To Stop
	Line     geom.Contour  // the centre line, from the bit's first place to its last
	Centre   region.Region // C, where the bit's centre may go; empty when the size is thin
}

// Length is the distance in mm along the cut's centre line.
func (c Cut) Length() float64 { return c.Line.Length() }

// newCut returns the stretch of a strand between two stops, with C.
func (g *Groove) newCut(strand int, from, to Stop) Cut {
	c := Cut{Strand: strand, From: from, To: to}
	s := g.Motif.Strands[strand].Contour
	a, b := from.S+g.inset(strand, from, false), to.S-g.inset(strand, to, true)
	if b-a <= 0 {
		return c // shorter than the bit: nothing can be cut
	}
	c.Line = s.Sub(a, b)
	if g.Size.Thin() {
		return c
	}
	k := g.Size.Play()
	parts := g.runs(strand, from, to, c.Line, k)
	for i, stop := range [2]Stop{from, to} {
		if stop.Kind == StopCorner {
			parts = append(parts, g.overrun(g.corners[strand][stop.corner], i == 1))
		}
	}
	c.Centre = region.Union(parts...)
	for i, stop := range [2]Stop{from, to} {
		if stop.Kind == StopCorner || stop.Kind == StopTee {
			c.Centre = g.guarded(c, stop, i == 1)
		}
	}
	return c
}

// inset is how far short of a stop the bit's centre line ends; negative past it.
func (g *Groove) inset(strand int, stop Stop, last bool) float64 {
	k, d := g.Size.Play(), 0.0
	switch stop.Kind {
	case StopFree:
		d = g.Size.Bit / 2
	case StopSplit:
		return -pastSplit
	case StopCorner, StopTee:
	}
	if !g.Size.Thin() {
		return d
	}
	// The rounded end of half-width k stays behind the flat that it replaces.
	if stop.Kind == StopCorner {
		past := k / math.Tan(g.corners[strand][stop.corner].Included()/2)
		return math.Max(0, k-past)
	}
	return d + k
}

// runs returns the bands at distance k of a stretch's smooth runs, and the
// outsides of the corners that it turns.
func (g *Groove) runs(strand int, from, to Stop, line geom.Contour, k float64) []region.Region {
	var parts []region.Region
	var run []geom.Edge
	flush := func() {
		if run != nil {
			parts = append(parts, band(geom.Chain(false, run...), k))
			run = nil
		}
	}
	for i := range line.Len() {
		e := line.Edge(i)
		if n := len(run); n > 0 {
			u, v := run[n-1].Tangent(1), e.Tangent(0)
			if math.Abs(math.Atan2(u.Cross(v), u.Dot(v))) > smoothTurn {
				flush()
			}
		}
		run = append(run, e)
	}
	flush()
	for _, c := range g.corners[strand] {
		if g.turns(strand, from, to, c) {
			if kite, ok := c.kite(k); ok {
				parts = append(parts, kite)
			}
		}
	}
	return parts
}

// smoothTurn is the angle in radians by which a run's direction may change at
// a joint without a mitre: the motif's limit for a smooth joint, and room for
// rounding.
const smoothTurn = 2e-4

// turns reports whether corner c lies within the stretch, away from its ends.
func (g *Groove) turns(strand int, from, to Stop, c Corner) bool {
	s := c.S
	if g.Motif.Strands[strand].Contour.Closed {
		l := g.Motif.Strands[strand].Length()
		s += l * math.Ceil((from.S-s)/l)
	}
	return s > from.S+geom.Coincident && s < to.S-geom.Coincident
}

// overrun is the part of C that lies past a corner: the arm's band, continued
// by its tangent or circle, up to the other arm's outer side at distance k or
// to the normal through T, whichever comes first. last tells the arm that
// runs into the corner from the one that leaves it.
func (g *Groove) overrun(c Corner, last bool) region.Region {
	k := g.Size.Play()
	if !last {
		c = c.reversed()
	}
	t, _, _, ok := c.meeting(k, mitreLimit*g.Size.Width)
	if !ok {
		return region.Region{}
	}
	past := c.In.Param(t) - 1
	if past <= 0 {
		return region.Region{}
	}
	ahead := band(geom.Chain(false, c.In.Part(1, 1+past)), k)
	side := c.Out.Shift(c.outer() * k)
	return within(ahead, side, -c.outer())
}

// reversed is the corner run the other way.
func (c Corner) reversed() Corner {
	c.In, c.Out = c.Out.Reverse(), c.In.Reverse()
	return c
}

// within returns the part of r that lies on one side of the whole line or
// circle of e: on its left for side > 0, on its right for side < 0.
func within(r region.Region, e geom.Edge, side float64) region.Region {
	if e.Bulge != 0 {
		disc := region.Disc(e.Center(), e.Radius())
		if e.Bulge*side > 0 {
			return region.Intersect(r, disc)
		}
		return region.Subtract(r, disc)
	}
	box := r.Bounds()
	far := box.Size().Norm() + e.Chord() + box.Dist(e.A)
	u := e.Tangent(0)
	n := u.Left().Scale(side * 2 * far)
	a, b := e.A.Sub(u.Scale(2*far)), e.A.Add(u.Scale(2*far))
	return region.Intersect(r, region.New(geom.Polygon(a, b, b.Add(n), a.Add(n))))
}

// guarded returns C less what, near a corner or a tee, lies nearer than b/2 to
// the groove's walls: where an arm is short or much bent, its overrun could
// leave the groove.
func (g *Groove) guarded(c Cut, stop Stop, last bool) region.Region {
	reach := 2 * mitreLimit * g.Size.Width
	zone := region.Intersect(c.Centre, region.New(geom.Rect(geom.Box{Min: stop.At, Max: stop.At}.Expand(reach))))
	allowed := g.Around(zone.Bounds().Expand(g.Size.Bit)).Shrink(g.Size.Bit / 2)
	bad := region.Subtract(zone, allowed)
	if bad.Empty() {
		return c.Centre
	}
	left := region.Subtract(c.Centre, bad).Pieces()
	if len(left) == 0 {
		return region.Region{}
	}
	return left[0]
}
