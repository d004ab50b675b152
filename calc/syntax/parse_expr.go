package syntax

import (
	"workings/calc/unit"
)

// enter counts one level of nesting; leave takes it back.
func (p *parser) enter() bool {
	if p.depth++; p.depth > maxDepth && !p.bad {
		p.fail(p.span(p.tok), CodeTooDeep, "nested more than %d deep", maxDepth).
			Hint = "give a part of the expression a name on a line of its own"
	}
	return !p.bad
}

func (p *parser) leave() { p.depth-- }

// node counts a node of the tree, which bounds the height of the tree as well.
func (p *parser) node() {
	if p.nodes++; p.nodes == maxNodes && !p.bad {
		p.fail(p.span(p.tok), CodeTooLong, "more than %d values and operators on one line", maxNodes).
			Hint = "put long lists of numbers into a table"
	}
}

// parseExpr parses an expression. After an error it returns nil or a part of
// one, and p.bad or p.broken is set.
func (p *parser) parseExpr() Expr {
	if !p.enter() {
		return nil
	}
	defer p.leave()
	if p.tok.kind == tIf {
		return p.parseIf()
	}
	return p.parseOr()
}

// parseIf parses `if c then a else b`.
func (p *parser) parseIf() Expr {
	start := p.tok
	p.node()
	p.next()
	x := &If{Cond: p.parseExpr()}
	if !p.accept(tThen) {
		p.noBranch(start, tThen)
		return nil
	}
	x.Then = p.parseExpr()
	if !p.accept(tElse) {
		p.noBranch(start, tElse)
		return nil
	}
	x.Else = p.parseExpr()
	x.Pos = p.since(start.start)
	return x
}

// binary parses the right side of an operator and makes the node.
func (p *parser) binary(op Op, x Expr, start int32, right func() Expr) Expr {
	p.node()
	t := p.tok
	p.next()
	b := p.pool.binaries.next()
	b.Op, b.X, b.OpPos = op, x, p.span(t)
	b.Y = right()
	b.Pos = p.since(start)
	return b
}

func (p *parser) parseOr() Expr {
	start := p.tok.start
	x := p.parseAnd()
	for p.tok.kind == tOr {
		x = p.binary(OpOr, x, start, p.parseAnd)
	}
	return x
}

func (p *parser) parseAnd() Expr {
	start := p.tok.start
	x := p.parseNot()
	for p.tok.kind == tAnd {
		x = p.binary(OpAnd, x, start, p.parseNot)
	}
	return x
}

func (p *parser) parseNot() Expr {
	if p.tok.kind != tNot {
		return p.parseCompare()
	}
	if !p.enter() {
		return nil
	}
	defer p.leave()
	start := p.tok.start
	p.node()
	p.next()
	x := &Unary{Op: OpNot, X: p.parseNot()}
	x.Pos = p.since(start)
	return x
}

// compareOp returns the comparison that a token stands for.
func compareOp(k kind) (Op, bool) {
	switch k {
	case tLT:
		return OpLT, true
	case tLE:
		return OpLE, true
	case tGT:
		return OpGT, true
	case tGE:
		return OpGE, true
	case tEQ:
		return OpEQ, true
	case tNE:
		return OpNE, true
	}
	return 0, false
}

func (p *parser) parseCompare() Expr {
	start := p.tok.start
	x := p.parseConvert()
	op, ok := compareOp(p.tok.kind)
	if !ok {
		return x
	}
	x = p.binary(op, x, start, p.parseConvert)
	if _, again := compareOp(p.tok.kind); again {
		p.chained(x.(*Binary))
	}
	return x
}

// parseConvert parses `x in unit`. It binds looser than a sum, so that a
// whole sum or product is converted, and tighter than a comparison.
func (p *parser) parseConvert() Expr {
	start := p.tok.start
	x := p.parseAdd()
	if p.tok.kind != tIn {
		return x
	}
	p.node()
	t := p.tok
	p.next()
	from := p.tok.start
	u, ok := p.parseUnit(t)
	if !ok {
		return x
	}
	c := &Convert{X: x, Unit: u, UnitPos: p.since(from), Pos: p.since(start)}
	switch p.tok.kind {
	case tPlus, tMinus, tMul, tDiv, tPow, tIn:
		p.afterConversion(c)
	}
	return c
}

