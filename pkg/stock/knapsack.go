package stock

// A knapsack is the table of what is best put into bars of all sizes up to the largest, of
// kinds of which there are only so many.
type knapsack[V int64 | float64] struct {
	size []int
	lots []lot
	best []V
	took []bool // by lot and size
	most int
}

// newKnapsack fills the table for values of the kinds; what is worth nothing is left out.
func newKnapsack[V int64 | float64](size, count []int, value []V, most int) *knapsack[V] {
	k := &knapsack[V]{size: size, most: most}
	for i := range size {
		if value[i] > 0 && size[i] <= most {
			k.lots = appendLots(k.lots, i, size[i], min(count[i], most/size[i]))
		}
	}
	k.best = make([]V, most+1)
	k.took = make([]bool, len(k.lots)*(most+1))
	for j, l := range k.lots {
		worth, took := value[l.kind]*V(l.n), k.took[j*(most+1):(j+1)*(most+1)]
		to, from := k.best[l.size:], k.best[:most+1-l.size]
		for c := len(from) - 1; c >= 0; c-- {
			if v := from[c] + worth; v > to[c] {
				to[c], took[c+l.size] = v, true
			}
		}
	}
	return k
}

// cells is what the table costs to fill.
func (k *knapsack[V]) cells() int { return (len(k.lots) + 1) * (k.most + 1) }

// pattern is what is best put into a bar of a size.
func (k *knapsack[V]) pattern(size int) []int {
	n := make([]int, len(k.size))
	for j := len(k.lots) - 1; j >= 0; j-- {
		if k.took[j*(k.most+1)+size] {
			n[k.lots[j].kind] += k.lots[j].n
			size -= k.lots[j].size
		}
	}
	return n
}
