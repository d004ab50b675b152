package theme

import (
	"html/template"
	"math"
	"strings"

	"workings/calc"
	"workings/calc/diag"
	"workings/calc/syntax"
	"workings/calc/unit"
	"workings/theme/mathml"
)

// mathOptions are what all formulas of a release share: set on a line of their
// own, with their text for those who listen.
func (v *view) mathOptions() mathml.Options {
	o := mathml.Options{Display: true, Break: true, Alt: "sr", Words: &mathml.Words{
		And: v.w.And, Or: v.w.Or, Not: v.w.Not, If: v.w.If, Otherwise: v.w.Otherwise,
		True: v.w.Yes, False: v.w.No, Table: v.w.TableSmall,
	}}
	o.Decimal = v.sign()
	return o
}

// formula sets an expression, with "name =" before it where there is one.
func (v *view) formula(name *syntax.Ident, x syntax.Expr) template.HTML {
	o := v.mathOptions()
	if name != nil {
		o.Name = name.Name
	}
	return template.HTML(mathml.Formula(x, o))
}

// substituted sets an expression with its values put in and the result behind
// it, "" if that says nothing more than the formula.
func (v *view) substituted(name *syntax.Ident, x syntax.Expr, result *mathml.Quantity) template.HTML {
	put := false
	value := func(x syntax.Expr) (string, unit.Unit, bool) {
		f := v.in.Result.Ref(x)
		if f == nil {
			return "", unit.Unit{}, false
		}
		n, ok := v.workedNumber(f)
		put = put || ok
		return n, f.Unit, ok
	}
	o := v.mathOptions()
	if name != nil {
		o.Name = name.Name
	}
	o.Result = result
	s := mathml.Substituted(x, value, o)
	if !put {
		return ""
	}
	return template.HTML(s)
}

// function sets the definition of a function.
func (v *view) function(f *syntax.FuncDef) template.HTML {
	o := v.mathOptions()
	o.Name = f.Name.Name
	o.Params = []string{}
	for _, p := range f.Params {
		o.Params = append(o.Params, p.Name)
	}
	return template.HTML(mathml.Formula(f.X, o))
}

func (v *view) symbol(name string) template.HTML {
	return template.HTML(mathml.Symbol(name))
}

// modelLine sets one line of a model's formula; as it is written if it cannot
// be parsed.
func (v *view) modelLine(line string) template.HTML {
	def := v.t.parsedLine(line)
	if def == nil {
		return template.HTML("<code>" + esc(line) + "</code>")
	}
	return v.formula(&def.Name, def.X)
}

// parsedLine parses a line of a model once: the library is part of the program.
func (t *Theme) parsedLine(line string) *syntax.Def {
	if d, ok := t.lines.Load(line); ok {
		return d.(*syntax.Def)
	}
	f := diag.NewFile("model", []byte(line))
	sheet, list := syntax.Parse(f, []syntax.Seg{{Start: 0, End: len(line)}})
	var def *syntax.Def
	if !list.HasErrors() && len(sheet.Stmts) == 1 {
		def, _ = sheet.Stmts[0].(*syntax.Def)
	}
	t.lines.Store(line, def)
	return def
}

// result is a figure's value for the end of a worked line, nil if it is no number.
func (v *view) result(f *calc.Figure) *mathml.Quantity {
	n, u := v.figureNumber(f)
	if n == "" || v.rangeOnly(f) {
		return nil
	}
	return &mathml.Quantity{Number: n, Unit: u}
}

// figureNumber is the value of a figure as it is printed: the number a person
// wrote as it was written, a computed one rounded; "" if it is none.
func (v *view) figureNumber(f *calc.Figure) (string, unit.Unit) {
	x, ok := f.Value.(float64)
	if !ok {
		return "", f.Unit
	}
	if s := written(f, x); s != "" {
		return s, f.Unit
	}
	if f.Spread != nil && f.Spread.Std > 0 {
		// No more digits than the uncertainty supports (JCGM 100, 7.2.6), and
		// no more than three significant figures.
		n := f.Unit.FromSI(x)
		place := unit.DigitsFor(differenceUnit(f.Unit).FromSI(f.Spread.U))
		if n != 0 && place >= 0 && place <= 2-int(math.Floor(math.Log10(math.Abs(n)))) {
			return unit.Round(n, unit.Rounding{Mode: unit.Places, N: place}), f.Unit
		}
	}
	return displayNumber(x, f.Unit), f.Unit
}

// workedDigits is how many figures the values put into a formula keep, so that
// a reader who computes the printed line comes to the printed result, which
// has three.
const workedDigits = 5

// workedNumber is the value of a figure as it is put into a formula.
func (v *view) workedNumber(f *calc.Figure) (string, bool) {
	x, ok := f.Value.(float64)
	if !ok || v.rangeOnly(f) {
		return "", false
	}
	if s := written(f, x); s != "" {
		return s, true
	}
	n := unit.Round(f.Unit.FromSI(x), unit.Rounding{Mode: unit.Sig, N: workedDigits})
	if strings.Contains(n, ".") && !strings.Contains(n, "e") {
		n = strings.TrimRight(strings.TrimRight(n, "0"), ".")
	}
	return n, true
}

// written is the number as a person wrote it, if it still says the value.
func written(f *calc.Figure, x float64) string {
	if f.Def == nil || !f.Fixed {
		return ""
	}
	if n, ok := f.Def.X.(*syntax.Number); ok && n.Unit.Symbol == f.Unit.Symbol && n.Unit.ToSI(n.V) == x {
		return n.Text
	}
	return ""
}
