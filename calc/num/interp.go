package num

import (
	"fmt"
	"math"
	"sort"
)

// Interpolate returns the value at x of the straight lines through the points
// (xs[i], ys[i]); xs must rise and hold at least two values.
//
// It never extrapolates: x outside xs, NaN, or a bad table gives ErrDomain.
// Between nodes of a smooth function the error is at most h²/8·max|f″|.
func Interpolate(xs, ys []float64, x float64) (float64, error) {
	n := len(xs)
	if n < 2 || len(ys) != n {
		return 0, fmt.Errorf("%w: a table of %d and %d values", ErrDomain, n, len(ys))
	}
	for i := 1; i < n; i++ {
		if !(xs[i] > xs[i-1]) {
			return 0, fmt.Errorf("%w: the table does not rise at entry %d", ErrDomain, i+1)
		}
	}
	if math.IsNaN(x) || x < xs[0] || x > xs[n-1] {
		return 0, fmt.Errorf("%w: %g lies outside the table, %g to %g", ErrDomain, x, xs[0], xs[n-1])
	}
	i := max(1, sort.SearchFloat64s(xs, x))
	f := (x - xs[i-1]) / (xs[i] - xs[i-1])
	return (1-f)*ys[i-1] + f*ys[i], nil // exact at both nodes
}
