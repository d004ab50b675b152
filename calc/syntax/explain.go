package syntax

import (
	"strings"
	"unicode/utf8"

	"workings/calc/diag"
)

// This file and explain_*.go hold what the parser says. A message tells what
// was found and what was wanted, in lower case and without a full stop; a hint
// shows what to write, in the words of the line where possible.

// describe tells a person what a token is.
func (p *parser) describe(t token) string {
	switch t.kind {
	case tEOF, tNewline:
		if p.inline {
			return "the end"
		}
		return kindText[tNewline]
	case tNumber:
		return "the number " + p.text(t)
	case tUnit:
		return "the unit " + p.text(t)
	case tString:
		return "the text " + short(p.text(t))
	case tName:
		return "the name " + p.text(t)
	}
	if t.kind.isWord() {
		return "the word " + p.text(t)
	}
	return p.text(t)
}

// short cuts a long text, so that a message stays on its line.
func short(s string) string {
	const most = 30
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}

// place returns the place of the next token; the end of a line is shown
// directly behind its last token.
func (p *parser) place() diag.Span {
	if p.atEnd() {
		return p.src.span(int(p.prev.end), int(p.prev.end))
	}
	return p.span(p.tok)
}

// unexpected reports the next token where want is wanted.
func (p *parser) unexpected(want string) {
	if p.bad {
		return
	}
	t := p.tok
	switch {
	case t.kind == tBad:
		p.explainBad(t)
	case t.kind == tOpen:
		p.openText(t)
	case p.prev.kind == tNumber && t.kind == tComma && t.start == p.prev.end && p.toks[p.i+1].kind == tNumber && p.toks[p.i+1].start == t.end:
		p.decimalComma()
	case t.kind == tAssign:
		p.strayAssign(want)
	case t.kind == tRParen || t.kind == tRBracket:
		p.fail(p.span(t), CodeUnopened, "found %s, but no bracket is open", p.text(t)).
			Hint = "take it out, or add the bracket that opens it"
	case t.kind == tIf:
		p.fail(p.span(t), CodeBareIf, "found if within an expression, want %s", want).
			Hint = "put a conditional in brackets: (if … then … else …)"
	case t.kind == tPer:
		p.fail(p.span(t), CodeUnexpected, "found per behind a value, want %s", want).
			Hint = "per stands between units, as in 23e-6 per K; divide values with /"
	case p.prev.kind.endsValue() && t.kind.startsValue():
		p.noOperator(want)
	default:
		hint := p.hintStray(t)
		p.fail(p.place(), CodeUnexpected, "found %s, want %s", p.describe(t), want).Hint = hint
	}
}

// hintStray helps with what cannot stand behind a value.
func (p *parser) hintStray(t token) string {
	switch t.kind {
	case tPlusMinus, tUncertain, tTo:
		if p.inline {
			return "define the number with its spread on the sheet, and show it with spread"
		}
		return "a spread belongs to a definition by a number: define it on a line of its own"
	case tSquare, tCube:
		s := "^2"
		if t.kind == tCube {
			s = "^3"
		}
		if p.prev.kind == tSquare || p.prev.kind == tCube {
			return "put the first power in brackets"
		}
		return "write " + p.text(p.prev) + s
	case tPow:
		return "put the first power in brackets"
	case tFrom, tBecause, tAccepted, tWithin, tElse, tThen:
		return p.text(t) + " belongs to the lines of a sheet"
	case tColon:
		return "a colon stands behind the name of an argument, f(a: 3), or of a limit"
	case tMul, tDiv, tPlus, tMinus:
		if p.clauses {
			return "a spread is a plain number, not a formula"
		}
	case tDot:
		if p.inline && p.clauses {
			return "write sf for significant figures, dp for decimal places"
		}
	case tNumber:
		if p.prev.kind == tDot {
			return "a column or figure is called by its name: lamps.power"
		}
	}
	return p.hintWord(t)
}

// hintWord helps with words in capitals.
func (p *parser) hintWord(t token) string {
	switch t.kind {
	case tName:
		if low := strings.ToLower(p.text(t)); low != p.text(t) && (word(low) != tName || isSignal(low)) {
			return "the words of the language are written in small letters: " + low
		}
	}
	return ""
}

