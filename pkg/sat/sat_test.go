package sat_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"github.com/go-air/gini"
	"github.com/go-air/gini/z"

	"strapwork/pkg/sat"
)

const plenty = 1_000_000_000

// random is clauses of three literals: some 4.26 a variable are as likely to be met
// as not, and the hardest (Crawford and Auton, 1996; recalled).
func random(rng *rand.Rand, vars, clauses int) [][]sat.Lit {
	list := make([][]sat.Lit, clauses)
	for i := range list {
		for range 3 {
			list[i] = append(list[i], sat.Lit(rng.IntN(2*vars)))
		}
	}
	return list
}

func solver(vars int, clauses [][]sat.Lit) *sat.Solver {
	s := &sat.Solver{}
	s.Vars(vars)
	for _, c := range clauses {
		s.Add(c...)
	}
	return s
}

// witness is the answer of a library.
func witness(vars int, clauses [][]sat.Lit, assumed ...sat.Lit) sat.Answer {
	g := gini.New()
	lits := make([]z.Lit, vars)
	for i := range lits {
		lits[i] = g.Lit()
	}
	of := func(l sat.Lit) z.Lit {
		if l&1 == 0 {
			return lits[l/2]
		}
		return lits[l/2].Not()
	}
	for _, c := range clauses {
		for _, l := range c {
			g.Add(of(l))
		}
		g.Add(z.LitNull)
	}
	for _, l := range assumed {
		g.Assume(of(l))
	}
	if g.Solve() == 1 {
		return sat.Yes
	}
	return sat.No
}

// check holds an answer to the witness's, and a model to the clauses.
func check(t *testing.T, s *sat.Solver, vars int, clauses [][]sat.Lit, got sat.Answer, assumed ...sat.Lit) {
	t.Helper()
	if want := witness(vars, clauses, assumed...); got != want {
		t.Fatalf("%d, the library says %d", got, want)
	}
	if got != sat.Yes {
		return
	}
	for _, c := range clauses {
		if !slices.ContainsFunc(c, s.Holds) {
			t.Fatalf("%v isn't met", c)
		}
	}
	for _, l := range assumed {
		if !s.Holds(l) {
			t.Fatalf("%d is assumed and doesn't hold", l)
		}
	}
}

// Random clauses, few and many, against a library; asked again with something
// assumed, more clauses, and more assumed.
func TestAgainstLibrary(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 1))
	answers := [3]int{}
	for n := range 400 {
		vars := 5 + rng.IntN(90)
		clauses := random(rng, vars, int(float64(vars)*(3.4+1.4*rng.Float64())))
		s := solver(vars, clauses)
		got := s.Solve(plenty)
		answers[got]++
		check(t, s, vars, clauses, got)
		for range 4 {
			var assumed []sat.Lit
			for range rng.IntN(6) {
				assumed = append(assumed, sat.Lit(rng.IntN(2*vars)))
			}
			check(t, s, vars, clauses, s.Solve(plenty, assumed...), assumed...)
			more := random(rng, vars, 1+n%3)
			for _, c := range more {
				s.Add(c...)
			}
			clauses = append(clauses, more...)
		}
		check(t, s, vars, clauses, s.Solve(plenty))
	}
	if answers[sat.Yes] < 50 || answers[sat.No] < 50 {
		t.Errorf("of the answers %d are yes and %d no: too few of one kind", answers[sat.Yes], answers[sat.No])
	}
}

// pigeons asks for each of n+1 pigeons to have one of n holes to itself (Haken,
// 1985): it can't be met, and that takes long to find out.
func pigeons(n int) (vars int, clauses [][]sat.Lit) {
	in := func(pigeon, hole int) sat.Lit { return sat.Lit(2 * (pigeon*n + hole)) }
	for p := range n + 1 {
		var c []sat.Lit
		for h := range n {
			c = append(c, in(p, h))
			for q := range p {
				clauses = append(clauses, []sat.Lit{in(p, h).Not(), in(q, h).Not()})
			}
		}
		clauses = append(clauses, c)
	}
	return (n + 1) * n, clauses
}

// The work is bounded, and goes on where it was stopped; thinning out what was
// learnt loses nothing.
func TestBoundedWork(t *testing.T) {
	vars, clauses := pigeons(7)
	s := solver(vars, clauses)
	const step = 40_000
	rounds := 0
	for ans := sat.Unknown; ans == sat.Unknown; rounds++ {
		begun := s.Steps()
		ans = s.Solve(step)
		// What one propagation draws in comes on top.
		if made := s.Steps() - begun; made > step+20_000 {
			t.Fatalf("%d steps made, %d allowed", made, step)
		}
		if ans == sat.Yes || rounds > 10_000 {
			t.Fatalf("%d after %d rounds", ans, rounds)
		}
	}
	if rounds < 3 {
		t.Errorf("%d rounds: too easy to say anything", rounds)
	}
	if s.Solve(plenty) != sat.No {
		t.Error("what was refuted isn't any more")
	}
}

// An assumption that can't be is no fault of the clauses.
func TestAssumptionsAreForgotten(t *testing.T) {
	s := &sat.Solver{}
	a, b := s.Var(), s.Var()
	s.Add(a, b)
	for _, test := range []struct {
		assumed []sat.Lit
		want    sat.Answer
	}{
		{[]sat.Lit{a.Not(), b.Not()}, sat.No},
		{[]sat.Lit{a.Not()}, sat.Yes},
		{[]sat.Lit{a, a.Not()}, sat.No},
		{[]sat.Lit{a, a}, sat.Yes},
		{nil, sat.Yes},
	} {
		if got := s.Solve(plenty, test.assumed...); got != test.want {
			t.Errorf("%v: %d", test.assumed, got)
		}
	}
	s.Add(a.Not(), a) // says nothing
	s.Add(b.Not())
	s.Add(a.Not(), b)
	if s.Solve(plenty) != sat.No {
		t.Error("a or b, not b, and not a without b: there is no way")
	}
}

// The same questions give the same answers and take the same work, one after the
// other and side by side.
func TestSameEachTime(t *testing.T) {
	run := func(seed uint64) string {
		rng := rand.New(rand.NewPCG(seed, 3))
		vars := 150
		s := solver(vars, random(rng, vars, 600))
		text := fmt.Sprint(s.Solve(plenty))
		for v := range vars {
			text += fmt.Sprint(s.Holds(sat.Lit(2 * v)))
		}
		return text + fmt.Sprint(s.Steps())
	}
	want := make([]string, 8)
	for i := range want {
		want[i] = run(uint64(i))
	}
	got := make([]string, len(want))
	var all sync.WaitGroup
	for i := range got {
		all.Go(func() { got[i] = run(uint64(i)) })
	}
	all.Wait()
	for i := range got {
		if got[i] != want[i] {
			t.Errorf("%d differs", i)
		}
	}
}

func BenchmarkPigeons(b *testing.B) {
	vars, clauses := pigeons(7)
	for b.Loop() {
		solver(vars, clauses).Solve(plenty)
	}
}

func BenchmarkRandom(b *testing.B) {
	clauses := random(rand.New(rand.NewPCG(5, 5)), 200, 852)
	b.Run("own", func(b *testing.B) {
		for b.Loop() {
			solver(200, clauses).Solve(plenty)
		}
	})
	b.Run("library", func(b *testing.B) {
		for b.Loop() {
			witness(200, clauses)
		}
	})
}
