// Package stock plans how strips are got from boards: how each board is ripped, which
// piece is cut from which strip of it, what is left over, and what is to be bought.
package stock

// One-dimensional cutting with kerf. Every plan is got from the same few ideas: fill bar
// after bar as full as can be (a subset sum); the linear program over all patterns, by
// column generation with a knapsack for pricing (Gilmore and Gomory, "A linear programming
// approach to the cutting-stock problem", Operations Research 9, 1961, and 11, 1963); its
// solution rounded; and, where few pieces are left to argue about, a search of all that can
// be. What a plan can't cost less than is proved in whole numbers (Farley's bound, "A note
// on bounding a class of linear programming problems, including cutting stock problems",
// Operations Research 38, 1990): rounding in the linear program spoils no proof.

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
)

// An Item is what is to be cut.
type Item struct {
	Length int // more than 0, in any unit; all of one order in the same
	Count  int
}

// A Bar is one kind of stock that items are cut from.
type Bar struct {
	Length int
	Count  int // how many there are; 0: as many as are wanted
	Price  int // of one; 0 for all: a plan has the fewest bars
}

// An Order is what is to be cut, and from what. A cut takes Kerf; the last of a bar takes
// none where nothing is left.
type Order struct {
	Kerf  int
	Items []Item
	Bars  []Bar
}

// A Pattern is how one bar, or several alike, are cut.
type Pattern struct {
	Bar   int   // which kind, of the order's
	Times int   // how many bars are cut so
	Cuts  []int // how many of each of the order's items
	Left  int   // what is left of each bar
}

// A Cutting is how an order is cut. Cost and Bound are prices, or, where no bar has one, bars.
type Cutting struct {
	Patterns []Pattern
	Bars     int // that are cut
	Cost     int
	Bound    int     // no plan costs less: proved
	Linear   float64 // what the linear program over all patterns costs; 0 where it wasn't needed or not ended
}

// Proved reports whether no plan costs less.
func (p Cutting) Proved() bool { return p.Cost == p.Bound }

// ErrTooShort is that an item fits no kind of bar of which there are as many as are wanted.
var ErrTooShort = errors.New("no bar is long enough")

// Progress is how far a search has come.
type Progress struct {
	Best, Bound int // the cost of the best plan yet, and what none can cost less than
}

// Solve plans an order at the least cost that it finds, in a number of steps that is
// bounded by counting. Each item must fit a kind of bar that isn't limited. goOn, which may be nil, is
// called now and then and may panic to end the search.
func Solve(o Order, goOn func(Progress)) (Cutting, error) { return solve(o, mostSteps, goOn) }

// solve does the same in so many steps.
func solve(o Order, steps int, goOn func(Progress)) (Cutting, error) {
	p, err := newProblem(o)
	if err != nil {
		return Cutting{}, err
	}
	s := &solver{problem: p, goOn: goOn, steps: steps}
	s.bound = s.cheapest(s.demand, s.limits())
	s.best = nil
	s.offer(s.filled(s.demand, s.limits(), true))
	s.offer(s.filled(s.demand, s.limits(), false))
	if !s.done() && s.steps > 0 {
		s.linear()
	}
	if !s.done() && s.steps > 0 {
		s.search()
	}
	return s.plan(o), nil
}

// A problem is an order made plain: equal items are one, the longest first, lengths have
// the kerf in them, and so have the bars, since a bar's last cut may fall past its end.
type problem struct {
	size   []int // of each kind of item, descending
	demand []int
	from   []int // of each item of the order, which kind it is; -1: none are wanted
	bars   []bar
	unit   int    // all costs are multiples of it
	sums   []bool // whether prices can add up to so many of it, as far as was asked
}

type bar struct {
	size, cost int
	limit      int // -1: as many as are wanted
}