func (p *parser) parseAdd() Expr {
	start := p.tok.start
	x := p.parseMul()
	for {
		op := OpAdd
		switch p.tok.kind {
		case tPlus:
		case tMinus:
			op = OpSub
		default:
			return x
		}
		if p.heads != headNone && p.depth == 1 && p.deviations(isLiteral(x)) > 0 {
			return x
		}
		x = p.binary(op, x, start, p.parseMul)
	}
}

func (p *parser) parseMul() Expr {
	start := p.tok.start
	x := p.parseUnary()
	for {
		op := OpMul
		switch p.tok.kind {
		case tMul:
		case tDiv:
			op = OpDiv
			p.checkFraction(x)
		default:
			return x
		}
		x = p.binary(op, x, start, p.parseUnary)
	}
}

// parseUnary parses signs, which bind looser than a power: -2^2 is -4.
//
// A minus before a point on a temperature scale belongs to the number: -5 °C
// is five degrees below zero, not the negative of 278.15 K.
func (p *parser) parseUnary() Expr {
	op := OpPos
	switch p.tok.kind {
	case tPlus:
	case tMinus:
		op = OpNeg
	default:
		return p.parsePow()
	}
	if !p.enter() {
		return nil
	}
	defer p.leave()
	start := p.tok.start
	p.node()
	p.next()
	x := p.parseUnary()
	if n, ok := x.(*Number); ok && op == OpNeg && n.Unit.Point && n.Text[0] != '-' {
		n.Text, n.V = "-"+n.Text, -n.V
		n.Pos = p.since(start)
		return n
	}
	return &Unary{Op: op, X: x, Pos: p.since(start)}
}

// parsePow parses powers; they bind to the right: 2^3^2 is 2^9.
func (p *parser) parsePow() Expr {
	start := p.tok.start
	x := p.parsePostfix()
	switch p.tok.kind {
	case tPow:
		if n, ok := x.(*Number); ok && !n.Unit.IsNone() {
			p.powerOfUnit(n)
			return x
		}
		return p.binary(OpPow, x, start, p.parseExponent)
	case tSquare, tCube:
		if !p.prev.kind.endsValue() || p.prev.kind == tNumber || p.prev.kind == tUnit || p.prev.kind == tString || p.prev.end != p.tok.start {
			p.unexpected("an operator")
			return x
		}
		p.node()
		t := p.tok
		text, v := "2", 2.0
		if t.kind == tCube {
			text, v = "3", 3
		}
		p.next()
		b := &Binary{Op: OpPow, X: x, OpPos: p.span(t), Pos: p.since(start)}
		b.Y = &Number{Text: text, V: v, Pos: p.span(t)}
		n := b.Y.(*Number)
		n.Unit = p.units.none()
		if k := p.tok.kind; k == tPow || k == tSquare || k == tCube {
			p.unexpected("an operator other than a power")
		}
		return b
	}
	return x
}

// parseExponent parses what stands behind ^: it may have signs.
func (p *parser) parseExponent() Expr {
	if !p.enter() {
		return nil
	}
	defer p.leave()
	op := OpPos
	switch p.tok.kind {
	case tPlus:
	case tMinus:
		op = OpNeg
	default:
		return p.parsePow()
	}
	start := p.tok.start
	p.node()
	p.next()
	x := p.parseExponent()
	return &Unary{Op: op, X: x, Pos: p.since(start)}
}

// parsePostfix parses calls and fields. Only what has a name can be called.
func (p *parser) parsePostfix() Expr {
	start := p.tok.start
	x := p.parsePrimary()
	for !p.bad {
		switch p.tok.kind {
		case tDot:
			if _, ok := x.(*Number); ok {
				return x // a number has no fields
			}
			p.node()
			p.next()
			id := p.expectName("a name behind the point")
			x = &Field{X: x, Name: id, Pos: p.since(start)}
		case tLParen:
			if !callable(x) {
				return x
			}
			x = p.parseCall(x, start)
		default:
			return x
		}
	}
	return x
}

func callable(x Expr) bool {
	if f, ok := x.(*Field); ok {
		x = f.X
	}
	_, ok := x.(*Name)
	return ok
}

