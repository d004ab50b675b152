package syntax

import (
	"strings"
	"unicode/utf8"

	"workings/calc/diag"
)

// Lines that are wider than these do not move the others of their group.
const (
	widestName = 24 // what stands before =
	widestCode = 64 // what stands before a caption
)

// Tidy returns the lines of a sheet in one layout: signs and words with the
// same spaces everywhere, continued lines indented, at most one blank line
// between lines, and, among lines without a blank line between them, the =
// signs and the captions in columns. Line breaks, comments and the spelling of
// numbers, units and texts stay; a text that is tidy stays as it is. Text with
// mistakes is not laid out: the result is then empty, and the list says why.
func Tidy(file *diag.File, segs []Seg) (string, diag.List) {
	p, ok := newParser(file, segs)
	if !ok {
		return "", p.list
	}
	joinLines(p.toks, p.src.text)
	p.parseSheet(&Sheet{File: file})
	if list := p.finish(); list.HasErrors() {
		return "", list
	}
	t := &tidier{p: p}
	t.lines()
	t.align()
	return t.write(), nil
}

// A tidyLine is one line of the result.
type tidyLine struct {
	blank bool   // a blank line stands before it
	name  string // what stands before its =, "" if nothing is aligned
	code  string // what stands behind name
	note  string // comment
}

type tidier struct {
	p     *parser
	out   []tidyLine
	blank bool
	// The line and statement being laid out:
	line   tidyLine
	open   bool  // line has something on it
	first  bool  // it is the first of its statement
	indent int   // of the line
	stack  []int // for each open bracket, the indent of the line it stands on
	prev   token // the token before within the statement; kind tNewline at its start
	unary  bool  // prev is a sign of one value
}

// lines cuts the tokens into lines, with one space where there is one.
func (t *tidier) lines() {
	t.newStatement()
	for _, tok := range t.p.toks {
		switch tok.kind {
		case tNewline, tEOF:
			if t.open {
				t.flush()
			} else if len(t.out) > 0 {
				t.blank = true
			}
			t.newStatement()
		case tSoft:
			if t.open {
				t.flush()
			}
			t.first = false
		case tComment:
			t.comment(tok)
		default:
			t.add(tok)
		}
	}
}

func (t *tidier) newStatement() {
	t.first = true
	t.stack = t.stack[:0]
	t.prev = token{kind: tNewline}
	t.unary = false
}

func (t *tidier) flush() {
	t.out = append(t.out, t.line)
	t.line, t.open = tidyLine{}, false
}

// begin starts a line with its indent, unless it has been started.
func (t *tidier) begin(k kind) {
	if t.open {
		return
	}
	t.open = true
	t.line.blank = t.blank
	t.blank = false
	t.indent = 0
	switch n := len(t.stack); {
	case n > 0 && (k == tRParen || k == tRBracket):
		t.indent = t.stack[n-1]
	case n > 0:
		t.indent = t.stack[n-1] + 2
	case !t.first:
		t.indent = 2
	}
	t.line.code = strings.Repeat(" ", t.indent)
}

// comment adds a comment: behind the code of its line, or as a line of its own,
// the inside of which is left as it is.
func (t *tidier) comment(tok token) {
	s := strings.TrimRight(t.p.src.text[tok.start+1:tok.end], " \t\r")
	if t.open {
		if s = strings.TrimSpace(s); s != "" {
			t.line.note = "# " + s
		}
		return
	}
	t.begin(tComment)
	if s != "" && s[0] != ' ' && s[0] != '\t' && s[0] != '#' {
		s = " " + s
	}
	t.line.code += "#" + s
}

// add adds a token.
func (t *tidier) add(tok token) {
	glue := !t.open
	t.begin(tok.kind)
	if tok.kind == tAssign && t.first && len(t.stack) == 0 {
		t.line.name, t.line.code = t.line.code, ""
		glue = true
	}
	if !glue && t.space(tok) {
		t.line.code += " "
	}
	t.line.code += t.spelling(tok)
	switch tok.kind {
	case tLParen, tLBracket:
		t.stack = append(t.stack, t.indent)
	case tRParen, tRBracket:
		if n := len(t.stack); n > 0 {
			t.stack = t.stack[:n-1]
		}
	}
	t.unary = (tok.kind == tPlus || tok.kind == tMinus) && (tok.deviation || !t.prev.kind.endsValue())
	t.prev = tok
}

// space reports whether a space stands between the token before and tok.
func (t *tidier) space(tok token) bool {
	switch tok.kind {
	case tComma, tColon, tDot, tRParen, tRBracket, tPow, tSquare, tCube:
		return false
	}
	switch t.prev.kind {
	case tDot, tLParen, tLBracket, tPow:
		return false
	case tName:
		return tok.kind != tLParen
	}
	// Two signs in a row keep apart: +- would be read as a tolerance.
	return !t.unary || tok.kind == tPlus || tok.kind == tMinus
}

// spelling returns the text of a token, signs in their plain spelling.
func (t *tidier) spelling(tok token) string {
	switch tok.kind {
	case tNumber:
		return t.p.digitsOf(tok)
	case tUnit, tString, tName:
		return t.p.text(tok)
	case tSquare:
		return "^2"
	case tCube:
		return "^3"
	}
	return kindText[tok.kind]
}

// align puts the = signs and the captions of each group into columns.
func (t *tidier) align() {
	for from := 0; from < len(t.out); {
		to := from + 1
		for to < len(t.out) && !t.out[to].blank {
			to++
		}
		group := t.out[from:to]
		names := 0
		for _, l := range group {
			if n := utf8.RuneCountInString(l.name); n <= widestName {
				names = max(names, n)
			}
		}
		code := 0
		for i := range group {
			l := &group[i]
			if l.name != "" {
				l.code = pad(l.name, names) + " " + l.code
			}
			if n := utf8.RuneCountInString(l.code); l.note != "" && n <= widestCode {
				code = max(code, n)
			}
		}
		for i := range group {
			if l := &group[i]; l.note != "" {
				l.code = pad(l.code, code) + "  " + l.note
			}
		}
		from = to
	}
}

func pad(s string, width int) string {
	if n := utf8.RuneCountInString(s); n < width {
		return s + strings.Repeat(" ", width-n)
	}
	return s
}

func (t *tidier) write() string {
	var b strings.Builder
	for _, l := range t.out {
		if l.blank {
			b.WriteByte('\n')
		}
		b.WriteString(l.code)
		b.WriteByte('\n')
	}
	return b.String()
}
