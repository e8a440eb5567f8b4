package plan

// What panels that are stepped hold, station by station, and what is left for both ends.

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
)

// window is what panels may hold that are laid at every station: within a step and a repeat,
// as far from one end as its last copy is from the other. turned lets panels be turned, and
// asks that both ends are left alike; not ok where they can't be.
func (s *stepper) window(turned bool) (*piece, bool) {
	last := s.by.Scale(float64(s.stations - 1))
	lo, hi := s.lo, s.hi-last.Norm()
	middle, half := (lo+hi)/2, min(hi-lo, s.by.Norm()+s.loose)/2+samePitch
	kept := make([]bool, len(s.full.line))
	mids, _ := s.full.mids()
	for a := range kept {
		kept[a] = s.inner[a] && math.Abs(mids[a].Dot(s.u)-middle) <= half &&
			!slices.ContainsFunc(s.shifted, func(image []int) bool { return image[a] == noAtom })
	}
	w := s.full.piece(kept, true)
	w.positions = []Orientation{{}}
	for _, pos := range s.full.positions[1:] {
		if s.reverses(pos) {
			pos.Shift = pos.Shift.Sub(last)
		}
		if turned {
			w.positions = append(w.positions, pos)
		}
	}
	if w.mapImages(); turned && (len(w.positions) < len(s.full.positions) || !w.even()) {
		return nil, false
	}
	for _, a := range w.whole {
		w.row = append(w.row, s.row[a])
	}
	w.relateFolded(s.shifted[1], s.by, s.hidden)
	for g, pos := range w.positions {
		if s.reverses(pos) {
			w.fold.back = w.image[g]
		}
	}
	return w, !w.crowded
}

// reverses reports whether a position turns the pattern end for end.
func (s *stepper) reverses(pos Orientation) bool {
	t := pos.Similarity()
	return t.Apply(s.u).Sub(t.Apply(geom.Point{})).Dot(s.u) < 0
}

// hidden reports whether a place of an atom is hidden at every station.
func (s *stepper) hidden(atom int, at geom.Point) bool {
	for k, image := range s.shifted {
		p := at.Add(s.by.Scale(float64(k)))
		l, i := s.full.links[s.full.of[image[atom]]], image[atom]
		a, b := l.stopAt(i-l.first, 0), l.stopAt(i-l.first+1, 0)
		if b.At.Dist(p) < a.At.Dist(p) {
			a = b
		}
		if !a.Hidden {
			return false
		}
	}
	return true
}

// withEnds are plans of what panels hold that are laid at every station, and of some that cut
// the ends.
func (s *stepper) withEnds(w *piece, o outcome) []Plan {
	left := slices.Repeat([]bool{true}, len(s.full.line))
	for p, held := range o.sol.ans {
		for n, g := range o.sol.sets[p] {
			for a, h := range held {
				if !h || !o.sol.used(p, n, a) {
					continue
				}
				for _, image := range s.shifted {
					left[image[w.whole[w.image[g][a]]]] = false
				}
			}
		}
	}
	ends := s.endsOf(left, w.fold.back != nil)
	var plans []Plan
	for _, prefer := range aims {
		p := Plan{Step: s.step}
		s.addPanels(&p, w, o.sol, s.places(), s.shifted)
		ok := true
		for _, e := range ends {
			sol := e.found[prefer].sol
			if ok = ok && sol != nil; ok {
				s.addPanels(&p, e.piece, sol, e.places, e.images)
			}
		}
		if !ok {
			continue
		}
		p.once(s.g)
		p.countSplits(s.g)
		p.named(s.g)
		p.LayOut(s.g)
		s.bound(&p, o, ends)
		plans = append(plans, p)
	}
	return plans
}

// An end is what is left at an end of the motif, or at both where they are alike.
type end struct {
	*piece
	found  [len(aims)]outcome
	images [][]int // of the motif's atoms, in the places that panels are laid in
	places []Orientation
	least  int // set-ups that it takes at least
}

