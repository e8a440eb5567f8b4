package stock

import (
	"math"
	"slices"

	"strapwork/pkg/work"
)

const (
	// mostChosen is of how many kinds of boards of a material all choices are tried; of more, each alone
	// and all together.
	mostChosen = 4
	// mixedSteps bounds the search where several kinds of boards are mixed: their prices by the
	// strip are fractions, whose last part isn't worth a long search.
	mixedSteps = 50_000_000
	// fine is in how many parts a board's price is divided there.
	fine = 1_000_000
	// cents is in how many parts prices are whole numbers.
	cents = 100
)

// A trial is one way to get a material's strips.
type trial struct {
	sticks [][]Stick // by strip; Of is the job's board
	ripped map[int]ripped
	cost   int
	bound  int // what any way costs at least
	priced bool
}

// price is what a board costs, as a whole number, where all have a price; else 1.
func price(b work.StockBoard, priced bool) int {
	if priced {
		return max(1, int(math.Round(b.Price*cents)))
	}
	return 1
}

// cheapest tries which of the boards to take.
func (w *planner) cheapest(strips []Strip, own [][]Piece, boards []int) (best trial) {
	priced := !slices.ContainsFunc(boards, func(k int) bool { return w.Stock.Boards[k].Price <= 0 })
	bound := 0
	for _, chosen := range choices(boards) {
		t, ok := w.try(strips, own, chosen, priced)
		if !ok {
			continue
		}
		if len(chosen) == len(boards) {
			bound = t.bound // of all choices
		}
		if best.sticks == nil || t.cost < best.cost {
			best = t
		}
	}
	if len(boards) > 1 && bound < best.cost {
		bound = w.refuted(best.cost, bound, strips, own, boards, priced)
	}
	best.bound = min(bound, best.cost)
	return best
}

// choices are the parts of a list, all of it first.
func choices(list []int) (all [][]int) {
	n := len(list)
	for set := 1<<min(n, mostChosen) - 1; set > 0; set-- {
		var part []int
		for i := range min(n, mostChosen) {
			if set>>i&1 == 1 {
				part = append(part, list[i])
			}
		}
		all = append(all, part)
	}
	if n <= mostChosen {
		return all
	}
	all = [][]int{list}
	for _, k := range list {
		all = append(all, []int{k})
	}
	return all
}

// try gets the strips from some kinds of boards: first the fewest sticks, or where there are several kinds the
// cheapest, and then the fewest boards that these are ripped from.
func (w *planner) try(strips []Strip, own [][]Piece, boards []int, priced bool) (t trial, ok bool) {
	t = trial{ripped: map[int]ripped{}, priced: priced, sticks: make([][]Stick, len(strips))}
	wanted := map[int][]int{}
	for _, k := range boards {
		wanted[k] = make([]int, len(strips))
	}
	cost, least := 0.0, make([]int, len(strips)) // what the sticks cost at least, and how many there are
	for i, s := range strips {
		c, kinds, can := w.cut(s.Thickness, own[i], boards, priced, len(strips) == 1)
		if !can {
			return t, false
		}
		t.sticks[i] = newSticks(c, kinds)
		for n := range t.sticks[i] {
			k := boards[t.sticks[i][n].Of]
			t.sticks[i][n].Of = k
			wanted[k][i]++
		}
		cost += float64(c.Bound) / fine
		least[i] = c.Bound
	}
	for _, k := range boards {
		r, can := w.rip(w.Stock.Boards[k], thicknesses(strips), wanted[k], w.goOn)
		if !can {
			return t, false
		}
		t.ripped[k] = r
		t.cost += len(r.boards) * price(w.Stock.Boards[k], priced)
	}
	if len(boards) > 1 {
		t.bound = min(int(math.Ceil(cost-noise)), t.cost)
		return t, true
	}
	// The fewest sticks of each strip need the fewest boards.
	r := t.ripped[boards[0]]
	if !slices.Equal(least, wanted[boards[0]]) {
		r, _ = w.rip(w.Stock.Boards[boards[0]], thicknesses(strips), least, w.goOn)
	}
	t.bound = r.bound * price(w.Stock.Boards[boards[0]], priced)
	return t, true
}

func thicknesses(strips []Strip) (list []float64) {
	for _, s := range strips {
		list = append(list, s.Thickness)
	}
	return list
}

// refuted is a bound where there are several kinds of boards: all that cost less than a plan and could pay
// for the sticks are tried, the cheapest first, until some aren't seen to be too few.
func (w *planner) refuted(cost, from int, strips []Strip, own [][]Piece, boards []int, priced bool) int {
	all, ok := baskets(w.prices(boards, priced), from, cost)
	if !ok {
		return from
	}
	for n, c := range all {
		if n >= mostBaskets || !w.tooFew(c.counts, strips, own, boards) {
			return c.cost
		}
	}
	return cost
}

// prices are those of boards.
func (w *planner) prices(boards []int, priced bool) (list []int) {
	for _, k := range boards {
		list = append(list, price(w.Stock.Boards[k], priced))
	}
	return list
}

// A basket is so many boards of each kind.
type basket struct {
	counts []int
	cost   int
}

