package calc

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"

	"workings/calc/diag"
	"workings/calc/syntax"
	"workings/calc/unit"
)

// A checker turns an expression into a node and a type. It reports each
// mistake once: what depends on a mistake has the type Invalid and is silent.
type checker struct {
	p     *Program
	sc    scope
	types []Type // of the locals
}

var invalid Type

// expr checks an expression.
func (c *checker) expr(x syntax.Expr) (node, Type) {
	switch x := x.(type) {
	case *syntax.Number:
		if x.Unit.Point {
			return &constNode{num(x.Unit.ToSI(x.V))}, pointType(x.Unit)
		}
		t := quantity(x.Unit)
		t.Chosen = true
		si := x.Unit.ToSI(x.V)
		if math.IsInf(si, 0) || math.IsNaN(si) {
			return c.bad(x.Pos, "overflow", "%s is too large", x.Pos.Text())
		}
		return &constNode{num(si)}, t
	case *syntax.String:
		return &constNode{val{o: x.Value}}, Type{Kind: Text}
	case *syntax.Bool:
		return &constNode{boolean(x.Value)}, Type{Kind: Bool}
	case *syntax.Paren:
		return c.expr(x.X)
	case *syntax.Name, *syntax.Field:
		return c.ref(x)
	case *syntax.Unary:
		return c.unary(x)
	case *syntax.Binary:
		return c.binary(x)
	case *syntax.Convert:
		return c.convert(x)
	case *syntax.If:
		return c.cond(x)
	case *syntax.Call:
		return c.call(x)
	case *syntax.Table:
		return c.p.table(x)
	case *syntax.ListExpr:
		return c.list(x)
	}
	return c.bad(x.Span(), "wrong-kind", "this cannot be computed")
}

func (c *checker) bad(pos diag.Span, code, format string, args ...any) (node, Type) {
	c.p.errs.Add(pos, code, format, args...)
	return nil, invalid
}

func (c *checker) badHint(pos diag.Span, hint, code, format string, args ...any) (node, Type) {
	c.p.errs.Add(pos, code, format, args...).Hint = hint
	return nil, invalid
}

func pointType(u unit.Unit) Type {
	t := quantity(u)
	t.Point, t.Chosen = true, true
	return t
}

// ref checks a name, or a chain of fields.
func (c *checker) ref(x syntax.Expr) (node, Type) {
	head, fields := chain(x)
	if head == nil {
		f := x.(*syntax.Field)
		n, t := c.expr(f.X)
		return c.field(n, t, f.X, f.Name)
	}
	for i, l := range c.sc.locals {
		if l.Name == head.Name {
			return c.fields(&localNode{i}, c.types[i], head, fields)
		}
	}
	if d, rest, ok := c.p.target(c.sc, x); ok {
		if d.fn != nil {
			return c.badHint(x.Span(), fmt.Sprintf("call it: %s(…)", d.fig.Local), "wrong-kind", "%s is a function", d.name())
		}
		if d.typ.Kind == Invalid {
			return nil, invalid
		}
		return c.fields(&refNode{d}, d.typ, x, rest)
	}
	if k, ok := constants[head.Name]; ok && len(fields) == 0 {
		return &constNode{num(k.si)}, k.typ
	}
	return nil, invalid // an unknown name has been reported when it was looked up
}

func (c *checker) fields(n node, t Type, x syntax.Expr, fields []syntax.Ident) (node, Type) {
	for _, f := range fields {
		n, t = c.field(n, t, x, f)
	}
	return n, t
}

func (c *checker) field(n node, t Type, x syntax.Expr, name syntax.Ident) (node, Type) {
	switch t.Kind {
	case Invalid:
		return nil, invalid
	case Record, Table:
		if f := t.field(name.Name); f != nil {
			return &fieldNode{n, name.Name}, f.Type
		}
		what := "field"
		if t.Kind == Table {
			what = "column"
		}
		hint := "it has " + strings.Join(t.fieldNames(), ", ")
		if near := diag.Nearest(name.Name, t.fieldNames()); near != "" {
			hint = "did you mean " + near + "? " + hint
		}
		return c.badHint(name.Pos, hint, "unknown-name", "%s has no %s %s", headText(x), what, name.Name)
	}
	return c.badHint(name.Pos, "a point takes a figure of a block, a value of a record or a column of a table",
		"wrong-kind", "%s is %s and has no fields", headText(x), kindText(t))
}