// noValue reports what stands in the place of a value.
func (p *parser) noValue() {
	if p.bad {
		return
	}
	t := p.tok
	behind := ""
	switch k := p.prev.kind; {
	case k.isBinary() || k.isWord() || k == tAssign || k == tLParen || k == tLBracket || k == tComma || k == tColon:
		behind = " behind " + p.text(p.prev)
	}
	switch {
	case t.kind == tBad || t.kind == tOpen || t.kind == tIf:
		p.unexpected("a value" + behind)
	case (t.kind == tRParen || t.kind == tRBracket) && behind == "":
		p.unexpected("a value")
	case t.kind == tEOF && p.prev.kind == tNewline:
		p.fail(p.place(), CodeUnexpected, "found nothing, want a value").
			Hint = "write a name, or a number with its unit"
	case t.kind == tNot:
		p.fail(p.span(t), CodeUnexpected, "found not%s, want a value", behind).
			Hint = "put it in brackets: (not …)"
	case t.kind == tAssign && p.prev.kind == tAssign: // = =
		p.strayAssign("a value" + behind)
	case t.kind.isWord():
		p.fail(p.span(t), CodeUnexpected, "found the word %s%s, want a value", p.text(t), behind).
			Hint = p.text(t) + " is a word of the language and cannot be a name"
	default:
		p.fail(p.place(), CodeUnexpected, "found %s%s, want a value", p.describe(t), behind).
			Hint = p.hintValue(t)
	}
}

func (p *parser) hintValue(t token) string {
	switch {
	case p.prev.kind.isBinary():
		return "a value stands on both sides of " + p.text(p.prev)
	}
	switch t.kind {
	case tPlusMinus:
		return "a tolerance stands behind its value: 220 mm ± 0.2 mm"
	case tUnit:
		return "a unit stands behind a number: 1 " + p.text(t)
	case tNewline, tEOF:
		switch p.prev.kind {
		case tAssign:
			return "write a number with its unit, or a formula"
		case tColon:
			return "write a condition such as mass <= 4.5 kg"
		case tWithin:
			return "write within 20 % (of the figure), or within a quantity"
		}
	case tRParen, tComma:
		if p.prev.kind == tLParen || p.prev.kind == tComma {
			return "write a value, or take the " + map[kind]string{tRParen: "brackets", tComma: "comma"}[t.kind] + " out"
		}
	}
	return ""
}

// noOperator reports two values that stand side by side.
func (p *parser) noOperator(want string) {
	a, b := p.prev, p.tok
	x, y := p.text(a), p.text(b)
	d := func(hint string) {
		p.fail(p.span(b), CodeNoOperator, "found %s behind %s, want %s", p.describe(b), p.describe(a), want).Hint = hint
	}
	if h := p.hintWord(a); h != "" {
		d(h)
		return
	}
	if h := p.hintWord(b); h != "" {
		d(h)
		return
	}
	switch {
	case a.kind == tNumber && b.kind == tNumber && p.looksGrouped(a, b):
		p.fail(p.src.span(int(a.start), int(b.end)), CodeBadNumber, "the number %s %s has a space in it", x, y).
			Hint = "write " + x + y + ": digits are not grouped"
	case b.kind == tNumber && y == "1" && p.peek().kind == tDiv && p.toks[p.after(p.after(p.i))].kind == tName:
		s := p.text(p.toks[p.after(p.after(p.i))])
		d("write " + x + " " + s + "^-1, or " + x + " per " + s)
	case b.kind == tString:
		d(`write from "…" for a source, because "…" for a reason, # for a caption`)
	case b.kind == tName && (clauseWord(y) || y == "k"):
		d(clauseHint(y))
	case a.kind == tName && b.kind == tLBracket:
		d("a list is written with commas alone; a row of a table is had with pick(" + x + `, "id")`)
	case strings.Contains(want, "a comma") && a.kind == tName && b.kind == tName:
		d("write " + x + ", " + y + " for two arguments, " + x + " * " + y + " for a product, " + x + "_" + y + " for one name")
	case strings.Contains(want, "a comma"):
		d("put a comma between them; for a product write *")
	case a.kind == tUnit && b.kind == tName:
		if n := p.before(a); n.kind == tNumber {
			x = p.text(n) + " " + x
		}
		d("a unit has no spaces inside: " + x + "*" + y + "; a product has them: " + x + " * " + y)
	case a.kind == tName && b.kind == tName:
		d("write " + x + " * " + y + " for a product, " + x + "_" + y + " for one name")
	case a.kind == tString:
		d("")
	case b.kind == tLParen || b.kind == tLBracket || a.kind == tRParen || a.kind == tRBracket:
		d("for a product write * between them")
	default:
		if n := p.before(a); a.kind == tUnit && n.kind == tNumber {
			x = p.text(n) + " " + x
		}
		d("for a product write " + x + " * " + y)
	}
}

