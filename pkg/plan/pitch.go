package plan

// The pitch of a motif that repeats, found from its curves, whatever drew it: the least
// shift by which it lies on itself but for its ends, over and under too.
//
// Curves of one size and direction that lie near the middle give the shifts to try. A
// shift is one if what it takes off the motif lies near two ends, with most of the
// motif between them; the curves that fit are then compared over as many repeats as
// there are, which averages out what a drawing's rounding leaves.

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
)

// A Step is how a plan's panels are stepped along a motif that repeats.
type Step struct {
	Pitch   geom.Point // from one repeat to the next, mm
	Repeats int        // that a panel is shifted by from one station to the next; 0: it isn't
}

// Shift is from one station to the next, mm.
func (s Step) Shift() geom.Point { return s.Pitch.Scale(float64(s.Repeats)) }

const (
	// samePitch is in mm how far a repeat may be off the one before: what numbers rounded
	// to 0.01 mm are out by, at both ends, and what fillets make of it.
	samePitch = 0.02
	// evenPitch is in mm how far a pitch may be out at the last repeat, for it to be written
	// with fewer decimals.
	evenPitch = 0.002
	// pitchSeeds is how many curves are looked at for shifts to try, those nearest the
	// middle, and pitchTries how many shifts are: a motif has few sizes of curves.
	pitchSeeds, pitchTries = 8, 200
	// leastRepeats is the least number of repeats that is called a pattern.
	leastRepeats = 3
	// sameCrossing is in mm how far crossings that are one repeat apart may be out: flat
	// crossings move further than their curves.
	sameCrossing = 10 * samePitch
)

// PitchOf is the pitch of a motif, along the way that it goes from end to end; not ok where
// it has none.
func PitchOf(g *groove.Groove) (pitch geom.Point, ok bool) {
	r := repeats{g: g, curves: newCurves(g.Motif), box: geom.EmptyBox()}
	for _, e := range r.edges {
		r.box = r.box.Join(e.Bounds())
	}
	for _, v := range r.tries() {
		if lo, hi, ok := r.fits(v); ok {
			v = r.averaged(v, lo, hi)
			if !r.weaves(v, lo, hi) && r.weaves(v.Scale(2), lo, hi) {
				v = v.Scale(2)
			}
			return r.evened(v), true
		}
	}
	return geom.Point{}, false
}

// repeats is what is asked about a motif's repeats.
type repeats struct {
	curves
	g   *groove.Groove
	box geom.Box
}

// tries are the shifts to try, the shortest first, in the direction in which the motif is long.
func (r repeats) tries() []geom.Point {
	mid := r.box.Min.Lerp(r.box.Max, 0.5)
	order := make([]int, len(r.edges))
	for i := range order {
		order[i] = i
	}
	from := func(i int) float64 { return r.edges[i].At(0.5).Dist(mid) }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(from(a), from(b)) })
	var list []geom.Point
	for n, i := range order {
		if n == pitchSeeds {
			break
		}
		e := r.edges[i]
		for _, f := range r.edges {
			v := f.At(0.5).Sub(e.At(0.5))
			if v.Norm() < r.g.Size.Width || !alike(e, f) {
				continue
			}
			if v.X < -samePitch || math.Abs(v.X) <= samePitch && v.Y < 0 {
				v = v.Scale(-1)
			}
			if !slices.ContainsFunc(list, func(w geom.Point) bool { return w.Near(v, samePitch) }) {
				list = append(list, v)
			}
		}
	}
	list = slices.DeleteFunc(list, func(v geom.Point) bool { return !r.long(v.Unit()) })
	slices.SortStableFunc(list, func(a, b geom.Point) int { return cmp.Compare(a.Norm(), b.Norm()) })
	return list[:min(len(list), pitchTries)]
}

// long reports whether the motif is as long along a unit vector as across it.
func (r repeats) long(u geom.Point) bool {
	lo, hi := r.extent(u)
	a, b := r.extent(u.Left())
	return hi-lo >= b-a-samePitch
}

// extent is from where to where the motif goes along a unit vector.
func (r repeats) extent(u geom.Point) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, e := range r.edges {
		for _, f := range tried {
			d := e.At(f).Dot(u)
			lo, hi = min(lo, d), max(hi, d)
		}
	}
	return lo, hi
}

// alike reports whether two curves are one, shifted, whichever way they run.
func alike(e, f geom.Edge) bool {
	same := func(a, b, m geom.Point) bool {
		return a.Sub(m).Near(e.A.Sub(e.At(0.5)), samePitch) && b.Sub(m).Near(e.B.Sub(e.At(0.5)), samePitch)
	}
	m := f.At(0.5)
	return same(f.A, f.B, m) || same(f.B, f.A, m)
}

