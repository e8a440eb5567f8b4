package stock

import (
	"math"
	"math/big"
	"slices"
)

// finest is how finely prices are rounded for a proof: their sum has as many parts.
const finest = 1 << 40

// prove raises the bound to what prices of the items prove. They are rounded to whole
// numbers, made so small that no pattern of an unlimited bar is worth more than the bar, and
// what limited bars are worth more than they cost is taken off.
func (s *solver) prove(y []float64) {
	sum := 0.0
	for i, v := range y {
		sum += math.Max(0, v) * float64(s.demand[i])
	}
	if sum <= 0 {
		return
	}
	scale := int64(finest / math.Max(1, sum))
	whole := make([]int64, len(y))
	for i, v := range y {
		whole[i] = int64(math.Max(0, v) * float64(scale))
	}
	for range 3 {
		k := newKnapsack(s.size, s.demand, whole, s.largest())
		s.spend(k.cells())
		worth, cost := int64(0), int64(1) // of the unlimited bar that is worth the most for its cost
		for _, b := range s.bars {
			if v := k.best[b.size]; b.limit < 0 && over(v, cost, worth, int64(b.cost)) {
				worth, cost = v, int64(b.cost)
			}
		}
		if !over(worth, 1, scale, cost) {
			s.take(whole, scale, k)
			return
		}
		for i, v := range whole {
			whole[i] = scaled(v, scale*cost, worth)
		}
	}
}

// over reports whether a*b is more than c*d.
func over(a, b, c, d int64) bool {
	return new(big.Int).Mul(big.NewInt(a), big.NewInt(b)).Cmp(new(big.Int).Mul(big.NewInt(c), big.NewInt(d))) > 0
}

// scaled is v*by/to, rounded down.
func scaled(v, by, to int64) int64 {
	p := new(big.Int).Mul(big.NewInt(v), big.NewInt(by))
	return p.Div(p, big.NewInt(to)).Int64()
}

// take takes the bound of prices that are feasible.
func (s *solver) take(y []int64, scale int64, k *knapsack[int64]) {
	var sum int64
	for i, v := range y {
		sum += v * int64(s.demand[i])
	}
	limited := false
	for _, b := range s.bars {
		if b.limit > 0 {
			more := max(0, k.best[b.size]-scale*int64(b.cost))
			limited = limited || more > 0
			sum -= int64(b.limit) * more
		}
	}
	if sum <= 0 {
		return
	}
	if bound := s.payable(int((sum + scale - 1) / scale)); bound > s.bound {
		s.bound = bound
	}
	if !limited {
		s.dual, s.scale = slices.Clone(y), scale
	}
}
