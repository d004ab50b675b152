package syntax

import (
	"strconv"
	"strings"
	"workings/calc/unit"
)

// The levels of binding, from loose to tight.
const (
	levelIf = iota
	levelOr
	levelAnd
	levelNot
	levelCompare
	levelConvert
	levelAdd
	levelMul
	levelUnary
	levelPow
	levelPostfix
)

func level(x Expr) int {
	switch x := x.(type) {
	case *If:
		return levelIf
	case *Unary:
		if x.Op == OpNot {
			return levelNot
		}
		return levelUnary
	case *Convert:
		return levelConvert
	case *Binary:
		switch x.Op {
		case OpOr:
			return levelOr
		case OpAnd:
			return levelAnd
		case OpAdd, OpSub:
			return levelAdd
		case OpMul, OpDiv:
			return levelMul
		case OpPow:
			return levelPow
		}
		return levelCompare
	case *Number:
		if strings.HasPrefix(x.Text, "-") || x.Text == "" && x.V < 0 {
			return levelUnary
		}
	}
	return levelPostfix
}

// Print returns an expression on one line, as it would be written: parsing
// the text gives the tree again. Where a tree was not made by the parser,
// brackets are added as far as they are needed.
func Print(x Expr) string {
	var b strings.Builder
	write(&b, x, levelIf)
	return b.String()
}

// write writes x, in brackets if it binds looser than least.
func write(b *strings.Builder, x Expr, least int) {
	if x == nil {
		return
	}
	if level(x) < least {
		b.WriteByte('(')
		write(b, x, levelIf)
		b.WriteByte(')')
		return
	}
	switch x := x.(type) {
	case *Number:
		printNumber(b, x)
	case *String:
		b.WriteString(Quote(x.Value))
	case *Bool:
		b.WriteString(strconv.FormatBool(x.Value))
	case *Name:
		b.WriteString(x.Name)
	case *Field:
		if _, ok := x.X.(*Number); ok { // 5.x would be a number
			b.WriteByte('(')
			write(b, x.X, levelIf)
			b.WriteByte(')')
		} else {
			write(b, x.X, levelPostfix)
		}
		b.WriteString("." + x.Name.Name)
	case *Unary:
		printUnary(b, x)
	case *Binary:
		printBinary(b, x)
	case *Convert:
		printConvert(b, x)
	case *If:
		b.WriteString("if ")
		write(b, x.Cond, levelIf)
		b.WriteString(" then ")
		write(b, x.Then, levelIf)
		b.WriteString(" else ")
		write(b, x.Else, levelIf)
	case *Call:
		write(b, x.Fun, levelPostfix)
		b.WriteByte('(')
		for i, a := range x.Args {
			if i > 0 {
				b.WriteString(", ")
			}
			if a.Name != nil {
				b.WriteString(a.Name.Name + ": ")
			}
			write(b, a.X, levelIf)
		}
		b.WriteByte(')')
	case *Table:
		b.WriteString("table " + Quote(x.Path.Value))
	case *ListExpr:
		b.WriteByte('[')
		for i, y := range x.Items {
			if i > 0 {
				b.WriteString(", ")
			}
			write(b, y, levelIf)
		}
		b.WriteByte(']')
	case *Paren:
		b.WriteByte('(')
		write(b, x.X, levelIf)
		b.WriteByte(')')
	}
}

func printNumber(b *strings.Builder, x *Number) {
	if x.Text != "" {
		b.WriteString(x.Text)
	} else {
		b.WriteString(strconv.FormatFloat(x.V, 'g', -1, 64))
	}
	if unit.NeedsSpace(x.Unit) { // 15° has none (SI Brochure, 5.4.3)
		b.WriteByte(' ')
	}
	b.WriteString(unitText(x.Unit))
}

// unitText is a unit as a sheet has it: one that only divides stands behind per.
func unitText(u unit.Unit) string {
	if rest, ok := strings.CutPrefix(u.Symbol, "1/"); ok {
		rest = strings.TrimSuffix(strings.TrimPrefix(rest, "("), ")")
		return "per " + strings.ReplaceAll(rest, "*", " per ")
	}
	return u.Symbol
}

func printUnary(b *strings.Builder, x *Unary) {
	if x.Op == OpNot {
		b.WriteString("not ")
		write(b, x.X, levelNot)
		return
	}
	b.WriteString(x.Op.String())
	if u, ok := x.X.(*Unary); ok && x.Op == OpPos && u.Op == OpNeg || x.Op == OpPos && level(x.X) == levelUnary && !ok {
		b.WriteByte(' ') // +- would be read as a tolerance
	}
	write(b, x.X, levelUnary)
}

func printBinary(b *strings.Builder, x *Binary) {
	if x.Op == OpPow {
		if n, ok := x.X.(*Number); ok && n.Unit.Symbol != "" { // 5 mm^2 would be an area
			b.WriteByte('(')
			printNumber(b, n)
			b.WriteByte(')')
		} else {
			write(b, x.X, levelPostfix)
		}
		b.WriteByte('^')
		if u, ok := x.Y.(*Unary); ok && u.Op != OpNot {
			printUnary(b, u)
		} else {
			write(b, x.Y, levelPow)
		}
		return
	}
	l := level(x)
	left, right := l, l+1
	if l == levelCompare { // not associative
		left = l + 1
	}
	write(b, x.X, left)
	b.WriteString(" " + x.Op.String() + " ")
	write(b, x.Y, right)
}

func printConvert(b *strings.Builder, x *Convert) {
	n, ok := x.X.(*Number)
	if ok && n.Unit.Symbol == "" && strings.HasPrefix(x.Unit.Symbol, "in") { // 5 in in would be five inches
		b.WriteByte('(')
		printNumber(b, n)
		b.WriteByte(')')
	} else {
		write(b, x.X, levelAdd)
	}
	b.WriteString(" in ")
	if x.Unit.Symbol == "" {
		b.WriteByte('1')
	}
	b.WriteString(unitText(x.Unit))
}

// Quote returns a text as it is written in a sheet.
func Quote(s string) string { return `"` + quoteSigns.Replace(s) + `"` }

var quoteSigns = strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`)
