package num

import (
	"fmt"
	"math"
)

// Nodes and weights of the 15 point Kronrod rule on [-1, 1] and of the 7 point
// Gauss rule on every second of its nodes (the odd ones here).
// Source: Piessens et al., QUADPACK (1983), rule qk15 (from memory; the tests
// check that the rules are exact for polynomials up to degree 22 and 13).
var (
	kronrodX = [8]float64{
		0.991455371120812639206854697526329, 0.949107912342758524526189684047851,
		0.864864423359769072789712788640926, 0.741531185599394439863864773280788,
		0.586087235467691130294144171693835, 0.405845151377397166906606412076961,
		0.207784955007898467600689403773245, 0,
	}
	kronrodW = [8]float64{
		0.022935322010529224963732008058970, 0.063092092629978553290700663189204,
		0.104790010322250183839876322541518, 0.140653259715525918745189590510238,
		0.169004726639267902826583426598550, 0.190350578064785409913256402421014,
		0.204432940075298892414161999234649, 0.209482141084727828012999174891714,
	}
	gaussW = [4]float64{
		0.129484966168869693270611432679082, 0.279705391489276667901467771423780,
		0.381830050505118944950369775488975, 0.417959183673469387755102040816327,
	}
)

// gaussKronrod returns both rules for the integral of f from a to b.
func gaussKronrod(f func(float64) float64, a, b float64) (kronrod, gauss float64) {
	mid, half := (a+b)/2, (b-a)/2
	y := f(mid)
	kronrod, gauss = kronrodW[7]*y, gaussW[3]*y
	for i := range 7 {
		d := half * kronrodX[i]
		y := f(mid-d) + f(mid+d)
		kronrod += kronrodW[i] * y
		if i%2 == 1 {
			gauss += gaussW[i/2] * y
		}
	}
	return kronrod * half, gauss * half
}

// Integrate returns the integral of f from a to b, which must be finite; f
// must be finite and piecewise smooth.
//
// The error is estimated from two rules on each part and is below tol of the
// integral, or below what rounding makes of the integral of |f| (about 50 units
// in its last place); tol is at least 1e-14. For smooth integrands the true
// error is far smaller. what names the integral in errors: ErrDomain if a, b
// or a value of f is not finite, *NoConvergence after 2000 parts.
// Method: bisect the part with the largest estimate (QUADPACK's qag).
func Integrate(what string, f func(float64) float64, a, b, tol float64) (float64, error) {
	if math.IsNaN(a-b) || math.IsInf(a-b, 0) {
		return 0, fmt.Errorf("%w: %s from %g to %g", ErrDomain, what, a, b)
	}
	type part struct{ a, b, value, size, err float64 }
	measure := func(a, b float64) part {
		p := part{a: a, b: b}
		size := 0.0
		k, g := gaussKronrod(func(x float64) float64 {
			y := f(x)
			size = max(size, math.Abs(y))
			return y
		}, a, b)
		p.value, p.err, p.size = k, math.Abs(k-g), size*math.Abs(b-a)
		return p
	}
	tol = max(tol, 1e-14)
	parts := []part{measure(a, b)}
	l := loop{what: what, limit: 2000}
	for {
		var value, size, err Sum
		worst := 0
		for i, p := range parts {
			value.Add(p.value)
			size.Add(p.size)
			err.Add(p.err)
			if p.err > parts[worst].err {
				worst = i
			}
		}
		v := value.Value()
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return 0, fmt.Errorf("%w: %s is not finite between %g and %g", ErrDomain, what, a, b)
		}
		// size bounds the integral of |f| from above
		if err.Value() <= max(tol*math.Abs(v), 50*0x1p-52*size.Value()) {
			return v, nil
		}
		if err := l.next(v); err != nil {
			return 0, err
		}
		p := parts[worst]
		mid := (p.a + p.b) / 2
		parts[worst] = measure(p.a, mid)
		parts = append(parts, measure(mid, p.b))
	}
}
