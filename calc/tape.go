package calc

import (
	"math"

	"workings/calc/model"
	"workings/calc/syntax"
	"workings/calc/worst"
)

// A taper writes checked expressions on a tape, on which the worst case over
// tolerances and operating ranges is bounded. What does not depend on an input
// with either is taken from the run as it is.
type taper struct {
	r     *run
	t     worst.Tape
	vars  []*def // the inputs with a tolerance or range, in the order of the tape's variables
	index map[*def]worst.Slot
	dirty marked
	defs  map[*def]taped
	frame []taped
	m     *machine // computes what is constant
}

// A taped is a value on a tape: a number is its slot, with o nil; else o is a
// cond, a fixed, a []taped (list), a *tapedRecord, an either or an unknown.
type taped struct {
	s worst.Slot
	o any
}

type (
	cond        struct{ s worst.Slot }
	fixed       struct{ v val } // anything that does not depend on the inputs
	tapedRecord struct {
		names []string
		vals  []taped
	}
	either struct { // what cannot be joined: texts, lists of different length
		c    worst.Slot
		a, b taped
	}
	unknown struct{ from []worst.Slot } // something computed from slots in a way that is not on the tape
)

// mostTape bounds the operations of a tape; what goes beyond is unknown.
const mostTape = 400_000

// newTaper makes the tape of a run, with all its inputs that have a tolerance or range.
func newTaper(r *run) *taper {
	t := &taper{r: r, index: map[*def]worst.Slot{}, defs: map[*def]taped{}, m: newMachine(r.prog)}
	t.m.quiet, t.m.base = true, r.base
	for _, d := range r.prog.inputs {
		if d.spread.hasTol || d.spread.ranged {
			t.index[d] = t.t.Var(d.spread.nominal)
			t.vars = append(t.vars, d)
		}
	}
	t.dirty = r.prog.dependents(t.vars)
	return t
}

// def puts the value of a definition on the tape.
func (t *taper) def(d *def) taped {
	if v, ok := t.defs[d]; ok {
		return v
	}
	var out taped
	switch {
	case t.dirty.place[d.id] == 0:
		v, ok := t.r.base.value(d)
		out = t.fix(v, ok)
	case d.node == nil || d.broken:
		out = t.none()
	default:
		saved := t.frame
		t.frame = nil
		out = d.node.tape(t)
		t.frame = saved
	}
	t.defs[d] = out
	return out
}

// upTo puts definitions on the tape in the order of computation, so that none
// of a long chain waits for the one before it.
func (t *taper) upTo(refs []*def) {
	need := map[*def]bool{}
	open := refs
	for len(open) > 0 {
		d := open[len(open)-1]
		open = open[:len(open)-1]
		if _, done := t.defs[d]; done || need[d] || t.dirty.place[d.id] == 0 && d.fn == nil {
			continue
		}
		need[d] = true
		open = append(open[:len(open):len(open)], d.refs...)
	}
	for _, d := range t.r.prog.order {
		if need[d] && d.fn == nil {
			t.def(d)
		}
	}
}

func (t *taper) none() taped { return taped{s: t.t.None()} }

// fix puts a value that does not depend on the inputs on the tape.
func (t *taper) fix(v val, ok bool) taped {
	switch b, isBool := v.o.(bool); {
	case !ok:
		return t.none()
	case v.isNum():
		return taped{s: t.t.Const(v.n)}
	case isBool && b:
		return taped{o: cond{t.t.True()}}
	case isBool:
		return taped{o: cond{t.t.False()}}
	}
	return taped{o: fixed{v}}
}

