package syntax

import (
	"strconv"
	"strings"

	"workings/calc/diag"
)

// A Quantity is a value as a check block writes it: `61 N ± 5 N to 2 sf`. It
// is a value with a spread of its own, but has no name.
type Quantity struct {
	X      Expr
	Spread Spread
	Round  Round
	Pos    diag.Span
}

// ParseInline parses what stands between `{=` and `}`: an expression, how it
// is rounded, and whether its spread is shown. It returns nil if it has mistakes.
func ParseInline(file *diag.File, segs []Seg) (*Inline, diag.List) {
	p, ok := newParser(file, segs)
	if !ok {
		return nil, p.list
	}
	p.inline = true
	softenAll(p.toks)
	in := p.parseInline()
	list := p.finish()
	if list.HasErrors() {
		in = nil
	}
	return in, list
}

// ParseExpr parses an expression that stands alone. It returns nil if it has mistakes.
func ParseExpr(file *diag.File, segs []Seg) (Expr, diag.List) {
	p, ok := newParser(file, segs)
	if !ok {
		return nil, p.list
	}
	p.inline = true
	softenAll(p.toks)
	p.begin()
	x := p.parseExpr()
	p.endText("an operator or the end of the expression")
	list := p.finish()
	if list.HasErrors() {
		x = nil
	}
	return x, list
}

// ParseQuantity parses a value with its tolerance and rounding, as a check
// states what is expected: `belt.hot ± 5 N to 2 sf`, `8 mm +0.02 -0`. Behind a
// number, `to` and another number state a range: `18 °C to 24 °C`; behind a
// formula they round to the nearest step. It returns nil if it has mistakes.
func ParseQuantity(file *diag.File, segs []Seg) (*Quantity, diag.List) {
	p, ok := newParser(file, segs)
	if !ok {
		return nil, p.list
	}
	p.inline = true
	softenAll(p.toks)
	p.begin()
	q := &Quantity{}
	start := p.tok.start
	p.heads = headAny
	q.X = p.parseExpr()
	for more := true; more; {
		switch {
		case p.tok.kind == tPlusMinus, p.tok.kind == tPlus, p.tok.kind == tMinus:
			p.parseSpread(q.X, &q.Spread)
		case p.tok.kind == tTo && isLiteral(q.X) && !p.roundsDigits():
			p.parseSpread(q.X, &q.Spread)
		case p.startsRound():
			p.onceRound(&q.Round)
		default:
			more = false
		}
	}
	p.endText("a tolerance, a rounding or the end")
	p.checkSpread(q.X, &q.Spread)
	q.Pos = p.since(start)
	list := p.finish()
	if list.HasErrors() {
		q = nil
	}
	return q, list
}

// ParseMessage parses a text with inline figures in it that stands without
// quotes; a backslash has no meaning in it. It returns nil if it has mistakes.
func ParseMessage(file *diag.File, segs []Seg) (*Message, diag.List) {
	p, ok := newParser(file, []Seg{})
	if !ok {
		return nil, p.list
	}
	p.src = newSource(file, segs)
	if len(p.src.text) > maxText {
		p.list.Add(p.src.span(0, 0), CodeTooLarge, "the text has %d bytes, at most %d are read", len(p.src.text), maxText)
		return nil, p.list
	}
	m := &Message{Pos: p.src.span(0, len(p.src.text))}
	p.messageParts(m, 0, len(p.src.text), `"`)
	list := p.finish()
	if list.HasErrors() {
		m = nil
	}
	return m, list
}

// begin makes the first token of a text without lines the next one.
func (p *parser) begin() {
	p.start(0)
	p.settle()
	p.prev.start, p.prev.end = p.tok.start, p.tok.start
}

// endText reports what is left of a text without lines, and comments in it.
func (p *parser) endText(want string) {
	if !p.bad && p.tok.kind != tEOF {
		p.unexpected(want)
	}
	if !p.bad && len(p.notes) > 0 {
		n := p.notes[0]
		p.report(p.src.span(int(n.start), int(n.start)+1), CodeUnexpected, "found a comment, want only an expression").
			Hint = "comments stand in sheets and calculation blocks"
	}
}