// looksGrouped reports whether two numbers look like one with grouped digits.
func (p *parser) looksGrouped(a, b token) bool {
	y := p.text(b)
	whole := y
	if i := strings.IndexByte(y, '.'); i >= 0 {
		whole = y[:i]
	}
	return len(whole) == 3 && a.end-a.start <= 3 && !strings.ContainsAny(p.text(a)+whole, ".eE")
}

// clauseHint tells where a word belongs that stands in a wrong place.
func clauseHint(w string) string {
	switch w {
	case "up", "down", "sf", "dp":
		return "rounding is written in inline figures: {= mass to 2 sf up}"
	case "with":
		return "with spread is written in inline figures: {= mass with spread}"
	case "nominal":
		return "nominal stands behind a range: 18 °C to 68 °C nominal 25 °C"
	}
	return w + " stands behind an uncertainty: 0.46 g/cm^3 uncertain 5 % k 2 dof 12"
}

// strayAssign reports a = that defines nothing.
func (p *parser) strayAssign(want string) {
	p.fail(p.span(p.tok), CodeSingleEquals, "found =, want %s", want).
		Hint = "compare with ==; each definition has a line of its own"
}

// decimalComma reports 0,46.
func (p *parser) decimalComma() {
	a, b := p.prev, p.toks[p.i+1]
	d := p.fail(p.src.span(int(a.start), int(b.end)), CodeBadNumber, "the number %s,%s has a comma in it", p.text(a), p.text(b))
	d.Hint = "write " + p.text(a) + "." + p.text(b)
	if b.end-b.start == 3 && p.text(a) != "0" {
		d.Hint += ", or " + p.text(a) + p.text(b) + " if the comma groups digits"
	}
}

// before returns the token before t, which is the last one parsed or t itself
// the next.
func (p *parser) before(t token) token {
	for i := p.i; i > 0; i-- {
		if p.toks[i].start == t.start {
			return p.toks[i-1]
		}
	}
	return token{}
}

// expectClose goes past the bracket that closes open. want is what else may
// stand here.
func (p *parser) expectClose(open token, k kind, want string) {
	if p.bad || p.accept(k) {
		return
	}
	t := p.tok
	closer := kindText[k]
	switch {
	case p.atEnd() || t.kind == tRParen || t.kind == tRBracket:
		hint := "add " + closer
		if !p.atEnd() {
			hint = "found " + p.text(t) + ", want " + closer
		}
		p.fail(p.span(open), CodeUnclosed, "the bracket %s is not closed", p.text(open)).Hint = hint
	default:
		p.unexpected(want + closer)
	}
}

// twice reports a clause that stands a second time.
func (p *parser) twice(t token) {
	what := p.text(t)
	switch t.kind {
	case tPlusMinus, tPlus, tMinus:
		what = "a tolerance"
	case tTo:
		what = "to"
	}
	p.fail(p.span(t), CodeTwice, "found %s a second time", what).
		Hint = "keep one of them"
}

// misplaced reports a clause that does not belong to a statement of this
// kind, and whether there was one.
func (p *parser) misplaced(what string) bool {
	var hint string
	switch p.tok.kind {
	case tElse:
		hint = "else belongs to a limit, or to if … then …"
	case tFrom:
		hint = "a definition, a limit or a cross-check can have a source"
	case tBecause:
		hint = "a definition can have a reason; a limit is accepted with accepted \"…\""
	case tAccepted:
		hint = "accepted belongs to a limit"
	case tWithin:
		hint = "within belongs to a cross-check"
	case tThen:
		hint = "then belongs to if … then … else …"
	case tUncertain, tTo, tPlusMinus:
		hint = "a tolerance, an uncertainty or a range belongs to a definition by a number"
	default:
		return false
	}
	p.fail(p.span(p.tok), CodeMisplaced, "found %s, which does not belong to a %s", p.describe(p.tok), what).Hint = hint
	return true
}