// constant gives the value of something that does not depend on the inputs.
func (t *taper) constant(x taped) (v val, ok bool) {
	switch o := x.o.(type) {
	case nil:
		if !t.t.Fixed(x.s) {
			return val{}, false
		}
		n, ok := t.t.Nominal(x.s)
		return num(n), ok
	case cond:
		n, ok := t.t.Nominal(o.s)
		return boolean(n > 0), ok && t.t.Fixed(o.s)
	case fixed:
		return o.v, true
	case []taped:
		items := make([]val, len(o))
		for i, it := range o {
			if items[i], ok = t.constant(it); !ok {
				return val{}, false
			}
		}
		return val{o: vecOf(items)}, true
	}
	return val{}, false
}

// slots gathers the slots behind a value.
func (t *taper) slots(list []worst.Slot, xs ...taped) []worst.Slot {
	for _, x := range xs {
		switch o := x.o.(type) {
		case nil:
			list = append(list, x.s)
		case cond:
			list = append(list, o.s)
		case []taped:
			list = t.slots(list, o...)
		case *tapedRecord:
			list = t.slots(list, o.vals...)
		case either:
			list = t.slots(append(list, o.c), o.a, o.b)
		case unknown:
			list = append(list, o.from...)
		}
	}
	return list
}

// lose gives what is known of something that cannot be put on the tape: only
// what it is computed from.
func (t *taper) lose(xs ...taped) taped {
	from := []worst.Slot{t.t.Const(0)}
	for _, s := range t.slots(nil, xs...) {
		if !t.t.Fixed(s) {
			from = append(from, s)
		}
	}
	return taped{o: unknown{from}}
}

// input gives the input that a slot is; nil if it is something computed.
func (t *taper) input(s worst.Slot) *def {
	if i, ok := t.t.Variable(s); ok {
		return t.vars[i]
	}
	return nil
}

func (t *taper) full() bool { return t.t.Len() > mostTape }

// number gives the slot of a number.
func (t *taper) number(x taped) worst.Slot {
	if x.o == nil {
		return x.s
	}
	return t.t.Open(t.slots([]worst.Slot{t.t.Const(0)}, x))
}

// truth gives the slot of a condition.
func (t *taper) truth(x taped) worst.Slot {
	if c, ok := x.o.(cond); ok {
		return c.s
	}
	return t.t.Not(t.number(x))
}

// items gives the elements of a list; false if they are not known one by one.
func (t *taper) items(x taped) ([]taped, bool) {
	switch o := x.o.(type) {
	case []taped:
		return o, true
	case fixed:
		if l := o.v.numbers(); l != nil && len(l.v) < mostTape {
			out := make([]taped, len(l.v))
			for i, n := range l.v {
				out[i] = taped{s: t.t.Const(n)}
			}
			return out, true
		}
	}
	return nil, false
}

// over applies f to values, one alternative after the other where one of them
// is an either.
func (t *taper) over(xs []taped, f func(xs []taped) taped) taped {
	if t.full() {
		return t.lose(xs...)
	}
	for i, x := range xs {
		if e, ok := x.o.(either); ok {
			with := func(y taped) taped {
				one := append([]taped(nil), xs...)
				one[i] = y
				return t.over(one, f)
			}
			return t.choose(e.c, with(e.a), with(e.b))
		}
	}
	return f(xs)
}

// choose gives a where a condition is true, else b.
func (t *taper) choose(c worst.Slot, a, b taped) taped {
	if t.t.Fixed(c) {
		switch n, ok := t.t.Nominal(c); {
		case ok && n > 0:
			return a
		case ok:
			return b
		}
		return t.none()
	}
	_, aCond := a.o.(cond)
	_, bCond := b.o.(cond)
	ra, aRec := t.record(a)
	rb, bRec := t.record(b)
	switch {
	case a.o == nil && b.o == nil:
		return taped{s: t.t.Choice(c, a.s, b.s)}
	case (aCond || a.o == nil) && (bCond || b.o == nil): // one that is a number has no value
		return taped{o: cond{t.t.Or(t.t.And(c, t.truth(a)), t.t.And(t.t.Not(c), t.truth(b)))}}
	case aRec && bRec && len(ra.vals) == len(rb.vals):
		r := &tapedRecord{names: ra.names}
		for i := range ra.vals {
			r.vals = append(r.vals, t.choose(c, ra.vals[i], rb.vals[i]))
		}
		return taped{o: r}
	}
	la, okA := t.items(a)
	lb, okB := t.items(b)
	if okA && okB && len(la) == len(lb) && !isGrid(a) && !isGrid(b) {
		out := make([]taped, len(la))
		for i := range la {
			out[i] = t.choose(c, la[i], lb[i])
		}
		return taped{o: out}
	}
	return taped{o: either{c, a, b}}
}

