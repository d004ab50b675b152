package num

import (
	"fmt"
	"math"
)

// Root returns x between a and b with f(x) = 0. f must be continuous and have
// opposite signs at a and b (either may be the root itself).
//
// The root lies within tol plus four units in the last place of x of a change
// of sign; tol ≥ 0 is absolute. what names the problem in errors: ErrDomain if
// there is no change of sign or f gives NaN there, *NoConvergence after 200 steps.
// Source: Brent, Algorithms for Minimization without Derivatives (1973), ch. 4 (from memory).
func Root(what string, f func(float64) float64, a, b, tol float64) (float64, error) {
	fa, fb := f(a), f(b)
	if fa == 0 {
		return a, nil
	}
	if fb == 0 {
		return b, nil
	}
	if !(math.Abs(fa) <= math.MaxFloat64 && math.Abs(fb) <= math.MaxFloat64) || (fa > 0) == (fb > 0) {
		return 0, fmt.Errorf("%w: %s does not change sign between %g and %g", ErrDomain, what, a, b)
	}
	// b is the best guess, c the other end of the bracket, a the guess before b.
	c, fc := a, fa
	step, before := b-a, b-a
	l := loop{what: what, limit: 200, last: a}
	for {
		if math.Abs(fc) < math.Abs(fb) {
			a, b, c = b, c, b
			fa, fb, fc = fb, fc, fb
		}
		eps := 2*0x1p-52*math.Abs(b) + tol/2
		half := (c - b) / 2
		if math.Abs(half) <= eps || fb == 0 {
			return b, nil
		}
		if err := l.next(b); err != nil {
			return 0, err
		}
		if math.Abs(before) < eps || math.Abs(fa) <= math.Abs(fb) {
			step, before = half, half // interpolation is slow here: bisect
		} else {
			var p, q float64
			s := fb / fa
			if a == c { // secant
				p, q = 2*half*s, 1-s
			} else { // inverse quadratic
				r, u := fb/fc, fa/fc
				p = s * (2*half*u*(u-r) - (b-a)*(r-1))
				q = (u - 1) * (r - 1) * (s - 1)
			}
			if p > 0 {
				q = -q
			} else {
				p = -p
			}
			if 2*p < min(3*half*q-math.Abs(eps*q), math.Abs(before*q)) {
				step, before = p/q, step
			} else {
				step, before = half, half
			}
		}
		a, fa = b, fb
		if math.Abs(step) > eps {
			b += step
		} else {
			b += math.Copysign(eps, half)
		}
		fb = f(b)
		if math.IsNaN(fb) {
			return 0, fmt.Errorf("%w: %s is undefined at %g", ErrDomain, what, b)
		}
		if (fb > 0) == (fc > 0) {
			c, fc = a, fa
			step, before = b-a, b-a
		}
	}
}