func headText(x syntax.Expr) string {
	if h, _ := chain(x); h != nil {
		return h.Name
	}
	return clip(x)
}

func (c *checker) unary(x *syntax.Unary) (node, Type) {
	if lit, ok := unparen(x.X).(*syntax.Number); ok && lit.Unit.Point && x.Op == syntax.OpNeg {
		// -5 °C is a point of the scale, not the opposite of a point.
		return &constNode{num(lit.Unit.ToSI(-lit.V))}, pointType(lit.Unit)
	}
	n, t := c.expr(x.X)
	if t.Kind == Invalid {
		return nil, invalid
	}
	if x.Op == syntax.OpNot {
		if t.Kind != Bool {
			return c.badHint(x.X.Span(), conditionHint(x.X, t), "wrong-kind", "not wants true or false, got %s", operand(x.X, t))
		}
		return &unaryNode{x.Op, n}, t
	}
	if !t.isNumeric() && t.Kind != Grid {
		return c.bad(x.X.Span(), "wrong-kind", "a sign wants a number, got %s", operand(x.X, t))
	}
	if t.Point && x.Op == syntax.OpNeg {
		return c.pointMisuse(x.Pos, x.X, "the opposite of")
	}
	return &unaryNode{x.Op, n}, t
}

// pointMisuse reports a point on the temperature scale used as a difference.
func (c *checker) pointMisuse(pos diag.Span, x syntax.Expr, what string) (node, Type) {
	s := clip(x)
	return c.badHint(pos, fmt.Sprintf("for a difference write %s - 0 °C, for the thermodynamic temperature kelvin(%s)", s, s),
		"temperature-point", "%s a temperature on a scale (%s) has no meaning", what, s)
}

func kindText(t Type) string {
	if t.Kind == Quantity {
		return "a quantity"
	}
	return t.String()
}

// operand describes an operand with its dimension: `load (force, N)`.
func operand(x syntax.Expr, t Type) string {
	return clip(x) + " (" + t.String() + ")"
}

func (c *checker) binary(x *syntax.Binary) (node, Type) {
	switch x.Op {
	case syntax.OpAnd, syntax.OpOr:
		nx, tx := c.expr(x.X)
		ny, ty := c.expr(x.Y)
		for _, o := range []struct {
			x syntax.Expr
			t Type
		}{{x.X, tx}, {x.Y, ty}} {
			if o.t.Kind != Bool && o.t.Kind != Invalid {
				return c.badHint(o.x.Span(), conditionHint(o.x, o.t), "wrong-kind", "%s wants true or false, got %s", x.Op, operand(o.x, o.t))
			}
		}
		if tx.Kind == Invalid || ty.Kind == Invalid {
			return nil, invalid
		}
		return &logicNode{x.Op == syntax.OpOr, nx, ny}, tx
	case syntax.OpPow:
		return c.pow(x)
	}
	nx, tx := c.expr(x.X)
	ny, ty := c.expr(x.Y)
	if tx.Kind == Invalid || ty.Kind == Invalid {
		return nil, invalid
	}
	var t Type
	ok := false
	switch x.Op {
	case syntax.OpAdd, syntax.OpSub:
		t, ok = c.sum(x, tx, ty)
	case syntax.OpMul, syntax.OpDiv:
		t, ok = c.product(x, tx, ty)
	default:
		t, ok = c.comparison(x, tx, ty)
	}
	if !ok {
		return nil, invalid
	}
	return &binaryNode{x.Op, nx, ny, x}, t
}

// numericPair checks that both operands are numbers and gives the kind of the result.
func (c *checker) numericPair(x *syntax.Binary, tx, ty Type) (Kind, bool) {
	for _, o := range []struct {
		x syntax.Expr
		t Type
	}{{x.X, tx}, {x.Y, ty}} {
		if !o.t.isNumeric() && o.t.Kind != Grid {
			c.badHint(o.x.Span(), partHint(o.x, o.t), "wrong-kind", "%s wants numbers, got %s", x.Op, operand(o.x, o.t))
			return Invalid, false
		}
	}
	switch {
	case tx.Kind == ty.Kind:
		return tx.Kind, true
	case tx.Kind == Quantity:
		return ty.Kind, true
	case ty.Kind == Quantity:
		return tx.Kind, true
	}
	c.bad(x.Pos, "wrong-kind", "%s cannot join %s and %s", x.Op, kindText(tx), kindText(ty))
	return Invalid, false
}

