// Package calc computes the figures of a release: it checks names and
// dimensions of the design sheet and the calculation blocks, puts their lines
// in order, and evaluates them with their spreads.
package calc

import (
	"sort"
	"sync"

	"workings/calc/diag"
	"workings/calc/model"
	"workings/calc/syntax"
	"workings/calc/unit"
)

// A Program is a checked release, ready to run.
type Program struct {
	in        Input
	library   []model.Spec
	defs      []*def // in the order of their lines
	order     []*def // in the order of computation
	byName    map[string]*def
	blocks    map[string][]*def
	refs      map[syntax.Expr]ref // what a name, a chain of fields or a called function refers to
	tables    map[string]*tableFile
	inputs    []*def          // literals with a spread; their gradients count by this index
	materials map[string]*def // inputs behind the properties of materials
	readings  map[*table]*readings
	hidden    map[*syntax.Call][]*def    // inputs behind a call: properties of a material, rows of readings
	places    map[*syntax.Call]unit.Unit // unit of the places of a lookup, for messages
	hints     sync.Map                   // units of products that were asked for
	errs      diag.List
	guesses   int // of what a wrong name was meant to be

	indexNodes sync.Once // fills nodes
	nodes      map[syntax.Expr]node
	indexUsers sync.Once // fills users and direct
	users      [][]*def  // by definition: what names it
	direct     [][]*def  // by input: what calls the material or readings it stands behind

	exprs       []*expr
	limits      []*limit
	crosschecks []*crosscheck
}

// A ref is a definition and the full name of the figure that is meant: itself,
// or a field of it.
type ref struct {
	d    *def
	name string
}

// An expr is a checked expression that stands outside the definitions.
type expr struct {
	src  Expr
	node node
	typ  Type
	refs []*def
	from []int32 // the inputs with a spread that it depends on, sorted
	step float64 // SI, of a rounding to a step
	own  bool    // a spread is written at the place itself, and is sound

	sides *comparison // of a comparison: its sides
}

type limit struct {
	stmt  *syntax.Limit
	block string
	cond  *expr
	parts []comparison // the comparisons that must all hold, where the condition is nothing else
	text  []messagePart
}

// A comparison is one `x <= y` of a limit.
type comparison struct {
	op          syntax.Op
	left, right *expr
	whole       *expr // the comparison itself
}

type messagePart struct {
	text string
	expr *expr
}

type crosscheck struct {
	stmt          *syntax.CrossCheck
	block         string
	first, second *expr
	within        float64
}

// Compile checks names, dimensions and circles of everything in the input. It
// reports every mistake; the program can be run all the same, and what depends
// on a mistake is not available.
func Compile(in Input) (p *Program, list diag.List) {
	p = &Program{
		in: in, library: model.Library(),
		tables: map[string]*tableFile{},
	}
	defer p.recovered(&list)
	p.declare(in)
	p.override(in.Set)
	for _, d := range p.defs {
		sc := scope{block: d.fig.Block}
		if d.fn != nil {
			sc.locals = d.fn.Params
		}
		if !p.resolve(sc, d.expr(), &d.refs) {
			d.broken = true
		}
	}
	p.sortDefs()
	for _, d := range p.order {
		p.checkDef(d)
		d.from = p.inputsOf(d.refs, d.expr())
		if d.input >= 0 {
			d.from = union(d.from, []int32{d.input})
		}
	}
	for i := range in.Exprs {
		p.exprs = append(p.exprs, p.newExpr(in.Exprs[i]))
	}
	for _, l := range p.limits {
		p.checkLimit(l)
	}
	for _, c := range p.crosschecks {
		p.checkCross(c)
	}
	return p, p.errs.Sorted()
}

// recovered reports a fault of ours as an error, so that no input ends the
// program that called.
func (p *Program) recovered(list *diag.List) {
	if r := recover(); r != nil {
		*list = append(*list, p.errs...)
		list.Add(p.anywhere(), "internal-error", "internal error: %v", r).Hint = "this is a fault of the program; report it with the sheet that shows it"
	}
}

// anywhere is a place in the input, for a report that has none of its own.
func (p *Program) anywhere() diag.Span {
	for _, b := range p.in.Blocks {
		if b.Sheet != nil {
			return diag.Span{File: b.Sheet.File}
		}
	}
	return diag.Span{}
}

// override puts other values in the place of parameters.
func (p *Program) override(set map[string]syntax.Expr) {
	names := make([]string, 0, len(set))
	for n := range set {
		names = append(names, n)
	}
	sort.Strings(names)
	for _, n := range names {
		d := p.byName[n]
		if d == nil || !d.fig.Parameter {
			e := p.errs.Add(set[n].Span(), "not-a-parameter", "%s is no parameter of the design sheet", n)
			var cands []string
			for _, d := range p.defs {
				if d.fig.Parameter {
					cands = append(cands, d.name())
				}
			}
			if near := nearest(n, cands); near != "" {
				e.Hint = "did you mean " + near + "?"
			} else {
				e.Hint = "only a value given by a literal on the design sheet can be set"
			}
			continue
		}
		changed := *d.stmt
		changed.X = set[n]
		changed.Spread.Range = nil // the range was about the old value
		d.stmt = &changed
		d.fig.Def = &changed
	}
}

