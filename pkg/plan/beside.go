package plan

// What is done side by side: geometry that each atom, pair or chain asks for by
// itself, so that the answer is the same on any number of processors. The questions
// put to the solver are not: each builds on what was learnt from those before.

import (
	"runtime"
	"slices"

	"golang.org/x/sync/errgroup"
)

// each calls do for every number below n, so many in a row, and as many rows side by
// side as there are processors. What do does for one must not depend on another. A row
// that panics is done again in who called, so that the fault is that of the lowest
// number and its place is known.
func each(n, inRow int, do func(i int)) {
	rows := (n + inRow - 1) / inRow
	broken := make([]bool, rows)
	doRow := func(row int) {
		for i := row * inRow; i < min(n, (row+1)*inRow); i++ {
			do(i)
		}
	}
	var all errgroup.Group
	all.SetLimit(runtime.GOMAXPROCS(0))
	for row := range rows {
		all.Go(func() error {
			defer func() { broken[row] = recover() != nil }()
			doRow(row)
			return nil
		})
	}
	_ = all.Wait() // nothing fails but by panic
	if row := slices.Index(broken, true); row >= 0 {
		doRow(row)
	}
}

// How many in a row are worth a turn of their own: some tenths of a millisecond.
const (
	atomsInRow = 8
	pairsInRow = 64
)

// families are the links that symmetry lays on one another, in order: what is known of
// one says nothing of another's.
func (at *atoms) families() [][]int {
	first := make([]int, len(at.links)) // of each link's family
	for k := range first {
		first[k] = k
	}
	root := func(k int) int {
		for first[k] != k {
			k = first[k]
		}
		return k
	}
	for k, l := range at.links {
		for _, image := range at.image {
			a, b := root(k), root(at.of[image[l.first]])
			first[max(a, b)] = min(a, b)
		}
	}
	for i, row := range at.row {
		a, b := root(at.of[i]), root(at.of[slices.Index(at.row, row)])
		first[max(a, b)] = min(a, b)
	}
	var list [][]int
	place := make([]int, len(first))
	for k := range first {
		r := root(k)
		if r == k {
			place[k] = len(list)
			list = append(list, nil)
		}
		list[place[r]] = append(list[place[r]], k)
	}
	return list
}
