// Package laying finds the order in which the pieces of an inlay are laid.
//
// Pieces drop in from above, and a piece that is cut against an upper strand can only be
// fitted against what stands there: the upper strand's own piece, or a dummy, an offcut of
// the lay-up that stands in for it meanwhile. Where strands go over and under one another
// in turn, pieces butt on one another in rings, and dummies are needed: as few as can be
// found. Sections of a table are laid one after another, unless they are inlaid together.
package laying

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/cutlist"
	"strapwork/pkg/geom"
	"strapwork/pkg/inlay"
	"strapwork/pkg/motif"
)

// A Stretch is the pieces that lie side by side from one cut of a strand to the next.
type Stretch struct {
	First, Last int // numbers of its pieces, which follow one another
	Mitred      int // of its two ends
}

// A Dummy stands in for an upper stretch where others are fitted against it.
type Dummy struct {
	At      geom.Point
	For     []Stretch // what it stands in for; several in crowded places
	In, Out int       // the steps, from 1, for which it is put in and before which it is taken out; those of its own piece alone are one step
}

// A Step is stretches that can be laid in any order, mitred ones first.
type Step struct {
	Section   string // of a table whose sections are laid one after another
	Stretches []Stretch
	Dummies   []Dummy // that are put in before it
}

// An Order is how the pieces are laid, step by step.
type Order struct {
	Steps   []Step
	Dummies int
	Least   bool // no order needs fewer of them
}

// A place is one on an upper strand against which stretches are cut.
type place struct {
	on             inlay.On
	uppers, lowers []int // stretches
}

// New finds an order for the pieces of a list. Sections that are inlaid together are one.
func New(l cutlist.List, m motif.Motif, together bool) Order {
	if together || len(l.Sections) == 0 {
		return inOne(stretches(l.Pieces), m)
	}
	whole := Order{Least: true}
	for _, s := range l.BySection() {
		first := s.Numbers[0] - 1 // pieces are numbered section by section
		whole.add(s.Section, inOne(stretches(l.Pieces[first:first+s.Pieces]), m))
	}
	return whole
}

// add puts the order of a section behind the others.
func (o *Order) add(section string, own Order) {
	before := len(o.Steps)
	for _, s := range own.Steps {
		s.Section = section
		for i := range s.Dummies {
			s.Dummies[i].In += before
			s.Dummies[i].Out += before
		}
		o.Steps = append(o.Steps, s)
	}
	o.Dummies += own.Dummies
	o.Least = o.Least && own.Least
}

// inOne finds an order for stretches.
func inOne(all sorted, m motif.Motif) Order {
	places := all.places(m)
	broken, least := breaks(followers(len(all), places))
	steps := levels(len(all), places, broken)
	o := Order{Steps: make([]Step, 1+slices.Max(append(steps, -1))), Least: least}
	for i, s := range all {
		o.Steps[steps[i]].Stretches = append(o.Steps[steps[i]].Stretches, s.Stretch)
	}
	for _, s := range o.Steps {
		slices.SortStableFunc(s.Stretches, func(a, b Stretch) int { return cmp.Compare(b.Mitred, a.Mitred) })
	}
	for _, p := range places {
		o.stand(p, all, steps, m)
	}
	return o
}

// stand adds the dummy of a place, if one of its lower stretches is laid before all of its
// upper ones lie.
func (o *Order) stand(p place, all sorted, steps []int, m motif.Motif) {
	in, out := math.MaxInt, 0
	for _, i := range p.lowers {
		in = min(in, steps[i])
	}
	for _, i := range p.uppers {
		out = max(out, steps[i])
	}
	if in > out {
		return
	}
	d := Dummy{In: in + 1, Out: out + 1}
	d.At, _ = m.Strands[p.on.Strand].Contour.At(p.on.S)
	for _, i := range p.uppers {
		d.For = append(d.For, all[i].Stretch)
	}
	o.Dummies++
	o.Steps[in].Dummies = append(o.Steps[in].Dummies, d)
}

// A laid is a stretch with what places it.
type laid struct {
	Stretch
	strand   int
	from, to float64
	on       []inlay.On
}

// sorted is all stretches, by strand and along it.
type sorted []laid

