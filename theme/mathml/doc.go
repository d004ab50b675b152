// Package mathml sets the formulas of sheets as MathML Core, the way an
// engineer writes them, and as plain text for copying, speech and the command
// line.
package mathml

import (
	"bytes"
	"sync"

	"workings/calc/syntax"
	"workings/calc/unit"
)

// Options say what stands around a formula and how it is written. The zero
// value is a formula in a line of text.
type Options struct {
	Decimal rune      // decimal sign; 0 means '.'. With ',' lists are parted by ';'
	Display bool      // alone on its line: fractions in full size
	Break   bool      // may be broken into lines: a math element for each piece
	Name    string    // "name =" stands before the formula
	Params  []string  // of a function: "name(a, b) ="
	Result  *Quantity // "= result" stands behind it
	Alt     string    // class of a text, hidden from sight, for those who listen; "": none
	Words   *Words    // nil: English
}

// A Quantity is a rounded number, plain ASCII ("1384", "-2.50", "1.2e-9"), or a
// text, and its unit.
type Quantity struct {
	Number string
	Unit   unit.Unit
}

// Words are those that stand in formulas.
type Words struct {
	And, Or, Not, If, Otherwise string
	True, False                 string
	Table                       string
}

var english = Words{"and", "or", "not", "if", "otherwise", "true", "false", "table"}

// A Value gives what a *syntax.Name or *syntax.Field stands for; ok is false if
// it is to stay as it is.
type Value func(x syntax.Expr) (number string, u unit.Unit, ok bool)

// CSS is what the formulas need of a style sheet: MathML Core leaves the
// alignment of tables to it, and brackets grow only in fonts made for formulas.
const CSS = `math{font-family:"STIX Two Math","Cambria Math","Latin Modern Math","DejaVu Math TeX Gyre",math,serif}
math .cases mtd,math .args mtd{text-align:left;padding:.1em .45em .1em 0}
math .cases,math .args{margin-left:.15em}
math mtext.m{font:500 .94em var(--label,sans-serif)}
`

// Formula writes an expression as MathML.
func Formula(x syntax.Expr, o Options) string { return Substituted(x, nil, o) }

// Substituted writes an expression as MathML with its names replaced by their
// values and units, where value knows them.
func Substituted(x syntax.Expr, value Value, o Options) string {
	n := o.line(x, value)
	parts := []node{n}
	if o.Break {
		parts = pieces(n)
	}
	buf := buffers.Get().(*[2]bytes.Buffer)
	defer buffers.Put(buf)
	b, inner := &buf[0], &buf[1]
	b.Reset()
	for i, p := range parts {
		if i > 0 {
			b.WriteString("\u200b") // a line may end here
		}
		inner.Reset()
		(&writer{b: inner, display: o.Display}).put(p)
		b.WriteString("<math")
		if o.Display && stacked(inner.Bytes()) {
			b.WriteString(` displaystyle="true"`)
		}
		if o.Alt != "" {
			b.WriteString(` aria-hidden="true"`)
		}
		b.WriteString(">")
		b.Write(inner.Bytes())
		b.WriteString("</math>")
	}
	if o.Alt != "" {
		(&writer{b: b}).write(`<span class="`, esc(o.Alt), `">`, esc(text(n)), `</span>`)
	}
	return b.String()
}

// buffers are kept from formula to formula.
var buffers = sync.Pool{New: func() any { return new([2]bytes.Buffer) }}

// stacked reports whether a formula has fractions, which a line of text sets smaller.
func stacked(mathml []byte) bool {
	return bytes.Contains(mathml, []byte("<mfrac"))
}

// FormulaText writes an expression as plain text.
func FormulaText(x syntax.Expr, o Options) string { return SubstitutedText(x, nil, o) }

// SubstitutedText is Substituted as plain text.
func SubstitutedText(x syntax.Expr, value Value, o Options) string { return text(o.line(x, value)) }

// Symbol writes a name, "belt.hot" or "T_hot", as MathML.
func Symbol(name string) string {
	var b bytes.Buffer
	b.WriteString("<math>")
	(&writer{b: &b}).put(dotted(name))
	b.WriteString("</math>")
	return b.String()
}

// SymbolText writes a name as plain text.
func SymbolText(name string) string { return text(dotted(name)) }

// line is the formula with what stands around it.
func (o Options) line(x syntax.Expr, value Value) node {
	w := o.Words
	if w == nil {
		w = &english
	}
	s := setter{o: o, w: w, value: value}
	var kids []node
	if o.Name != "" {
		left := dotted(o.Name)
		if o.Params != nil {
			var ps []node
			for _, p := range o.Params {
				ps = append(ps, name(p))
			}
			left = s.call(left, ps)
		}
		kids = append(kids, left, infix("="))
	}
	if x != nil {
		kids = append(kids, s.set(x, levelIf))
	}
	if o.Result != nil {
		kids = append(kids, infix("="), s.quantity(o.Result.Number, o.Result.Unit))
	}
	if len(kids) == 1 {
		return kids[0]
	}
	return row(levelCompare, kids...)
}
