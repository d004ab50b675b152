package syntax

import (
	"strings"

	"workings/calc/diag"
)

const hintLine = "a line is a definition, name = …, a limit, limit name: …, a cross-check, or a comment, # …"

// notALine reports a line that is no statement. It returns the name that the
// line would define, if that can be told.
func (p *parser) notALine() Ident {
	t := p.tok
	next := p.peek()
	switch {
	case t.kind == tBad || t.kind == tOpen:
		p.unexpected("")
	case t.kind.isWord() && next.kind == tAssign:
		p.reserved(t)
	case t.kind == tName && next.kind == tBad:
		id := p.ident()
		p.explainBad(p.tok)
		return id
	case t.kind == tName && next.kind == tColon:
		p.fail(p.span(next), CodeNotALine, "found : behind %s, want =", p.text(t)).
			Hint = "write " + p.text(t) + " = …; a limit starts with the word limit"
	case t.kind == tName && (next.kind == tName || next.kind == tNumber):
		p.spacedName(t)
	case t.kind == tName && next.kind == tDot && p.assignAhead():
		p.fail(p.span(t), CodeBadName, "a figure of another block cannot be defined here").
			Hint = "define it in the block " + p.text(t) + ", or give it a name of its own here"
	case t.kind == tName && next.kind == tEQ:
		p.fail(p.span(next), CodeNotALine, "found == behind %s, want =", p.text(t)).
			Hint = "define with =, compare with =="
	case t.kind == tNumber && p.assignAhead():
		p.numberFirst(t)
	case continuesLine(t.kind):
		p.fail(p.span(t), CodeNotALine, "a line cannot start with %s", p.text(t)).
			Hint = "it belongs to a line above, which has ended: a full-line comment ends a line, too"
	case p.assignAhead():
		p.fail(p.leftSpan(t), CodeNotALine, "found an expression, want a name before =").
			Hint = "write the name alone on the left: name = …"
	default:
		p.fail(p.lineSpan(t), CodeNotALine, "found an expression, want a definition").
			Hint = hintLine
		if t.kind == tLimit || !t.kind.startsValue() && t.kind != tMinus && t.kind != tPlus && t.kind != tNot && t.kind != tIf {
			p.list[len(p.list)-1].Msg = "found " + p.describe(t) + ", want a definition"
			p.list[len(p.list)-1].Span = p.span(t)
		}
	}
	return Ident{}
}

func continuesLine(k kind) bool {
	switch k {
	case tElse, tThen, tAccepted, tFrom, tBecause, tUncertain, tWithin, tTo, tString:
		return true
	case tMinus, tPlus:
		return false
	}
	return k.isBinary()
}

// lineSpan returns the span from t to the last token of its line.
func (p *parser) lineSpan(t token) diag.Span {
	i := p.i
	for j := i; p.toks[j].kind != tNewline && p.toks[j].kind != tEOF; j++ {
		if k := p.toks[j].kind; k == tSoft {
			break
		} else if k != tComment {
			i = j
		}
	}
	return p.src.span(int(t.start), int(p.toks[i].end))
}

// assignAhead reports whether a = stands further on in the statement.
func (p *parser) assignAhead() bool {
	for i := p.i; ; i++ {
		switch p.toks[i].kind {
		case tAssign:
			return true
		case tNewline, tEOF:
			return false
		}
	}
}

// spacedName reports names side by side at the start of a line.
func (p *parser) spacedName(t token) {
	if h := p.hintWord(t); h != "" {
		p.fail(p.span(t), CodeNotALine, "found the name %s, want a definition", p.text(t)).Hint = h
		return
	}
	switch w := p.text(t); {
	case isSignal(w):
		p.fail(p.span(t), CodeNotALine, "found the signal word %s, want a definition or a limit", w).
			Hint = "write limit name: condition else " + w + " \"…\""
		return
	case w == "let" || w == "var" || w == "const" || w == "def" || w == "set":
		p.fail(p.span(t), CodeNotALine, "found %s, want the name that is defined", w).
			Hint = "a definition starts with its name: " + p.text(p.peek()) + " = …"
		return
	}
	words := []string{p.text(t)}
	i := p.after(p.i)
	for ; p.toks[i].kind == tName || p.toks[i].kind == tNumber; i = p.after(i) {
		words = append(words, p.text(p.toks[i]))
	}
	if p.toks[i].kind != tAssign {
		p.fail(p.lineSpan(t), CodeNotALine, "found words, want a definition").
			Hint = hintLine
		return
	}
	end := t.end
	for j := p.i; j < i; j++ {
		if k := p.toks[j].kind; k == tName || k == tNumber {
			end = p.toks[j].end
		}
	}
	p.fail(p.src.span(int(t.start), int(end)), CodeBadName, "the name has a space in it").
		Hint = "write " + strings.Join(words, "_")
}

