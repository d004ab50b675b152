// Package syntax reads the sheet language: design sheets, calculation blocks
// and the inline figures of pages. It gives a tree (ast.go), prints trees and
// lays out sheets; it knows neither names nor values. The grammar is in
// grammar.txt.
package syntax

import (
	"strings"

	"workings/calc/diag"
)

// The bounds of what is parsed.
const (
	maxDepth  = 200    // nesting of brackets, signs, conditionals
	maxNodes  = 10_000 // values and operators of a statement
	maxErrors = 100
)

// Parse parses the lines of a design sheet or calculation block. Lines with
// mistakes are left out of the sheet, their names are in Sheet.Broken, and
// every other line is there. segs says which parts of the file are read, nil
// being all of it.
func Parse(file *diag.File, segs []Seg) (*Sheet, diag.List) {
	p, ok := newParser(file, segs)
	sheet := &Sheet{File: file}
	if !ok {
		return sheet, p.list
	}
	joinLines(p.toks, p.src.text)
	p.parseSheet(sheet)
	return sheet, p.finish()
}

// parser holds the state of one parse. After an error p.bad is set and p.tok
// is a stand-in for the end of the statement, so that every parseX returns
// soon and says nothing more.
type parser struct {
	src     *source
	toks    []token
	marks   []mark
	quote   string
	i       int   // index of tok in toks
	tok     token // the token to be parsed next
	prev    token // the one before it
	list    diag.List
	bad     bool   // nothing more of this statement can be parsed
	broken  bool   // something of this statement is wrong
	notes   []note // comments met since the start of the statement
	clauses bool   // a clause of this statement has been parsed: no operator can follow
	depth   int
	nodes   int
	pool    *pool
	units   *unitCache
	heads   heads
	inline  bool // the text stands within other text and has no lines
}

// heads says behind which values `+a -b` is a tolerance.
type heads int

const (
	headNone    heads = iota
	headLiteral       // a number alone: definitions
	headAny           // any value: checks
)

// A note is a comment on a line of a statement.
type note struct{ start, end int32 }

func newParser(file *diag.File, segs []Seg) (*parser, bool) {
	p := &parser{src: newSource(file, segs), quote: `"`, units: &unitCache{}, pool: &pool{}}
	if len(p.src.text) > maxText {
		p.list.Add(p.src.span(0, 0), CodeTooLarge, "the text has %d bytes, at most %d are read", len(p.src.text), maxText).
			Hint = "keep long data in tables, not in sheets"
		return p, false
	}
	p.toks, p.marks = scan(p.src.text, 0, len(p.src.text), p.quote)
	return p, true
}

// sub returns a parser of text[from:to], which shares what is known.
func (p *parser) sub(from, to int, quote string) *parser {
	q := &parser{src: p.src, quote: quote, units: p.units, pool: p.pool, inline: true}
	q.toks, q.marks = scan(p.src.text, from, to, quote)
	softenAll(q.toks)
	return q
}

// start makes toks[i] the next token, at the start of a statement.
func (p *parser) start(i int) {
	p.i = i
	p.tok = p.toks[i]
	p.prev = token{kind: tNewline, start: p.tok.start, end: p.tok.start}
	p.bad, p.broken, p.clauses = false, false, false
	p.notes = p.notes[:0]
	p.depth, p.nodes = 0, 0
}

// next goes on to the next token. Comments within a statement are kept aside.
func (p *parser) next() {
	if p.bad || p.tok.kind == tEOF {
		return
	}
	p.prev = p.tok
	p.i++
	p.settle()
}

// settle goes on to the first token from p.i that means something.
func (p *parser) settle() {
	for ; ; p.i++ {
		switch t := p.toks[p.i]; t.kind {
		case tSoft:
		case tComment:
			p.notes = append(p.notes, note{t.start, t.end})
		default:
			p.tok = t
			return
		}
	}
}

// after returns the index of the token that follows toks[i].
func (p *parser) after(i int) int {
	if p.toks[i].kind == tEOF {
		return i
	}
	for i++; p.toks[i].kind == tSoft || p.toks[i].kind == tComment; i++ {
	}
	return i
}

// peek returns the token after p.tok.
func (p *parser) peek() token {
	if p.bad {
		return p.tok
	}
	return p.toks[p.after(p.i)]
}

func (p *parser) text(t token) string { return p.src.text[t.start:t.end] }

