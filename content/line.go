package content

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/text"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/syntax"
)

// A cursor reads one line of a block from pos to end, offsets in the page.
type cursor struct {
	d        *draft
	pos, end int
}

func (d *draft) cursor(start, end int) *cursor { return &cursor{d, start, end} }

// entries gives a cursor for each line of a block that says something, without
// its comment and outer spaces. Lines with a text that is not closed are
// reported and left out; then ok is false.
func (d *draft) entries(lines *text.Segments) (list []*cursor, ok bool) {
	src := d.page.File.Text
	ok = true
	for i := range lines.Len() {
		s := lines.At(i)
		c := d.cursor(s.Start, s.Stop)
		c.scan(func(at int, r rune) bool {
			if r == '#' {
				c.end = at
				return false
			}
			return true
		}, true)
		c.space()
		for c.end > c.pos && strings.IndexByte(" \t\n\r", src[c.end-1]) >= 0 {
			c.end--
		}
		switch {
		case c.done():
		case c.closed():
			list = append(list, c)
		default:
			ok = false
		}
	}
	return list, ok
}

// closed reports a quoted text that does not end on the line.
func (c *cursor) closed() bool {
	src := c.src()
	for i := c.pos; i < c.end; i++ {
		if src[i] != '"' {
			continue
		}
		start := i
		for i++; i < c.end && src[i] != '"'; i++ {
			if src[i] == '\\' {
				i++
			}
		}
		if i >= c.end {
			c.d.list.Add(c.d.span(start, c.end), "open-text", "this text is not closed").Hint = `end it with "`
			return false
		}
	}
	return true
}

func (c *cursor) src() []byte { return c.d.page.File.Text }

func (c *cursor) peek() byte {
	if c.pos < c.end {
		return c.src()[c.pos]
	}
	return 0
}

func (c *cursor) done() bool { return c.pos >= c.end }

func (c *cursor) space() {
	for c.pos < c.end && strings.IndexByte(" \t\n\r", c.src()[c.pos]) >= 0 {
		c.pos++
	}
}

// here is the place of the next sign, or of the line's end.
func (c *cursor) here() diag.Span { return c.d.span(c.pos, min(c.pos+1, c.end)) }

// rest is what is left of the line.
func (c *cursor) rest() diag.Span { return c.d.span(c.pos, c.end) }

// scan calls f for every sign outside quotes, and with inBrackets also for
// those inside brackets, until f returns false.
func (c *cursor) scan(f func(at int, r rune) bool, inBrackets bool) {
	src := c.src()
	depth := 0
	for i := c.pos; i < c.end; {
		r, n := utf8.DecodeRune(src[i:c.end])
		switch r {
		case '"':
			if (inBrackets || depth == 0) && !f(i, r) {
				return
			}
			for i++; i < c.end && src[i] != '"'; i++ {
				if src[i] == '\\' {
					i++
				}
			}
			i++
			continue
		case '(', '[', '{':
			depth++
		case ')', ']', '}':
			depth--
		}
		if (inBrackets || depth <= 0) && !f(i, r) {
			return
		}
		i += n
	}
}

// word reads an id: letters, digits, _ and -, beginning with a letter.
func (c *cursor) word() (string, diag.Span) {
	c.space()
	start := c.pos
	for c.pos < c.end {
		r, n := utf8.DecodeRune(c.src()[c.pos:c.end])
		if !(unicode.IsLetter(r) || r == '_' || c.pos > start && (unicode.IsDigit(r) || r == '-')) {
			break
		}
		c.pos += n
	}
	at := c.d.span(start, c.pos)
	return at.Text(), at
}

// quoted reads a quoted text; it reports one that is not closed and returns nil.
func (c *cursor) quoted() *syntax.Text {
	src := c.src()
	start := c.pos
	var b strings.Builder
	for i := start + 1; i < c.end; i++ {
		switch {
		case src[i] == '"':
			c.pos = i + 1
			return &syntax.Text{Value: b.String(), Pos: c.d.span(start, c.pos)}
		case src[i] == '\\' && i+1 < c.end && (src[i+1] == '"' || src[i+1] == '\\'):
			i++
		case src[i] == '{' && i+1 < c.end && src[i+1] == '=' && src[i-1] != '\\':
			// The quotes within a figure are its own.
			if n := figureEnd(src[i:c.end]); n > 0 {
				b.Write(src[i : i+n-1])
				i += n - 1
			}
		}
		b.WriteByte(src[i])
	}
	c.d.list.Add(c.d.span(start, c.end), "open-text", "this text is not closed").Hint = `end it with "`
	c.pos = c.end
	return nil
}

// plain reads a quoted text in which figures have no place.
func (c *cursor) plain() string {
	q := c.quoted()
	if q == nil {
		return ""
	}
	c.d.noFigure(q.Pos)
	return q.Value
}

func (d *draft) noFigure(at diag.Span) {
	if i := strings.Index(at.Text(), "{="); i >= 0 {
		d.list.Add(d.span(at.Start+i, at.Start+i+2), "figure-place", "a figure cannot stand here").
			Hint = "this text is shown as it is written"
	}
}

// label takes a quoted text off the end of the line.
func (c *cursor) label() string {
	src := c.src()
	if c.done() || src[c.end-1] != '"' {
		return ""
	}
	last := -1
	c.scan(func(at int, r rune) bool {
		if r == '"' {
			last = at
		}
		return true
	}, false)
	if last <= c.pos {
		return ""
	}
	q := c.d.cursor(last, c.end)
	s := q.plain()
	c.end = last
	for c.end > c.pos && (src[c.end-1] == ' ' || src[c.end-1] == '\t') {
		c.end--
	}
	return s
}

// find returns where a word stands outside quotes and brackets, or -1. With
// text, the word must be followed by a quoted text.
func (c *cursor) find(word string, text bool) int {
	src := c.src()
	found := -1
	isPart := func(b byte) bool {
		return b == '_' || b >= '0' && b <= '9' || b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' || b >= 0x80 || b == '.'
	}
	c.scan(func(at int, r rune) bool {
		end := at + len(word)
		if end > c.end || string(src[at:end]) != word {
			return true
		}
		if at > c.pos && isPart(src[at-1]) || end < c.end && isPart(src[end]) {
			return true
		}
		if text {
			for end < c.end && (src[end] == ' ' || src[end] == '\t') {
				end++
			}
			if end >= c.end || src[end] != '"' {
				return true
			}
		}
		found = at
		return false
	}, false)
	return found
}

// expr parses an expression from the cursor up to end and enters it; -1 if it
// cannot be read.
func (c *cursor) expr(end int, want calc.Want, missing string) (int, syntax.Expr) {
	c.space()
	src := c.src()
	for end > c.pos && (src[end-1] == ' ' || src[end-1] == '\t') {
		end--
	}
	if c.pos >= end {
		c.d.list.Add(c.d.span(c.pos, c.pos+1), "missing-expression", "%s is missing", missing)
		return -1, nil
	}
	x, errs := syntax.ParseExpr(c.d.page.File, []syntax.Seg{{Start: c.pos, End: end}})
	c.d.list = append(c.d.list, errs...)
	c.pos = end
	if errs.HasErrors() || x == nil {
		return -1, nil
	}
	return c.d.expr(x, exprForm{want: want}), x
}
