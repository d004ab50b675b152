package calc

import (
	"sort"
	"strings"

	"workings/calc/diag"
	"workings/calc/syntax"
)

// A def is one definition of the program.
type def struct {
	id    int
	fig   *Figure // what is known before anything runs; copied into each result
	stmt  *syntax.Def
	fn    *syntax.FuncDef
	refs  []*def  // what its line names, in order of first mention
	input int32   // index among the inputs with a spread, -1 if it has none
	from  []int32 // the inputs with a spread that it depends on, sorted; itself too

	state   int // of the walk in order.go
	typ     Type
	node    node
	insts   map[string]*instance // of a function: one for each list of argument types
	spread  *spreadIn
	broken  bool // an error has been reported on its line or on one it needs
	inCycle bool
}

func (d *def) name() string { return d.fig.Name }

// expr is what the line computes.
func (d *def) expr() syntax.Expr {
	if d.fn != nil {
		return d.fn.X
	}
	return d.stmt.X
}

// scope is where names are looked up.
type scope struct {
	block  string
	locals []syntax.Ident // parameters of the function whose body this is
}

func fullName(block, local string) string {
	if block == "" {
		return local
	}
	return block + "." + local
}

// declare enters every definition under its name and reports doubles.
func (p *Program) declare(in Input) {
	lines := 0
	for _, b := range in.Blocks {
		if b.Sheet != nil {
			lines += len(b.Sheet.Stmts)
		}
	}
	p.byName = make(map[string]*def, lines)
	p.refs = make(map[syntax.Expr]ref, 2*lines)
	p.defs = make([]*def, 0, lines)
	defs, figures := make([]def, lines), make([]Figure, lines)
	fresh := func() *def { // of the lines to come
		d := &defs[0]
		d.fig, d.input = &figures[0], -1
		defs, figures = defs[1:], figures[1:]
		return d
	}
	p.blocks = map[string][]*def{}
	where := map[string]diag.Span{}
	for _, b := range in.Blocks {
		if _, ok := p.blocks[b.Name]; !ok {
			p.blocks[b.Name] = nil
			where[b.Name] = b.Pos
		}
		if b.Sheet == nil {
			continue
		}
		for _, s := range b.Sheet.Stmts {
			switch s := s.(type) {
			case *syntax.Def:
				d := fresh()
				d.stmt = s
				*d.fig = Figure{Local: s.Name.Name, Caption: s.Caption, Def: s, Pos: s.Name.Pos}
				if s.From != nil {
					d.fig.From = s.From.Value
				}
				if s.Because != nil {
					d.fig.Because = s.Because.Value
				}
				d.fig.Fixed = isLiteral(s.X)
				d.fig.Parameter = d.fig.Fixed && b.Name == ""
				p.enter(b.Name, d)
			case *syntax.FuncDef:
				d := fresh()
				d.fn, d.insts = s, map[string]*instance{}
				*d.fig = Figure{Local: s.Name.Name, Caption: s.Caption, Func: s, Pos: s.Name.Pos}
				if s.From != nil {
					d.fig.From = s.From.Value
				}
				if s.Name.Name == "material" || builtinByName[s.Name.Name] != nil || p.model(s.Name.Name) != nil {
					p.errs.Add(s.Name.Pos, "duplicate-name", "%s is a function of the language already", s.Name.Name).
						Hint = "choose another name"
				}
				p.enter(b.Name, d)
			case *syntax.Limit:
				p.limits = append(p.limits, &limit{stmt: s, block: b.Name})
			case *syntax.CrossCheck:
				p.crosschecks = append(p.crosschecks, &crosscheck{stmt: s, block: b.Name})
			}
		}
	}
	for _, name := range sortedNames(p.blocks) {
		if name == "" {
			continue
		}
		if d := p.byName[name]; d != nil {
			e := p.errs.Add(where[name], "duplicate-name", "the block %s has the name of a figure on the design sheet", name)
			e.Also = []diag.Note{{Span: d.fig.Pos, Msg: "the figure is here"}}
			e.Hint = "rename one of them, so that " + name + ".x means one thing"
		}
	}
}

func (p *Program) enter(block string, d *def) {
	d.fig.Block = block
	d.fig.Name = fullName(block, d.fig.Local)
	d.id = len(p.defs)
	if _, ok := constants[d.fig.Local]; ok {
		p.errs.Add(d.fig.Pos, "duplicate-name", "%s is a constant of the language already", d.fig.Local).
			Hint = "choose another name"
		return
	}
	if old := p.byName[d.fig.Name]; old != nil {
		e := p.errs.Add(d.fig.Pos, "duplicate-name", "%s is defined twice", d.fig.Name)
		e.Also = []diag.Note{{Span: old.fig.Pos, Msg: "it is defined here first"}}
		e.Hint = "rename or remove one of the two"
		return
	}
	p.byName[d.fig.Name] = d
	p.defs = append(p.defs, d)
	p.blocks[block] = append(p.blocks[block], d)
}