func (p *parser) span(t token) diag.Span { return p.src.span(int(t.start), int(t.end)) }

// since returns the span from offset start to the end of the last token.
func (p *parser) since(start int32) diag.Span {
	return p.src.span(int(start), int(max(p.prev.end, start)))
}

// report adds an error after which the statement can still be parsed.
func (p *parser) report(span diag.Span, code, format string, args ...any) *diag.Diag {
	if p.bad {
		return &diag.Diag{}
	}
	p.broken = true
	return p.list.Add(span, code, format, args...)
}

// fail adds an error and gives up the statement.
func (p *parser) fail(span diag.Span, code, format string, args ...any) *diag.Diag {
	d := p.report(span, code, format, args...)
	p.giveUp()
	return d
}

func (p *parser) giveUp() {
	p.bad, p.broken = true, true
	p.tok = token{kind: tNewline, start: p.prev.end, end: p.prev.end}
}

// accept goes past a token of kind k, if that is the next one.
func (p *parser) accept(k kind) bool {
	if p.bad || p.tok.kind != k {
		return false
	}
	p.next()
	return true
}

// acceptWord goes past a name with a meaning of its own at this place.
func (p *parser) acceptWord(w string) bool {
	if !p.isWord(w) {
		return false
	}
	p.next()
	return true
}

func (p *parser) isWord(w string) bool {
	return !p.bad && p.tok.kind == tName && p.text(p.tok) == w
}

// atEnd reports whether the statement ends here.
func (p *parser) atEnd() bool { return p.tok.kind == tNewline || p.tok.kind == tEOF }

// parseSheet parses statements up to the end of the text.
func (p *parser) parseSheet(sheet *Sheet) {
	for i := 0; ; {
		for p.toks[i].kind == tNewline || p.toks[i].kind == tSoft {
			i++
		}
		if p.toks[i].kind == tEOF || len(p.list) >= maxErrors {
			break
		}
		if t := p.toks[i]; t.kind == tComment {
			if !p.marked(t.start, t.end) {
				sheet.Stmts = append(sheet.Stmts, &Remark{Text: p.comment(t.start, t.end), Pos: p.span(t)})
			}
			i++
			continue
		}
		p.start(i)
		name, stmt := p.parseStmt()
		if !p.bad && !p.atEnd() {
			p.unexpected("an operator or the end of the line")
		}
		if p.marked(p.toks[i].start, p.toks[p.i].start) {
			p.broken = true
		}
		if p.broken {
			if name.Name != "" {
				sheet.Broken = append(sheet.Broken, name)
			}
		} else if stmt != nil {
			sheet.Stmts = append(sheet.Stmts, stmt)
		}
		// Resume at the next statement.
		for i = p.i; p.toks[i].kind != tNewline && p.toks[i].kind != tEOF; i++ {
		}
	}
}

// marked reports whether something is wrong inside a text or comment between
// two offsets.
func (p *parser) marked(from, to int32) bool {
	for _, m := range p.marks {
		if m.start >= int(from) && m.start < int(to) {
			return true
		}
	}
	return false
}

// finish returns all errors in reading order.
func (p *parser) finish() diag.List {
	for _, m := range p.marks {
		p.explainMark(m)
	}
	list := p.list.Sorted()
	if len(list) > maxErrors {
		at := list[maxErrors].Span
		list = list[:maxErrors]
		list.Add(at, CodeTooMany, "more than %d errors: from here on none are shown", maxErrors)
	} else if len(list) == maxErrors {
		at := list[maxErrors-1].Span
		at.Start = at.End
		list.Add(at, CodeTooMany, "%d errors: nothing is read from here on", maxErrors)
	}
	return list
}

// comment returns the text of a comment without its sign.
func (p *parser) comment(start, end int32) string {
	return strings.ToValidUTF8(strings.TrimSpace(p.src.text[start+1:end]), "\ufffd")
}

// caption returns the comments on the lines of the statement, taken together.
func (p *parser) caption() string {
	switch len(p.notes) {
	case 0:
		return ""
	case 1:
		return p.comment(p.notes[0].start, p.notes[0].end)
	}
	var all []string
	for _, n := range p.notes {
		if s := p.comment(n.start, n.end); s != "" {
			all = append(all, s)
		}
	}
	return strings.Join(all, " ")
}
