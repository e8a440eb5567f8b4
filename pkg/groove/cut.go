package groove

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/motif"
	"strapwork/pkg/unit"
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

var stopKindWords = [...]string{
	StopFree:   "free end",
	StopCorner: "corner",
	StopTee:    "tee",
	StopSplit:  "split",
}

// String is the kind's word in reports.
func (k StopKind) String() string { return unit.Word(stopKindWords[:], k, "stop") }

// A Stop is an end of a cut.
type Stop struct {
	Kind   StopKind
	S      float64 // distance along the strand
	At     geom.Point
	Hidden bool // a split under another strand, whose strips hide the step
	corner int  // index of the corner in the strand's list
	kink   bool // a split at a kink: an index into the strand's kinks, and the cut ends as at a corner
	sharp  bool // a split at a corner that a cut could go round, but ends at
}

// AtKink reports whether a stop is a split at a kink.
func (s Stop) AtKink() bool { return s.kink }

// shape is the kind that a stop's end has the shape of.
func (s Stop) shape() StopKind {
	if s.kink || s.sharp {
		return StopCorner
	}
	return s.Kind
}

// cornerOf is the corner, or the kink, at a stop.
func (g *Groove) cornerOf(strand int, s Stop) Corner {
	if s.kink {
		return g.kinks[strand][s.corner]
	}
	return g.corners[strand][s.corner]
}

// SplitAt is a split of a strand at a distance along it that is not less than 0
// nor more than its length. At a kink that one cut might not turn, and at a
// corner, both cuts end as at a corner.
func (g *Groove) SplitAt(strand int, s float64, hidden bool) Stop {
	st := g.Motif.Strands[strand]
	p, _ := st.Contour.At(s)
	stop := Stop{Kind: StopSplit, S: s, At: p, Hidden: hidden}
	snap := func(i int, c Corner) bool {
		for _, at := range [2]float64{c.S, c.S + st.Length()} {
			if math.Abs(at-s) <= motif.Same && (at == c.S || st.Contour.Closed) {
				stop.S, stop.At, stop.corner = at, c.P, i
				return true
			}
		}
		return false
	}
	for i, k := range g.kinks[strand] {
		stop.kink = stop.kink || snap(i, k)
	}
	for i, c := range g.corners[strand] {
		stop.sharp = stop.sharp || snap(i, c)
	}
	return stop
}

// Kinks are the distances along a strand of the kinks that a cut might have to
// be split at.
func (g *Groove) Kinks(strand int) []float64 {
	list := make([]float64, len(g.kinks[strand]))
	for i, k := range g.kinks[strand] {
		list[i] = k.S
	}
	return list
}

// A Cut is a stretch of a strand that is made in one setting down of the bit:
// along the wall on the left to its end, then back along the other.
type Cut struct {
	Name     string // the element's when the cut is one whole element, else strand and number
	Strand   int
	From, To Stop
	Line     geom.Contour  // the centre line, from the bit's first place to its last
	Centre   region.Region // C, where the bit's centre may go; empty when the size is thin
}

// Length is the distance in mm along the cut's centre line.
func (c Cut) Length() float64 { return c.Line.Length() }

// Stretch returns the cut of a strand between two stops, with C; its line is
// empty where the stretch is shorter than the bit.
func (g *Groove) Stretch(strand int, from, to Stop) Cut {
	c := Cut{Strand: strand, From: from, To: to, Line: g.centreLine(strand, from, to)}
	if c.Line.Len() == 0 || g.Size.Thin() {
		return c
	}
	s := g.Motif.Strands[strand].Contour
	a, b := g.insets(strand, from, to)
	guard := [2]bool{g.wantsGuard(strand, from, false), g.wantsGuard(strand, to, true)}
	if guard[0] {
		a = from.S
	}
	if guard[1] {
		b = to.S
	}
	k := g.Size.Offset()
	parts := g.runs(strand, from, to, s.Sub(a, b), k)
	var past [2]region.Region
	for i, stop := range [2]Stop{from, to} {
		if stop.shape() == StopCorner {
			past[i] = g.overrun(g.cornerOf(strand, stop), i == 1)
		}
	}
	c.Centre = region.Union(append(parts, past[:]...)...)
	for i, stop := range [2]Stop{from, to} {
		if guard[i] {
			bad := g.outside(c, past[i], stop, i == 1)
			c.Centre = largest(region.Subtract(c.Centre, bad))
		}
	}
	return c
}

// insets are the distances along a strand between which the bit's centre line of a
// cut runs.
func (g *Groove) insets(strand int, from, to Stop) (a, b float64) {
	return from.S + g.inset(strand, from, false), to.S - g.inset(strand, to, true)
}

// centreLine is the line of a cut between two stops; empty where that is shorter
// than the bit.
func (g *Groove) centreLine(strand int, from, to Stop) geom.Contour {
	a, b := g.insets(strand, from, to)
	if b-a <= 0 {
		return geom.Contour{}
	}
	return g.Motif.Strands[strand].Contour.Sub(a, b)
}

