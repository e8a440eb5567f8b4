package plan

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

// plainly is without by counting all anew, before and after.
func plainly(at *atoms, sol *solution, panel int, atoms []int) bool {
	held := sol.ans[panel]
	all, visible := at.splits(sol)
	for _, a := range atoms {
		held[a] = false
	}
	more, seen := at.splits(sol)
	made := make([]bool, len(at.line))
	for p, h := range sol.ans {
		for _, g := range sol.sets[p] {
			for a := range h {
				made[at.image[g][a]] = made[at.image[g][a]] || h[a]
			}
		}
	}
	short := slices.ContainsFunc(at.tooShort, func(r shortRun) bool {
		beside := r.before != noAtom && held[r.before] || r.after != noAtom && held[r.after]
		return !beside && !slices.ContainsFunc(r.run, func(a int) bool { return !held[a] })
	})
	if more <= all && seen <= visible && !slices.Contains(made, false) && !short {
		return true
	}
	for _, a := range atoms {
		held[a] = true
	}
	return false
}

// Atoms are taken off panels, or left, as counting all anew says.
func TestTally(t *testing.T) {
	rng := rand.New(rand.NewPCG(81, 82))
	taken, left := 0, 0
	for _, n := range []int{1, 3, 4} {
		r := mustPrepare(t, turning(n).text(9)+inlay+bushing)
		at := cutUp(&r.groove, Symmetry(r.groove.Motif, false), 6, false)
		at.relate()
		for range 12 {
			sol := &solution{}
			for range 2 + rng.IntN(2) {
				held := slices.Repeat([]bool{true}, len(at.line))
				for range rng.IntN(4) {
					from := rng.IntN(len(held))
					for a := from; a < min(len(held), from+rng.IntN(12)); a++ {
						held[a] = false
					}
				}
				sol.ans = append(sol.ans, held)
				sol.sets = append(sol.sets, slices.Sorted(slices.Values(rng.Perm(len(at.positions))[:1+rng.IntN(len(at.positions))])))
			}
			plain := &solution{sets: sol.sets}
			for _, held := range sol.ans {
				plain.ans = append(plain.ans, slices.Clone(held))
			}
			tally := newTally(at, sol)
			for range 150 {
				panel := rng.IntN(len(sol.ans))
				runs := at.runsOf(sol.ans[panel])
				if len(runs) == 0 {
					continue
				}
				atoms := at.atomsOf(runs[rng.IntN(len(runs))])
				from := rng.IntN(len(atoms))
				switch rng.IntN(4) {
				case 0:
				case 1:
					atoms = atoms[:1]
				case 2:
					atoms = atoms[len(atoms)-1:]
				case 3:
					atoms = atoms[from : from+1+rng.IntN(len(atoms)-from)]
				}
				got, want := tally.without(panel, atoms), plainly(at, plain, panel, atoms)
				if got != want || !reflect.DeepEqual(sol.ans, plain.ans) {
					t.Fatalf("%d-fold: atoms %v of panel %d taken off %t, want %t", n, atoms, panel, got, want)
				}
				if got {
					taken++
				} else {
					left++
				}
			}
		}
	}
	if taken < 100 || left < 100 {
		t.Errorf("%d changes kept and %d not", taken, left)
	}
}