func newProblem(o Order) (*problem, error) {
	p := &problem{from: make([]int, len(o.Items))}
	all := 0
	for _, it := range o.Items {
		if it.Count > 0 && !slices.Contains(p.size, it.Length+o.Kerf) {
			p.size = append(p.size, it.Length+o.Kerf)
			all = gcd(all, it.Length+o.Kerf)
		}
	}
	slices.SortFunc(p.size, func(a, b int) int { return b - a })
	p.demand = make([]int, len(p.size))
	for i, it := range o.Items {
		p.from[i] = -1
		if it.Count > 0 {
			p.from[i] = slices.Index(p.size, it.Length+o.Kerf)
			p.demand[p.from[i]] += it.Count
		}
	}
	for i := range p.size {
		p.size[i] /= all
	}
	priced := slices.ContainsFunc(o.Bars, func(b Bar) bool { return b.Price > 0 })
	for _, b := range o.Bars {
		own := bar{size: (b.Length + o.Kerf) / max(1, all), cost: 1, limit: b.Count}
		if priced {
			own.cost = b.Price
		}
		if own.limit == 0 {
			own.limit = -1
		}
		p.unit = gcd(p.unit, own.cost)
		p.bars = append(p.bars, own)
	}
	if len(p.size) > 0 && !slices.ContainsFunc(p.bars, func(b bar) bool { return b.limit < 0 && b.size >= p.size[0] }) {
		return nil, fmt.Errorf("%w for %d", ErrTooShort, p.size[0]*all-o.Kerf)
	}
	return p, nil
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// limits is how many there are of each kind of bar.
func (p *problem) limits() []int {
	list := make([]int, len(p.bars))
	for i, b := range p.bars {
		list[i] = b.limit
	}
	return list
}

// cheapest is what the demand costs at least: all of it at the price by length of the kind of
// bar that is cheapest so, and at least one bar that takes the longest of it.
func (p *problem) cheapest(demand, limits []int) int {
	total, longest := 0, 0
	for i, d := range demand {
		total += d * p.size[i]
		if d > 0 && longest == 0 {
			longest = p.size[i]
		}
	}
	if total == 0 {
		return 0
	}
	least, one := -1, -1
	for k, b := range p.bars {
		if limits[k] == 0 || b.size == 0 {
			continue
		}
		if c := (total*b.cost + b.size - 1) / b.size; least < 0 || c < least {
			least = c
		}
		if b.size >= longest && (one < 0 || b.cost < one) {
			one = b.cost
		}
	}
	return p.payable(max(least, one))
}

// mostPayable is the cost up to which all sums of prices are looked at.
const mostPayable = 1 << 20

// payable is the least sum of prices that is no less than a cost.
func (p *problem) payable(c int) int {
	c = (c + p.unit - 1) / p.unit
	if len(p.bars) == 1 || c > mostPayable {
		return c * p.unit
	}
	dearest := 0
	for _, b := range p.bars {
		dearest = max(dearest, b.cost/p.unit)
	}
	for x := len(p.sums); x <= c+dearest; x++ {
		p.sums = append(p.sums, x == 0 || slices.ContainsFunc(p.bars, func(b bar) bool {
			w := b.cost / p.unit
			return w <= x && p.sums[x-w]
		}))
	}
	for !p.sums[c] {
		c++
	}
	return c * p.unit
}

// A cut is a pattern of the plain problem.
type cut struct {
	bar, times int
	n          []int
}

// A solver looks for the cheapest cuts.
type solver struct {
	*problem
	goOn  func(Progress)
	steps int // that are left

	best  []cut
	cost  int // of the best
	bound int // that is proved
	lp    float64

	dual  []int64 // prices of the items, in costs of scale, that prove the bound
	scale int64
}

// Steps are cells of a knapsack's table and patterns tried, about a nanosecond and a
// microsecond; the bound is a second or two.
const (
	mostSteps = 1_000_000_000
	perTried  = 500
	perKind   = 20
)

func (s *solver) done() bool { return s.best != nil && s.cost <= s.bound }

// spend counts steps, and reports whether some are left.
func (s *solver) spend(steps int) bool {
	if s.goOn != nil {
		s.goOn(Progress{s.cost, s.bound})
	}
	s.steps -= steps
	return s.steps > 0
}

// offer takes a plan if it is the best yet. Each bar becomes the cheapest kind of bar that
// holds what is cut from it.
func (s *solver) offer(cuts []cut) {
	cuts = s.cheapened(cuts)
	if c := s.costOf(cuts); s.best == nil || c < s.cost {
		s.best, s.cost = cuts, c
	}
}

func (s *solver) costOf(cuts []cut) (c int) {
	for _, k := range cuts {
		c += s.bars[k.bar].cost * k.times
	}
	return c
}

// cheapened takes for each bar a cheaper kind, or a shorter one at that price, if one is free that holds
// what is cut from it.
func (s *solver) cheapened(cuts []cut) []cut {
	if len(s.bars) == 1 {
		return cuts
	}
	free := s.limits()
	for _, c := range cuts {
		if free[c.bar] >= 0 {
			free[c.bar] -= c.times
		}
	}
	var out []cut
	for _, c := range cuts {
		used := s.used(c.n)
		for range c.times {
			to := c.bar
			for k, b := range s.bars {
				if b.size >= used && free[k] != 0 && cmp.Or(cmp.Compare(b.cost, s.bars[to].cost), cmp.Compare(b.size, s.bars[to].size)) < 0 {
					to = k
				}
			}
			if to != c.bar {
				free[c.bar], free[to] = freed(free[c.bar], 1), freed(free[to], -1)
			}
			out = append(out, cut{to, 1, c.n})
		}
	}
	return out
}

// freed is a number of bars that are free and some more, unless they are without number.
func freed(n, by int) int {
	if n < 0 {
		return n
	}
	return max(0, n+by)
}

// used is how much of a bar some items take.
func (p *problem) used(n []int) (sum int) {
	for i, k := range n {
		sum += k * p.size[i]
	}
	return sum
}

// plan is the best plan in the order's own terms: the fullest bars first, equal ones together.
func (s *solver) plan(o Order) Cutting {
	out := Cutting{Cost: s.cost, Bound: min(s.bound, s.cost), Linear: s.lp}
	left := slices.Clone(s.best)
	slices.SortStableFunc(left, func(a, b cut) int {
		return cmp.Or(cmp.Compare(a.bar, b.bar), -slices.Compare(a.n, b.n))
	})
	todo := make([]int, len(o.Items)) // of each item, how many are still to be cut
	for i, it := range o.Items {
		todo[i] = it.Count
	}
	for _, c := range left {
		for range c.times {
			out.add(o, s.handed(c, todo))
		}
	}
	return out
}

// handed says which of the order's items are cut from one bar.
func (s *solver) handed(c cut, todo []int) Pattern {
	p := Pattern{Bar: c.bar, Times: 1, Cuts: make([]int, len(todo))}
	want := slices.Clone(c.n)
	for i, k := range s.from {
		if k >= 0 {
			n := min(want[k], todo[i])
			p.Cuts[i], want[k], todo[i] = n, want[k]-n, todo[i]-n
		}
	}
	return p
}

// add adds a bar's pattern to those of before.
func (p *Cutting) add(o Order, c Pattern) {
	c.Left = o.Bars[c.Bar].Length
	pieces := 0
	for i, n := range c.Cuts {
		c.Left -= n * (o.Items[i].Length + o.Kerf)
		pieces += n
	}
	if pieces == 0 {
		return
	}
	c.Left = max(0, c.Left)
	p.Bars++
	if last := len(p.Patterns) - 1; last >= 0 && p.Patterns[last].Bar == c.Bar && slices.Equal(p.Patterns[last].Cuts, c.Cuts) {
		p.Patterns[last].Times++
		return
	}
	p.Patterns = append(p.Patterns, c)
}
