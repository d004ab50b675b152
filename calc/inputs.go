package calc

import (
	"math"
	"strings"

	"workings/calc/syntax"
	"workings/calc/unit"
)

// spreadIn is what a literal's line says about its value beside the nominal, in SI.
type spreadIn struct {
	nominal float64
	std     float64 // standard uncertainty; 0: none stated
	dof     float64 // +Inf unless stated
	k       float64
	shape   string
	hasTol  bool
	tolLo   float64 // ≥ 0
	tolHi   float64 // ≥ 0
	ranged  bool
	low     float64
	high    float64
	stated  bool    // the range states its nominal
	step    float64 // by which a model is moved to find its slope

	readings *readings // it is a row of repeated readings
}

// ends are the least and greatest value of an operating range or a tolerance.
func (s *spreadIn) ends() (low, high float64) {
	if s.ranged {
		return s.low, s.high
	}
	return s.nominal - s.tolLo, s.nominal + s.tolHi
}

// spreadOf checks the spread written on a line: X is the literal, already
// checked to have the type t and the value v.
func (c *checker) spreadOf(sp syntax.Spread, x syntax.Expr, t Type, v float64) *spreadIn {
	if sp.Tol == nil && sp.Unc == nil && sp.Range == nil {
		return nil
	}
	if t.Kind != Quantity {
		c.bad(x.Span(), "wrong-kind", "only a number has a spread, got %s", operand(x, t))
		return nil
	}
	s := &spreadIn{nominal: v, dof: math.Inf(1), k: 2}
	ok := true
	if sp.Tol != nil {
		s.hasTol = true
		s.tolHi = c.deviation(sp.Tol.Plus, x, t, v, &ok)
		s.tolLo = s.tolHi
		if !sp.Tol.Symmetric {
			s.tolLo = c.deviation(sp.Tol.Minus, x, t, v, &ok)
		}
	}
	if u := sp.Unc; u != nil {
		half := c.deviation(u.X, x, t, v, &ok)
		if u.K != nil {
			s.k = c.plainLiteral(u.K, "k", &ok)
			if ok && s.k <= 0 {
				c.bad(u.K.Span(), "domain", "a coverage factor is greater than 0")
				ok = false
			}
		}
		if u.DOF != nil {
			s.dof = c.plainLiteral(u.DOF, "dof", &ok)
			if ok && s.dof < 1 {
				c.bad(u.DOF.Span(), "domain", "degrees of freedom are at least 1")
				ok = false
			}
		}
		s.std = half / s.k
		s.shape = "normal"
		if u.Shape != nil {
			// JCGM 100, 4.3.7 and 4.3.9: the standard uncertainty of a half width.
			switch s.shape = u.Shape.Name; s.shape {
			case "rectangular":
				s.std = half / math.Sqrt(3)
			case "triangular":
				s.std = half / math.Sqrt(6)
			case "arcsine":
				s.std = half / math.Sqrt2
			}
		}
	}
	if r := sp.Range; r != nil {
		s.ranged = true
		s.low = v
		s.high = c.sameAs(r.High, x, t, &ok)
		if ok && s.high < s.low {
			c.badHint(r.Pos, "write the lower end first", "domain", "the range runs backwards: %s to %s", clip(x), clip(r.High))
			ok = false
		}
		if r.Nominal != nil {
			s.nominal = c.sameAs(r.Nominal, x, t, &ok)
			s.stated = true
			if ok && (s.nominal < s.low || s.nominal > s.high) {
				c.bad(r.Nominal.Span(), "domain", "the nominal value lies outside the range")
				ok = false
			}
		}
	}
	if !ok {
		return nil
	}
	s.step = 0.05 * math.Max(s.std, math.Max(math.Max(s.tolLo, s.tolHi)/2, (s.high-s.low)/20))
	if s.step == 0 {
		s.step = 1e-6 * math.Max(math.Abs(v), 1e-9)
	}
	return s
}