// parseInline parses a whole inline figure from the first token on.
func (p *parser) parseInline() *Inline {
	p.begin()
	in := &Inline{}
	start := p.tok.start
	in.X = p.parseExpr()
	var nominal token
	for more := true; more; {
		switch {
		case p.isWord("with"):
			p.once(p.tok, in.Spread)
			p.next()
			if !p.acceptWord("spread") && !p.bad {
				p.fail(p.place(), CodeUnexpected, "found %s behind with, want spread", p.describe(p.tok)).
					Hint = "write with spread"
			}
			in.Spread = true
		case p.startsRound():
			if p.tok.kind == tTo && isLiteral(in.X) && !p.roundsDigits() {
				p.fail(p.span(p.tok), CodeRounding, "found a range in an inline figure").
					Hint = "define it on the sheet and show it with spread, or write two figures"
				break
			}
			p.onceRound(&in.Round)
		case p.isWord("nominal"):
			nominal = p.onceNominal(&in.Round)
		default:
			more = false
		}
	}
	p.endText("an operator, a rounding, with spread or the end")
	p.checkNominal(nominal, in.Round)
	in.Pos = p.since(start)
	if p.broken {
		return nil
	}
	return in
}

// startsRound reports whether a rounding starts here.
func (p *parser) startsRound() bool {
	return p.tok.kind == tTo || p.isWord("up") || p.isWord("down")
}

// roundsDigits reports whether the `to` here is that of `to 2 sf` or `to 1 dp`.
func (p *parser) roundsDigits() bool {
	i := p.after(p.i)
	if p.toks[i].kind != tNumber {
		return true // a mistake, which the rounding reports
	}
	t := p.toks[p.after(i)]
	if t.kind == tName || t.kind == tUnit {
		switch p.text(t) {
		case "sf", "dp", "digits", "digit", "figures", "decimals", "places":
			return true
		}
	}
	return false
}

func (p *parser) onceRound(r *Round) {
	if r.Kind == RoundStep && r.Dir == Nearest && p.tok.kind == tName {
		w := p.text(p.tok)
		p.fail(p.span(p.tok), CodeRounding, "found %s behind a step, want it before to", w).
			Hint = "write " + w + " " + short(r.Pos.Text())
		return
	}
	if r.Kind != RoundAuto || r.Dir != Nearest {
		p.twice(p.tok)
		return
	}
	p.parseRound(r)
}

// onceNominal takes the word nominal of a rounding.
func (p *parser) onceNominal(r *Round) token {
	t := p.tok
	p.once(t, r.Nominal)
	r.Nominal = true
	p.next()
	return t
}

// checkNominal reports the word nominal, if it stands there as t, where nothing
// is rounded to a side: there the value is the nominal one in any case.
func (p *parser) checkNominal(t token, r Round) {
	if !r.Nominal || r.Dir != Nearest || p.bad || p.broken {
		return
	}
	p.report(p.span(t), CodeRounding, "found nominal without up or down").
		Hint = "take it out: only up and down show another value than the nominal one"
}

// parseRound parses `to 2 sf [up|down]`, `to 1 dp [up|down]`, `up to 5 mm`,
// `down to 5 mm`, `to 5 mm`, or `up` or `down` alone.
func (p *parser) parseRound(r *Round) {
	start := p.tok
	p.clauses = true
	r.Kind = RoundStep
	switch {
	case p.acceptWord("up"):
		r.Dir = Up
	case p.acceptWord("down"):
		r.Dir = Down
	}
	if !p.accept(tTo) {
		if p.tok.kind == tNumber {
			p.badRounding("want to behind " + p.text(start))
			return
		}
		r.Kind, r.Pos = RoundAuto, p.since(start.start)
		return
	}
	t := p.tok
	if t.kind != tNumber {
		p.badRounding("want a number behind to")
		return
	}
	if p.roundsDigitsAt(t) {
		p.parseDigits(r, t)
	} else {
		n := p.literal(p.units.none())
		r.Step = n
		if r.Dir == Nearest && !p.broken && n.Unit.IsNone() {
			p.fail(n.Pos, CodeRounding, "found to %s: is it a number of digits or a step", n.Text).
				Hint = "write to " + n.Text + " sf for significant figures, to " + n.Text + " dp for decimal places, up to " + n.Text + " for a step"
		}
		if !p.bad && !p.broken && !(n.V > 0) {
			p.report(p.span(t), CodeRounding, "the step of a rounding is %s, want more than zero", n.Text).
				Hint = "write for example up to 5 mm"
		}
	}
	r.Pos = p.since(start.start)
}