// checkDef checks one definition; everything it names has been checked.
func (p *Program) checkDef(d *def) {
	if d.broken || d.inCycle || d.fn != nil {
		return
	}
	for _, r := range d.refs {
		if r.fn == nil && r.typ.Kind == Invalid {
			d.broken = true
			return
		}
	}
	c := &checker{p: p, sc: scope{block: d.fig.Block}}
	d.node, d.typ = c.expr(d.stmt.X)
	if d.typ.Kind == Invalid {
		d.broken = true
		return
	}
	sp := d.stmt.Spread
	if d.fig.Fixed && d.typ.Kind == Quantity {
		v, ok := d.node.eval(newMachine(p))
		if !ok {
			d.broken, d.typ = true, invalid
			return
		}
		if sp.Tol == nil && sp.Unc == nil && sp.Range == nil {
			if d.fig.Parameter {
				d.spread = &spreadIn{nominal: v.n}
				d.node = &inputNode{d}
			}
			return
		}
		d.spread = c.spreadOf(sp, d.stmt.X, d.typ, v.n)
		if d.spread == nil {
			d.broken, d.typ = true, invalid
			return
		}
		d.input = int32(len(p.inputs))
		p.inputs = append(p.inputs, d)
		d.node = &inputNode{d}
	} else if sp.Tol != nil || sp.Unc != nil || sp.Range != nil {
		p.errs.Add(d.stmt.X.Span(), "spread-of-computed", "a spread can only be stated of a value, not of something computed").
			Hint = "make it a factor of its own, as in: shape = 1 uncertain 10 %"
		d.broken, d.typ = true, invalid
	}
}

// newExpr checks an expression that stands outside the definitions.
func (p *Program) newExpr(src Expr) *expr {
	e := &expr{src: src}
	sc := scope{block: src.Scope}
	if src.X == nil || !p.resolve(sc, src.X, &e.refs) {
		return e
	}
	for _, r := range e.refs {
		if r.fn == nil && r.typ.Kind == Invalid {
			return e
		}
	}
	c := &checker{p: p, sc: sc}
	e.node, e.typ = c.expr(src.X)
	e.from = p.inputsOf(e.refs, src.X)
	if e.typ.Kind == Invalid {
		e.node = nil
		return e
	}
	if !p.wanted(e) {
		e.node, e.typ = nil, invalid
		return e
	}
	if src.Round.Step != nil {
		n, t := c.expr(src.Round.Step)
		switch {
		case t.Kind == Invalid:
		case t.Kind != Quantity || t.Dim != e.typ.Dim || e.typ.Kind != Quantity || t.Point:
			p.errs.Add(src.Round.Step.Span(), "unit-mismatch", "%s cannot be rounded to %s", operand(src.X, e.typ), operand(src.Round.Step, t))
		default:
			v, ok := n.eval(newMachine(p))
			if !ok || v.n <= 0 {
				p.errs.Add(src.Round.Step.Span(), "domain", "a step is greater than 0")
			} else {
				e.step = v.n
			}
		}
	}
	if own := src.Own; own.Tol != nil || own.Range != nil {
		_, e.own = c.ownSpread(e, 1) // the value is not known yet; what is wrong does not depend on it
	}
	if src.Round.Kind != syntax.RoundAuto && e.typ.Kind != Quantity {
		p.errs.Add(src.Round.Pos, "wrong-kind", "only a number can be rounded, %s is %s", clip(src.X), e.typ)
	}
	return e
}

// wanted checks that an expression gives what its place asks for.
func (p *Program) wanted(e *expr) bool {
	x, t := e.src.X, e.typ
	switch e.src.Want {
	case WantShown:
		if t.Kind == Quantity || t.Kind == Bool || t.Kind == Text {
			return true
		}
		d := p.errs.Add(x.Span(), "wrong-kind", "%s is %s and cannot stand in a line of text", clip(x), t)
		if len(t.Fields) > 0 {
			d.Hint = "show one of its values, such as " + clip(x) + "." + t.Fields[0].Name
		} else if t.Kind == List {
			d.Hint = "show its sum(…), min(…), max(…) or mean(…)"
		}
		return false
	case WantNumber:
		if t.Kind != Quantity {
			p.errs.Add(x.Span(), "wrong-kind", "a number is wanted here, got %s", operand(x, t))
			return false
		}
	case WantCount:
		if !t.plain() {
			p.errs.Add(x.Span(), "wrong-kind", "a number of pieces is wanted here, got %s", operand(x, t)).
				Hint = "a part that is used by length is marked so in the parts list"
			return false
		}
	case WantSeries:
		if !t.isNumeric() {
			p.errs.Add(x.Span(), "wrong-kind", "a plot wants numbers, got %s", operand(x, t))
			return false
		}
	case WantGrid:
		if t.Kind != Grid {
			p.errs.Add(x.Span(), "wrong-kind", "a map wants a field over a rectangle, got %s", operand(x, t)).
				Hint = "such as the field of lamp_field"
			return false
		}
	case WantLength, WantLengths, WantAngles, WantTimes:
		return p.wantedPlace(e)
	}
	return true
}