// partHint suggests the number within what holds several.
func partHint(x syntax.Expr, t Type) string {
	for _, f := range t.Fields {
		if f.Type.isNumeric() {
			return "take one of its values, such as " + clip(x) + "." + f.Name
		}
	}
	return ""
}

func (c *checker) sum(x *syntax.Binary, tx, ty Type) (Type, bool) {
	kind, ok := c.numericPair(x, tx, ty)
	if !ok {
		return invalid, false
	}
	verb, prep := "add", "to"
	if x.Op == syntax.OpSub {
		verb, prep = "subtract", "from"
	}
	if tx.Dim != ty.Dim {
		e := c.p.errs.Add(x.Pos, "unit-mismatch", "cannot %s %s %s %s", verb, operand(x.Y, ty), prep, operand(x.X, tx))
		e.Hint = c.mixHint(x, tx, ty)
		return invalid, false
	}
	t := tx
	t.Kind = kind
	t.Chosen = tx.Chosen || ty.Chosen
	if tx.Unit.Symbol == "" || ty.Chosen && !tx.Chosen {
		t.Unit = ty.Unit
	}
	switch {
	case !tx.Point && !ty.Point:
		return t, true
	case x.Op == syntax.OpAdd && tx.Point && ty.Point:
		e := c.p.errs.Add(x.Pos, "temperature-point", "two temperatures on a scale cannot be added: %s and %s", clip(x.X), clip(x.Y))
		e.Hint = "a difference is written in K, as in 68 °C + 20 K; the middle of two is mean(a, b)"
		return invalid, false
	case x.Op == syntax.OpSub && tx.Point && ty.Point:
		t.Point, t.Unit, t.Chosen = false, kelvin, true
		return t, true
	case x.Op == syntax.OpSub && ty.Point:
		e := c.p.errs.Add(x.Pos, "temperature-point", "a temperature on a scale (%s) cannot be taken from a difference (%s)", clip(x.Y), clip(x.X))
		e.Hint = "write the temperature first, or point(" + clip(x.X) + ") if that is a temperature in kelvins"
		return invalid, false
	}
	t.Point, t.Chosen = true, true
	if t.Unit = tx.Unit; ty.Point {
		t.Unit = ty.Unit
	}
	return t, true
}

// mixHint suggests what may have been meant where dimensions differ.
func (c *checker) mixHint(x *syntax.Binary, tx, ty Type) string {
	none := unit.None
	if tx.Dim == none && ty.Dim != none {
		if n, ok := unparen(x.X).(*syntax.Number); ok {
			return fmt.Sprintf("does %s lack its unit, as in %s %s?", n.Text, n.Text, ty.Unit.Symbol)
		}
	}
	if ty.Dim == none && tx.Dim != none {
		if n, ok := unparen(x.Y).(*syntax.Number); ok {
			return fmt.Sprintf("does %s lack its unit, as in %s %s?", n.Text, n.Text, tx.Unit.Symbol)
		}
	}
	// A name alike the one written whose dimension would fit.
	for _, o := range []struct {
		x    syntax.Expr
		want unit.Dim
	}{{x.Y, tx.Dim}, {x.X, ty.Dim}} {
		if head, f := chain(unparen(o.x)); head != nil && len(f) == 0 && c.p.mayGuess() {
			var cands []string
			for _, d := range c.p.defs {
				if d.typ.Kind == Quantity && d.typ.Dim == o.want {
					cands = append(cands, c.p.callName(c.sc, d))
				}
			}
			sort.Strings(cands)
			if near := diag.Nearest(head.Name, cands); near != "" {
				return "did you mean " + near + "?"
			}
		}
	}
	if hint := angleHint(tx.Dim, ty.Dim); hint != "" {
		return hint
	}
	if r, ok := tx.Dim.Div(ty.Dim); ok && (r == acceleration.Dim || r == slowness) {
		return "a mass is no force: the weight of a mass is mass * g_n"
	}
	if a, b := tx.Dim.Name(), ty.Dim.Name(); a == "cost" && b == a {
		return "no rate of exchange is built in: make it a parameter, and multiply by it"
	}
	return ""
}

