package calc

import (
	"cmp"
	"encoding/binary"
	"math"
	"slices"
	"strings"

	"workings/calc/diag"
	"workings/calc/syntax"
	"workings/calc/unit"
)

// A run is a program being run.
type run struct {
	prog   *Program
	base   *machine
	dirty  map[string]marked // definitions that depend on a set of inputs
	faulty map[*def]bool     // their spread cannot be known, as has been reported
	memo   *Memo
	tape   *taper              // made when the first worst case is asked for
	points map[string]*machine // overlays that have been evaluated, by their settings
	res    *Result
}

// Run computes everything. The list holds the errors that only the numbers
// show (division by zero, a root of a negative number) and the findings.
func (p *Program) Run() (res *Result, list diag.List) {
	res = &Result{prog: p, base: newMachine(p), byName: map[string]*Figure{}} // what is given after a fault of ours
	res.exprs = make([]*Shown, len(p.exprs))
	for i, e := range p.exprs {
		res.exprs[i] = &Shown{Expr: &e.src}
	}
	defer p.recovered(&list)
	p.in.Memo.next()
	memo := p.in.Memo
	if memo == nil {
		memo = new(Memo)
		memo.next()
	}
	r := &run{prog: p, dirty: map[string]marked{}, faulty: map[*def]bool{}, points: map[string]*machine{}, memo: memo}
	r.base = newMachine(p)
	r.base.kept = memo
	r.base.grads = len(p.inputs) > 0
	r.base.calls = map[*syntax.Call]*ModelCall{}
	for _, d := range p.order {
		if d.fn == nil {
			r.base.value(d)
		}
	}
	r.res = &Result{prog: p, base: r.base, byName: make(map[string]*Figure, len(p.defs))}
	r.figures()
	for _, e := range p.exprs {
		r.res.exprs = append(r.res.exprs, r.shown(e))
	}
	for i, s := range r.res.exprs {
		for _, f := range s.Uses {
			f.Shown = append(f.Shown, i)
		}
	}
	list = r.limits()
	r.crosschecks(&list)
	for _, c := range r.base.calls { // any order: the list is sorted below, and findings that tie there say the same
		outsideFindings(&list, c)
	}
	list = append(list, r.base.errs...)
	r.base.errs = nil
	return r.res, list.Sorted()
}

// overlay gives a machine with inputs set; it computes only what depends on them.
func (r *run) overlay(set map[*def]float64) *machine {
	deps := inputsOf(set)
	var which, where []byte
	for _, d := range deps {
		which = binary.LittleEndian.AppendUint32(which, uint32(d.input))
		where = binary.LittleEndian.AppendUint32(where, uint32(d.input))
		where = binary.LittleEndian.AppendUint64(where, math.Float64bits(set[d]))
	}
	if m := r.points[string(where)]; m != nil {
		return m
	}
	dirty, ok := r.dirty[string(which)]
	if !ok {
		dirty = r.prog.dependents(deps)
		r.dirty[string(which)] = dirty
	}
	m := newOverlay(r.base, dirty, set)
	if len(r.points) < 4096 {
		r.points[string(where)] = m
	}
	return m
}

// inputsOf gives the inputs that are set, in the order in which they are numbered.
func inputsOf(set map[*def]float64) []*def {
	deps := make([]*def, 0, len(set))
	for d := range set { // any order: sorted by the number of the input, of which each has its own
		deps = append(deps, d)
	}
	slices.SortFunc(deps, func(a, b *def) int { return cmp.Compare(a.input, b.input) })
	return deps
}

// newOverlay gives a machine on top of one that has been run to the end.
func newOverlay(base *machine, dirty marked, set map[*def]float64) *machine {
	return &machine{p: base.p, base: base, dirty: dirty.place, over: make([]overVal, dirty.n), set: set, left: maxSteps, quiet: true, kept: base.kept}
}

// figures makes the figures of all definitions.
func (r *run) figures() {
	p := r.prog
	slab := make([]Figure, len(p.defs))
	r.res.byDef = make([]*Figure, len(p.defs))
	for i, d := range p.defs {
		f := &slab[i]
		r.res.byDef[d.id] = f
		*f = *d.fig
		f.Type = d.typ
		if d.fn != nil {
			f.Type = Type{Kind: Func}
		}
		r.add(f)
		if d.fn != nil || d.broken {
			continue
		}
		v, ok := r.base.value(d)
		if !ok {
			continue
		}
		fault := r.fill(f, v, d.from, func(m *machine) (val, bool) { return m.value(d) },
			func(t *taper) taped { return t.def(d) })
		r.fault(d, fault)
	}
	for _, d := range p.defs {
		f := r.res.byDef[d.id]
		f.Uses, f.Models = r.mentions(d.expr())
		for _, u := range f.Uses {
			u.UsedBy = append(u.UsedBy, f)
		}
	}
	list := make([]*Figure, 0, len(r.res.byName))
	for _, name := range sortedNames(r.res.byName) {
		list = append(list, r.res.byName[name])
	}
	byName := func(a, b *Figure) int { return strings.Compare(a.Name, b.Name) }
	r.res.figures = list
	for _, f := range list {
		slices.SortFunc(f.UsedBy, byName)
		if f.Parent != nil {
			f.Models = f.Parent.Models
		}
	}
}

