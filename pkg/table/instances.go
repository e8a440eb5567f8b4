package table

import (
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
	c := m.Strands[v.Strand].Contour
	p, _ := c.At(v.S - reach)
	q, _ := c.At(v.S + reach)
	return q.Sub(p).Unit()
}

// alike is how much two directions are one, whichever way along.
func alike(u, v geom.Point) float64 { return math.Abs(u.Dot(v)) }

// literalsOf are the bits of a motif's crossing, each as whether what runs along a direction
// is over: of all sections that have it, each bit once.
func (l *loom) literalsOf(c weave.Crossing, along geom.Point, over [][2]literal) (list []literal) {
	seen := map[int]bool{}
	l.t.instances(c.At, func(top int) {
		v := l.t.Weave.Crossings[top].Visits
		x := over[top][0]
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
	over := l.overs()
	for _, o := range l.t.Weaving.Drawn {
		if _, c, d := l.t.nearest(o.At); d <= weave.FlipReach {
			want = append(want, l.literalsOf(c, o.Along, over)...)
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
	over := l.overs()
	named := map[int]weave.Crossing{}
	nearest := func(p geom.Point) (int, weave.Crossing, float64) {
		i, c, d := l.t.nearest(p)
		named[i] = c
		return i, c, d
	}
	for _, i := range weave.Flipped(l.t.Top, l.t.Weaving.Flips, nearest, found) {
		for _, x := range l.literalsOf(named[i], l.t.along(named[i].Visits[0]), over) {
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
	for i := range crossings {
		c := &crossings[i]
		along := course(m, c.Visits[0])
		known := false
		t.instances(c.At, func(top int) {
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

// instances calls visit with what the top has of a motif's crossing: at each station the
// crossing nearest to it, where one is within reach.
func (t Table) instances(at geom.Point, visit func(top int)) {
	for n, s := range t.Stations {
		if n > 0 && s.At == t.Stations[n-1].At {
			continue // the two sides of one joint
		}
		best, least := -1, 2*likeness
		for i, c := range t.Weave.Crossings {
			if d := c.At.Dist(at.Add(s.At)); d < least {
				best, least = i, d
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
