package plan

// Panels that must leave some lines free, since they are made in parts that meet there.

import (
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
)

// A Free is lines of a panel that all its openings keep off.
type Free struct {
	Lines []geom.Edge
	Web   float64 // how far, mm
}

// keepOff finds the atoms that a panel can't hold, for each of what it may keep off. Of
// those that forbid the same atoms the first is kept, and none that forbids more than
// another does.
func (at *atoms) keepOff(free []Free) {
	for _, f := range free {
		var off []int
		for a, line := range at.line {
			if f.meets(line, at.g.Size) {
				off = append(off, a)
			}
		}
		more := func(other []int) bool {
			return !slices.ContainsFunc(other, func(a int) bool { return !slices.Contains(off, a) })
		}
		if !slices.ContainsFunc(at.off, more) {
			at.off = append(at.off, off)
		}
	}
}

// meets reports whether the opening along a centre line is too close. It reaches as far
// to the side as the rider does, and at a split a little further along; past a corner it
// may reach further still: who asks for a plan looks at what came of it.
func (f Free) meets(line geom.Contour, s groove.Size) bool {
	near := f.Web + s.RiderRadius + s.Offset() + groove.PastSplit
	box := line.Bounds().Expand(near)
	for _, l := range f.Lines {
		if !box.Meets(l.Bounds()) {
			continue
		}
		for _, e := range line.Edges() {
			if geom.Gap(l, e) < near {
				return true
			}
		}
	}
	return false
}

// free reports whether a panel that keeps off something could hold all of some atoms.
func (at *atoms) free(held []int) bool {
	if len(at.off) == 0 {
		return true
	}
	return slices.ContainsFunc(at.off, func(off []int) bool {
		return !slices.ContainsFunc(held, func(a int) bool { return slices.Contains(off, a) })
	})
}

// shorten makes the runs that can be cut in one go so short that a panel could hold them.
func (at *atoms) shorten() {
	if len(at.off) == 0 {
		return
	}
	for k := range at.links {
		l := &at.links[k]
		for i := range l.far {
			n := 1
			for n < l.far[i] && at.free(l.run(i, n+1)) {
				n++
			}
			l.far[i] = n
		}
	}
}

// run is n atoms of a link from the i-th.
func (l *link) run(i, n int) []int {
	run := make([]int, n)
	for m := range run {
		run[m] = l.first + (i+m)%l.atoms
	}
	return run
}

// hopeless reports whether there is an atom that no panel can hold.
func (at *atoms) hopeless() bool {
	for a := range at.line {
		if !at.free([]int{a}) {
			return true
		}
	}
	return false
}

// CouldClear reports whether there may be a plan whose panels keep off what they must:
// whether every piece of the groove lies off some of it. It is quick to ask.
func CouldClear(want Params, g *groove.Groove) bool {
	at := cutUp(g, positionsFor(want, g), finest(g), false)
	at.keepOff(want.Clear)
	return !at.hopeless()
}

// keepOff says that a panel keeps off one of what it may keep off.
func (m *model) keepOff(p int) {
	if len(m.at.off) == 0 {
		return
	}
	one := m.Vars(len(m.at.off))
	for i, off := range m.at.off {
		for _, a := range off {
			m.Add(one[i].Not(), m.holds[p][a].Not())
		}
	}
	m.Add(one...)
}