// fits reports whether a shift lays the motif on itself but for its ends, and from where to
// where along the shift that is so.
func (r repeats) fits(v geom.Point) (lo, hi float64, ok bool) {
	u, long := v.Unit(), v.Norm()
	lo, hi = r.extent(u)
	all := hi - lo
	off := []float64{lo, hi - long}
	for _, e := range r.edges {
		for _, f := range tried {
			if p := e.At(f); !r.near(p.Add(v), samePitch) {
				off = append(off, p.Dot(u))
			}
		}
		if len(off) > len(r.edges)*len(tried)/2 {
			return lo, hi, false
		}
	}
	slices.Sort(off)
	lo, hi = 0, 0
	for i := 1; i < len(off); i++ {
		if off[i]-off[i-1] > hi-lo {
			lo, hi = off[i-1], off[i]
		}
	}
	hi += long
	return lo, hi, hi-lo >= max(leastRepeats*long, all/2)
}

// near reports whether a point is within so many mm of one of the curves.
func (c curves) near(p geom.Point, d float64) bool {
	on := false
	c.index.Search(geom.Box{Min: p, Max: p}.Expand(d), func(i int) bool {
		on = c.edges[i].Dist(p) <= d
		return !on
	})
	return on
}

// averaged is a shift made exact by what lies up to many repeats apart, between two places
// along it.
func (r repeats) averaged(v geom.Point, lo, hi float64) geom.Point {
	u := v.Unit()
	for n := 1.0; n*v.Norm() <= hi-lo; n *= 2 {
		sum, count := geom.Point{}, 0.0
		by := v.Scale(n)
		for _, e := range r.edges {
			if d := e.A.Dot(u); d <= lo || d+by.Norm() >= hi {
				continue
			}
			if q, ok := r.joint(e.A.Add(by), samePitch+n*evenPitch); ok {
				sum, count = sum.Add(q.Sub(e.A)), count+1
			}
		}
		if count > 0 {
			v = sum.Scale(1 / (n * count))
		}
	}
	return v
}

// joint is the nearest end of a curve within so many mm of a point.
func (r repeats) joint(p geom.Point, d float64) (best geom.Point, ok bool) {
	r.index.Search(geom.Box{Min: p, Max: p}.Expand(d), func(i int) bool {
		for _, q := range [2]geom.Point{r.edges[i].A, r.edges[i].B} {
			if q.Dist(p) <= d {
				best, d, ok = q, q.Dist(p), true
			}
		}
		return true
	})
	return best, ok
}

// evened is a pitch with no more decimals than make a difference over the motif's length.
func (r repeats) evened(v geom.Point) geom.Point {
	n := max(r.box.Size().X, r.box.Size().Y) / v.Norm()
	for scale := 1.0; scale < 1e6; scale *= 10 {
		w := geom.Pt(math.Round(v.X*scale)/scale, math.Round(v.Y*scale)/scale)
		if n*w.Dist(v) <= evenPitch {
			return geom.Pt(w.X+0, w.Y+0) // no -0
		}
	}
	return v
}

// weaves reports whether strands that cross between two places along a shift cross there
// again, a shift on, with the like one on top.
func (r repeats) weaves(v geom.Point, lo, hi float64) bool {
	u, w := v.Unit(), r.g.Weave
	var boxes []geom.Box
	for _, c := range w.Crossings {
		boxes = append(boxes, geom.Box{Min: c.At, Max: c.At})
	}
	index := geom.NewIndex(boxes)
	for _, c := range w.Crossings {
		if d := c.At.Dot(u); d <= lo || d+v.Norm() >= hi {
			continue
		}
		p := c.At.Add(v)
		same := false
		index.Search(geom.Box{Min: p, Max: p}.Expand(sameCrossing), func(i int) bool {
			same = r.slant(c.Upper().Strand, c.Upper().S, w.Crossings[i].Upper().Strand, w.Crossings[i].Upper().S) < c.Angle/2
			return !same
		})
		if !same {
			return false
		}
	}
	return true
}

// slant is the acute angle between two strands at places along them.
func (r repeats) slant(i int, s float64, k int, t float64) float64 {
	a, b := r.along(i, s), r.along(k, t)
	return math.Atan2(math.Abs(a.Cross(b)), math.Abs(a.Dot(b)))
}

// along is a strand's direction at a place along it.
func (r repeats) along(strand int, s float64) geom.Point {
	c := r.g.Motif.Strands[strand].Contour
	_, u := c.At(s)
	return u
}