// record gives a value as a record on the tape, if it is one.
func (t *taper) record(x taped) (*tapedRecord, bool) {
	switch o := x.o.(type) {
	case *tapedRecord:
		return o, true
	case fixed:
		if r, ok := o.v.o.(*record); ok {
			out := &tapedRecord{names: r.names}
			for _, v := range r.vals {
				out.vals = append(out.vals, t.fix(v, true))
			}
			return out, true
		}
	}
	return nil, false
}

func isGrid(x taped) bool {
	f, ok := x.o.(fixed)
	if !ok {
		return false
	}
	_, ok = f.v.o.(*grid)
	return ok
}

// each applies f to a number, or to every element of a list.
func (t *taper) each(x taped, f func(s worst.Slot) worst.Slot) taped {
	if x.o == nil {
		return taped{s: f(x.s)}
	}
	l, ok := t.items(x)
	if !ok || isGrid(x) {
		return t.lose(x)
	}
	out := make([]taped, len(l))
	for i, it := range l {
		out[i] = taped{s: f(t.number(it))}
	}
	return taped{o: out}
}

// pairs applies f to two numbers, or element by element.
func (t *taper) pairs(x, y taped, f func(a, b worst.Slot) worst.Slot) taped {
	if x.o == nil && y.o == nil {
		return taped{s: f(x.s, y.s)}
	}
	a, okA := t.items(x)
	b, okB := t.items(y)
	if !okA && x.o != nil || !okB && y.o != nil || okA && okB && len(a) != len(b) || isGrid(x) || isGrid(y) {
		return t.lose(x, y)
	}
	out := make([]taped, max(len(a), len(b)))
	for i := range out {
		p, q := x, y
		if okA {
			p = a[i]
		}
		if okB {
			q = b[i]
		}
		out[i] = taped{s: f(t.number(p), t.number(q))}
	}
	return taped{o: out}
}

func (n *constNode) tape(t *taper) taped { return t.fix(n.v, true) }

func (n *inputNode) tape(t *taper) taped {
	if s, ok := t.index[n.d]; ok {
		return taped{s: s}
	}
	return taped{s: t.t.Const(n.d.spread.nominal)}
}

func (n *refNode) tape(t *taper) taped { return t.def(n.d) }

func (n *localNode) tape(t *taper) taped { return t.frame[n.i] }

func (n *fieldNode) tape(t *taper) taped {
	return t.field(n.x.tape(t), n.name)
}

// field takes a field out of a record, or a column of a table.
func (t *taper) field(x taped, name string) taped {
	return t.over([]taped{x}, func(xs []taped) taped {
		switch o := xs[0].o.(type) {
		case *tapedRecord:
			for i, n := range o.names {
				if n == name {
					return o.vals[i]
				}
			}
		case fixed:
			switch f := o.v.o.(type) {
			case *record:
				return t.fix(f.get(name))
			case *table:
				return t.fix(f.get(name))
			}
		case nil:
			return xs[0] // it has no value
		}
		return t.lose(xs[0])
	})
}

// tape puts an expression that stands outside the definitions on the tape.
func (e *expr) tape(t *taper) taped {
	t.upTo(e.refs)
	return e.node.tape(t)
}

