// Package interval is arithmetic on closed intervals of real numbers, rounded
// outward: whatever numbers of the intervals go in, the exact result lies
// within what comes out.
//
// The rules are those of Moore, Kearfott and Cloud, Introduction to Interval
// Analysis (2009), ch. 2 and 5, and of IEEE 1788-2015 (from memory). A function
// that has no value everywhere within its arguments gives the bounds of the
// values that it has, and says so with a second result that is false.
package interval

import "math"

// An I is the interval from Lo to Hi, both included; ends may be infinite.
type I struct{ Lo, Hi float64 }

// All holds every number.
var All = I{math.Inf(-1), math.Inf(1)}

// Point is the interval of one number.
func Point(x float64) I { return I{x, x} }

// Contains reports whether x lies in the interval.
func (x I) Contains(v float64) bool { return x.Lo <= v && v <= x.Hi }

// Thin reports whether the interval is one number.
func (x I) Thin() bool { return x.Lo == x.Hi }

// Width is the distance of the ends.
func (x I) Width() float64 { return x.Hi - x.Lo }

// Mid is a number near the middle of a bounded interval, never outside it.
func (x I) Mid() float64 {
	m := x.Lo/2 + x.Hi/2
	return math.Min(math.Max(m, x.Lo), x.Hi)
}

// Mag is the greatest amount of a number in the interval.
func (x I) Mag() float64 { return math.Max(math.Abs(x.Lo), math.Abs(x.Hi)) }

// Hull is the least interval that holds both.
func Hull(x, y I) I { return I{math.Min(x.Lo, y.Lo), math.Max(x.Hi, y.Hi)} }

// Meet is what both have in common; the first where rounding left them apart.
func Meet(x, y I) I {
	m := I{math.Max(x.Lo, y.Lo), math.Min(x.Hi, y.Hi)}
	if m.Lo > m.Hi {
		return x
	}
	return m
}

// down and up give the next number below and above.
func down(x float64) float64 { return math.Nextafter(x, math.Inf(-1)) }
func up(x float64) float64   { return math.Nextafter(x, math.Inf(1)) }

// Of the four operations the sign of the rounding error is known exactly (Knuth's
// TwoSum, fused multiply-add), so that what is exact, such as whole numbers,
// stays thin. An error that is no number comes of infinities: widened as well.

func add(x, y float64) (s, e float64) {
	s = x + y
	t := s - x
	return s, (x - (s - t)) + (y - t)
}

func addDown(x, y float64) float64 {
	s, e := add(x, y)
	if e >= 0 {
		return s
	}
	if math.IsNaN(s) {
		return math.Inf(-1)
	}
	return down(s)
}

func addUp(x, y float64) float64 {
	s, e := add(x, y)
	if e <= 0 {
		return s
	}
	if math.IsNaN(s) {
		return math.Inf(1)
	}
	return up(s)
}

// tiny is where the error of a product may be too small to be a number.
const tiny = 1e-280

func mul(x, y float64) (p, e float64) {
	if x == 0 || y == 0 {
		return 0, 0 // 0 · ∞ is 0, for an infinite end is no number of the interval
	}
	p = x * y
	if math.Abs(p) < tiny {
		return p, math.NaN()
	}
	return p, math.FMA(x, y, -p)
}

func mulDown(x, y float64) float64 {
	p, e := mul(x, y)
	if e >= 0 {
		return p
	}
	return down(p)
}

func mulUp(x, y float64) float64 {
	p, e := mul(x, y)
	if e <= 0 {
		return p
	}
	return up(p)
}

func quo(x, y float64) (q, e float64) {
	switch {
	case x == 0:
		return 0, 0
	case math.IsInf(y, 0):
		if math.IsInf(x, 0) {
			return 0, math.NaN() // anything of its sign; the callers take the hull with 0
		}
		return 0, 0
	}
	q = x / y
	if math.Abs(q) < tiny || math.Abs(x) < tiny || math.IsInf(q, 0) {
		return q, math.NaN()
	}
	r := math.FMA(-q, y, x)
	if y < 0 {
		r = -r
	}
	return q, r
}

func quoDown(x, y float64) float64 {
	q, e := quo(x, y)
	if e >= 0 {
		return q
	}
	return down(q)
}

