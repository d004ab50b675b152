package num

import (
	"fmt"
	"math"
)

// A Matrix is stored by columns: column j is A[j]; all have the same length.
type Matrix [][]float64

// LeastSquares returns the x that makes |A·x - b| smallest, for a matrix with
// at least as many rows as columns and independent columns (else ErrDomain).
//
// The error of x is about cond(A)²·1e-16 relative at worst, cond(A)·1e-16 for
// small residuals. cond is a lower estimate of the condition number: the ratio
// of the largest to the smallest diagonal element of the triangular factor of
// the columns scaled to length one.
// Method: Householder reflections (Golub & Van Loan, Matrix Computations, 5.2; from memory).
func LeastSquares(A Matrix, b []float64) (x []float64, cond float64, err error) {
	n := len(A)
	m := len(b)
	if n == 0 || m < n {
		return nil, 0, fmt.Errorf("%w: least squares of %d unknowns from %d values", ErrDomain, n, m)
	}
	q := make(Matrix, n)
	scale := make([]float64, n)
	for j, col := range A {
		if len(col) != m {
			return nil, 0, fmt.Errorf("%w: column %d has %d rows, not %d", ErrDomain, j+1, len(col), m)
		}
		scale[j] = norm(col)
		if scale[j] == 0 || math.IsNaN(scale[j]) || math.IsInf(scale[j], 0) {
			return nil, 0, fmt.Errorf("%w: column %d is zero or not finite", ErrDomain, j+1)
		}
		q[j] = make([]float64, m)
		for i, v := range col {
			q[j][i] = v / scale[j]
		}
	}
	y := append([]float64(nil), b...)
	diag := make([]float64, n)
	for j := range n {
		v := q[j][j:]
		d := norm(v)
		if v[0] > 0 {
			d = -d
		}
		diag[j] = d
		if math.Abs(d) < 1e-13 { // columns have length one
			return nil, 0, fmt.Errorf("%w: column %d depends on those before it", ErrDomain, j+1)
		}
		v[0] -= d // v is now the vector of the reflection
		beta := -1 / (d * v[0])
		for k := j + 1; k < n; k++ {
			axpy(-beta*dot(v, q[k][j:]), v, q[k][j:])
		}
		axpy(-beta*dot(v, y[j:]), v, y[j:])
	}
	x = make([]float64, n)
	lo, hi := math.Inf(1), 0.0
	for j := n - 1; j >= 0; j-- {
		s := y[j]
		for k := j + 1; k < n; k++ {
			s -= q[k][j] * x[k]
		}
		x[j] = s / diag[j]
		lo, hi = min(lo, math.Abs(diag[j])), max(hi, math.Abs(diag[j]))
	}
	for j := range x {
		x[j] /= scale[j]
	}
	return x, hi / lo, nil
}

// ConjugateGradient solves A·x = b for a symmetric positive definite A given
// by its product with a vector and its diagonal. x holds a first guess and is
// overwritten.
//
// It ends when the residual, measured with the inverse of the diagonal, is
// below tol of that of b. *NoConvergence after 10·n+100 steps; ErrDomain if A
// is not positive definite.
// Source: Golub & Van Loan, Matrix Computations, 11.5, Jacobi preconditioning (from memory).
func ConjugateGradient(what string, product func(dst, x []float64), diag, b, x []float64, tol float64) error {
	n := len(b)
	r, z, p, q := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	product(r, x)
	target := 0.0
	for i := range r {
		if !(diag[i] > 0) {
			return fmt.Errorf("%w: %s has a diagonal of %g", ErrDomain, what, diag[i])
		}
		r[i] = b[i] - r[i]
		z[i] = r[i] / diag[i]
		target += b[i] * b[i] / diag[i]
	}
	copy(p, z)
	rz := dot(r, z)
	l := loop{what: what, limit: 10*n + 100}
	for rz > tol*tol*target {
		if err := l.next(rz); err != nil {
			return err
		}
		product(q, p)
		pq := dot(p, q)
		if !(pq > 0) {
			return fmt.Errorf("%w: %s is not positive definite", ErrDomain, what)
		}
		alpha := rz / pq
		axpy(alpha, p, x)
		axpy(-alpha, q, r)
		for i := range z {
			z[i] = r[i] / diag[i]
		}
		next := dot(r, z)
		beta := next / rz
		for i := range p {
			p[i] = z[i] + beta*p[i]
		}
		rz = next
	}
	if math.IsNaN(rz) {
		return fmt.Errorf("%w: %s holds a value that is not finite", ErrDomain, what)
	}
	return nil
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i, v := range a {
		s += v * b[i]
	}
	return s
}

// axpy adds a·x to y.
func axpy(a float64, x, y []float64) {
	for i, v := range x {
		y[i] += a * v
	}
}

// norm is the Euclidean length, safe from overflow.
func norm(x []float64) float64 {
	big := 0.0
	for _, v := range x {
		big = max(big, math.Abs(v))
	}
	if big == 0 || math.IsInf(big, 0) || math.IsNaN(big) {
		return big
	}
	s := 0.0
	for _, v := range x {
		s += (v / big) * (v / big)
	}
	return big * math.Sqrt(s)
}