// parseCall parses `(a, b)` or `(name: a, other: b)` behind what is called.
func (p *parser) parseCall(fun Expr, start int32) Expr {
	p.node()
	open := p.tok
	p.next()
	c := &Call{Fun: fun}
	for !p.bad && p.tok.kind != tRParen {
		var arg Arg
		if (p.tok.kind == tName || p.tok.kind.isWord()) && p.peek().kind == tColon {
			id := p.expectName("the name of an argument")
			arg.Name = &id
			p.next() // :
			for _, a := range c.Args {
				if !p.bad && a.Name != nil && a.Name.Name == id.Name {
					p.report(id.Pos, CodeBadCall, "the argument %s is given twice", id.Name).
						Hint = "take one of them out"
				}
			}
		} else if n := len(c.Args); n > 0 && c.Args[n-1].Name != nil {
			p.fail(p.span(p.tok), CodeBadCall, "found %s behind named arguments, want a name and a colon", p.describe(p.tok)).
				Hint = "arguments without names come first; better give all of them names"
			break
		}
		arg.X = p.parseExpr()
		if name, ok := arg.X.(*Name); ok && arg.Name == nil && p.tok.kind == tAssign {
			p.fail(p.span(p.tok), CodeSingleEquals, "found = behind %s, want a colon", name.Name).
				Hint = "name an argument with a colon, " + name.Name + ": …; compare with =="
		}
		c.Args = append(c.Args, arg)
		if !p.accept(tComma) {
			break
		}
	}
	p.expectClose(open, tRParen, "an operator, a comma or ")
	c.Pos = p.since(start)
	return c
}

// parsePrimary parses a single value or what stands in brackets.
func (p *parser) parsePrimary() Expr {
	t := p.tok
	p.node()
	switch t.kind {
	case tNumber:
		return p.parseNumber()
	case tString:
		s := &String{Value: p.unquote(t), Pos: p.span(t)}
		p.next()
		return s
	case tTrue, tFalse:
		p.next()
		return &Bool{Value: t.kind == tTrue, Pos: p.span(t)}
	case tName:
		p.next()
		n := p.pool.names.next()
		n.Name, n.Pos = fold(p.text(t)), p.span(t)
		return n
	case tLParen:
		p.next()
		x := p.parseExpr()
		p.expectClose(t, tRParen, "an operator or ")
		return &Paren{X: x, Pos: p.since(t.start)}
	case tLBracket:
		return p.parseList()
	case tTable:
		p.next()
		if p.tok.kind != tString {
			p.wantText(t)
			return nil
		}
		path := p.textValue("the path of the table", "write the path of a CSV file of the manual")
		return &Table{Path: *path, Pos: p.since(t.start)}
	}
	p.noValue()
	return nil
}

// parseList parses `[a, b]`.
func (p *parser) parseList() Expr {
	open := p.tok
	p.next()
	l := &ListExpr{}
	for !p.bad && p.tok.kind != tRBracket {
		l.Items = append(l.Items, p.parseExpr())
		if !p.accept(tComma) {
			break
		}
	}
	p.expectClose(open, tRBracket, "an operator, a comma or ")
	l.Pos = p.since(open.start)
	if len(l.Items) == 0 {
		p.report(l.Pos, CodeEmptyList, "the list is empty").
			Hint = "a list has at least one item, which gives it its unit"
	}
	return l
}

// parseNumber parses digits and the unit behind them.
func (p *parser) parseNumber() Expr {
	t := p.tok
	n := p.pool.numbers.next()
	n.Text, n.Unit = p.digitsOf(t), p.units.none()
	n.V = p.value(t, n.Text)
	p.next()
	if p.tok.kind == tUnit || p.tok.kind == tPer {
		u, ok := p.parseUnit(t)
		if ok {
			n.Unit = u
		}
	}
	n.Pos = p.since(t.start)
	return n
}

// parseUnit parses a unit text and any `per unit` behind it. t is the number
// or the word `in` before it. ok is false after an error, which is reported.
func (p *parser) parseUnit(t token) (u unit.Unit, ok bool) {
	u, ok = p.units.none(), true
	if p.tok.kind == tUnit {
		u, ok = p.takeUnit(t)
	} else if t.kind != tNumber {
		p.noUnit(t)
		return u, false
	}
	for !p.bad && p.tok.kind == tPer {
		per := p.tok
		p.next()
		if p.tok.kind != tUnit {
			p.noUnit(per)
			return u, false
		}
		at := p.span(p.tok)
		v, good := p.takeUnit(per)
		if !good {
			ok = false
			continue
		}
		v, err := v.Per()
		if err == nil {
			v, err = unit.Product(u, v)
		}
		if err != nil {
			p.report(at, CodeBadUnit, "%s cannot stand behind per", at.Text()).Hint = err.Error()
			ok = false
			continue
		}
		u = v
	}
	return u, ok && !p.bad
}
