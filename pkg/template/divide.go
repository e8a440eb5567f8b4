package template

// How a panel comes to parts that fit a bed: what doesn't fit is cut in two along a
// straight line, and each piece again until all fit. So a joint need not go right
// across the panel: it may end on another.
//
// A line keeps a web of wood from every opening and notch, and has room for two
// keys. Fewest parts come first. Then, from the first cut inwards, the line that is
// nearest to an even division is taken, and among like ones that with the widest wood
// beside it. Lines run along the sides of the panels' outline and square to them.

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

const (
	lineStep   = 2.0     // mm, between places of a joint's keys that are tried, and the least between lines
	linesATry  = 4       // lines that are listed in about the time in which one is looked at (measured)
	shareTries = 4       // one in so many of the tries left goes into one piece
	fewBetween = 16      // lines that are tried between two things in the way, besides the best and the least places
	splitKeys  = 2       // that a joint needs so that it can't turn
	splitApart = 60.0    // mm, least distance between them
	wholeWidth = 1000    // mm across a joint, that makes its keys the largest there are
	mostParts  = 12      // of a panel: more, and what is glued up from them won't be true
	mostTries  = 3_000   // lines that are looked at for each number of parts
	cosPoint   = 0.7072  // cosine of the least angle of a part's corner, 45 degrees: sharper ones break off (a choice)
	sameWay    = 1e-6    // length of the difference of unit vectors that are one direction
	likeStep   = 1.0     // mm: what differs by less is alike, where lines are chosen
	likeFrom   = 0.31831 // of a step: where steps begin, off the round numbers that drawings are made of
)

// A piece is a panel, or a part of one, as it is cut up.
type piece struct {
	area geom.Contour // a convex polygon
	cut  *cut         // nil: it is one part
}

// A cut makes two pieces of one.
type cut struct {
	line  geom.Edge // its left is the first piece
	keys  []fixture.Joint
	sides [2]piece
}

// A standing is something that joints keep off.
type standing struct {
	area  region.Region
	box   geom.Box
	spans [][2]float64 // from where to where it reaches, by the divider's ways
	web   float64      // how far they keep off, mm
}

// A divider cuts up one panel.
type divider struct {
	bed   [2]float64
	web   float64
	key   fixture.JointKey
	ways  []geom.Point // unit normals of the lines that are tried
	shift []float64    // by way: how far from an even division lines are to be, mm
	from  int          // how many parts it takes at least
	tries int          // that are left
}

// divide finds how the panel comes to the fewest parts that fit a bed; nil if there is
// no way.
func (p Panel) divide(s fixture.Shape, bed [2]float64, web float64, key fixture.JointKey) *Division {
	return newDivider(s, bed, web, key).panel(p, s)
}

func newDivider(s fixture.Shape, bed [2]float64, web float64, key fixture.JointKey) *divider {
	v := &divider{bed: bed, web: web, key: key, ways: waysOf(s), from: 2}
	v.shift = make([]float64, len(v.ways))
	return v
}

// panel cuts up a panel of some shape.
func (v *divider) panel(p Panel, s fixture.Shape) *Division {
	outline := s.Polygon()
	var off []standing
	for _, o := range p.Openings {
		off = append(off, v.standing(o.Area, v.web))
	}
	for _, notch := range region.Subtract(region.New(outline), region.New(p.Outline)).Pieces() {
		off = append(off, v.standing(notch, v.web))
	}
	for _, o := range off {
		if !v.takes(o.area) {
			return nil
		}
	}
	for n := max(v.from, v.least(outline)); n <= mostParts; n++ {
		v.tries = mostTries
		if whole, ok := v.divide(outline, off, n); ok {
			d := &Division{key: v.key}
			d.add(whole)
			return d
		}
	}
	return nil
}

// reach is how far the middle of a key is from all else, mm.
func (v *divider) reach() float64 { return v.key.Half() + v.web }

// waysOf are the directions across a shape's joints: those of its sides' normals and of
// the sides themselves, that of the lowest side first.
func waysOf(s fixture.Shape) []geom.Point {
	var ways []geom.Point
	for _, x := range s.Sides {
		for _, u := range []geom.Point{x.Out.Left(), x.Out} {
			if !slices.ContainsFunc(ways, func(w geom.Point) bool { return math.Abs(w.Cross(u)) < sameWay }) {
				ways = append(ways, u)
			}
		}
	}
	return ways
}

