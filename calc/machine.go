package calc

import (
	"fmt"
	"math"

	"workings/calc/diag"
	"workings/calc/syntax"
	"workings/calc/unit"
)

// Bounds that make any input end quickly.
const maxList = 100_000 // elements of a list

// termCost is what a term of a number's gradient counts in elementary
// operations: it is kept, so that it bounds the memory of a run too.
const termCost = 8

// maxSteps bounds the elementary operations of one run; only tests change it.
var maxSteps = 20_000_000

// A machine evaluates a program once, with the inputs at their nominal values
// or at values set on it.
type machine struct {
	p     *Program
	vals  []val
	state []uint8          // by def: 0 not computed, 1 computed, 2 not available
	base  *machine         // values of definitions not marked in dirty are taken from here
	dirty []int32          // by definition: its place in over, from 1; 0 if it is taken from the base; nil: all are
	set   map[*def]float64 // inputs set to other values, SI
	frame []val
	left  int // operations left
	spent bool
	grads bool // gradients are carried along
	quiet bool // errors are not reported: the point is one of many tried
	errs  diag.List
	over  []overVal                   // of an overlay: what has been computed on it
	given map[int]overVal             // of an overlay: values put in the place of definitions, by id; may be nil
	kept  *Memo                       // what models gave in this run; nil: the program's
	calls map[*syntax.Call]*ModelCall // recorded calls of models; nil: not recorded
}

// An overVal is a value computed on an overlay, or that it is not available.
type overVal struct {
	v    val
	ok   bool
	done bool
}

func newMachine(p *Program) *machine {
	return &machine{p: p, left: maxSteps}
}

// memo is what models gave before; nil for nothing.
func (m *machine) memo() *Memo {
	if m.kept != nil || m.p == nil {
		return m.kept
	}
	return m.p.in.Memo
}

// room makes place for the values of all definitions. Most machines compute one
// constant and need none.
func (m *machine) room() {
	m.vals, m.state = make([]val, len(m.p.defs)), make([]uint8, len(m.p.defs))
}

// value gives the value of a definition, computing it on first use. Since the
// program runs in order, recursion here is as deep as what a sweep left out.
func (m *machine) value(d *def) (val, bool) {
	if m.base != nil {
		return m.overlaid(d)
	}
	if m.state == nil {
		m.room()
	}
	switch m.state[d.id] {
	case 1:
		return m.vals[d.id], true
	case 2:
		return val{}, false
	}
	m.state[d.id] = 2
	if d.broken || d.node == nil {
		return val{}, false
	}
	saved := m.frame
	m.frame = nil
	v, ok := d.node.eval(m)
	m.frame = saved
	if !ok {
		return val{}, false
	}
	m.vals[d.id], m.state[d.id] = v, 1
	return v, true
}

// overlaid gives the value of a definition on a machine that stands on another.
func (m *machine) overlaid(d *def) (val, bool) {
	if m.given != nil {
		if o, ok := m.given[d.id]; ok {
			return o.v, o.ok
		}
	}
	if m.dirty == nil || m.dirty[d.id] == 0 {
		v, ok := m.base.value(d)
		if !m.grads {
			v.g = nil // it would only be carried along
		}
		return v, ok
	}
	i := m.dirty[d.id] - 1
	if o := &m.over[i]; o.done {
		return o.v, o.ok
	}
	if d.broken || d.node == nil {
		return val{}, false
	}
	saved := m.frame
	m.frame = nil
	v, ok := d.node.eval(m)
	m.frame = saved
	m.over[i] = overVal{v, ok, true}
	return v, ok
}

// input gives the value of a literal that has a spread.
func (m *machine) input(d *def) (val, bool) {
	v := val{n: d.spread.nominal}
	if x, ok := m.set[d]; ok {
		v.n = x
	}
	if m.grads && d.input >= 0 {
		v.g = []term{{d.input, 1}}
	}
	return v, true
}

// fail reports an error that only the numbers show.
func (m *machine) fail(pos diag.Span, code, format string, args ...any) (val, bool) {
	if !m.quiet {
		m.errs.Add(pos, code, format, args...)
	}
	return val{}, false
}

func (m *machine) step(pos diag.Span) bool { return m.steps(1, pos) }

func (m *machine) steps(n int, pos diag.Span) bool {
	m.left -= n
	if m.left >= 0 {
		return true
	}
	if !m.spent {
		m.spent = true
		m.failHint(pos, "shorten its lists, or take fewer steps", "too-much", "this needs more than %d operations", maxSteps)
	}
	return false
}

// sound refuses numbers that are none.
func (m *machine) sound(pos diag.Span, v val, ok bool) (val, bool) {
	if !ok {
		return val{}, false
	}
	// Far below the greatest number, so that no unit it is shown in overflows.
	bad := func(x float64) bool { return !(math.Abs(x) < 1e280) }
	if v.o == nil {
		if bad(v.n) {
			return m.fail(pos, "overflow", "the result is too large or no number")
		}
		if !m.steps(termCost*len(v.g), pos) {
			return val{}, false
		}
		for _, t := range v.g {
			if bad(t.d) {
				return m.fail(pos, "overflow", "the spread of the result is too large or no number")
			}
		}
	} else if l := v.numbers(); l != nil {
		if !m.steps(len(l.g)*len(l.v), pos) {
			return val{}, false
		}
		for _, x := range l.v {
			if bad(x) {
				return m.fail(pos, "overflow", "an element of the result is too large or no number")
			}
		}
	}
	return v, true
}

// clip is the source text of an expression, short enough for a message.
func clip(x syntax.Expr) string {
	s := []rune(x.Span().Text())
	if len(s) > 40 {
		return string(s[:39]) + "…"
	}
	return string(s)
}

// short is a value in SI for a message about the numbers.
func short(v val) string {
	if v.isNum() {
		return fmt.Sprintf("%.6g", v.n)
	}
	return "a list"
}

// plainText joins a number and a unit with an ordinary space, for messages and
// the command line.
func plainText(number string, u unit.Unit) string {
	if u.Symbol == "" {
		return number
	}
	if !unit.NeedsSpace(u) {
		return number + u.Symbol
	}
	return number + " " + u.Symbol
}