func (n *unaryNode) tape(t *taper) taped {
	return t.over([]taped{n.x.tape(t)}, func(xs []taped) taped {
		switch n.op {
		case syntax.OpNot:
			return taped{o: cond{t.t.Not(t.truth(xs[0]))}}
		case syntax.OpNeg:
			return t.each(xs[0], t.t.Neg)
		}
		return xs[0]
	})
}

func (n *logicNode) tape(t *taper) taped {
	x := t.truth(n.x.tape(t))
	y := t.truth(n.y.tape(t))
	if n.or {
		return taped{o: cond{t.t.Or(x, y)}}
	}
	return taped{o: cond{t.t.And(x, y)}}
}

func (n *ifNode) tape(t *taper) taped {
	c := t.truth(n.cond.tape(t))
	if t.t.Fixed(c) {
		switch x, ok := t.t.Nominal(c); {
		case ok && x > 0:
			return n.then.tape(t)
		case ok:
			return n.els.tape(t)
		}
		return t.none()
	}
	return t.choose(c, n.then.tape(t), n.els.tape(t))
}

func (n *listNode) tape(t *taper) taped {
	items := make([]taped, len(n.items))
	for i, it := range n.items {
		items[i] = it.tape(t)
	}
	return t.over(items, func(items []taped) taped {
		if n.texts {
			l := make([]string, len(items))
			for i, it := range items {
				f, ok := it.o.(fixed)
				if !ok {
					return t.lose(items...)
				}
				l[i] = f.v.o.(string)
			}
			return taped{o: fixed{val{o: l}}}
		}
		list := make([]taped, len(items))
		for i, it := range items {
			list[i] = taped{s: t.number(it)}
		}
		return taped{o: list}
	})
}

func (n *binaryNode) tape(t *taper) taped {
	return t.over([]taped{n.x.tape(t), n.y.tape(t)}, func(xs []taped) taped {
		x, y := xs[0], xs[1]
		switch n.op {
		case syntax.OpAdd:
			return t.pairs(x, y, t.t.Add)
		case syntax.OpSub:
			return t.pairs(x, y, t.t.Sub)
		case syntax.OpMul:
			return t.pairs(x, y, t.t.Mul)
		case syntax.OpDiv:
			return t.pairs(x, y, t.t.Div)
		}
		return taped{o: cond{t.compare(n.op, x, y)}}
	})
}

func (t *taper) compare(op syntax.Op, x, y taped) worst.Slot {
	if x.o == nil && y.o == nil {
		switch op {
		case syntax.OpLT:
			return t.t.LT(x.s, y.s)
		case syntax.OpLE:
			return t.t.LE(x.s, y.s)
		case syntax.OpGT:
			return t.t.LT(y.s, x.s)
		case syntax.OpGE:
			return t.t.LE(y.s, x.s)
		case syntax.OpEQ:
			return t.t.EQ(x.s, y.s)
		}
		return t.t.Not(t.t.EQ(x.s, y.s))
	}
	_, aCond := x.o.(cond)
	_, bCond := y.o.(cond)
	a, okA := t.constant(x)
	b, okB := t.constant(y)
	switch {
	case aCond && bCond:
		p, q := t.truth(x), t.truth(y)
		same := t.t.Or(t.t.And(p, q), t.t.And(t.t.Not(p), t.t.Not(q)))
		if op == syntax.OpNE {
			return t.t.Not(same)
		}
		return same
	case okA && okB:
		if compare(op, a, b) {
			return t.t.True()
		}
		return t.t.False()
	}
	return t.t.Not(t.number(t.lose(x, y)))
}

func (n *powNode) tape(t *taper) taped {
	args := []taped{n.x.tape(t)}
	if !n.fixed {
		args = append(args, n.y.tape(t))
	}
	return t.over(args, func(xs []taped) taped {
		if n.fixed {
			return t.each(xs[0], func(s worst.Slot) worst.Slot { return t.t.PowFixed(s, n.n) })
		}
		return t.pairs(xs[0], xs[1], t.t.Pow)
	})
}

