package calc

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"workings/calc/syntax"
	"workings/calc/unit"
)

// What is read of the worst case of a limit: its sides in one unit, and the
// place at which it is.

// Number is the value in the unit of its line, in as few digits as it takes.
func (s Setting) Number() string { return unit.Short(s.Unit.FromSI(s.SI), 6) }

// String is the setting in plain text: "u = 26.4 V".
func (s Setting) String() string { return s.Name + " = " + plainText(s.Number(), s.Unit) }

// mostSettings is how many inputs a place is told by; a formula of a hundred
// tolerances has one of a hundred.
const mostSettings = 6

// Told parts the inputs at the worst place into those that a report names, in
// their order, and the number of the others.
func (l *Limit) Told() (named []Setting, others int) {
	n := min(len(l.At), mostSettings)
	return l.At[:n], len(l.At) - n
}

// Place is the worst place in plain text, "u = 26.4 V, r = 9 Ω and 3 more";
// "" where nothing moves the limit.
func (l *Limit) Place() string {
	named, others := l.Told()
	texts := make([]string, len(named))
	for i, s := range named {
		texts[i] = s.String()
	}
	place := strings.Join(texts, ", ")
	if others > 0 {
		place += fmt.Sprintf(" and %d more", others)
	}
	return place
}

// Sides are the two sides of a single comparison as they are read: those at the
// worst place, the nominal ones where nothing moves them, in one unit and with
// digits enough to tell them apart. Both are nil of any other condition.
func (l *Limit) Sides() (left, right *Shown) {
	left, right = l.WorstLeft, l.WorstRight
	if left == nil || right == nil {
		if l.Verdict == Broken && l.Nominal {
			return nil, nil // the nominal values say nothing of what breaks it
		}
		left, right = l.Left, l.Right
	}
	if left == nil || right == nil {
		return nil, nil
	}
	return inOneUnit(left, right)
}

// inOneUnit puts two numbers into the unit of one of them: of that whose unit
// was written, the right one first, for it says what is allowed; where none was,
// of the larger one.
func inOneUnit(a, b *Shown) (*Shown, *Shown) {
	x, okX := a.Value.(float64)
	y, okY := b.Value.(float64)
	if !okX || !okY || a.Number == "" || b.Number == "" {
		return a, b
	}
	if a.Unit.Symbol != b.Unit.Symbol && a.Unit.Dim == b.Unit.Dim && a.Unit.Point == b.Unit.Point {
		u := b.Unit
		if a.Type.Chosen && !b.Type.Chosen || a.Type.Chosen == b.Type.Chosen && !a.Type.Chosen && math.Abs(x) > math.Abs(y) {
			u = a.Unit
		}
		a, b = a.in(x, u), b.in(y, u)
	}
	for n := 4; n <= 12 && printedSame(a.Number, b.Number) && math.Abs(x-y) > 1e-12*math.Max(math.Abs(x), math.Abs(y)); n++ {
		a, b = a.digits(x, n), b.digits(y, n)
	}
	return a, b
}

// in is a number in another unit.
func (s *Shown) in(si float64, u unit.Unit) *Shown {
	if u.Symbol == s.Unit.Symbol {
		return s
	}
	t := *s
	t.Unit, t.Number = u, unit.Round(u.FromSI(si), unit.Rounding{})
	t.Plus, t.Minus, t.Uncertain, t.Low, t.High = "", "", "", "", ""
	t.showSpread(syntax.Round{})
	return &t
}

// digits is a number in so many digits.
func (s *Shown) digits(si float64, n int) *Shown {
	t := *s
	t.Number = unit.Short(s.Unit.FromSI(si), n)
	return &t
}

func printedSame(a, b string) bool {
	x, err := strconv.ParseFloat(a, 64)
	y, err2 := strconv.ParseFloat(b, 64)
	return err == nil && err2 == nil && x == y
}
