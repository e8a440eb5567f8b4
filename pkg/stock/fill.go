package stock

import (
	"math/bits"
	"slices"
)

// filled cuts what is wanted bar after bar, each as full as can be: the longest that is
// left and then what fills the bar best, or just what fills it best. Among kinds of bars it
// takes the one that is cheapest by what is used of it.
func (s *solver) filled(demand, limits []int, longest bool) (cuts []cut) {
	todo, free := slices.Clone(demand), slices.Clone(limits)
	for {
		first := slices.IndexFunc(todo, func(n int) bool { return n > 0 })
		if first < 0 {
			return cuts
		}
		best, used := cut{}, 0
		for k, b := range s.bars {
			if free[k] == 0 || b.size < s.size[first] {
				continue
			}
			s.spend(len(todo) * b.size / 64)
			n := s.fill(b.size, todo, first, longest)
			// cheaper by length, or as cheap and fuller
			if u := s.used(n); best.n == nil || b.cost*used < s.bars[best.bar].cost*u {
				best, used = cut{k, 1, n}, u
			}
		}
		best.times = s.repeats(best, todo, free[best.bar])
		for i, n := range best.n {
			todo[i] -= n * best.times
		}
		free[best.bar] = freed(free[best.bar], -best.times)
		cuts = append(cuts, best)
	}
}

// repeats is how often a bar can be cut so.
func (s *solver) repeats(c cut, todo []int, free int) int {
	times := 1 << 30
	if free >= 0 {
		times = free
	}
	for i, n := range c.n {
		if n > 0 {
			times = min(times, todo[i]/n)
		}
	}
	return times
}

// fill is what of the items fills a bar best, with the one of first among it if that is
// wanted; of equals what takes more of the long ones. Sums that can be reached are bits.
func (s *solver) fill(size int, todo []int, first int, longest bool) []int {
	n := make([]int, len(todo))
	if longest {
		n[first]++
		size -= s.size[first]
	}
	var lots []lot // the shortest first, so that the long ones are taken first on the way back
	for i := len(todo) - 1; i >= 0; i-- {
		lots = appendLots(lots, i, s.size[i], min(todo[i]-n[i], size/s.size[i]))
	}
	words := size/64 + 1
	reach := make([]uint64, (len(lots)+1)*words)
	reach[0] = 1
	for j, l := range lots {
		shifted(reach[(j+1)*words:(j+2)*words], reach[j*words:(j+1)*words], l.size)
	}
	at := highest(reach[len(lots)*words:], size)
	for j := len(lots) - 1; j >= 0; j-- {
		if l := lots[j]; l.size <= at && has(reach[j*words:], at-l.size) {
			n[l.kind] += l.n
			at -= l.size
		}
	}
	return n
}

// A lot is several of one kind, taken together or not at all.
type lot struct{ kind, n, size int }

// appendLots adds lots of one kind of which any number up to most can be put together.
func appendLots(lots []lot, kind, size, most int) []lot {
	for k := 1; most > 0; k *= 2 {
		n := min(k, most)
		lots = append(lots, lot{kind, n, n * size})
		most -= n
	}
	return lots
}

// shifted is all sums of before, and all of them with one lot more.
func shifted(to, from []uint64, by int) {
	copy(to, from)
	words, rest := by/64, uint(by%64)
	for i := words; i < len(to); i++ {
		to[i] |= from[i-words] << rest
		if rest > 0 && i > words {
			to[i] |= from[i-words-1] >> (64 - rest)
		}
	}
}

func has(reach []uint64, at int) bool { return reach[at/64]>>(at%64)&1 == 1 }

// highest is the largest sum of at most so much.
func highest(reach []uint64, most int) int {
	for w := most / 64; w >= 0; w-- {
		word := reach[w]
		if w == most/64 {
			word &= ^uint64(0) >> (63 - most%64)
		}
		if word != 0 {
			return w*64 + bits.Len64(word) - 1
		}
	}
	return 0
}
