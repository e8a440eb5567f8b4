package groove

// Whether a rider can follow a cut: the closing test.
//
// The template's opening is C grown by the rider's radius r, or, where the bit
// fills the groove, the centre line grown by H with round ends. What the
// opening lets the bit cut is the opening shrunk by r and grown by b/2. The
// rider follows when that exceeds the groove by no more than Overcut, and the
// opening, grown by half a web, has no hole: then what stands inside the
// opening's bend is held by at least a web of wood.

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// Opening returns the template opening of a cut.
func (g *Groove) Opening(c Cut) region.Region { return g.Size.opening(c) }

func (s Size) opening(c Cut) region.Region {
	if s.Thin() {
		return region.Stroke(c.Line, s.Reach())
	}
	return c.Centre.Grow(s.RiderRadius)
}

// Swept returns what the rider lets the bit cut in an opening, with the bit
// taken spare narrower all round. Where the bit fills the groove the rider has
// next to no room, and a rider's place is lost in rounding: then it is the
// opening shrunk by r - b/2, which holds every cut.
func (s Size) Swept(opening region.Region, spare float64) region.Region {
	if s.Thin() {
		return opening.Shrink(s.RiderRadius - s.Bit/2 + spare)
	}
	return opening.Shrink(s.RiderRadius).Grow(s.Bit/2 - spare)
}

// follows reports whether the rider can follow c.
func (g *Groove) follows(c Cut) bool {
	if c.Line.Len() == 0 || (c.Centre.Empty() && !g.Size.Thin()) {
		return false
	}
	if convex(c.Centre) || (g.Size.Thin() && c.Line.Len() == 1 && c.Line.Edge(0).IsLine()) {
		return true // what is convex is its own closing
	}
	if reported := g.followsRing(c); reported != unknown {
		return reported == yes
	}
	return g.closes(c)
}

// closes reports whether the opening of c holds what stands inside its bend, and is
// no more than c when it is shrunk again.
func (g *Groove) closes(c Cut) bool {
	opening := g.Size.opening(c)
	if len(opening.Loops()) != 1 || len(opening.Grow(g.Size.Web/2).Loops()) != 1 {
		return false
	}
	return region.Subtract(g.Size.Swept(drawnAs(opening), planned), g.Size.meant(c)).Empty()
}

// drawnAs is an opening as it can be drawn. What it has of tiny edges, where a
// strand turns slightly or the wall inside an arc all but comes to a point, is
// drawn together.
func drawnAs(opening region.Region) region.Region {
	loops := slices.Clone(opening.Loops())
	changed := false
	for i, l := range loops {
		if slices.ContainsFunc(l.Edges(), func(e geom.Edge) bool { return e.Length() < 2*leastArc }) {
			loops[i], changed = l.Welded(leastArc), true
		}
	}
	if !changed {
		return opening
	}
	return region.New(loops...)
}

// leastArc is the length in mm of the shortest arc that an outline can have:
// machines stop or burn at shorter ones.
const leastArc = 0.01

// Follows reports whether the rider can follow c, and what stands inside its
// opening's bend is held by a web of wood.
func (g *Groove) Follows(c Cut) bool { return g.follows(c) }

// Conflict reports whether the openings of two cuts would come nearer to one
// another than the web, so that they can't share a panel.
func (g *Groove) Conflict(c, d Cut) bool {
	return Nearer(g.bounds(c), g.bounds(d), g.Apart())
}

// Apart is the least distance between the swaths of two cuts on one panel.
func (g *Groove) Apart() float64 {
	if g.Size.Thin() {
		return 2*g.Size.Reach() + g.Size.Web
	}
	return 2*g.Size.RiderRadius + g.Size.Web
}

// bounds are the edges that bound the places of the bit's centre in a cut.
func (g *Groove) bounds(c Cut) []geom.Edge {
	if g.Size.Thin() {
		return c.Line.Edges()
	}
	var edges []geom.Edge
	for _, l := range c.Centre.Loops() {
		edges = append(edges, l.Edges()...)
	}
	return edges
}

// meant is what the bit takes away when its centre stays in C: within the
// groove, by the making of C.
func (s Size) meant(c Cut) region.Region {
	if s.Thin() {
		return region.Stroke(c.Line, s.Width/2)
	}
	return c.Centre.Grow(s.Bit / 2)
}

// convex reports whether r is in one piece and convex.
func convex(r region.Region) bool {
	if len(r.Loops()) != 1 {
		return false
	}
	c := r.Loops()[0]
	for i := range c.Len() {
		e, f := c.Edge(i), c.Edge((i+1)%c.Len())
		if e.Bulge < 0 || e.Tangent(1).Cross(f.Tangent(0)) < -straightSine {
			return false
		}
	}
	return true
}

// straightSine is the sine of a turn that is nothing but rounding: over the
// largest rider it moves a wall by far less than Coincident.
const straightSine = 1e-10

