package calc

import (
	"workings/calc/syntax"
	"workings/calc/unit"
)

// wantedPlace checks that an expression of a drawing is a length or an angle,
// or a list of them where the drawing takes several.
func (p *Program) wantedPlace(e *expr) bool {
	x, t := e.src.X, e.typ
	what, list, dim := "a length", "lengths", unit.Base(unit.Length)
	if e.src.Want == WantTimes {
		if !t.plain() {
			p.errs.Add(x.Span(), "wrong-kind", "a plain number is wanted here, got %s", operand(x, t))
		}
		return t.plain()
	}
	if e.src.Want == WantAngles {
		what, list, dim = "an angle", "angles", unit.Base(unit.Angle)
	}
	ok, want := t.isNumeric() && t.Dim == dim, what+" or a list of "+list
	if e.src.Want == WantLength {
		ok, want = ok && t.Kind == Quantity, what
	}
	if ok {
		return true
	}
	d := p.errs.Add(x.Span(), "wrong-kind", "%s is wanted here, got %s", want, operand(x, t))
	if n, number := unparen(x).(*syntax.Number); number && t.plain() {
		d.Hint = "does " + n.Text + " lack its unit?"
	}
	return false
}
