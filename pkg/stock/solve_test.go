package stock

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// items are lengths and counts in turn.
func items(list ...int) (all []Item) {
	for i := 0; i < len(list); i += 2 {
		all = append(all, Item{list[i], list[i+1]})
	}
	return all
}

// checkPlan holds a plan to its order: all is cut, no bar is longer than it is, none is taken too often.
func checkPlan(t *testing.T, o Order, p Cutting) {
	t.Helper()
	done, bars, cost := make([]int, len(o.Items)), make([]int, len(o.Bars)), 0
	for _, c := range p.Patterns {
		used, pieces := 0, 0
		for i, n := range c.Cuts {
			done[i] += n * c.Times
			used += n * o.Items[i].Length
			pieces += n
		}
		used += (pieces - 1) * o.Kerf // the least that the cuts take
		if used > o.Bars[c.Bar].Length || pieces == 0 {
			t.Errorf("%d pieces of together %d are cut from a bar of %d", pieces, used, o.Bars[c.Bar].Length)
		}
		if want := max(0, o.Bars[c.Bar].Length-used-o.Kerf); c.Left != want {
			t.Errorf("left %d of a bar, want %d", c.Left, want)
		}
		bars[c.Bar] += c.Times
		cost += c.Times * max(1, o.Bars[c.Bar].Price)
	}
	for i, it := range o.Items {
		if done[i] != it.Count {
			t.Errorf("%d of length %d are cut, want %d", done[i], it.Length, it.Count)
		}
	}
	for k, b := range o.Bars {
		if b.Count > 0 && bars[k] > b.Count {
			t.Errorf("%d bars of %d are cut, and there are %d", bars[k], b.Length, b.Count)
		}
	}
	if cost != p.Cost || p.Bound > p.Cost {
		t.Errorf("a cost of %d, bound %d, said to be %d", cost, p.Bound, p.Cost)
	}
}

func solved(t *testing.T, o Order) Cutting {
	t.Helper()
	p, err := Solve(o, nil)
	if err != nil {
		t.Fatal(err)
	}
	checkPlan(t, o, p)
	return p
}

// linearOf is what the linear program over all patterns of an order costs.
func linearOf(t *testing.T, o Order) float64 {
	t.Helper()
	p, err := newProblem(o)
	if err != nil {
		t.Fatal(err)
	}
	s := &solver{problem: p, steps: mostSteps}
	m := s.newMaster(s.demand, s.limits())
	if !m.optimize(0, 0) {
		t.Fatal("the linear program isn't solved")
	}
	return m.value()
}

// TestPublished: the paper mill's rolls of 5600 (an example that is reprinted in many places on
// the cutting stock problem; 73 rolls), and one of the kind of Gilmore and Gomory's with a linear
// bound of 452.25 and 453 bars.
func TestPublished(t *testing.T) {
	for _, c := range []struct {
		o      Order
		cost   int
		linear float64 // 0 where it is not published
	}{
		{Order{Items: items(1380, 22, 1520, 25, 1560, 12, 1710, 14, 1820, 18, 1880, 18, 1930, 20, 2000, 10, 2050, 12, 2100, 14, 2140, 16, 2150, 18, 2200, 20), Bars: []Bar{{Length: 5600}}}, 73, 0},
		{Order{Items: items(45, 97, 36, 610, 31, 395, 14, 211), Bars: []Bar{{Length: 100}}}, 453, 452.25},
	} {
		p := solved(t, c.o)
		t.Logf("cost %d bound %d linear %v patterns %d", p.Cost, p.Bound, p.Linear, len(p.Patterns))
		if p.Cost != c.cost || !p.Proved() {
			t.Errorf("%d bars, proved %d, want %d", p.Cost, p.Bound, c.cost)
		}
		if got := linearOf(t, c.o); c.linear > 0 && math.Abs(got-c.linear) > 1e-6 {
			t.Errorf("a linear bound of %v, want %v", got, c.linear)
		}
	}
}

// exhaustive is the least cost, from the least costs of all subsets of single pieces, by how many of the
// limited kind (the first) are taken.
func exhaustive(o Order) int {
	var pieces []int
	for _, it := range o.Items {
		for range it.Count {
			pieces = append(pieces, it.Length)
		}
	}
	const never = 1 << 40
	limit := o.Bars[0].Count
	all := 1<<len(pieces) - 1
	one := make([][2]int, all+1) // the cost of a subset in one bar: of the limited kind, of another
	for set := 1; set <= all; set++ {
		used := -o.Kerf
		for i, l := range pieces {
			if set>>i&1 == 1 {
				used += l + o.Kerf
			}
		}
		one[set] = [2]int{never, never}
		for k, b := range o.Bars {
			if kind := min(k, 1); b.Length >= used {
				one[set][kind] = min(one[set][kind], max(1, b.Price))
			}
		}
	}
	best := make([][]int, all+1)
	best[0] = make([]int, limit+1)
	for set := 1; set <= all; set++ {
		best[set] = slices.Repeat([]int{never}, limit+1)
		low := set & -set
		for sub := set; sub > 0; sub = (sub - 1) & set {
			if sub&low == 0 {
				continue
			}
			for n := range best[set] {
				best[set][n] = min(best[set][n], best[set^sub][n]+one[sub][1])
				if n > 0 {
					best[set][n] = min(best[set][n], best[set^sub][n-1]+one[sub][0])
				}
			}
		}
	}
	return slices.Min(best[all])
}

