package theme

import (
	"strconv"
	"strings"

	"workings/calc"
	"workings/calc/unit"
)

func displayNumber(si float64, u unit.Unit) string {
	s := strconv.FormatFloat(u.FromSI(si), 'e', 2, 64)
	f, _ := strconv.ParseFloat(s, 64)
	return strconv.FormatFloat(f, 'g', -1, 64)
}

func displayFigure(si float64, u unit.Unit, _ *calc.Spread) string { return displayNumber(si, u) }

func typesetNumber(n, dec string) string {
	neg := strings.HasPrefix(n, "-")
	n = strings.TrimPrefix(n, "-")
	exp := ""
	if i := strings.IndexAny(n, "eE"); i >= 0 {
		n, exp = n[:i], n[i+1:]
	}
	whole, frac, has := strings.Cut(n, ".")
	var b strings.Builder
	if neg {
		b.WriteString("\u2212")
	}
	for i, r := range whole {
		if i > 0 && (len(whole)-i)%3 == 0 {
			b.WriteString(thin)
		}
		b.WriteRune(r)
	}
	if has {
		b.WriteString(dec + frac)
	}
	if exp != "" {
		e, _ := strconv.Atoi(exp)
		b.WriteString(nbsp + "×" + nbsp + "10" + super(strconv.Itoa(e)))
	}
	return b.String()
}

var supers = strings.NewReplacer("0", "⁰", "1", "¹", "2", "²", "3", "³", "4", "⁴", "5", "⁵", "6", "⁶", "7", "⁷", "8", "⁸", "9", "⁹", "-", "⁻")

func super(s string) string { return supers.Replace(s) }

func typesetQuantity(n, symbol, dec string) string {
	s := typesetNumber(n, dec)
	if symbol == "" {
		return s
	}
	if symbol == "°" {
		return s + symbol
	}
	return s + nbsp + typesetUnit(symbol)
}

func typesetUnit(sym string) string {
	var b strings.Builder
	for i := 0; i < len(sym); i++ {
		switch c := sym[i]; c {
		case '*':
			b.WriteString("·")
		case '^':
			j := i + 1
			for j < len(sym) && (sym[j] == '-' || sym[j] >= '0' && sym[j] <= '9') {
				j++
			}
			b.WriteString(super(sym[i+1 : j]))
			i = j - 1
		default:
			b.WriteByte(c)
		}
	}
	return b.String()
}