func quoUp(x, y float64) float64 {
	q, e := quo(x, y)
	if e <= 0 {
		return q
	}
	return up(q)
}

// Neg gives -x.
func Neg(x I) I { return I{-x.Hi, -x.Lo} }

// Add gives x + y.
func Add(x, y I) I { return I{addDown(x.Lo, y.Lo), addUp(x.Hi, y.Hi)} }

// Sub gives x - y.
func Sub(x, y I) I { return I{addDown(x.Lo, -y.Hi), addUp(x.Hi, -y.Lo)} }

// Mul gives x · y.
func Mul(x, y I) I {
	switch {
	case x.Lo >= 0:
		switch {
		case y.Lo >= 0:
			return I{mulDown(x.Lo, y.Lo), mulUp(x.Hi, y.Hi)}
		case y.Hi <= 0:
			return I{mulDown(x.Hi, y.Lo), mulUp(x.Lo, y.Hi)}
		}
		return I{mulDown(x.Hi, y.Lo), mulUp(x.Hi, y.Hi)}
	case x.Hi <= 0:
		switch {
		case y.Lo >= 0:
			return I{mulDown(x.Lo, y.Hi), mulUp(x.Hi, y.Lo)}
		case y.Hi <= 0:
			return I{mulDown(x.Hi, y.Hi), mulUp(x.Lo, y.Lo)}
		}
		return I{mulDown(x.Lo, y.Hi), mulUp(x.Lo, y.Lo)}
	case y.Lo >= 0:
		return I{mulDown(x.Lo, y.Hi), mulUp(x.Hi, y.Hi)}
	case y.Hi <= 0:
		return I{mulDown(x.Hi, y.Lo), mulUp(x.Lo, y.Lo)}
	}
	return I{
		math.Min(mulDown(x.Lo, y.Hi), mulDown(x.Hi, y.Lo)),
		math.Max(mulUp(x.Lo, y.Lo), mulUp(x.Hi, y.Hi)),
	}
}

// Sqr gives x², which is never negative.
func Sqr(x I) I {
	a := Abs(x)
	return I{mulDown(a.Lo, a.Lo), mulUp(a.Hi, a.Hi)}
}

// Div gives x / y; false where y holds 0.
func Div(x, y I) (I, bool) {
	switch {
	case y.Lo > 0:
		return divPositive(x, y), true
	case y.Hi < 0:
		return divPositive(Neg(x), Neg(y)), true
	case y.Lo == 0 && y.Hi == 0:
		return All, false
	case y.Lo == 0:
		return overZero(x, y.Hi), false
	case y.Hi == 0:
		return overZero(Neg(x), -y.Lo), false
	}
	return All, false
}

func divPositive(x, y I) I {
	r := I{}
	if x.Lo >= 0 {
		r.Lo = quoDown(x.Lo, y.Hi)
	} else {
		r.Lo = quoDown(x.Lo, y.Lo)
	}
	if x.Hi >= 0 {
		r.Hi = quoUp(x.Hi, y.Lo)
	} else {
		r.Hi = quoUp(x.Hi, y.Hi)
	}
	return r
}

// overZero gives x / y for y from just above 0 to top.
func overZero(x I, top float64) I {
	switch {
	case x.Lo > 0:
		return I{quoDown(x.Lo, top), math.Inf(1)}
	case x.Hi < 0:
		return I{math.Inf(-1), quoUp(x.Hi, top)}
	case x.Lo == 0 && x.Hi == 0:
		return Point(0)
	case x.Lo == 0:
		return I{0, math.Inf(1)}
	case x.Hi == 0:
		return I{math.Inf(-1), 0}
	}
	return All
}

// Abs gives |x|.
func Abs(x I) I {
	switch {
	case x.Lo >= 0:
		return x
	case x.Hi <= 0:
		return Neg(x)
	}
	return I{0, math.Max(-x.Lo, x.Hi)}
}

// Min gives the least of two.
func Min(x, y I) I { return I{math.Min(x.Lo, y.Lo), math.Min(x.Hi, y.Hi)} }

// Max gives the greatest of two.
func Max(x, y I) I { return I{math.Max(x.Lo, y.Lo), math.Max(x.Hi, y.Hi)} }