// endsOf are the ends of which some atoms are left; each is planned once.
func (s *stepper) endsOf(left []bool, alike bool) []end {
	for _, known := range s.known {
		if known.alike == alike && slices.Equal(known.left, left) {
			return known.ends
		}
	}
	list := s.ends(left, alike)
	s.known = append(s.known, knownEnds{left, alike, list})
	return list
}

type knownEnds struct {
	left  []bool
	alike bool
	ends  []end
}

// ends are those of a motif of which some atoms are left. alike says that turned end for end
// they are the same.
func (s *stepper) ends(left []bool, alike bool) []end {
	mids, _ := s.full.mids()
	middle := s.middle.Dot(s.u)
	var list []end
	for side := range 2 {
		kept := slices.Clone(left)
		for a := range kept {
			kept[a] = kept[a] && (mids[a].Dot(s.u) < middle) == (side == 0)
		}
		if !slices.Contains(kept, true) || alike && side == 1 {
			continue
		}
		e := end{piece: s.full.piece(kept, false), places: []Orientation{{}}, images: [][]int{s.full.image[0]}}
		e.positions = []Orientation{{}}
		for g, pos := range s.full.positions {
			switch {
			case g == 0:
			case !s.reverses(pos):
				e.positions = append(e.positions, pos)
			case alike && len(e.places) == 1:
				e.places, e.images = append(e.places, pos), append(e.images, s.full.image[g])
			}
		}
		e.mapImages()
		e.relate()
		e.found = e.search(true)
		e.least = len(e.places) * s.fewest(e.piece)
		list = append(list, e)
	}
	return list
}

// fewest is the number of set-ups that an end takes at least: what no panel that is laid at
// every station could hold takes some of its own.
func (s *stepper) fewest(e *piece) int {
	near := e.clashing()
	some := 0
	for a, f := range e.whole {
		if s.inner[f] {
			near[a] = nil
		} else {
			some = 1
		}
	}
	for a := range near {
		near[a] = slices.DeleteFunc(near[a], func(b int) bool { return s.inner[e.whole[b]] })
	}
	if some == 0 {
		return 0
	}
	return len(greedyClique(near))
}

// places are the stations.
func (s *stepper) places() []Orientation {
	list := make([]Orientation, s.stations)
	for k := range list {
		list[k].Shift = s.by.Scale(float64(k))
	}
	return list
}

// addPanels adds the panels of a piece, laid as planned and then in each of some places, which
// take the motif's atoms to their images.
func (s *stepper) addPanels(p *Plan, of *piece, sol *solution, places []Orientation, images [][]int) {
	for i, held := range sol.ans {
		runs := of.runsOf(held)
		panel := Panel{}
		for n, g := range sol.sets[i] {
			for k, place := range places {
				up := SetUp{Panel: len(p.Panels), Position: of.positions[g].then(place)}
				for _, r := range runs {
					atoms := of.atomsOf(r)
					spare := !sol.used(i, n, atoms[0])
					for j, a := range atoms {
						atoms[j] = images[k][of.whole[of.image[g][a]]]
					}
					up.Tracks = append(up.Tracks, Track{Cut: s.full.cut(s.full.runOf(atoms)), Spare: spare})
				}
				panel.Positions = append(panel.Positions, up.Position)
				p.SetUps = append(p.SetUps, up)
			}
		}
		p.Panels = append(p.Panels, panel)
	}
}

// bound says what no plan is below whose panels are stepped so.
func (s *stepper) bound(p *Plan, o outcome, ends []end) {
	setUps, panels := s.stations*max(1, o.limit.setUps), max(1, o.limit.panels)
	for _, e := range ends {
		setUps += e.least
		panels += min(1, e.least)
	}
	p.LeastVisible = min(p.Visible, s.stations*o.limit.visible)
	p.LeastSetUps = min(len(p.SetUps), setUps)
	p.LeastPanels = min(len(p.Panels), panels)
}
