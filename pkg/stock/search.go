package stock

import (
	"encoding/binary"
	"slices"
)

// mostKept is how many states a search keeps: some hundred megabytes at the most.
const mostKept = 400_000

// mostSearched is how many pieces are searched for at the most: the search of more than some tens
// ends only by luck.
const mostSearched = 150

// A searching tries all that can be: the longest that is left to be cut is in some bar, and
// that bar may be taken to be full, since to cut more from it never costs more.
type searching struct {
	*solver
	todo, free []int
	cuts       []cut
	seen       map[string]int // what it cost to come to a state
	broken     bool           // the steps are spent
}

// search ends the argument if the steps suffice: the best plan is then proved.
func (s *solver) search() {
	pieces := 0
	for _, n := range s.demand {
		pieces += n
	}
	if pieces > mostSearched {
		return
	}
	f := &searching{solver: s, todo: slices.Clone(s.demand), free: s.limits(), seen: map[string]int{}}
	if f.open(0); !f.broken {
		s.bound = s.cost
	}
}

// open goes on from what is left to be cut.
func (f *searching) open(cost int) {
	first := slices.IndexFunc(f.todo, func(n int) bool { return n > 0 })
	if first < 0 {
		f.offer(slices.Clone(f.cuts))
		return
	}
	if cost+f.least() >= f.cost || f.known(cost) {
		return
	}
	for k, b := range f.bars {
		if f.free[k] == 0 || b.size < f.size[first] {
			continue
		}
		n := make([]int, len(f.todo))
		n[first] = 1
		f.free[k] = freed(f.free[k], -1)
		f.fillAll(n, first, b.size-f.size[first], k, cost+b.cost)
		f.free[k] = freed(f.free[k], 1)
	}
}

// fillAll goes on with each way to fill the rest of a bar, from a kind of item on.
func (f *searching) fillAll(n []int, i, rest, k, cost int) {
	if f.broken || f.done() {
		return
	}
	if i == len(n) {
		if f.full(n, rest) {
			f.cutOff(n, k, cost)
		}
		return
	}
	own := n[i]
	for more := min(f.todo[i]-own, rest/f.size[i]); more >= 0; more-- {
		n[i] = own + more
		f.fillAll(n, i+1, rest-more*f.size[i], k, cost)
	}
	n[i] = own
}

// full reports whether nothing that is left to be cut fits the rest of a bar.
func (f *searching) full(n []int, rest int) bool {
	if f.broken = !f.spend(perTried + perKind*len(n)); f.broken {
		return false
	}
	for i := range n {
		if f.todo[i] > n[i] && f.size[i] <= rest {
			return false
		}
	}
	return true
}

// cutOff goes on with what is left when a bar is cut.
func (f *searching) cutOff(n []int, k, cost int) {
	n = slices.Clone(n)
	for i := range n {
		f.todo[i] -= n[i]
	}
	f.cuts = append(f.cuts, cut{k, 1, n})
	f.open(cost)
	f.cuts = f.cuts[:len(f.cuts)-1]
	for i := range n {
		f.todo[i] += n[i]
	}
}

// least is what the rest costs at least, by length and by the prices that proved the bound.
func (f *searching) least() int {
	c := f.cheapest(f.todo, f.free)
	if f.dual != nil {
		var sum int64
		for i, n := range f.todo {
			sum += int64(n) * f.dual[i]
		}
		c = max(c, f.payable(int((sum+f.scale-1)/f.scale)))
	}
	return c
}

// known reports whether the same was left before at no greater cost.
func (f *searching) known(cost int) bool {
	var key []byte
	for _, n := range f.todo {
		key = binary.AppendUvarint(key, uint64(n))
	}
	for _, n := range f.free {
		key = binary.AppendVarint(key, int64(n))
	}
	was, ok := f.seen[string(key)]
	if ok && was <= cost {
		return true
	}
	if ok || len(f.seen) < mostKept {
		f.seen[string(key)] = cost
	}
	return false
}
