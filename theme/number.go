package theme

import (
	"html"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"workings/calc"
	"workings/calc/model"
	"workings/calc/unit"
)

// nbsp keeps words together that belong together.
const nbsp = "\u00a0"

// setQuantity marks a quantity, so that it is not broken over lines.
func setQuantity(s string) string { return `<span class="q">` + esc(s) + "</span>" }

func esc(s string) string { return html.EscapeString(s) }

// shownText is the value of an expression as it stands in a line of text,
// without its spread.
func (v *view) shownText(s *calc.Shown) string {
	switch {
	case s == nil || s.Value == nil && s.Number == "" && s.Text == "":
		return v.w.NotAvailable
	case s.Number != "" && v.asRange(s):
		return v.quantity(s.Low, s.Unit) + " " + v.w.To + " " + v.quantity(s.High, s.Unit)
	case s.Number != "":
		return v.quantity(s.Number, s.Unit)
	case s.Text != "":
		switch s.Value {
		case true:
			return v.w.Yes
		case false:
			return v.w.No
		}
		return s.Text
	}
	return v.kindText(s.Type, s.Value)
}

// asRange reports that a value is shown from low to high: where that is asked
// for, and where a single number would hide a choice.
func (v *view) asRange(s *calc.Shown) bool {
	return s.Low != "" && s.High != "" && s.Low != s.High && (s.RangeOnly() || s.Expr != nil && s.Expr.Spread && s.Plus == "" && s.Uncertain == "")
}

// shownSpread is what `with spread` adds to a value, in plain text; "" if nothing.
// A tolerance, an uncertainty and an operating range never look alike.
func (v *view) shownSpread(s *calc.Shown) string {
	if s == nil {
		return ""
	}
	diff := differenceUnit(s.Unit)
	var parts []string
	if s.Plus != "" || s.Minus != "" {
		parts = append(parts, v.toleranceText(s.Plus, s.Minus, diff))
	}
	if s.Uncertain != "" {
		k := "2"
		if s.Spread != nil && s.Spread.K > 0 {
			k = strconv.FormatFloat(s.Spread.K, 'g', 3, 64)
		}
		parts = append(parts, "("+v.w.Uncertain+" "+v.quantity(s.Uncertain, diff)+", k"+nbsp+"="+nbsp+v.number(k)+")")
	}
	if s.Low != "" && s.High != "" && s.Low != s.High && !v.asRange(s) {
		parts = append(parts, "("+v.quantity(s.Low, s.Unit)+" "+v.w.To+" "+v.quantity(s.High, s.Unit)+" "+v.w.InUse+")")
	}
	return strings.Join(parts, " ")
}

// toleranceText is "± 0.2 mm" or "+0.02 mm −0 mm".
func (v *view) toleranceText(plus, minus string, u unit.Unit) string {
	if plus == minus {
		return "±" + nbsp + v.quantity(plus, u)
	}
	if plus == "" {
		plus = "0"
	}
	if minus == "" {
		minus = "0"
	}
	return "+" + v.quantity(plus, u) + " " + "\u2212" + v.quantity(minus, u)
}

// differenceUnit is the unit of a difference between two values in u.
func differenceUnit(u unit.Unit) unit.Unit {
	if u.Point && u.Factor == 1 {
		return unit.Unit{Symbol: "K", Dim: u.Dim, Factor: 1}
	}
	u.Point, u.Offset = false, 0
	return u
}

// kindText says what a value that cannot stand in a line of text is.
func (v *view) kindText(t calc.Type, val calc.Value) string {
	switch x := val.(type) {
	case []float64:
		return v.w.Count(len(x), v.w.ValueOne, v.w.ValueMany)
	case []string:
		return v.w.Count(len(x), v.w.ValueOne, v.w.ValueMany)
	case *calc.TableValue:
		return v.w.Count(x.Rows, v.w.RowOne, v.w.RowMany)
	case *calc.RecordValue:
		return v.w.Count(len(x.Names), v.w.ValueOne, v.w.ValueMany)
	case bool:
		if x {
			return v.w.Yes
		}
		return v.w.No
	case string:
		return x
	}
	if _, ok := val.(*model.Map); ok || t.Kind == calc.Grid {
		return v.w.Field
	}
	return v.w.NotAvailable
}

// si typesets a value given in SI, rounded for reading.
func (v *view) si(x float64, u unit.Unit) string { return v.quantity(displayNumber(x, u), u) }

// siDiff typesets a difference given in SI. Like a spread that stands on a
// page it is rounded away from zero.
func (v *view) siDiff(x float64, u unit.Unit) string {
	d := differenceUnit(u)
	return v.quantity(unit.Round(d.FromSI(x), unit.Rounding{Mode: unit.Sig, N: 2, Dir: unit.Up}), d)
}

// quantity typesets a plain decimal number with its unit. The lettering of the
// sheet has no narrow space of its own, and that of a fallback is too thin to
// see: a full no-break space stands before the unit (SI brochure 5.4.3 asks
// for a space, not for its width).
func (v *view) quantity(number string, u unit.Unit) string {
	n := v.number(number)
	if !unit.NeedsSpace(u) {
		return unit.Join(n, u)
	}
	return n + nbsp + u.Display()
}

func (v *view) number(number string) string { return unit.Typeset(number, v.sign()) }

// sign is the decimal sign of the language.
func (v *view) sign() rune {
	r, _ := utf8.DecodeRuneInString(v.w.Decimal)
	return r
}

// unitNamed is the unit a symbol stands for, for display.
func unitNamed(symbol string) unit.Unit {
	if u, err := unit.Parse(symbol); err == nil {
		return u
	}
	return unit.Unit{Symbol: symbol, Factor: 1}
}

// displayNumber rounds a value in SI for reading.
func displayNumber(si float64, u unit.Unit) string {
	return unit.Round(u.FromSI(si), unit.Rounding{Mode: unit.Auto})
}

// valueText typesets any value.
func (v *view) valueText(val calc.Value, u unit.Unit) string {
	switch x := val.(type) {
	case float64:
		return v.si(x, u)
	case []float64:
		if len(x) <= 6 {
			parts := make([]string, len(x))
			for i, y := range x {
				parts[i] = v.number(displayNumber(y, u))
			}
			s := strings.Join(parts, "; ")
			if u.Symbol != "" {
				s = unit.Join(s, u)
			}
			return s
		}
	}
	return v.kindText(calc.Type{}, val)
}

// displayPlain rounds a plain number for reading.
func displayPlain(x float64) string { return unit.Round(x, unit.Rounding{Mode: unit.Auto}) }

// displayRatio rounds a margin toward the limit, so that 1.004 never reads as more.
func displayRatio(x float64) string {
	if x >= 10 {
		return strconv.FormatFloat(math.Floor(x*10)/10, 'f', 1, 64)
	}
	return strconv.FormatFloat(math.Floor(x*100)/100, 'f', 2, 64)
}
