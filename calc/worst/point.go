package worst

import (
	"math"
	"sort"

	"workings/calc/interval"
)

// huge is the amount from which on a number counts as too large to have a
// value, far below the greatest, so that no unit it is shown in overflows.
const huge = 1e280

// compute gives the value of an operation from the values of its operands, the same way to the
// last bit as package calc does.
func compute(o *op, v []value) value {
	switch o.kind {
	case choice, and, or:
		return chosen(o, v)
	case open:
		return value{none: true}
	}
	ok := true
	x, a, b := 0.0, 0.0, 0.0
	switch {
	case o.kind <= variable:
	case o.args != nil:
		for _, s := range o.args {
			if v[s].none {
				return value{none: true}
			}
		}
	case o.binary():
		if v[o.a].none || v[o.b].none {
			return value{none: true}
		}
		a, b = v[o.a].x, v[o.b].x
	default:
		if v[o.a].none {
			return value{none: true}
		}
		a = v[o.a].x
	}
	switch o.kind {
	case constant:
		x = o.k
	case given, givenTruth:
		return v[o.args[0]]
	case neg:
		x = -a
	case add:
		x = a + b
	case sub:
		x = a - b
	case mul:
		x = a * b
	case div:
		x, ok = a/b, b != 0
	case powFixed:
		x, ok = power(a, o.k)
	case pow:
		x, ok = power(a, b)
	case sqrt:
		x, ok = math.Sqrt(a), a >= 0
	case abs:
		x = math.Abs(a)
	case exp:
		x = math.Exp(a)
	case ln:
		x, ok = math.Log(a), a > 0
	case log10:
		x, ok = math.Log10(a), a > 0
	case sin:
		x = math.Sin(a)
	case cos:
		x = math.Cos(a)
	case tan:
		x, ok = math.Tan(a), math.Abs(math.Cos(a)) > 1e-15
	case asin:
		x, ok = math.Asin(a), a >= -1 && a <= 1
	case acos:
		x, ok = interval.ArcCos(a), a >= -1 && a <= 1
	case atan:
		x = math.Atan(a)
	case atan2:
		x, ok = math.Atan2(a, b), a != 0 || b != 0
	case hypot:
		x = math.Hypot(a, b)
	case least:
		x = math.Min(a, b)
	case greatest:
		x = math.Max(a, b)
	case sum:
		items := make([]float64, len(o.args))
		for i, s := range o.args {
			items[i] = v[s].x
		}
		x = Total(items)
	case floor:
		x, ok = Step(math.Floor, a, b), b > 0
	case ceil:
		x, ok = Step(math.Ceil, a, b), b > 0
	case round:
		x, ok = Step(math.RoundToEven, a, b), b > 0
	case table:
		p := o.more.(*points)
		x, ok = Line(p.x, p.y, a)
	case lookup:
		n := (len(o.args) - 1) / 2
		p := points{make([]float64, n), make([]float64, n)}
		for i := range n {
			p.x[i], p.y[i] = v[o.args[1+i]].x, v[o.args[1+n+i]].x
			ok = ok && (i == 0 || p.x[i] > p.x[i-1])
		}
		if ok {
			x, ok = Line(p.x, p.y, v[o.args[0]].x)
		}
	case result:
		args := make([]float64, len(o.args))
		for i, s := range o.args {
			args[i] = v[s].x
		}
		var out []float64
		if out, ok = o.more.(*Function).Call(args); ok {
			x = out[int(o.k)]
		}
	case le:
		m := b - a + Tie(a, b)
		return value{x: m * o.k, yes: m >= 0}
	case lt:
		m := b - a - Tie(a, b)
		return value{x: m * o.k, yes: m > 0}
	case eq:
		m := Tie(a, b) - math.Abs(a-b)
		return value{x: m * o.k, yes: m >= 0}
	case not:
		return value{x: -a, yes: !v[o.a].yes}
	}
	if !ok || !(math.Abs(x) < huge) && o.kind != constant {
		return value{none: true}
	}
	return value{x: x, yes: x > 0}
}

// chosen computes what need not look at all its operands.
func chosen(o *op, v []value) value {
	c := v[o.a]
	if c.none {
		return c
	}
	switch {
	case o.kind == choice && c.yes:
		return v[o.args[0]]
	case o.kind == choice:
		return v[o.args[1]]
	}
	d := v[o.b]
	if c.yes == (o.kind == or) { // decided by the first
		if d.none {
			return c
		}
		d.yes = c.yes
	} else if d.none {
		return d
	}
	if o.kind == and {
		return value{x: math.Min(c.x, d.x), yes: d.yes}
	}
	return value{x: math.Max(c.x, d.x), yes: d.yes}
}

// power gives a to the power b, as the language has it.
func power(a, b float64) (float64, bool) {
	switch {
	case a == 0 && b <= 0 || a < 0 && b != math.Trunc(b):
		return 0, false
	case b == 0:
		return 1, true
	}
	return math.Pow(a, b), true
}

// Total adds up with compensation (Neumaier), so that a long column loses no digits.
func Total(items []float64) float64 {
	s, comp := 0.0, 0.0
	for _, x := range items {
		t := s + x
		if math.Abs(s) >= math.Abs(x) {
			comp += (s - t) + x
		} else {
			comp += (x - t) + s
		}
		s = t
	}
	return s + comp
}

// Step rounds to a multiple of a step. A value that is a multiple but for the
// noise of floating point counts as that multiple: 0.3 m is three steps of 0.1 m.
func Step(f func(float64) float64, x, step float64) float64 {
	q := x / step
	if n := math.Round(q); math.Abs(q-n) <= Tie(q, n) {
		return n * step
	}
	return f(q) * step
}

// Line gives the value at a place on straight lines between points whose places
// rise; false beyond the first and the last.
func Line(x, y []float64, at float64) (float64, bool) {
	k, s, ok := Segment(x, at)
	if !ok {
		return 0, false
	}
	if len(x) == 1 {
		return y[0], true
	}
	return y[k] + s*(y[k+1]-y[k]), true
}

// Segment finds the place at between the rising places x: behind which it lies,
// and what part of the way to the next; false beyond the first and the last.
func Segment(x []float64, at float64) (k int, part float64, ok bool) {
	lo, hi := x[0], x[len(x)-1]
	switch {
	case at < lo && lo-at <= Tie(lo, at):
		at = lo
	case at > hi && at-hi <= Tie(hi, at):
		at = hi
	case at < lo || at > hi:
		return 0, 0, false
	}
	if len(x) == 1 {
		return 0, 0, true
	}
	k = min(max(sort.SearchFloat64s(x, at)-1, 0), len(x)-2)
	return k, (at - x[k]) / (x[k+1] - x[k]), true
}
