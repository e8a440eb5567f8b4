package stock

import (
	"math"
	"slices"
)

const (
	// gainful is the reduced cost, in parts of a bar's, below which another pattern no
	// longer helps: well above what sums of floating point numbers are out by.
	gainful = 1e-9
	// fractional is how far a number of bars may be from a whole one and still be taken for it.
	fractional = 1e-6
	// refactored is after how many exchanges the inverse is worked out anew.
	refactored = 60
	// mostKinds is of how many lengths a linear program is solved: its inverse has the square of them.
	mostKinds = 400
	// mostTable is of how many kinds times sizes a knapsack's table is made: some hundred megabytes at the most.
	mostTable = 50_000_000
)

// A column is a pattern of the linear program, or what makes its rows hold: an item too
// many, or a limited bar that isn't used.
type column struct {
	n     []int // of a pattern
	of    []int // the kinds of which it has any
	bar   int
	slack int // the row of which it is the slack; -1 for a pattern
	cost  float64
}

// A master is the linear program of the patterns so far: a row for each kind of item, which
// is wanted so often, and then one for each limited kind of bar.
type master struct {
	*solver
	demand, limits []int
	row            []int // of each kind of bar, its row; -1: it has none
	basis          []column
	inverse        [][]float64
	x              []float64 // how often each of the basis is taken
	pool           []column  // patterns that may help later
	exchanged      int
	bound          float64   // the best that prices gave on the way
	proof          []float64 // and those prices
}

func (s *solver) newMaster(demand, limits []int) *master {
	m := &master{solver: s, demand: demand, limits: limits}
	for i := range demand {
		c := column{n: make([]int, len(demand)), of: []int{i}, slack: -1, cost: math.Inf(1)}
		for k, b := range s.bars {
			if fit := min(b.size/s.size[i], max(1, demand[i])); limits[k] < 0 && fit > 0 && float64(b.cost)/float64(fit) < c.cost {
				c.bar, c.cost, c.n[i] = k, float64(b.cost)/float64(fit), fit
			}
		}
		c.cost = float64(s.bars[c.bar].cost)
		m.basis = append(m.basis, c)
	}
	for k := range s.bars {
		m.row = append(m.row, -1)
		if limits[k] >= 0 {
			m.row[k] = len(m.basis)
			m.basis = append(m.basis, column{slack: len(m.basis)})
		}
	}
	m.refactor()
	return m
}

// entries are a column's, by row.
func (m *master) entries(c column) []float64 {
	list := make([]float64, len(m.basis))
	switch {
	case c.slack >= len(m.demand):
		list[c.slack] = 1
	case c.slack >= 0:
		list[c.slack] = -1
	default:
		for _, i := range c.of {
			list[i] = float64(c.n[i])
		}
		if r := m.row[c.bar]; r >= 0 {
			list[r] = 1
		}
	}
	return list
}

// refactor works the inverse out anew, and what is taken of each column. It reports whether the
// basis has an inverse.
func (m *master) refactor() bool {
	n := len(m.basis)
	rows := make([][]float64, n)
	for i := range rows {
		rows[i] = make([]float64, 2*n)
		rows[i][n+i] = 1
	}
	for j, c := range m.basis {
		for i, v := range m.entries(c) {
			rows[i][j] = v
		}
	}
	for j := range n {
		at := j
		for i := j; i < n; i++ {
			if math.Abs(rows[i][j]) > math.Abs(rows[at][j]) {
				at = i
			}
		}
		if math.Abs(rows[at][j]) < gainful {
			return false
		}
		rows[j], rows[at] = rows[at], rows[j]
		eliminate(rows, j, j)
	}
	m.inverse = make([][]float64, n)
	for i := range rows {
		m.inverse[i] = rows[i][n:]
	}
	m.x = make([]float64, n)
	for i := range n {
		for r, b := range m.right() {
			m.x[i] += m.inverse[i][r] * b
		}
	}
	m.exchanged = 0
	return true
}

// eliminate makes a column 1 in one row and 0 in the others.
func eliminate(rows [][]float64, row, col int) {
	by := 1 / rows[row][col]
	for j := range rows[row] {
		rows[row][j] *= by
	}
	for i := range rows {
		if f := rows[i][col]; i != row && f != 0 {
			for j, v := range rows[row] {
				rows[i][j] -= f * v
			}
		}
	}
}

// right is what the rows must come to.
func (m *master) right() []float64 {
	var list []float64
	for _, d := range m.demand {
		list = append(list, float64(d))
	}
	for _, l := range m.limits {
		if l >= 0 {
			list = append(list, float64(l))
		}
	}
	return list
}

// prices are what one more of each row would cost.
func (m *master) prices() []float64 {
	list := make([]float64, len(m.basis))
	for i, c := range m.basis {
		if c.cost != 0 {
			for r, v := range m.inverse[i] {
				list[r] += c.cost * v
			}
		}
	}
	return list
}

