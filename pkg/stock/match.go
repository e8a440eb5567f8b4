package stock

import (
	"cmp"
	"slices"
)

// Strips of one run from one board, for colour: runs are put into boards as pieces into
// bars, the longest first, each into the first board that still takes all of it.

// quickSteps lets a cutting only be filled, which is enough to see whether a board takes a run.
const quickSteps = 1

// A matching is what is cut from one board, by strip.
type matching [][]Piece

// matched keeps each run to one board, of the kind that costs the least so. What is proved without is
// a bound here as well.
func (w *planner) matched(strips []Strip, own [][]Piece, boards []int, bound int) (best trial) {
	priced := !slices.ContainsFunc(boards, func(k int) bool { return w.Stock.Boards[k].Price <= 0 })
	for _, k := range boards {
		t, ok := w.matchedFrom(strips, own, k, priced)
		if ok && (best.sticks == nil || t.cost < best.cost) {
			best = t
		}
	}
	if best.sticks == nil {
		return w.cheapest(strips, own, boards)
	}
	best.bound = min(bound, best.cost)
	return best
}

// runsOf are the runs of a material's strips, the longest first, each with the strip that it is of.
func runsOf(own [][]Piece) (runs [][]Piece, strip []int) {
	for i, list := range own {
		for _, p := range list {
			at := slices.IndexFunc(runs, func(r []Piece) bool { return r[0].Run == p.Run })
			if at < 0 {
				at = len(runs)
				runs, strip = append(runs, nil), append(strip, i)
			}
			runs[at] = append(runs[at], p)
		}
	}
	order := make([]int, len(runs))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(together(runs[b]), together(runs[a])) })
	sorted, of := make([][]Piece, len(runs)), make([]int, len(runs))
	for i, k := range order {
		sorted[i], of[i] = runs[k], strip[k]
	}
	return sorted, of
}

// together is the length of some pieces.
func together(pieces []Piece) (sum float64) {
	for _, p := range pieces {
		sum += p.Length
	}
	return sum
}

// matchedFrom takes all from boards of one kind; false where that can't be.
func (w *planner) matchedFrom(strips []Strip, own [][]Piece, k int, priced bool) (t trial, ok bool) {
	var boards []matching
	runs, strip := runsOf(own)
	for i, r := range runs {
		at := slices.IndexFunc(boards, func(b matching) bool {
			_, ok := w.onBoard(strips, b.with(strip[i], r), k, quickSteps)
			return ok
		})
		if at < 0 {
			at = len(boards)
			boards = append(boards, make(matching, len(strips)))
			if _, ok := w.onBoard(strips, boards[at].with(strip[i], r), k, quickSteps); !ok {
				return t, false
			}
		}
		boards[at] = boards[at].with(strip[i], r)
	}
	t = trial{ripped: map[int]ripped{}, priced: priced, sticks: make([][]Stick, len(strips))}
	var all ripped
	for _, b := range boards {
		got, ok := w.onBoard(strips, b, k, mixedSteps)
		if !ok {
			return t, false
		}
		all.boards = append(all.boards, got.rip.boards...)
		for i := range t.sticks {
			t.sticks[i] = append(t.sticks[i], got.sticks[i]...)
		}
	}
	t.ripped[k] = all
	t.cost = len(all.boards) * price(w.Stock.Boards[k], priced)
	return t, true
}

// with is a board with one run more.
func (b matching) with(strip int, run []Piece) matching {
	b = slices.Clone(b)
	b[strip] = slices.Concat(b[strip], run)
	return b
}

// one is what is got from one board.
type one struct {
	rip    ripped
	sticks [][]Stick
}

// onBoard rips and cuts what is wanted from one board; false where it takes more.
func (w *planner) onBoard(strips []Strip, b matching, k, steps int) (got one, ok bool) {
	wanted := make([]int, len(strips))
	got.sticks = make([][]Stick, len(strips))
	for i, pieces := range b {
		if len(pieces) == 0 {
			continue
		}
		o, kinds := w.order(pieces)
		o.Bars = []Bar{{Length: down(w.Stock.Boards[k].Length, tenth)}}
		c, err := solve(o, steps, w.goOn)
		if err != nil {
			return got, false
		}
		got.sticks[i] = newSticks(c, kinds)
		for n := range got.sticks[i] {
			got.sticks[i][n].Of = k
		}
		wanted[i] = len(got.sticks[i])
	}
	got.rip, ok = w.rip(w.Stock.Boards[k], thicknesses(strips), wanted, w.goOn)
	return got, ok && len(got.rip.boards) == 1
}
