package num

import (
	"fmt"
	"math"
)

// A Sum adds numbers with compensation: its error is about one unit in the
// last place of the result plus n² units in the second order, whatever their order.
// Source: Neumaier, ZAMM 54 (1974) 39 (from memory).
type Sum struct{ s, c float64 }

// Add adds x.
func (s *Sum) Add(x float64) {
	t := s.s + x
	if math.Abs(s.s) >= math.Abs(x) {
		s.c += (s.s - t) + x
	} else {
		s.c += (x - t) + s.s
	}
	s.s = t
}

// Value returns the sum so far.
func (s *Sum) Value() float64 { return s.s + s.c }

// Mean returns the weighted mean of x; w nil means equal weights. It needs at
// least one value and weights ≥ 0 that are not all zero (ErrDomain).
func Mean(x, w []float64) (float64, error) {
	if len(x) == 0 || w != nil && len(w) != len(x) {
		return 0, fmt.Errorf("%w: the mean of %d values with %d weights", ErrDomain, len(x), len(w))
	}
	var num, den Sum
	for i, v := range x {
		if w == nil {
			num.Add(v)
			den.Add(1)
			continue
		}
		if !(w[i] >= 0) {
			return 0, fmt.Errorf("%w: a weight of %g", ErrDomain, w[i])
		}
		num.Add(w[i] * v)
		den.Add(w[i])
	}
	if den.Value() == 0 {
		return 0, fmt.Errorf("%w: all weights are zero", ErrDomain)
	}
	return num.Value() / den.Value(), nil
}

// SampleStd returns the standard deviation of a sample (n-1 in the
// denominator). It needs two values (ErrDomain). Two passes with compensated
// sums: a common offset of 1e7 times the spread costs no figure of 1e-8.
func SampleStd(x []float64) (float64, error) {
	if len(x) < 2 {
		return 0, fmt.Errorf("%w: the spread of %d values", ErrDomain, len(x))
	}
	m, err := Mean(x, nil)
	if err != nil {
		return 0, err
	}
	var s, d Sum
	for _, v := range x {
		s.Add((v - m) * (v - m))
		d.Add(v - m)
	}
	return math.Sqrt((s.Value() - d.Value()*d.Value()/float64(len(x))) / float64(len(x)-1)), nil
}

// Spread returns the standard deviation of a field with area weights: the root
// of the weighted mean of squared distances from the weighted mean.
func Spread(x, w []float64) (float64, error) {
	m, err := Mean(x, w)
	if err != nil {
		return 0, err
	}
	sq := make([]float64, len(x))
	for i, v := range x {
		sq[i] = (v - m) * (v - m)
	}
	v, err := Mean(sq, w)
	return math.Sqrt(v), err
}