// stretches gathers the pieces that lie side by side.
func stretches(pieces []cutlist.Piece) (all sorted) {
	last := [2]int{-1, -1}
	for _, p := range pieces {
		if at := [2]int{p.Strand, p.Stretch}; at != last {
			last = at
			all = append(all, laid{Stretch: Stretch{First: p.Number}, strand: p.Strand, from: p.From, to: p.To})
		}
		s := &all[len(all)-1]
		s.Last = p.Number
		s.from, s.to = math.Min(s.from, p.From), math.Max(s.to, p.To)
		mitred := 0
		for _, e := range p.Ends {
			if e.Kind == inlay.EndMitre || e.Kind == inlay.EndCope && len(e.On) == 0 {
				mitred++
			}
			for _, on := range e.On {
				if !slices.Contains(s.on, on) {
					s.on = append(s.on, on)
				}
			}
		}
		s.Mitred = max(s.Mitred, mitred)
	}
	return all
}

// places are where stretches are cut, in the order of the upper strands.
func (all sorted) places(m motif.Motif) (list []place) {
	strands := map[int][]int{}
	for i, s := range all {
		strands[s.strand] = append(strands[s.strand], i)
	}
	known := map[inlay.On]int{}
	for i, s := range all {
		for _, on := range s.on {
			k, ok := known[on]
			if !ok {
				k, known[on] = len(list), len(list)
				list = append(list, place{on: on, uppers: all.over(on, strands[on.Strand], m)})
			}
			list[k].lowers = append(list[k].lowers, i)
		}
	}
	slices.SortFunc(list, func(a, b place) int {
		return cmp.Or(cmp.Compare(a.on.Strand, b.on.Strand), cmp.Compare(a.on.S, b.on.S))
	})
	return list
}

// tie in mm is what two distances along a strand may differ by and be equal.
const tie = 1e-6

// over are the stretches of a strand that lie at a place of it: those that hold it, or where
// something else covers it too, the nearest.
func (all sorted) over(on inlay.On, strand []int, m motif.Motif) (list []int) {
	best, lap := math.Inf(1), 0.0
	if m.Strands[on.Strand].Contour.Closed {
		lap = m.Strands[on.Strand].Length() // once: it goes along all of the strand
	}
	for _, i := range strand {
		s := &all[i]
		d := s.apart(on.S)
		if lap > 0 {
			d = min(d, s.apart(on.S+lap), s.apart(on.S-lap))
		}
		if d < best-tie {
			best, list = d, nil
		}
		if d < best+tie {
			list = append(list, i)
		}
	}
	return list
}

// apart is how far along the strand a station is from the stretch.
func (s *laid) apart(at float64) float64 { return math.Max(0, math.Max(s.from-at, at-s.to)) }

// followers are, for every place, those whose upper stretches are cut at it: to be fitted
// after its own.
func followers(n int, places []place) [][]int {
	under := make([][]int, n) // the places that a stretch is the upper one of
	for i, p := range places {
		for _, u := range p.uppers {
			under[u] = append(under[u], i)
		}
	}
	next := make([][]int, len(places))
	for i, p := range places {
		for _, l := range p.lowers {
			next[i] = append(next[i], under[l]...)
		}
		slices.Sort(next[i])
		next[i] = slices.Compact(next[i])
	}
	return next
}

// levels are the steps in which stretches are laid, from 0: each as early as it can be, when
// at the broken places dummies stand.
func levels(n int, places []place, broken []bool) []int {
	after := make([][]int, n)
	waits := make([]int, n)
	for i, p := range places {
		if broken[i] {
			continue
		}
		for _, u := range p.uppers {
			after[u] = append(after[u], p.lowers...)
			for _, l := range p.lowers {
				waits[l]++
			}
		}
	}
	step := make([]int, n)
	var ready []int
	for i := range n {
		if waits[i] == 0 {
			ready = append(ready, i)
		}
	}
	for len(ready) > 0 {
		i := ready[0]
		ready = ready[1:]
		for _, l := range after[i] {
			step[l] = max(step[l], step[i]+1)
			if waits[l]--; waits[l] == 0 {
				ready = append(ready, l)
			}
		}
	}
	return step
}