func (n *builtinNode) tape(t *taper) taped {
	args := make([]taped, len(n.args))
	for i, a := range n.args {
		args[i] = a.tape(t)
	}
	return t.over(args, func(xs []taped) taped {
		vals := make([]val, len(xs))
		all := true
		for i, x := range xs {
			var ok bool
			vals[i], ok = t.constant(x)
			all = all && ok
		}
		if all {
			t.m.left = maxSteps
			v, ok := n.f.eval(t.m, n.src, vals)
			v, ok = t.m.sound(n.src.Pos, v, ok)
			return t.fix(v, ok)
		}
		if n.f.tape == nil {
			return t.lose(xs...)
		}
		return n.f.tape(t, xs)
	})
}

func (n *funcNode) tape(t *taper) taped {
	frame := make([]taped, len(n.args))
	for i, a := range n.args {
		frame[i] = a.tape(t)
	}
	if t.full() {
		return t.lose(frame...)
	}
	saved := t.frame
	t.frame = frame
	out := n.inst.body.tape(t)
	t.frame = saved
	return t.given(out, frame...) // an argument has a value, whether it is looked at or not
}

// given has a value only where all others have one.
func (t *taper) given(x taped, others ...taped) taped {
	var needs []worst.Slot
	for _, s := range t.slots(nil, others...) {
		if _, input := t.t.Variable(s); !input && !t.t.Fixed(s) {
			needs = append(needs, s)
		}
	}
	if len(needs) == 0 {
		return x
	}
	switch o := x.o.(type) {
	case nil:
		return taped{s: t.t.Given(x.s, needs)}
	case cond:
		return taped{o: cond{t.t.Given(o.s, needs)}}
	case []taped:
		out := make([]taped, len(o))
		for i, it := range o {
			out[i] = t.given(it, others...)
		}
		return taped{o: out}
	case *tapedRecord:
		r := &tapedRecord{names: o.names}
		for _, it := range o.vals {
			r.vals = append(r.vals, t.given(it, others...))
		}
		return taped{o: r}
	case either:
		return taped{o: either{o.c, t.given(o.a, others...), t.given(o.b, others...)}}
	case unknown:
		return taped{o: unknown{append(needs, o.from...)}}
	}
	return t.lose(append(others, x)...)
}

func (n *materialNode) tape(t *taper) taped { return t.fix(n.eval(t.m)) }

// The functions of the language on a tape.

func tapeEach(f func(t *worst.Tape, s worst.Slot) worst.Slot) func(*taper, []taped) taped {
	return func(t *taper, a []taped) taped {
		return t.each(a[0], func(s worst.Slot) worst.Slot { return f(&t.t, s) })
	}
}

func tapePair(f func(t *worst.Tape, a, b worst.Slot) worst.Slot) func(*taper, []taped) taped {
	return func(t *taper, a []taped) taped { return taped{s: f(&t.t, t.number(a[0]), t.number(a[1]))} }
}

func tapeFirst(t *taper, a []taped) taped { return a[0] }

// tapeItems gives the elements of the one list argument, or the arguments.
func tapeItems(t *taper, a []taped) (items []taped, ok bool) {
	if len(a) == 1 && a[0].o != nil {
		return t.items(a[0])
	}
	return a, true
}

func tapeFold(f func(t *worst.Tape, a, b worst.Slot) worst.Slot) func(*taper, []taped) taped {
	return func(t *taper, a []taped) taped {
		items, ok := tapeItems(t, a)
		if !ok || len(items) == 0 {
			return t.lose(a...)
		}
		s := t.number(items[0])
		for _, it := range items[1:] {
			s = f(&t.t, s, t.number(it))
		}
		return taped{s: s}
	}
}

