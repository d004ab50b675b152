// Package worst finds the worst case of a calculation over intervals of its
// inputs, and says whether it is proved.
//
// A calculation is written on a Tape, one operation after the other, and bounded
// over boxes of its inputs by interval arithmetic, by its slopes over the box
// (mean value form), and by putting inputs in which it only rises or only falls
// to their ends; what is not decided so is cut into smaller boxes, the least
// promising first (branch and bound: Moore, Kearfott and Cloud, Introduction to
// Interval Analysis, 2009, ch. 6; Hansen and Walster, Global Optimization Using
// Interval Analysis, 2nd ed. 2004, ch. 12; from memory).
package worst

import (
	"math"
)

// Slack is by which share of the larger of two numbers they may differ and
// count as equal, so that the noise of floating point decides nothing.
const Slack = 1e-12

// Tie is the difference by which two numbers may be apart and count as equal.
func Tie(x, y float64) float64 { return Slack * math.Max(math.Abs(x), math.Abs(y)) }

// A Slot is a number or a condition on a tape. A condition is a number too, its
// margin: positive where it is true, negative where it is false.
type Slot int32

type kind uint8

const (
	constant kind = iota
	variable
	neg
	add
	sub
	mul
	div
	powFixed // to the power k
	pow
	sqrt
	abs
	exp
	ln
	log10
	sin
	cos
	tan
	asin
	acos
	atan
	atan2
	hypot
	least
	greatest
	sum    // of args
	floor  // of a, to a multiple of b
	ceil   // of a, to a multiple of b
	round  // of a, to a multiple of b
	choice // args[0] if the condition a is true, else args[1]
	table  // at a, on straight lines between fixed points
	lookup // at args[0], places and values behind it
	result // number k of a function of args
	open   // anything at all, computed from args
	given  // args[0], which has no value where one of the others has none
	le     // conditions from here on
	lt
	eq
	not
	and
	or
	givenTruth // as given, of a condition
)

// An op is one operation. Its operands stand before it on the tape.
type op struct {
	kind kind
	a, b Slot
	k    float64
	args []Slot
	more any // points of a table, a Function
}

// operands calls f with every operand.
func (o *op) operands(f func(s Slot)) {
	switch {
	case o.kind <= variable:
	case o.args != nil:
		for _, s := range o.args {
			f(s)
		}
		if o.kind == choice {
			f(o.a)
		}
	default:
		f(o.a)
		if o.binary() {
			f(o.b)
		}
	}
}

func (o *op) binary() bool { return twoOperands[o.kind] }

var twoOperands = [givenTruth + 1]bool{add: true, sub: true, mul: true, div: true, pow: true, atan2: true, hypot: true, least: true,
	greatest: true, floor: true, ceil: true, round: true, le: true, lt: true, eq: true, and: true, or: true}

// A Function computes numbers from numbers outside the tape.
type Function struct {
	// Call gives the results; false where it has none. Its results are always as many.
	Call func(args []float64) ([]float64, bool)
	// By result and argument: it never falls, or never rises, with the argument.
	Rises, Falls [][]bool
	// Noise is by which share of its amount a result may be off, by rounding or
	// because it is solved for.
	Noise float64
	// Cost of one call in operations of a tape.
	Cost int
}

// points are the places and values of a table.
type points struct{ x, y []float64 }

// A Tape holds a calculation. The zero value is empty.
type Tape struct {
	ops     []op
	nominal []value
	vars    []Slot
}

// A value is what a slot comes to at one place.
type value struct {
	x    float64
	yes  bool // of a condition: it is true
	none bool // there is no value
}

// Len is the number of operations.
func (t *Tape) Len() int { return len(t.ops) }

// Nominal gives the value of a slot with all variables at their nominal values.
func (t *Tape) Nominal(s Slot) (x float64, ok bool) { return t.nominal[s].x, !t.nominal[s].none }

// Const puts a number on the tape.
func (t *Tape) Const(x float64) Slot {
	return t.put(op{kind: constant, k: x}, value{x: x, yes: x > 0})
}

// None puts a number on the tape that has no value.
func (t *Tape) None() Slot {
	return t.put(op{kind: constant, k: math.NaN()}, value{none: true})
}

// True puts a condition on the tape that is never false.
func (t *Tape) True() Slot { return t.Const(math.Inf(1)) }

// False puts a condition on the tape that is never true.
func (t *Tape) False() Slot { return t.Const(math.Inf(-1)) }

// Var puts a new variable on the tape. Variables count from 0.
func (t *Tape) Var(nominal float64) Slot {
	s := t.put(op{kind: variable, k: float64(len(t.vars))}, value{x: nominal})
	t.vars = append(t.vars, s)
	return s
}

// Variable gives which variable a slot is; false if it is something else.
func (t *Tape) Variable(s Slot) (i int, ok bool) { return int(t.ops[s].k), t.ops[s].kind == variable }

// Fixed reports whether a slot is a constant.
func (t *Tape) Fixed(s Slot) bool { return t.ops[s].kind == constant }

func (t *Tape) put(o op, v value) Slot {
	t.ops = append(t.ops, o)
	t.nominal = append(t.nominal, v)
	return Slot(len(t.ops) - 1)
}

// emit puts an operation on the tape, or its value if all operands are constants.
func (t *Tape) emit(o op) Slot {
	fixed := o.kind != open
	o.operands(func(s Slot) { fixed = fixed && t.Fixed(s) })
	v := compute(&o, t.nominal)
	switch {
	case !fixed:
		return t.put(o, v)
	case v.none:
		return t.None()
	case o.kind < le:
		return t.Const(v.x)
	case v.yes:
		return t.True()
	}
	return t.False()
}

