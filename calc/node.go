package calc

import (
	"math"

	"workings/calc/diag"
	"workings/calc/syntax"
	"workings/calc/worst"
)

// A node is a checked expression. eval gives its value, or false after the
// error has been reported on the machine, or where it needs something that
// could not be computed. tape puts it on a tape, on which it is bounded.
type node interface {
	eval(m *machine) (val, bool)
	tape(t *taper) taped
}

type (
	constNode struct{ v val }
	inputNode struct { // a literal with a spread: the value and one unit of its own gradient
		d *def
	}
	refNode   struct{ d *def }
	localNode struct{ i int }
	fieldNode struct {
		x    node
		name string
	}
	unaryNode struct {
		op syntax.Op
		x  node
	}
	binaryNode struct {
		op   syntax.Op
		x, y node
		src  *syntax.Binary
	}
	logicNode struct {
		or   bool
		x, y node
	}
	powNode struct {
		x, y  node
		n     float64 // the exponent, if it is known
		fixed bool
		src   *syntax.Binary
	}
	ifNode   struct{ cond, then, els node }
	listNode struct {
		items []node
		texts bool
	}
	builtinNode struct {
		f    *builtin
		args []node
		src  *syntax.Call
	}
	funcNode struct { // a call of a function of the sheet
		inst *instance
		args []node
		src  *syntax.Call
	}
)

// An instance is the body of a function, checked for one list of argument types.
type instance struct {
	typ  Type
	body node
	busy bool
}

func (n *constNode) eval(*machine) (val, bool) { return n.v, true }

func (n *inputNode) eval(m *machine) (val, bool) { return m.input(n.d) }

func (n *refNode) eval(m *machine) (val, bool) { return m.value(n.d) }

func (n *localNode) eval(m *machine) (val, bool) { return m.frame[n.i], true }

func (n *fieldNode) eval(m *machine) (val, bool) {
	x, ok := n.x.eval(m)
	if !ok {
		return val{}, false
	}
	switch o := x.o.(type) {
	case *record:
		return o.get(n.name)
	case *table:
		return o.get(n.name)
	}
	return val{}, false
}

func (n *unaryNode) eval(m *machine) (val, bool) {
	x, ok := n.x.eval(m)
	if !ok {
		return val{}, false
	}
	switch n.op {
	case syntax.OpNot:
		return boolean(!x.o.(bool)), true
	case syntax.OpNeg:
		return lift1(x, func(a float64) (float64, float64) { return -a, -1 }), true
	}
	return x, true
}

func (n *logicNode) eval(m *machine) (val, bool) {
	x, ok := n.x.eval(m)
	if !ok || x.o.(bool) == n.or {
		return x, ok
	}
	return n.y.eval(m)
}

func (n *ifNode) eval(m *machine) (val, bool) {
	c, ok := n.cond.eval(m)
	if !ok {
		return val{}, false
	}
	if c.o.(bool) {
		return n.then.eval(m)
	}
	return n.els.eval(m)
}

func (n *listNode) eval(m *machine) (val, bool) {
	items := make([]val, len(n.items))
	for i, it := range n.items {
		v, ok := it.eval(m)
		if !ok {
			return val{}, false
		}
		items[i] = v
	}
	if n.texts {
		l := make([]string, len(items))
		for i, v := range items {
			l[i] = v.o.(string)
		}
		return val{o: l}, true
	}
	return val{o: vecOf(items)}, true
}

func (n *builtinNode) eval(m *machine) (val, bool) {
	if !m.step(n.src.Pos) {
		return val{}, false
	}
	args := make([]val, len(n.args))
	for i, a := range n.args {
		v, ok := a.eval(m)
		if !ok {
			return val{}, false
		}
		args[i] = v
	}
	v, ok := n.f.eval(m, n.src, args)
	return m.sound(n.src.Pos, v, ok)
}

func (n *funcNode) eval(m *machine) (val, bool) {
	if !m.step(n.src.Pos) {
		return val{}, false
	}
	frame := make([]val, len(n.args))
	for i, a := range n.args {
		v, ok := a.eval(m)
		if !ok {
			return val{}, false
		}
		frame[i] = v
	}
	saved := m.frame
	m.frame = frame
	v, ok := n.inst.body.eval(m)
	m.frame = saved
	return v, ok
}

