package table

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
)

// What the job says of the motif's crossings, and what the table says of them: each is there
// at every station.

func (t *Table) along(v weave.Visit) geom.Point { return course(t.Top, v) }

// course is the direction in which a strand passes a crossing, as a whole: a corner there is
// cut off, and ends joined beside it that were apart hardly turn it.
func course(m motif.Motif, v weave.Visit) geom.Point {
	const reach = 1.0 // mm, many times what ends are apart
	s := m.Strands[v.Strand]
	return pointOn(s, v.S+reach).Sub(pointOn(s, v.S-reach)).Unit()
}

// pointOn is the place at a distance along a strand.
func pointOn(s motif.Strand, d float64) geom.Point {
	d = wrapped(s, d)
	i := s.Edge(d)
	from, to := s.Offsets()[i], s.Offsets()[i+1]
	return s.Contour.Edge(i).At((d - from) / (to - from))
}

// alike is how much two directions are one, whichever way along.
func alike(u, v geom.Point) float64 { return math.Abs(u.Dot(v)) }

// literalsOf are the bits of a motif's crossing, each as whether what runs along a direction
// is over: of all sections that have it, each bit once.
func (l *loom) literalsOf(c weave.Crossing, along geom.Point, f instances) (list []literal) {
	seen := map[int]bool{}
	f.of(c.At, func(top int) {
		v := l.t.Weave.Crossings[top].Visits
		x := l.over[top][0]
		if alike(along, l.t.along(v[1])) > alike(along, l.t.along(v[0])) {
			x = x.opposite()
		}
		if !seen[x.bit] {
			seen[x.bit] = true
			list = append(list, x)
		}
	})
	return list
}

// draw puts on top what drawings show on top; see weave.Build, which does it for a motif.
func (l *loom) draw(pieces []int, found *diag.Findings) {
	var want []literal // that hold
	var by diag.Key
	f := newInstances(l.t)
	for _, o := range l.t.Weaving.Drawn {
		if _, c, d := l.t.nearest(o.At); d <= weave.FlipReach {
			want = append(want, l.literalsOf(c, o.Along, f)...)
			by = o.Key
		}
	}
	votes := make([]int, l.count)
	for _, x := range want {
		if l.holds(x) {
			votes[pieces[x.bit]]++
		} else {
			votes[pieces[x.bit]]--
		}
	}
	for p, n := range votes {
		if n < 0 {
			l.exchange(pieces, p)
		}
	}
	differ := 0
	for _, x := range want {
		if !l.holds(x) {
			l.bits[x.bit] = !l.bits[x.bit]
			differ++
		}
	}
	weave.ReportDrawn(by, differ, found)
}

// flip exchanges over and under where the job asks for it, in all sections that have the
// crossing.
func (l *loom) flip(found *diag.Findings) {
	if len(l.t.Weaving.Flips) == 0 {
		return
	}
	f := newInstances(l.t)
	named := map[int]weave.Crossing{}
	nearest := func(p geom.Point) (int, weave.Crossing, float64) {
		i, c, d := l.t.nearest(p)
		named[i] = c
		return i, c, d
	}
	for _, i := range weave.Flipped(l.t.Top, l.t.Weaving.Flips, nearest, found) {
		for _, x := range l.literalsOf(named[i], l.t.along(named[i].Visits[0]), f) {
			l.bits[x.bit] = !l.bits[x.bit]
		}
	}
}

// nearest is the crossing of the top that is nearest to a place of the motif at some
// station, of alike ones the first, with its place in the motif's coordinates there.
func (t *Table) nearest(p geom.Point) (top int, c weave.Crossing, dist float64) {
	top, dist = -1, math.Inf(1)
	for _, s := range t.Stations {
		for i, own := range t.Weave.Crossings {
			if d := own.At.Dist(p.Add(s.At)); d < dist-likeness {
				top, c, dist = i, own, d
				c.At = own.At.Sub(s.At)
			}
		}
	}
	return top, c, dist
}

// OfMotif is the motif's own weave: its crossings as they are at the first station, and
// shown where another station has them the other way round.
func (t Table) OfMotif(m motif.Motif, w weave.Weave) weave.Weave {
	crossings := slices.Clone(w.Crossings)
	f := newInstances(&t)
	for i := range crossings {
		c := &crossings[i]
		along := course(m, c.Visits[0])
		known := false
		f.of(c.At, func(top int) {
			over := t.overAlong(top, along)
			if !known {
				known = true
				c.Visits[0].Over, c.Visits[1].Over = over, !over
			}
			if over != c.Visits[0].Over {
				c.Visits[0].Shown, c.Visits[1].Shown = true, true
			}
		})
	}
	return weave.New(len(m.Strands), crossings, w.Tees)
}

// instances finds what the top has of a motif's crossings.
type instances struct {
	t   *Table
	byX []int // the top's crossings, from the left
}

func newInstances(t *Table) instances {
	list := make([]int, len(t.Weave.Crossings))
	for i := range list {
		list[i] = i
	}
	slices.SortStableFunc(list, func(a, b int) int {
		return cmp.Compare(t.Weave.Crossings[a].At.X, t.Weave.Crossings[b].At.X)
	})
	return instances{t, list}
}

// of calls visit with what the top has of a motif's crossing: at each station the crossing
// nearest to its place.
func (f instances) of(at geom.Point, visit func(top int)) {
	for n, s := range f.t.Stations {
		if n > 0 && s.At == f.t.Stations[n-1].At {
			continue // the two sides of one joint
		}
		best, least := -1, 2*likeness
		at := at.Add(s.At)
		k, _ := slices.BinarySearchFunc(f.byX, at.X-least, func(i int, x float64) int {
			return cmp.Compare(f.t.Weave.Crossings[i].At.X, x)
		})
		for ; k < len(f.byX) && f.t.Weave.Crossings[f.byX[k]].At.X <= at.X+2*likeness; k++ {
			if d := f.t.Weave.Crossings[f.byX[k]].At.Dist(at); d < least {
				best, least = f.byX[k], d
			}
		}
		if best >= 0 {
			visit(best)
		}
	}
}

// overAlong reports whether the passage of a crossing that runs along a direction is over.
func (t Table) overAlong(top int, along geom.Point) bool {
	v := t.Weave.Crossings[top].Visits
	if alike(along, t.along(v[1])) > alike(along, t.along(v[0])) {
		return v[1].Over
	}
	return v[0].Over
}