var acceleration, _ = parsedUnit("m/s^2")
var slowness, _ = unit.None.Div(acceleration.Dim) // its reciprocal

// angleHint says what to do where two dimensions differ by an angle alone.
func angleHint(have, want unit.Dim) string {
	a, b := have, want
	a[unit.Angle], b[unit.Angle] = 0, 0
	switch {
	case a != b || have == want:
		return ""
	case have[unit.Angle] > want[unit.Angle]:
		return "they differ by an angle: divide by 1 turn to count turns, by 1 rad for an arc or a torque"
	}
	return "they differ by an angle: multiply by 1 turn what counts turns, by 1 rad what is an arc"
}

// factorHint names what a quantity has to be multiplied with, or divided by,
// to be of the wanted kind.
func factorHint(have, want unit.Dim) string {
	up, ok := want.Div(have)
	down, ok2 := have.Div(want)
	if !ok || !ok2 {
		return ""
	}
	named := func(d unit.Dim) bool { return d.Name() != "" && d.Name() != "frequency" }
	switch {
	case named(up):
		return fmt.Sprintf("they differ by a factor in %s (%s): multiply by one", unit.Coherent(up).Symbol, up.Name())
	case named(down):
		return fmt.Sprintf("they differ by a factor in %s (%s): divide by one", unit.Coherent(down).Symbol, down.Name())
	}
	return "they differ by a factor in " + unit.Coherent(down).Symbol
}

func (c *checker) product(x *syntax.Binary, tx, ty Type) (Type, bool) {
	kind, ok := c.numericPair(x, tx, ty)
	if !ok {
		return invalid, false
	}
	what := "a multiple of"
	if x.Op == syntax.OpDiv {
		what = "a fraction of"
	}
	if tx.Point {
		c.pointMisuse(x.Pos, x.X, what)
		return invalid, false
	}
	if ty.Point {
		c.pointMisuse(x.Pos, x.Y, what)
		return invalid, false
	}
	div := x.Op == syntax.OpDiv
	d, ok := tx.Dim.Mul(ty.Dim)
	if div {
		d, ok = tx.Dim.Div(ty.Dim)
	}
	if !ok {
		c.bad(x.Pos, "overflow", "the dimension of this product is out of all proportion")
		return invalid, false
	}
	t := Type{Kind: kind, Dim: d}
	switch {
	case d == unit.None && tx.Dim != unit.None:
		t.Unit, t.Chosen = unit.Unit{Factor: 1}, true
	case ty.Dim == unit.None:
		t.Unit, t.Chosen = tx.Unit, tx.Chosen
	case tx.Dim == unit.None && !div:
		t.Unit, t.Chosen = ty.Unit, ty.Chosen
	default:
		if u, ok := c.p.productHint(tx.Unit, ty.Unit, div); ok && u.Dim == d {
			t.Unit = u
		} else {
			t.Unit = unit.Coherent(d)
		}
	}
	if d == unit.None && t.Unit.Symbol == "%" && tx.Dim == ty.Dim && !div && tx.Unit.Symbol != ty.Unit.Symbol {
		t.Unit = unit.Unit{Factor: 1}
	}
	return t, true
}

// productHint is unit.ProductHint. A manual multiplies the same units over and
// over.
func (p *Program) productHint(a, b unit.Unit, divide bool) (unit.Unit, bool) {
	type product struct {
		a, b   unit.Unit
		divide bool
	}
	type hint struct {
		unit unit.Unit
		ok   bool
	}
	key := product{a, b, divide}
	if h, ok := p.hints.Load(key); ok {
		return h.(hint).unit, h.(hint).ok
	}
	u, ok := unit.ProductHint(a, b, divide)
	p.hints.Store(key, hint{u, ok})
	return u, ok
}

