package syntax

import "strings"

// parseStmt parses one statement. The name is that which the line would give,
// as far as it is known, even if something is wrong with the line.
func (p *parser) parseStmt() (Ident, Stmt) {
	next := p.peek().kind
	switch {
	case p.tok.kind == tName && next == tAssign:
		return p.parseDef()
	case p.tok.kind == tName && next == tLParen && p.startsFunc():
		return p.parseFunc()
	case p.tok.kind == tLimit && next != tAssign:
		return p.parseLimit()
	case p.tok.kind == tCrosscheck && next != tAssign:
		return Ident{}, p.parseCrossCheck()
	}
	return p.notALine(), nil
}

// ident takes the present token as a name.
func (p *parser) ident() Ident {
	id := Ident{Name: fold(p.text(p.tok)), Pos: p.span(p.tok)}
	p.next()
	return id
}

// expectName takes a name; anything else is an error. want is what a person
// calls it at this place.
func (p *parser) expectName(want string) Ident {
	switch {
	case p.bad:
		return Ident{}
	case p.tok.kind == tName:
		return p.ident()
	case p.tok.kind.isWord():
		p.reserved(p.tok)
	default:
		p.unexpected(want)
	}
	return Ident{}
}

// parseDef parses `name = expression …`.
func (p *parser) parseDef() (Ident, Stmt) {
	start := p.tok.start
	d := &Def{Name: p.ident()}
	p.next() // =
	p.heads = headLiteral
	d.X = p.parseExpr()
	p.heads = headNone
	for more := true; more; {
		switch p.tok.kind {
		case tPlus, tMinus, tPlusMinus, tUncertain, tTo:
			p.parseSpread(d.X, &d.Spread)
		case tFrom:
			p.parseText(&d.From)
		case tBecause:
			p.parseText(&d.Because)
		default:
			more = false
		}
	}
	p.endStmt("definition")
	p.checkSpread(d.X, &d.Spread)
	d.Pos = p.since(start)
	d.Caption = p.caption()
	return d.Name, d
}

// startsFunc reports whether the name before the bracket is being defined:
// the bracket is closed before `=`.
func (p *parser) startsFunc() bool {
	depth := 0
	for i := p.after(p.i); ; i = p.after(i) {
		switch p.toks[i].kind {
		case tLParen, tLBracket:
			depth++
		case tRParen, tRBracket:
			if depth--; depth == 0 {
				return p.toks[p.after(i)].kind == tAssign
			}
		case tNewline, tEOF, tAssign:
			return false
		}
	}
}

// parseFunc parses `name(a, b) = expression`.
func (p *parser) parseFunc() (Ident, Stmt) {
	start := p.tok.start
	f := &FuncDef{Name: p.ident()}
	p.next() // (
	for !p.bad && p.tok.kind != tRParen {
		if p.tok.kind != tName && !p.tok.kind.isWord() && p.tok.kind != tBad {
			p.fail(p.span(p.tok), CodeBadParameter, "found %s, want the name of a parameter", p.describe(p.tok)).
				Hint = "a function is defined for names, as in sag(d) = d^2 / 8, and called with values"
			break
		}
		id := p.expectName("the name of a parameter")
		for _, q := range f.Params {
			if q.Name == id.Name && !p.bad {
				p.report(id.Pos, CodeBadParameter, "the parameter %s stands twice", id.Name).
					Hint = "give each parameter a name of its own"
			}
		}
		f.Params = append(f.Params, id)
		if !p.accept(tComma) && p.tok.kind != tRParen {
			p.unexpected("a comma or ) behind the parameter")
		}
	}
	if len(f.Params) == 0 && !p.bad {
		p.fail(p.span(p.tok), CodeBadParameter, "the function %s has no parameter", f.Name.Name).
			Hint = "what depends on nothing is written " + f.Name.Name + " = …"
	}
	p.next() // )
	p.next() // =
	f.X = p.parseExpr()
	for !p.bad && p.tok.kind == tFrom {
		p.parseText(&f.From)
	}
	p.endStmt("function")
	f.Pos = p.since(start)
	f.Caption = p.caption()
	return f.Name, f
}

// parseLimit parses `limit name: condition …`.
func (p *parser) parseLimit() (Ident, Stmt) {
	start := p.tok.start
	p.next() // limit
	l := &Limit{Name: p.expectName("the name of the limit")}
	if !p.bad && p.tok.kind != tColon {
		p.wantColon("limit", l.Name.Name, "name: condition")
	}
	p.next() // :
	l.Cond = p.parseExpr()
	for more := true; more; {
		switch p.tok.kind {
		case tElse:
			p.parseSignal(l)
		case tFrom:
			p.parseText(&l.From)
		case tAccepted:
			p.parseText(&l.Accepted)
		default:
			more = false
		}
	}
	p.endStmt("limit")
	l.Pos = p.since(start)
	l.Caption = p.caption()
	return l.Name, l
}

