package plan

// What a panel holds, as runs of atoms and as the real cuts that these are.

import (
	"math"
	"slices"

	"strapwork/pkg/groove"
)

// A held run is a stretch of atoms of one link that a panel holds: from the
// seam before atom from to the seam before atom to, counted on past a ring's
// start.
type heldRun struct{ link, from, to int }

func (at *atoms) runsOf(held []bool) []heldRun {
	var runs []heldRun
	for k := range at.links {
		runs = append(runs, at.linkRuns(k, held)...)
	}
	return runs
}

// linkRuns are the runs of one link.
func (at *atoms) linkRuns(k int, held []bool) (runs []heldRun) {
	l := &at.links[k]
	for i := range l.atoms {
		before := held[l.first+(i+l.atoms-1)%l.atoms] && (l.Ring || i > 0)
		if !held[l.first+i] || before {
			continue
		}
		j := i + 1
		for j < i+l.atoms && (l.Ring || j < l.atoms) && held[l.first+j%l.atoms] {
			j++
		}
		runs = append(runs, heldRun{k, i, j})
	}
	return runs
}

func (at *atoms) atomsOf(r heldRun) []int {
	l := at.links[r.link]
	var list []int
	for i := r.from; i < r.to; i++ {
		list = append(list, l.first+i%l.atoms)
	}
	return list
}

// turned is the image of a run in a position.
func (at *atoms) turned(r heldRun, position int) heldRun {
	atoms := at.atomsOf(r)
	for i, a := range atoms {
		atoms[i] = at.image[position][a]
	}
	return at.runOf(atoms)
}

// runOf is the run of atoms that follow one another, whichever way.
func (at *atoms) runOf(atoms []int) heldRun {
	a, n := atoms[0], len(atoms)
	link := at.of[a]
	l := at.links[link]
	if n > 1 && !l.follows(a, atoms[1]) {
		a = atoms[n-1] // they run the other way
	}
	return heldRun{link, a - l.first, a - l.first + n}
}

// cut is the real cut of a run.
func (at *atoms) cut(r heldRun) groove.Cut {
	l := at.links[r.link]
	return at.g.Stretch(l.Strand, l.stopAt(r.from, 0), l.stopAt(r.to, 0))
}

// faults returns what panels can't hold after all, because the real cuts, which run
// on past their splits, can't be followed or come too near one another; nil if
// there is nothing.
//
// What is forbidden must not be more than was seen to fail, or it would be proved
// that there is no plan where there is one. A run that can't be followed may be part
// of one that can: by a sharp corner a whole arm where a part can't. Two runs of a
// chain that are too near one another may be joined by what is between. Those of
// different chains only come nearer where they run on.
func (at *atoms) faults(sol *solution) []fault {
	var bad []fault
	for _, held := range sol.ans {
		runs := at.runsOf(held)
		cuts := make([]groove.Cut, len(runs))
		for i, r := range runs {
			cuts[i] = at.cut(r)
			if !at.g.Follows(cuts[i]) {
				bad = append(bad, fault{at.atomsOf(r), at.beside(r)})
			}
		}
		near, _ := conflicts(at.g, cuts, math.MaxInt) // fewer than the atoms
		for _, c := range near {
			r, s := runs[c[0]], runs[c[1]]
			f := fault{all: append(at.ends(r), at.ends(s)...)}
			if r.link == s.link {
				f = fault{append(at.atomsOf(r), at.atomsOf(s)...), append(at.beside(r), at.beside(s)...)}
			}
			bad = append(bad, f)
		}
	}
	return bad
}

// beside are the atoms before and after a run, if there are any.
func (at *atoms) beside(r heldRun) []int {
	l := at.links[r.link]
	var list []int
	if l.Ring || r.from > 0 {
		list = append(list, l.first+(r.from+l.atoms-1)%l.atoms)
	}
	if l.Ring || r.to < l.atoms {
		list = append(list, l.first+r.to%l.atoms)
	}
	return list
}

// ends are the first and the last atom of a run.
func (at *atoms) ends(r heldRun) []int {
	atoms := at.atomsOf(r)
	return slices.Compact([]int{atoms[0], atoms[len(atoms)-1]})
}

// openings is the number of runs that an answer's panels hold.
func (at *atoms) openings(ans answer) int {
	n := 0
	for _, held := range ans {
		n += len(at.runsOf(held))
	}
	return n
}