func (r *run) add(f *Figure) { r.res.byName[f.Name] = f }

// fault reports what keeps the spread of a definition from being known, where
// it begins: what depends on it has the same fault and is silent.
func (r *run) fault(d *def, fault string) {
	for _, ref := range d.refs {
		if r.faulty[ref] {
			r.faulty[d] = true
			return
		}
	}
	if fault != "" {
		r.faulty[d] = true
		r.base.errs.Add(d.expr().Span(), "no-spread", "%s %s", d.name(), fault).
			Hint = "this lies within the stated ranges and tolerances: extend what it is computed from, or state narrower ones"
	}
}

// anyFaulty reports whether something has a fault that has been reported.
func (r *run) anyFaulty(refs []*def) bool {
	for _, d := range refs {
		if r.faulty[d] {
			return true
		}
	}
	return false
}

// fill gives a figure its value, unit and spread, and its fields figures of
// their own. fault says what keeps a spread from being known.
func (r *run) fill(f *Figure, v val, from []int32, get func(*machine) (val, bool), tape func(*taper) taped) (fault string) {
	f.Value = v.public()
	f.Unit = f.Type.Unit
	switch f.Type.Kind {
	case Quantity:
		if !f.Type.Chosen {
			f.Unit = unit.Sensible(f.Type.Unit, v.n)
		}
		f.Spread, fault = r.spread(v, from, quantified{
			func(m *machine) (float64, bool) {
				x, ok := get(m)
				return x.n, ok
			}, tape,
		})
	case List, Grid:
		if !f.Type.Chosen && !f.Type.Texts {
			if l := v.numbers(); l != nil && len(l.v) > 0 {
				m := 0.0
				for _, x := range l.v {
					m = math.Max(m, math.Abs(x))
				}
				f.Unit = unit.Sensible(f.Type.Unit, m)
			}
		}
	case Record:
		rec := v.o.(*record)
		for i, tf := range f.Type.Fields {
			name := tf.Name
			c := &Figure{
				Name: f.Name + "." + name, Block: f.Block, Local: f.Local + "." + name, Caption: tf.Doc,
				Type: tf.Type, Parent: f, Pos: f.Pos,
			}
			r.add(c)
			one := r.fill(c, rec.vals[i], from, func(m *machine) (val, bool) {
				x, ok := get(m)
				if !ok {
					return val{}, false
				}
				sub, isRec := x.o.(*record)
				if !isRec {
					return val{}, false
				}
				return sub.get(name)
			}, func(t *taper) taped { return t.field(tape(t), name) })
			if fault == "" {
				fault = one
			}
		}
	}
	return fault
}

// mentions gives the figures that an expression names, in the order of first
// mention, and the models it calls.
func (r *run) mentions(x syntax.Expr) (figs []*Figure, models []*ModelCall) {
	const few = 8 // that are looked through quickly, as most expressions name
	var seen map[*Figure]bool
	add := func(f *Figure) {
		switch {
		case f == nil, seen[f], seen == nil && slices.Contains(figs, f):
			return
		}
		figs = append(figs, f)
		if seen == nil && len(figs) > few {
			seen = map[*Figure]bool{}
			for _, f := range figs {
				seen[f] = true
			}
		}
		if seen != nil {
			seen[f] = true
		}
	}
	syntax.Walk(x, func(e syntax.Expr) bool {
		switch e := e.(type) {
		case *syntax.Name, *syntax.Field:
			if to, ok := r.prog.refs[e]; ok {
				f := r.res.figureAt(to)
				if f == nil { // a column of a table: the table is what is named
					f = r.res.byDef[to.d.id]
				}
				add(f)
				return false
			}
		case *syntax.Call:
			if to, ok := r.prog.refs[e.Fun]; ok {
				add(r.res.byDef[to.d.id])
			}
			if mc := r.base.calls[e]; mc != nil {
				models = append(models, mc)
			}
		}
		return true
	})
	return figs, models
}