func (t *Tape) one(k kind, a Slot) Slot    { return t.emit(op{kind: k, a: a}) }
func (t *Tape) two(k kind, a, b Slot) Slot { return t.emit(op{kind: k, a: a, b: b}) }

// The operations. Each has a value where package calc has one.

func (t *Tape) Neg(a Slot) Slot                 { return t.one(neg, a) }
func (t *Tape) Add(a, b Slot) Slot              { return t.two(add, a, b) }
func (t *Tape) Sub(a, b Slot) Slot              { return t.two(sub, a, b) }
func (t *Tape) Mul(a, b Slot) Slot              { return t.two(mul, a, b) }
func (t *Tape) Div(a, b Slot) Slot              { return t.two(div, a, b) }
func (t *Tape) Sqrt(a Slot) Slot                { return t.one(sqrt, a) }
func (t *Tape) Abs(a Slot) Slot                 { return t.one(abs, a) }
func (t *Tape) Exp(a Slot) Slot                 { return t.one(exp, a) }
func (t *Tape) Ln(a Slot) Slot                  { return t.one(ln, a) }
func (t *Tape) Log10(a Slot) Slot               { return t.one(log10, a) }
func (t *Tape) Sin(a Slot) Slot                 { return t.one(sin, a) }
func (t *Tape) Cos(a Slot) Slot                 { return t.one(cos, a) }
func (t *Tape) Tan(a Slot) Slot                 { return t.one(tan, a) }
func (t *Tape) Asin(a Slot) Slot                { return t.one(asin, a) }
func (t *Tape) Acos(a Slot) Slot                { return t.one(acos, a) }
func (t *Tape) Atan(a Slot) Slot                { return t.one(atan, a) }
func (t *Tape) Atan2(y, x Slot) Slot            { return t.two(atan2, y, x) }
func (t *Tape) Hypot(a, b Slot) Slot            { return t.two(hypot, a, b) }
func (t *Tape) Min(a, b Slot) Slot              { return t.two(least, a, b) }
func (t *Tape) Max(a, b Slot) Slot              { return t.two(greatest, a, b) }
func (t *Tape) Floor(a, step Slot) Slot         { return t.two(floor, a, step) }
func (t *Tape) Ceil(a, step Slot) Slot          { return t.two(ceil, a, step) }
func (t *Tape) Round(a, step Slot) Slot         { return t.two(round, a, step) }
func (t *Tape) PowFixed(a Slot, p float64) Slot { return t.emit(op{kind: powFixed, a: a, k: p}) }

// Pow gives a to the power b.
func (t *Tape) Pow(a, b Slot) Slot {
	if t.Fixed(b) && !t.nominal[b].none {
		return t.PowFixed(a, t.nominal[b].x)
	}
	return t.two(pow, a, b)
}

// Sum adds up.
func (t *Tape) Sum(a []Slot) Slot {
	if len(a) == 0 {
		return t.Const(0)
	}
	return t.emit(op{kind: sum, args: a})
}

// Choice gives a where the condition c is true, else b. What is not chosen may
// have no value.
func (t *Tape) Choice(c, a, b Slot) Slot {
	if t.Fixed(c) && !t.nominal[c].none {
		if t.nominal[c].yes {
			return a
		}
		return b
	}
	return t.emit(op{kind: choice, a: c, args: []Slot{a, b}})
}

// Table gives the value at a on straight lines between points whose places rise.
func (t *Tape) Table(x, y []float64, a Slot) Slot {
	return t.emit(op{kind: table, a: a, more: &points{x, y}})
}

// Lookup gives the value at a place on straight lines between points that are
// computed themselves; no value where the places do not rise.
func (t *Tape) Lookup(x, y []Slot, at Slot) Slot {
	args := append(append([]Slot{at}, x...), y...)
	return t.emit(op{kind: lookup, args: args})
}

// Result gives result k of a function.
func (t *Tape) Result(f *Function, k int, args []Slot) Slot {
	return t.emit(op{kind: result, k: float64(k), args: args, more: f})
}

// Open stands for a number or a condition that nothing is known of, computed
// from others in a way that a tape cannot say.
func (t *Tape) Open(from []Slot) Slot { return t.emit(op{kind: open, args: from}) }

// Given is a number or a condition that has no value where one of needs has none.
func (t *Tape) Given(a Slot, needs []Slot) Slot {
	k := given
	if t.ops[a].kind >= le {
		k = givenTruth
	}
	return t.emit(op{kind: k, args: append([]Slot{a}, needs...)})
}

// LE is the condition a <= b, LT a < b, EQ a == b; numbers closer than Tie are equal.
func (t *Tape) LE(a, b Slot) Slot { return t.compare(le, a, b) }

// LT is the condition a < b.
func (t *Tape) LT(a, b Slot) Slot { return t.compare(lt, a, b) }

// EQ is the condition a == b.
func (t *Tape) EQ(a, b Slot) Slot { return t.compare(eq, a, b) }

// compare puts the margin in units of the sides' size, so that the margins of a
// length and of a voltage can be held against each other.
func (t *Tape) compare(k kind, a, b Slot) Slot {
	scale := 1 / math.Max(math.Abs(t.nominal[a].x), math.Abs(t.nominal[b].x))
	if !(scale > 1e-100 && scale < 1e100) {
		scale = 1
	}
	return t.emit(op{kind: k, a: a, b: b, k: scale})
}

// Not, And and Or join conditions. What And and Or need not look at may have no value.
func (t *Tape) Not(a Slot) Slot { return t.one(not, a) }

// And is true where both are.
func (t *Tape) And(a, b Slot) Slot { return t.two(and, a, b) }

// Or is true where one is.
func (t *Tape) Or(a, b Slot) Slot { return t.two(or, a, b) }
