package dryrun

// How far beyond the groove does the bit get on a path that is too close to
// the groove's boundary? What is looked at are single places of the bit: its
// middle, and the point of its rim that goes furthest towards the boundary. That
// settles nearly every fault, and never says too much.

import (
	"math"

	"strapwork/pkg/geom"
)

// rimSearch looks for the worst place of a path.
type rimSearch struct {
	w   *wall
	e   geom.Edge
	rim over
}

// over searches a path: at its middle, which is enough where it is clearly at
// fault, then at equal steps, then where it comes nearest to each part of the
// boundary, then closer about the worst of all. If not all is wanted, the first
// place at fault is enough.
func (w *wall) over(e geom.Edge, all bool) over {
	s := rimSearch{w: w, e: e}
	bestT, best := 0.5, s.look(0.5)
	length := e.Length()
	enough := func() bool { return !all && s.rim.amount > gougeOver }
	if length <= finest && s.rim.amount > gougeOver || e.A == e.B || enough() {
		return s.rim
	}
	look := func(t float64) {
		if v := s.look(t); v > best {
			bestT, best = t, v
		}
	}
	n := max(1, int(math.Min(mostSteps, math.Ceil(length/finest))))
	for i := range n + 1 {
		if look(float64(i) / float64(n)); enough() {
			return s.rim
		}
	}
	if s.rim.amount <= gougeOver {
		w.approaches(e, look)
	}
	if enough() {
		return s.rim
	}
	for step := 1 / float64(n); step*length > finest/mostSteps; {
		step /= 2
		look(math.Max(0, bestT-step))
		look(math.Min(1, bestT+step))
	}
	return s.rim
}

// look looks at the fraction t of the path. It returns how far the rim would be
// beyond the boundary if that ran straight on from where it is nearest.
func (s *rimSearch) look(t float64) float64 {
	p := s.e.At(t)
	d, u := s.w.nearest(p)
	beyond := s.w.bit - d
	if d > geom.Coincident && !s.w.area.Contains(p) {
		beyond = s.w.bit + d
		s.keep(over{d, p, p})
	}
	if beyond > gougeOver {
		q := p.Add(u.Scale(s.w.bit))
		s.keep(over{s.w.area.Dist(q), q, p})
	}
	return beyond
}

func (s *rimSearch) keep(o over) {
	if o.amount > s.rim.amount {
		s.rim = o
	}
}

// approaches visits the fractions of a path at which it comes nearest to each
// edge of the boundary that it is too close to, and where it crosses one.
// Between those it has no nearest place: at an end of either, or where the line
// between the two is square to both, which for circles leads through their
// centres.
func (w *wall) approaches(e geom.Edge, visit func(t float64)) {
	w.index.Search(e.Bounds().Expand(w.bit), func(i int) bool {
		f := w.edges[i].Edge
		if geom.Gap(e, f) >= w.bit {
			return true
		}
		to := []geom.Point{f.A, f.B}
		if f.Bulge != 0 {
			to = append(to, f.Center())
		}
		if e.Bulge != 0 {
			c := e.Center()
			foot := f.At(f.Param(c)) // on a circle the point of it that is nearest to c
			to = append(to, foot, c.Scale(2).Sub(foot))
			if f.Bulge != 0 {
				to = append(to, c.Scale(2).Sub(f.Center()))
			}
		}
		for _, p := range to {
			_, t := e.Nearest(p)
			visit(t)
		}
		for _, m := range geom.Crossings(e, f, geom.Coincident) {
			visit(m.E)
		}
		return true
	})
}