// shown computes an expression that stands outside the definitions.
func (r *run) shown(e *expr) *Shown {
	s := &Shown{Expr: &e.src, Type: e.typ}
	var v val
	ok := false
	if e.node != nil {
		v, ok = e.node.eval(r.base)
	}
	if e.src.X != nil {
		s.Uses, s.Models = r.mentions(e.src.X) // the models it has called
		s.Figure = r.plainFigure(e.src.X)
	}
	if !ok {
		return s
	}
	s.Value = v.public()
	s.Unit = e.typ.Unit
	s.rangeOnly = !rangesStated(r.prog.ranged(e.from))
	var fault string
	s.Spread, fault = r.spread(v, e.from, quantified{
		func(m *machine) (float64, bool) {
			x, ok := e.node.eval(m)
			return x.n, ok
		}, e.tape,
	})
	if fault != "" && !r.anyFaulty(e.refs) {
		r.base.errs.Add(e.src.X.Span(), "no-spread", "%s %s", clip(e.src.X), fault).
			Hint = "this lies within the stated ranges and tolerances: extend what it is computed from, or state narrower ones"
	}
	written := ""
	switch {
	case s.Figure != nil && s.Figure.Fixed && s.Figure.Def != nil:
		written = asWritten(s.Figure.Def.X, s.Type.Unit)
		if d := r.prog.byName[s.Figure.Name]; d != nil && d.spread != nil && d.spread.stated {
			written = ""
		}
	case isLiteral(e.src.X):
		written = asWritten(e.src.X, s.Type.Unit)
	}
	show(s, e.src.Round, e.step, written)
	if s.Figure != nil && s.Figure.Def != nil && s.Plus != "" {
		if tol := s.Figure.Def.Spread.Tol; tol != nil { // the digits of a drawing stay as they were written
			diff := s.Unit
			if diff.Point {
				diff = kelvin
			}
			if w := asWritten(tol.Plus, diff); w != "" {
				s.Plus = w
			}
			if w := asWritten(tol.Minus, diff); w != "" && tol.Minus != nil {
				s.Minus = w
			} else if tol.Symmetric {
				s.Minus = s.Plus
			}
		}
	}
	r.own(e, s, v)
	return s
}

// shownOn computes an expression on a machine with other inputs, in a unit.
func (r *run) shownOn(m *machine, e *expr) *Shown {
	s := &Shown{Expr: &e.src, Type: e.typ}
	if e.src.X != nil {
		s.Uses, s.Models = r.mentions(e.src.X)
		s.Figure = r.plainFigure(e.src.X)
	}
	if e.node == nil {
		return s
	}
	v, ok := e.node.eval(m)
	if !ok {
		return s
	}
	s.Value, s.Unit = v.public(), e.typ.Unit
	written := ""
	if isLiteral(e.src.X) {
		written = asWritten(e.src.X, s.Unit)
	}
	show(s, e.src.Round, e.step, written)
	return s
}

// own puts the spread that is written at the place itself, a check's
// tolerance, in the place of the computed one. It has been found sound when
// the program was compiled.
func (r *run) own(e *expr, s *Shown, v val) {
	if !e.own || s.Number == "" {
		return
	}
	c := &checker{p: r.prog, sc: scope{block: e.src.Scope}}
	s.Spread, _ = c.ownSpread(e, v.n)
	s.Plus, s.Minus, s.Uncertain, s.Low, s.High = "", "", "", "", ""
	diff := s.Unit
	if diff.Point {
		diff = kelvin
	}
	text := func(x syntax.Expr, si float64) string {
		if w := asWritten(x, diff); w != "" {
			return w
		}
		return unit.Round(si/diff.Factor, unit.Rounding{})
	}
	if t := e.src.Own.Tol; t != nil {
		s.Plus = text(t.Plus, s.Spread.TolHi)
		s.Minus = s.Plus
		if !t.Symmetric {
			s.Minus = text(t.Minus, s.Spread.TolLo)
		}
	}
	if g := e.src.Own.Range; g != nil {
		s.Low = s.Number
		s.High = asWritten(g.High, s.Unit)
		if s.High == "" {
			s.High = unit.Round(s.Unit.FromSI(s.Spread.High), unit.Rounding{})
		}
		s.rangeOnly = true
	}
}

// plainFigure gives the figure of an expression that is nothing but its name.
func (r *run) plainFigure(x syntax.Expr) *Figure {
	switch x := unparen(x).(type) {
	case *syntax.Convert:
		return r.plainFigure(x.X)
	case *syntax.Name, *syntax.Field:
		if to, ok := r.prog.refs[x]; ok {
			return r.res.figureAt(to)
		}
	}
	return nil
}

// figureAt gives the figure that a name in an expression means; nil if it has none of its own.
func (r *Result) figureAt(to ref) *Figure {
	if to.d.id < len(r.byDef) && r.byDef[to.d.id].Name == to.name {
		return r.byDef[to.d.id]
	}
	return r.byName[to.name]
}

// Ref returns the figure that a name or field in an expression refers to, or nil.
func (r *Result) Ref(x syntax.Expr) *Figure {
	if to, ok := r.prog.refs[x]; ok {
		return r.figureAt(to)
	}
	return nil
}

// Call returns the call of a library model that a call expression makes, or nil.
func (r *Result) Call(x *syntax.Call) *ModelCall { return r.base.calls[x] }