// optimize takes in patterns until none would help, or no more steps are left than until, or what is left
// can't beat a cost. It reports the first.
func (m *master) optimize(beat, until int) bool {
	for {
		y := m.prices()
		c, gain := m.slack(y)
		if gain == 0 {
			c, gain = m.pooled(y)
		}
		if gain == 0 {
			var best float64
			c, gain, best = m.price(y)
			if best > m.bound {
				m.bound, m.proof = best, y[:len(m.demand)]
			}
			if beat > 0 && best > float64(beat-m.unit)+fractional {
				m.prove(y[:len(m.demand)])
				if m.done() {
					return false
				}
			}
			if gain < gainful*float64(max(1, m.unit)) {
				return true
			}
		}
		if !m.spend(len(m.basis)*len(m.basis)) || m.steps < until || !m.exchange(c) {
			return false
		}
	}
}

// slack is a slack that would help, and how much.
func (m *master) slack(y []float64) (c column, gain float64) {
	for r, v := range y {
		sign := -1.0
		if r >= len(m.demand) {
			sign = 1
		}
		if g := sign * v; g > math.Max(gain, gainful) {
			c, gain = column{slack: r}, g
		}
	}
	return c, gain
}

// price is the pattern that would help the most, and how much; and the bound that the
// prices give.
func (m *master) price(y []float64) (c column, gain, bound float64) {
	k := newKnapsack(m.size, m.demand, y[:len(m.demand)], m.largest())
	m.spend(k.cells())
	at, shrink := -1, 1.0
	for i, b := range m.bars {
		cost := float64(b.cost)
		if r := m.row[i]; r >= 0 {
			cost -= y[r]
		} else if k.best[b.size] > cost {
			shrink = math.Min(shrink, cost/k.best[b.size])
		}
		if g := k.best[b.size] - cost; m.limits[i] != 0 && (at < 0 || g > gain) {
			at, gain = i, g
		}
	}
	for i, d := range m.demand {
		bound += shrink * y[i] * float64(d)
	}
	for i, b := range m.bars {
		if m.row[i] >= 0 {
			bound -= float64(m.limits[i]) * math.Max(0, shrink*k.best[b.size]-float64(b.cost))
		}
	}
	m.refill(k, at)
	return m.pattern(k.pattern(m.bars[at].size), at), gain, bound
}

// stock fills the pool with the bars of the best plan so far.
func (m *master) stock() {
	for i, c := range m.best {
		if i == 0 || c.bar != m.best[i-1].bar || !slices.Equal(c.n, m.best[i-1].n) {
			m.pool = append(m.pool, m.pattern(c.n, c.bar))
		}
	}
}

// pattern is a column.
func (m *master) pattern(n []int, bar int) column {
	c := column{n: n, bar: bar, slack: -1, cost: float64(m.bars[bar].cost)}
	for i, k := range n {
		if k > 0 {
			c.of = append(c.of, i)
		}
	}
	return c
}

// refill puts into the pool, for each kind of item, the best pattern that has one of it and what else the
// table has: the table costs much, and these are nearly as good as the best.
func (m *master) refill(k *knapsack[float64], bar int) {
	m.pool = m.pool[:0]
	for i, size := range m.size {
		if rest := m.bars[bar].size - size; rest >= 0 && m.demand[i] > 0 {
			if n := k.pattern(rest); n[i] < m.demand[i] {
				n[i]++
				m.pool = append(m.pool, m.pattern(n, bar))
			}
		}
	}
}

// pooled is the pattern of the pool that would help the most, and how much.
func (m *master) pooled(y []float64) (c column, gain float64) {
	m.spend(len(m.pool) * 16)
	for _, p := range m.pool {
		g := -p.cost
		if r := m.row[p.bar]; r >= 0 {
			g += y[r]
		}
		for _, i := range p.of {
			g += y[i] * float64(p.n[i])
		}
		if g > math.Max(gain, gainful*float64(max(1, m.unit))) {
			c, gain = p, g
		}
	}
	return c, gain
}

// largest is the size of the largest bar.
func (p *problem) largest() (size int) {
	for _, b := range p.bars {
		size = max(size, b.size)
	}
	return size
}

// exchange takes a column into the basis, and out the one that comes to nothing first.
func (m *master) exchange(c column) bool {
	entry, n := m.entries(c), len(m.basis)
	d := make([]float64, n)
	for i := range d {
		for r, v := range entry {
			if v != 0 {
				d[i] += m.inverse[i][r] * v
			}
		}
	}
	out := -1
	for i, v := range d {
		// Of equal ones that with the largest entry, which is the safest to divide by.
		if v > fractional && (out < 0 || m.x[i]*d[out] < m.x[out]*v-gainful || m.x[i]*d[out] <= m.x[out]*v && v > d[out]) {
			out = i
		}
	}
	if out < 0 {
		return false
	}
	take := math.Max(0, m.x[out]/d[out])
	for i := range m.x {
		m.x[i] -= take * d[i]
	}
	m.x[out] = take
	m.basis[out] = c
	if m.exchanged++; m.exchanged >= refactored {
		m.spend(n * n * n)
		return m.refactor()
	}
	by := 1 / d[out]
	for r := range m.inverse[out] {
		m.inverse[out][r] *= by
	}
	for i := range m.inverse {
		if f := d[i]; i != out && f != 0 {
			for r, v := range m.inverse[out] {
				m.inverse[i][r] -= f * v
			}
		}
	}
	return true
}

// value is what the linear program costs.
func (m *master) value() (sum float64) {
	for i, c := range m.basis {
		sum += c.cost * m.x[i]
	}
	return sum
}