// largest is the largest piece of r.
func largest(r region.Region) region.Region {
	if len(r.Loops()) < 2 {
		return r
	}
	return r.Pieces()[0]
}

// wantsGuard reports whether the end of C at a stop is shaped by the groove
// round it. A straight's free end and a split are simple: flat.
func (g *Groove) wantsGuard(strand int, stop Stop, last bool) bool {
	switch stop.shape() {
	case StopFree:
		return g.endEdge(strand, last).Bulge != 0
	case StopSplit:
		return false
	case StopCorner, StopTee:
		return true
	}
	return true
}

// endEdge is the first or the last edge of a strand.
func (g *Groove) endEdge(strand int, last bool) geom.Edge {
	c := g.Motif.Strands[strand].Contour
	if last {
		return c.Edge(c.Len() - 1)
	}
	return c.Edge(0)
}

// inset is how far short of a stop the bit's centre line ends, along it;
// negative past the stop.
func (g *Groove) inset(strand int, stop Stop, last bool) float64 {
	k, d := g.Size.Offset(), 0.0
	switch stop.shape() {
	case StopFree:
		d = g.Size.Bit / 2
	case StopSplit:
		return -PastSplit
	case StopCorner, StopTee:
	}
	if g.Size.Thin() {
		// The rounded end of half-width k stays behind the flat that it replaces.
		if stop.shape() == StopCorner {
			past := k / math.Tan(g.cornerOf(strand, stop).Included()/2)
			return math.Max(0, k-past)
		}
		d += k
	}
	if e := g.endEdge(strand, last); stop.Kind == StopFree && e.Bulge != 0 && d < e.Radius() {
		d = e.Radius() * math.Asin(d/e.Radius()) // d is measured square to the flat end
	}
	return d
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
		if g.isCorner(strand, e.A) {
			flush()
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

// isCorner reports whether a vertex of a strand is one of its corners.
func (g *Groove) isCorner(strand int, p geom.Point) bool {
	return slices.ContainsFunc(g.corners[strand], func(c Corner) bool { return c.P == p })
}

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
// to the normal through T, whichever comes first. last distinguishes the arm that
// runs into the corner from the one that leaves it.
func (g *Groove) overrun(c Corner, last bool) region.Region {
	k := g.Size.Offset()
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
	return Beside(ahead, side, -c.outer())
}

// reversed is the corner run the other way.
func (c Corner) reversed() Corner {
	c.In, c.Out = c.Out.Reverse(), c.In.Reverse()
	return c
}

// Beside returns the part of r that lies on one side of the whole line or
// circle of e: on its left for side > 0, on its right for side < 0.
func Beside(r region.Region, e geom.Edge, side float64) region.Region {
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

// outside returns what, of a cut's band near a stop and of its overrun past
// it, lies nearer than b/2 to the walls of the arms that meet there: the end of
// an arc is not square to it all across, and where an arm is short or much
// bent its overrun could leave the groove. Other grooves that happen to pass
// there don't count: they would leave a notched end, which a rider can't
// follow.
func (g *Groove) outside(c Cut, past region.Region, stop Stop, last bool) region.Region {
	near, reach := mitreLimit*g.Size.Width, 2*mitreLimit*g.Size.Width
	zone := c.Line.Sub(math.Max(0, c.Line.Length()-near), c.Line.Length()+g.Size.Bit)
	back, ahead := reach, 0.0
	if !last {
		zone = c.Line.Sub(-g.Size.Bit, math.Min(near, c.Line.Length()))
		back, ahead = 0, reach
	}
	if stop.shape() == StopCorner {
		back, ahead = reach, reach
	}
	arms := g.stretch(c.Strand, stop.S-back, stop.S+ahead)
	if host, s, ok := g.host(c.Strand, last); ok && stop.Kind == StopTee {
		arms = append(arms, g.stretch(host, s-reach, s+reach)...)
	}
	ends := region.Union(append(g.runs(c.Strand, stop, stop, zone, g.Size.Offset()), past)...)
	return region.Subtract(region.Intersect(ends, c.Centre), region.Union(arms...).Shrink(g.Size.Bit/2))
}

// stretch returns the groove's bands and mitres along a strand between two
// distances, as far as the strand goes.
func (g *Groove) stretch(strand int, from, to float64) []region.Region {
	s := g.Motif.Strands[strand]
	if l := s.Length(); !s.Contour.Closed {
		from, to = math.Max(from, 0), math.Min(to, l)
	} else if to-from > l {
		from = to - l
	}
	return g.runs(strand, Stop{S: from}, Stop{S: to}, s.Contour.Sub(from, to), g.Size.Width/2)
}

// host is the strand on which an end of another lies, and the distance along it.
func (g *Groove) host(strand int, atEnd bool) (host int, s float64, ok bool) {
	for _, t := range g.Weave.Tees {
		if t.Strand == strand && t.AtEnd == atEnd {
			return t.Host, t.HostS, true
		}
	}
	return 0, 0, false
}
