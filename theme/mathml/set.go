package mathml

import (
	"strings"

	"workings/calc/syntax"
	"workings/calc/unit"
)

// A setter turns expressions into what is set on paper.
type setter struct {
	o     Options
	w     *Words
	value Value
}

// set sets an expression, in brackets if it is looser than least. Brackets of
// the sheet are dropped: those that are needed come back.
func (s setter) set(x syntax.Expr, least level) node {
	n := s.piece(x)
	if n.level < least {
		return fence(n)
	}
	return n
}

// behind sets what stands behind an operator.
func (s setter) behind(x syntax.Expr, least level) node {
	n := s.set(x, least)
	if signed(n) {
		return fence(n)
	}
	return n
}

func (s setter) piece(x syntax.Expr) node {
	if n, ok := s.known(x); ok {
		return n
	}
	switch x := x.(type) {
	case *syntax.Number:
		if x.Text == "" {
			return s.quantity(plain(x.V), x.Unit)
		}
		return s.quantity(x.Text, x.Unit)
	case *syntax.String:
		return leaf(kindText, "“"+x.Value+"”")
	case *syntax.Bool:
		if x.Value {
			return leaf(kindText, s.w.True)
		}
		return leaf(kindText, s.w.False)
	case *syntax.Name:
		return name(x.Name)
	case *syntax.Field:
		return row(levelAtom, s.set(x.X, levelAtom), mark("."), name(x.Name.Name))
	case *syntax.Paren:
		return s.piece(x.X)
	case *syntax.Convert: // the unit of the result shows it
		return s.piece(x.X)
	case *syntax.Unary:
		return s.unary(x)
	case *syntax.Binary:
		return s.binary(x)
	case *syntax.If:
		return s.cases(x)
	case *syntax.Call:
		return s.application(x)
	case *syntax.Table:
		return row(levelAtom, leaf(kindText, s.w.Table+"\u00a0“"+x.Path.Value+"”"))
	case *syntax.ListExpr:
		n := fence(row(levelAtom, s.list(x.Items)...))
		n.text = "[]"
		return n
	}
	return row(levelAtom)
}

// known sets the value of a name.
func (s setter) known(x syntax.Expr) (node, bool) {
	if s.value == nil {
		return node{}, false
	}
	switch x.(type) {
	case *syntax.Name, *syntax.Field:
		if number, u, ok := s.value(x); ok {
			return s.quantity(number, u), true
		}
	}
	return node{}, false
}

func (s setter) unary(x *syntax.Unary) node {
	switch x.Op {
	case syntax.OpNot:
		return row(levelNot, leaf(kindText, s.w.Not+"\u00a0"), s.set(x.X, levelNot))
	case syntax.OpPos:
		return row(levelSign, leaf(kindPrefix, "+"), s.behind(x.X, levelMul))
	}
	return row(levelSign, leaf(kindPrefix, "−"), s.behind(x.X, levelMul))
}

var signs = map[syntax.Op]string{
	syntax.OpLT: "<", syntax.OpLE: "≤", syntax.OpGT: ">", syntax.OpGE: "≥", syntax.OpEQ: "=", syntax.OpNE: "≠",
	syntax.OpAdd: "+", syntax.OpSub: "−",
}

func (s setter) binary(x *syntax.Binary) node {
	switch x.Op {
	case syntax.OpAdd:
		return row(levelAdd, s.set(x.X, levelAdd), infix("+"), s.behind(x.Y, levelAdd))
	case syntax.OpSub:
		return row(levelAdd, s.set(x.X, levelAdd), infix("−"), s.behind(x.Y, levelMul))
	case syntax.OpMul:
		a, b := s.set(x.X, levelMul), s.behind(x.Y, levelMul)
		return row(levelMul, a, product(a, b), b)
	case syntax.OpDiv:
		return s.quotient(x)
	case syntax.OpPow:
		return s.power(x)
	case syntax.OpAnd:
		return row(levelAnd, s.set(x.X, levelAnd), leaf(kindText, " "+s.w.And+" "), s.set(x.Y, levelAnd))
	case syntax.OpOr:
		return row(levelOr, s.set(x.X, levelOr), leaf(kindText, " "+s.w.Or+" "), s.set(x.Y, levelOr))
	}
	return row(levelCompare, s.set(x.X, levelAdd), infix(signs[x.Op]), s.behind(x.Y, levelAdd))
}

