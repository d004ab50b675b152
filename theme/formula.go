package theme

import (
	"html/template"
	"math"
	"strconv"
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
	type key struct {
		x    syntax.Expr
		name string
	}
	o := v.mathOptions()
	if name != nil {
		o.Name = name.Name
	}
	if s, ok := v.formulas.Load(key{x, o.Name}); ok {
		return s.(template.HTML)
	}
	s := template.HTML(mathml.Formula(x, o))
	v.formulas.Store(key{x, o.Name}, s)
	return s
}

// substituted sets an expression with its values put in and the result behind
// it, "" if that says nothing more than the formula. The values keep as many
// digits as it takes for a reader who computes the line to come to the printed
// number; where that is more than anyone would write, the line says that it
// was computed unrounded.
func (v *view) substituted(name *syntax.Ident, x syntax.Expr, printed mathml.Quantity, result *mathml.Quantity) template.HTML {
	digits, reached := v.digits(x, printed)
	put := false
	value := func(x syntax.Expr) (string, unit.Unit, bool) {
		f := v.in.Result.Ref(x)
		if f == nil {
			return "", unit.Unit{}, false
		}
		n, ok := v.workedNumber(f, digits)
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
	if !reached {
		s += `<p class="note">` + esc(v.w.Unrounded) + "</p>"
	}
	return template.HTML(s)
}

// digits is how many digits the values put into an expression need, and
// whether the printed number is reached with them. A line stands in the
// calculation and in the workings.
func (v *view) digits(x syntax.Expr, printed mathml.Quantity) (digits int, reached bool) {
	type key struct {
		x      syntax.Expr
		number string
	}
	type answer struct {
		digits  int
		reached bool
	}
	k := key{x, printed.Number + " " + printed.Unit.Symbol}
	if a, ok := v.worked.Load(k); ok {
		return a.(answer).digits, a.(answer).reached
	}
	digits, reached = v.searchDigits(x, printed)
	v.worked.Store(k, answer{digits, reached})
	return digits, reached
}

func (v *view) searchDigits(x syntax.Expr, printed mathml.Quantity) (digits int, reached bool) {
	for digits = workedDigits; printed.Number != "" && digits <= mostDigits; digits++ {
		put := v.putIn(x, digits)
		if len(put) == 0 {
			return digits, true
		}
		si, ok := v.in.Result.Rework(x, put)
		if !ok || agrees(printed.Unit.FromSI(si), printed.Number) {
			return digits, true
		}
	}
	return workedDigits, printed.Number == ""
}

// putIn are the numbers that stand in a worked line, in SI, by figure.
func (v *view) putIn(x syntax.Expr, digits int) map[string]float64 {
	put := map[string]float64{}
	syntax.Walk(x, func(x syntax.Expr) bool {
		f := v.in.Result.Ref(x)
		if f == nil {
			return true
		}
		if n, ok := v.workedNumber(f, digits); ok {
			if n, err := strconv.ParseFloat(n, 64); err == nil {
				put[f.Name] = f.Unit.ToSI(n)
			}
		}
		return false
	})
	return put
}

// agrees reports whether a value rounds to a printed number, or lies within
// one unit of its last digit: a number may have been rounded up or down.
func agrees(x float64, printed string) bool {
	n, err := strconv.ParseFloat(printed, 64)
	if err != nil {
		return false
	}
	mantissa, exponent, _ := strings.Cut(printed, "e")
	places := 0
	if i := strings.IndexByte(mantissa, '.'); i >= 0 {
		places = len(mantissa) - i - 1
	}
	e, _ := strconv.Atoi(exponent)
	last := math.Pow(10, float64(e-places))
	return math.Abs(x-n) <= last*(1+1e-9)
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

// printed is the number that stands beside a figure's line.
func (v *view) printed(f *calc.Figure) mathml.Quantity {
	n, u := v.figureNumber(f)
	return mathml.Quantity{Number: n, Unit: u}
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

// workedDigits is how many figures the values put into a formula keep at
// least, mostDigits at most.
const (
	workedDigits = 5
	mostDigits   = 9
)

// workedNumber is the value of a figure as it is put into a formula.
func (v *view) workedNumber(f *calc.Figure, digits int) (string, bool) {
	x, ok := f.Value.(float64)
	if !ok || v.rangeOnly(f) {
		return "", false
	}
	if s := written(f, x); s != "" {
		return s, true
	}
	n := unit.Round(f.Unit.FromSI(x), unit.Rounding{Mode: unit.Sig, N: digits})
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
