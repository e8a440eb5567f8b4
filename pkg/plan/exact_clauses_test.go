package plan

// How the exact search puts a question in clauses.

import (
	"slices"

	"strapwork/pkg/groove"
)

// exactly is one question of the exact search.
type exactly struct {
	*exact
	wanted
	decider
	holds [][]lit   // by panel and atom
	laid  [][]lit   // by panel and position
	uses  [][][]lit // by panel, position and atom: it is cut, seen on the panel
	split []lit     // by seam
}

func (e *exactly) variables(n int) []lit {
	list := make([]lit, n)
	for i := range list {
		list[i] = e.variable()
	}
	return list
}

// once reports whether each panel is laid once, and what it holds is used.
func (e *exactly) once() bool { return e.setUps == e.panels }

func (e *exactly) put() {
	if e.visible != anyNumber {
		e.split = e.variables(len(e.seams))
		var seen []lit
		for k, s := range e.seams {
			if !s.hidden {
				seen = append(seen, e.split[k])
			}
		}
		e.atMost(seen, e.visible)
	}
	for p := range e.panels {
		e.holds = append(e.holds, e.variables(len(e.of)))
		e.panel(p)
		e.positions(p)
	}
	e.cover()
	if e.once() {
		for p, a := range e.clique[:min(e.panels, len(e.clique))] {
			e.add(e.holds[p][a])
		}
	} else {
		e.add(e.uses[0][0][e.clique[0]]) // else call the panel that does by its turned self
		e.atMost(slices.Concat(e.laid...), e.setUps)
	}
}

// panel says what one panel can hold.
func (e *exactly) panel(p int) {
	h := e.holds[p]
	for _, c := range e.never {
		e.add(h[c[0]].not(), h[c[1]].not())
	}
	for i, c := range e.pairs {
		both := []lit{h[c[0]].not(), h[c[1]].not()}
		if len(e.joined[i]) == 2 {
			way := e.variable()
			for n, inner := range e.joined[i] {
				for _, a := range inner {
					e.add(both[0], both[1], way^lit(n), h[a])
				}
			}
			continue
		}
		for _, a := range e.joined[i][0] {
			e.add(both[0], both[1], h[a])
		}
	}
	for _, b := range e.blocked {
		e.notAll(p, b)
	}
	for k := range e.links {
		e.lengths(p, k)
	}
}

func (e *exactly) notAll(p int, b blocked) {
	var c []lit
	for _, a := range b.all {
		c = append(c, e.holds[p][a].not())
	}
	for _, a := range b.unless {
		c = append(c, e.holds[p][a])
	}
	e.add(c...)
}

// lengths keeps the runs of a link as long as can be followed at most, and,
// if they are not the whole chain, as long as the groove is wide.
func (e *exactly) lengths(p, k int) {
	l, h := e.links[k], e.holds[p]
	for i := range l.atoms {
		if end := e.reach[k][i]; l.Ring || end < l.atoms {
			long := blocked{}
			for m := i; m <= end; m++ {
				long.all = append(long.all, e.atom(k, m))
			}
			if e.mostReach(k, i) > end { // what begins before it may be longer
				long.unless = append(long.unless, e.atom(k, i-1))
			}
			e.notAll(p, long)
		}
		begins := []lit{h[e.atom(k, i)].not()}
		if l.Ring || i > 0 {
			begins = append(begins, h[e.atom(k, i-1)])
		}
		for m := i + 1; l.stopAt(m, 0).S-l.stopAt(i, 0).S < e.g.Size.Width; m++ {
			if !l.Ring && m == l.atoms {
				if i > 0 {
					e.add(begins...)
				}
				break
			}
			e.add(append(slices.Clone(begins), h[e.atom(k, m)])...)
		}
	}
}

