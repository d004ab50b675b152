package unit

import (
	"math"
	"math/big"
	"strconv"
	"strings"
)

// noise is the relative distance within which a number counts as the short
// decimal beside it. Each step of a computation adds about 1e-16; nothing that
// is measured or made is known to 1e-12.
const noise = 1e-12

// noiseDigits is the number of significant digits of a short decimal.
const noiseDigits = 12

// A decimal is sign × n × 10^exp, exactly. Zero has no sign.
type decimal struct {
	neg bool
	n   *big.Int
	exp int
}

// exactly gives the shortest decimal that stands for a float64, as strconv
// prints it.
func exactly(x float64) decimal { return parseDecimal(strconv.FormatFloat(x, 'e', -1, 64)) }

// quietly gives the decimal of at most twelve digits that is within 1e-12 of a
// float64, or else the shortest one that stands for it.
func quietly(x float64) decimal {
	s := strconv.FormatFloat(x, 'e', -1, 64)
	short := strconv.FormatFloat(x, 'e', noiseDigits-1, 64)
	if len(s) > len(short) {
		if v, err := strconv.ParseFloat(short, 64); err == nil && math.Abs(v-x) <= noise*math.Abs(x) {
			s = short
		}
	}
	return parseDecimal(s)
}

func parseDecimal(s string) decimal {
	mant, es, _ := strings.Cut(s, "e")
	e, _ := strconv.Atoi(es)
	var d decimal
	if strings.HasPrefix(mant, "-") {
		d.neg, mant = true, mant[1:]
	}
	whole, frac, _ := strings.Cut(mant, ".")
	frac = strings.TrimRight(frac, "0")
	if n, err := strconv.ParseInt(whole+frac, 10, 64); err == nil {
		d.n = big.NewInt(n)
	} else {
		d.n, _ = new(big.Int).SetString(whole+frac, 10)
	}
	d.exp = e - len(frac)
	if d.zero() {
		return decimal{n: d.n}
	}
	return d
}

func (d decimal) zero() bool { return d.n.Sign() == 0 }

// magnitude is the number of digits before the decimal point: 1 for 1 to 9.99,
// 0 for 0.1 to 0.999, and 1 for zero.
func (d decimal) magnitude() int {
	if d.zero() {
		return 1
	}
	return digits(d.n) + d.exp
}

// digits counts the decimal digits of a number > 0.
func digits(n *big.Int) int {
	if !n.IsUint64() {
		return len(n.String())
	}
	k := 1
	for x := n.Uint64(); x >= 10; x /= 10 {
		k++
	}
	return k
}

// places is the number of decimal places needed; negative where the number
// ends in zeros before the point.
func (d decimal) places() int {
	if d.zero() {
		return 0
	}
	s := d.n.String()
	return -d.exp - (len(s) - len(strings.TrimRight(s, "0")))
}

// round keeps the given decimal places (negative: left of the point).
func (d decimal) round(places int, dir Direction) decimal {
	drop := -d.exp - places
	if drop <= 0 || d.zero() {
		return d
	}
	q := decimal{d.neg, quotient(d.n, tenTo(drop), d.neg, dir), d.exp + drop}
	if q.zero() {
		q.neg = false
	}
	return q
}

// quotient divides a magnitude by a whole number > 0 and rounds to a whole one.
// neg is the sign of what is divided: Up and Down go by the signed value.
func quotient(n, by *big.Int, neg bool, dir Direction) *big.Int {
	q, rem := new(big.Int).QuoRem(n, by, new(big.Int))
	away := false // from zero
	if rem.Sign() != 0 {
		switch dir {
		case Up:
			away = !neg
		case Down:
			away = neg
		default:
			c := rem.Lsh(rem, 1).Cmp(by)
			away = c > 0 || c == 0 && q.Bit(0) == 1
		}
	}
	if away {
		q.Add(q, big.NewInt(1))
	}
	return q
}

// tenTo is a power of ten, which must not be changed.
func tenTo(n int) *big.Int {
	if n < len(tens) {
		return tens[n]
	}
	return new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(n)), nil)
}

// tens are the powers of ten that most numbers on a page are rounded with.
var tens = func() (list [40]*big.Int) {
	list[0] = big.NewInt(1)
	for i := range list[1:] {
		list[i+1] = new(big.Int).Mul(list[i], big.NewInt(10))
	}
	return list
}()

// plain writes the decimal with exactly the given places, which must hold it.
func (d decimal) plain(places int) string {
	n := new(big.Int).Set(d.n)
	if k := d.exp + places; k > 0 {
		n.Mul(n, tenTo(k))
	} else if k < 0 {
		n.Quo(n, tenTo(-k))
	}
	s := n.String()
	if places > 0 {
		if len(s) <= places {
			s = strings.Repeat("0", places+1-len(s)) + s
		}
		s = s[:len(s)-places] + "." + s[len(s)-places:]
	}
	if d.neg {
		s = "-" + s
	}
	return s
}

// scientific writes the decimal as a mantissa and an exponent, with the digits
// down to the given decimal place.
func (d decimal) scientific(places int) string {
	e := d.magnitude() - 1
	mant := decimal{d.neg, d.n, d.exp - e}
	return mant.plain(max(places+e, 0)) + "e" + strconv.Itoa(e)
}
