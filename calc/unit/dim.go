package unit

// A Dim is the dimension of a quantity: the exponents of the base quantities,
// in sixths, so that square and cube roots stay exact. Dims are compared with ==.
//
// Angle is kept as a base quantity of its own although the SI counts the
// radian as one: it is the only way to refuse `60 rpm in Hz`, whose two
// readings (1 and 6.28) differ by 2π. Functions such as sin take an angle or a
// plain number (radians). Torque and energy share one dimension, as in the SI:
// they differ in direction, not in size; which unit is shown follows from what
// the author wrote.
//
// Each currency is a base quantity of its own: no exchange rate is ever assumed.
type Dim [NumBase]int8

// The base quantities, in the order in which Dim counts them.
const (
	Length = iota
	Mass
	Time
	Current
	Temperature
	Amount
	Intensity
	Angle
	EUR
	USD
	GBP
	CHF
	JPY
	SEK
	AUD
	CAD
	NumBase
)

// Sixths is the scale of the exponents in a Dim.
const Sixths = 6

// Base returns the dimension of one base quantity.
func Base(i int) (d Dim) {
	d[i] = Sixths
	return d
}

// None is the dimension of a plain number.
var None Dim

// Mul returns the dimension of a product. ok is false when an exponent leaves
// the range that can be kept (about ±21).
func (d Dim) Mul(e Dim) (p Dim, ok bool) {
	ok = true
	for i := range d {
		s := int(d[i]) + int(e[i])
		if s < -127 || s > 127 {
			ok = false
			continue
		}
		p[i] = int8(s)
	}
	return p, ok
}

// Div returns the dimension of a quotient; see Mul for ok.
func (d Dim) Div(e Dim) (Dim, bool) {
	for i := range e {
		if e[i] == -128 {
			return d, false
		}
		e[i] = -e[i]
	}
	return d.Mul(e)
}

// Pow returns the dimension raised to num/den. ok is false when the result has
// exponents that are not whole sixths or leave the range.
func (d Dim) Pow(num, den int) (p Dim, ok bool) {
	if den == 0 {
		return p, false
	}
	for i := range d {
		n := int(d[i]) * num
		if n%den != 0 || n/den < -127 || n/den > 127 {
			return Dim{}, false
		}
		p[i] = int8(n / den)
	}
	return p, true
}