// positions says where a panel is laid, and what it is used for there.
func (e *exactly) positions(p int) {
	if e.once() {
		e.laid, e.uses = append(e.laid, nil), append(e.uses, [][]lit{e.holds[p]})
		e.splits(p, 0)
		return
	}
	e.laid, e.uses = append(e.laid, e.variables(len(e.image))), append(e.uses, nil)
	e.add(e.laid[p][0])
	for g := range e.image {
		use := e.variables(len(e.of))
		e.uses[p] = append(e.uses[p], use)
		for a, u := range use {
			e.add(u.not(), e.holds[p][a])
			e.add(u.not(), e.laid[p][g])
			if e.useAll {
				e.add(u, e.holds[p][a].not(), e.laid[p][g].not())
			}
		}
		for _, s := range e.seams { // all of an opening or nothing
			e.add(use[s.before].not(), e.holds[p][s.after].not(), use[s.after])
			e.add(use[s.after].not(), e.holds[p][s.before].not(), use[s.before])
		}
		e.splits(p, g)
	}
}

func (e *exactly) splits(p, g int) {
	if e.split == nil {
		return
	}
	use := e.uses[p][g]
	for k, s := range e.seams {
		if !e.seams[e.moved[g][k]].hidden {
			x := e.split[e.moved[g][k]]
			e.add(use[s.before].not(), use[s.after], x)
			e.add(use[s.after].not(), use[s.before], x)
		}
	}
}

func (e *exactly) cover() {
	for a := range e.of {
		var c []lit
		for p := range e.uses {
			for g := range e.uses[p] {
				c = append(c, e.uses[p][g][e.image[e.inverse[g]][a]])
			}
		}
		e.add(c...)
	}
}

// An arrangement is what panels hold, and what of it they cut where.
type arrangement struct {
	holds [][]bool
	uses  [][][]bool // nil where a panel isn't laid
}

func (e *exactly) read() arrangement {
	values := func(list []lit) []bool {
		out := make([]bool, len(list))
		for i, l := range list {
			out[i] = e.value[l] == yes
		}
		return out
	}
	var a arrangement
	for p := range e.holds {
		a.holds = append(a.holds, values(e.holds[p]))
		a.uses = append(a.uses, nil)
		for _, u := range e.uses[p] {
			a.uses[p] = append(a.uses[p], values(u))
		}
	}
	return a
}

// counted counts an arrangement, from what is cut alone.
func (x *exact) counted(a arrangement) count {
	c := count{}
	split := map[int]bool{}
	for p := range a.holds {
		laid := 0
		for g, use := range a.uses[p] {
			if !slices.Contains(use, true) {
				continue
			}
			laid++
			for k, s := range x.seams {
				if m := x.moved[g][k]; use[s.before] != use[s.after] && !x.seams[m].hidden {
					split[m] = true
				}
			}
		}
		c.setUps += laid
		if laid > 0 {
			c.panels++
		}
	}
	c.visible = len(split)
	return c
}

// faults are atoms that a panel of the arrangement can't hold all of after all:
// a cut that can't be followed, or two that conflict, as they really are.
func (x *exact) faults(a arrangement) []blocked {
	var bad []blocked
	for _, held := range a.holds {
		runs := x.runs(held)
		for i, r := range runs {
			if !x.g.Follows(r.cut) {
				bad = append(bad, blocked{r.atoms, r.next})
			}
			for _, s := range runs[:i] {
				if x.g.Conflict(r.cut, s.cut) {
					bad = append(bad, blocked{all: slices.Concat(r.atoms, s.atoms)})
				}
			}
		}
	}
	return bad
}

type exactRun struct {
	atoms []int
	next  []int // those before and after it
	cut   groove.Cut
}

// runs are what a panel holds as real cuts.
func (x *exact) runs(held []bool) []exactRun {
	var runs []exactRun
	for k, l := range x.links {
		for i := range l.atoms {
			if !held[x.atom(k, i)] || ((l.Ring || i > 0) && held[x.atom(k, i-1)]) {
				continue
			}
			r := exactRun{}
			j := i
			for ; j < i+l.atoms && (l.Ring || j < l.atoms) && held[x.atom(k, j)]; j++ {
				r.atoms = append(r.atoms, x.atom(k, j))
			}
			if l.Ring || i > 0 {
				r.next = append(r.next, x.atom(k, i-1))
			}
			if l.Ring || j < l.atoms {
				r.next = append(r.next, x.atom(k, j))
			}
			r.cut = x.g.Stretch(l.Strand, l.stopAt(i, 0), l.stopAt(j, 0))
			runs = append(runs, r)
		}
	}
	return runs
}