func (c *checker) comparison(x *syntax.Binary, tx, ty Type) (Type, bool) {
	t := Type{Kind: Bool}
	equality := x.Op == syntax.OpEQ || x.Op == syntax.OpNE
	if equality && tx.Kind == ty.Kind && (tx.Kind == Text || tx.Kind == Bool) {
		return t, true
	}
	if tx.Kind != Quantity || ty.Kind != Quantity {
		e := c.p.errs.Add(x.Pos, "wrong-kind", "cannot compare %s with %s", operand(x.X, tx), operand(x.Y, ty))
		switch {
		case tx.Kind == List || ty.Kind == List:
			e.Hint = "compare its max(…) or min(…)"
		case tx.Kind == Text && ty.Kind == Text:
			e.Hint = "texts are the same or not: use == or !="
		case partHint(x.X, tx) != "":
			e.Hint = partHint(x.X, tx)
		case partHint(x.Y, ty) != "":
			e.Hint = partHint(x.Y, ty)
		}
		return invalid, false
	}
	if tx.Dim != ty.Dim {
		e := c.p.errs.Add(x.Pos, "unit-mismatch", "cannot compare %s with %s", operand(x.X, tx), operand(x.Y, ty))
		e.Hint = c.mixHint(x, tx, ty)
		return invalid, false
	}
	if tx.Point != ty.Point {
		e := c.p.errs.Add(x.Pos, "temperature-point", "cannot compare a temperature on a scale with a difference: %s and %s", clip(x.X), clip(x.Y))
		e.Hint = "a temperature is written in °C, a difference in K"
		return invalid, false
	}
	if equality && tx.Dim != unit.None {
		e := c.p.errs.Add(x.Pos, "wrong-kind", "quantities are never exactly equal")
		e.Hint = "compare with <= or >=, or abs(a - b) <= a tolerance"
		return invalid, false
	}
	return t, true
}

func (c *checker) pow(x *syntax.Binary) (node, Type) {
	nx, tx := c.expr(x.X)
	ny, ty := c.expr(x.Y)
	if tx.Kind == Invalid || ty.Kind == Invalid {
		return nil, invalid
	}
	if !tx.isNumeric() {
		return c.bad(x.X.Span(), "wrong-kind", "^ wants a number, got %s", operand(x.X, tx))
	}
	if !ty.plain() {
		return c.bad(x.Y.Span(), "unit-mismatch", "an exponent is a plain number, got %s", operand(x.Y, ty))
	}
	if tx.Point {
		return c.pointMisuse(x.Pos, x.X, "a power of")
	}
	num, den, known := ratio(x.Y)
	e := float64(num) / float64(max(den, 1))
	if !known {
		if v, ok := literal(x.Y); ok {
			e, known = v, true
			den = 0
		}
	}
	t := Type{Kind: tx.Kind, Dim: tx.Dim}
	if tx.Dim == unit.None {
		t.Unit = unit.Unit{Factor: 1}
		t.Chosen = true
		return &powNode{x: nx, y: ny, n: e, fixed: known, src: x}, t
	}
	if known && den == 0 {
		return c.badHint(x.Y.Span(), fmt.Sprintf("divide %s by a reference value of its kind first, as in empirical formulas: (%s / 1 %s)^%s",
			clip(x.X), clip(x.X), tx.Unit.Symbol, clip(x.Y)), "unit-mismatch",
			"the power %s of %s has no dimension: that needs a whole number or a fraction such as 1/2", clip(x.Y), operand(x.X, tx))
	}
	if !known {
		return c.badHint(x.Y.Span(), "write a number or a fraction such as 1/2", "unit-mismatch",
			"the exponent of %s must be written out, so that its dimension is known", operand(x.X, tx))
	}
	d, ok := tx.Dim.Pow(num, den)
	if !ok {
		return c.badHint(x.Pos, "divide it by a reference value of its kind first, or take a smaller power",
			"unit-mismatch", "%s to the power %s has no dimension that can be kept", operand(x.X, tx), clip(x.Y))
	}
	t.Dim = d
	t.Unit = unit.Coherent(d)
	if num == 2 && den == 1 {
		if u, ok := c.p.productHint(tx.Unit, tx.Unit, false); ok && u.Dim == d {
			t.Unit = u
		}
	}
	return &powNode{x: nx, y: ny, n: e, fixed: true, src: x}, t
}

// ratio reads a whole number or a fraction of whole numbers.
func ratio(x syntax.Expr) (num, den int, ok bool) {
	switch x := unparen(x).(type) {
	case *syntax.Number:
		if !x.Unit.IsNone() {
			return 0, 0, false
		}
		if n, err := strconv.Atoi(x.Text); err == nil && n < 100 {
			return n, 1, true
		}
		for den := 1; den <= 6; den++ {
			if n := x.V * float64(den); n == math.Trunc(n) && math.Abs(n) < 100 {
				return int(n), den, true
			}
		}
	case *syntax.Unary:
		n, d, ok := ratio(x.X)
		if x.Op == syntax.OpNeg {
			n = -n
		}
		return n, d, ok && x.Op != syntax.OpNot
	case *syntax.Binary:
		if x.Op == syntax.OpDiv {
			a, b, ok1 := ratio(x.X)
			c, d, ok2 := ratio(x.Y)
			if ok1 && ok2 && c != 0 {
				n, m := a*d, b*c
				if m < 0 {
					n, m = -n, -m
				}
				return n, m, true
			}
		}
	}
	return 0, 0, false
}