// quotient sets a fraction. What is divided twice is divided by the product:
// a/b/c has one bar.
func (s setter) quotient(x *syntax.Binary) node {
	top, below := x.X, []syntax.Expr{x.Y}
	for {
		d, ok := bare(top).(*syntax.Binary)
		if !ok || d.Op != syntax.OpDiv {
			break
		}
		top = d.X
		below = append([]syntax.Expr{d.Y}, below...)
	}
	den := s.set(below[0], levelIf)
	if len(below) > 1 {
		den = s.set(below[0], levelMul)
		for _, y := range below[1:] {
			b := s.behind(y, levelMul)
			den = row(levelMul, den, product(den, b), b)
		}
	}
	return node{kind: kindFrac, level: levelFrac, kids: []node{s.set(top, levelIf), den}}
}

// power sets an exponent; one half and one over a whole number are roots.
func (s setter) power(x *syntax.Binary) node {
	if n := order(x.Y); n == "2" {
		return node{kind: kindSqrt, level: levelAtom, kids: []node{s.set(x.X, levelIf)}}
	} else if n != "" {
		return node{kind: kindRoot, level: levelAtom, kids: []node{s.set(x.X, levelIf), leaf(kindNumber, n)}}
	}
	if c, ok := bare(x.X).(*syntax.Call); ok {
		if f, ok := c.Fun.(*syntax.Name); ok && circular[f.Name] && len(c.Args) == 1 && c.Args[0].Name == nil {
			if n, ok := bare(x.Y).(*syntax.Number); ok && n.V >= 2 && n.Unit.IsNone() { // cos²(x)
				head := node{kind: kindSup, level: levelAtom, kids: []node{name(f.Name), s.piece(n)}}
				return s.callWith(head, []node{s.set(c.Args[0].X, levelIf)})
			}
		}
	}
	return node{kind: kindSup, level: levelPow, kids: []node{s.set(x.X, levelAtom), s.set(x.Y, levelIf)}}
}

// circular functions have their exponent behind their name.
var circular = map[string]bool{"sin": true, "cos": true, "tan": true, "sinh": true, "cosh": true, "tanh": true}

// order gives n if an exponent is 1/n, else "".
func order(x syntax.Expr) string {
	switch x := bare(x).(type) {
	case *syntax.Number:
		if x.V == 0.5 && x.Unit.IsNone() {
			return "2"
		}
	case *syntax.Binary:
		a, ok1 := bare(x.X).(*syntax.Number)
		b, ok2 := bare(x.Y).(*syntax.Number)
		if x.Op == syntax.OpDiv && ok1 && ok2 && a.V == 1 && a.Unit.IsNone() && b.Unit.IsNone() {
			if t := plain(b.V); len(t) == 1 && t >= "2" {
				return t
			}
		}
	}
	return ""
}

// bare takes off brackets and conversions.
func bare(x syntax.Expr) syntax.Expr {
	for {
		switch y := x.(type) {
		case *syntax.Paren:
			x = y.X
		case *syntax.Convert:
			x = y.X
		default:
			return x
		}
	}
}

// cases sets a conditional; an else that is a conditional itself goes on in it.
func (s setter) cases(x *syntax.If) node {
	n := node{kind: kindCases, level: levelIf}
	for {
		n.kids = append(n.kids, row(levelAtom, s.set(x.Then, levelOr),
			row(levelAtom, leaf(kindText, s.w.If+"\u00a0"), s.set(x.Cond, levelOr))))
		next, ok := bare(x.Else).(*syntax.If)
		if !ok {
			break
		}
		x = next
	}
	n.kids = append(n.kids, row(levelAtom, s.set(x.Else, levelOr), leaf(kindText, s.w.Otherwise)))
	return n
}

