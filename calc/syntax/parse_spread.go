package syntax

import "workings/calc/unit"

// deviations reports how many signed numbers from p.tok on end a value as a
// tolerance does: each sign stands behind a space and against its number, and
// behind the last of them the value is at an end. 0 means that they are part of
// a sum. literal says whether the value before them is a number alone: behind
// a formula, only +a -b is not part of a sum.
//
//	8 mm +0.02 mm -0.01 mm   a tolerance
//	8 mm + 0.02 mm - 0.01 mm a sum
func (p *parser) deviations(literal bool) int {
	n := 0
	i := p.i
	plus := p.tok.kind == tPlus // the first is up, the second down
	for {
		k := p.toks[i].kind
		if n == 1 && k == tDiv && p.toks[i+1].kind == tMinus { // +0.02/-0.01
			i++
			k = tMinus
		} else if i > 0 && p.toks[i-1].end == p.toks[i].start && p.toks[i-1].kind != tSoft {
			break
		}
		if k != tPlus && k != tMinus || p.toks[i+1].kind != tNumber || p.toks[i+1].start != p.toks[i].end {
			break
		}
		n++
		plus = plus && (n == 1 || k == tMinus)
		i = p.after(i + 1)
		if p.toks[i].kind == tUnit {
			i = p.after(i)
		}
		for p.toks[i].kind == tPer && p.toks[p.after(i)].kind == tUnit {
			i = p.after(p.after(i))
		}
	}
	switch p.toks[i].kind {
	case tNewline, tEOF, tUncertain, tTo, tFrom, tBecause, tPlusMinus:
	default:
		return 0
	}
	if !literal && (n != 2 || !plus) {
		return 0
	}
	return n
}

// parseSpread parses one of the spreads that may stand behind the value x.
func (p *parser) parseSpread(x Expr, s *Spread) {
	p.clauses = true
	t := p.tok
	nominal, ok := literalNumber(x)
	if !ok && p.heads != headAny {
		p.spreadOfFormula(t)
		return
	}
	if nominal == nil {
		nominal = &Number{Unit: p.units.none()}
		if c, ok := x.(*Convert); ok { // the unit was written here as well
			nominal.Unit = c.Unit
		}
	}
	switch t.kind {
	case tPlusMinus, tPlus, tMinus:
		if s.Tol != nil {
			p.twice(t)
			return
		}
		s.Tol = p.parseTolerance(nominal.Unit)
	case tUncertain:
		if s.Unc != nil {
			p.twice(t)
			return
		}
		s.Unc = p.parseUncertainty(nominal.Unit)
	case tTo:
		if s.Range != nil {
			p.twice(t)
			return
		}
		s.Range = p.parseRange(nominal.Unit)
	}
}

// parseTolerance parses `± x` or `+x -y`.
func (p *parser) parseTolerance(nominal unit.Unit) *Tolerance {
	start := p.tok
	tol := &Tolerance{}
	if p.accept(tPlusMinus) {
		tol.Symmetric = true
		tol.Plus = p.unsigned("behind ±", nominal)
		tol.Minus = tol.Plus
		tol.Pos = p.since(start.start)
		return tol
	}
	first := p.i
	n := p.deviations(true)
	p.next()
	tol.Plus = p.unsigned("behind +", nominal)
	slash := p.tok.kind == tDiv
	if n != 2 || start.kind != tPlus || slash || p.tok.kind != tMinus {
		p.badDeviation(start, n, slash)
		return tol
	}
	second := p.i
	p.next()
	tol.Minus = p.unsigned("behind -", nominal)
	tol.Pos = p.since(start.start)
	p.toks[first].deviation, p.toks[second].deviation = true, true
	return tol
}