// roundsDigitsAt reports whether the number t is one of digits.
func (p *parser) roundsDigitsAt(t token) bool {
	n := p.peek()
	if n.kind != tName && n.kind != tUnit {
		return false
	}
	switch p.text(n) {
	case "sf", "dp":
		return true
	case "digits", "digit", "figures", "decimals", "places":
		return true
	}
	return false
}

// parseDigits parses `2 sf [up|down]` or `1 dp [up|down]`.
func (p *parser) parseDigits(r *Round, t token) {
	start := p.prev
	p.next()
	w := p.text(p.tok)
	least, what := 1, "significant figures"
	switch w {
	case "sf":
		r.Kind = RoundSig
	case "dp":
		r.Kind = RoundPlaces
		least, what = 0, "decimal places"
	default:
		p.fail(p.span(p.tok), CodeRounding, "found %s, want sf or dp", w).
			Hint = "write to " + p.text(t) + " sf for significant figures, to " + p.text(t) + " dp for decimal places"
		return
	}
	n, err := strconv.Atoi(p.text(t))
	if err != nil || n < least || n > 15 {
		p.fail(p.span(t), CodeRounding, "found %s %s, want a whole number from %d to 15", p.text(t), what, least).
			Hint = "write for example to 3 " + w
		return
	}
	r.N = n
	p.next()
	if r.Dir != Nearest {
		p.fail(p.src.span(int(start.start), int(p.prev.end)), CodeRounding, "a side before to goes with a step, not with %s", w).
			Hint = "write to " + p.text(t) + " " + w + " " + map[Direction]string{Up: "up", Down: "down"}[r.Dir]
		return
	}
	switch {
	case p.acceptWord("up"):
		r.Dir = Up
	case p.acceptWord("down"):
		r.Dir = Down
	}
}

// parseMessage parses the text token t as a message.
func (p *parser) parseMessage(t token) *Message {
	m := &Message{Pos: p.span(t)}
	from, to := int(t.start)+len(p.quote), int(t.end)-len(p.quote)
	if strings.TrimSpace(p.src.text[from:to]) == "" {
		p.report(m.Pos, CodeEmptyText, "the message is empty").
			Hint = "say what the reader has to know"
	}
	p.messageParts(m, from, to, `\"`)
	return m
}

// messageParts parses the message text[from:to]; a text within its figures
// stands in the given quotes.
func (p *parser) messageParts(m *Message, from, to int, quote string) {
	plain := func(a, b int) {
		if a == b {
			return
		}
		s := p.src.text[a:b]
		if quote == `\"` {
			s = p.unescape(a, b)
		}
		m.Parts = append(m.Parts, MessagePart{Text: strings.ToValidUTF8(s, "\ufffd")})
	}
	for at := from; at <= to; {
		open := strings.Index(p.src.text[at:to], "{=")
		if open < 0 {
			plain(at, to)
			return
		}
		open += at
		plain(at, open)
		end := inlineEnd(p.src.text, open+2, to, quote)
		if end < 0 {
			p.openInline(open, to, quote)
			return
		}
		q := p.sub(open+2, end, quote)
		in := q.parseInline()
		p.list = append(p.list, q.finish()...)
		p.broken = p.broken || q.broken
		m.Parts = append(m.Parts, MessagePart{Inline: in})
		at = end + 1
	}
}

// inlineEnd returns the offset of the brace that closes the inline figure in
// text[from:to], or -1. A brace within a text does not close it.
func inlineEnd(text string, from, to int, quote string) int {
	inText := false
	for i := from; i < to; i++ {
		switch {
		case strings.HasPrefix(text[i:to], quote):
			inText = !inText
			i += len(quote) - 1
		case text[i] == '}' && !inText:
			return i
		}
	}
	return -1
}