func tapeSum(t *taper, a []taped) taped {
	items, ok := tapeItems(t, a)
	if !ok || len(items) == 0 {
		return t.lose(a...)
	}
	slots := make([]worst.Slot, len(items))
	for i, it := range items {
		slots[i] = t.number(it)
	}
	return taped{s: t.t.Sum(slots)}
}

func tapeMean(t *taper, a []taped) taped {
	s := tapeSum(t, a)
	if s.o != nil {
		return s
	}
	items, _ := tapeItems(t, a)
	return taped{s: t.t.Div(s.s, t.t.Const(float64(len(items))))}
}

func tapeCount(t *taper, a []taped) taped {
	if l, ok := a[0].o.([]taped); ok {
		return t.given(taped{s: t.t.Const(float64(len(l)))}, l...)
	}
	return t.lose(a...)
}

func tapeStep(f func(t *worst.Tape, a, step worst.Slot) worst.Slot) func(*taper, []taped) taped {
	return func(t *taper, a []taped) taped {
		step := t.t.Const(1)
		if len(a) == 2 {
			step = t.number(a[1])
		}
		return t.each(a[0], func(s worst.Slot) worst.Slot { return f(&t.t, s, step) })
	}
}

func tapeLookup(t *taper, a []taped) taped {
	at := t.number(a[2])
	x, okX := t.constant(a[0])
	y, okY := t.constant(a[1])
	if okX && okY {
		xs, ys := x.numbers(), y.numbers()
		if _, ok := rising(xs.v); !ok || len(xs.v) != len(ys.v) || len(xs.v) == 0 {
			return t.none()
		}
		return taped{s: t.t.Table(xs.v, ys.v, at)}
	}
	xs, okX := t.items(a[0])
	ys, okY := t.items(a[1])
	if !okX || !okY || len(xs) != len(ys) || len(xs) == 0 {
		return t.lose(a...)
	}
	p, q := make([]worst.Slot, len(xs)), make([]worst.Slot, len(xs))
	for i := range xs {
		p[i], q[i] = t.number(xs[i]), t.number(ys[i])
	}
	return taped{s: t.t.Lookup(p, q, at)}
}

func tapeSteps(t *taper, a []taped) taped {
	n, ok := t.constant(a[2])
	if !ok || n.n != math.Trunc(n.n) || n.n < 2 || n.n > maxList {
		return t.lose(a...)
	}
	from, to := t.number(a[0]), t.number(a[1])
	out := make([]taped, int(n.n))
	for i := range out {
		s := float64(i) / (n.n - 1)
		out[i] = taped{s: t.t.Add(t.t.Mul(from, t.t.Const(1-s)), t.t.Mul(to, t.t.Const(s)))}
	}
	return taped{o: out}
}

