package unit

import (
	"fmt"
	"math"
	"strings"
)

// A term is an atom with its exponent: a compound unit is a product of terms.
type term struct {
	atom     *atom
	num, den int
}

func (t term) pow(num, den int) term {
	num, den = t.num*num, t.den*den
	g := gcd(num, den)
	return term{t.atom, num / g, den / g}
}

func (t term) whole(sym string, n int) bool {
	return t.den == 1 && t.num == n && t.atom.row.sym == sym
}

// terms takes a unit apart. It is nil for the plain number.
func (u Unit) terms() []term {
	if a := atoms[u.Symbol]; a != nil {
		return []term{{a, 1, 1}}
	}
	if u.Symbol == "" {
		return nil
	}
	_, t, err := parse(u.Symbol)
	if err != nil {
		return nil // a Unit that Parse did not make
	}
	return t
}

// power writes an exponent: "", "^2", "^-1", "^(1/2)".
func power(num, den int) string {
	switch {
	case num == 1 && den == 1:
		return ""
	case den == 1:
		return fmt.Sprintf("^%d", num)
	}
	return fmt.Sprintf("^(%d/%d)", num, den)
}

// spell writes a product of terms, equal atoms taken together: "kg/(m*s)",
// "K^-1", "1/(kg*K)", and "" if nothing is left.
func spell(terms []term) string {
	var merged []term
next:
	for _, t := range terms {
		for i, m := range merged {
			if m.atom == t.atom {
				num, den := m.num*t.den+t.num*m.den, m.den*t.den
				g := max(gcd(num, den), 1)
				merged[i] = term{m.atom, num / g, den / g}
				continue next
			}
		}
		merged = append(merged, t)
	}
	var over, under []string
	last := ""
	for _, t := range merged {
		switch {
		case t.num > 0:
			over = append(over, t.atom.unit.Symbol+power(t.num, t.den))
		case t.num < 0:
			under = append(under, t.atom.unit.Symbol+power(-t.num, t.den))
			last = t.atom.unit.Symbol + power(t.num, t.den)
		}
	}
	switch {
	case len(under) == 0:
		return strings.Join(over, "*")
	case len(over) == 0 && len(under) == 1:
		return last
	case len(over) == 0:
		over = []string{"1"}
	}
	if len(under) == 1 && under[0] == "mK" {
		return strings.Join(over, "*") + "*" + last // W/mK is refused
	}
	if len(under) == 1 {
		return strings.Join(over, "*") + "/" + under[0]
	}
	return strings.Join(over, "*") + "/(" + strings.Join(under, "*") + ")"
}

// Per gives the reciprocal unit: K^-1 of K, m*K/W of W/(m*K). °C and °F have none.
func (u Unit) Per() (Unit, error) {
	if u.Point {
		return Unit{}, &ParseError{0, len(u.Symbol), u.Symbol + " names points on a scale and cannot be divided by", "a difference is written in K"}
	}
	terms := u.terms()
	for i := range terms {
		terms[i] = terms[i].pow(-1, 1)
	}
	return Parse(spell(terms))
}

// Product gives the product of two units, equal units taken together. The
// error is that of a temperature scale in a compound, or of exponents that
// leave the range that can be kept.
func Product(u, v Unit) (Unit, error) {
	for _, w := range []Unit{u, v} {
		if w.Point && !(u.IsNone() || v.IsNone()) {
			return Unit{}, &ParseError{0, len(w.Symbol), w.Symbol + " names points on a scale and cannot be multiplied", "a difference is written in K"}
		}
	}
	switch {
	case u.IsNone():
		return v, nil
	case v.IsNone():
		return u, nil
	}
	return Parse(spell(append(u.terms(), v.terms()...)))
}

// Mul is Product for units that can be multiplied. Of others it gives a unit
// whose factor is not a number, so that nothing can be computed with it.
func Mul(u, v Unit) Unit {
	w, err := Product(u, v)
	if err != nil {
		d, _ := u.Dim.Mul(v.Dim)
		return Unit{Symbol: u.Symbol + "*" + v.Symbol, Dim: d, Factor: math.NaN()}
	}
	return w
}