func (v *divider) standing(area region.Region, web float64) standing {
	s := standing{area: area, box: area.Bounds(), web: web}
	for _, u := range v.ways {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, c := range area.Loops() {
			lo, hi = min(lo, -fixture.Reach(c, u.Scale(-1))), max(hi, fixture.Reach(c, u))
		}
		s.spans = append(s.spans, [2]float64{lo, hi})
	}
	return s
}

// takes reports whether a part that fits the bed could hold an area whole.
func (v *divider) takes(area region.Region) bool {
	return slices.ContainsFunc(v.ways, func(u geom.Point) bool {
		turned := geom.Turning(-u.Angle())
		return fixture.FitsBed(geom.Rect(area.Transform(turned).Bounds()), v.bed)
	})
}

// least is a number of parts that an area takes at least.
func (v *divider) least(area geom.Contour) int {
	return max(1, int(math.Ceil(area.Area()/(v.bed[0]*v.bed[1])-geom.Coincident)))
}

// divide cuts an area in which some things stand into at most n parts.
func (v *divider) divide(area geom.Contour, off []standing, n int) (piece, bool) {
	if fixture.FitsBed(area, v.bed) {
		return piece{area: area}, true
	}
	if v.least(area) > n || n < 2 {
		return piece{}, false
	}
	lines := v.lines(area, off, n)
	v.tries -= len(lines) / linesATry
	for _, l := range lines {
		if v.tries--; v.tries < 0 {
			return piece{}, false
		}
		sides := [2]geom.Contour{halfOf(area, l.way(v), l.at), halfOf(area, l.way(v).Scale(-1), -l.at)}
		if !v.may(sides[0], l.parts) || !v.may(sides[1], n-l.parts) {
			continue
		}
		if p, ok := v.along(area, off, l, sides, n); ok {
			return p, true
		}
	}
	return piece{}, false
}

// may reports whether an area might come to n parts, as far as its size goes.
func (v *divider) may(area geom.Contour, n int) bool {
	return v.least(area) <= n && (n > 1 || fixture.FitsBed(area, v.bed)) && !pointed(area)
}

// pointed reports whether a polygon has a corner that would break off.
func pointed(c geom.Contour) bool {
	n := c.Len()
	for i := range n {
		in, out := c.Edge((i+n-1)%n).Tangent(1), c.Edge(i).Tangent(0)
		if in.Dot(out) < -cosPoint {
			return true
		}
	}
	return false
}

// along cuts an area along a line, if there is room for its keys and its sides come to
// as many parts as they may have.
func (v *divider) along(area geom.Contour, off []standing, l line, sides [2]geom.Contour, n int) (piece, bool) {
	c := cut{line: l.across(v, area)}
	if c.keys = v.keysOn(c.line, area, off); c.keys == nil {
		return piece{}, false
	}
	for i, most := range []int{l.parts, n - l.parts} {
		var beside []standing
		for _, o := range off {
			if (o.spans[l.u][0]+o.spans[l.u][1])/2 < l.at == (i == 0) {
				beside = append(beside, o)
			}
		}
		for _, k := range c.keys {
			beside = append(beside, v.standing(region.Disc(k.At, v.key.Half()), v.web))
		}
		kept := v.tries - v.tries/shareTries // for other lines, if this one leads nowhere
		v.tries -= kept
		side, ok := v.divide(sides[i], beside, most)
		v.tries += kept
		if !ok {
			return piece{}, false
		}
		c.sides[i] = side
	}
	return piece{area: area, cut: &c}, true
}

// A line is where an area might be cut.
type line struct {
	u     int     // in which of the ways it is
	at    float64 // so far from the motif's origin, mm
	parts int     // that are to come before it
	off   int     // from where it would divide evenly, in steps
	clear int     // of what stands on either side, in steps
}

func (l line) way(v *divider) geom.Point { return v.ways[l.u] }

// across is the line right across an area, what comes before it on the left.
func (l line) across(v *divider, area geom.Contour) geom.Edge {
	u := l.way(v)
	on, along := u.Scale(l.at), u.Left()
	half := halfOf(area, u, l.at)
	ends := make([]float64, 0, 2)
	for _, p := range half.Vertices {
		if math.Abs(p.Dot(u)-l.at) < geom.Coincident {
			ends = append(ends, p.Dot(along))
		}
	}
	return geom.Line(on.Add(along.Scale(slices.Min(ends))), on.Add(along.Scale(slices.Max(ends))))
}

