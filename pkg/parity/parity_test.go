package parity

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// price is what the bits break, summed by hand.
func price(bits []bool, list []Constraint) (once, all int) {
	for _, c := range list {
		if (bits[c.A] == bits[c.B]) == c.Differ {
			once += c.Once
			all += c.All
		}
	}
	return once, all
}

// tried is the best of all 2^n choices, the smallest first: of a number's
// digits the first bit is the highest.
func tried(n int, list []Constraint) []bool {
	var best []bool
	var once, all int
	bits := make([]bool, n)
	for set := range 1 << n {
		for v := range bits {
			bits[v] = set>>(n-1-v)&1 == 1
		}
		if o, a := price(bits, list); best == nil || o < once || o == once && a < all {
			best, once, all = slices.Clone(bits), o, a
		}
	}
	return best
}

func random(r *rand.Rand, n, m, costs int) []Constraint {
	list := make([]Constraint, m)
	for i := range list {
		list[i] = Constraint{r.IntN(n), r.IntN(n), r.IntN(2) == 0, r.IntN(costs + 1), r.IntN(costs + 1)}
		if costs == 1 {
			list[i].Once, list[i].All = 1, 1
		}
	}
	return list
}

// TestAgainstAllChoices tries every choice of up to 14 bits.
func TestAgainstAllChoices(t *testing.T) {
	odd := 0
	for seed := range uint64(4000) {
		r := rand.New(rand.NewPCG(seed, 16))
		n := 1 + r.IntN(10)
		if seed%40 == 0 {
			n = 11 + r.IntN(4)
		}
		list := random(r, n, r.IntN(3*n+1), 1+int(seed%3)*3)
		got, want := Solve(n, list), tried(n, list)
		if !got.Proved || !slices.Equal(got.Bits, want) {
			go1, ga := price(got.Bits, list)
			wo, wa := price(want, list)
			t.Fatalf("seed %d: %v of cost %d, %d (proved %v), want %v of %d, %d", seed, got.Bits, go1, ga, got.Proved, want, wo, wa)
		}
		var bad []int
		for i, c := range list {
			if (want[c.A] == want[c.B]) == c.Differ {
				bad = append(bad, i)
			}
		}
		if !slices.Equal(got.Broken, bad) {
			t.Fatalf("seed %d: %v broken, want %v", seed, got.Broken, bad)
		}
		if len(bad) > 0 {
			odd++
		}
	}
	if odd < 2000 {
		t.Errorf("only %d come out odd", odd)
	}
}

// ring asks that n bits alternate round a ring.
func ring(n int) []Constraint {
	var list []Constraint
	for v := range n {
		list = append(list, Constraint{v, (v + 1) % n, true, 1, 1})
	}
	return list
}

func TestClosedCases(t *testing.T) {
	for _, c := range []struct {
		name string
		n    int
		list []Constraint
		bits string
		bad  []int
	}{
		{"nothing", 0, nil, "", nil},
		{"free bits are false", 3, nil, "000", nil},
		{"an even ring alternates", 4, ring(4), "0101", nil},
		{"an odd ring breaks once, as late as can be smallest", 3, ring(3), "001", []int{0}},
		{"a bit that differs from itself", 1, []Constraint{{0, 0, true, 1, 1}}, "0", []int{0}},
		{"a bit that equals itself", 1, []Constraint{{0, 0, false, 1, 1}}, "0", nil},
		{"the cheaper of two", 2, []Constraint{{0, 1, true, 2, 0}, {0, 1, false, 3, 0}}, "00", []int{0}},
		{"of alike ones the cheaper over all", 2, []Constraint{{0, 1, true, 1, 3}, {0, 1, false, 1, 2}}, "01", []int{1}},
		{"once counts before all", 2, []Constraint{{0, 1, true, 1, 900}, {0, 1, false, 2, 1}}, "00", []int{0}},
		{"a bridge is never broken", 4, append(ring(3), Constraint{2, 3, true, 0, 1}), "0010", []int{0}},
	} {
		got := Solve(c.n, c.list)
		text := ""
		for _, bit := range got.Bits {
			if bit {
				text += "1"
			} else {
				text += "0"
			}
		}
		if text != c.bits || !slices.Equal(got.Broken, c.bad) || !got.Proved {
			t.Errorf("%s: %s, broken %v, proved %v; want %s, %v", c.name, text, got.Broken, got.Proved, c.bits, c.bad)
		}
	}
}

// TestCompleteGraphs: of n bits that all differ, the best are halves: k(k-1) of
// 2k, k^2 of 2k + 1 stay equal (P. Turan, Mat. Fiz. Lapok 48, 1941: the most
// that a graph can have without a triangle is the rest).
func TestCompleteGraphs(t *testing.T) {
	for n := 2; n <= 12; n++ {
		var list []Constraint
		for a := range n {
			for b := range a {
				list = append(list, Constraint{a, b, true, 1, 1})
			}
		}
		got := Solve(n, list)
		if want := len(list) - n*n/4; len(got.Broken) != want || !got.Proved {
			t.Errorf("%d bits: %d broken, want %d (proved %v)", n, len(got.Broken), want, got.Proved)
		}
	}
}

// TestBounded: what is beyond the work allowed is said to be so, and the same
// twice.
func TestBounded(t *testing.T) {
	list := random(rand.New(rand.NewPCG(1, 1)), 200, 1000, 1)
	got := solve(200, list, 100_000)
	if got.Proved {
		t.Error("a search of all was done in 100,000 steps")
	}
	if again := solve(200, list, 100_000); !slices.Equal(got.Bits, again.Bits) {
		t.Error("another answer to the same question")
	}
	once, _ := price(got.Bits, list)
	if once != len(got.Broken) || once > len(list)/3 {
		t.Errorf("%d of %d broken, %d listed", once, len(list), len(got.Broken))
	}
}

// strip is what a table of long strands asks: chains that share bits, here and
// there odd.
func strip(n int) []Constraint {
	r := rand.New(rand.NewPCG(16, 16))
	var list []Constraint
	for v := 1; v < n; v++ {
		list = append(list, Constraint{v - 1, v, true, 1, 1})
		if v > 9 {
			list = append(list, Constraint{v - 1 - 2*r.IntN(4), v, r.IntN(40) > 0, 1, 1})
		}
	}
	return list
}

func BenchmarkSolve500(b *testing.B) {
	list := strip(500)
	for b.Loop() {
		if s := Solve(500, list); !s.Proved || len(s.Broken) == 0 {
			b.Fatal(len(s.Broken), s.Proved)
		}
	}
}

func BenchmarkSolve500Even(b *testing.B) {
	list := ring(500)
	for b.Loop() {
		if s := Solve(500, list); len(s.Broken) != 0 {
			b.Fatal(len(s.Broken))
		}
	}
}