// isLiteral reports whether an expression is a value and nothing computed: a
// number with its unit (and sign), a text, true or false, a table.
func isLiteral(x syntax.Expr) bool {
	switch x := unparen(x).(type) {
	case *syntax.Number, *syntax.String, *syntax.Bool, *syntax.Table:
		return true
	case *syntax.Unary:
		_, ok := unparen(x.X).(*syntax.Number)
		return ok && (x.Op == syntax.OpNeg || x.Op == syntax.OpPos)
	case *syntax.Convert:
		return isLiteral(x.X)
	}
	return false
}

// find looks a bare name up: in its own block, then on the design sheet.
func (p *Program) find(sc scope, name string) *def {
	if sc.block != "" {
		if d := p.byName[fullName(sc.block, name)]; d != nil {
			return d
		}
	}
	return p.byName[name]
}

// target finds what a name or a chain of fields refers to: the definition, and
// the fields that remain to be taken of its value. ok is false if the head is
// neither a definition nor a block, or the block has no such figure.
func (p *Program) target(sc scope, x syntax.Expr) (d *def, rest []syntax.Ident, ok bool) {
	head, fields := chain(x)
	if head == nil {
		return nil, nil, false
	}
	for _, l := range sc.locals {
		if l.Name == head.Name {
			return nil, nil, false
		}
	}
	if d := p.find(sc, head.Name); d != nil {
		return d, fields, true
	}
	if _, isBlock := p.blocks[head.Name]; isBlock && head.Name != "" && len(fields) > 0 {
		if d := p.byName[fullName(head.Name, fields[0].Name)]; d != nil {
			return d, fields[1:], true
		}
	}
	return nil, nil, false
}

// chain splits a.b.c into its head name and fields; head is nil if x is something else.
func chain(x syntax.Expr) (head *syntax.Name, fields []syntax.Ident) {
	switch x := x.(type) {
	case *syntax.Name:
		return x, nil
	case *syntax.Field:
		head, fields = chain(x.X)
		return head, append(fields, x.Name)
	}
	return nil, nil
}

// resolve walks an expression and gives every definition it names, once, in
// the order of first mention. Unknown names are reported here, once for each
// place, whether or not the expression is ever checked or evaluated.
func (p *Program) resolve(sc scope, x syntax.Expr, into *[]*def) (ok bool) {
	ok = true
	add := func(d *def) {
		for _, e := range *into {
			if e == d {
				return
			}
		}
		*into = append(*into, d)
	}
	var walk func(x syntax.Expr)
	walk = func(x syntax.Expr) {
		switch x := x.(type) {
		case nil:
		case *syntax.Name, *syntax.Field:
			head, fields := chain(x)
			if head == nil {
				walk(x.(*syntax.Field).X)
				return
			}
			for _, l := range sc.locals {
				if l.Name == head.Name {
					return
				}
			}
			if d, rest, found := p.target(sc, x); found {
				name := d.name()
				for _, f := range rest {
					name += "." + f.Name
				}
				p.refs[x] = ref{d, name}
				add(d)
				return
			}
			if _, isConst := constants[head.Name]; isConst {
				return
			}
			ok = false
			p.unknown(sc, head, fields)
		case *syntax.Call:
			p.resolveCall(sc, x, add, &ok)
			for _, a := range x.Args {
				walk(a.X)
			}
		case *syntax.Unary:
			walk(x.X)
		case *syntax.Binary:
			walk(x.X)
			walk(x.Y)
		case *syntax.Convert:
			walk(x.X)
		case *syntax.If:
			walk(x.Cond)
			walk(x.Then)
			walk(x.Else)
		case *syntax.ListExpr:
			for _, it := range x.Items {
				walk(it)
			}
		case *syntax.Paren:
			walk(x.X)
		}
	}
	walk(x)
	return ok
}

