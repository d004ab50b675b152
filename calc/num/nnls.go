package num

import (
	"fmt"
	"math"
)

// NNLS returns the x ≥ 0 that makes |A·x - b| smallest. Columns of A must not
// be zero; the passive ones must be independent.
//
// grad is Aᵀ(A·x - b). The result obeys the conditions of Karush, Kuhn and
// Tucker: grad_j is zero where x_j > 0 and not negative where x_j = 0, both
// within 1e-9·|A_j|·|b|; this is checked before it is returned.
// *NoConvergence after 30 steps an unknown; ErrDomain as LeastSquares.
// Source: Lawson & Hanson, Solving Least Squares Problems (1974), ch. 23 (from memory).
func NNLS(A Matrix, b []float64) (x, grad []float64, err error) {
	n := len(A)
	if n == 0 || len(b) == 0 {
		return nil, nil, fmt.Errorf("%w: no unknowns or no values", ErrDomain)
	}
	size := make([]float64, n)
	for j, col := range A {
		if len(col) != len(b) {
			return nil, nil, fmt.Errorf("%w: column %d has %d rows, not %d", ErrDomain, j+1, len(col), len(b))
		}
		size[j] = norm(col) * norm(b)
		if norm(col) == 0 || math.IsNaN(size[j]) || math.IsInf(size[j], 0) {
			return nil, nil, fmt.Errorf("%w: column %d is zero or not finite", ErrDomain, j+1)
		}
	}
	const eps = 1e-10
	x = make([]float64, n)
	passive := make([]bool, n) // free to move; the others stay at zero
	blocked := -1              // just freed, and driven straight back
	l := loop{what: "non-negative least squares", limit: 30 * n}
	for {
		grad = gradient(A, b, x)
		best := -1
		for j := range n {
			if passive[j] || j == blocked || grad[j] >= -eps*size[j] {
				continue
			}
			// steepest with respect to columns of length one
			if best < 0 || grad[j]*size[best] < grad[best]*size[j] {
				best = j
			}
		}
		if best < 0 {
			break
		}
		passive[best] = true
		for {
			if err := l.next(norm(grad)); err != nil {
				return nil, nil, err
			}
			s, err := solvePassive(A, b, passive)
			if err != nil {
				return nil, nil, err
			}
			// go towards s as far as x stays ≥ 0
			alpha, stop := 1.0, -1
			for j := range n {
				if passive[j] && s[j] <= 0 {
					if a := x[j] / (x[j] - s[j]); stop < 0 || a < alpha {
						alpha, stop = min(a, 1), j
					}
				}
			}
			if stop < 0 {
				x = s
				blocked = -1
				break
			}
			if stop == best && x[best] == 0 { // rounding only: no step is possible
				passive[best] = false
				blocked = best
				break
			}
			for j := range n {
				if passive[j] {
					x[j] += alpha * (s[j] - x[j])
				}
			}
			x[stop], passive[stop] = 0, false
			for j := range n {
				if passive[j] && x[j] <= 0 {
					x[j], passive[j] = 0, false
				}
			}
		}
	}
	for j, g := range grad {
		if x[j] < 0 || x[j] == 0 && g < -1e-9*size[j] || x[j] > 0 && math.Abs(g) > 1e-9*size[j] {
			return nil, nil, &NoConvergence{"non-negative least squares (conditions of the minimum)", l.steps, g, size[j]}
		}
	}
	return x, grad, nil
}

func gradient(A Matrix, b, x []float64) []float64 {
	r := make([]float64, len(b))
	for i, v := range b {
		r[i] = -v
	}
	for j, col := range A {
		axpy(x[j], col, r)
	}
	g := make([]float64, len(A))
	for j, col := range A {
		g[j] = dot(col, r)
	}
	return g
}

func solvePassive(A Matrix, b []float64, passive []bool) ([]float64, error) {
	var sub Matrix
	var at []int
	for j, p := range passive {
		if p {
			sub, at = append(sub, A[j]), append(at, j)
		}
	}
	s, _, err := LeastSquares(sub, b)
	if err != nil {
		return nil, err
	}
	full := make([]float64, len(A))
	for k, j := range at {
		full[j] = s[k]
	}
	return full, nil
}