func (p *Program) checkLimit(l *limit) {
	if l.stmt.Message != nil {
		for _, part := range l.stmt.Message.Parts {
			mp := messagePart{text: part.Text}
			if part.Inline != nil {
				mp.expr = p.newExpr(Expr{Scope: l.block, X: part.Inline.X, Round: part.Inline.Round, Spread: part.Inline.Spread})
			}
			l.text = append(l.text, mp)
		}
	}
	l.cond = &expr{src: Expr{Scope: l.block, X: l.stmt.Cond}}
	sc := scope{block: l.block}
	if !p.resolve(sc, l.stmt.Cond, &l.cond.refs) {
		return
	}
	for _, r := range l.cond.refs {
		if r.fn == nil && r.typ.Kind == Invalid {
			return
		}
	}
	c := &checker{p: p, sc: sc}
	n, t := c.expr(l.stmt.Cond)
	if t.Kind == Invalid {
		return
	}
	if t.Kind != Bool {
		p.errs.Add(l.stmt.Cond.Span(), "wrong-kind", "a limit wants a condition, got %s", operand(l.stmt.Cond, t)).
			Hint = "such as " + clip(l.stmt.Cond) + " <= 10 " + t.Unit.Symbol
		return
	}
	l.cond.node, l.cond.typ = n, t
	l.cond.from = p.inputsOf(l.cond.refs, l.stmt.Cond)
	l.parts = p.comparisons(sc, l.stmt.Cond)
}

// comparisons takes a condition apart where it is one comparison or several
// joined by `and`; nil if it is something else.
func (p *Program) comparisons(sc scope, x syntax.Expr) []comparison {
	b, ok := unparen(x).(*syntax.Binary)
	if !ok {
		return nil
	}
	switch b.Op {
	case syntax.OpAnd:
		l, r := p.comparisons(sc, b.X), p.comparisons(sc, b.Y)
		if l == nil || r == nil {
			return nil
		}
		return append(l, r...)
	case syntax.OpLT, syntax.OpLE, syntax.OpGT, syntax.OpGE:
		side := func(x syntax.Expr) *expr {
			e := &expr{src: Expr{Scope: sc.block, X: x}}
			before := len(p.errs)
			p.resolve(sc, x, &e.refs)
			c := &checker{p: p, sc: sc}
			e.node, e.typ = c.expr(x)
			e.from = p.inputsOf(e.refs, x)
			p.errs = p.errs[:before] // the condition has been checked as a whole
			return e
		}
		l, r := side(b.X), side(b.Y)
		if l.typ.Kind != Quantity || r.typ.Kind != Quantity {
			return nil
		}
		readAlike(l, r)
		readAlike(r, l)
		whole := side(b)
		whole.sides = &comparison{op: b.Op, left: l, right: r}
		return []comparison{{b.Op, l, r, whole}}
	}
	return nil
}

// readAlike has a plain ratio that is held against a percentage read as one.
func readAlike(x, held *expr) {
	if x.typ.Unit.IsNone() {
		x.typ.Unit = held.typ.Unit
	}
}

func (p *Program) checkCross(k *crosscheck) {
	k.first = p.newExpr(Expr{Scope: k.block, X: k.stmt.Target, Want: WantNumber})
	k.second = p.newExpr(Expr{Scope: k.block, X: k.stmt.X, Want: WantNumber})
	if k.first.node == nil || k.second.node == nil {
		k.first.node = nil
		return
	}
	a, b := k.first.typ, k.second.typ
	if a.Dim != b.Dim || a.Point != b.Point {
		p.errs.Add(k.stmt.X.Span(), "unit-mismatch", "a cross-check compares values of one kind: %s and %s", operand(k.stmt.Target, a), operand(k.stmt.X, b))
		k.first.node = nil
		return
	}
	w, ok := unparen(k.stmt.Within).(*syntax.Number)
	if !ok || w.Unit.Dim != plainNumber.Dim || w.V < 0 {
		p.errs.Add(k.stmt.Within.Span(), "wrong-kind", "within wants a share, as in within 20 %%")
		k.first.node = nil
		return
	}
	k.within = w.Unit.ToSI(w.V)
}

func (p *Program) model(name string) *model.Spec {
	i := sort.Search(len(p.library), func(i int) bool { return p.library[i].Name >= name })
	if i < len(p.library) && p.library[i].Name == name {
		return &p.library[i]
	}
	return nil
}