// numberFirst reports a number where a name is wanted.
func (p *parser) numberFirst(t token) {
	next := p.peek()
	if next.kind == tUnit && next.start == t.end {
		all := p.src.text[t.start:next.end]
		p.fail(p.src.span(int(t.start), int(next.end)), CodeBadName, "the name %s starts with a digit", all).
			Hint = "start it with a letter: " + p.text(next) + p.text(t) + " or n" + all
		return
	}
	left := p.leftSpan(t)
	p.fail(left, CodeNotALine, "found a value, want a name before =").
		Hint = "write the name on the left: name = " + short(left.Text())
}

// leftSpan returns the span from t to the last token before the next =.
func (p *parser) leftSpan(t token) diag.Span {
	end := t.end
	for i := p.i; p.toks[i].kind != tAssign && p.toks[i].kind != tEOF; i = p.after(i) {
		end = p.toks[i].end
	}
	return p.src.span(int(t.start), int(end))
}

// reserved reports a word of the language in the place of a name.
func (p *parser) reserved(t token) {
	w := p.text(t)
	p.fail(p.span(t), CodeReserved, "%s is a word of the language and cannot be a name", w).
		Hint = "use another name, such as " + w + "_1"
}

// noBranch reports what stands in the place of the `then` or `else` of an if.
func (p *parser) noBranch(start token, want kind) {
	if p.bad {
		return
	}
	if !p.atEnd() && !p.tok.kind.isWord() && p.tok.kind != tRParen && p.tok.kind != tRBracket && p.tok.kind != tComma {
		p.unexpected("an operator or " + kindText[want])
		return
	}
	d := p.fail(p.place(), CodeNoElse, "found %s, want %s", p.describe(p.tok), kindText[want])
	d.Hint = "a conditional has all three parts: if … then … else …"
	d.Also = []diag.Note{{Span: p.span(start), Msg: "the if starts here"}}
}

// wantSignal reports what stands in the place of a signal word.
func (p *parser) wantSignal() {
	if p.bad || p.tok.kind == tBad || p.tok.kind == tOpen {
		p.unexpected("a signal word")
		return
	}
	hint := "write danger, warning, caution or notice"
	switch t := p.tok; t.kind {
	case tString:
		hint = "say how grave it is before the message: danger, warning, caution or notice"
	case tName:
		w := p.text(t)
		if h := p.hintWord(t); h != "" {
			hint = h
		} else if near := diag.Nearest(w, []string{"danger", "warning", "caution", "notice"}); near != "" {
			hint = "did you mean " + near + "?"
		}
	}
	p.fail(p.place(), CodeSignal, "found %s behind else, want a signal word", p.describe(p.tok)).Hint = hint
}

// openInline reports an inline figure without its closing brace.
func (p *parser) openInline(open, to int, quote string) {
	end := min(open+2, to)
	d := p.report(p.src.span(open, end), CodeOpenInline, "the inline figure is not closed")
	d.Hint = "add }"
	if quote == `\"` && to < len(p.src.text) && strings.IndexByte(restOfLine(p.src.text, to+1), '}') >= 0 {
		d.Hint = `within a message a quote is written \"`
		p.giveUp() // the rest of the line is not what was meant
	}
}

func restOfLine(s string, from int) string {
	s = s[min(from, len(s)):]
	if i := strings.IndexByte(s, '\n'); i >= 0 {
		s = s[:i]
	}
	return s
}