func (s setter) application(x *syntax.Call) node {
	fun, _ := x.Fun.(*syntax.Name)
	plainArgs := true
	for _, a := range x.Args {
		plainArgs = plainArgs && a.Name == nil
	}
	if fun != nil && plainArgs && len(x.Args) == 1 {
		switch arg := x.Args[0].X; fun.Name {
		case "sqrt":
			return node{kind: kindSqrt, level: levelAtom, kids: []node{s.set(arg, levelIf)}}
		case "abs":
			n := fence(s.set(arg, levelIf))
			n.text = "||"
			return n
		}
	}
	var head node
	switch f := x.Fun.(type) {
	case *syntax.Name:
		head = name(f.Name)
		if !plainArgs { // a model keeps its name, under which the library lists it
			head = node{kind: kindText, text: f.Name, level: levelAtom, kids: []node{{}}}
		}
	case *syntax.Field:
		head = setter{o: s.o, w: s.w}.piece(f)
	default:
		head = s.set(f, levelAtom)
	}
	if plainArgs {
		var args []syntax.Expr
		for _, a := range x.Args {
			args = append(args, a.X)
		}
		return s.callWith(head, s.list(args))
	}
	args := node{kind: kindArgs, text: s.comma(), level: levelAtom}
	for _, a := range x.Args {
		label := leaf(kindText, "")
		if a.Name != nil {
			label = leaf(kindText, strings.ReplaceAll(a.Name.Name, "_", " ")+":")
		}
		args.kids = append(args.kids, row(levelAtom, label, s.set(a.X, levelIf)))
	}
	if len(x.Args) > 2 {
		return s.callWith(head, []node{args})
	}
	var flat []node
	for i, a := range args.kids {
		if i > 0 {
			flat = append(flat, mark(s.comma()))
		}
		if a.kids[0].text != "" {
			a.kids[0].text += "\u00a0"
		}
		flat = append(flat, a)
	}
	return s.callWith(head, flat)
}

func (s setter) comma() string {
	if s.o.Decimal == ',' {
		return ";"
	}
	return ","
}

func (s setter) list(items []syntax.Expr) []node {
	var out []node
	for i, x := range items {
		if i > 0 {
			out = append(out, mark(s.comma()))
		}
		out = append(out, s.set(x, levelIf))
	}
	return out
}

func (s setter) call(head node, args []node) node {
	var out []node
	for i, a := range args {
		if i > 0 {
			out = append(out, mark(s.comma()))
		}
		out = append(out, a)
	}
	return s.callWith(head, out)
}

func (s setter) callWith(head node, inside []node) node {
	in := row(levelAtom, inside...)
	if len(inside) == 1 {
		in = inside[0]
	}
	return row(levelAtom, head, leaf(kindApply, ""), fence(in))
}

// quantity sets a number with its unit; what is no number is a text.
func (s setter) quantity(number string, u unit.Unit) node {
	neg, mantissa, exponent, ok := split(number)
	if !ok {
		return leaf(kindText, number)
	}
	n := leaf(kindNumber, unit.Typeset(mantissa, s.o.decimal()))
	if !neg && exponent == "" && u.IsNone() {
		return n
	}
	var kids []node
	if neg {
		kids = append(kids, leaf(kindPrefix, "−"))
	}
	kids = append(kids, n)
	if exponent != "" {
		e := leaf(kindNumber, strings.Replace(exponent, "-", "−", 1))
		kids = append(kids, infix("×"), node{kind: kindSup, level: levelPow, kids: []node{leaf(kindNumber, "10"), e}})
	}
	l := levelMul
	if neg {
		l = levelSign
	}
	if u.IsNone() {
		if exponent == "" {
			return row(l, kids...)
		}
		return node{kind: kindRow, level: l, kids: kids}
	}
	kids = append(kids, leaf(kindText, space(u)+u.Display()))
	return node{kind: kindQuantity, level: min(l, levelMul), kids: kids}
}