// ownSpread reads the spread written at the place of an expression whose value
// is v; ok is false after a mistake has been reported.
func (c *checker) ownSpread(e *expr, v float64) (sp *Spread, ok bool) {
	sp, ok = &Spread{DOF: math.Inf(1), K: 2}, true
	if e.typ.Kind != Quantity {
		c.bad(e.src.X.Span(), "wrong-kind", "only a number has a spread, got %s", operand(e.src.X, e.typ))
		return sp, false
	}
	if t := e.src.Own.Tol; t != nil {
		sp.TolHi = c.deviation(t.Plus, e.src.X, e.typ, v, &ok)
		sp.TolLo = sp.TolHi
		if !t.Symmetric {
			sp.TolLo = c.deviation(t.Minus, e.src.X, e.typ, v, &ok)
		}
	}
	if g := e.src.Own.Range; g != nil {
		sp.Ranged, sp.Low = true, v
		sp.High = c.sameAs(g.High, e.src.X, e.typ, &ok)
	}
	return sp, ok
}

// deviation reads a tolerance or uncertainty in SI, ≥ 0: a difference of the
// same dimension as the nominal, or a percentage of it.
func (c *checker) deviation(y, x syntax.Expr, t Type, nominal float64, ok *bool) float64 {
	lit, isNum := unparen(y).(*syntax.Number)
	if !isNum {
		c.bad(y.Span(), "wrong-kind", "a spread is written as a number")
		*ok = false
		return 0
	}
	if lit.Unit.Symbol == "%" || lit.Unit.Symbol == "ppm" {
		if t.Point {
			c.badHint(y.Span(), "write it in K", "temperature-point", "a share of a temperature on a scale has no meaning")
			*ok = false
			return 0
		}
		if t.Unit.Symbol != lit.Unit.Symbol { // 50 % ± 5 % is from 45 % to 55 %
			return math.Abs(nominal) * lit.V * lit.Unit.Factor
		}
		return lit.V * lit.Unit.Factor
	}
	if lit.Unit.Dim != t.Dim {
		c.bad(y.Span(), "unit-mismatch", "the spread of %s cannot be %s", operand(x, t), operand(y, quantity(lit.Unit)))
		*ok = false
		return 0
	}
	return lit.V * lit.Unit.Factor // of °C and °F too, only the size of the degree counts
}

func (c *checker) plainLiteral(x syntax.Expr, what string, ok *bool) float64 {
	v, isLit := literal(x)
	if !isLit {
		c.bad(x.Span(), "wrong-kind", "%s is a plain number", what)
		*ok = false
	}
	return v
}

// sameAs reads a literal of the same kind as x, in SI.
func (c *checker) sameAs(y, x syntax.Expr, t Type, ok *bool) float64 {
	n, ty := c.expr(y)
	k, isConst := n.(*constNode)
	if ty.Kind == Invalid {
		*ok = false
		return 0
	}
	if !isConst {
		if u, neg := n.(*unaryNode); neg {
			if v, good := u.eval(nil); good {
				k, isConst = &constNode{v}, true
			}
		}
	}
	if !isConst {
		c.bad(y.Span(), "wrong-kind", "the end of a range is written as a number")
		*ok = false
		return 0
	}
	if !ty.same(t) {
		hint := ""
		if t.Point != ty.Point {
			hint = "write both ends in " + t.Unit.Symbol
		}
		c.badHint(y.Span(), hint, "unit-mismatch", "a range has both ends of one kind: %s and %s", operand(x, t), operand(y, ty))
		*ok = false
	}
	return k.v.n
}

// asWritten gives the digits of a literal as the author wrote them, in unit u,
// or "" if the expression is no literal in that unit.
func asWritten(x syntax.Expr, u unit.Unit) string {
	sign := ""
	x = unparen(x)
	if n, ok := x.(*syntax.Unary); ok && n.Op == syntax.OpNeg {
		sign = "-"
		x = unparen(n.X)
	}
	lit, ok := x.(*syntax.Number)
	if !ok || lit.Unit != u {
		return ""
	}
	return sign + strings.Replace(strings.ToLower(lit.Text), "e+", "e", 1)
}