func (n *binaryNode) eval(m *machine) (val, bool) {
	if left, ok := n.x.(*binaryNode); ok && n.adds() && left.adds() && m.grads {
		return n.chain(m)
	}
	x, ok := n.x.eval(m)
	if !ok {
		return val{}, false
	}
	y, ok := n.y.eval(m)
	if !ok {
		return val{}, false
	}
	switch n.op {
	case syntax.OpLT, syntax.OpLE, syntax.OpGT, syntax.OpGE, syntax.OpEQ, syntax.OpNE:
		return boolean(compare(n.op, x, y)), true
	}
	v, ok := m.arith(n.op, x, y, n.src)
	return m.sound(n.src.Pos, v, ok)
}

func (n *binaryNode) adds() bool { return n.op == syntax.OpAdd || n.op == syntax.OpSub }

// chain computes a chain of sums and differences from the left, and gathers the
// gradients of its numbers at the end.
func (n *binaryNode) chain(m *machine) (val, bool) {
	var ops []*binaryNode
	var first node = n
	for {
		b, ok := first.(*binaryNode)
		if !ok || !b.adds() {
			break
		}
		ops = append(ops, b)
		first = b.x
	}
	acc, ok := first.eval(m)
	if !ok {
		return val{}, false
	}
	gs := []gterm{{1, acc.g}}
	for i := len(ops) - 1; i >= 0; i-- {
		y, ok := ops[i].y.eval(m)
		if !ok {
			return val{}, false
		}
		if acc.isNum() && y.isNum() {
			sign := 1.0
			if ops[i].op == syntax.OpSub {
				sign = -1
			}
			acc.n += sign * y.n
			gs = append(gs, gterm{sign, y.g})
			continue
		}
		if acc.isNum() {
			acc.g = gather(gs)
		}
		v, ok := m.arith(ops[i].op, acc, y, ops[i].src)
		if acc, ok = m.sound(ops[i].src.Pos, v, ok); !ok {
			return val{}, false
		}
		gs = nil
	}
	if acc.isNum() {
		acc.g = gather(gs)
	}
	return m.sound(n.src.Pos, acc, true)
}

// compare compares two values; numbers that differ by no more than the slack of
// the language (worst.Slack) are equal.
func compare(op syntax.Op, x, y val) bool {
	switch a := x.o.(type) {
	case string:
		return (a == y.o.(string)) == (op == syntax.OpEQ)
	case bool:
		return (a == y.o.(bool)) == (op == syntax.OpEQ)
	}
	d, tie := x.n-y.n, worst.Tie(x.n, y.n)
	switch op {
	case syntax.OpLT:
		return d < -tie
	case syntax.OpLE:
		return d <= tie
	case syntax.OpGT:
		return d > tie
	case syntax.OpGE:
		return d >= -tie
	case syntax.OpEQ:
		return math.Abs(d) <= tie
	}
	return math.Abs(d) > tie
}

// arith computes x op y for numbers, lists and fields, element by element.
func (m *machine) arith(op syntax.Op, x, y val, src *syntax.Binary) (val, bool) {
	if op == syntax.OpDiv {
		zero := y.isNum() && y.n == 0
		if l := y.numbers(); l != nil {
			for _, d := range l.v {
				zero = zero || d == 0
			}
		}
		if zero {
			what := "is 0"
			if !y.isNum() {
				what = "holds a 0"
			}
			return m.fail(src.Pos, "division-by-zero", "division by zero: %s %s", clip(src.Y), what)
		}
	}
	f := arithmetic(op)
	if x.isNum() && y.isNum() {
		n, a, b := f(x.n, y.n)
		return val{n: n, g: combine(a, x.g, b, y.g)}, true
	}
	return m.lift2(x, y, f, src.Pos)
}

// arithmetic gives the value of x op y and its two partial derivatives.
func arithmetic(op syntax.Op) func(x, y float64) (n, dx, dy float64) {
	switch op {
	case syntax.OpAdd:
		return func(x, y float64) (float64, float64, float64) { return x + y, 1, 1 }
	case syntax.OpSub:
		return func(x, y float64) (float64, float64, float64) { return x - y, 1, -1 }
	case syntax.OpMul:
		return func(x, y float64) (float64, float64, float64) { return x * y, y, x }
	}
	return func(x, y float64) (float64, float64, float64) { return x / y, 1 / y, -x / y / y }
}

