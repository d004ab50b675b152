package mathml

import "strings"

// text writes a node as plain text.
func text(n node) string {
	var b strings.Builder
	b.Grow(64) // of most formulas
	textTo(&b, n)
	return b.String()
}

func textTo(b *strings.Builder, n node) {
	switch n.kind {
	case kindRow, kindQuantity:
		for _, k := range n.kids {
			textTo(b, k)
		}
	case kindWord:
		if n.kids != nil { // the name as it is written
			textTo(b, n.kids[0])
			return
		}
		b.WriteString(n.text)
	case kindSub, kindLetter, kindNumber, kindText, kindPrefix:
		b.WriteString(n.text)
	case kindInfix:
		b.WriteByte(' ')
		b.WriteString(n.text)
		b.WriteByte(' ')
	case kindMark:
		b.WriteString(n.text)
		if n.text != "." {
			b.WriteByte(' ')
		}
	case kindTimes:
		b.WriteString(" ⋅ ")
	case kindFrac:
		textIn(b, n.kids[0], levelMul)
		b.WriteString(" / ")
		textIn(b, n.kids[1], levelPow)
	case kindSup:
		textTo(b, n.kids[0])
		e := text(n.kids[1])
		if strings.Trim(e, "0123456789−") == "" {
			b.WriteString(superscript.Replace(e))
			return
		}
		b.WriteByte('^')
		textIn(b, n.kids[1], levelAtom)
	case kindSqrt:
		b.WriteString("√")
		textIn(b, n.kids[0], levelAtom)
	case kindRoot:
		b.WriteString(superscript.Replace(n.kids[1].text) + "√")
		textIn(b, n.kids[0], levelAtom)
	case kindFence:
		b.WriteString(n.text[:1])
		textTo(b, n.kids[0])
		b.WriteString(n.text[1:])
	case kindCases:
		for i, pair := range n.kids {
			if i > 0 {
				b.WriteString("; ")
			}
			textTo(b, pair.kids[0])
			b.WriteByte(' ')
			textTo(b, pair.kids[1])
		}
	case kindArgs:
		for i, pair := range n.kids {
			if i > 0 {
				b.WriteString(n.text + " ")
			}
			textTo(b, pair.kids[0])
			if pair.kids[0].text != "" {
				b.WriteByte(' ')
			}
			textTo(b, pair.kids[1])
		}
	}
}

// textIn writes a part in brackets if it is looser than least.
func textIn(b *strings.Builder, n node, least level) {
	if n.level < least || n.level == levelFrac && least == levelPow {
		b.WriteByte('(')
		textTo(b, n)
		b.WriteByte(')')
		return
	}
	textTo(b, n)
}
