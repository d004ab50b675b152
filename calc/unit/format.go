package unit

import (
	"math"
	"math/big"
	"strconv"
	"strings"
)

// Mode is the way in which digits are chosen.
type Mode int

// The modes. Auto keeps three significant figures, and whole numbers of up to
// six digits whole.
const (
	Auto Mode = iota
	Sig
	Places
)

// Direction is the side to which a number is rounded.
type Direction int

// The directions. Nearest is half to even; Up is towards plus infinity, Down
// towards minus infinity: the safe side of a maximum and of a minimum.
const (
	Nearest Direction = iota
	Up
	Down
)

// A Rounding says how a number is rounded for output.
type Rounding struct {
	Mode Mode
	N    int // significant figures or decimal places
	Dir  Direction
}

// Round rounds a number once, for output, and gives it as a plain decimal
// ("-2.50"), or with an exponent ("1.2e-9") outside 1e-4 to 1e15. It works on
// the shortest decimal that stands for the float64, so that 2.675 is a half
// and goes to the even neighbour, and takes a number within 1e-12 of a shorter
// decimal for that decimal: the noise of floating point moves no digit, and
// Up and Down of 1.2000000000000002 are 1.2.
func Round(x float64, r Rounding) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "" // never printed; what is not finite has been refused before
	}
	d := decimalOf(x)
	places := r.N
	switch r.Mode {
	case Auto:
		if n := d.places(); n <= 0 && math.Abs(x) < 1e6 {
			return d.plain(0)
		}
		places = 3 - d.magnitude()
	case Sig:
		places = max(r.N, 1) - d.magnitude()
	}
	out := d.round(places, r.Dir)
	if r.Mode != Places && !out.zero() && out.magnitude() > d.magnitude() && !d.zero() {
		out = d.round(places-1, r.Dir) // 9.996 to three figures is 10.0
		places--
	}
	if out.zero() {
		if r.Mode != Places {
			places = max(r.N, 1) - 1
			if r.Mode == Auto {
				places = 0
			}
		}
		return out.plain(max(places, 0))
	}
	if m := out.magnitude(); r.Mode != Places && (m < -3 || m > 15) {
		return out.scientific(places)
	}
	return out.plain(max(places, 0))
}

// A decimal is sign × digits × 10^exp, exactly.
type decimal struct {
	neg bool
	n   *big.Int
	exp int
}

// decimalOf gives the decimal that a float64 stands for: the shortest, or one
// of at most twelve digits that is within 1e-12 of it.
func decimalOf(x float64) decimal {
	s := strconv.FormatFloat(x, 'e', -1, 64)
	if short := strconv.FormatFloat(x, 'e', 11, 64); len(s) > len(short) {
		if v, err := strconv.ParseFloat(short, 64); err == nil && math.Abs(v-x) <= 1e-12*math.Abs(x) {
			s = short
		}
	}
	mant, es, _ := strings.Cut(s, "e")
	e, _ := strconv.Atoi(es)
	d := decimal{}
	if strings.HasPrefix(mant, "-") {
		d.neg, mant = true, mant[1:]
	}
	whole, frac, _ := strings.Cut(mant, ".")
	frac = strings.TrimRight(frac, "0")
	d.n, _ = new(big.Int).SetString(whole+frac, 10)
	d.exp = e - len(frac)
	return d
}

func (d decimal) zero() bool { return d.n.Sign() == 0 }

// magnitude is the number of digits before the decimal point: 1 for 1 to 9.99.
func (d decimal) magnitude() int {
	if d.zero() {
		return 1
	}
	return len(d.n.String()) + d.exp
}

// places is the number of decimal places needed.
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
	if drop <= 0 {
		return d
	}
	p := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(min(drop, 400))), nil)
	q, rem := new(big.Int).QuoRem(d.n, p, new(big.Int))
	up := false
	if rem.Sign() != 0 {
		switch dir {
		case Up:
			up = !d.neg
		case Down:
			up = d.neg
		default:
			c := new(big.Int).Mul(rem, big.NewInt(2)).Cmp(p)
			up = c > 0 || c == 0 && q.Bit(0) == 1
		}
	}
	if up {
		q.Add(q, big.NewInt(1))
	}
	return decimal{d.neg && q.Sign() != 0, q, d.exp + drop}
}

// plain writes the decimal with exactly the given places, which must hold it.
func (d decimal) plain(places int) string {
	n := new(big.Int).Set(d.n)
	if k := d.exp + places; k > 0 {
		n.Mul(n, new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(k)), nil))
	} else if k < 0 && !d.zero() {
		n.Quo(n, new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(-k)), nil))
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

// scientific writes the decimal as a mantissa and an exponent.
func (d decimal) scientific(places int) string {
	m := d.magnitude()
	e := m - 1
	mant := decimal{d.neg, d.n, d.exp - e}
	return mant.plain(max(places+e, 0)) + "e" + strconv.Itoa(e)
}

// RoundStep rounds a number to a multiple of step (> 0, in the same unit) and
// gives it with its digits. A number within 1e-9 of a step of a multiple is
// that multiple.
func RoundStep(x, step float64, dir Direction) (float64, string) {
	q := x / step
	n := math.RoundToEven(q)
	if math.Abs(q-n) > 1e-9*math.Max(1, math.Abs(n)) {
		switch dir {
		case Up:
			n = math.Ceil(q)
		case Down:
			n = math.Floor(q)
		}
	}
	v := n * step
	places := max(decimalOf(step).places(), 0)
	return v, Round(v, Rounding{Mode: Places, N: min(places, 15)})
}

// Typeset sets a plain decimal for a page after ISO 80000-1: a real minus
// sign, the language's decimal sign, digits in groups of three from five digits
// on, and a power of ten for an exponent.
func Typeset(s string, sign rune) string {
	var b strings.Builder
	if strings.HasPrefix(s, "-") {
		b.WriteRune('−')
		s = s[1:]
	}
	mant, exp, hasExp := strings.Cut(s, "e")
	whole, frac, hasFrac := strings.Cut(mant, ".")
	if len(whole) < 5 {
		b.WriteString(whole)
	} else {
		for i, c := range whole {
			if i > 0 && (len(whole)-i)%3 == 0 {
				b.WriteString(Thin)
			}
			b.WriteRune(c)
		}
	}
	if hasFrac {
		b.WriteRune(sign)
		for i, c := range frac {
			if i > 0 && i%3 == 0 && len(frac) >= 5 {
				b.WriteString(Thin)
			}
			b.WriteRune(c)
		}
	}
	if hasExp {
		b.WriteString(Thin + "×" + Thin + "10" + super(exp))
	}
	return b.String()
}