// lift1 applies a function with its derivative to a number, list or field.
func lift1(x val, f func(float64) (n, d float64)) val {
	if x.isNum() {
		n, d := f(x.n)
		return val{n: n, g: scale(d, x.g)}
	}
	l := x.numbers()
	out := &vec{v: make([]float64, len(l.v))}
	ds := make([]float64, len(l.v))
	for i, a := range l.v {
		out.v[i], ds[i] = f(a)
	}
	for _, t := range l.g {
		d := make([]float64, len(t.d))
		for i := range d {
			d[i] = ds[i] * t.d[i]
		}
		out.g = append(out.g, vterm{t.in, d})
	}
	return x.withNumbers(out)
}

// lift2 applies a function of two numbers element by element; one of x and y
// is a list or field.
func (m *machine) lift2(x, y val, f func(x, y float64) (n, dx, dy float64), pos diag.Span) (val, bool) {
	a, b := x.numbers(), y.numbers()
	shape := x
	n := 0
	switch {
	case a == nil:
		n, shape = len(b.v), y
	case b == nil:
		n = len(a.v)
	default:
		if len(a.v) != len(b.v) {
			return m.fail(pos, "length-mismatch", "lists of different length: %d and %d", len(a.v), len(b.v))
		}
		n = len(a.v)
	}
	if !m.steps(n, pos) {
		return val{}, false
	}
	items := make([]val, n)
	grads := len(x.g) > 0 || len(y.g) > 0 || a != nil && len(a.g) > 0 || b != nil && len(b.g) > 0
	if !grads {
		out := &vec{v: make([]float64, n)}
		for i := range out.v {
			p, q := x.n, y.n
			if a != nil {
				p = a.v[i]
			}
			if b != nil {
				q = b.v[i]
			}
			out.v[i], _, _ = f(p, q)
		}
		return shape.withNumbers(out), true
	}
	for i := range items {
		p, q := x, y
		if a != nil {
			p = a.at(i)
		}
		if b != nil {
			q = b.at(i)
		}
		r, dx, dy := f(p.n, q.n)
		items[i] = val{n: r, g: combine(dx, p.g, dy, q.g)}
	}
	return shape.withNumbers(vecOf(items)), true
}

func (n *powNode) eval(m *machine) (val, bool) {
	x, ok := n.x.eval(m)
	if !ok {
		return val{}, false
	}
	if n.fixed {
		e := n.n
		bad := false
		v := lift1(x, func(a float64) (float64, float64) {
			if a == 0 && e <= 0 || a < 0 && e != math.Trunc(e) {
				bad = true
				return 0, 0
			}
			if e == 0 {
				return 1, 0
			}
			d := e * math.Pow(a, e-1)
			if a == 0 && e < 1 {
				d = 0 // the slope of a root at 0 is not finite; a spread there cannot be carried on
				bad = bad || len(x.g) > 0
			}
			return math.Pow(a, e), d
		})
		if bad {
			return m.fail(n.src.Pos, "domain", "%s ^ %v cannot be computed for %s", clip(n.src.X), e, clip(n.src.X)+" = "+short(x))
		}
		return m.sound(n.src.Pos, v, true)
	}
	y, ok := n.y.eval(m)
	if !ok {
		return val{}, false
	}
	if x.isNum() && y.isNum() {
		if x.n < 0 && y.n != math.Trunc(y.n) || x.n == 0 && y.n <= 0 {
			return m.fail(n.src.Pos, "domain", "%s ^ %s cannot be computed: %s = %s", clip(n.src.X), clip(n.src.Y), clip(n.src.X), short(x))
		}
		r := math.Pow(x.n, y.n)
		dy := 0.0
		if x.n > 0 {
			dy = r * math.Log(x.n)
		} else if len(y.g) > 0 {
			return m.fail(n.src.Pos, "domain", "an exponent with a spread needs a positive base")
		}
		return m.sound(n.src.Pos, val{n: r, g: combine(y.n*math.Pow(x.n, y.n-1), x.g, dy, y.g)}, true)
	}
	return m.fail(n.src.Pos, "wrong-kind", "a list can only be raised to a number")
}
