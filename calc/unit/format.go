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
// six digits whole: 61.8, 2.50, 220, 1384.
const (
	Auto Mode = iota
	Sig
	Places
)

// Direction is the side to which a number is rounded.
type Direction int

// The directions. Nearest is half to even (ISO 80000-1 annex B, rule A); Up is
// towards plus infinity, Down towards minus infinity: the safe side of a
// maximum and of a minimum.
const (
	Nearest Direction = iota
	Up
	Down
)

// A Rounding says how a number is rounded for output.
type Rounding struct {
	Mode Mode
	N    int // significant figures (at least 1) or decimal places (negative: left of the point)
	Dir  Direction
}

// maxPlaces bounds the places that can be asked for; a float64 has no more.
const maxPlaces = 400

// Round rounds a number once, for output, and gives it as a plain decimal
// ("-2.50"), or with an exponent ("1.2e-9") below 1e-4 and from 1e15 on; to
// Places nothing is small. Trailing zeros are kept: they say how far the number
// goes.
//
// It works on the shortest decimal that stands for the float64, so that 2.675
// is a half and goes to the even neighbour, and takes a number within 1e-12 of
// a decimal of at most twelve digits for that decimal: the noise of floating
// point moves no digit, and Up and Down of 1.2000000000000002 are 1.2. Where
// more than twelve digits are asked for there is no such allowance.
//
// What is not finite gives "": it has to be refused before.
func Round(x float64, r Rounding) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	d := quietly(x)
	sig := r.N
	switch r.Mode {
	case Auto:
		if d.places() <= 0 && d.magnitude() <= 6 {
			return d.plain(0)
		}
		sig = 3
	case Places:
		places := min(max(r.N, -maxPlaces), maxPlaces)
		if places+d.magnitude() > noiseDigits {
			d = exactly(x)
		}
		out := d.round(places, r.Dir)
		if out.magnitude() > 15 {
			return out.scientific(out.places())
		}
		return out.plain(max(places, 0))
	}
	sig = min(max(sig, 1), maxPlaces)
	if sig > noiseDigits {
		d = exactly(x)
	}
	places := sig - d.magnitude()
	out := d.round(places, r.Dir)
	if out.magnitude() > d.magnitude() {
		// 9.996 to three figures is 10.0: one place less holds the same number.
		places--
	}
	if m := out.magnitude(); m < -3 || m > 15 {
		return out.scientific(places)
	}
	return out.plain(max(places, 0))
}

// Short gives a number to at most n significant figures, without the zeros that
// end it: for values that are exact in few digits, 26.4 for 26.4000.
func Short(x float64, n int) string {
	mantissa, exponent, has := strings.Cut(Round(x, Rounding{Mode: Sig, N: n}), "e")
	if strings.Contains(mantissa, ".") {
		mantissa = strings.TrimRight(strings.TrimRight(mantissa, "0"), ".")
	}
	if has {
		return mantissa + "e" + exponent
	}
	return mantissa
}

// RoundStep rounds a number to a multiple of step, which is finite, above zero
// and in the same unit, and gives it with its digits: as many places as the
// step has. Noise is allowed for as in Round. Other steps, and a number that is
// not finite, give NaN and "".
func RoundStep(x, step float64, dir Direction) (float64, string) {
	if !(step > 0) || math.IsInf(step, 0) || math.IsNaN(x) || math.IsInf(x, 0) {
		return math.NaN(), ""
	}
	d, s := quietly(x), quietly(step)
	// Both as whole numbers of the smaller of their last places.
	e := min(d.exp, s.exp)
	by := whole(s.n, s.exp-e)
	q, rem := new(big.Int).QuoRem(whole(d.n, d.exp-e), by, new(big.Int))
	if rem.Sign() != 0 && away(rem.Lsh(rem, 1).Cmp(by), q.Bit(0) == 1, d.neg, dir) {
		q.Add(q, big.NewInt(1))
	}
	digits := q.Mul(q, new(big.Int).SetUint64(s.n)).String()
	zero := digits == "0"
	text := plain(d.neg && !zero, digits, s.exp, max(s.places(), 0))
	if magnitude(len(digits), s.exp, zero) > 15 {
		short := strings.TrimRight(digits, "0")
		exp := s.exp + len(digits) - len(short)
		text = scientific(d.neg, short, exp, -exp)
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return math.NaN(), ""
	}
	return v, text
}

// whole is n × 10^exp, for exp of at least 0.
func whole(n uint64, exp int) *big.Int {
	x := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(exp)), nil)
	return x.Mul(x, new(big.Int).SetUint64(n))
}

// DigitsFor gives the decimal place to which a value with this uncertainty is
// given: two significant digits of the uncertainty (JCGM 100, 7.2.6). Places
// left of the decimal point are negative: 1 for 2.5, 2 for 0.25, -1 for 250. An
// uncertainty that is not above zero, or not finite, limits nothing: 15.
func DigitsFor(u float64) int {
	if !(u > 0) || math.IsInf(u, 0) {
		return 15
	}
	d := quietly(u)
	places := 2 - d.magnitude()
	if d.round(places, Nearest).magnitude() > d.magnitude() {
		places-- // 0.0996 is 0.10
	}
	return places
}

// Typeset sets a decimal as Round gives it for a page, after ISO 80000-1, 7.3: a
// real minus sign, the language's decimal sign, and a power of ten for an
// exponent. Digits stand in groups of three from the decimal sign, on each side
// that has five digits or more; ISO 80000-1 leaves four to choice, and 1384 reads
// better whole.
func Typeset(s string, decimal rune) string {
	var b strings.Builder
	if strings.HasPrefix(s, "-") {
		b.WriteRune('−')
		s = s[1:]
	}
	mant, exp, hasExp := strings.Cut(s, "e")
	whole, frac, hasFrac := strings.Cut(mant, ".")
	for i, c := range whole {
		if i > 0 && len(whole) >= 5 && (len(whole)-i)%3 == 0 {
			b.WriteString(Thin)
		}
		b.WriteRune(c)
	}
	if hasFrac {
		b.WriteRune(decimal)
		for i, c := range frac {
			if i > 0 && len(frac) >= 5 && i%3 == 0 {
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