// tape puts a call of a model on the tape: its results that are numbers, of
// arguments that are numbers or lists of them.
func (n *modelNode) tape(t *taper) taped {
	args := make([]taped, len(n.args))
	for i, a := range n.args {
		args[i] = a.tape(t)
	}
	return t.over(args, func(xs []taped) taped {
		flat, vals, varies := t.modelArgs(xs)
		if vals == nil {
			return t.lose(xs...)
		}
		memo := t.r.memo
		call := func(at []float64) (*model.Out, bool) {
			out, _, err := n.call(memo, withNumbers(vals, at), 0, nil)
			return out, err == nil
		}
		if !varies {
			at := make([]float64, len(flat))
			for i, s := range flat {
				at[i], _ = t.t.Nominal(s.slot)
			}
			out, ok := call(at)
			if !ok {
				return t.none()
			}
			r := &record{}
			for _, res := range n.spec.Results {
				r.names = append(r.names, res.Name)
				r.vals = append(r.vals, ofResult(out.Get(res.Name)))
			}
			return t.fix(val{o: r}, true)
		}
		f := &worst.Function{Cost: cheapCall, Noise: 1e-11}
		if heavy(n.spec) {
			f.Cost, f.Noise = heavyCall, 1e-8
		}
		var numbers []string
		for _, res := range n.spec.Results {
			if res.Shape == model.Scalar {
				numbers = append(numbers, res.Name)
				rises, falls := make([]bool, len(flat)), make([]bool, len(flat))
				for i, a := range flat {
					rises[i] = res.RisesWith(n.names[a.arg])
					falls[i] = res.FallsWith(n.names[a.arg])
				}
				f.Rises, f.Falls = append(f.Rises, rises), append(f.Falls, falls)
			}
		}
		f.Call = func(at []float64) ([]float64, bool) {
			out, ok := call(at)
			if !ok {
				return nil, false
			}
			list := make([]float64, len(numbers))
			for i, name := range numbers {
				list[i], ok = out.Get(name).(float64)
				if !ok {
					return nil, false
				}
			}
			return list, true
		}
		slots := make([]worst.Slot, len(flat))
		for i, a := range flat {
			slots[i] = a.slot
		}
		r := &tapedRecord{}
		k := 0
		for _, res := range n.spec.Results {
			r.names = append(r.names, res.Name)
			if res.Shape != model.Scalar {
				r.vals = append(r.vals, t.lose(xs...))
				continue
			}
			r.vals = append(r.vals, taped{s: t.t.Result(f, k, slots)})
			k++
		}
		return taped{o: r}
	})
}

// What a call of a model costs in operations of a tape: a formula, a field.
const (
	cheapCall = 200
	heavyCall = 100_000
)

// heavy reports whether a model computes a field.
func heavy(s *model.Spec) bool {
	for _, a := range s.Args {
		if a.Shape == model.Grid {
			return true
		}
	}
	for _, r := range s.Results {
		if r.Shape == model.Grid {
			return true
		}
	}
	return false
}

// A flatArg is one number among the arguments of a model.
type flatArg struct {
	slot worst.Slot
	arg  int
}

// modelArgs lays the arguments of a model out as numbers, and as the values to
// put them into; vals is nil if they cannot be.
func (t *taper) modelArgs(xs []taped) (flat []flatArg, vals []val, varies bool) {
	for i, x := range xs {
		switch o := x.o.(type) {
		case nil:
			flat = append(flat, flatArg{x.s, i})
			vals = append(vals, val{})
			varies = varies || !t.t.Fixed(x.s)
		case []taped:
			for _, it := range o {
				s := t.number(it)
				flat = append(flat, flatArg{s, i})
				varies = varies || !t.t.Fixed(s)
			}
			vals = append(vals, val{o: &vec{v: make([]float64, len(o))}})
		case fixed:
			v := o.v
			if l, ok := v.o.(*vec); ok {
				v = val{o: l.v} // kept as it is: no place for numbers to be put in
			}
			vals = append(vals, v)
		default:
			return nil, nil, true
		}
	}
	return flat, vals, varies
}

// withNumbers fills numbers into the arguments of a model.
func withNumbers(vals []val, at []float64) []val {
	out := make([]val, len(vals))
	for i, v := range vals {
		switch o := v.o.(type) {
		case nil:
			out[i], at = num(at[0]), at[1:]
		case *vec:
			out[i], at = val{o: &vec{v: at[:len(o.v):len(o.v)]}}, at[len(o.v):]
		case []float64:
			out[i] = val{o: &vec{v: o}}
		case *grid:
			out[i] = val{o: &grid{o.x, o.y, &vec{v: o.z.v}}}
		default:
			out[i] = v
		}
	}
	return out
}

// ofResult is a result of a model as a value without slopes.
func ofResult(x any) val {
	switch x := x.(type) {
	case float64:
		return num(x)
	case []float64:
		return val{o: &vec{v: x}}
	case *model.Map:
		return val{o: &grid{x.X, x.Y, &vec{v: x.Z}}}
	}
	return val{o: x}
}