// TestAgainstExhaustiveSearch: up to 12 pieces, with kerf and several kinds of bars of which the
// first is limited, half of the orders with prices.
func TestAgainstExhaustiveSearch(t *testing.T) {
	orders := 300
	if testing.Short() {
		orders = 60
	}
	for seed := range orders {
		r := rand.New(rand.NewPCG(15, uint64(seed)))
		o := Order{Kerf: r.IntN(6), Bars: []Bar{{Length: 60 + r.IntN(80), Count: 1 + r.IntN(2)}, {Length: 120 + r.IntN(30)}}}
		if r.IntN(2) == 0 {
			o.Bars = append(o.Bars, Bar{Length: 70 + r.IntN(60)})
		}
		if r.IntN(2) == 0 {
			for k := range o.Bars {
				o.Bars[k].Price = 3 + r.IntN(20)
			}
		}
		for left := 4 + r.IntN(9); left > 0; {
			n := min(left, 1+r.IntN(3))
			o.Items = append(o.Items, Item{12 + r.IntN(70), n})
			left -= n
		}
		p := solved(t, o)
		if want := exhaustive(o); p.Cost != want || !p.Proved() {
			t.Errorf("seed %d: a cost of %d, proved %d, want %d: %+v", seed, p.Cost, p.Bound, want, o)
		}
	}
}

// TestLinearAgainstGonum: the linear program over all patterns, written out and solved by
// gonum's simplex.
func TestLinearAgainstGonum(t *testing.T) {
	for seed := range 40 {
		r := rand.New(rand.NewPCG(16, uint64(seed)))
		var sizes, demand []int
		for i := range 5 {
			sizes, demand = append(sizes, 60-9*i-r.IntN(8)), append(demand, 3+r.IntN(30))
		}
		bar := 100 + r.IntN(50)
		var patterns [][]int
		var all func(n []int, rest int)
		all = func(n []int, rest int) {
			if len(n) == len(sizes) {
				if slices.Max(n) > 0 { // gonum refuses columns of zeros
					patterns = append(patterns, slices.Clone(n))
				}
				return
			}
			for k := range min(rest/sizes[len(n)], demand[len(n)]) + 1 {
				all(append(n, k), rest-k*sizes[len(n)])
			}
		}
		all(nil, bar)
		a := mat.NewDense(len(sizes), len(patterns)+len(sizes), nil)
		cost, b := make([]float64, len(patterns)+len(sizes)), make([]float64, len(sizes))
		for j, n := range patterns {
			cost[j] = 1
			for i, k := range n {
				a.Set(i, j, float64(k))
			}
		}
		for i := range sizes {
			a.Set(i, len(patterns)+i, -1)
			b[i] = float64(demand[i])
		}
		want, _, err := lp.Simplex(cost, a, b, 1e-10, nil)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		o := Order{Bars: []Bar{{Length: bar}}}
		for i := range sizes {
			o.Items = append(o.Items, Item{sizes[i], demand[i]})
		}
		if got := linearOf(t, o); math.Abs(got-want) > 1e-6 {
			t.Errorf("seed %d: %v, want %v", seed, got, want)
		}
	}
}

// large is an order of 2,000 pieces that about 60 bars hold.
func large(seed uint64, kinds int) Order {
	r := rand.New(rand.NewPCG(17, seed))
	o := Order{Kerf: 8, Bars: []Bar{{Length: 24000}}}
	for i := range kinds {
		n := 2000/kinds + max(0, min(1, 2000%kinds-i))
		o.Items = append(o.Items, Item{200 + r.IntN(1000), n})
	}
	return o
}

// TestLarge: 2,000 pieces on some 60 bars are within one of the bound, and the search is seen to go on.
func TestLarge(t *testing.T) {
	for seed, kinds := range []int{5, 17, 60, 200, 700, 2000} {
		o, asked := large(uint64(seed), kinds), 0
		p, err := Solve(o, func(Progress) { asked++ })
		if err != nil {
			t.Fatal(err)
		}
		checkPlan(t, o, p)
		if p.Cost > p.Bound+1 || asked == 0 {
			t.Errorf("%d lengths: %d bars, bound %d, asked %d times", kinds, p.Cost, p.Bound, asked)
		}
	}
}

// TestSameAgain: the same order is cut in the same way, in whatever order its items are given.
func TestSameAgain(t *testing.T) {
	o := large(3, 40)
	want := solved(t, o)
	if diff := cmp.Diff(want, solved(t, o)); diff != "" {
		t.Error(diff)
	}
	slices.Reverse(o.Items)
	if got := solved(t, o); got.Cost != want.Cost || got.Bound != want.Bound {
		t.Errorf("the other way round %d of %d, and not %d of %d", got.Cost, got.Bound, want.Cost, want.Bound)
	}
}

// TestTooLong: a piece that no bar holds, or none of which there are enough.
func TestTooLong(t *testing.T) {
	for _, bars := range [][]Bar{nil, {{Length: 99}}, {{Length: 99}, {Length: 200, Count: 5}}} {
		if _, err := Solve(Order{Kerf: 2, Items: items(100, 3), Bars: bars}, nil); !errors.Is(err, ErrTooShort) {
			t.Errorf("%v: %v", bars, err)
		}
	}
	if p := solved(t, Order{Kerf: 2, Items: items(100, 3), Bars: []Bar{{Length: 100}}}); p.Cost != 3 || !p.Proved() {
		t.Errorf("bars as long as the pieces need no cut: %+v", p)
	}
	if p := solved(t, Order{Items: items(100, 0), Bars: []Bar{{Length: 50}}}); p.Cost != 0 || !p.Proved() {
		t.Errorf("nothing is wanted: %+v", p)
	}
}

func BenchmarkSolve(b *testing.B) {
	for _, kinds := range []int{17, 200, 2000} {
		b.Run(fmt.Sprint(kinds, " lengths"), func(b *testing.B) {
			o := large(1, kinds)
			for b.Loop() {
				if _, err := Solve(o, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