// resolveCall finds the function of a call.
func (p *Program) resolveCall(sc scope, x *syntax.Call, add func(*def), ok *bool) {
	head, fields := chain(x.Fun)
	if head == nil {
		*ok = false
		p.errs.Add(x.Fun.Span(), "not-a-function", "only a named function can be called")
		return
	}
	if len(fields) == 0 {
		switch {
		case head.Name == "material":
			p.hideMaterial(x)
			return
		case head.Name == "readings":
			p.hideReadings(sc, x)
			return
		case builtinByName[head.Name] != nil || p.model(head.Name) != nil:
			return
		}
	}
	if d, rest, found := p.target(sc, x.Fun); found && len(rest) == 0 {
		if d.fn == nil {
			*ok = false
			e := p.errs.Add(x.Fun.Span(), "not-a-function", "%s is no function", d.name())
			e.Hint = "for a product write " + d.fig.Local + " * (…)"
			e.Also = []diag.Note{{Span: d.fig.Pos, Msg: "it is defined here"}}
			return
		}
		p.refs[x.Fun] = ref{d, d.name()}
		add(d)
		return
	}
	*ok = false
	if p.leftOut(sc, head, fields) {
		return
	}
	name := x.Fun.Span().Text()
	e := p.errs.Add(x.Fun.Span(), "unknown-function", "there is no function or model called %s", name)
	if !p.mayGuess() {
		return
	}
	var cands []string
	for _, b := range builtins {
		cands = append(cands, b.name)
	}
	for i := range p.library {
		cands = append(cands, p.library[i].Name)
	}
	for _, d := range p.defs {
		if d.fn != nil {
			cands = append(cands, p.callName(sc, d))
		}
	}
	sort.Strings(cands)
	if n := diag.Nearest(head.Name, cands); n != "" {
		e.Hint = "did you mean " + n + "?"
	}
}

// mayGuess reports whether what was meant by a wrong name may be looked for. It
// is among all names each time, and nobody reads the guesses of thousands.
func (p *Program) mayGuess() bool {
	const most = 200
	p.guesses++
	return p.guesses <= most
}

// callName is how a definition is written from a scope.
func (p *Program) callName(sc scope, d *def) string {
	if p.find(sc, d.fig.Local) == d {
		return d.fig.Local
	}
	return d.name()
}

// unknown reports a name that stands for nothing.
func (p *Program) unknown(sc scope, head *syntax.Name, fields []syntax.Ident) {
	if defs, isBlock := p.blocks[head.Name]; isBlock && head.Name != "" {
		if len(fields) == 0 {
			p.errs.Add(head.Pos, "unknown-name", "%s is a block, not a figure", head.Name).
				Hint = "name one of its figures: " + examples(defs)
			return
		}
		if p.leftOut(sc, head, fields) {
			return
		}
		e := p.errs.Add(fields[0].Pos, "unknown-name", "the block %s has no figure %s", head.Name, fields[0].Name)
		if !p.mayGuess() {
			return
		}
		var cands []string
		for _, d := range defs {
			cands = append(cands, d.fig.Local)
		}
		sort.Strings(cands)
		if n := diag.Nearest(fields[0].Name, cands); n != "" {
			e.Hint = "did you mean " + head.Name + "." + n + "?"
		} else {
			e.Hint = "it has " + examples(defs)
		}
		return
	}
	if p.leftOut(sc, head, fields) {
		return
	}
	e := p.errs.Add(head.Pos, "unknown-name", "there is nothing called %s", head.Name)
	if !p.mayGuess() {
		return
	}
	var cands []string
	seen := map[string]bool{}
	for _, d := range p.defs {
		n := p.callName(sc, d)
		if !seen[n] {
			seen[n] = true
			cands = append(cands, n)
		}
	}
	for _, l := range sc.locals {
		cands = append(cands, l.Name)
	}
	for b := range p.blocks {
		if b != "" && len(fields) > 0 {
			cands = append(cands, b)
		}
	}
	sort.Strings(cands)
	// The same local name in another block is the likeliest slip.
	for _, c := range cands {
		if strings.HasSuffix(c, "."+head.Name) {
			e.Hint = "did you mean " + c + "?"
			return
		}
	}
	if n := diag.Nearest(head.Name, cands); n != "" {
		e.Hint = "did you mean " + n + "?"
	} else if u, ok := parsedUnit(head.Name); ok && u.Symbol != "" {
		e.Hint = head.Name + " is a unit: it follows a number, as in 1 " + head.Name
	} else if len(fields) > 0 {
		e.Hint = "in front of a point stands a block, a record or a table"
	} else {
		e.Hint = "a line " + head.Name + " = … defines it, here or on the design sheet; a figure of another block is written block." + head.Name
	}
}

// leftOut reports whether a name is that of a line which the parser left out
// for a mistake that it has reported.
func (p *Program) leftOut(sc scope, head *syntax.Name, fields []syntax.Ident) bool {
	for _, b := range p.in.Blocks {
		if b.Sheet == nil {
			continue
		}
		for _, id := range b.Sheet.Broken {
			switch {
			case (b.Name == sc.block || b.Name == "") && id.Name == head.Name,
				b.Name == head.Name && len(fields) > 0 && id.Name == fields[0].Name:
				return true
			}
		}
	}
	return false
}

func examples(defs []*def) string {
	var names []string
	for i, d := range defs {
		if i == 4 {
			names = append(names, "…")
			break
		}
		names = append(names, d.name())
	}
	if len(names) == 0 {
		return "none yet"
	}
	return strings.Join(names, ", ")
}