// largestRiderRadius is the greatest rider radius, between half the bit and the
// given one, with which the stretch can be followed, to a hundredth of a
// millimetre; 0 if none can.
func (g *Groove) largestRiderRadius(strand int, from, to Stop) float64 {
	smaller := *g
	works := func(r float64) bool {
		smaller.Size.RiderRadius = r
		return smaller.follows(smaller.Stretch(strand, from, to))
	}
	lo, hi := g.Size.Bit/2, g.Size.RiderRadius
	if !works(lo) {
		return 0
	}
	for hi-lo > 0.005 {
		if mid := (lo + hi) / 2; works(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	// A nose that is too slender to be drawn costs some riders more than larger
	// ones, so the rounded value is tried itself.
	for r := math.Floor(lo*200) / 200; r > g.Size.Bit/2; r -= 0.005 {
		if works(r) {
			return r
		}
	}
	return g.Size.Bit / 2
}

// cornerOvercut is the depth by which a rider rounds the inside of a corner
// with included angle t when one cut turns it: the closing of two straights
// has a fillet of radius r - b/2 there (derived).
func (s Size) cornerOvercut(t float64) float64 {
	return (s.RiderRadius - s.Bit/2) * (1/math.Sin(t/2) - 1)
}

// kinkOvercut is the same where two edges, straight or curved, meet in a slight
// turn. On either side of it the rider touches the wall where the two part by
// the depth d: at x = sqrt(2 d / a), where a is what the fillet, of radius
// r - b/2, is more curved than the wall; and the two directions there differ by
// a x1 + b x2, which is the turn. So d = turn^2 / 2 (sqrt a + sqrt b)^2. Where
// the wall is as curved as the fillet it is the edges' length that bounds it
// (derived).
func (s Size) kinkOvercut(c Corner) float64 {
	fillet, turn := s.RiderRadius-s.Bit/2, math.Abs(c.Turn())
	if fillet <= 0 || turn == 0 {
		return 0
	}
	spare := func(e geom.Edge) float64 {
		wall := e.Shift(-c.outer()*s.Width/2).Curvature() * -c.outer()
		return math.Sqrt(math.Max(0, 1/fillet-wall))
	}
	most := turn * math.Min(c.In.Length(), c.Out.Length())
	if sum := spare(c.In) + spare(c.Out); sum > 0 {
		return math.Min(most, turn*turn/(2*sum*sum))
	}
	return most
}

// mustSplit reports whether one cut that turns a corner would go too deep.
func (s Size) mustSplit(c Corner) bool {
	return math.Max(s.cornerOvercut(c.Included()), s.kinkOvercut(c)) > planned
}

// slightShare is the share of the overcut that one kink alone may take and not
// be a place to split at: five kinks beside one another cut as deep as one of
// five times the turn, 25 times as deep.
const slightShare = 25

// planned is the overcut in mm that cuts are planned with: a little is left for
// the decimals of a drawing.
const planned = 0.9 * Overcut

// tightArc reports whether an arc of the strand can't be followed even alone.
func (g *Groove) tightArc(strand, edge int) bool {
	e := g.Motif.Strands[strand].Contour.Edge(edge)
	if e.Bulge == 0 || e.Radius() >= g.Size.Reach()+drawableNose {
		return false
	}
	// Both ends drawn back, so that the arc is judged by its own inner side.
	c := Cut{Strand: strand, Line: geom.Chain(false, e)}
	if !g.Size.Thin() {
		c.Centre = band(c.Line, g.Size.Offset())
	}
	return !g.follows(c)
}

// drawableNose is the radius in mm of the wall inside an arc from which on a rider
// can follow it in whatever parts: an arc that is just too short to be drawn, of
// leastArc, is leastArc^2 / 8 radius high, and drawn as a point it loses that.
const drawableNose = leastArc * leastArc / (8 * planned)

// largestRiderDiameter is the greatest rider diameter in thousandths of a millimetre, rounded
// down, that an arc can be followed by, and every lesser one too.
func (s Size) largestRiderDiameter(e geom.Edge) float64 {
	return math.Floor(2*(e.Radius()-drawableNose-s.Offset())*1000) / 1000
}

// Swath returns the edges that bound the places of the bit's centre along a
// stretch of centre line: what openings are as far apart as, less a rider's
// radius on each side. Where the bit fills the groove it is the line itself,
// and the openings' walls are H from it.
func (g *Groove) Swath(line geom.Contour) []geom.Edge {
	if g.Size.Thin() {
		return line.Edges()
	}
	return bandContour(line, g.Size.Offset()).Edges()
}

// Nearer reports whether some edge of a is nearer than d to some edge of b.
func Nearer(a, b []geom.Edge, d float64) bool {
	for _, e := range a {
		for _, f := range b {
			if geom.Gap(e, f) < d-geom.Coincident {
				return true
			}
		}
	}
	return false
}
