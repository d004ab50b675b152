package mathml

import (
	"bytes"
	"html"
	"strings"
)

func esc(s string) string { return html.EscapeString(s) }

// A writer writes nodes as MathML.
type writer struct {
	b       *bytes.Buffer
	display bool // fractions in full size
	script  bool // within an exponent or index
	depth   int  // how many fractions this one stands in
	first   bool // at the beginning of a row
}

func (w *writer) write(parts ...string) {
	for _, s := range parts {
		w.b.WriteString(s)
	}
}

func (w *writer) put(n node) {
	b := w.b
	switch n.kind {
	case kindRow, kindQuantity:
		if len(n.kids) == 1 {
			w.put(n.kids[0])
			return
		}
		w.in("mrow", n.kids...)
	case kindLetter:
		if n.kids != nil {
			w.write(`<mi mathvariant="normal">`, esc(n.text), "</mi>")
			return
		}
		w.write("<mi>", esc(n.text), "</mi>")
	case kindWord:
		w.write("<mi>", esc(n.text), "</mi>")
	case kindNumber:
		w.write("<mn>", esc(n.text), "</mn>")
	case kindText:
		tag := "<mtext>"
		if n.kids != nil {
			tag = `<mtext class="m">`
		}
		w.write(tag, esc(edgesKept(n.text)), "</mtext>")
	case kindInfix:
		if w.first { // it would be taken for a sign
			w.write(`<mo form="infix">`, esc(n.text), "</mo>")
			return
		}
		w.write("<mo>", esc(n.text), "</mo>")
	case kindPrefix:
		w.write(`<mo form="prefix">`, esc(n.text), "</mo>")
	case kindMark:
		if n.text == "." {
			b.WriteString(`<mtext>.</mtext>`)
		} else {
			w.write(`<mo separator="true" lspace="0" rspace=".3em">`, esc(n.text), "</mo>")
		}
	case kindTimes:
		b.WriteString(`<mo lspace=".17em" rspace="0">&#x2062;</mo>`)
	case kindApply:
		b.WriteString("<mo>&#x2061;</mo>")
	case kindFrac:
		w.frac(n)
	case kindSup, kindSub:
		tag := "msup"
		if n.kind == kindSub {
			tag = "msub"
		}
		w.write("<", tag, ">")
		w.put(n.kids[0])
		was := w.script
		w.script = true
		w.put(n.kids[1])
		w.script = was
		w.write("</", tag, ">")
	case kindSqrt:
		w.in("msqrt", n.kids...)
	case kindRoot:
		w.in("mroot", n.kids...)
	case kindFence:
		grow := ""
		if n.text == "||" {
			grow = ` stretchy="true"`
		}
		w.write(`<mrow><mo form="prefix"`, grow, `>`, n.text[:1], "</mo>")
		w.put(n.kids[0])
		w.write(`<mo form="postfix"`, grow, `>`, n.text[1:], "</mo></mrow>")
	case kindCases:
		b.WriteString(`<mrow><mo form="prefix" stretchy="true">{</mo>`)
		w.table(n, "cases")
		b.WriteString("</mrow>")
	case kindArgs:
		w.table(n, "args")
	}
}

// in writes nodes within an element.
func (w *writer) in(tag string, kids ...node) {
	w.write("<", tag, ">")
	for i, k := range kids {
		w.first = i == 0
		w.put(k)
		w.first = false
	}
	w.write("</", tag, ">")
}

// frac writes a fraction. In an exponent, in the third storey, and where a
// short one stands in another, it has a slanted bar, or it would be too small
// to read.
func (w *writer) frac(n node) {
	if w.script || w.depth > 1 || w.depth == 1 && short(n.kids[0]) && short(n.kids[1]) {
		w.b.WriteString("<mrow>")
		w.bracketed(n.kids[0], levelMul)
		w.b.WriteString(`<mo lspace="0" rspace="0">/</mo>`)
		w.bracketed(n.kids[1], levelPow)
		w.b.WriteString("</mrow>")
		return
	}
	full := w.depth > 0 && w.display
	if full { // a style of its own: checkers of HTML know no display style on a fraction
		w.b.WriteString(`<mstyle displaystyle="true">`)
	}
	w.b.WriteString("<mfrac>")
	w.depth++
	w.put(n.kids[0])
	w.put(n.kids[1])
	w.depth--
	w.b.WriteString("</mfrac>")
	if full {
		w.b.WriteString("</mstyle>")
	}
}

// short reports whether a part of a fraction is a few symbols.
func short(n node) bool {
	switch n.kind {
	case kindLetter, kindNumber:
		return true
	case kindSub, kindSup:
		return short(n.kids[0])
	case kindRow:
		if len(n.kids) > 3 || n.level < levelMul {
			return false
		}
		for _, k := range n.kids {
			if k.kind != kindTimes && !short(k) {
				return false
			}
		}
		return true
	}
	return false
}

// bracketed writes a part of a fraction with a slanted bar.
func (w *writer) bracketed(n node, least level) {
	if n.level < least || n.level == levelFrac && least == levelPow {
		n = fence(n)
	}
	w.put(n)
}

// table writes pairs, one a row.
func (w *writer) table(n node, class string) {
	w.write(`<mtable class="`, class, `">`)
	for _, pair := range n.kids {
		w.b.WriteString("<mtr>")
		for _, k := range pair.kids {
			w.in("mtd", k)
		}
		w.b.WriteString("</mtr>")
	}
	w.b.WriteString("</mtable>")
}

// edgesKept makes the spaces at the ends of a text no-break ones, since plain
// ones are trimmed.
func edgesKept(s string) string {
	if strings.HasPrefix(s, " ") {
		s = "\u00a0" + s[1:]
	}
	if strings.HasSuffix(s, " ") {
		s = s[:len(s)-1] + "\u00a0"
	}
	return s
}