// literal reads a plain number with its sign.
func literal(x syntax.Expr) (float64, bool) {
	switch x := unparen(x).(type) {
	case *syntax.Number:
		return x.V, x.Unit.IsNone()
	case *syntax.Unary:
		v, ok := literal(x.X)
		if x.Op == syntax.OpNeg {
			v = -v
		}
		return v, ok && x.Op != syntax.OpNot
	}
	return 0, false
}

func (c *checker) convert(x *syntax.Convert) (node, Type) {
	n, t := c.expr(x.X)
	if t.Kind == Invalid {
		return nil, invalid
	}
	if !t.isNumeric() && t.Kind != Grid {
		return c.bad(x.X.Span(), "wrong-kind", "only a number has a unit, got %s", operand(x.X, t))
	}
	if t.Dim != x.Unit.Dim {
		hint := ""
		if lit, ok := unparen(x.X).(*syntax.Number); ok && lit.Unit.IsNone() {
			hint = fmt.Sprintf("%s has no unit yet: write %s %s", lit.Text, lit.Text, x.Unit.Symbol)
		} else {
			if hint = angleHint(t.Dim, x.Unit.Dim); hint == "" {
				hint = factorHint(t.Dim, x.Unit.Dim)
			}
		}
		return c.badHint(x.UnitPos, hint, "unit-mismatch", "%s cannot be given in %s (%s)", operand(x.X, t), x.Unit.Symbol, Type{Kind: Quantity, Dim: x.Unit.Dim, Unit: x.Unit}.dimText())
	}
	if x.Unit.Point && !t.Point {
		return c.badHint(x.Pos, fmt.Sprintf("point(%s) makes a temperature on the scale of it; a difference is given in K", clip(x.X)),
			"temperature-point", "%s is a temperature difference, and %s is for temperatures on a scale", clip(x.X), x.Unit.Symbol)
	}
	t.Unit, t.Chosen = x.Unit, true
	return n, t
}

func (c *checker) cond(x *syntax.If) (node, Type) {
	nc, tc := c.expr(x.Cond)
	nt, tt := c.expr(x.Then)
	ne, te := c.expr(x.Else)
	if tc.Kind != Bool && tc.Kind != Invalid {
		return c.badHint(x.Cond.Span(), conditionHint(x.Cond, tc), "wrong-kind", "if wants a condition, got %s", operand(x.Cond, tc))
	}
	if tc.Kind == Invalid || tt.Kind == Invalid || te.Kind == Invalid {
		return nil, invalid
	}
	if !tt.same(te) {
		return c.bad(x.Pos, "unit-mismatch", "both outcomes must be of one kind: %s and %s", operand(x.Then, tt), operand(x.Else, te))
	}
	if te.Chosen && !tt.Chosen {
		tt.Unit, tt.Chosen = te.Unit, true
	}
	return &ifNode{nc, nt, ne}, tt
}

// conditionHint shows how a condition is made of a value.
func conditionHint(x syntax.Expr, t Type) string {
	switch {
	case t.Kind == Quantity && !t.Point && t.Unit.Symbol != "":
		return "compare it, as in " + clip(x) + " > 0 " + t.Unit.Symbol
	case t.Kind == Quantity && t.Dim == unit.None:
		return "compare it, as in " + clip(x) + " > 0"
	case t.Kind == Text:
		return "compare it, as in " + clip(x) + ` == "…"`
	}
	return ""
}