// parseUncertainty parses `uncertain x [k y] [dof n] [shape]`.
func (p *parser) parseUncertainty(nominal unit.Unit) *Uncertainty {
	start := p.tok
	p.next()
	u := &Uncertainty{X: p.unsigned("behind uncertain", nominal)}
	for !p.bad && p.tok.kind == tName {
		t := p.tok
		switch w := p.text(t); w {
		case "k":
			p.once(t, u.K != nil)
			p.next()
			u.K = p.unsigned("behind k", p.units.none())
		case "dof":
			p.once(t, u.DOF != nil)
			p.next()
			u.DOF = p.unsigned("behind dof", p.units.none())
		case "normal", "rectangular", "triangular", "arcsine":
			p.once(t, u.Shape != nil)
			id := p.ident()
			u.Shape = &id
		default:
			p.badShape(t)
		}
	}
	if u.Shape != nil && u.Shape.Name != "normal" && u.K != nil {
		p.report(u.K.Span(), CodeBadShape, "a coverage factor k does not go with %s: the value is the half width", u.Shape.Name).
			Hint = "leave k out, or state a normal uncertainty with k"
	}
	u.Pos = p.since(start.start)
	return u
}

// once reports a word that stands twice.
func (p *parser) once(t token, again bool) {
	if again {
		p.twice(t)
	}
}

// parseRange parses `to high [nominal x]`.
func (p *parser) parseRange(low unit.Unit) *Range {
	start := p.tok
	p.next()
	r := &Range{High: p.signed("behind to", low)}
	if p.acceptWord("nominal") {
		r.Nominal = p.signed("behind nominal", low)
	}
	r.Pos = p.since(start.start)
	return r
}

// unsigned takes a number without a sign, which is a size and not a place: in
// a spread of a temperature, a bare number is a difference.
func (p *parser) unsigned(where string, u unit.Unit) Expr {
	if !p.bad && p.tok.kind != tNumber {
		p.wantLiteral(where, false)
		return nil
	}
	return p.literal(p.difference(u))
}

// signed takes a number that may have a sign.
func (p *parser) signed(where string, u unit.Unit) Expr {
	t := p.tok
	neg := t.kind == tMinus
	if !p.bad && (neg || t.kind == tPlus) && p.peek().kind == tNumber {
		p.next()
	}
	if !p.bad && p.tok.kind != tNumber {
		p.wantLiteral(where, true)
		return nil
	}
	n := p.literal(u)
	if t.kind != tPlus && !neg || p.bad {
		return n
	}
	if neg && n.Unit.Point {
		n.Text, n.V, n.Pos = "-"+n.Text, -n.V, p.since(t.start)
		return n
	}
	op := OpPos
	if neg {
		op = OpNeg
	}
	return &Unary{Op: op, X: n, Pos: p.since(t.start)}
}

// literal takes a number; u is its unit if none is written behind it.
func (p *parser) literal(u unit.Unit) *Number {
	if p.bad {
		return &Number{Text: "1", V: 1, Unit: u}
	}
	n := p.parseNumber().(*Number)
	if p.prev.kind == tNumber {
		n.Unit = u
	}
	return n
}

// difference returns the unit of differences between values in unit u: kelvins
// for degrees Celsius.
func (p *parser) difference(u unit.Unit) unit.Unit {
	if !u.Point {
		return u
	}
	if k, err := p.units.parse("K"); err == nil && k.Factor == u.Factor {
		return k
	}
	return u
}

// checkSpread looks at the units of a value and its spreads together.
func (p *parser) checkSpread(x Expr, s *Spread) {
	if p.bad {
		return
	}
	n, ok := literalNumber(x)
	if !ok {
		return
	}
	var with []Expr
	if s.Tol != nil {
		with = append(with, s.Tol.Plus, s.Tol.Minus)
	}
	if s.Unc != nil {
		with = append(with, s.Unc.X)
	}
	if n.Unit.Symbol == "%" && len(with) > 0 {
		p.report(with[0].Span(), CodePercentOfPercent, "%s of a value in %%: is it a part of the value or are they points", with[0].Span().Text()).
			Hint = "write the value as a plain number, 0.60 ± 5 % or 0.60 ± 0.03"
		return
	}
	if s.Range != nil {
		with = append(with, s.Range.High, s.Range.Nominal)
	}
	for _, y := range with {
		if y == nil {
			continue
		}
		m, ok := literalNumber(y)
		if ok && n.Unit.IsNone() && n.Pos.Text() == n.Text && (m.Unit.Dim != unit.None || m.Unit.Point) {
			p.report(n.Pos, CodeBareValue, "%s has no unit, but %s has one", n.Text, m.Pos.Text()).
				Hint = "write " + n.Text + " " + m.Unit.Symbol
			return
		}
	}
}