// mostBaskets is how many are tried, mostListed how many are looked through for the cheapest, and
// mostLooked how many are begun, most of which may cost too little.
const (
	mostBaskets = 200
	mostListed  = 20_000
	mostLooked  = 2_000_000
)

// baskets are all boards that cost no less than least, and less than most; the cheapest first. It is not ok where
// there are too many to look through.
func baskets(prices []int, least, most int) (all []basket, ok bool) {
	counts := make([]int, len(prices))
	looked := 0
	var add func(i, cost int)
	add = func(i, cost int) {
		if looked > mostLooked {
			return
		}
		looked++
		if i == len(prices) {
			if cost >= least && len(all) <= mostListed {
				all = append(all, basket{slices.Clone(counts), cost})
			}
			return
		}
		for ; cost < most; cost += prices[i] {
			add(i+1, cost)
			counts[i]++
		}
		counts[i] = 0
	}
	if add(0, 0); len(all) > mostListed || looked > mostLooked {
		return nil, false
	}
	slices.SortStableFunc(all, func(a, b basket) int { return a.cost - b.cost })
	return all, true
}

// tooFew reports whether it is proved that some boards don't do: where they are of one kind, for all strips
// together, else for one of the strips by itself.
func (w *planner) tooFew(counts []int, strips []Strip, own [][]Piece, boards []int) bool {
	kinds, one := 0, 0
	for n, c := range counts {
		if c > 0 {
			kinds, one = kinds+1, n
		}
	}
	if kinds == 1 {
		t, ok := w.try(strips, own, boards[one:one+1], false)
		return !ok || t.bound > counts[one]
	}
	const more = 1000
	for i, s := range strips {
		o, _ := w.order(own[i])
		longest := 0
		for n, k := range boards {
			b := w.Stock.Boards[k]
			if y := max(w.yield(b, s.Thickness, OffEdge).Strips(), w.yield(b, s.Thickness, OffFace).Strips()); y > 0 {
				longest = max(longest, down(b.Length, tenth))
				if counts[n] > 0 {
					o.Bars = append(o.Bars, Bar{Length: down(b.Length, tenth), Count: counts[n] * y, Price: 1})
				}
			}
		}
		sticks := 0
		for _, b := range o.Bars {
			sticks += b.Count
		}
		o.Bars = append(o.Bars, Bar{Length: longest, Price: more * (sticks + 1)})
		if c, err := solve(o, mixedSteps, w.goOn); err == nil && c.Bound > sticks {
			return true
		}
	}
	return false
}

// cut cuts the pieces of a strip from sticks of some boards.
func (w *planner) cut(thickness float64, pieces []Piece, boards []int, priced, alone bool) (c Cutting, kinds [][]Piece, ok bool) {
	o, kinds := w.order(pieces)
	endless := false // there is a kind of which there are as many as are wanted, for the longest
	for _, k := range boards {
		b := w.Stock.Boards[k]
		part := w.share(b, thickness, alone)
		bar := Bar{Length: down(b.Length, tenth), Count: b.Count * max(w.yield(b, thickness, OffEdge).Strips(), w.yield(b, thickness, OffFace).Strips())}
		if part == 0 {
			bar.Length = 0
		}
		if len(boards) > 1 {
			bar.Price = max(1, int(part*float64(price(b, priced))*fine))
		}
		endless = endless || bar.Count == 0 && bar.Length >= o.Items[0].Length
		o.Bars = append(o.Bars, bar)
	}
	for i := range o.Bars {
		if !endless {
			o.Bars[i].Count = 0
		}
	}
	steps := mostSteps
	switch all := len(w.boardsOf(pieces[0].Material)); {
	case len(boards) > 1:
		steps = mixedSteps
	case all > mostChosen:
		steps = mostSteps / all // so that many kinds take no longer than one
	}
	c, err := solve(o, steps, w.goOn)
	return c, kinds, err == nil
}

// fill fills a material's plan: the boards in order, and which stick is ripped from which.
func (t trial) fill(m *Material, boards []work.StockBoard) {
	for i := range t.sticks {
		m.Strips[i].Sticks = nil
	}
	for k, b := range boards {
		r := t.ripped[k]
		if len(r.boards) == 0 {
			continue
		}
		left := slices.Clone(t.sticks)
		for _, ripped := range r.boards {
			ripped.Of = k
			m.Boards = append(m.Boards, ripped)
			for _, s := range ripped.Slices {
				for n := s.Strips; n > 0; left[s.Strip] = left[s.Strip][1:] {
					if own := left[s.Strip][0]; own.Of == k {
						own.Board = len(m.Boards)
						m.Strips[s.Strip].Sticks = append(m.Strips[s.Strip].Sticks, own)
						n--
					}
				}
			}
		}
		m.Bought = append(m.Bought, Bought{Of: k, Count: len(r.boards), Price: b.Price * float64(len(r.boards))})
	}
	m.Cost, m.Bound, m.Priced = float64(t.cost), float64(t.bound), t.priced
	if t.priced {
		m.Cost, m.Bound = m.Cost/cents, m.Bound/cents
	}
}
