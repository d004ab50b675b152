package unit

import (
	"cmp"
	"math"
	"strconv"
	"strings"
)

// noise is the relative distance within which a number counts as the short
// decimal beside it. Each step of a computation adds about 1e-16; nothing that
// is measured or made is known to 1e-12.
const noise = 1e-12

// noiseDigits is the number of significant digits of a short decimal.
const noiseDigits = 12

// A decimal is sign × n × 10^exp, exactly. Zero has no sign. The shortest decimal
// that stands for a float64 has at most 17 digits.
type decimal struct {
	neg bool
	n   uint64
	exp int
}

// maxText is the length of the longest text that strconv writes of a float64
// with an exponent.
const maxText = len("-1.2345678901234567e-300")

// exactly gives the shortest decimal that stands for a float64, as strconv
// prints it.
func exactly(x float64) decimal {
	var b [maxText]byte
	return parseDecimal(strconv.AppendFloat(b[:0], x, 'e', -1, 64))
}

// quietly gives the decimal of at most twelve digits that is within 1e-12 of a
// float64, or else the shortest one that stands for it.
func quietly(x float64) decimal {
	d := exactly(x)
	if digits(d.n) <= noiseDigits {
		return d
	}
	var b [maxText]byte
	short := strconv.AppendFloat(b[:0], x, 'e', noiseDigits-1, 64)
	if v, err := strconv.ParseFloat(string(short), 64); err == nil && math.Abs(v-x) <= noise*math.Abs(x) {
		return parseDecimal(short)
	}
	return d
}

// parseDecimal reads what strconv writes of a float64 with an exponent.
func parseDecimal(s []byte) decimal {
	var d decimal
	places, point := 0, false
	for i, c := range s {
		switch c {
		case '-':
			d.neg = true
		case '.':
			point = true
		case 'e':
			e, _ := strconv.Atoi(string(s[i+1:]))
			d.exp = e - places
			return d.short()
		default:
			d.n = d.n*10 + uint64(c-'0')
			if point {
				places++
			}
		}
	}
	return d.short()
}

// short is the same number without zeros at its end.
func (d decimal) short() decimal {
	if d.zero() {
		return decimal{}
	}
	for d.n%10 == 0 {
		d.n, d.exp = d.n/10, d.exp+1
	}
	return d
}

func (d decimal) zero() bool { return d.n == 0 }

// magnitude is the number of digits before the decimal point: 1 for 1 to 9.99,
// 0 for 0.1 to 0.999, and 1 for zero.
func (d decimal) magnitude() int { return magnitude(digits(d.n), d.exp, d.zero()) }

func magnitude(digits, exp int, zero bool) int {
	if zero {
		return 1
	}
	return digits + exp
}

// digits counts the decimal digits of a number, one for zero.
func digits(n uint64) int {
	k := 1
	for ; n >= 10; n /= 10 {
		k++
	}
	return k
}

// places is the number of decimal places needed; negative where the number
// ends in zeros before the point.
func (d decimal) places() int { return -d.short().exp }

// round keeps the given decimal places (negative: left of the point).
func (d decimal) round(places int, dir Direction) decimal {
	drop := -d.exp - places
	if drop <= 0 || d.zero() {
		return d
	}
	q := decimal{d.neg, 0, d.exp + drop}
	half := -1 // of a power of ten that n is far below
	if drop < len(tens) {
		by := tens[drop]
		var rem uint64
		q.n, rem = d.n/by, d.n%by
		if rem == 0 {
			return q
		}
		half = cmp.Compare(rem, by-rem)
	}
	if away(half, q.n%2 == 1, d.neg, dir) {
		q.n++
	}
	if q.zero() {
		q.neg = false
	}
	return q
}

// away reports whether a magnitude that is no whole number is rounded away from
// zero. half compares what is dropped with a half, odd is said of what is kept,
// and neg of the number: Up and Down go by the signed value.
func away(half int, odd, neg bool, dir Direction) bool {
	switch dir {
	case Up:
		return !neg
	case Down:
		return neg
	}
	return half > 0 || half == 0 && odd
}

// tens are the powers of ten that a uint64 holds.
var tens = func() (list [20]uint64) {
	list[0] = 1
	for i := range list[1:] {
		list[i+1] = list[i] * 10
	}
	return list
}()

// plain writes the decimal with exactly the given places, which must hold it.
func (d decimal) plain(places int) string {
	return plain(d.neg, strconv.FormatUint(d.n, 10), d.exp, places)
}

// scientific writes the decimal as a mantissa and an exponent, with the digits
// down to the given decimal place.
func (d decimal) scientific(places int) string {
	return scientific(d.neg, strconv.FormatUint(d.n, 10), d.exp, places)
}

// plain writes sign × digits × 10^exp with exactly the given places, which must
// hold it.
func plain(neg bool, digits string, exp, places int) string {
	switch k := exp + places; {
	case digits == "0":
	case k > 0:
		digits += strings.Repeat("0", k)
	case k < 0: // what is cut off are zeros
		digits = digits[:len(digits)+k]
	}
	if places > 0 {
		if n := places + 1 - len(digits); n > 0 {
			digits = strings.Repeat("0", n) + digits
		}
		digits = digits[:len(digits)-places] + "." + digits[len(digits)-places:]
	}
	if neg {
		digits = "-" + digits
	}
	return digits
}

// scientific writes sign × digits × 10^exp as a mantissa and an exponent, with
// the digits down to the given decimal place.
func scientific(neg bool, digits string, exp, places int) string {
	e := magnitude(len(digits), exp, digits == "0") - 1
	return plain(neg, digits, exp-e, max(places+e, 0)) + "e" + strconv.Itoa(e)
}