// parseCrossCheck parses `crosscheck name: expression within …`.
func (p *parser) parseCrossCheck() Stmt {
	start := p.tok.start
	p.next() // crosscheck
	c := &CrossCheck{}
	from := p.tok.start
	name := p.expectName("the name of the figure that is checked")
	c.Target = &Name{Name: name.Name, Pos: name.Pos}
	for !p.bad && p.tok.kind == tDot {
		p.next()
		f := p.expectName("a name behind the point")
		c.Target = &Field{X: c.Target, Name: f, Pos: p.since(from)}
	}
	if !p.bad && p.tok.kind != tColon {
		p.wantColon("crosscheck", p.since(from).Text(), "name: expression within 5 %")
	}
	p.next() // :
	c.X = p.parseExpr()
	for more := true; more; {
		switch p.tok.kind {
		case tWithin:
			if c.Within != nil {
				p.twice(p.tok)
				break
			}
			p.next()
			c.Within = p.parseExpr()
		case tFrom:
			p.parseText(&c.From)
		default:
			more = false
		}
	}
	p.endStmt("cross-check")
	if c.Within == nil && !p.bad {
		p.fail(p.src.span(int(p.prev.end), int(p.prev.end)), CodeNoWithin, "the cross-check does not say how far off the estimate may be").
			Hint = "end it with within 20 % (of the figure), or with a quantity"
	}
	c.Pos = p.since(start)
	c.Caption = p.caption()
	return c
}

// wantColon reports what stands in the place of the colon.
func (p *parser) wantColon(word, name, rest string) {
	if p.tok.kind == tBad {
		p.explainBad(p.tok)
		return
	}
	var hint string
	switch {
	case p.tok.kind == tName && p.peek().kind == tColon:
		hint = "a name has no spaces: " + name + "_" + p.text(p.tok)
	case p.tok.kind.isBinary() || p.tok.kind == tLParen:
		hint = "write " + word + " " + rest + "; the name comes first"
	default:
		hint = "write " + word + " " + name + strings.TrimPrefix(rest, "name")
	}
	p.fail(p.place(), CodeUnexpected, "found %s, want a colon behind the name %s", p.describe(p.tok), name).Hint = hint
}

// parseText parses a clause that is a word and a text.
func (p *parser) parseText(to **Text) {
	p.clauses = true
	t := p.tok
	if *to != nil {
		p.twice(t)
		return
	}
	p.next()
	if p.tok.kind != tString {
		p.wantText(t)
		return
	}
	*to = p.textValue("the text behind "+p.text(t), "say it, or leave "+p.text(t)+" out")
}

// wantText reports what stands in the place of a text behind word t.
func (p *parser) wantText(t token) {
	if p.bad || p.tok.kind == tBad || p.tok.kind == tOpen {
		p.unexpected("a text")
		return
	}
	p.fail(p.place(), CodeUnexpected, "found %s behind %s, want a text in quotes", p.describe(p.tok), p.text(t)).
		Hint = "write " + p.text(t) + " \"…\""
}

// textValue takes a text token; what is its name in an error.
func (p *parser) textValue(what, hint string) *Text {
	t := p.tok
	v := &Text{Pos: p.span(t), Value: p.unquote(t)}
	if v.Value == "" {
		p.report(v.Pos, CodeEmptyText, "%s is empty", what).
			Hint = hint
	}
	p.next()
	return v
}

// parseSignal parses `else signal "message"` of a limit.
func (p *parser) parseSignal(l *Limit) {
	p.clauses = true
	if l.Signal != nil {
		p.twice(p.tok)
		return
	}
	p.next() // else
	if p.tok.kind != tName || !isSignal(p.text(p.tok)) {
		p.wantSignal()
		return
	}
	id := p.ident()
	l.Signal = &id
	if p.tok.kind != tString {
		if p.bad || p.tok.kind == tBad || p.tok.kind == tOpen {
			p.unexpected("the message")
			return
		}
		p.fail(p.place(), CodeUnexpected, "found %s behind %s, want the message in quotes", p.describe(p.tok), id.Name).
			Hint = "write else " + id.Name + " \"what the reader has to know\""
		return
	}
	l.Message = p.parseMessage(p.tok)
	p.next()
}

func isSignal(s string) bool {
	return s == "danger" || s == "warning" || s == "caution" || s == "notice"
}

// endStmt reports what is left of a line; what is the kind of the statement.
func (p *parser) endStmt(what string) {
	if p.bad || p.atEnd() {
		return
	}
	if p.misplaced(what) {
		return
	}
	if p.clauses {
		p.unexpected("a clause or the end of the line")
		return
	}
	p.unexpected("an operator or the end of the line")
}
