package arcfit

import "math"

// A dense is a symmetric matrix, of which the lower half is used, row by row.
type dense struct {
	n int
	a []float64
}

func newDense(n int) dense { return dense{n, make([]float64, n*n)} }

func (m dense) row(i int) []float64 { return m.a[i*m.n : (i+1)*m.n] }

// factor makes m its own Cholesky factor L (L L^T = m, Golub and Van Loan, Matrix
// Computations, algorithm 4.2.1) and reports whether m is positive definite.
func (m dense) factor() bool {
	for i := range m.n {
		ri := m.row(i)
		for j := range i + 1 {
			rj := m.row(j)
			sum := ri[j]
			for k, v := range rj[:j] {
				sum -= float64(ri[k] * v)
			}
			if i != j {
				ri[j] = sum / rj[j]
				continue
			}
			if !(sum > 0) || math.IsInf(sum, 1) {
				return false
			}
			ri[i] = math.Sqrt(sum)
		}
	}
	return true
}

// solve puts the solution of m x = b into b, where m is factored.
func (m dense) solve(b []float64) {
	for i := range m.n {
		ri := m.row(i)
		sum := b[i]
		for k, v := range ri[:i] {
			sum -= float64(v * b[k])
		}
		b[i] = sum / ri[i]
	}
	for i := m.n - 1; i >= 0; i-- {
		b[i] /= m.a[i*m.n+i]
		ri := m.row(i)
		for k, v := range ri[:i] {
			b[k] -= float64(v * b[i])
		}
	}
}