// lines are where an area might be cut, so that n parts come of it, the best first.
// Before a line come as many parts as its place is nearest to, or one more or less.
func (v *divider) lines(area geom.Contour, off []standing, n int) []line {
	var list []line
	for u := range v.ways {
		lo, hi := -fixture.Reach(area, v.ways[u].Scale(-1)), fixture.Reach(area, v.ways[u])
		for _, f := range v.free(u, lo+v.reach(), hi-v.reach(), off) {
			for _, at := range v.places(f, lo, hi, n) {
				near := int(math.Round(float64(n) * (at - lo) / (hi - lo)))
				for parts := max(1, near-1); parts <= min(n-1, near+1); parts++ {
					even := lo + (hi-lo)*float64(parts)/float64(n)
					list = append(list, line{u, at, parts, steps(math.Abs(at - even - v.shift[u])), steps(min(at-f[0], f[1]-at))})
				}
			}
		}
	}
	slices.SortStableFunc(list, func(a, b line) int {
		return cmp.Or(cmp.Compare(a.off, b.off), cmp.Compare(b.clear, a.clear))
	})
	return list
}

// steps is a length in whole steps, so that noise distinguishes no two lines that are
// alike.
func steps(d float64) int { return int(math.Floor(d/likeStep + likeFrom)) }

// free are the stretches between lo and hi along a way in which lines keep off all that
// stands there.
func (v *divider) free(u int, lo, hi float64, off []standing) [][2]float64 {
	spans := make([][2]float64, 0, len(off))
	for _, o := range off {
		spans = append(spans, [2]float64{o.spans[u][0] - o.web, o.spans[u][1] + o.web})
	}
	slices.SortFunc(spans, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
	var list [][2]float64
	for _, s := range append(spans, [2]float64{hi, hi}) {
		if s[0] > lo {
			list = append(list, [2]float64{lo, min(s[0], hi)})
		}
		lo = max(lo, s[1])
	}
	return list
}

// places are where in a free stretch f the lines of one way are tried by which an area
// that reaches from lo to hi comes to n parts: where it would be divided evenly, where
// a row of parts on either side is as long as the bed takes, and some between.
func (v *divider) places(f [2]float64, lo, hi float64, n int) []float64 {
	list := []float64{f[0], f[1]}
	for k := 1; k < n; k++ {
		list = append(list, lo+(hi-lo)*float64(k)/float64(n))
		for _, side := range v.bed {
			list = append(list, lo+float64(k)*side, hi-float64(k)*side)
		}
	}
	step, mid := max(lineStep, (f[1]-f[0])/fewBetween), (lo+hi)/2
	for i := math.Ceil((f[0] - mid) / step); mid+i*step < f[1]; i++ {
		list = append(list, mid+i*step)
	}
	for i := range list {
		list[i] = min(max(list[i], f[0]), f[1])
	}
	slices.Sort(list)
	return slices.CompactFunc(list, func(a, b float64) bool { return math.Abs(a-b) < geom.Coincident })
}

// keysOn finds the two places for keys on a joint that are furthest apart; none if
// there is no room for two.
func (v *divider) keysOn(joint geom.Edge, area geom.Contour, off []standing) []fixture.Joint {
	along, reach := joint.Tangent(0), v.reach()
	from := func(end, way float64) (float64, bool) {
		for t := reach; t <= joint.Length()-reach; t += lineStep {
			at := end + way*t
			if p := joint.A.Add(along.Scale(at)); inside(area, p) >= reach-geom.Coincident && v.keyClear(p, off, reach) {
				return at, true
			}
		}
		return 0, false
	}
	first, ok := from(0, 1)
	last, _ := from(joint.Length(), -1)
	if !ok || last-first < splitApart {
		return nil
	}
	var keys []fixture.Joint
	for _, t := range []float64{first, last} {
		keys = append(keys, fixture.Joint{At: joint.A.Add(along.Scale(t)), Along: along})
	}
	return keys
}

// keyClear reports whether all that stands there is reach mm from a place.
func (v *divider) keyClear(p geom.Point, off []standing, reach float64) bool {
	for _, o := range off {
		if o.box.Dist(p) < reach && o.area.Dist(p) < reach {
			return false
		}
	}
	return true
}

// halfOf is what of a convex polygon lies before a line: where points are at most so
// far along u.
func halfOf(c geom.Contour, u geom.Point, at float64) geom.Contour {
	var pts []geom.Point
	for _, e := range c.Edges() {
		a, b := e.A.Dot(u)-at, e.B.Dot(u)-at
		if a <= 0 {
			pts = append(pts, e.A)
		}
		if a < 0 != (b < 0) && a != 0 && b != 0 {
			pts = append(pts, e.A.Lerp(e.B, a/(a-b)))
		}
	}
	return geom.Polygon(pts...)
}