func (c *checker) list(x *syntax.ListExpr) (node, Type) {
	if len(x.Items) == 0 {
		return c.bad(x.Pos, "wrong-kind", "an empty list has no kind")
	}
	l := &listNode{}
	var t Type
	for i, it := range x.Items {
		n, ti := c.expr(it)
		if ti.Kind == Invalid {
			t = invalid
			continue
		}
		if ti.Kind != Quantity && ti.Kind != Text {
			return c.bad(it.Span(), "wrong-kind", "a list holds numbers or texts, got %s", operand(it, ti))
		}
		l.items = append(l.items, n)
		if i == 0 {
			t = ti
		} else if t.Kind != Invalid && !t.same(ti) {
			return c.bad(it.Span(), "unit-mismatch", "a list holds values of one kind: %s after %s", operand(it, ti), operand(x.Items[0], t))
		}
	}
	if t.Kind == Invalid || len(l.items) < len(x.Items) {
		return nil, invalid
	}
	l.texts = t.Kind == Text
	t.Texts = l.texts
	t.Kind = List
	return l, t
}

func (c *checker) call(x *syntax.Call) (node, Type) {
	head, fields := chain(x.Fun)
	if head == nil {
		return nil, invalid
	}
	if len(fields) == 0 {
		if head.Name == "material" {
			return c.material(x)
		}
		if b := builtinByName[head.Name]; b != nil {
			return c.builtin(b, x)
		}
		if m := c.p.model(head.Name); m != nil {
			return c.model(m, x)
		}
	}
	d, rest, ok := c.p.target(c.sc, x.Fun)
	if !ok || d.fn == nil || len(rest) > 0 {
		for _, a := range x.Args {
			c.expr(a.X)
		}
		return nil, invalid // reported when it was looked up
	}
	return c.function(d, x)
}

// positional checks arguments that are given by place.
func (c *checker) positional(x *syntax.Call, name, params string, lo, hi int) (nodes []node, types []Type, ok bool) {
	ok = true
	for _, a := range x.Args {
		if a.Name != nil {
			c.p.errs.Add(a.Name.Pos, "wrong-argument", "%s takes its arguments by place, without names", name).
				Hint = "write " + name + "(" + params + ")"
			ok = false
		}
		n, t := c.expr(a.X)
		nodes, types = append(nodes, n), append(types, t)
		if t.Kind == Invalid {
			ok = false
		}
	}
	if n := len(x.Args); n < lo || n > hi {
		want := strconv.Itoa(lo)
		if hi > lo {
			want += " or more"
		}
		c.p.errs.Add(x.Pos, "wrong-argument", "%s wants %s %s, got %d", name, want, plural(lo, "argument"), n).
			Hint = "write " + name + "(" + params + ")"
		ok = false
	}
	return nodes, types, ok
}

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}

func (c *checker) builtin(b *builtin, x *syntax.Call) (node, Type) {
	nodes, types, ok := c.positional(x, b.name, b.params, b.min, b.max)
	if !ok {
		return nil, invalid
	}
	t, ok := b.check(c, x, types)
	if !ok {
		return nil, invalid
	}
	return &builtinNode{b, nodes, x}, t
}

// function checks a call of a function of the sheet: its body is checked once
// for each list of argument types.
func (c *checker) function(d *def, x *syntax.Call) (node, Type) {
	var params []string
	for _, p := range d.fn.Params {
		params = append(params, p.Name)
	}
	nodes, types, ok := c.positional(x, d.fig.Local, strings.Join(params, ", "), len(params), len(params))
	if !ok || d.inCycle || d.broken {
		return nil, invalid
	}
	var key strings.Builder
	for _, t := range types {
		fmt.Fprintf(&key, "%d%v%v%v%s;", t.Kind, t.Dim, t.Point, t.Chosen, t.Unit.Symbol)
		if len(t.Fields) > 0 {
			fmt.Fprintf(&key, "%v", t.fieldNames())
		}
	}
	inst := d.insts[key.String()]
	if inst == nil {
		if len(d.insts) >= 1000 {
			return c.bad(x.Pos, "too-much", "%s is called with too many kinds of arguments", d.name())
		}
		inst = &instance{}
		d.insts[key.String()] = inst
		sub := &checker{p: c.p, sc: scope{d.fig.Block, d.fn.Params}, types: types}
		before := len(c.p.errs)
		inst.body, inst.typ = sub.expr(d.fn.X)
		for _, e := range c.p.errs[before:] {
			e.Also = append(e.Also, diag.Note{Span: x.Pos, Msg: "in this call"})
		}
	}
	if inst.typ.Kind == Invalid {
		return nil, invalid
	}
	return &funcNode{inst, nodes, x}, inst.typ
}
